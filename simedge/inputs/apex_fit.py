"""How the first faces leave the apex: tangent to its circle, or from the ends of its land."""

from __future__ import annotations

from math import asin, atan2, cos, degrees, hypot, inf, radians, sin

from simedge.inputs.grinds import Apex
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.units import mm_from_um

Point = tuple[float, float]


def refuse(path: tuple[str | int, ...], message: str) -> FieldProblems:
    """Give the refusal of one field."""
    return FieldProblems(FieldProblem(path, message))


def tip_corner(apex: Apex, angle_deg: float) -> Point:
    """Give the point where a face of that angle leaves the apex (left side)."""
    if apex.radius_um is not None:
        radius, angle = mm_from_um(apex.radius_um), radians(angle_deg)
        return radius * (1.0 - sin(angle)), radius * cos(angle)
    if apex.land_um is not None:
        return 0.0, mm_from_um(apex.land_um) / 2.0
    return 0.0, 0.0


def tip_corner_at(apex: Apex, angle_rad: float) -> Point:
    """Give the same for an angle in radians."""
    return tip_corner(apex, degrees(angle_rad))


def _tangent_angle_deg(radius_mm: float, far_x_mm: float, far_y_mm: float) -> float:
    """Give the angle of the line through a far point that is tangent to the apex circle."""
    across, along = far_y_mm, far_x_mm - radius_mm
    distance = hypot(across, along)
    if along <= 0 or distance <= radius_mm:
        return -inf
    return degrees(atan2(across, along) - asin(radius_mm / distance))


def _largest_radius_um(
    sides_deg: tuple[float, float], height_mm: float | None, end_thickness_mm: float | None
) -> float:
    left, right = (radians(side) for side in sides_deg)
    by_height = inf if height_mm is None else height_mm / (1.0 - sin(min(left, right)))
    by_thickness = inf if end_thickness_mm is None else end_thickness_mm / (cos(left) + cos(right))
    return 1000.0 * min(by_height, by_thickness)


def tip_does_not_fit(
    apex: Apex,
    sides_deg: tuple[float, float],
    height_mm: float | None,
    end_thickness_mm: float | None,
    what: str,
) -> FieldProblems:
    """Give the refusal of an apex that is too wide for what stands behind it."""
    if apex.radius_um is not None:
        largest = _largest_radius_um(sides_deg, height_mm, end_thickness_mm)
        return refuse(
            ("apex", "radius_um"),
            f"is {apex.radius_um:g} µm, but the {what} must leave the rounded apex before "
            f"it ends; below {largest:.4g} µm it fits",
        )
    return refuse(
        ("apex", "land_um"),
        f"is {apex.land_um or 0:g} µm, but the {what} is only "
        f"{1000.0 * (end_thickness_mm or 0):.4g} µm thick where it ends; make the land narrower",
    )


def apex_to_spine_deg(
    apex: Apex, height_mm: float, spine_thickness_mm: float, fraction: float
) -> tuple[float, float]:
    """Give the angles of an edge ground flat from the apex to the spine, left and right."""
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
            f"its spine; below {500.0 * spine_thickness_mm:.4g} µm it fits",
        )
    if fraction == 0.0:  # a straight face stands a radius off the mid-plane
        return 0.0, _tangent_angle_deg(radius, height_mm, spine_thickness_mm - radius)
    if fraction == 1.0:
        return _tangent_angle_deg(radius, height_mm, spine_thickness_mm - radius), 0.0
    return (
        _tangent_angle_deg(radius, height_mm, fraction * spine_thickness_mm),
        _tangent_angle_deg(radius, height_mm, (1.0 - fraction) * spine_thickness_mm),
    )
