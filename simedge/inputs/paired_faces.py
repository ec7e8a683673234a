"""Two faces with shoulders at different depths as stretches that both sides share."""

from __future__ import annotations

from collections.abc import Sequence
from math import copysign, sqrt

from simedge.inputs.curves import Curve

#: Shoulders of both faces nearer than this share of the thickness are at one depth.
SAME_DEPTH_SHARE = 1e-3
#: Faces that differ by less than this share of the height are mirror images.
EVEN_SHARE = 1e-9


def paired(
    left: Sequence[Curve], right: Sequence[Curve]
) -> tuple[tuple[Curve, ...], tuple[Curve, ...]]:
    """Cut both faces where either has a shoulder.

    Parameters
    ----------
    left, right : sequence of Curve
        From the apex to the same depth.

    Returns
    -------
    tuple of Curve, tuple of Curve
        As many of each; equal where the faces are mirror images but for rounding.
    """
    begin = max(left[0].begin_mm[0], right[0].begin_mm[0])
    end = left[-1].end_mm[0]
    marks = [m for m in _merged_marks(left, right) if begin < m < end]
    both = _cut(left, [*marks, end]), _cut(right, [*marks, end])
    return _evened(*both, EVEN_SHARE * end)


def out_at(face: Sequence[Curve], x_mm: float) -> float:
    """Give how far out a face is at a depth; beyond its ends, on its end."""
    for curve in face:
        if x_mm <= curve.end_mm[0]:
            break
    if x_mm >= curve.end_mm[0]:
        return curve.end_mm[1]
    return curve.begin_mm[1] if x_mm <= curve.begin_mm[0] else curve.out_at(x_mm)


def _merged_marks(left: Sequence[Curve], right: Sequence[Curve]) -> list[float]:
    marks = sorted({curve.end_mm[0] for face in (left, right) for curve in face[:-1]})
    merged: list[float] = []
    for mark in marks:
        thickness = out_at(left, mark) + out_at(right, mark)
        if merged and mark - merged[-1] <= SAME_DEPTH_SHARE * thickness:
            merged[-1] = 0.5 * (merged[-1] + mark)
        else:
            merged.append(mark)
    return merged


def _cut(face: Sequence[Curve], ends: Sequence[float]) -> list[Curve]:
    pieces = []
    begin = face[0].begin_mm
    for end_x in ends:
        end = (end_x, out_at(face, end_x))
        middle = 0.5 * (begin[0] + end_x)
        own = next((curve for curve in face if middle <= curve.end_mm[0]), face[-1])
        if (own.begin_mm, own.end_mm) == (begin, end):
            pieces.append(own)
        else:
            pieces.append(of_same_radius(own, begin, end))
        begin = end
    return pieces


def of_same_radius(curve: Curve, begin: tuple[float, float], end: tuple[float, float]) -> Curve:
    """Give the curve of the same radius between other ends."""
    chord = Curve(begin_mm=begin, end_mm=end)
    if curve.is_straight:
        return chord
    half, radius = 0.5 * chord.chord_mm, curve.radius_mm
    bow = half**2 / (radius + sqrt(max(radius**2 - half**2, 0.0)))
    return Curve(begin_mm=begin, end_mm=end, bulge_mm=copysign(bow, curve.bulge_mm))


def _evened(
    left: list[Curve], right: list[Curve], tolerance: float
) -> tuple[tuple[Curve, ...], tuple[Curve, ...]]:
    """Make mirror images equal to the last bit, so that an even edge is known as one."""
    for one, other in zip(left, right, strict=True):
        figures = zip(_figures(one), _figures(other), strict=True)
        if any(abs(a - b) > tolerance for a, b in figures):
            return tuple(left), tuple(right)
    even = []
    for one, other in zip(left, right, strict=True):
        a = [0.5 * (x + y) for x, y in zip(_figures(one), _figures(other), strict=True)]
        even.append(Curve(begin_mm=(a[0], a[1]), end_mm=(a[2], a[3]), bulge_mm=a[4]))
    return tuple(even), tuple(even)


def _figures(curve: Curve) -> tuple[float, float, float, float, float]:
    return (*curve.begin_mm, *curve.end_mm, curve.bulge_mm)
