"""The faces that a profile's numbers amount to: where each bevel begins and ends.

Axes: x from the foremost point of the apex (or the middle of the land) into the
blade, y = 0 there; +y is the left face. Plain floats: this is also the check that
the numbers of a profile describe a blade at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, degrees, inf, radians, tan

from simedge.inputs.apex_fit import (
    Point,
    apex_to_spine_deg,
    refuse,
    tip_corner,
    tip_does_not_fit,
)
from simedge.inputs.bows import STRAIGHT, Bow, bend, bow_of_bevel, bow_of_primary, check_bows
from simedge.inputs.curves import Curve
from simedge.inputs.grinds import BladeShape

SAME_ANGLE_DEG = 1e-9
#: A parallel body is as thick as its shoulder but for rounding.
SAME_THICKNESS = 1e-9
TALLEST_MM = 1000.0
#: A continuum is at its end where a radius is a few dozen atoms.
SMALLEST_SURE_RADIUS_UM = 0.05
#: Above this included angle a person may have written the whole angle as one side.
WIDE_INCLUDED_DEG = 62.0


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
        Angle of the chords of the left and the right face from the mid-plane.
    left, right : tuple of Curve
        The stretches of each face, apex first; each is seen with its outside up.
    remarks : tuple of str
        What is odd about the profile, but no error.
    """

    names: tuple[str, ...]
    fields: tuple[tuple[str | int, ...], ...]
    sides_deg: tuple[tuple[float, float], ...]
    left: tuple[Curve, ...]
    right: tuple[Curve, ...]
    remarks: tuple[str, ...]

    @property
    def left_mm(self) -> tuple[Point, ...]:
        """Points between the left stretches, one more than stretches."""
        return (self.left[0].begin_mm, *(curve.end_mm for curve in self.left))

    @property
    def right_mm(self) -> tuple[Point, ...]:
        """Points between the right stretches; y < 0."""
        points = (self.right[0].begin_mm, *(curve.end_mm for curve in self.right))
        return tuple((x, -out) for x, out in points)

    @property
    def height_mm(self) -> float:
        """Foremost point of the apex to the spine."""
        return self.left[-1].end_mm[0]

    @property
    def spine_thickness_mm(self) -> float:
        """Total thickness at the spine."""
        return self.left[-1].end_mm[1] + self.right[-1].end_mm[1]


#: Tip widths between the apex and the clamp, at least: nearer, nothing of the edge is free.
CLAMP_WIDTHS = 1.5


def nearest_clamp_mm(faces: Faces) -> float:
    """Give the smallest depth at which the blade may be held."""
    (left_x, left_y), (right_x, right_y) = faces.left_mm[0], faces.right_mm[0]
    return max(left_x, right_x) + max(CLAMP_WIDTHS * (left_y - right_y), 1e-6 * faces.height_mm)


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
    if growth == 0.0:
        return inf
    start = max(left[0], right[0])
    return start + (thickness_mm - _thickness(left, right, sides_deg, start)) / growth


def _step(point: Point, angle_deg: float, x_mm: float, sign: float) -> Point:
    return x_mm, point[1] + sign * (x_mm - point[0]) * tan(radians(angle_deg))


