"""The faces that a profile's numbers amount to: where each bevel begins and ends.

Axes: x from the foremost point of the apex (or the middle of the land) into the
blade, y = 0 there; +y is the left face. Plain floats: this is also the check that
the numbers of a profile describe a blade at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, atan2, cos, degrees, hypot, inf, radians, sin, tan
from typing import Protocol

from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.units import mm_from_um

Point = tuple[float, float]
SAME_ANGLE_DEG = 1e-9
#: Above this included angle a person may have written the whole angle as one side.
WIDE_INCLUDED_DEG = 62.0


class BladeNumbers(Protocol):
    """What a profile says of its shape."""

    @property
    def apex(self) -> Apex: ...
    @property
    def bevels(self) -> tuple[Bevel, ...]: ...
    @property
    def primary_grind(self) -> PrimaryGrind: ...
    @property
    def height_mm(self) -> float | None: ...
    @property
    def spine_thickness_mm(self) -> float | None: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Faces:
    """Both faces of a blade, apex to spine.

    Attributes
    ----------
    names : tuple of str
        One name a stretch: micro-bevel, edge bevel, primary grind.
    fields : tuple of tuple
        Path of each stretch in the profile, for messages.
    sides_deg : tuple of (float, float)
        Angle of the left and the right face of each stretch from the mid-plane.
    left_mm, right_mm : tuple of (float, float)
        Points between the stretches, one more than stretches: from where the face
        leaves the apex, over the shoulders, to the spine. Right ones have y < 0.
    remarks : tuple of str
        What is odd about the profile, but no error.
    """

    names: tuple[str, ...]
    fields: tuple[tuple[str | int, ...], ...]
    sides_deg: tuple[tuple[float, float], ...]
    left_mm: tuple[Point, ...]
    right_mm: tuple[Point, ...]
    remarks: tuple[str, ...]

    @property
    def height_mm(self) -> float:
        """Foremost point of the apex to the spine."""
        return self.left_mm[-1][0]

    @property
    def spine_thickness_mm(self) -> float:
        """Total thickness at the spine."""
        return self.left_mm[-1][1] - self.right_mm[-1][1]


def _refuse(path: tuple[str | int, ...], message: str) -> FieldProblems:
    return FieldProblems(FieldProblem(path, message))


def _tip_corner(profile: BladeNumbers, angle_deg: float) -> Point:
    """Give the point where a face of that angle leaves the apex (left side)."""
    apex = profile.apex
    if apex.radius_um is not None:
        radius, angle = mm_from_um(apex.radius_um), radians(angle_deg)
        return radius * (1.0 - sin(angle)), radius * cos(angle)
    if apex.land_um is not None:
        return 0.0, mm_from_um(apex.land_um) / 2.0
    return 0.0, 0.0


def _tangent_angle_deg(radius_mm: float, far_x_mm: float, far_y_mm: float) -> float:
    """Give the angle of the line through a far point that is tangent to the apex circle."""
    across, along = far_y_mm, far_x_mm - radius_mm
    distance = hypot(across, along)
    if along <= 0 or distance <= radius_mm:
        return -inf
    return degrees(atan2(across, along) - asin(radius_mm / distance))


def _thickness(left: Point, right: Point, sides_deg: tuple[float, float], x_mm: float) -> float:
    return (
        left[1]
        + (x_mm - left[0]) * tan(radians(sides_deg[0]))
        - right[1]
        + (x_mm - right[0]) * tan(radians(sides_deg[1]))
    )


def _depth_of_thickness(
    left: Point, right: Point, sides_deg: tuple[float, float], thickness_mm: float
) -> float:
    growth = tan(radians(sides_deg[0])) + tan(radians(sides_deg[1]))
    start = max(left[0], right[0])
    return start + (thickness_mm - _thickness(left, right, sides_deg, start)) / growth


def _largest_radius_um(
    sides_deg: tuple[float, float], height_mm: float | None, end_thickness_mm: float | None
) -> float:
    left, right = (radians(side) for side in sides_deg)
    by_height = inf if height_mm is None else height_mm / (1.0 - sin(min(left, right)))
    by_thickness = inf if end_thickness_mm is None else end_thickness_mm / (cos(left) + cos(right))
    return 1000.0 * min(by_height, by_thickness)


def _tip_does_not_fit(
    profile: BladeNumbers,
    sides_deg: tuple[float, float],
    height_mm: float | None,
    end_thickness_mm: float | None,
    what: str,
) -> FieldProblems:
    if profile.apex.radius_um is not None:
        largest = _largest_radius_um(sides_deg, height_mm, end_thickness_mm)
        return _refuse(
            ("apex", "radius_um"),
            f"is {profile.apex.radius_um:g} µm, but the {what} must leave the rounded apex before "
            f"it ends; below {largest:.4g} µm it fits",
        )
    return _refuse(
        ("apex", "land_um"),
        f"is {profile.apex.land_um or 0:g} µm, but the {what} is only "
        f"{1000.0 * (end_thickness_mm or 0):.4g} µm thick where it ends; make the land narrower",
    )


def _step(point: Point, angle_deg: float, x_mm: float, sign: float) -> Point:
    return x_mm, point[1] + sign * (x_mm - point[0]) * tan(radians(angle_deg))


def _check_growing(
    faces_deg: list[tuple[float, float]], fields: list[tuple[str | int, ...]], names: list[str]
) -> list[str]:
    """Refuse bevels slimmer than what stands behind them; remark on one-sided cases."""
    remarks = []
    for index in range(len(faces_deg) - 1):
        front, behind = faces_deg[index], faces_deg[index + 1]
        if sum(front) < sum(behind) - SAME_ANGLE_DEG:
            raise _refuse(
                (*fields[index], "dps"),
                f"makes an included angle of {sum(front):.4g} deg, but the {names[index + 1]} "
                f"behind it has {sum(behind):.4g} deg and the section would be hollow there; "
                "angles must grow towards the apex",
            )
        for side, label in enumerate(("left", "right")):
            if front[side] < behind[side] - SAME_ANGLE_DEG:
                remarks.append(
                    f"the {label} face turns inward at the shoulder between the {names[index]} "
                    f"({front[side]:.4g} deg) and the {names[index + 1]} ({behind[side]:.4g} deg): "
                    "stress is singular at that re-entrant shoulder"
                )
    return remarks


def derive_faces(profile: BladeNumbers) -> Faces:
    """Work out both faces of a profile.

    Parameters
    ----------
    profile : Profile

    Returns
    -------
    Faces
        A bevel of height 0, or with the angles of what stands behind it, is left out
        with a remark.

    Raises
    ------
    FieldProblems
        The numbers describe no blade; each problem has the path of its field.
    """
    remarks: list[str] = []
    bevels = []
    for index, bevel in enumerate(profile.bevels):
        if bevel.height_mm == 0.0:
            remarks.append(f"the {bevel.name} has a height of 0 mm and is left out")
        else:
            bevels.append((index, bevel))

    names = [bevel.name for _, bevel in bevels]
    fields: list[tuple[str | int, ...]] = [("bevels", index) for index, _ in bevels]
    sides = [bevel.sides_deg for _, bevel in bevels]
    lefts: list[Point] = []
    rights: list[Point] = []
    if sides:
        lefts.append(_tip_corner(profile, sides[0][0]))
        right = _tip_corner(profile, sides[0][1])
        rights.append((right[0], -right[1]))

    for index, bevel in bevels:
        left, right, pair = lefts[-1], rights[-1], bevel.sides_deg
        first, begin = len(lefts) == 1, max(left[0], right[0])
        if bevel.ends_at_thickness_mm is not None:
            if bevel.ends_at_thickness_mm <= _thickness(left, right, pair, begin):
                if first:
                    raise _tip_does_not_fit(
                        profile, pair, None, bevel.ends_at_thickness_mm, bevel.name
                    )
                raise _refuse(
                    ("bevels", index, "ends_at_thickness_mm"),
                    f"is {bevel.ends_at_thickness_mm:g} mm, but the section is "
                    f"{_thickness(left, right, pair, begin):.4g} mm thick where this bevel begins; "
                    "make it thicker, or leave the bevel out",
                )
            end = _depth_of_thickness(left, right, pair, bevel.ends_at_thickness_mm)
        else:
            end = (bevel.height_mm or 0.0) + (0.0 if first else left[0])
            if end <= begin:
                raise _tip_does_not_fit(profile, pair, bevel.height_mm, None, bevel.name)
        if profile.height_mm is not None and end >= profile.height_mm:
            key = "height_mm" if bevel.height_mm is not None else "ends_at_thickness_mm"
            raise _refuse(
                ("bevels", index, key),
                f"is {getattr(bevel, key):g} mm, so that this bevel would end {end:.4g} mm behind "
                f"the apex, but the whole blade is only {profile.height_mm:g} mm high",
            )
        lefts.append(_step(left, pair[0], end, 1.0))
        rights.append(_step(right, pair[1], end, -1.0))

    _add_primary(profile, sides, lefts, rights)
    names.append("primary grind")
    fields.append(("primary_grind",))
    remarks += _check_growing(sides, fields, names)
    _merge_equal(sides, lefts, rights, names, fields, remarks)
    if sum(sides[0]) > WIDE_INCLUDED_DEG:
        half = sum(sides[0]) / 4.0
        remarks.append(
            f"the {names[0]} has an included angle of {sum(sides[0]):.4g} deg; angles are written "
            f"per side: did you mean {half:.4g} per side?"
        )
    return Faces(
        names=tuple(names),
        fields=tuple(fields),
        sides_deg=tuple(sides),
        left_mm=tuple(lefts),
        right_mm=tuple(rights),
        remarks=tuple(remarks),
    )


def _add_primary(
    profile: BladeNumbers,
    sides: list[tuple[float, float]],
    lefts: list[Point],
    rights: list[Point],
) -> None:
    """Append the primary grind: its angles, and where it meets the spine."""
    given = profile.primary_grind.sides_deg
    if given is None:
        assert profile.height_mm is not None
        assert profile.spine_thickness_mm is not None
        given = _derived_primary_deg(
            profile, profile.height_mm, profile.spine_thickness_mm, sides, lefts, rights
        )
    if not lefts:
        lefts.append(_tip_corner(profile, given[0]))
        right = _tip_corner(profile, given[1])
        rights.append((right[0], -right[1]))
    left, right = lefts[-1], rights[-1]
    begin = max(left[0], right[0])
    if profile.height_mm is not None:
        end = profile.height_mm
        if end <= begin:
            raise _tip_does_not_fit(profile, given, end, None, "primary grind")
    else:
        assert profile.spine_thickness_mm is not None
        shoulder = _thickness(left, right, given, begin)
        if profile.spine_thickness_mm <= shoulder:
            raise _refuse(
                ("spine_thickness_mm",),
                f"is {profile.spine_thickness_mm:g} mm, but the blade is {shoulder:.4g} mm thick "
                "where the primary grind begins; the spine must be thicker",
            )
        end = _depth_of_thickness(left, right, given, profile.spine_thickness_mm)
        if end > 1000.0:
            raise _refuse(
                ("primary_grind", "dps"),
                f"gives a blade of {end:.4g} mm from edge to spine, but at most 1000 mm is "
                "a blade; give a larger angle or a thinner spine",
            )
    sides.append(given)
    lefts.append(_step(left, given[0], end, 1.0))
    rights.append(_step(right, given[1], end, -1.0))


def _derived_primary_deg(
    profile: BladeNumbers,
    height_mm: float,
    spine_thickness_mm: float,
    sides: list[tuple[float, float]],
    lefts: list[Point],
    rights: list[Point],
) -> tuple[float, float]:
    """Give the primary's angles from the height and the spine thickness."""
    fraction = profile.primary_grind.left_fraction
    if fraction is None:
        fraction = 0.5
        if sides and sides[-1][0] == 0.0:
            fraction = 0.0
        elif sides and sides[-1][1] == 0.0:
            fraction = 1.0
    if sides:
        left, right = lefts[-1], rights[-1]
        remaining = spine_thickness_mm - (left[1] - right[1])
        if remaining < 0:
            raise _refuse(
                ("spine_thickness_mm",),
                f"is {spine_thickness_mm:g} mm, but the blade is {left[1] - right[1]:.4g} mm thick "
                "at its last shoulder already; the spine cannot be thinner",
            )
        run = height_mm - left[0]
        angles = (
            degrees(atan2(fraction * remaining, run)),
            degrees(atan2((1.0 - fraction) * remaining, run)),
        )
    else:
        angles = _apex_to_spine_deg(profile, height_mm, spine_thickness_mm, fraction)
    if max(angles) > 45.0 or min(angles) < 0.0 or (not sides and max(angles) == 0.0):
        raise _refuse(
            ("spine_thickness_mm",),
            f"is {spine_thickness_mm:g} mm on a height of {height_mm:g} mm, but the faces of the "
            "primary grind must lie between 0 and 45 deg, and widen from the apex on; change the "
            "height or the spine",
        )
    return angles


