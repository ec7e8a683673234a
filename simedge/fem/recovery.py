"""Gradients of a field on the mesh, one order more accurate than the elements' own.

A cubic is fitted to the values around each corner node and differentiated (polynomial
preserving recovery: Z. Zhang and A. Naga, SIAM J. Sci. Comput. 26 (2005) 1192-1213,
from memory). The order holds up to and including the boundary, where edges are judged.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_matrix

from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import Floats

#: Exponents of x and y in a cubic.
CUBIC = ((0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2), (3, 0), (2, 1), (1, 2), (0, 3))
#: A cubic has ten terms; a few more points make the fit safe on one-sided patches.
FEWEST_POINTS = 16


def _neighbours(mesh: SectionMesh) -> tuple[csr_matrix, csr_matrix]:
    """Give which points share a triangle with each corner node, and which triangles a point."""
    count, elements = mesh.points_mm.shape[1], mesh.triangles.shape[1]
    column = np.tile(np.arange(elements, dtype=np.int32), 6)
    touches = csr_matrix(
        (np.ones(6 * elements, dtype=np.int8), (mesh.triangles.ravel(), column)),
        shape=(count, elements),
    ).astype(bool)
    return (touches[: mesh.corners] @ touches.T).tocsr(), touches


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PatchFits:
    """The cubics fitted around each corner node.

    Attributes
    ----------
    mesh : SectionMesh
    coefficients : ndarray, shape (corners, 10, fields)
        Of the terms of `CUBIC`, in offsets from the corner over its reach.
    reach_mm : ndarray, shape (corners,)
        Distance of the farthest point of each fit.
    edges : ndarray, shape (3, edges)
        Begin, end and middle of every edge of the mesh.
    """

    mesh: SectionMesh
    coefficients: Floats
    reach_mm: Floats
    edges: Integers

    @property
    def own_gradients(self) -> Floats:
        """Gradient of each cubic at its own corner, shape (2, fields, corners)."""
        linear = self.coefficients[:, 1:3] / self.reach_mm[:, None, None]
        return np.asarray(linear.transpose(1, 2, 0))

    def gradients_at(self, corner: Integers, points: Integers) -> Floats:
        """Give the gradients of the cubics of some corners at other points, (2, fields, n)."""
        offset = self.mesh.points_mm[:, points] - self.mesh.points_mm[:, corner]
        x, y = offset / self.reach_mm[corner]
        slopes = np.stack(
            [
                [i * x ** max(i - 1, 0) * y**j for i, j in CUBIC],
                [j * x**i * y ** max(j - 1, 0) for i, j in CUBIC],
            ]
        )
        # as one product a point: einsum would not leave this to the linear-algebra library
        gradients = slopes.transpose(2, 0, 1) @ self.coefficients[corner]
        return np.asarray((gradients / self.reach_mm[corner, None, None]).transpose(1, 2, 0))

    def gradients(self) -> Floats:
        """Give the recovered gradients at every point of the mesh.

        Returns
        -------
        ndarray, shape (2, fields, points)
            Derivatives by x and by y; at the middle of an edge the mean of the cubics of
            its two ends. Exact for cubic fields.
        """
        found = np.zeros((2, self.coefficients.shape[2], self.mesh.points_mm.shape[1]))
        found[:, :, : self.mesh.corners] = self.own_gradients
        begin, end, middle = self.edges
        for corner in (begin, end):
            found[:, :, middle] += 0.5 * self.gradients_at(corner, middle)
        return found


def fit_patches(mesh: SectionMesh, values: Floats) -> PatchFits:
    """Fit a cubic to the values around each corner node.

    Parameters
    ----------
    mesh : SectionMesh
    values : ndarray, shape (fields, points)

    Returns
    -------
    PatchFits
    """
    ring, touches = _neighbours(mesh)
    few = np.diff(ring.indptr) < FEWEST_POINTS
    groups = [(np.flatnonzero(~few), ring[~few])]
    if few.any():  # at the boundary: take the ring around the ring
        groups.append((np.flatnonzero(few), ring[few] @ touches @ touches.T))
    coefficients = np.empty((mesh.corners, len(CUBIC), len(values)))
    reach = np.empty(mesh.corners)
    for corner, patches in groups:
        sizes = np.diff(patches.indptr)
        inside = np.arange(sizes.max())[None, :] < sizes[:, None]
        members = np.repeat(corner[:, None], sizes.max(), axis=1)
        members[inside] = patches.indices
        offset = mesh.points_mm[:, members] - mesh.points_mm[:, corner, None]
        reach[corner] = np.sqrt((offset**2).sum(axis=0).max(axis=1))
        x, y = offset / reach[corner, None]
        basis = np.stack([x**i * y**j for i, j in CUBIC], axis=2) * inside[:, :, None]
        # relative to the corner's own value: the whole tip moves far more than it strains
        relative = (values[:, members] - values[:, corner, None]).transpose(1, 2, 0)
        transposed = basis.transpose(0, 2, 1)
        coefficients[corner] = np.linalg.solve(transposed @ basis, transposed @ relative)

    return PatchFits(mesh=mesh, coefficients=coefficients, reach_mm=reach, edges=_edges(mesh))


def _edges(mesh: SectionMesh) -> Integers:
    """Give begin, end and middle of every edge once."""
    corners = mesh.triangles
    sides = np.concatenate([corners[[0, 1, 3]], corners[[1, 2, 4]], corners[[2, 0, 5]]], axis=1)
    _, first = np.unique(sides[2], return_index=True)
    return np.asarray(sides[:, first])
