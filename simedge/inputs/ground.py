"""What has been ground on a blade, stretch by stretch: the chords, and how far faces leave them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf, radians, tan

from simedge.inputs.apex_fit import Corners, Point
from simedge.inputs.curves import Bow, Curve

STRAIGHT = Bow()
#: Angles nearer than this are one.
SAME_ANGLE_DEG = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """One bevel or grind: a pair of faces.

    Attributes
    ----------
    name : str
    field : tuple
        Its path in the profile, for messages.
    sides_deg : (float, float)
        Angles of the chords of the left and the right face from the mid-plane.
    bow : Bow
        How far the faces depart from their chords; a side of 0 degrees was not ground and
        stays straight.
    begin, end : (Point, Point)
        Where the left and the right face begin and end, the outside of each up.
    """

    name: str
    field: tuple[str | int, ...]
    sides_deg: tuple[float, float]
    bow: Bow = STRAIGHT
    begin: Corners
    end: Corners

    @property
    def curves(self) -> tuple[Curve, Curve]:
        """The left and the right face; a bulge is nan where the wheel does not reach."""
        return self.with_bow(self.bow)

    def with_bow(self, bow: Bow) -> tuple[Curve, Curve]:
        """Give the faces with another bow over the same chords."""
        left, right = (
            _curve(begin, end, STRAIGHT if side == 0.0 else bow)
            for begin, end, side in zip(self.begin, self.end, self.sides_deg, strict=True)
        )
        return left, right

    @property
    def included_deg(self) -> float:
        """Included angle of the chords."""
        return sum(self.sides_deg)


def _curve(begin: Point, end: Point, bow: Bow) -> Curve:
    straight = Curve(begin_mm=begin, end_mm=end)
    if bow.is_straight:
        return straight
    return Curve(begin_mm=begin, end_mm=end, bulge_mm=bow.over(straight.chord_mm))


def thickness_mm(corners: Corners, sides_deg: tuple[float, float], x_mm: float) -> float:
    """Give the thickness at a depth between chords that begin at the corners."""
    (left_x, left_out), (right_x, right_out) = corners
    return (
        left_out
        + (x_mm - left_x) * tan(radians(sides_deg[0]))
        + right_out
        + (x_mm - right_x) * tan(radians(sides_deg[1]))
    )


def depth_of_thickness(
    sides_deg: tuple[float, float], wanted_mm: float
) -> Callable[[Corners], float]:
    """Give the depth at which chords of those angles are so far apart, of where they begin."""
    growth = tan(radians(sides_deg[0])) + tan(radians(sides_deg[1]))

    def depth(corners: Corners) -> float:
        if growth == 0.0:
            return inf
        start = begins_mm(corners)
        return start + (wanted_mm - thickness_mm(corners, sides_deg, start)) / growth

    return depth


def begins_mm(corners: Corners) -> float:
    """Give the depth from which on there are both faces."""
    return max(corner[0] for corner in corners)


def step(corners: Corners, sides_deg: tuple[float, float], x_mm: float) -> Corners:
    """Give where chords that begin at the corners are at a depth."""
    left, right = (
        (x_mm, corner[1] + (x_mm - corner[0]) * tan(radians(side)))
        for corner, side in zip(corners, sides_deg, strict=True)
    )
    return left, right
