"""Where the faces of a trace leave its apex: the trace's own rounded one, or one put on it."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, sin, tan

from simedge.inputs.curves import Curve
from simedge.inputs.grinds import Apex
from simedge.inputs.paired_faces import of_same_radius
from simedge.inputs.polygon_checks import refuse_points
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.shown_values import rounded_down
from simedge.inputs.trace_circles import Circle
from simedge.units import mm_from_um

#: A face is tangent to the circle of its tip if it misses that by this share of the radius.
MISSES_SHARE = 0.02
#: An arc's tangent point moves its chord a little: so many rounds at most.
ROUNDS = 40


def leave_circle(
    circle: Circle, side: float, start: tuple[float, float], curves: list[Curve]
) -> list[Curve]:
    """Let a face leave a rounded tip as its tangent.

    Parameters
    ----------
    circle : Circle
        Of the tip.
    side : float
        1 for the left face, -1 for the right one.
    start : (float, float)
        First point behind the circle, depth and distance out of y = 0.
    curves : list of Curve
        The face from there on; none where it ends there.

    Returns
    -------
    list of Curve
        The first one lengthened to the circle where it is tangent to that anyway, else
        with a straight one in front.
    """
    centre = (circle.x, side * circle.y)
    first = curves[0] if curves else None
    if first is not None and first.is_straight:
        begin = _tangent_point(centre, circle.radius, first.end_mm)
        along = first.chord_angle_rad
        off = (start[1] - centre[1]) * cos(along) - (start[0] - centre[0]) * sin(along)
        if begin is not None and abs(off - circle.radius) <= MISSES_SHARE * circle.radius:
            return [Curve(begin_mm=begin, end_mm=first.end_mm), *curves[1:]]
    elif first is not None and first.bulge_mm > 0:
        across = (centre[0] - first.centre_mm[0], centre[1] - first.centre_mm[1])
        apart = hypot(*across)
        if abs(first.radius_mm - circle.radius - apart) <= MISSES_SHARE * circle.radius:
            share = circle.radius / apart
            begin = (centre[0] + share * across[0], centre[1] + share * across[1])
            return [of_same_radius(first, begin, first.end_mm), *curves[1:]]
    begin = _tangent_point(centre, circle.radius, start)
    if begin is None:
        raise refuse_points(
            "lie on a circle at the tip that the faces do not leave; say what stands there with "
            "[profile.apex]"
        )
    return [Curve(begin_mm=begin, end_mm=start), *curves]


def _tangent_point(
    centre: tuple[float, float], radius: float, far: tuple[float, float]
) -> tuple[float, float] | None:
    """Give where the line through a far point touches a circle, on the outer side."""
    across, along = far[1] - centre[1], far[0] - centre[0]
    distance = hypot(across, along)
    if along <= 0 or distance <= radius:
        return None
    angle = atan2(across, along) - atan2(radius, (distance**2 - radius**2) ** 0.5)
    return centre[0] - radius * sin(angle), centre[1] + radius * cos(angle)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedApex:
    """Where an apex stands on two faces.

    Attributes
    ----------
    origin_mm : (float, float)
        Its foremost point, or the middle of its land, in the axes of the faces.
    left, right : Curve
        The first stretches, beginning at it.
    """

    origin_mm: tuple[float, float]
    left: Curve
    right: Curve


def put_apex(apex: Apex, left: Curve, right: Curve) -> PlacedApex:
    """Put an apex on the first stretches of two faces, as tangent or between them.

    Parameters
    ----------
    apex : Apex
    left, right : Curve
        Depth and distance out of the same y = 0; where they begin does not count.

    Raises
    ------
    FieldProblems
        It leaves nothing of a first stretch (with the largest that fits), or the faces
        do not narrow towards it.
    """
    for _ in range(ROUNDS):
        before = (left.begin_mm, right.begin_mm)
        placed = _placed(apex, left, right)
        left, right = placed.left, placed.right
        moved = max(
            hypot(now[0] - then[0], now[1] - then[1])
            for now, then in zip((left.begin_mm, right.begin_mm), before, strict=True)
        )
        if left.is_straight and right.is_straight:
            break
        if moved <= 1e-12 * left.chord_mm:
            break
    return placed


def _placed(apex: Apex, left: Curve, right: Curve) -> PlacedApex:
    slopes = tan(left.begin_angle_rad), tan(right.begin_angle_rad)
    growth = sum(slopes)
    outs = [
        curve.begin_mm[1] - curve.begin_mm[0] * slope
        for curve, slope in zip((left, right), slopes, strict=True)
    ]  # of both faces at x = 0
    if growth <= 1e-6:
        raise refuse_points("make faces that do not narrow towards the edge; trace them to the tip")
    sines = [sin(curve.begin_angle_rad) for curve in (left, right)]
    cosines = [cos(curve.begin_angle_rad) for curve in (left, right)]
    over = sum(1.0 / cosine for cosine in cosines)
    if apex.radius_um is not None:
        radius = mm_from_um(apex.radius_um)
        x = (radius * over - sum(outs)) / growth
        y = outs[0] + slopes[0] * x - radius / cosines[0]
        begins = [
            (x - radius * sines[0], y + radius * cosines[0]),
            (x - radius * sines[1], -y + radius * cosines[1]),
        ]
        origin = (x - radius, y)
    else:
        x = (mm_from_um(apex.land_um or 0.0) - sum(outs)) / growth
        begins = [(x, out + slope * x) for out, slope in zip(outs, slopes, strict=True)]
        origin = (x, 0.5 * (begins[0][1] - begins[1][1]))
    for curve, begin, sine in zip((left, right), begins, sines, strict=True):
        if begin[0] >= curve.end_mm[0]:
            _refuse_apex(apex, left, right, outs, growth, over, max(sine, 0.0))
    return PlacedApex(
        origin_mm=origin,
        left=of_same_radius(left, begins[0], left.end_mm),
        right=of_same_radius(right, begins[1], right.end_mm),
    )


def _refuse_apex(
    apex: Apex,
    left: Curve,
    right: Curve,
    outs: list[float],
    growth: float,
    over: float,
    sine: float,
) -> None:
    ends = min(left.end_mm[0], right.end_mm[0])
    if apex.sharp:
        raise refuse_points("make faces that cross where they should end; trace them to the tip")
    if apex.radius_um is not None:
        key, given = "radius_um", apex.radius_um
        largest = (ends + sum(outs) / growth) / (over / growth - sine)
    else:
        key, given = "land_um", apex.land_um or 0.0
        largest = sum(outs) + growth * ends
    raise FieldProblems(
        FieldProblem(
            ("apex", key),
            f"is {given:g} µm, but the first stretch of the trace must leave the apex before it "
            f"ends; below {rounded_down(1000.0 * largest, 4)} µm it fits",
        )
    )
