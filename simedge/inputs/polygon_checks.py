"""Whether points make a polygon that has an inside: no spikes, no crossings, no zero area.

A mesher hangs on outlines that run back on themselves, so these are looked for first.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import hypot
from typing import NamedTuple

from simedge.inputs.problems import FieldProblem, FieldProblems

#: Turning back within this share of a segment's length is a spike, not a needle.
SPIKE_WIDTH = 1e-6
#: Area over the square of the extent below which all points lie on one line.
LEAST_AREA_SHARE = 1e-7


class TracePoint(NamedTuple):
    """A point of a trace, with its place in the order that it was written in."""

    x: float
    y: float
    number: int


def refuse_points(message: str, index: int | None = None) -> FieldProblems:
    """Give the refusal of a trace, at one of its points or as a whole."""
    path: tuple[str | int, ...] = ("points_mm",) if index is None else ("points_mm", index)
    return FieldProblems(FieldProblem(path, message))


def named(point: TracePoint) -> str:
    """Name a point by its number; who knows its line in a file puts that in (`in_lines`).

    >>> named(TracePoint(0.0, 0.0, 4))
    'point 5'
    """
    return f"point {point.number + 1}"


def in_lines(message: str, lines: Sequence[int]) -> str:
    """Name the points of a message by their lines.

    >>> in_lines("runs up to point 2", [3, 4])
    'runs up to line 4'
    """
    return re.sub(r"\bpoint (\d+)\b", lambda found: f"line {lines[int(found[1]) - 1]}", message)


def shown_place(x: float, y: float) -> str:
    """Write a place as it stands in a file.

    >>> shown_place(1.25, -0.1)
    '(1.25, -0.1) mm'
    """
    return f"({round(x, 9) + 0.0:.6g}, {round(y, 9) + 0.0:.6g}) mm"


def distinct(points: list[TracePoint]) -> tuple[list[TracePoint], bool]:
    """Merge consecutive points that are equal; tell whether the last one repeats the first."""
    kept: list[TracePoint] = []
    for point in points:
        if not kept or point[:2] != kept[-1][:2]:
            kept.append(point)
    closed = len(kept) > 1 and kept[0][:2] == kept[-1][:2]
    return (kept[:-1] if closed else kept), closed


def signed_area(points: list[TracePoint]) -> float:
    """Give the area, positive where the points run counter-clockwise.

    >>> signed_area([TracePoint(0, 0, 0), TracePoint(2, 0, 1), TracePoint(0, 2, 2)])
    2.0
    """
    x0, y0 = points[0][:2]  # of small differences, wherever the drawing's origin is
    return 0.5 * sum(
        (a.x - x0) * (b.y - y0) - (b.x - x0) * (a.y - y0)
        for a, b in zip(points, [*points[1:], points[0]], strict=True)
    )


def extents(points: list[TracePoint]) -> tuple[float, float]:
    """Give the extent along x and along y."""
    xs, ys = [p.x for p in points], [p.y for p in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def check_polygon(points: list[TracePoint]) -> None:
    """Refuse what has no inside, or more than one.

    Parameters
    ----------
    points : list of TracePoint
        Distinct neighbours, the first not repeated at the end.

    Raises
    ------
    FieldProblems
        At the point, or the first of the two segments, that a person would change.
    """
    if len(points) < 3:
        raise refuse_points(f"are {len(points)} different ones, but a section needs 3 or more")
    longest = max(extents(points))
    if abs(signed_area(points)) <= LEAST_AREA_SHARE * longest**2:
        raise refuse_points(
            "lie on one line, so that there is no area between them; trace all around the section"
        )
    _check_spikes(points)
    _check_crossings(points)


def _check_spikes(points: list[TracePoint]) -> None:
    for at, point in enumerate(points):
        before, behind = points[at - 1], points[(at + 1) % len(points)]
        in_x, in_y = point.x - before.x, point.y - before.y
        out_x, out_y = behind.x - point.x, behind.y - point.y
        cross = abs(in_x * out_y - in_y * out_x)
        back = in_x * out_x + in_y * out_y < 0
        if back and cross <= SPIKE_WIDTH * hypot(in_x, in_y) * hypot(out_x, out_y):
            raise refuse_points(
                "is the end of a spike: the outline runs there and back on the same line; take "
                "the point out",
                point.number,
            )


class _Segment(NamedTuple):
    x_low: float
    x_high: float
    y_low: float
    y_high: float
    at: int


def _check_crossings(points: list[TracePoint]) -> None:
    """Look for crossing segments along a sweep over the longer extent."""
    count = len(points)
    across = extents(points)[1] > extents(points)[0]  # few segments stand side by side there
    segments = []
    for at, a in enumerate(points):
        b = points[(at + 1) % count]
        (u0, v0), (u1, v1) = ((a.y, a.x), (b.y, b.x)) if across else (a[:2], b[:2])
        segments.append(_Segment(min(u0, u1), max(u0, u1), min(v0, v1), max(v0, v1), at))
    segments.sort()
    open_ones: list[_Segment] = []
    for segment in segments:
        _, _, low, high, at = segment
        begins = segment.x_low
        open_ones = [other for other in open_ones if other.x_high >= begins]
        for other in open_ones:
            if other.y_high < low or other.y_low > high:
                continue
            first, second = sorted((at, other.at))
            if second - first == 1 or (first == 0 and second == count - 1):
                continue
            _check_pair(points, first, second)
        open_ones.append(segment)


def _side(a: TracePoint, b: TracePoint, c: TracePoint) -> float:
    """Tell on which side of the line from a to b a point lies; 0 within rounding."""
    first, second = (b.x - a.x) * (c.y - a.y), (b.y - a.y) * (c.x - a.x)
    cross = first - second
    return 0.0 if abs(cross) <= 1e-14 * (abs(first) + abs(second)) else cross


def _check_pair(points: list[TracePoint], first: int, second: int) -> None:
    count = len(points)
    a, b = points[first], points[(first + 1) % count]
    c, d = points[second], points[(second + 1) % count]
    c_side, d_side, a_side, b_side = _side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)
    if c_side * d_side > 0 or a_side * b_side > 0:
        return
    if c_side == d_side == 0.0:  # one line: they overlap, or the sweep would not have met them
        x, y = max((min(a[:2], b[:2]), min(c[:2], d[:2])))
        if min(max(a[:2], b[:2]), max(c[:2], d[:2])) < (x, y):
            return
    else:
        share = c_side / (c_side - d_side)
        x, y = c.x + share * (d.x - c.x), c.y + share * (d.y - c.y)
    raise refuse_points(
        f"begins a segment, up to {named(b)}, that the one from {named(c)} to {named(d)} crosses "
        f"at {shown_place(x, y)}; an outline must not cross or touch itself",
        a.number,
    )
