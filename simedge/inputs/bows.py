"""Faces that are not straight: which bow a grind has, and whether it fits the blade."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, degrees, isnan, radians, tan

from simedge.inputs.apex_fit import refuse, tip_corner
from simedge.inputs.curves import Bow, Curve
from simedge.inputs.grinds import LARGEST_WHEEL_MM, Apex, Bevel, PrimaryGrind
from simedge.inputs.ground import Ground
from simedge.inputs.problems import FieldProblems
from simedge.inputs.shown_values import rounded_down, rounded_up
from simedge.units import mm_from_um

#: Share of the shoulder's thickness that a hollow must leave behind it.
WAIST_SHARE = 0.1
#: Included angle that a hollow must leave an edge without bevels, degrees; at most half of its
#: chords'.
LEAST_EDGE_DEG = 1.0
#: Where a hollow ends, its face may not stand steeper than this.
STEEPEST_DEG = 80.0
#: What is told of a bow that fits is rounded to so many figures, to the safe side.
FIGURES = 3


def bow_of_bevel(bevel: Bevel) -> Bow:
    """Give the bow of a bevel's faces."""
    return Bow(bulge_mm=mm_from_um(bevel.bulge_um or 0.0))


def bow_of_primary(grind: PrimaryGrind) -> Bow:
    """Give the bow of the primary grind's faces."""
    return Bow(bulge_mm=grind.bulge_mm or 0.0, wheel_radius_mm=grind.wheel_radius_mm)


def bulge_field(ground: Ground) -> tuple[tuple[str | int, ...], float, str]:
    """Give the path of a convex stretch's bulge, and its unit: per mm, and by name."""
    if ground.field[0] == "bevels":
        return (*ground.field, "bulge_um"), 1000.0, "µm"
    return (*ground.field, "bulge_mm"), 1.0, "mm"


def check_bow(
    apex: Apex, ground: Ground, *, first: bool, with_wheel: Callable[[float], Ground]
) -> None:
    """Refuse a hollow that bites through, and a bulge that leaves the blade.

    Parameters
    ----------
    apex : Apex
    ground : Ground
    first : bool
        Whether it is the stretch that leaves the apex.
    with_wheel : callable
        Gives the same stretch as a wheel of another radius, mm, would grind it.

    Raises
    ------
    FieldProblems
        With the deepest hollow, or the largest bulge, that fits.
    """
    if ground.bow.wheel_radius_mm is not None:
        problem = _hollow_problem(ground, first)
        if problem is not None:
            raise _refused_hollow(ground, problem, first, with_wheel)
    elif any(curve.end_angle_rad < -1e-12 for curve in ground.curves):
        raise _refused_bulge(apex, ground, first)


def _refused_bulge(apex: Apex, ground: Ground, first: bool) -> FieldProblems:
    largest = []
    for side, begin, end in zip(ground.sides_deg, ground.begin, ground.end, strict=True):
        if side > 0.0:
            # where the face runs parallel at its end, the half turn is the chord's own angle
            angle = radians(side)
            x = tip_corner(apex, 2.0 * angle)[0] if first and apex.radius_um else begin[0]
            largest.append(0.5 * (end[0] - x) / cos(angle) * tan(0.5 * angle))
    field, scale, unit = bulge_field(ground)
    past = "the shoulder" if field[0] == "bevels" else "the spine"
    return refuse(
        field,
        f"is {scale * ground.bow.bulge_mm:.4g} {unit}, but its faces would bulge past {past} and "
        f"lean inward there; at most {rounded_down(scale * min(largest), FIGURES)} {unit} fits",
    )


def _hollow_problem(ground: Ground, first: bool) -> str | None:
    """Tell what is wrong with a hollow, or None."""
    curves = ground.curves
    if any(isnan(curve.bulge_mm) for curve in curves):
        width = max(curve.chord_mm for curve in curves if isnan(curve.bulge_mm))
        return f"but a wheel that small does not reach over a grind {width:.4g} mm wide"
    depth = f"which hollows {_each_side(ground)} {_depth_mm(curves):.4g} mm deep, but that"
    steepest = max(degrees(curve.end_angle_rad) for curve in curves if curve.bulge_mm < 0)
    if steepest > STEEPEST_DEG:
        return f"{depth} leaves its face at {steepest:.3g} deg to the mid-plane where it ends"
    if first:
        included = degrees(sum(curve.begin_angle_rad for curve in curves))
        if included < min(LEAST_EDGE_DEG, 0.5 * ground.included_deg):
            left = f"only {included:.2g} deg" if included > 0 else "nothing"
            return f"{depth} leaves {left} of the edge's included angle"
        return None
    begins = max(begin[0] for begin in ground.begin)
    x, thinnest = _waist(curves, begins)
    if thinnest <= 0.0:
        return f"{depth} bites through the centre line"
    shoulder = sum(curve.out_at(begins) for curve in curves)
    if thinnest < WAIST_SHARE * shoulder:
        return (
            f"{depth} leaves only {thinnest:.3g} mm {x:.3g} mm behind the apex, less than a tenth "
            f"of the {shoulder:.3g} mm at its shoulder"
        )
    return None


def _each_side(ground: Ground) -> str:
    return "each side" if min(ground.sides_deg) > 0.0 else "its side"


def _depth_mm(curves: tuple[Curve, Curve]) -> float:
    return max(-curve.bulge_mm for curve in curves)


def _waist(curves: tuple[Curve, Curve], begins_mm: float) -> tuple[float, float]:
    """Find where two hollow faces, or a hollow and a straight one, are closest: depth, distance.

    Their distance is a convex function of depth: a search by thirds finds its least.
    """

    def distance(x: float) -> float:
        return sum(curve.out_at(x) for curve in curves)

    low, high = begins_mm, curves[0].end_mm[0]
    for _ in range(100):
        third = (high - low) / 3.0
        if distance(low + third) <= distance(high - third):
            high -= third
        else:
            low += third
    x = 0.5 * (low + high)
    return x, distance(x)


def _refused_hollow(
    ground: Ground, problem: str, first: bool, with_wheel: Callable[[float], Ground]
) -> FieldProblems:
    low, high = ground.bow.wheel_radius_mm or 0.0, LARGEST_WHEEL_MM
    if _hollow_problem(with_wheel(high), first) is None:
        for _ in range(60):
            middle = 0.5 * (low + high)
            if _hollow_problem(with_wheel(middle), first) is None:
                high = middle
            else:
                low = middle
        deepest = rounded_down(_depth_mm(with_wheel(high).curves), FIGURES)
        fits = (
            f"at most {deepest} mm deep fits, from a wheel of {rounded_up(high, FIGURES)} mm "
            "radius or more"
        )
    else:
        fits = f'no wheel of up to {LARGEST_WHEEL_MM:g} mm is large enough; kind = "flat" fits'
    return refuse(
        (*ground.field, "wheel_radius_mm"),
        f"is {ground.bow.wheel_radius_mm:g} mm, {problem}; {fits}",
    )
