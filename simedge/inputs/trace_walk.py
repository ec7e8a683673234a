"""A traced section as two faces: split at the edge, opened at the spine, each going on in x."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, tan

from simedge.inputs.polygon_checks import TracePoint, named, refuse_points

#: What falls towards the mid-plane more steeply than this at the far end is the spine.
SPINE_FALL = tan(radians(30.0))
#: Share of the height that may be lost where the faces end at different depths.
LARGEST_LOSS = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """The points from the left spine over the edge to the right spine.

    Attributes
    ----------
    points : tuple of TracePoint
    foremost : int
        Number of the first point with the smallest x.
    back_mm : float
        x of the rearmost point of the outline, the spine's cap included.
    """

    points: tuple[TracePoint, ...]
    foremost: int
    back_mm: float


def walk_around(points: list[TracePoint]) -> Walk:
    """Open an outline at its spine.

    Parameters
    ----------
    points : list of TracePoint
        Oriented: edge at the low end of x, counter-clockwise.
    """
    start = min(range(len(points)), key=lambda at: (points[at].x, -points[at].y))
    round_trip = [*points[start:], *points[:start]]  # the right face comes first
    rear = max(range(len(round_trip)), key=lambda at: round_trip[at].x)
    left = [round_trip[0], *reversed(round_trip[rear:])]
    right = round_trip[: rear + 1]
    _drop_cap(left, 1.0)
    _drop_cap(right, -1.0)
    if left[-1] == right[-1]:  # a spine that comes to a point, or runs askew from face to face
        falls = _last_rise(left, 1.0), _last_rise(right, -1.0)
        for face, side, rise in zip((left, right), (1.0, -1.0), falls, strict=True):
            if rise <= min(falls) and len(face) > 2:
                del face[-1]
                _drop_cap(face, side)
    return Walk(
        points=(*reversed(left[1:]), *right),
        foremost=len(left) - 1,
        back_mm=round_trip[rear].x,
    )


def _last_rise(face: list[TracePoint], side: float) -> float:
    """Give the slope of the last segment of a face, outward positive."""
    return side * (face[-1].y - face[-2].y) / (face[-1].x - face[-2].x)


def _drop_cap(face: list[TracePoint], side: float) -> None:
    """Take the spine off the end of a face."""
    while len(face) > 2:
        along = face[-1].x - face[-2].x
        rise = side * (face[-1].y - face[-2].y)
        if along > 0 and rise >= -SPINE_FALL * along:
            return
        del face[-1]


def going_on(
    face: Sequence[TracePoint], side: float, tolerance_mm: float
) -> list[tuple[float, float]]:
    """Give a face as depth and distance out, depth growing.

    Parameters
    ----------
    face : sequence of TracePoint
        From the edge to the spine.
    side : float
        1 for the left face, -1 for the right one.
    tolerance_mm : float
        By so much a point may step back: it is sorted in.

    Raises
    ------
    FieldProblems
        The face overhangs, at the point that does.
    """
    reached = face[0]
    for point in face[1:]:
        if point.x < reached.x - tolerance_mm or point.x == reached.x:
            label = "left" if side > 0 else "right"
            raise refuse_points(
                f"does not lie farther from the edge than {named(reached)}, but a face must go "
                f"on from the edge to the spine: the {label} one overhangs here",
                point.number,
            )
        reached = max(reached, point)
    places = sorted((point.x, side * point.y) for point in face)
    kept = places[:1]
    for place in places[1:]:
        if place[0] > kept[-1][0]:
            kept.append(place)
    return kept
