"""Recovered stress of sections that are no edges: benchmarks have no outline and no faces."""

from __future__ import annotations

import numpy as np

from simedge.fem.elastic import Displacement
from simedge.fem.recovery import fit_patches
from simedge.fem.stress_field import strains_of
from simedge.section.outline import Floats


def raw_stress_mpa(displacement: Displacement) -> Floats:
    """Recover the stress, with nothing of what is known at boundaries put in.

    Parameters
    ----------
    displacement : Displacement

    Returns
    -------
    ndarray, shape (4, loads, points)
        xx, yy, xy, zz in MPa: what `simedge.fem.stress.recover_stress` starts from.
    """
    moved = displacement.at_points_mm
    fits = fit_patches(displacement.mesh, moved.reshape(-1, moved.shape[2]))
    return np.asarray(displacement.elasticity.stress_mpa(strains_of(fits.gradients())))
