"""Which end of a traced section is its edge: turned so that x runs from there to the spine."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from simedge.inputs.polygon_checks import (
    TracePoint,
    extents,
    named,
    refuse_points,
    signed_area,
)

#: The ends are compared by the area that lies within this share of the extent from each.
END_SHARE = 0.05
#: The edge has less than this share of the area that the spine has there.
THINNER_SHARE = 0.8
#: The tallest and the lowest section, mm.
TALLEST_MM, LOWEST_MM = 1000.0, 0.01
#: Both ends of a gap lie at the spine if they are this near to it, in heights.
AT_SPINE_SHARE = 0.1
#: Of the blade's height: a line that closes an outline from this near to its very edge to the
#: spine stands for a whole face.
SAME_PLACE_SHARE = 1e-3
#: Elsewhere a gap is closed if it is no longer than so many times the longest segment of a face.
WIDEST_GAP = 1.5


def oriented(points: list[TracePoint]) -> tuple[list[TracePoint], list[str]]:
    """Turn a section so that its edge is at the low end of x, counter-clockwise.

    Parameters
    ----------
    points : list of TracePoint
        A checked polygon.

    Returns
    -------
    list of TracePoint, list of str
        The points, +y the left face, and what was done to them.

    Raises
    ------
    FieldProblems
        The ends are alike, so that nothing tells the edge, or it is no size of a blade.

    Notes
    -----
    The blade runs along the longer extent, unless its ends are alike there and differ
    across. Nothing tells columns that are swapped from a drawing that stands upright: in
    both the smaller x becomes the left face.
    """
    wide, high = extents(points)
    if not LOWEST_MM <= max(wide, high) <= TALLEST_MM:
        raise refuse_points(
            f"span {max(wide, high):.4g} mm, but a section is between {LOWEST_MM:g} and "
            f"{TALLEST_MM:g} mm high; name the unit of the columns: x_um,y_um for micrometres"
        )
    upright_points = [TracePoint(p.y, -p.x, p.number) for p in points]
    views = [(points, False), (upright_points, True)]
    if high > wide:
        views.reverse()
    decided = [(view, upright, low, far) for view, upright in views for low, far in [_ends(view)]]
    sure = [d for d in decided if min(d[2:]) < THINNER_SHARE * max(d[2:])]
    if not sure:
        raise refuse_points(
            "make a section whose ends are alike, so that nothing tells the edge from the spine; "
            "trace it from the edge to where the spine is clearly thicker"
        )
    view, upright, low, far = sure[0]
    remarks = []
    if upright:
        which = "bottom" if low < far else "top"
        remarks.append(
            f"the section runs along y: taken as drawn upright with its edge at the {which}, or "
            "with its two columns swapped; its left face is the one at smaller x"
        )
    elif low > far:
        remarks.append(
            "the edge is at the far end of x: mirrored, so that it points forward; the left face "
            "is still the one at larger y"
        )
    if low > far:
        view = [TracePoint(-p.x, p.y, p.number) for p in view]
    return (view if signed_area(view) > 0 else view[::-1]), remarks


def _ends(points: list[TracePoint]) -> tuple[float, float]:
    """Give the area near the low and near the high end of x."""
    low, high = min(p.x for p in points), max(p.x for p in points)
    reach = END_SHARE * (high - low)
    front = _area_below([(p.x, p.y) for p in points], low + reach)
    behind = _area_below([(-p.x, p.y) for p in points], reach - high)
    return front, behind


def _area_below(points: Sequence[tuple[float, float]], limit: float) -> float:
    """Give the area of a polygon at x below a limit."""
    kept: list[tuple[float, float]] = []
    for (x0, y0), (x1, y1) in pairwise([*points, points[0]]):
        if x0 <= limit:
            kept.append((x0, y0))
        if (x0 <= limit) != (x1 <= limit):
            kept.append((limit, y0 + (y1 - y0) * (limit - x0) / (x1 - x0)))
    return abs(
        0.5
        * sum(
            (x0 - limit) * y1 - (x1 - limit) * y0
            for (x0, y0), (x1, y1) in zip(kept, [*kept[1:], *kept[:1]], strict=True)
        )
    )


def close_gap(points: list[TracePoint], written: int) -> list[str]:
    """Judge the straight line that closes an outline which does not return to its first point.

    Parameters
    ----------
    points : list of TracePoint
        Oriented, edge at the low end of x.
    written : int
        Number of the last point as written; the gap is between it and the first.

    Returns
    -------
    list of str
        What is said of it.

    Raises
    ------
    FieldProblems
        The gap is wide and not at the spine: a part of the blade is missing.
    """
    at = {point.number: place for place, point in enumerate(points)}
    first, last = points[at[min(at)]], points[at[max(at)]]
    gap = hypot(first.x - last.x, first.y - last.y)
    spine, edge = max(p.x for p in points), min(p.x for p in points)
    back = spine - AT_SPINE_SHARE * (spine - edge)
    near = min(first.x, last.x) >= back
    longest = max(
        (
            hypot(b.x - a.x, b.y - a.y)
            for a, b in pairwise([*points, points[0]])
            if {a, b} != {first, last} and min(a.x, b.x) < back
        ),
        default=0.0,
    )
    from_the_edge = min(first.x, last.x) - edge <= SAME_PLACE_SHARE * (spine - edge)
    if from_the_edge and max(first.x, last.x) >= back:
        raise refuse_points(
            f"is the last, {gap:.4g} mm away from the first in {named(first)}, along the blade: "
            "only one face seems to be traced; trace both, or add the other one mirrored",
            written,
        )
    if not near and gap > WIDEST_GAP * longest:
        raise refuse_points(
            f"is the last, {gap:.4g} mm away from the first in {named(first)} and not at the "
            "spine: a part of the outline is missing; trace it, or repeat the first point",
            written,
        )
    where = "at the spine" if near else f"between {named(last)} and {named(first)}"
    return [f"the outline was open: closed {where} by a straight line of {gap:.4g} mm"]
