"""What the work puts on the outline: line loads on the tip, pressure and friction on the faces.

A pure function of the load and the outline; tip, left and right are kept apart. All
forces are per millimetre of edge and act ON the blade: axial is +x (into the edge),
lateral +y (towards the left face), a moment turns x to y.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from simedge.section.outline import SIDES, Floats, Outline, Side, Stretch, turn_less_sine

Spread = Literal["smooth", "uniform", "rigid"]
#: Points of the midpoint rule over the tip's line; the cos^2 spread is periodic in
#: its fraction, so the rule converges faster than any power.
TIP_POINTS = 256


@dataclass(frozen=True, slots=True, kw_only=True)
class TipTraction:
    """A line load spread over the tip, in one direction everywhere.

    Attributes
    ----------
    axial_n_per_mm, lateral_n_per_mm : float
    spread : {"smooth", "uniform", "rigid"}
        Falling as cos^2 to zero at both ends of the tip's line, or constant, or as it
        must be for the patch to move as one, pushed at the foremost point.
    medium : str or None
        What of the library presses, where that is known.
    """

    axial_n_per_mm: float
    lateral_n_per_mm: float
    spread: Spread = "smooth"
    medium: str | None = None

    def weight(self, fraction: ArrayLike) -> Floats:
        """Give the traction's size at fractions of the tip's line; its mean is 1.

        Not known beforehand for a rigid spread.
        """
        at = np.asarray(fraction, dtype=float)
        if self.spread == "uniform":
            return np.ones_like(at)
        return np.asarray(2.0 * np.sin(np.pi * at) ** 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class TipMovement:
    """A distance by which the tip is carried; what is None moves freely.

    Attributes
    ----------
    axial_mm, lateral_mm : float or None
        Of the foremost point, or the land's middle: into the blade, towards the left.
    """

    axial_mm: float | None
    lateral_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceTraction:
    """Uniform pressure on a stretch of one face, with friction towards the spine.

    Attributes
    ----------
    side : {"left", "right"}
    from_mm, to_mm : float
        Depths x where it begins and ends.
    pressure_mpa : float
        Normal to the face, onto it.
    friction : float
        Shear over pressure; drags the face towards the spine, towards the apex where
        it is negative.
    medium : str or None
        What of the library presses, where that is known.
    """

    side: Side
    from_mm: float
    to_mm: float
    pressure_mpa: float
    friction: float
    medium: str | None = None

    def traction(self, angle_rad: ArrayLike) -> tuple[Floats, Floats]:
        """Give force per area (x, y) where the face stands at those angles from the mid-plane."""
        outward = 1.0 if self.side == "left" else -1.0
        sine, cosine = np.sin(angle_rad), np.cos(angle_rad)
        drag = self.friction * self.pressure_mpa
        return (
            np.asarray(self.pressure_mpa * sine + drag * cosine),
            np.asarray(outward * (-self.pressure_mpa * cosine + drag * sine)),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Tractions:
    """All that one load case puts on the outline.

    Attributes
    ----------
    name : str
        Of the load case.
    tip : tuple of TipTraction
    faces : tuple of FaceTraction
    movement : TipMovement or None
        Imposed on the tip, until it has become the load that makes it.
    carried : TipMovement or None
        The same from then on; the last part on the tip is the load that makes it.
    limited_by : {"hand", "medium"} or None
        What bounds a load that came from a medium.
    contact_length_mm : float or None
        Length of the edge that carries the load, where known.
    object_pressure_mpa : float or None
        With what a hard object presses.
    remarks : tuple of str
        What was decided or clipped on the way.
    """

    name: str
    tip: tuple[TipTraction, ...] = ()
    faces: tuple[FaceTraction, ...] = ()
    movement: TipMovement | None = None
    carried: TipMovement | None = None
    limited_by: Literal["hand", "medium"] | None = None
    contact_length_mm: float | None = None
    object_pressure_mpa: float | None = None
    remarks: tuple[str, ...] = ()

    @property
    def reaction(self) -> TipTraction | None:
        """What carries the tip, where a movement is imposed and its load is known."""
        return None if self.carried is None else self.tip[-1]

    @property
    def is_straight(self) -> bool:
        """Whether both sides are worked alike, and nothing pushes sideways."""
        sides: dict[str, list[tuple[float, ...]]] = {"left": [], "right": []}
        for part in self.faces:
            sides[part.side].append((part.from_mm, part.to_mm, part.pressure_mpa, part.friction))
        return self.tip_lateral_n_per_mm == 0.0 and sorted(sides["left"]) == sorted(sides["right"])

    @property
    def tip_axial_n_per_mm(self) -> float:
        """Sum of the axial line loads on the tip."""
        return sum(part.axial_n_per_mm for part in self.tip)

    @property
    def tip_lateral_n_per_mm(self) -> float:
        """Sum of the lateral line loads on the tip."""
        return sum(part.lateral_n_per_mm for part in self.tip)


@dataclass(frozen=True, slots=True, kw_only=True)
class Resultant:
    """Force and moment per millimetre of edge that act on the blade up to a depth.

    Attributes
    ----------
    axial_n_per_mm, lateral_n_per_mm, moment_n : ndarray, shape (n,)
        The moment is about the origin, N mm per mm.
    """

    axial_n_per_mm: Floats
    lateral_n_per_mm: Floats
    moment_n: Floats

    def moment_about_n(self, x_mm: ArrayLike, y_mm: ArrayLike) -> Floats:
        """Give the moment about other points, N mm per mm."""
        x, y = np.asarray(x_mm), np.asarray(y_mm)
        return np.asarray(self.moment_n - x * self.lateral_n_per_mm + y * self.axial_n_per_mm)


def tip_resultant(part: TipTraction, outline: Outline) -> tuple[float, float, float]:
    """Give axial, lateral and moment about the origin of one line load on the tip."""
    if part.spread == "rigid":
        return part.axial_n_per_mm, part.lateral_n_per_mm, 0.0
    fraction = (np.arange(TIP_POINTS) + 0.5) / TIP_POINTS
    weight = part.weight(fraction) / TIP_POINTS
    x, y = outline.tip.point(fraction)
    moment = part.lateral_n_per_mm * float(weight @ x) - part.axial_n_per_mm * float(weight @ y)
    return part.axial_n_per_mm, part.lateral_n_per_mm, moment


def face_resultant(part: FaceTraction, outline: Outline, x_mm: ArrayLike) -> Resultant:
    """Give the resultant of a face stretch up to depths x, about the origin."""
    x = np.atleast_1d(np.asarray(x_mm, dtype=float))
    axial, lateral, moment = np.zeros_like(x), np.zeros_like(x), np.zeros_like(x)
    drag = part.friction * part.pressure_mpa
    for run in outline.face(part.side):
        begin, end = max(part.from_mm, run.begin_mm[0]), min(part.to_mm, run.end_mm[0])
        if end <= begin:
            continue
        reach = np.clip(x, begin, end)
        y0, y1 = float(run.y_mm(begin)), run.y_mm(reach)
        along_x, along_y = reach - begin, y1 - y0
        # pressure on any curve acts as on its chord, friction along it; the moment of
        # friction is its size times twice the area that the curve sweeps about the origin
        push = part.pressure_mpa * run.outward
        axial += push * along_y + drag * along_x
        lateral += -push * along_x + drag * along_y
        moment += -0.5 * push * (along_x * (reach + begin) + along_y * (y1 + y0))
        moment += drag * (begin * y1 - reach * y0 - run.outward * _bow_area(run, along_x, along_y))
    return Resultant(axial_n_per_mm=axial, lateral_n_per_mm=lateral, moment_n=moment)


def _bow_area(run: Stretch, along_x: Floats, along_y: Floats) -> Floats:
    """Give twice the area between a stretch and its chord, positive where it bulges outward."""
    if run.is_straight:
        return np.zeros_like(along_x)
    radius = run.curve.radius_mm
    opening = 2.0 * np.arcsin(np.clip(0.5 * np.hypot(along_x, along_y) / radius, 0.0, 1.0))
    return np.asarray(np.sign(run.curve.bulge_mm) * radius**2 * turn_less_sine(opening))


def resultant_up_to(tractions: Tractions, outline: Outline, x_mm: ArrayLike) -> Resultant:
    """Give what acts between the apex and depths x, about the origin.

    The whole tip counts at every depth behind it.
    """
    x = np.atleast_1d(np.asarray(x_mm, dtype=float))
    parts = [face_resultant(part, outline, x) for part in tractions.faces]
    tips = np.array([tip_resultant(part, outline) for part in tractions.tip]).reshape(-1, 3)
    tip_axial, tip_lateral, tip_moment = tips.sum(axis=0)
    return Resultant(
        axial_n_per_mm=tip_axial + sum((p.axial_n_per_mm for p in parts), np.zeros_like(x)),
        lateral_n_per_mm=tip_lateral + sum((p.lateral_n_per_mm for p in parts), np.zeros_like(x)),
        moment_n=tip_moment + sum((p.moment_n for p in parts), np.zeros_like(x)),
    )


def patch_ends_mm(loads: Iterable[Tractions]) -> dict[Side, tuple[float, ...]]:
    """Collect where any load's stretches begin and end: nodes must stand there."""
    faces = [part for load in loads for part in load.faces]
    return {
        side: tuple(
            sorted({x for part in faces if part.side == side for x in (part.from_mm, part.to_mm)})
        )
        for side in SIDES
    }
