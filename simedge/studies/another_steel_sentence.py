"""What another steel takes in the same shape, and what it would need, in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

from simedge.runs.shown_words import LARGEST_FACTOR, shown_factor
from simedge.runs.verdict_sentence import VERBS
from simedge.studies.another_steel import AnotherSteelStudy, SteelAnswer
from simedge.studies.hardness_sentence import ALIKE
from simedge.studies.same_survival import Needed

#: More steels than these are told together.
FEW = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """How a measure of the edge is told.

    Attributes
    ----------
    least : float
        What differs by less is the same to whoever grinds.
    shown : callable
        Writes how much more or fewer, without its sign, and the error.
    unit, more, fewer : str
    """

    least: float
    shown: Callable[[float, float], str]
    unit: str
    more: str
    fewer: str


def shown_degrees(more: float, error: float) -> str:
    """Write degrees with their error, to the half as nobody grinds closer.

    >>> shown_degrees(1.3, 0.1), shown_degrees(12.84, 1.2)
    ('1.5 ± 0.5', '13 ± 2')
    """
    return _rounded(more, error, 0.5 if error <= 0.5 else 1.0)


def shown_thickness(more: float, error: float) -> str:
    """Write mm with their error, to the hundredth.

    >>> shown_thickness(0.0612, 0.004)
    '0.06 ± 0.01'
    """
    return _rounded(more, error, 0.01)


def _rounded(more: float, error: float, step: float) -> str:
    return f"{step * round(more / step):.12g} ± {step * ceil(error / step or 1.0):.12g}"


ANGLE = Measured(
    least=0.25,
    shown=shown_degrees,
    unit="°",
    more="degrees per side more",
    fewer="degrees per side fewer",
)
THICKNESS = Measured(
    least=0.005,
    shown=shown_thickness,
    unit=" mm",
    more="mm more behind the edge",
    fewer="mm less behind the edge",
)


def another_steel_sentences(study: AnotherSteelStudy) -> tuple[str, ...]:
    """Say what other steels would take: each by itself, or together where they are many."""
    if len(study.others) <= FEW:
        return each_sentence(study)
    return (_together(study),)


def each_sentence(study: AnotherSteelStudy) -> tuple[str, ...]:
    """Say it of each steel, the one that takes most first."""
    return tuple(dict.fromkeys(_sentence(study, other) for other in study.others))


def needed_cell(needed: Needed | None, measure: Measured) -> str:
    """Write what is needed, against the knife as it is, for a narrow cell."""
    if needed is None:
        return ""
    if not needed.matters:
        return "no matter"
    if needed.value is None and needed.enough:
        return "as it is"
    if needed.value is None:
        return f"none to {needed.most:.3g}{measure.unit}"
    more = needed.value - needed.own
    if abs(more) < max(measure.least, needed.error):
        return "as it is"
    shown = measure.shown(abs(more), needed.error)
    return f"{'+' if more > 0.0 else '−'}{shown}{measure.unit}"


def _sentence(study: AnotherSteelStudy, other: SteelAnswer) -> str:
    own = study.own
    if own.span.value > LARGEST_FACTOR:
        told = "nothing fails in the case's own steel below 1000 times this work"
        if other.span.value <= LARGEST_FACTOR:
            told += f"; {other.name} takes {shown_factor(other.span.value)} times this work"
        return f"{told[0].upper()}{told[1:]}."
    if other.span.value > LARGEST_FACTOR:
        return f"In the same shape nothing fails in {other.name} below 1000 times this work."
    ratio = other.span.value / own.span.value
    numbers = f"{shown_factor(other.span.value)} against {shown_factor(own.span.value)} times"
    alike = 1.0 / (1.0 + ALIKE) <= ratio <= 1.0 + ALIKE
    times = "as much as" if alike else f"{shown_factor(ratio)} times what"
    does = "" if alike else " does"
    start = f"In the same shape {other.name} takes {times} {own.name}{does}, {numbers} this work"
    if other.kind != own.kind:
        start += f", and {VERBS[other.kind]} where that {VERBS[own.kind]}"
    if other.load != own.load:
        start += f' (in "{study.load_names[other.load]}")'
    if other.tied:
        start += ": a tie, as steels of one name differ by more"
    needs = _needs(other, ratio)
    return f"{start}{needs}."


def _needs(other: SteelAnswer, ratio: float) -> str:
    """Say what shape would take as much as the case's own steel does."""
    asked = [(other.degrees, ANGLE), (other.thickness, THICKNESS)]
    changes = [_change(needed, how, stronger=ratio > 1.0) for needed, how in asked if needed]
    found = ", or ".join(change for change in changes if change)
    middle = "by the middle of what is known " if other.tied else ""
    if found and ratio > 1.0:
        return f"; {middle}{found} would do as well"
    if found:
        return f"; {middle}it would need {found} to take as much"
    if ratio > 1.0 / (1.0 + ALIKE):
        return ""
    tried = [
        f"up to {needed.most:.2g} {'degrees per side' if how is ANGLE else 'mm behind the edge'}"
        for needed, how in asked
        if needed is not None and (needed.value is None or not needed.matters)
    ]
    return f"; nothing {' or '.join(tried)} would make it take as much" if tried else ""


def _change(needed: Needed, how: Measured, *, stronger: bool) -> str | None:
    """Say what a steel needs more, or may have fewer where it is the stronger one."""
    if needed.value is None or not needed.matters:
        return None
    more = needed.value - needed.own
    if abs(more) < max(how.least, needed.error) or (more < 0.0) != stronger:
        return None
    return f"{how.shown(abs(more), needed.error)} {how.fewer if stronger else how.more}"


def _together(study: AnotherSteelStudy) -> str:
    """Say it of many steels."""
    own, best = study.own, study.ranked[0]
    if own.span.value > LARGEST_FACTOR:
        return "Nothing fails in the case's own steel below 1000 times this work."
    more = [each.name for each in study.others if not each.tied and _above(each, own)]
    less = [each.name for each in study.others if not each.tied and not _above(each, own)]
    ties = len(study.others) - len(more) - len(less)
    told = (
        f"{own.name} as it is takes {shown_factor(own.span.value)} times this work"
        if best is own
        else f"{best.name} takes {shown_factor(best.span.value)} times this work in the same "
        f"shape, {own.name} {shown_factor(own.span.value)} times"
    )
    most = f"Of {len(study.ranked)} steels none takes more: {told}" if best is own else told
    parts = [
        f"surely more than the case's own: {', '.join(more)}" if more else "surely more: none",
        f"surely less: {', '.join(less)}" if less else "surely less: none",
    ]
    if ties:
        parts.append(f"the other {ties} are a tie with it, as steels of one name differ by more")
    return f"{most}; {'; '.join(parts)}."


def _above(one: SteelAnswer, other: SteelAnswer) -> bool:
    return one.span.value > other.span.value
