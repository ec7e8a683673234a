"""The outline of the section that is meshed: the tip, both faces, and where it is held."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, pi, sin
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simedge.errors import BadInput, Problem
from simedge.inputs.apex_fit import Point
from simedge.inputs.curves import Curve
from simedge.inputs.faces import Faces, nearest_clamp_mm
from simedge.inputs.grinds import Apex
from simedge.units import mm_from_um

Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")
Floats = NDArray[np.float64]
#: An arc is drawn as so many lines: a turn of a quarter departs by 0.005 % of its radius.
LINES_PER_ARC = 80


def turn_less_sine(turn_rad: ArrayLike) -> Floats:
    """Give t - sin t: twice a circle segment's area over its radius squared.

    By its series where the two are too close for their difference.

    >>> float(turn_less_sine(1e-4)) * 6e12  # the next term is t^2 / 20 of the first
    0.9999999995
    """
    turn = np.asarray(turn_rad, dtype=float)
    square = turn**2
    series = 1.0 - square / 20.0 * (1.0 - square / 42.0 * (1.0 - square / 72.0))
    small = np.abs(turn) < 0.1
    return np.asarray(np.where(small, turn * square / 6.0 * series, turn - np.sin(turn)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A run of one face: straight, or a circular arc.

    Attributes
    ----------
    name : str
        Of the bevel or grind that it belongs to.
    side : {"left", "right"}
    curve : Curve
        Its shape, the outside of the blade up.
    """

    name: str
    side: Side
    curve: Curve

    @property
    def outward(self) -> float:
        """Sign of y on this side."""
        return 1.0 if self.side == "left" else -1.0

    @property
    def begin_mm(self) -> Point:
        """Where it begins, nearer to the apex."""
        x, out = self.curve.begin_mm
        return x, self.outward * out

    @property
    def end_mm(self) -> Point:
        """Where it ends, nearer to the spine."""
        x, out = self.curve.end_mm
        return x, self.outward * out

    @property
    def is_straight(self) -> bool:
        """Whether it has no bow."""
        return self.curve.is_straight

    @property
    def centre_mm(self) -> Point:
        """Centre of the arc."""
        x, out = self.curve.centre_mm
        return x, self.outward * out

    @property
    def length_mm(self) -> float:
        """Length along the face."""
        if self.is_straight:
            return self.curve.chord_mm
        return abs(2.0 * self.curve.half_turn_rad) * self.curve.radius_mm

    @property
    def segment_area_mm2(self) -> float:
        """Area between arc and chord: positive where it bulges outward."""
        if self.is_straight:
            return 0.0
        turned = 2.0 * self.curve.half_turn_rad
        return 0.5 * self.curve.radius_mm**2 * float(turn_less_sine(turned))

    def y_mm(self, x_mm: ArrayLike) -> Floats:
        """Give y at depths between its ends; as `Curve.out_at` does, for many."""
        x = np.asarray(x_mm, dtype=float)
        (x0, out0), (x1, out1) = self.curve.begin_mm, self.curve.end_mm
        share = (x - x0) / (x1 - x0)
        on_chord = out0 + (out1 - out0) * share
        if self.is_straight:
            return np.asarray(self.outward * on_chord)
        power = self.curve.chord_mm**2 * share * (1.0 - share)
        side = np.sign(self.curve.bulge_mm)
        from_centre = side * (on_chord - self.curve.centre_mm[1])
        root = np.sqrt(np.clip(from_centre**2 + power, 0.0, None))
        far = from_centre > 0.0
        rise = np.where(far, power / np.where(far, from_centre + root, 1.0), root - from_centre)
        return np.asarray(self.outward * (on_chord + side * rise))

    def share_at(self, x_mm: ArrayLike) -> Floats:
        """Give the share of the face's length in front of depths, for arcs."""
        x = np.asarray(x_mm, dtype=float)
        (x0, y0), half = self.begin_mm, abs(self.curve.half_turn_rad)
        chord = np.hypot(x - x0, self.y_mm(x) - y0)
        turned = np.arcsin(np.clip(0.5 * chord / self.curve.radius_mm, 0.0, 1.0))
        return np.asarray(turned / half)

    def point(self, share: ArrayLike) -> Floats:
        """Give the points at shares of the face's length, shape (2, ...), for arcs."""
        at, half = np.asarray(share, dtype=float), self.curve.half_turn_rad
        chord = 2.0 * self.curve.radius_mm * np.sin(at * abs(half))
        angle = self.curve.chord_angle_rad + half * (1.0 - at)
        x0, out0 = self.curve.begin_mm
        return np.stack([x0 + chord * np.cos(angle), self.outward * (out0 + chord * np.sin(angle))])

    def angle_rad(self, x_mm: ArrayLike) -> Floats:
        """Give the angle from the mid-plane at depths, positive where the blade widens."""
        x = np.asarray(x_mm, dtype=float)
        if self.is_straight:
            return np.full_like(x, self.curve.chord_angle_rad)
        turned = np.clip((self.curve.centre_mm[0] - x) / self.curve.radius_mm, -1.0, 1.0)
        return np.asarray(np.sign(self.curve.bulge_mm) * np.arcsin(turned))


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
        y = np.zeros_like(x)
        for run, here in self._runs_at(side, x):
            y = np.where(here, run.y_mm(x), y)
        begins = self.face_begins_mm(side)
        radius = self.tip.radius_mm
        arc = np.sqrt(np.clip(radius**2 - (x - radius) ** 2, 0.0, None))
        return np.where(x < begins, arc if side == "left" else -arc, y)

    def face_angle_rad(self, side: Side, x_mm: ArrayLike) -> Floats:
        """Give the angle of a face from the mid-plane; at a shoulder that behind it."""
        x = np.asarray(x_mm, dtype=float)
        angle = np.zeros_like(x)
        for run, here in self._runs_at(side, x):
            angle = np.where(here, run.angle_rad(x), angle)
        return angle

    def face_knots_mm(self, side: Side, begin_mm: float, end_mm: float) -> tuple[float, ...]:
        """Give depths, rising, between which a face may be drawn as straight lines.

        Parameters
        ----------
        side : {"left", "right"}
        begin_mm, end_mm : float
            First and last of them, the first no nearer than where the face begins.
        """
        knots = {max(begin_mm, self.face_begins_mm(side)), end_mm}
        for run in self.face(side):
            low, high = max(begin_mm, run.begin_mm[0]), min(end_mm, run.end_mm[0])
            if low < high:
                steps = 1 if run.is_straight else LINES_PER_ARC
                knots |= {low + (high - low) * step / steps for step in range(steps)} | {high}
        return tuple(sorted(knots))

    def _runs_at(self, side: Side, x: Floats) -> list[tuple[Stretch, NDArray[np.bool_]]]:
        """Give each stretch of a face with the depths that belong to it."""
        runs = self.face(side)
        begins = np.array([run.begin_mm[0] for run in runs])
        index = np.clip(np.searchsorted(begins, x, side="right") - 1, 0, None)
        return [(run, np.asarray(index == number)) for number, run in enumerate(runs)]

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
        bows = sum(run.segment_area_mm2 for side in SIDES for run in self.face(side))
        return polygon + bows

    @property
    def is_even(self) -> bool:
        """Whether the right face mirrors the left one."""
        return all(
            left.curve == right.curve for left, right in zip(self.left, self.right, strict=True)
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
    curves: tuple[Curve, ...], names: tuple[str, ...], side: Side, depth_mm: float
) -> tuple[Stretch, ...]:
    return tuple(
        Stretch(name=name, side=side, curve=curve.cut_at(depth_mm))
        for name, curve in zip(names, curves, strict=True)
        if curve.begin_mm[0] < depth_mm
    )


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
    return Outline(
        tip=_tip(apex, faces),
        left=_stretches(faces.left, faces.names, "left", depth),
        right=_stretches(faces.right, faces.names, "right", depth),
        depth_mm=depth,
    )
