"""The faces of the primary grind: from the last shoulder, or the apex, to the spine."""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, degrees

from simedge.inputs.apex_fit import (
    Corners,
    apex_to_spine_deg,
    first_corners,
    refuse,
    tip_does_not_fit,
)
from simedge.inputs.bows import bow_of_primary
from simedge.inputs.grinds import SHORTEST_MM, BladeShape
from simedge.inputs.ground import (
    SAME_ANGLE_DEG,
    Ground,
    begins_mm,
    depth_of_thickness,
    step,
    thickness_mm,
)
from simedge.inputs.problems import FieldProblems

#: A parallel body is as thick as its shoulder but for rounding.
SAME_THICKNESS = 1e-9
#: No blade is taller.
TALLEST_MM = 1000.0
FIELD = ("primary_grind",)


def primary_stretches(blade: BladeShape, front: Ground | None) -> list[Ground]:
    """Work out the primary grind, and the parallel sides above it where there are any.

    Parameters
    ----------
    blade : BladeShape
    front : Ground or None
        The last bevel.

    Raises
    ------
    FieldProblems
        The numbers describe no grind.
    """
    bow = bow_of_primary(blade.primary_grind)
    grind_height = _grind_height(blade)
    sides = blade.primary_grind.sides_deg
    if sides is None:
        assert grind_height is not None
        assert blade.spine_thickness_mm is not None
        sides = _derived_deg(blade, grind_height, blade.spine_thickness_mm, front)
    if max(sides) == 0.0 and not bow.is_straight:
        raise refuse(
            (*FIELD, "kind"),
            f'is "{blade.primary_grind.kind}", but the blade is no thicker at its spine than at '
            'its last shoulder, and nothing is left to grind; thicken the spine, or give kind = "'
            'flat"',
        )
    end_of = _end_of(blade, sides, grind_height)
    begin = first_corners(blade.apex, sides, bow, end_of) if front is None else front.end
    # a rounded apex is told apart by where its faces leave it, however close to their end
    shortest = 0.0 if front is None and blade.apex.radius_um is not None else SHORTEST_MM
    if begin is None or end_of(begin) < begins_mm(begin) + shortest:
        raise _begins_too_late(blade, sides, end_of, front)
    end = end_of(begin)
    if end > TALLEST_MM:
        raise refuse(
            (*FIELD, "dps"),
            f"gives a blade of {end:.4g} mm from edge to spine, but at most "
            f"{TALLEST_MM:g} mm is a blade; give a larger angle or a thinner spine",
        )
    whole = blade.height_mm
    if whole is not None and (max(sides) == 0.0 or whole - end < SHORTEST_MM):
        end = whole  # parallel to its end already, or nothing is left above it
    ground = Ground(
        name="primary grind",
        field=FIELD,
        sides_deg=sides,
        bow=bow,
        begin=begin,
        end=step(begin, sides, end),
    )
    if whole is None or whole <= end:
        return [ground]
    above = Ground(
        name="above the grind",
        field=FIELD,
        sides_deg=(0.0, 0.0),
        begin=ground.end,
        end=step(ground.end, (0.0, 0.0), whole),
    )
    return [ground, above]


def _grind_height(blade: BladeShape) -> float | None:
    """Give where the primary grind ends, or None where its angle and the spine tell."""
    grind = blade.primary_grind
    if grind.grind_height_mm is None:
        return blade.height_mm
    if grind.sides_deg is not None and blade.spine_thickness_mm is not None:
        raise refuse(
            (*FIELD, "grind_height_mm"),
            f"is {grind.grind_height_mm:g} mm, but the grind's angles and spine_thickness_mm "
            "already settle where it ends; leave one of the three out, and give height_mm",
        )
    if blade.height_mm is None or grind.grind_height_mm > blade.height_mm:
        whole = "is not told" if blade.height_mm is None else f"is {blade.height_mm:g} mm high"
        raise refuse(
            (*FIELD, "grind_height_mm"),
            f"is {grind.grind_height_mm:g} mm, but must not exceed the blade, which {whole}; give "
            "a height_mm that is larger",
        )
    return grind.grind_height_mm


