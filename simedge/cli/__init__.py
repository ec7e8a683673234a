"""The command line: one command a file, each owning its arguments and its body."""
