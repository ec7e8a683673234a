"""The outline of the section that is meshed: the tip, both faces, and where it is held."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, pi, sin
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simedge.errors import BadInput, Problem
from simedge.inputs.apex_fit import Point
from simedge.inputs.faces import Faces, nearest_clamp_mm
from simedge.inputs.grinds import Apex
from simedge.units import mm_from_um

Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A straight run of one face.

    Attributes
    ----------
    name : str
        Of the bevel or grind that it belongs to.
    begin_mm, end_mm : (float, float)
        Nearer to the apex, nearer to the spine.
    angle_rad : float
        From the mid-plane, positive where the blade widens towards the spine.
    """

    name: str
    begin_mm: Point
    end_mm: Point
    angle_rad: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Tip:
    """The apex between the two points where the faces leave it.

    Attributes
    ----------
    kind : {"rounded", "land", "sharp"}
    radius_mm : float
        Of the rounded tip, 0 elsewhere; its circle is centred at (radius, 0).
    left_mm, right_mm : (float, float)
        Where the left and the right face begin.
    """

    kind: Literal["rounded", "land", "sharp"]
    radius_mm: float
    left_mm: Point
    right_mm: Point

    @property
    def width_mm(self) -> float:
        """Thickness where the faces begin: what a medium can press on."""
        return self.left_mm[1] - self.right_mm[1]

    @property
    def arc_rad(self) -> tuple[float, float]:
        """Polar angles about the circle's centre of the left and the right tangent point.

        The arc runs from the first over pi (the foremost point) to the second.
        """
        left = atan2(self.left_mm[1], self.left_mm[0] - self.radius_mm)
        right = atan2(self.right_mm[1], self.right_mm[0] - self.radius_mm)
        return left, right + 2.0 * pi

    def along(self, x_mm: Floats, y_mm: Floats) -> Floats:
        """Give the fraction of the tip's line, 0 at the left face to 1 at the right one."""
        if self.kind == "rounded":
            angle = np.mod(np.arctan2(y_mm, x_mm - self.radius_mm), 2.0 * pi)
            first, last = self.arc_rad
            fraction = (angle - first) / (last - first)
        else:
            fraction = (self.left_mm[1] - y_mm) / self.width_mm
        return np.asarray(np.clip(fraction, 0.0, 1.0))

    def point(self, fraction: ArrayLike) -> tuple[Floats, Floats]:
        """Give the points of the tip's line at fractions from left to right."""
        at = np.asarray(fraction, dtype=float)
        if self.kind == "rounded":
            first, last = self.arc_rad
            angle = first + at * (last - first)
            return self.radius_mm * (1.0 + np.cos(angle)), self.radius_mm * np.sin(angle)
        return np.zeros_like(at), self.left_mm[1] - at * self.width_mm

    @property
    def length_mm(self) -> float:
        """Length of the tip's line from face to face."""
        if self.kind == "rounded":
            first, last = self.arc_rad
            return self.radius_mm * (last - first)
        return self.width_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A section from the apex to where it is held.

    Attributes
    ----------
    tip : Tip
    left, right : tuple of Stretch
        The faces, apex first. Both end at ``depth_mm``.
    depth_mm : float
        Fully fixed from there on: the clamp, or the spine.
    """

    tip: Tip
    left: tuple[Stretch, ...]
    right: tuple[Stretch, ...]
    depth_mm: float

    def face(self, side: Side) -> tuple[Stretch, ...]:
        """Give the stretches of one face."""
        return self.left if side == "left" else self.right

    def face_begins_mm(self, side: Side) -> float:
        """Give the depth x at which that face leaves the apex."""
        return self.face(side)[0].begin_mm[0]

    def face_y_mm(self, side: Side, x_mm: ArrayLike) -> Floats:
        """Give y of a face at depths x between 0 and ``depth_mm``, tip included."""
        x = np.asarray(x_mm, dtype=float)
        stretches = self.face(side)
        knots = [stretches[0].begin_mm, *(stretch.end_mm for stretch in stretches)]
        y = np.interp(x, [knot[0] for knot in knots], [knot[1] for knot in knots])
        if self.tip.kind == "rounded":
            sign = 1.0 if side == "left" else -1.0
            radius = self.tip.radius_mm
            arc = sign * np.sqrt(np.clip(radius**2 - (x - radius) ** 2, 0.0, None))
            y = np.where(x < knots[0][0], arc, y)
        return np.asarray(y)

    def thickness_mm(self, x_mm: ArrayLike) -> Floats:
        """Give the total thickness at depths x."""
        return np.asarray(self.face_y_mm("left", x_mm) - self.face_y_mm("right", x_mm))

    @property
    def area_mm2(self) -> float:
        """Area of the section, the rounded tip exactly."""
        corners = [self.left[0].begin_mm, *(stretch.end_mm for stretch in self.left)]
        corners += [stretch.end_mm for stretch in reversed(self.right)]
        corners.append(self.right[0].begin_mm)
        x, y = np.array(corners).T
        polygon = 0.5 * float(np.sum(np.roll(x, -1) * y - x * np.roll(y, -1)))
        if self.tip.kind == "rounded":
            first, last = self.tip.arc_rad
            opening = last - first
            polygon += 0.5 * self.tip.radius_mm**2 * (opening - sin(opening))
        return polygon

    @property
    def is_even(self) -> bool:
        """Whether the right face mirrors the left one."""
        return all(
            left.angle_rad == right.angle_rad and left.end_mm[0] == right.end_mm[0]
            for left, right in zip(self.left, self.right, strict=True)
        )

    @property
    def shoulders_mm(self) -> tuple[float, ...]:
        """Depths at which the faces turn, apex first."""
        return tuple(stretch.end_mm[0] for stretch in self.left[:-1])


def _tip(apex: Apex, faces: Faces) -> Tip:
    left, right = faces.left_mm[0], faces.right_mm[0]
    if apex.radius_um is not None:
        radius = mm_from_um(apex.radius_um)
        return Tip(kind="rounded", radius_mm=radius, left_mm=left, right_mm=right)
    kind: Literal["land", "sharp"] = "sharp" if apex.sharp else "land"
    return Tip(kind=kind, radius_mm=0.0, left_mm=left, right_mm=right)


def _stretches(
    points: tuple[Point, ...], names: tuple[str, ...], angles: list[float], depth_mm: float
) -> tuple[Stretch, ...]:
    stretches = []
    for name, begin, end, angle in zip(names, points[:-1], points[1:], angles, strict=True):
        if begin[0] >= depth_mm:
            break
        if end[0] > depth_mm:
            rise = (end[1] - begin[1]) / (end[0] - begin[0])
            end = (depth_mm, begin[1] + rise * (depth_mm - begin[0]))
        stretches.append(Stretch(name=name, begin_mm=begin, end_mm=end, angle_rad=angle))
    return tuple(stretches)


def build_outline(apex: Apex, faces: Faces, clamp_depth_mm: float | None = None) -> Outline:
    """Build the outline of a section down to where it is held.

    Parameters
    ----------
    apex : Apex
    faces : Faces
        Of a profile.
    clamp_depth_mm : float or None
        Depth x from which on the blade is fully fixed; None stands for the spine.

    Returns
    -------
    Outline

    Raises
    ------
    BadInput
        The clamp lies behind the spine or in the apex.
    """
    depth = faces.height_mm if clamp_depth_mm is None else clamp_depth_mm
    begins = nearest_clamp_mm(faces)
    if not begins <= depth <= faces.height_mm * (1.0 + 1e-12):
        raise BadInput(
            Problem(
                "support",
                f"clamp_depth_mm is {depth:g} mm, but must lie behind the apex "
                f"({begins:.4g} mm or more) and not beyond the spine ({faces.height_mm:.4g} mm)",
            )
        )
    depth = min(depth, faces.height_mm)
    angles = np.radians(np.array(faces.sides_deg))
    return Outline(
        tip=_tip(apex, faces),
        left=_stretches(faces.left_mm, faces.names, [float(a) for a in angles[:, 0]], depth),
        right=_stretches(faces.right_mm, faces.names, [float(a) for a in angles[:, 1]], depth),
        depth_mm=depth,
    )