def _end_of(
    blade: BladeShape, sides_deg: tuple[float, float], grind_height_mm: float | None
) -> Callable[[Corners], float]:
    if grind_height_mm is not None:
        return lambda _: grind_height_mm
    assert blade.spine_thickness_mm is not None
    return depth_of_thickness(sides_deg, blade.spine_thickness_mm)


def _begins_too_late(
    blade: BladeShape,
    sides_deg: tuple[float, float],
    end_of: Callable[[Corners], float],
    front: Ground | None,
) -> FieldProblems:
    """Give the refusal of a grind that would end before it begins."""
    bow = bow_of_primary(blade.primary_grind)
    grind_height = _grind_height(blade)
    if front is not None and grind_height is not None:
        return _grind_too_short(grind_height, front)
    if front is None and blade.apex.radius_um is not None:
        return tip_does_not_fit(
            blade.apex,
            sides_deg,
            bow,
            end_of,
            "primary grind",
            height_mm=grind_height,
            end_thickness_mm=None if grind_height is not None else blade.spine_thickness_mm,
        )
    if grind_height is not None:
        given = blade.primary_grind.grind_height_mm is not None
        return refuse(
            (*FIELD, "grind_height_mm") if given else ("height_mm",),
            f"is {grind_height:g} mm, but below {SHORTEST_MM:g} mm there are only a few atoms; "
            "make it higher",
        )
    if front is None:
        half = (blade.apex.land_um or 0.0) / 2000.0
        corners: Corners = ((0.0, half), (0.0, half))
    else:
        corners = front.end
    return refuse(
        ("spine_thickness_mm",),
        f"is {blade.spine_thickness_mm:g} mm, but the blade is "
        f"{thickness_mm(corners, sides_deg, begins_mm(corners)):.4g} mm thick "
        "where the primary grind begins; the spine must be thicker",
    )


def _grind_too_short(grind_height_mm: float, front: Ground) -> FieldProblems:
    return refuse(
        (*FIELD, "grind_height_mm"),
        f"is {grind_height_mm:g} mm, but the grind only begins {begins_mm(front.end):.4g} mm "
        "behind the apex, at the last shoulder; both count from the foremost point",
    )


def _derived_deg(
    blade: BladeShape, height_mm: float, spine_thickness_mm: float, front: Ground | None
) -> tuple[float, float]:
    """Give the primary's angles from the height and the spine thickness."""
    fraction = blade.primary_grind.left_fraction
    if fraction is None:
        fraction = 0.5
        if front is not None and front.sides_deg[0] == 0.0:
            fraction = 0.0
        elif front is not None and front.sides_deg[1] == 0.0:
            fraction = 1.0
    if front is not None:
        (left_x, left_out), (_, right_out) = front.end
        remaining = spine_thickness_mm - (left_out + right_out)
        if remaining < -SAME_THICKNESS * spine_thickness_mm:
            raise refuse(
                ("spine_thickness_mm",),
                f"is {spine_thickness_mm:g} mm, but the blade is {left_out + right_out:.4g} mm "
                "thick at its last shoulder already; the spine cannot be thinner",
            )
        if remaining <= SAME_THICKNESS * spine_thickness_mm:
            remaining = 0.0
        run = height_mm - left_x
        if run <= 0.0:
            raise _grind_too_short(height_mm, front)
        angles = (
            degrees(atan2(fraction * remaining, run)),
            degrees(atan2((1.0 - fraction) * remaining, run)),
        )
    else:
        angles = apex_to_spine_deg(
            blade.apex, height_mm, spine_thickness_mm, fraction, bow_of_primary(blade.primary_grind)
        )
    bare = front is None
    if max(angles) > 45.0 or min(angles) < 0.0 or (bare and max(angles) <= SAME_ANGLE_DEG):
        raise refuse(
            ("spine_thickness_mm",),
            f"is {spine_thickness_mm:g} mm on a height of {height_mm:g} mm, but the faces of the "
            "primary grind must lie between 0 and 45 deg, and widen from the apex on; change the "
            "height or the spine",
        )
    return angles
