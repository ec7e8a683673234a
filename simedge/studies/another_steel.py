"""Another steel in the same shape: what it takes, and how the shape must change to take as much."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import isfinite

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.library_data import grades
from simedge.inputs.profile import Profile
from simedge.inputs.steel import Steel
from simedge.inputs.steel_properties import SteelProperties, steel_properties
from simedge.runs.quick import quick_judge
from simedge.runs.run import Run, run_case
from simedge.runs.shown_words import LARGEST_FACTOR
from simedge.runs.verdicts import judge_of
from simedge.strength.load_factors import KINDS, Kind, KindFactor, LoadFactors
from simedge.studies.designs import Progress
from simedge.studies.same_survival import (
    Bench,
    Needed,
    Regrind,
    Span,
    angle_regrind,
    factors_in,
    judged_in,
    needed,
    thickness_regrind,
)
from simedge.studies.steel_choice import chosen_steels, steel_name

#: By how much margins without a mesh differ from a run's where edges roll or blunt, at most.
QUICK_ERROR = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelAnswer:
    """What the knife takes in one steel.

    Attributes
    ----------
    name : str
        Such as ``A2 at 60 HRC``.
    steel : SteelProperties
    factors : tuple of LoadFactors
        A load each, of the edge cut back by the tolerated damage.
    place : int
        1 plus the number of steels that surely take more: steels whose bands overlap are not
        ranked against each other.
    tied : bool
        Its band overlaps that of the case's own steel.
    degrees, thickness : Needed or None
        What it needs to take as much as the case's own steel; None where that is not asked: of
        the case's own, of a traced outline, where nothing fails.
    """

    name: str
    steel: SteelProperties
    factors: tuple[LoadFactors, ...]
    place: int = 1
    tied: bool = True
    degrees: Needed | None = None
    thickness: Needed | None = None

    @property
    def span(self) -> Span:
        """The smallest load factor of any kind and load."""
        return Span.of(self.factors)

    @property
    def load(self) -> int:
        """Number of the load that has it."""
        return min(range(len(self.factors)), key=lambda number: self.factors[number].smallest)

    @property
    def kind(self) -> Kind:
        """The kind that has it."""
        judged = self.factors[self.load].judged
        return min(judged, key=lambda kind: judged[kind].value)

    def weakest(self, kind: Kind) -> KindFactor | None:
        """Give the smallest factor of a kind over all loads; None where it comes in none."""
        found = [factors.judged[kind] for factors in self.factors if kind in factors.judged]
        return min(found, key=lambda factor: factor.value, default=None)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AnotherSteelStudy:
    """A case in other steels.

    Attributes
    ----------
    run : Run
        The case as it is.
    load_names : tuple of str
        Of the loads that are judged; those whose parts cancel are left out.
    own : SteelAnswer
        The case's own steel.
    others : tuple of SteelAnswer
        The one that takes most first.
    remarks : tuple of str
    """

    run: Run
    load_names: tuple[str, ...]
    own: SteelAnswer
    others: tuple[SteelAnswer, ...]
    remarks: tuple[str, ...]

    @property
    def case(self) -> Case:
        """The case."""
        return self.run.case

    @property
    def steel(self) -> SteelProperties:
        """Its own steel."""
        return self.run.steel

    @property
    def ranked(self) -> tuple[SteelAnswer, ...]:
        """All steels, the one that takes most first."""
        return tuple(sorted((self.own, *self.others), key=lambda each: -each.span.value))


def another_steel(
    case: Case, steels: Sequence[Steel] | None = None, progress: Progress | None = None
) -> AnotherSteelStudy:
    """Ask a case in other steels.

    Parameters
    ----------
    case : Case
    steels : sequence of Steel or None
        All of the library at the middle of their usual hardness where None, without those whose
        strength does not follow from it.
    progress : callable or None

    Returns
    -------
    AnotherSteelStudy

    Raises
    ------
    BadInput
        Nothing is asked but the case's own steel, or there is no work to judge.
    NumericsFailed
        The mesher or the solver gave nothing that may be shown.

    Notes
    -----
    Elastic stress is the same in all steels of one stiffness: one run serves all. What the shape
    must become is searched without a mesh, against what the case's own steel takes by the same.
    """
    others = chosen_steels(case, steels)
    run = run_case(case)
    judged = [n for n, answer in enumerate(run.loads) if answer.verdict is not None]
    if not judged:
        raise BadInput(Problem("loads", "cancel everywhere: there is nothing to judge"))
    answers = [run.loads[number] for number in judged]
    judges = tuple(
        judge_of(case.loads[n], run.outline, answer.tractions, run.steel, answer.stress)
        for n, answer in zip(judged, answers, strict=True)
    )
    tolerated = case.tolerated_damage_um

    def answer_in(steel: Steel) -> SteelAnswer:
        properties = steel_properties(steel)
        factors = factors_in(judges, properties, tolerated)
        return SteelAnswer(name=steel_name(steel), steel=properties, factors=factors)

    own = answer_in(case.steel)
    found = [answer_in(steel) for steel in others]
    ranked = _placed([own, *found])
    benches, target = _benches(run, tuple(judged))
    # what the search without a mesh leaves out, as far as the case's own steel tells
    off = max(QUICK_ERROR, abs(target / own.span.value - 1.0)) if isfinite(target) else 0.0
    searched = []
    for done, each in enumerate(ranked[1:], start=1):
        searched.append(_with_needs(each, benches, target, off))
        if progress is not None:
            progress(done, len(others))
    return AnotherSteelStudy(
        run=run,
        load_names=tuple(answer.name for answer in answers),
        own=ranked[0],
        others=tuple(sorted(searched, key=lambda each: -each.span.value)),
        remarks=tuple(_remarks(case, steels is None, benches, own)),
    )


def _placed(answers: list[SteelAnswer]) -> list[SteelAnswer]:
    """Rank steels by how many surely take more; the first of them is the case's own.

    None stands behind one that takes less in the middle of its band.
    """
    spans = [each.span for each in answers]
    own = spans[0]
    places = [1 + sum(other.low > span.high for other in spans) for span in spans]
    places = [
        min(place for place, other in zip(places, spans, strict=True) if other.value <= span.value)
        for span in spans
    ]
    return [
        replace(each, place=place, tied=not (own.low > each.span.high or each.span.low > own.high))
        for each, place in zip(answers, places, strict=True)
    ]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Benches:
    degrees: Bench | None
    thickness: Bench | None


def _benches(run: Run, judged: tuple[int, ...]) -> tuple[_Benches, float]:
    """Give what the shape can be varied by, and the margin that is to be reached."""
    case, profile = run.case, run.case.profile
    judges = tuple(quick_judge(case, number, run.outline, run.steel) for number in judged)
    target = judged_in(judges, run.steel, case.tolerated_damage_um).value
    if not isinstance(profile, Profile) or target > LARGEST_FACTOR:
        return _Benches(degrees=None, thickness=None), target

    def bench(regrind: Regrind | None) -> Bench | None:
        return None if regrind is None else Bench(case, run.steel, regrind, judged)

    return (
        _Benches(
            degrees=bench(angle_regrind(profile)), thickness=bench(thickness_regrind(profile))
        ),
        target,
    )


def _with_needs(answer: SteelAnswer, benches: _Benches, target: float, off: float) -> SteelAnswer:
    degrees, thickness = (
        None if bench is None else needed(bench, answer.steel, target, off)
        for bench in (benches.degrees, benches.thickness)
    )
    return replace(answer, degrees=degrees, thickness=thickness)


def _remarks(case: Case, whole: bool, benches: _Benches, own: SteelAnswer) -> list[str]:
    told = []
    if not isinstance(case.profile, Profile):
        told.append(
            f"{case.profile.name} is a traced outline, which has no angles to change: what another "
            "shape would need is not asked"
        )
    elif benches.degrees is not None and benches.thickness is None:
        told.append(
            "the thickness behind the edge is that of the blade, or there is no edge bevel: it is "
            "not varied"
        )
    if any(factors.of(kind) is None for factors in own.factors for kind in KINDS):
        told.append(
            "chips of the case's own steel are not judged, as its toughness is not known: it may "
            "take less than shown"
        )
    if case.steel.youngs_modulus_gpa is not None or case.steel.poissons_ratio is not None:
        told.append("all steels are taken as stiff as the case says its own is")
    left_out = [each.name for each in grades().values() if not each.hardness_converts]
    if whole and left_out:
        told.append(f"{', '.join(left_out)} left out: strength does not follow from hardness there")
    return told
