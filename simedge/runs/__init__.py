"""A case through the whole pipeline."""
