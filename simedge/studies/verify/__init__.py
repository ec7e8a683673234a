"""The published checks, replayed: computed numbers beside those of books and papers."""
