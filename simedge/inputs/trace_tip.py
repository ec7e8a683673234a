"""The tip of a traced section: what its foremost points make."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, pi, radians

from simedge.inputs.grinds import Apex
from simedge.inputs.polygon_checks import TracePoint
from simedge.inputs.trace_circles import Circle, fitted_circle
from simedge.units import mm_from_um

#: Points that make a rounded tip, at least, and how far they may lie off its circle, in radii.
ROUND_POINTS, OFF_ROUND = 5, 0.01
#: A tip's circle turns at least this much, and no more from point to point than a hexagon.
LEAST_ROUND_RAD, LARGEST_STEP_RAD = radians(40.0), radians(60.0)
#: A face leaves the circle as its tangent, but for this and half a step between points.
TANGENT_RAD = radians(5.0)
#: A land stands across the blade, give or take this.
LAND_TILT_RAD = radians(20.0)
#: What is steeper belongs to the tip.
STEEPEST_FACE_RAD = radians(60.0)
#: The widest tip that is one: an `Apex` holds no more.
WIDEST_TIP_MM = 5.0
#: A land below this is a vertex that was written twice.
NARROWEST_LAND_MM = 1e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class TraceTip:
    """What the foremost points of a walk around a section make.

    Attributes
    ----------
    apex : Apex or None
        None where they make nothing that is known.
    circle : Circle or None
        Of a rounded tip.
    left_from, right_from : int
        Numbers in the walk of the points where the faces begin.
    """

    apex: Apex | None
    circle: Circle | None
    left_from: int
    right_from: int


def read_tip(walk: Sequence[TracePoint], foremost: int) -> TraceTip:
    """Read the tip off a walk from the left spine over the edge to the right spine.

    Parameters
    ----------
    walk : sequence of TracePoint
        x is smallest at the edge, +y is left.
    foremost : int
        Number of the foremost point.

    Returns
    -------
    TraceTip
    """
    rounded = _rounded(walk, foremost)
    if rounded is not None:
        return rounded
    land = _land(walk, foremost)
    if land is not None:
        return land
    left = _first_of_face(walk, foremost, -1)
    right = _first_of_face(walk, foremost, 1)
    apex = Apex(sharp=True) if left == right == foremost else None
    return TraceTip(apex=apex, circle=None, left_from=left, right_from=right)


def _steepness(a: TracePoint, b: TracePoint) -> float:
    """Give the angle of a segment from the mid-plane, 0 along it."""
    return atan2(abs(b.y - a.y), abs(b.x - a.x))


def _first_of_face(walk: Sequence[TracePoint], foremost: int, step: int) -> int:
    at = foremost
    while 0 < at < len(walk) - 1 and (
        _steepness(walk[at], walk[at + step]) > STEEPEST_FACE_RAD
        or (walk[at + step].x <= walk[at].x)
    ):
        at += step
    return at


def _land(walk: Sequence[TracePoint], foremost: int) -> TraceTip | None:
    for left in (foremost - 1, foremost):
        if not 1 <= left <= len(walk) - 3:
            continue
        a, b = walk[left], walk[left + 1]
        width = a.y - b.y
        if width <= 0 or _steepness(a, b) < 0.5 * pi - LAND_TILT_RAD:
            continue
        faces = ((a, walk[left - 1]), (b, walk[left + 2]))
        if any(_steepness(*face) > STEEPEST_FACE_RAD or face[1].x <= face[0].x for face in faces):
            continue
        if width < NARROWEST_LAND_MM:
            apex = Apex(sharp=True)
        elif width > WIDEST_TIP_MM:
            continue
        else:
            apex = Apex(land_um=1000.0 * width)
        return TraceTip(apex=apex, circle=None, left_from=left, right_from=left + 1)
    return None


def _rounded(walk: Sequence[TracePoint], foremost: int) -> TraceTip | None:
    best: tuple[float, int, int, Circle] | None = None
    for first in range(foremost - ROUND_POINTS + 1, foremost + 1):
        last = first + ROUND_POINTS - 1
        if first < 1 or last > len(walk) - 2:
            continue
        found = _tip_circle(walk, first, last)
        if found is not None and (best is None or found[0] < best[0]):
            best = (found[0], first, last, found[1])
    if best is None:
        return None
    _, first, last, circle = best
    grown = True
    while grown:
        grown = False
        for a, b in ((first - 1, last), (first, last + 1)):
            if a < 1 or b > len(walk) - 2:
                continue
            found = _tip_circle(walk, a, b)
            if found is not None:
                first, last, circle, grown = a, b, found[1], True
                break
    if not _is_tip(walk, first, last, circle):
        return None
    return TraceTip(
        apex=Apex(radius_um=1000.0 * circle.radius),
        circle=circle,
        left_from=first,
        right_from=last,
    )


def _tip_circle(walk: Sequence[TracePoint], first: int, last: int) -> tuple[float, Circle] | None:
    """Give the circle through a run of points and how far they miss it, in radii."""
    places = [point[:2] for point in walk[first : last + 1]]
    circle = fitted_circle(places)
    if circle is None or not mm_from_um(0.005) <= circle.radius <= WIDEST_TIP_MM:
        return None
    off = max(abs(circle.off(place)) for place in places) / circle.radius
    if off > OFF_ROUND or any(not 0 < step < LARGEST_STEP_RAD for step in _steps(places, circle)):
        return None
    return off, circle


def _steps(places: Sequence[tuple[float, float]], circle: Circle) -> list[float]:
    """Give the angles from point to point about the centre, from left over the front to right."""
    polar = [atan2(y - circle.y, x - circle.x) % (2.0 * pi) for x, y in places]
    return [b - a for a, b in pairwise(polar)]


def _is_tip(walk: Sequence[TracePoint], first: int, last: int, circle: Circle) -> bool:
    """Whether a circle's run of points turns enough, and both faces leave it as tangents."""
    places = [point[:2] for point in walk[first : last + 1]]
    steps = _steps(places, circle)
    if sum(steps) < LEAST_ROUND_RAD:
        return False
    for at, behind, sign in ((first, first - 1, 1.0), (last, last + 1, -1.0)):
        x, y = walk[at].x - circle.x, walk[at].y - circle.y
        tangent = atan2(sign * y, x) - 0.5 * pi  # outside up, along the face
        chord = atan2(sign * (walk[behind].y - walk[at].y), walk[behind].x - walk[at].x)
        off = abs((chord - tangent + pi) % (2.0 * pi) - pi)
        if off > TANGENT_RAD + 0.75 * max(steps):
            return False
    return True
