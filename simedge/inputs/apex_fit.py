"""How the first faces leave the apex: tangent to its circle, or from the ends of its land."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import asin, atan2, cos, degrees, hypot, inf, isnan, pi, radians, sin

from simedge.inputs.curves import Bow, half_turn_rad
from simedge.inputs.grinds import SMALLEST_APEX_UM, Apex
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.shown_values import rounded_down
from simedge.units import mm_from_um

Point = tuple[float, float]
#: A point of the left and one of the right face: depth x and distance out from the mid-plane.
Corners = tuple[Point, Point]

#: An arc's tangent point moves its chord, which moves the tangent point, by a share of the apex
#: each time: so many rounds, until it moves less than this share of the radius.
ROUNDS, SETTLED = 200, 1e-14
#: A hollow that turns its face farther in than this where it leaves the apex bites through.
FARTHEST_INWARD_RAD = -0.25 * pi


def refuse(path: tuple[str | int, ...], message: str) -> FieldProblems:
    """Give the refusal of one field."""
    return FieldProblems(FieldProblem(path, message))


def tip_corner(apex: Apex, angle_rad: float) -> Point:
    """Give the point where a face of that angle leaves the apex, the outside of the face up."""
    if apex.radius_um is not None:
        radius = mm_from_um(apex.radius_um)
        return radius * (1.0 - sin(angle_rad)), radius * cos(angle_rad)
    if apex.land_um is not None:
        return 0.0, mm_from_um(apex.land_um) / 2.0
    return 0.0, 0.0


def first_corners(
    apex: Apex, sides_deg: tuple[float, float], bow: Bow, end_mm: Callable[[Corners], float]
) -> Corners | None:
    """Give the points where both faces leave the apex.

    Parameters
    ----------
    apex : Apex
    sides_deg : (float, float)
        Angles of the chords from the mid-plane; a side of 0 degrees is straight.
    bow : Bow
        Arcs leave a rounded apex as its tangents, at another angle than their chords.
    end_mm : callable
        Depth at which the faces end, of the corners.

    Returns
    -------
    (Point, Point) or None
        None where no such faces fit behind the apex.
    """
    left, right = (tip_corner(apex, radians(side)) for side in sides_deg)
    corners = (left, right)
    if bow.is_straight or apex.radius_um is None:
        return corners if end_mm(corners) > max(left[0], right[0]) else None
    for _ in range(ROUNDS):
        end = end_mm(corners)
        if end <= max(corner[0] for corner in corners):
            return None
        before = corners
        corners = (
            _corner(apex, sides_deg[0], bow, corners[0], end),
            _corner(apex, sides_deg[1], bow, corners[1], end),
        )
        moved = max(
            hypot(now[0] - then[0], now[1] - then[1])
            for now, then in zip(corners, before, strict=True)
        )
        if moved <= SETTLED * mm_from_um(apex.radius_um):
            return corners if end_mm(corners) > max(corner[0] for corner in corners) else None
    return None


def _corner(apex: Apex, angle_deg: float, bow: Bow, corner: Point, end_mm: float) -> Point:
    """Move the corner of one face to where its arc is tangent."""
    if angle_deg == 0.0:
        return corner
    chord = (end_mm - corner[0]) / cos(radians(angle_deg))
    return tip_corner(apex, _begin_angle_rad(radians(angle_deg), bow, chord))


def _begin_angle_rad(chord_angle_rad: float, bow: Bow, chord_mm: float) -> float:
    """Give the angle at which an arc begins, within what may be accepted of it later."""
    bulge = bow.over(chord_mm)
    turned = -0.5 * pi if isnan(bulge) else half_turn_rad(bulge, chord_mm)
    return max(min(chord_angle_rad + turned, 2.0 * chord_angle_rad), FARTHEST_INWARD_RAD)


def _tangent_angle_deg(apex: Apex, bow: Bow, far: Point) -> float:
    """Give the chord's angle of a face through a far point that is tangent to the apex circle."""
    radius = mm_from_um(apex.radius_um or 0.0)
    across, along = far[1], far[0] - radius
    distance = hypot(across, along)
    if along <= 0 or distance <= radius:
        return -inf
    angle = atan2(across, along) - asin(radius / distance)
    if bow.is_straight:
        return degrees(angle)
    x, out = tip_corner(apex, angle)
    for _ in range(ROUNDS):
        x, out = tip_corner(apex, _begin_angle_rad(angle, bow, hypot(far[0] - x, far[1] - out)))
        if x >= far[0]:
            return -inf
        before, angle = angle, atan2(far[1] - out, far[0] - x)
        if abs(angle - before) <= SETTLED * abs(angle):
            break
    return degrees(angle)


