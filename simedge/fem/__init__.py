"""Mechanics of the meshed section; scikit-fem is imported here and nowhere else."""
