"""Where one stretch of a blade meets the next: shoulders that turn the wrong way, or not at all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import degrees

from simedge.inputs.apex_fit import refuse
from simedge.inputs.bows import FIGURES, bulge_field
from simedge.inputs.curves import Bow
from simedge.inputs.ground import SAME_ANGLE_DEG, Ground
from simedge.inputs.problems import FieldProblems
from simedge.inputs.shown_values import rounded_down


def has_same_angle(front: Ground, behind: Ground) -> bool:
    """Tell whether the shoulder between two stretches does not turn."""
    turns = [abs(front.sides_deg[side] - behind.sides_deg[side]) for side in (0, 1)]
    return front.bow.is_straight and behind.bow.is_straight and max(turns) <= SAME_ANGLE_DEG


def no_effect(front: Ground, behind: Ground) -> str:
    """Give the remark on a bevel that does not turn where it ends."""
    return f"the {front.name} has the angle of the {behind.name} behind it: no effect"


def merge_equal(stretches: list[Ground]) -> tuple[list[Ground], list[str]]:
    """Drop shoulders that do not turn, so that such a bevel changes no bit of the answer.

    Returns
    -------
    list of Ground, list of str
        What is left, and a remark on each that is gone.
    """
    kept = list(stretches)
    remarks = []
    index = 0
    while index < len(kept) - 1:
        front, behind = kept[index], kept[index + 1]
        if has_same_angle(front, behind):
            remarks.append(no_effect(front, behind))
            kept[index : index + 2] = [replace(behind, begin=front.begin)]
        else:
            index += 1
    return kept, remarks


def _ends_deg(ground: Ground) -> list[float]:
    return [degrees(curve.end_angle_rad) for curve in ground.curves]


def _begins_deg(ground: Ground, bow: Bow | None = None) -> list[float]:
    curves = ground.curves if bow is None else ground.with_bow(bow)
    return [degrees(curve.begin_angle_rad) for curve in curves]


def check_growing(front: Ground, behind: Ground) -> list[str]:
    """Refuse a stretch that is slimmer where it ends than the one behind it begins.

    Returns
    -------
    list of str
        A remark where that is so on one side only.

    Raises
    ------
    FieldProblems
        On the angle of the front one, or on the bulge that is to blame.
    """
    ends, begins = _ends_deg(front), _begins_deg(behind)
    if sum(ends) < sum(begins) - SAME_ANGLE_DEG:
        raise _refused(front, behind, sum(ends), sum(begins))
    return [
        f"the {label} face turns inward at the shoulder between the {front.name} "
        f"({ends[side]:.4g} deg) and the {behind.name} ({begins[side]:.4g} deg): "
        "stress is singular at that re-entrant shoulder"
        for side, label in enumerate(("left", "right"))
        if ends[side] < begins[side] - SAME_ANGLE_DEG
    ]


def _refused(front: Ground, behind: Ground, ends: float, begins: float) -> FieldProblems:
    if behind.bow.bulge_mm > 0 and ends > behind.included_deg:
        field, scale, unit = bulge_field(behind)
        fits = _largest_bulge_mm(
            behind, lambda bulge: sum(_begins_deg(behind, Bow(bulge_mm=bulge))) <= ends
        )
        return refuse(
            field,
            f"is {scale * behind.bow.bulge_mm:.4g} {unit}, so that the {behind.name} begins with "
            f"an included angle of {begins:.4g} deg, but the {front.name} in front of it has only "
            f"{ends:.4g} deg there; angles must grow towards the apex: at most "
            f"{rounded_down(scale * fits, FIGURES)} {unit} fits",
        )
    if front.bow.bulge_mm > 0 and front.included_deg > begins:
        field, scale, unit = bulge_field(front)
        spare = front.included_deg - begins
        fits = _largest_bulge_mm(front, lambda bulge: _turned_deg(front, bulge) <= spare)
        return refuse(
            field,
            f"is {scale * front.bow.bulge_mm:.4g} {unit}, so that the {front.name} ends with an "
            f"included angle of {ends:.4g} deg, but the {behind.name} behind it begins with "
            f"{begins:.4g} deg; angles must grow towards the apex: at most "
            f"{rounded_down(scale * fits, FIGURES)} {unit} fits",
        )
    return refuse(
        (*front.field, "dps"),
        f"makes an included angle of {ends:.4g} deg, but the {behind.name} "
        f"behind it has {begins:.4g} deg and the section would be hollow there; "
        "angles must grow towards the apex",
    )


def _turned_deg(ground: Ground, bulge_mm: float) -> float:
    curves = ground.with_bow(Bow(bulge_mm=bulge_mm))
    return sum(degrees(curve.half_turn_rad) for curve in curves)


def _largest_bulge_mm(ground: Ground, fits: Callable[[float], bool]) -> float:
    low, high = 0.0, ground.bow.bulge_mm
    for _ in range(60):
        middle = 0.5 * (low + high)
        if fits(middle):
            low = middle
        else:
            high = middle
    return low
