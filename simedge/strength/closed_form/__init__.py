"""Closed-form answers with their sources: what finite elements are held to."""
