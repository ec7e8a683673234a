"""One question a file, asked of many blades or many runs."""
