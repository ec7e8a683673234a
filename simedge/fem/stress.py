"""Stress at every point of the mesh, recovered from the displacements.

On the boundary the traction is known, so only the stretch along the face is taken from
the recovered strain there; that is where it is most accurate.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from simedge.fem.elastic import Displacement
from simedge.fem.elasticity import Elasticity
from simedge.fem.lookup import interpolate
from simedge.fem.recovery import recover_gradients
from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import SIDES, Floats, Outline
from simedge.section.tractions import Tractions


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
    stress = elasticity.stress_mpa(strain)
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
    frames: dict[str, _Frames] = {}
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
        angle = outline.face_angle_rad(side, x[points])
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
        traction += share * np.array(part.traction(angle))
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
    rigid = any(part.spread == "rigid" for part in load.tip)
    for name, frames in boundary.items():
        if name == "tip" and rigid:
            continue  # how a rigid patch presses is part of the answer
        at, (nx, ny) = frames.points, frames.normal
        tx, ty = -ny, nx
        force = _known_traction(name, frames, mesh, outline, load)
        normal = force[0] * nx + force[1] * ny
        shear = force[0] * tx + force[1] * ty
        stretch = strain[0, at] * tx**2 + strain[1, at] * ty**2 + 2.0 * strain[2, at] * tx * ty
        tangential = elasticity.stretched_mpa(stretch, normal)
        stress[0, at] = normal * nx**2 + tangential * tx**2 + 2.0 * shear * nx * tx
        stress[1, at] = normal * ny**2 + tangential * ty**2 + 2.0 * shear * ny * ty
        stress[2, at] = normal * nx * ny + tangential * tx * ty + shear * (nx * ty + ny * tx)
        stress[3, at] = elasticity.along_edge_mpa(normal + tangential)
