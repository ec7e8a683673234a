"""How slim an edge may be, in words."""

from __future__ import annotations

from math import ceil, floor, log10

from simedge.runs.run import Run
from simedge.runs.shown_words import shown_factor, shown_length
from simedge.runs.verdict_sentence import NOUNS
from simedge.runs.warn import LARGEST_TURN_DEG
from simedge.studies.slimmest import quick_margin
from simedge.studies.slimmest_answer import Neighbour, SlimmestStudy, SlimmestWay

NAMES = {
    "edge angle": "edge",
    "thickness behind the edge": "thickness behind the edge",
    "spine of the primary grind": "spine of the primary grind",
}
#: A measure that moves the margin by less than this share over its range does not move it.
UNMOVED = 0.02
#: An edge that turns by so many times what the knife's own does has become limp.
LIMPER = 1.5
ASKED_FIRST = (
    "what moves such an answer most: whether the work is crooked or straight (4 to 12 times), the "
    "hardest thing that is met, angle and thickness behind the edge, the steel's particles, the "
    "hand's force; apex radius and tolerated damage hardly"
)


def shown_value(value: float, unit: str, error: float | None = None) -> str:
    """Write a measure with its error, and no figure beyond a hundredth.

    >>> shown_value(8.1234, "degrees per side", 0.03), shown_value(0.18216, "mm", 0.0004)
    ('8.12 ± 0.03 degrees per side', '0.182 ± 0.001 mm')
    >>> shown_value(11.0, "degrees per side"), shown_value(0.45, "mm")
    ('11 degrees per side', '0.45 mm')
    """
    finest = 2 if unit.startswith("degrees") else 3
    if error is None:
        return f"{value:.3g} {unit}"
    decimals = min(max(-floor(log10(error)), 0), finest) if error > 0.0 else finest
    step = 10.0**-decimals
    return f"{value:.{decimals}f} ± {ceil(error / step - 1e-9) * step:.{decimals}f} {unit}"


def slimmest_sentences(study: SlimmestStudy) -> tuple[str, ...]:
    """Say how slim the knife may be in each way, the edge's angle first."""
    told = [_way(study, way) for way in study.ways]
    pair = study.pair
    if pair is not None:
        told.append(
            f"Slimmer still with a micro-bevel: {pair.edge_dps:.3g} degrees per side with "
            f"{pair.micro_dps:.3g} per side, {shown_length(pair.micro_height_mm)} high, is "
            f"{pair.thickness_in_cut_mm:.3g} mm thick at {shown_length(study.depth_mm)}, against "
            f"{study.ways[0].thickness_in_cut_mm:.3g} mm."
        )
    return tuple(told)


def _way(study: SlimmestStudy, way: SlimmestWay) -> str:
    asked = study.question.asked_margin
    often = "" if asked == 1.0 else f" {shown_factor(asked)} times the work"
    name, unit = NAMES[way.way.key], way.way.unit
    now = f"now {way.way.own:.3g}"
    if way.value is None:
        best = shown_value(way.found.best, unit)
        return (
            f"No {name} up to {way.found.looked[-1][0]:.3g} {unit} comes through{often}; the best, "
            f"{best}, takes {shown_factor(way.found.best_margin)} times this work ({now})."
        )
    if way.found.by_bound:
        return (
            f"Even {_article(name)} of {shown_value(way.value, unit)} comes through{often}, the "
            f"least that was looked at ({now}); it takes "
            f"{shown_factor(quick_margin(way.quick, study.question))} times this work."
        )
    stop = way.quick.governing
    first = f"The slimmest {name} that comes through{often}"
    if not name.startswith("edge"):
        first = f"The {name} may go down to"
    else:
        first += " has"
    by = (
        f"what stops it is {NOUNS[stop.governing_kind]} under {stop.name}"
        if study.question.measure == "verdict"
        else f"judged by {study.question.measure}"
    )
    steps = ", ".join(
        f"{_step(way)} {words} takes {shown_factor(neighbour.margin)} times this work"
        for words, neighbour in (("less", way.less), ("more", way.more))
        if neighbour is not None
    )
    band = (
        f" ({way.band[0]:.3g} to {way.band[1]:.3g} as steels of one name differ)"
        if way.band is not None
        else ""
    )
    return (
        f"{first} {shown_value(way.value, unit, way.error)}{band}, {now}; {by}"
        f"{_rare(study, way)}; {steps}."
    )


def _article(name: str) -> str:
    return f"an {name}" if name[0] in "aeiou" else f"a {name}"


def _step(way: SlimmestWay) -> str:
    if way.way.unit.startswith("degrees"):
        return "one degree"
    return f"{way.way.step:g} mm"


def _rare(study: SlimmestStudy, way: SlimmestWay) -> str:
    """Say whether what comes now and then sets the answer."""
    if not study.occasional or way.value is None:
        return ""
    names = " and ".join(study.occasional)
    without = way.without_occasional
    if without is None or without.value is None or way.error is None:
        return ""
    if without.value >= way.value - 3.0 * way.error:
        return f"; {names} asks for no more than the everyday work"
    less = " or less" if without.by_bound else ""
    value = shown_value(without.value, way.way.unit)
    return f"; {names} sets it, without that {value}{less} would do"


def slimmest_remarks(study: SlimmestStudy) -> tuple[str, ...]:
    """Say what else should be known."""
    told = []
    if study.micro_left_off:
        told.append("the knife's own micro-bevel is left off throughout")
    for way in study.ways:
        if way.found.islands:
            values = ", ".join(f"{value:.3g}" for value in way.found.islands)
            told.append(
                f"{way.way.key}: {values} {way.way.unit} would come through too, but something "
                "between does not; the value told is the one above which all that was looked at do"
            )
        margins = [margin for _, margin in way.found.looked]
        if max(margins) <= (1.0 + UNMOVED) * min(margins):
            told.append(
                f"the {way.way.key} does not move the margin: what gives lies in front of it"
            )
        turn = _turn_deg(way.run) if way.run is not None else 0.0
        if turn > max(LARGEST_TURN_DEG, LIMPER * _turn_deg(study.own)):
            told.append(
                f"{way.way.key}: so slim a blade bends until its edge turns by {turn:.0f} degrees; "
                f"beyond about {LARGEST_TURN_DEG:g} degrees its numbers are rough, and it is too "
                "limp to steer"
            )
    told.append(ASKED_FIRST)
    return tuple(told)


def _turn_deg(run: Run) -> float:
    """Give how far the edge turns at most under any load."""
    return max((answer.edge_turn_deg or 0.0 for answer in run.loads), default=0.0)


def neighbour_words(neighbour: Neighbour | None) -> str:
    """Say what a step would do, for a cell."""
    if neighbour is None:
        return "-"
    return f"{shown_factor(neighbour.margin)} ({NOUNS[neighbour.kind]})"
