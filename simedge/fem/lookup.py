"""Values between the mesh's points: which triangle holds a place, and what it says there.

Written by hand: scikit-fem's own finder compares every place with every candidate
triangle and takes no place on the boundary.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import Floats

#: A place may lie outside its triangle by this share of the triangle: faces are drawn by
#: rounding, and the mesh's parabolas depart from a tip's circle by a few parts in 100,000.
INSIDE_TOLERANCE = 1e-4


def interpolate(mesh: SectionMesh, values: Floats, places_mm: Floats) -> Floats:
    """Interpolate values at the mesh's points to places in the section.

    Parameters
    ----------
    mesh : SectionMesh
    values : ndarray, shape (fields, points)
    places_mm : ndarray, shape (2, n)

    Returns
    -------
    ndarray, shape (fields, n)

    Raises
    ------
    ValueError
        A place lies outside the section, or is not a number.
    """
    return locate(mesh, places_mm).interpolated(values)


@dataclass(frozen=True, slots=True, eq=False)
class Located:
    """Places in a section, each with the triangle that holds it.

    Attributes
    ----------
    mesh : SectionMesh
    points : ndarray, shape (6, n)
        Of the triangles.
    local : ndarray, shape (2, n)
        Local coordinates in them.
    """

    mesh: SectionMesh
    points: Integers
    local: Floats

    @property
    def shapes(self) -> Floats:
        """What each of the six points counts there, shape (6, n)."""
        return shape_functions(self.local)

    def interpolated(self, values: Floats) -> Floats:
        """Give values at the mesh's points, shape (fields, points), at the places."""
        return np.asarray(np.einsum("fkn,kn->fn", values[:, self.points], self.shapes))

    def own_gradients(self, values: Floats) -> Floats:
        """Give the triangles' own gradients there, shape (2, fields, n): by x and by y.

        One order less accurate than recovered ones, and needing nothing but the triangle.
        """
        by_r, by_s = shape_slopes(self.local)
        (xr, yr), (xs, ys) = (
            np.einsum("ckn,kn->cn", self.mesh.points_mm[:, self.points], by) for by in (by_r, by_s)
        )
        of_r, of_s = (np.einsum("fkn,kn->fn", values[:, self.points], by) for by in (by_r, by_s))
        slopes = np.stack([of_r * ys - of_s * yr, of_s * xr - of_r * xs])
        return np.asarray(slopes / (xr * ys - yr * xs))


def locate(mesh: SectionMesh, places_mm: Floats) -> Located:
    """Find the triangle at each of some places; parameters and errors as of `interpolate`."""
    element, local = _find(mesh, places_mm)
    return Located(mesh, mesh.triangles[:, element], local)


def _find(mesh: SectionMesh, places_mm: Floats) -> tuple[Integers, Floats]:
    """Find the triangle that holds each place, and its local coordinates there."""
    if not np.isfinite(places_mm).all():
        raise ValueError("a place to look up is not a number")
    if places_mm.shape[1] == 0:
        return np.zeros(0, dtype=np.int64), np.zeros((2, 0))
    low, high = mesh.points_mm.min(axis=1), mesh.points_mm.max(axis=1)
    slack = INSIDE_TOLERANCE * (high - low)
    beyond = (places_mm < (low - slack)[:, None]) | (places_mm > (high + slack)[:, None])
    _refuse_outside(places_mm, beyond.any(axis=0))
    corners = mesh.points_mm[:, mesh.triangles[:3]]
    tree = cKDTree(corners.mean(axis=1).T)
    near = min(12, mesh.triangles.shape[1])
    _, candidates = tree.query(places_mm.T, k=near)
    candidates = candidates.reshape(places_mm.shape[1], near)
    element, local = _best(mesh, places_mm, candidates)
    lost = ~(_depth_inside(local) >= -INSIDE_TOLERANCE)
    for place in np.flatnonzero(lost):  # rare: strongly graded spots, and places outside
        every = np.arange(mesh.triangles.shape[1])[None, :]
        found, there = _best(mesh, places_mm[:, [place]], every)
        element[place], local[:, place] = found[0], there[:, 0]
    _refuse_outside(places_mm, ~(_depth_inside(local) >= -INSIDE_TOLERANCE))
    return element, local


def _refuse_outside(places_mm: Floats, outside: NDArray[np.bool_]) -> None:
    if outside.any():
        x, y = places_mm[:, np.flatnonzero(outside)[0]]
        raise ValueError(f"the place x = {x:g} mm, y = {y:g} mm lies outside the section")


def shape_functions(local: Floats) -> Floats:
    """Give the six quadratic shape functions at local coordinates, shape (6, n)."""
    r, s = local
    t = 1.0 - r - s
    return np.stack(
        [t * (2 * t - 1), r * (2 * r - 1), s * (2 * s - 1), 4 * t * r, 4 * r * s, 4 * s * t]
    )


def shape_slopes(local: Floats) -> tuple[Floats, Floats]:
    """Give the derivatives of `shape_functions` by both local coordinates."""
    r, s = local
    t = 1.0 - r - s
    zero = np.zeros_like(r)
    return (
        np.stack([1 - 4 * t, 4 * r - 1, zero, 4 * (t - r), 4 * s, -4 * s]),
        np.stack([1 - 4 * t, zero, 4 * s - 1, -4 * r, 4 * r, 4 * (t - s)]),
    )


def _depth_inside(local: Floats) -> Floats:
    """Give the smallest of the three triangle coordinates: negative outside."""
    return np.asarray(np.minimum(np.minimum(local[0], local[1]), 1.0 - local[0] - local[1]))


def _best(mesh: SectionMesh, places: Floats, candidates: Integers) -> tuple[Integers, Floats]:
    """Choose for each place the candidate triangle that holds it best, with local coordinates."""
    a, b, c = (mesh.points_mm[:, mesh.triangles[k][candidates]] for k in range(3))
    offset = places[:, :, None] - a
    e1, e2 = b - a, c - a
    area = e1[0] * e2[1] - e1[1] * e2[0]
    straight = np.stack(
        [
            (offset[0] * e2[1] - offset[1] * e2[0]) / area,
            (e1[0] * offset[1] - e1[1] * offset[0]) / area,
        ]
    )
    choice = np.argmax(_depth_inside(straight), axis=1)
    pick = np.arange(places.shape[1])
    element, local = candidates[pick, choice], straight[:, pick, choice]
    nodes = mesh.points_mm[:, mesh.triangles[:, element]]
    for _ in range(6):  # the curved triangles at a rounded tip; straight ones stay put
        by_r, by_s = shape_slopes(local)
        miss = places - np.einsum("ckn,kn->cn", nodes, shape_functions(local))
        jr, js = np.einsum("ckn,kn->cn", nodes, by_r), np.einsum("ckn,kn->cn", nodes, by_s)
        determinant = jr[0] * js[1] - jr[1] * js[0]
        local = local + np.stack(
            [
                (miss[0] * js[1] - miss[1] * js[0]) / determinant,
                (jr[0] * miss[1] - jr[1] * miss[0]) / determinant,
            ]
        )
    return element, local
