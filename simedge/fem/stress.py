"""Stress at every point of the mesh, recovered from the displacements.

The displacement gradient is recovered by fitting a cubic to the displacements around
each corner node and differentiating it (polynomial preserving recovery: Z. Zhang and
A. Naga, SIAM J. Sci. Comput. 26 (2005) 1192-1213, from memory). On second-order
triangles this is one order more accurate than the elements' own stresses, up to and
including the faces, where edges are judged. On the boundary the traction is known, so
only the stretch along the face is taken from the fit there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.sparse import csr_matrix
from scipy.spatial import cKDTree
from threadpoolctl import threadpool_limits

from simedge.fem.elastic import Displacement, Elasticity
from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import SIDES, Floats, Outline
from simedge.section.tractions import Tractions

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


def recover_gradients(mesh: SectionMesh, values: Floats) -> Floats:
    """Recover the gradients of fields given at the mesh's points.

    Parameters
    ----------
    mesh : SectionMesh
    values : ndarray, shape (fields, points)

    Returns
    -------
    ndarray, shape (2, fields, points)
        Derivatives by x and by y; at the middle of an edge the mean of the cubics of
        its two ends. Exact for cubic fields.
    """
    ring, touches = _neighbours(mesh)
    few = np.diff(ring.indptr) < FEWEST_POINTS
    groups = [(np.flatnonzero(~few), ring[~few])]
    if few.any():  # at the boundary: take the ring around the ring
        groups.append((np.flatnonzero(few), ring[few] @ touches @ touches.T))
    coefficients = np.empty((mesh.corners, len(CUBIC), len(values)))
    reach = np.empty(mesh.corners)
    with threadpool_limits(limits=1):
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

    gradients = np.zeros((2, len(values), mesh.points_mm.shape[1]))
    gradients[0, :, : mesh.corners] = (coefficients[:, 1] / reach[:, None]).T
    gradients[1, :, : mesh.corners] = (coefficients[:, 2] / reach[:, None]).T
    begin, end, middle = _edges(mesh)
    for corner in (begin, end):
        x, y = (mesh.points_mm[:, middle] - mesh.points_mm[:, corner]) / reach[corner]
        slopes = np.stack(
            [
                [i * x ** max(i - 1, 0) * y**j for i, j in CUBIC],
                [j * x**i * y ** max(j - 1, 0) for i, j in CUBIC],
            ]
        )
        gradients[:, :, middle] += 0.5 * np.einsum(
            "dcp,pcf->dfp", slopes / reach[corner], coefficients[corner]
        )
    return gradients


def _edges(mesh: SectionMesh) -> Integers:
    """Give begin, end and middle of every edge once."""
    corners = mesh.triangles
    sides = np.concatenate([corners[[0, 1, 3]], corners[[1, 2, 4]], corners[[2, 0, 5]]], axis=1)
    _, first = np.unique(sides[2], return_index=True)
    return np.asarray(sides[:, first])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StressField:
    """Stress over a section under one load.

    Attributes
    ----------
    mesh : SectionMesh
    stress_mpa : ndarray, shape (4, points)
        Components xx, yy, xy, zz at the mesh's points; tension is positive.
    """

    mesh: SectionMesh
    stress_mpa: Floats

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


def recover_stress(
    displacement: Displacement, outline: Outline, tractions: Sequence[Tractions]
) -> tuple[StressField, ...]:
    """Recover the stress field of every load.

    Parameters
    ----------
    displacement : Displacement
    outline : Outline
    tractions : sequence of Tractions
        The loads in the order of the displacements.

    Returns
    -------
    tuple of StressField
    """
    mesh, elasticity = displacement.mesh, displacement.elasticity
    loads, _, points = displacement.at_points_mm.shape
    gradients = recover_gradients(mesh, displacement.at_points_mm.reshape(-1, points))
    (xx, xy), (yx, yy) = gradients.reshape(2, loads, 2, points).transpose(0, 2, 1, 3)
    strain = np.stack([xx, yy, 0.5 * (yx + xy)])
    volume, shear = elasticity.lame_mpa
    hydrostatic = volume * (strain[0] + strain[1])
    stress = np.stack(
        [
            hydrostatic + 2.0 * shear * strain[0],
            hydrostatic + 2.0 * shear * strain[1],
            2.0 * shear * strain[2],
            hydrostatic,
        ]
    )
    boundary = _boundary_frames(mesh, outline)
    fields = []
    for index, load in enumerate(tractions):
        _impose_tractions(
            stress[:, index], strain[:, index], elasticity, mesh, outline, load, boundary
        )
        values = np.ascontiguousarray(stress[:, index])
        values.setflags(write=False)
        fields.append(StressField(mesh=mesh, stress_mpa=values))
    return tuple(fields)


@dataclass(frozen=True, slots=True, eq=False)
class _Frames:
    """Points on the free boundary away from its corners, with the outward normal there."""

    points: Integers
    normal: Floats


def _boundary_frames(mesh: SectionMesh, outline: Outline) -> dict[str, _Frames]:
    frames = {}
    x, y = mesh.points_mm
    for side in SIDES:
        points = np.unique(mesh.boundary[side])
        runs = outline.face(side)
        smooth_begin = outline.tip.kind == "rounded"
        turns = [run.end_mm[0] for run in runs]
        if not smooth_begin:
            turns.append(runs[0].begin_mm[0])
        near = np.min(np.abs(x[points][:, None] - np.array(turns)), axis=1)
        points = points[near > 1e-12 * outline.depth_mm]
        begins = np.array([run.begin_mm[0] for run in runs])
        run_of = np.clip(np.searchsorted(begins, x[points], side="right") - 1, 0, None)
        angle = np.array([run.angle_rad for run in runs])[run_of]
        outward = 1.0 if side == "left" else -1.0
        frames[side] = _Frames(points, np.stack([-np.sin(angle), outward * np.cos(angle)]))
    tip = outline.tip
    if tip.kind != "sharp":
        points = np.unique(mesh.boundary["tip"])
        along = tip.along(x[points], y[points])
        points = points[(along > 1e-9) & (along < 1.0 - 1e-9)]
        if tip.kind == "rounded":
            normal = np.stack([x[points] - tip.radius_mm, y[points]])
            normal /= np.hypot(*normal)
        else:
            normal = np.tile([[-1.0], [0.0]], points.size)
        frames["tip"] = _Frames(points, normal)
    return frames


def _known_traction(
    name: str, frames: _Frames, mesh: SectionMesh, outline: Outline, load: Tractions
) -> Floats:
    """Give the traction (x, y) that the load puts on the points of one boundary."""
    x, y = mesh.points_mm[:, frames.points]
    traction = np.zeros((2, frames.points.size))
    if name == "tip":
        for tip_part in load.tip:
            size = tip_part.weight(outline.tip.along(x, y)) / outline.tip.length_mm
            traction += size * np.array([[tip_part.axial_n_per_mm], [tip_part.lateral_n_per_mm]])
        return traction
    for part in load.faces:
        if part.side != name:
            continue
        tolerance = 1e-9 * outline.depth_mm
        inside = (x > part.from_mm + tolerance) & (x < part.to_mm - tolerance)
        ends = (np.abs(x - part.from_mm) <= tolerance) | (np.abs(x - part.to_mm) <= tolerance)
        share = inside + 0.5 * ends  # at the very end of a stretch the traction jumps: its mean
        outward = 1.0 if name == "left" else -1.0
        angle = np.arctan2(-frames.normal[0], outward * frames.normal[1])
        for value in np.unique(angle):
            at = angle == value
            traction[:, at] += share[at] * np.array(part.traction(float(value)))[:, None]
    return traction


def _impose_tractions(
    stress: Floats,
    strain: Floats,
    elasticity: Elasticity,
    mesh: SectionMesh,
    outline: Outline,
    load: Tractions,
    boundary: dict[str, _Frames],
) -> None:
    """Replace the stress at free boundary points: known traction, and the stretch along it."""
    ratio = elasticity.poissons_ratio
    modulus = elasticity.youngs_modulus_mpa / (1.0 - ratio**2)
    for name, frames in boundary.items():
        at, (nx, ny) = frames.points, frames.normal
        tx, ty = -ny, nx
        force = _known_traction(name, frames, mesh, outline, load)
        normal = force[0] * nx + force[1] * ny
        shear = force[0] * tx + force[1] * ty
        stretch = (
            strain[0, at] * tx**2 + strain[1, at] * ty**2 + 2.0 * strain[2, at] * tx * ty
        )
        tangential = modulus * stretch + ratio / (1.0 - ratio) * normal
        stress[0, at] = normal * nx**2 + tangential * tx**2 + 2.0 * shear * nx * tx
        stress[1, at] = normal * ny**2 + tangential * ty**2 + 2.0 * shear * ny * ty
        stress[2, at] = normal * nx * ny + tangential * tx * ty + shear * (nx * ty + ny * tx)
        stress[3, at] = ratio * (normal + tangential)


#: A place may lie outside its triangle by this share of the triangle: faces are drawn by rounding.
INSIDE_TOLERANCE = 1e-6


def interpolate(mesh: SectionMesh, values: Floats, places_mm: Floats) -> Floats:
    """Interpolate values at the mesh's points to places in the section.

    Written by hand: scikit-fem's own finder compares every place with every candidate
    triangle and takes no place on the boundary.

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
    if not np.isfinite(places_mm).all():
        raise ValueError("a place to look up is not a number")
    if places_mm.shape[1] == 0:
        return np.zeros((len(values), 0))
    corners = mesh.points_mm[:, mesh.triangles[:3]]
    tree = cKDTree(corners.mean(axis=1).T)
    near = min(12, mesh.triangles.shape[1])
    _, candidates = tree.query(places_mm.T, k=near)
    candidates = candidates.reshape(places_mm.shape[1], near)
    element, local = _best(mesh, places_mm, candidates)
    lost = _depth_inside(local) < -INSIDE_TOLERANCE
    for place in np.flatnonzero(lost):  # rare: strongly graded spots, and places outside
        every = np.arange(mesh.triangles.shape[1])[None, :]
        found, there = _best(mesh, places_mm[:, [place]], every)
        element[place], local[:, place] = found[0], there[:, 0]
    outside = _depth_inside(local) < -INSIDE_TOLERANCE
    if outside.any():
        x, y = places_mm[:, np.flatnonzero(outside)[0]]
        raise ValueError(f"the place x = {x:g} mm, y = {y:g} mm lies outside the section")
    shapes = _shapes(local)
    return np.einsum("fkn,kn->fn", values[:, mesh.triangles[:, element]], shapes)


def _shapes(local: Floats) -> Floats:
    """Give the six quadratic shape functions at local coordinates, shape (6, n)."""
    r, s = local
    t = 1.0 - r - s
    return np.stack(
        [t * (2 * t - 1), r * (2 * r - 1), s * (2 * s - 1), 4 * t * r, 4 * r * s, 4 * s * t]
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
        r, s = local
        t = 1.0 - r - s
        zero = np.zeros_like(r)
        by_r = np.stack([1 - 4 * t, 4 * r - 1, zero, 4 * (t - r), 4 * s, -4 * s])
        by_s = np.stack([1 - 4 * t, zero, 4 * s - 1, -4 * r, 4 * r, 4 * (t - s)])
        miss = places - np.einsum("ckn,kn->cn", nodes, _shapes(local))
        jr, js = np.einsum("ckn,kn->cn", nodes, by_r), np.einsum("ckn,kn->cn", nodes, by_s)
        determinant = jr[0] * js[1] - jr[1] * js[0]
        local = local + np.stack(
            [
                (miss[0] * js[1] - miss[1] * js[0]) / determinant,
                (jr[0] * miss[1] - jr[1] * miss[0]) / determinant,
            ]
        )
    return element, local
