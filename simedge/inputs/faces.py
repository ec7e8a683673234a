"""The faces that a profile's numbers amount to: where each bevel begins and ends.

Axes: x from the foremost point of the apex (or the middle of the land) into the
blade, y = 0 there; +y is the left face. Plain floats: this is also the check that
the numbers of a profile describe a blade at all.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from simedge.inputs.apex_fit import Corners, Point, first_corners, refuse, tip_does_not_fit
from simedge.inputs.bows import bow_of_bevel, check_bow
from simedge.inputs.curves import Curve
from simedge.inputs.grinds import SHORTEST_MM, Bevel, BladeShape
from simedge.inputs.ground import Ground, begins_mm, depth_of_thickness, step, thickness_mm
from simedge.inputs.primary_faces import TALLEST_MM, primary_stretches
from simedge.inputs.shoulders import check_growing, has_same_angle, merge_equal, no_effect
from simedge.inputs.shown_values import rounded_up

#: A continuum is at its end where a radius, or a land, is a few dozen atoms.
SMALLEST_SURE_APEX_UM = 0.05
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
    stretches = _all_stretches(blade, bevels)
    while (idle := _idle_bevel(stretches, bevels)) is not None:
        remarks.append(no_effect(stretches[idle], stretches[idle + 1]))
        del bevels[idle]
        stretches = _all_stretches(blade, bevels)
    stretches, merged = merge_equal(stretches)
    remarks += merged
    for index, ground in enumerate(stretches):
        _check_thickness(ground)
        front = stretches[index - 1] if index else None
        check_bow(
            blade.apex, ground, first=index == 0, with_wheel=partial(_hollow_by, blade, front)
        )
    for front, behind in pairwise(stretches):
        remarks += check_growing(front, behind)
    remarks += _odd_edge(blade, stretches[0])
    faces = Faces(
        names=tuple(ground.name for ground in stretches),
        fields=tuple(ground.field for ground in stretches),
        sides_deg=tuple(ground.sides_deg for ground in stretches),
        left=tuple(ground.curves[0] for ground in stretches),
        right=tuple(ground.curves[1] for ground in stretches),
        remarks=tuple(remarks),
    )
    _check_height(blade, faces)
    return faces


def _all_stretches(blade: BladeShape, bevels: list[tuple[int, Bevel]]) -> list[Ground]:
    """Work out the bevels, by their number in the profile, and the primary grind."""
    stretches: list[Ground] = []
    for index, bevel in bevels:
        stretches.append(_bevel_stretch(blade, index, bevel, stretches[-1] if stretches else None))
    return stretches + primary_stretches(blade, stretches[-1] if stretches else None)


def _idle_bevel(stretches: list[Ground], bevels: list[tuple[int, Bevel]]) -> int | None:
    """Find a bevel without which the blade is the same: left out, not a bit of it changes.

    One whose follower counts its height from it makes that follower longer, and is merged.
    """
    for place in range(len(bevels)):
        behind = bevels[place + 1][1] if place + 1 < len(bevels) else None
        by_itself = behind is None or behind.ends_at_thickness_mm is not None
        if by_itself and has_same_angle(stretches[place], stretches[place + 1]):
            return place
    return None


def _hollow_by(blade: BladeShape, front: Ground | None, wheel_radius_mm: float) -> Ground:
    """Give the primary grind as another wheel would grind it."""
    grind = replace(blade.primary_grind, wheel_radius_mm=wheel_radius_mm)
    return primary_stretches(replace(blade, primary_grind=grind), front)[0]


def _check_thickness(ground: Ground) -> None:
    """Refuse a stretch of no angle to speak of behind a sharp tip."""
    thickness = ground.end[0][1] + ground.end[1][1]
    if thickness < SHORTEST_MM:
        raise refuse(
            (*ground.field, "dps"),
            f"makes the blade only {thickness:.4g} mm thick where the {ground.name} ends, but "
            f"below {SHORTEST_MM:g} mm there are only a few atoms; give a larger angle",
        )


def _check_height(blade: BladeShape, faces: Faces) -> None:
    """Refuse a blade that is over before its apex is."""
    least = nearest_clamp_mm(faces)
    if faces.height_mm >= least:
        return
    if blade.height_mm is not None:
        raise refuse(
            ("height_mm",),
            f"is {blade.height_mm:.4g} mm, but the apex alone takes {rounded_up(least)} mm with "
            "what must be free behind it; make the blade higher or its apex sharper",
        )
    raise refuse(
        ("apex", "land_um" if blade.apex.radius_um is None else "radius_um"),
        f"makes a tip that takes {rounded_up(least)} mm with what must be free behind it, but the "
        f"whole blade is only {faces.height_mm:.4g} mm high; make the apex sharper",
    )


def _odd_edge(blade: BladeShape, first: Ground) -> list[str]:
    """Remark on an apex of a few atoms, and on a whole angle written as one side's."""
    remarks = []
    for size_um, what in ((blade.apex.radius_um, "a radius"), (blade.apex.land_um, "a land")):
        if size_um is not None and size_um < SMALLEST_SURE_APEX_UM:
            remarks.append(
                f"the apex has {what} of {size_um:g} µm: below {SMALLEST_SURE_APEX_UM:g} µm it "
                "is a few dozen atoms, and stress right at the tip means little"
            )
    if first.included_deg > WIDE_INCLUDED_DEG:
        remarks.append(
            f"the {first.name} has an included angle of {first.included_deg:.4g} deg; angles are "
            f"written per side: did you mean {first.included_deg / 4.0:.4g} per side?"
        )
    return remarks


def _bevel_stretch(blade: BladeShape, index: int, bevel: Bevel, front: Ground | None) -> Ground:
    """Work out one bevel, behind another or right at the apex."""
    sides, bow = bevel.sides_deg, bow_of_bevel(bevel)
    if bevel.height_mm is not None and bevel.height_mm < SHORTEST_MM:
        raise refuse(
            ("bevels", index, "height_mm"),
            f"is {bevel.height_mm:g} mm, but below {SHORTEST_MM:g} mm there are only a few atoms; "
            "leave the bevel out",
        )
    if bevel.ends_at_thickness_mm is not None:
        end_of = depth_of_thickness(sides, bevel.ends_at_thickness_mm)
    else:
        end_of = _own_height((bevel.height_mm or 0.0) + (front.end[0][0] if front else 0.0))
    begin = first_corners(blade.apex, sides, bow, end_of) if front is None else front.end
    if begin is None:
        raise tip_does_not_fit(
            blade.apex,
            sides,
            bow,
            end_of,
            bevel.name,
            height_mm=bevel.height_mm,
            end_thickness_mm=bevel.ends_at_thickness_mm,
        )
    end = end_of(begin)
    if end < begins_mm(begin) + (0.0 if front is None else 0.5 * SHORTEST_MM):
        shoulder = thickness_mm(begin, sides, begins_mm(begin))
        raise refuse(
            ("bevels", index, "ends_at_thickness_mm"),
            f"is {bevel.ends_at_thickness_mm:g} mm, but the section is {shoulder:.4g} mm thick "
            "where this bevel begins; make it thicker, or leave the bevel out",
        )
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
    return Ground(
        name=bevel.name,
        field=("bevels", index),
        sides_deg=sides,
        bow=bow,
        begin=begin,
        end=step(begin, sides, end),
    )


def _own_height(depth_mm: float) -> Callable[[Corners], float]:
    return lambda _: depth_mm
