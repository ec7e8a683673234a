"""Answers turned into things that people read; matplotlib and meshio only here."""