def _check_growing(
    lefts: list[Curve],
    rights: list[Curve],
    fields: list[tuple[str | int, ...]],
    names: list[str],
) -> list[str]:
    """Refuse bevels slimmer than what stands behind them; remark on one-sided cases."""
    remarks = []
    for index in range(len(lefts) - 1):
        front = [degrees(curves[index].end_angle_rad) for curves in (lefts, rights)]
        behind = [degrees(curves[index + 1].begin_angle_rad) for curves in (lefts, rights)]
        if sum(front) < sum(behind) - SAME_ANGLE_DEG:
            raise refuse(
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


def derive_faces(blade: BladeShape) -> Faces:
    """Work out both faces of a blade.

    Parameters
    ----------
    blade : BladeShape

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
    for index, bevel in enumerate(blade.bevels):
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
        lefts.append(tip_corner(blade.apex, sides[0][0]))
        right = tip_corner(blade.apex, sides[0][1])
        rights.append((right[0], -right[1]))

    for index, bevel in bevels:
        left, right, pair = lefts[-1], rights[-1], bevel.sides_deg
        first, begin = len(lefts) == 1, max(left[0], right[0])
        if bevel.ends_at_thickness_mm is not None:
            if bevel.ends_at_thickness_mm <= _thickness(left, right, pair, begin):
                if first:
                    raise tip_does_not_fit(
                        blade.apex, pair, None, bevel.ends_at_thickness_mm, bevel.name
                    )
                raise refuse(
                    ("bevels", index, "ends_at_thickness_mm"),
                    f"is {bevel.ends_at_thickness_mm:g} mm, but the section is "
                    f"{_thickness(left, right, pair, begin):.4g} mm thick where this bevel begins; "
                    "make it thicker, or leave the bevel out",
                )
            end = _depth_of_thickness(left, right, pair, bevel.ends_at_thickness_mm)
        else:
            end = (bevel.height_mm or 0.0) + (0.0 if first else left[0])
            if end <= begin:
                raise tip_does_not_fit(blade.apex, pair, bevel.height_mm, None, bevel.name)
        if end > TALLEST_MM:
            raise refuse(
                ("bevels", index, "dps"),
                f"makes a bevel of {end:.4g} mm along the blade, but at most {TALLEST_MM:g} mm is "
                "a blade; give a larger angle or a smaller thickness",
            )
        if blade.height_mm is not None and end >= blade.height_mm:
            key = "height_mm" if bevel.height_mm is not None else "ends_at_thickness_mm"
            raise refuse(
                ("bevels", index, key),
                f"is {getattr(bevel, key):g} mm, so that this bevel would end {end:.4g} mm behind "
                f"the apex, but the whole blade is only {blade.height_mm:g} mm high",
            )
        lefts.append(_step(left, pair[0], end, 1.0))
        rights.append(_step(right, pair[1], end, -1.0))

    _add_primary(blade, sides, lefts, rights)
    names.append("primary grind")
    fields.append(("primary_grind",))
    if len(sides) > len(names):
        names.append("above the grind")
        fields.append(("primary_grind",))
    bows = [bow_of_bevel(bevel) for _, bevel in bevels]
    bows += [bow_of_primary(blade.primary_grind), STRAIGHT][: len(sides) - len(bows)]
    _merge_equal(sides, lefts, rights, names, fields, bows, remarks)
    left_curves = bend(blade.apex, bows, [left for left, _ in sides], lefts, fields)
    outside = [(x, -y) for x, y in rights]
    right_curves = bend(blade.apex, bows, [right for _, right in sides], outside, fields)
    check_bows(blade, fields, left_curves, right_curves)
    remarks += _check_growing(left_curves, right_curves, fields, names)
    radius_um = blade.apex.radius_um
    if radius_um is not None and radius_um < SMALLEST_SURE_RADIUS_UM:
        remarks.append(
            f"the apex has a radius of {radius_um:g} µm: below {SMALLEST_SURE_RADIUS_UM:g} µm it "
            "is a few dozen atoms, and stress right at the tip means little"
        )
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
        left=tuple(left_curves),
        right=tuple(right_curves),
        remarks=tuple(remarks),
    )


def _add_primary(
    blade: BladeShape,
    sides: list[tuple[float, float]],
    lefts: list[Point],
    rights: list[Point],
) -> None:
    """Append the primary grind: its angles, where it ends, and parallel sides behind it."""
    given = blade.primary_grind.sides_deg
    grind_height = _grind_height(blade)
    if given is None:
        assert grind_height is not None
        assert blade.spine_thickness_mm is not None
        given = _derived_primary_deg(
            blade, grind_height, blade.spine_thickness_mm, sides, lefts, rights
        )
    if not lefts:
        lefts.append(tip_corner(blade.apex, given[0]))
        right = tip_corner(blade.apex, given[1])
        rights.append((right[0], -right[1]))
    left, right = lefts[-1], rights[-1]
    begin = max(left[0], right[0])
    if grind_height is not None:
        end = grind_height
        if end <= begin:
            if len(lefts) > 1:
                raise refuse(
                    ("primary_grind", "grind_height_mm"),
                    f"is {end:g} mm, but the grind only begins {begin:.4g} mm behind the apex, at "
                    "the last shoulder; both count from the foremost point",
                )
            raise tip_does_not_fit(blade.apex, given, end, None, "primary grind")
    else:
        assert blade.spine_thickness_mm is not None
        shoulder = _thickness(left, right, given, begin)
        if blade.spine_thickness_mm <= shoulder:
            if len(lefts) == 1 and blade.apex.radius_um is not None:
                raise tip_does_not_fit(
                    blade.apex, given, None, blade.spine_thickness_mm, "primary grind"
                )
            raise refuse(
                ("spine_thickness_mm",),
                f"is {blade.spine_thickness_mm:g} mm, but the blade is {shoulder:.4g} mm thick "
                "where the primary grind begins; the spine must be thicker",
            )
        end = _depth_of_thickness(left, right, given, blade.spine_thickness_mm)
        if end > TALLEST_MM:
            raise refuse(
                ("primary_grind", "dps"),
                f"gives a blade of {end:.4g} mm from edge to spine, but at most "
                f"{TALLEST_MM:g} mm is a blade; give a larger angle or a thinner spine",
            )
    sides.append(given)
    lefts.append(_step(left, given[0], end, 1.0))
    rights.append(_step(right, given[1], end, -1.0))
    if blade.height_mm is not None and blade.height_mm > end:
        sides.append((0.0, 0.0))
        lefts.append((blade.height_mm, lefts[-1][1]))
        rights.append((blade.height_mm, rights[-1][1]))


def _grind_height(blade: BladeShape) -> float | None:
    """Give where the primary grind ends, or None where its angle and the spine tell."""
    height = blade.primary_grind.grind_height_mm
    if height is None:
        return blade.height_mm
    if blade.height_mm is None or height > blade.height_mm:
        whole = "is not told" if blade.height_mm is None else f"is {blade.height_mm:g} mm high"
        raise refuse(
            ("primary_grind", "grind_height_mm"),
            f"is {height:g} mm, but must not exceed the blade, which {whole}; give a height_mm "
            "that is larger",
        )
    return height


def _derived_primary_deg(
    blade: BladeShape,
    height_mm: float,
    spine_thickness_mm: float,
    sides: list[tuple[float, float]],
    lefts: list[Point],
    rights: list[Point],
) -> tuple[float, float]:
    """Give the primary's angles from the height and the spine thickness."""
    fraction = blade.primary_grind.left_fraction
    if fraction is None:
        fraction = 0.5
        if sides and sides[-1][0] == 0.0:
            fraction = 0.0
        elif sides and sides[-1][1] == 0.0:
            fraction = 1.0
    if sides:
        left, right = lefts[-1], rights[-1]
        remaining = spine_thickness_mm - (left[1] - right[1])
        if remaining < -SAME_THICKNESS * spine_thickness_mm:
            raise refuse(
                ("spine_thickness_mm",),
                f"is {spine_thickness_mm:g} mm, but the blade is {left[1] - right[1]:.4g} mm thick "
                "at its last shoulder already; the spine cannot be thinner",
            )
        remaining = max(remaining, 0.0)
        run = height_mm - left[0]
        angles = (
            degrees(atan2(fraction * remaining, run)),
            degrees(atan2((1.0 - fraction) * remaining, run)),
        )
    else:
        angles = apex_to_spine_deg(blade.apex, height_mm, spine_thickness_mm, fraction)
    if max(angles) > 45.0 or min(angles) < 0.0 or (not sides and max(angles) == 0.0):
        raise refuse(
            ("spine_thickness_mm",),
            f"is {spine_thickness_mm:g} mm on a height of {height_mm:g} mm, but the faces of the "
            "primary grind must lie between 0 and 45 deg, and widen from the apex on; change the "
            "height or the spine",
        )
    return angles


def _merge_equal(
    sides: list[tuple[float, float]],
    lefts: list[Point],
    rights: list[Point],
    names: list[str],
    fields: list[tuple[str | int, ...]],
    bows: list[Bow],
    remarks: list[str],
) -> None:
    """Drop shoulders that do not turn, so that such a bevel changes no bit of the answer."""
    index = 0
    while index < len(sides) - 1:
        front, behind = sides[index], sides[index + 1]
        straight = bows[index].is_straight and bows[index + 1].is_straight
        if straight and all(abs(front[s] - behind[s]) <= SAME_ANGLE_DEG for s in (0, 1)):
            remarks.append(
                f"the {names[index]} has the angle of the {names[index + 1]} behind it: no effect"
            )
            for points in (lefts, rights):
                del points[index + 1]
            del sides[index], names[index], fields[index], bows[index]
        else:
            index += 1
