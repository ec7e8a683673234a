"""Whether a micro-bevel is worth adding, in words."""

from __future__ import annotations

from simedge.runs.quick import QuickRun
from simedge.runs.shown_words import LARGEST_FACTOR, shown_factor, shown_length
from simedge.runs.verdict_sentence import NOUNS
from simedge.studies.micro_bevel_answer import LEAST_GAIN, MicroBevelStudy, MicroDesign

#: What is varied moves the measure by less than this share: then it is told.
UNMOVED = 0.02


def design_words(design: MicroDesign) -> str:
    """Name a micro-bevel by angle and height."""
    return f"{design.dps:.3g} per side, {shown_length(design.height_mm)} high"


def first_to_give(run: QuickRun) -> str:
    """Say what gives first on a design, and under which load."""
    load = run.governing
    factor = load.factors.of(load.governing_kind)
    place = ""
    if factor is not None and factor.x_mm is not None and load.governing_kind != "blunt":
        place = f" {shown_length(factor.x_mm)} behind the apex"
    return f"{NOUNS[load.governing_kind]}{place} under {load.name}"


def micro_bevel_sentence(study: MicroBevelStudy) -> str:
    """Say whether one is worth adding, which, and why or why not."""
    base, asked = study.base.margin, study.asked_margin
    best = study.best
    left_off = " (its own left off)" if study.left_off is not None else ""
    plain = f"without one{left_off} the edge takes {shown_factor(base)} times this work"
    if best is None:
        return f"No micro-bevel of the map can be ground on this knife; {plain}."
    gains = best.margin / base - 1.0 if base > 0.0 else float("inf")
    most = f"the best of the map, {design_words(best)}, takes {shown_factor(best.margin)} times"
    if base >= asked:
        worth = f"; {most}" if gains >= LEAST_GAIN else "; none of the map gains 5 %"
        if base > LARGEST_FACTOR:
            return f"Not needed: {plain}."
        return f"Not needed: {plain}, first to give would be {first_to_give(study.base)}{worth}."
    if study.chosen is not None:
        return f"Worth adding: {_chosen(study, study.chosen)}; {plain}."
    if gains < LEAST_GAIN:
        return (
            f"Not worth it: {plain}, and none of the map gains 5 %, for what gives is "
            f"{first_to_give(best.run)}."
        )
    return (
        f"Not enough: {most}, {shown_factor(best.margin / base)} times as much as without one, but "
        f"{shown_factor(asked)} times were asked; what gives is {first_to_give(best.run)}."
    )


def _chosen(study: MicroBevelStudy, chosen: MicroDesign) -> str:
    more = chosen.slimness.thickness_in_cut_mm - study.base_slimness.thickness_in_cut_mm
    harder = chosen.slimness.wedge_resistance_mm / study.base_slimness.wedge_resistance_mm - 1.0
    return (
        f"{design_words(chosen)} is the slimmest that takes {shown_factor(chosen.margin)} times "
        f"this work; it is {shown_length(max(more, 0.0))} thicker at "
        f"{shown_length(study.depth_mm)}, {_harder(harder)} to push, and can be "
        f"renewed {_times(chosen.renewals)}"
    )


def _harder(share: float) -> str:
    """Say how much harder, no finer than anybody feels.

    >>> _harder(0.001), _harder(0.123)
    ('no harder', '12 % harder')
    """
    return "no harder" if share < 0.005 else f"{100.0 * share:.2g} % harder"


def _times(count: int) -> str:
    """Say how often.

    >>> _times(0), _times(1), _times(7)
    ('not even once', 'once', '7 times')
    """
    return ("not even once", "once")[count] if count < 2 else f"{count} times"


def micro_bevel_remarks(study: MicroBevelStudy) -> tuple[str, ...]:
    """Say what else should be known: saturation, what the varied does not move, the cap."""
    told = []
    if study.left_off is not None:
        told.append(f"the knife's own micro-bevel, {study.left_off}, is left off throughout")
    margins = [design.margin for design in study.feasible]
    if margins and max(margins) <= (1.0 + UNMOVED) * min(margins):
        told.append(
            "angle and height of a micro-bevel do not move the margin here: what gives lies "
            "behind it"
        )
    named = study.named
    if named is not None and named.dps in study.angles_dps:
        height = study.saturates_at_mm(named.dps)
        tallest = max(d.height_mm for d in study.feasible if d.dps == named.dps)
        ends = (
            f"gains nothing beyond {height:.3g} mm of height"
            if height is not None
            else f"still grows at {tallest:.3g} mm of height, the most that was looked at"
        )
        told.append(f"at {named.dps:.3g} per side the margin {ends}")
    if study.caps is not None and named is not None and _tip_alone(study):
        land, radius = (shown_factor(cap) for cap in study.caps)
        told.append(
            f"under a load on the tip alone, first yield gains at most {radius} times by an angle "
            f"of {named.dps:.3g} per side, however tall, at the same apex radius, and {land} times "
            "on the same land: behind a rounded tip of a steeper angle the load acts nearer to "
            "where the faces would meet"
        )
    refused = sum(len(row) for row in study.designs) - len(study.feasible)
    if refused:
        told.append(f"{refused} of the map's micro-bevels cannot be ground on this knife")
    return tuple(told)


def _tip_alone(study: MicroBevelStudy) -> bool:
    """Tell whether the load that asks most presses no face."""
    name = study.base.governing.name
    for index, load in enumerate(study.case.loads):
        if study.case.load_name(index) == name:
            return any(
                hasattr(load, key) for key in ("axial_n_per_mm", "force_n", "apex_lateral_mm")
            )
    return False