def _largest_radius_um(
    sides_deg: tuple[float, float], height_mm: float | None, end_thickness_mm: float | None
) -> float:
    left, right = (radians(side) for side in sides_deg)
    by_height = inf if height_mm is None else height_mm / (1.0 - sin(min(left, right)))
    by_thickness = inf if end_thickness_mm is None else end_thickness_mm / (cos(left) + cos(right))
    return 1000.0 * min(by_height, by_thickness)


def _largest_bowed_radius_um(
    apex: Apex, sides_deg: tuple[float, float], bow: Bow, end_mm: Callable[[Corners], float]
) -> float:
    low, high = SMALLEST_APEX_UM, apex.radius_um or 0.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        corners = first_corners(replace(apex, radius_um=middle), sides_deg, bow, end_mm)
        if corners is not None and _ends_outward(corners, sides_deg, bow, end_mm(corners)):
            low = middle
        else:
            high = middle
    return low


def _ends_outward(
    corners: Corners, sides_deg: tuple[float, float], bow: Bow, end_mm: float
) -> bool:
    """Tell whether no arc leans inward where it ends."""
    for corner, side in zip(corners, sides_deg, strict=True):
        chord = (end_mm - corner[0]) / cos(radians(side))
        if side > 0.0 and half_turn_rad(bow.over(chord), chord) > radians(side):
            return False
    return True


def tip_does_not_fit(
    apex: Apex,
    sides_deg: tuple[float, float],
    bow: Bow,
    end_mm: Callable[[Corners], float],
    what: str,
    *,
    height_mm: float | None = None,
    end_thickness_mm: float | None = None,
) -> FieldProblems:
    """Give the refusal of an apex that is too wide for what stands behind it.

    Parameters
    ----------
    apex, sides_deg, bow, end_mm
        As for `first_corners`.
    what : str
        Name of what stands behind it.
    height_mm, end_thickness_mm : float or None
        What settles where that ends, one of the two.
    """
    if apex.radius_um is not None:
        if bow.is_straight:
            largest = _largest_radius_um(sides_deg, height_mm, end_thickness_mm)
        else:
            largest = _largest_bowed_radius_um(apex, sides_deg, bow, end_mm)
        return refuse(
            ("apex", "radius_um"),
            f"is {apex.radius_um:g} µm, but the {what} must leave the rounded apex before "
            f"it ends; below {rounded_down(largest)} µm it fits",
        )
    return refuse(
        ("apex", "land_um"),
        f"is {apex.land_um or 0:g} µm, but the {what} is only "
        f"{1000.0 * (end_thickness_mm or 0):.4g} µm thick where it ends; make the land narrower",
    )


def apex_to_spine_deg(
    apex: Apex, height_mm: float, spine_thickness_mm: float, fraction: float, bow: Bow
) -> tuple[float, float]:
    """Give the angles of the chords of an edge ground from the apex to the spine, left and right.

    A side of fraction 0 stays straight.
    """
    if apex.radius_um is None:
        land = mm_from_um(apex.land_um or 0.0)
        remaining = spine_thickness_mm - land
        return (
            degrees(atan2(fraction * remaining, height_mm)),
            degrees(atan2((1.0 - fraction) * remaining, height_mm)),
        )
    radius = mm_from_um(apex.radius_um)
    if 2.0 * radius >= spine_thickness_mm:
        raise refuse(
            ("apex", "radius_um"),
            f"is {apex.radius_um:g} µm, but the blade is only {spine_thickness_mm:g} mm thick at "
            f"its spine; below {rounded_down(500.0 * spine_thickness_mm)} µm it fits",
        )
    if fraction == 0.0:  # a straight face stands a radius off the mid-plane
        return 0.0, _tangent_angle_deg(apex, bow, (height_mm, spine_thickness_mm - radius))
    if fraction == 1.0:
        return _tangent_angle_deg(apex, bow, (height_mm, spine_thickness_mm - radius)), 0.0
    return (
        _tangent_angle_deg(apex, bow, (height_mm, fraction * spine_thickness_mm)),
        _tangent_angle_deg(apex, bow, (height_mm, (1.0 - fraction) * spine_thickness_mm)),
    )