def _apex_to_spine_deg(
    profile: BladeNumbers, height_mm: float, spine_thickness_mm: float, fraction: float
) -> tuple[float, float]:
    apex = profile.apex
    if apex.radius_um is None:
        land = mm_from_um(apex.land_um or 0.0)
        remaining = spine_thickness_mm - land
        return (
            degrees(atan2(fraction * remaining, height_mm)),
            degrees(atan2((1.0 - fraction) * remaining, height_mm)),
        )
    radius = mm_from_um(apex.radius_um)
    if fraction == 0.0:  # a straight face stands a radius off the mid-plane
        return 0.0, _tangent_angle_deg(radius, height_mm, spine_thickness_mm - radius)
    if fraction == 1.0:
        return _tangent_angle_deg(radius, height_mm, spine_thickness_mm - radius), 0.0
    return (
        _tangent_angle_deg(radius, height_mm, fraction * spine_thickness_mm),
        _tangent_angle_deg(radius, height_mm, (1.0 - fraction) * spine_thickness_mm),
    )


def _merge_equal(
    sides: list[tuple[float, float]],
    lefts: list[Point],
    rights: list[Point],
    names: list[str],
    fields: list[tuple[str | int, ...]],
    remarks: list[str],
) -> None:
    """Drop shoulders that do not turn, so that such a bevel changes no bit of the answer."""
    index = 0
    while index < len(sides) - 1:
        front, behind = sides[index], sides[index + 1]
        if all(abs(front[s] - behind[s]) <= SAME_ANGLE_DEG for s in (0, 1)):
            remarks.append(
                f"the {names[index]} has the angle of the {names[index + 1]} behind it: no effect"
            )
            for points in (lefts, rights):
                del points[index + 1]
            del sides[index], names[index], fields[index]
        else:
            index += 1
