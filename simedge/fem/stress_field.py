"""Stress over a section, and single numbers for how hard the steel is worked."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from simedge.fem.lookup import interpolate
from simedge.section.mesh import SectionMesh
from simedge.section.outline import Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StressField:
    """Stress over a section under one load.

    Attributes
    ----------
    mesh : SectionMesh
    stress_mpa : ndarray, shape (4, points)
        Components xx, yy, xy, zz at the mesh's points; tension is positive.
    doubt_mpa : ndarray, shape (points,)
        By how much the mesh leaves von Mises open, see `simedge.fem.error_estimate`.
    """

    mesh: SectionMesh
    stress_mpa: Floats
    doubt_mpa: Floats

    @property
    def von_mises_mpa(self) -> Floats:
        """Von Mises stress at the mesh's points, MPa: one number for how hard it is worked."""
        return von_mises(self.stress_mpa)

    @property
    def largest_principal_mpa(self) -> Floats:
        """Largest principal stress of the section's plane at the mesh's points, MPa."""
        return largest_principal(self.stress_mpa)

    def at(self, x_mm: ArrayLike, y_mm: ArrayLike) -> Floats:
        """Give the stress at places in the section.

        Parameters
        ----------
        x_mm, y_mm : array_like of one shape
            x from the foremost point of the apex, +y towards the left face.

        Returns
        -------
        ndarray, shape (4, n)
            xx, yy, xy, zz in MPa.

        Raises
        ------
        ValueError
            A place lies outside the section.
        """
        x, y = np.broadcast_arrays(np.asarray(x_mm, dtype=float), np.asarray(y_mm, dtype=float))
        return interpolate(self.mesh, self.stress_mpa, np.stack([x.ravel(), y.ravel()]))


def strains_of(gradients: Floats) -> Floats:
    """Give strains xx, yy, xy from gradients of displacements.

    Parameters
    ----------
    gradients : ndarray, shape (2, 2 * loads, n)
        Derivatives by x and y of x and y displacement of each load in turn.

    Returns
    -------
    ndarray, shape (3, loads, n)
    """
    _, fields, n = gradients.shape
    (xx, xy), (yx, yy) = gradients.reshape(2, fields // 2, 2, n).transpose(0, 2, 1, 3)
    return np.stack([xx, yy, 0.5 * (yx + xy)])


def von_mises(stress_mpa: Floats) -> Floats:
    """Give the von Mises stress of components xx, yy, xy, zz along the first axis.

    >>> float(von_mises(np.array([100.0, 0.0, 0.0, 0.0])))
    100.0
    """
    xx, yy, xy, zz = stress_mpa
    squares = (xx - yy) ** 2 + (yy - zz) ** 2 + (zz - xx) ** 2
    return np.asarray(np.sqrt(0.5 * squares + 3.0 * xy**2))


def largest_principal(stress_mpa: Floats) -> Floats:
    """Give the larger principal stress in the plane of components xx, yy, xy, zz."""
    xx, yy, xy, _ = stress_mpa
    return np.asarray(0.5 * (xx + yy) + np.hypot(0.5 * (xx - yy), xy))
