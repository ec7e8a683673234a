"""The free boundary of a section: which way it looks, and what is known to press there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import SIDES, Floats, Outline
from simedge.section.tractions import Tractions


@dataclass(frozen=True, slots=True, eq=False)
class Frames:
    """Points on the free boundary away from its corners.

    Attributes
    ----------
    points : ndarray, shape (n,)
    normal : ndarray, shape (2, n)
        Outward.
    """

    points: Integers
    normal: Floats

    @property
    def tangent(self) -> Floats:
        """Direction along the boundary, counter-clockwise about the section."""
        return np.stack([-self.normal[1], self.normal[0]])


def boundary_frames(mesh: SectionMesh, outline: Outline) -> dict[str, Frames]:
    """Give the frames of the faces and of a tip that has a width, by the boundary's name."""
    frames: dict[str, Frames] = {}
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
        frames[side] = Frames(points, np.stack([-np.sin(angle), outward * np.cos(angle)]))
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
        frames["tip"] = Frames(points, normal)
    return frames


def known_traction(
    name: str, frames: Frames, mesh: SectionMesh, outline: Outline, load: Tractions
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
