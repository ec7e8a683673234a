"""Several knives in the same work: which comes through, which takes most, which are alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from simedge.errors import BadInput, NumericsFailed, Problem
from simedge.inputs.case import Case
from simedge.inputs.cross_section import CrossSection
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run, run_case
from simedge.runs.solve import elasticity_of
from simedge.strength.verdict import Verdict
from simedge.studies.cut_depth import deepest_in_cut_mm
from simedge.studies.knife_plan import PlannedKnife, plan_knives
from simedge.studies.margin_band import MOST, MarginBand, margin_band, smallest_band
from simedge.studies.stiffness import PlaceStiffness, stiffness_of

#: Margins that differ by less than this share are those of one shape.
SAME_SHAPE = 1e-3

#: Told after each knife: how many are done, and of how many.
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ComparedKnife:
    """One knife's answers.

    Attributes
    ----------
    name : str
    run : Run
    stiffness : PlaceStiffness
        At the apex, held as the case says.
    thickness_at_deepest_mm : float or None
        As deep behind the apex as the work goes; None where the knife is held in front of it.
    """

    name: str
    run: Run
    stiffness: PlaceStiffness
    thickness_at_deepest_mm: float | None

    @property
    def judged(self) -> list[tuple[LoadAnswer, Verdict]]:
        """The loads that have a verdict, in the order of the case."""
        return [(answer, answer.verdict) for answer in self.run.loads if answer.verdict is not None]

    @property
    def governing(self) -> tuple[LoadAnswer, Verdict] | None:
        """The load of the smallest margin; None where nothing is left of any."""
        return min(self.judged, key=lambda pair: pair[1].margin, default=None)

    @property
    def margin(self) -> MarginBand:
        """The smallest margin over the loads, and how far it is known beside other knives'."""
        return smallest_band(margin_band(verdict.factors) for _, verdict in self.judged)

    @property
    def sure(self) -> bool:
        """No end of any kind's band, under any load, tells otherwise."""
        told = [verdict for _, verdict in self.judged]
        if self.run.comes_through:
            return all(verdict.sure for verdict in told)
        return any(verdict.sure and not verdict.comes_through for verdict in told)

    @property
    def deepest_damage(self) -> Verdict | None:
        """The verdict of the load that does most damage; None where it comes through."""
        failing = [verdict for _, verdict in self.judged if not verdict.comes_through]
        return max(failing, key=lambda verdict: verdict.recession.depth_mm, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class UnsolvedKnife:
    """A knife whose numerics failed.

    Attributes
    ----------
    name, reason : str
    """

    name: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Comparison:
    """Knives in the same work.

    Attributes
    ----------
    case : Case
        The work, with its own knife, whether or not that is compared.
    knives : tuple of ComparedKnife
        The largest margin first; at least one.
    first : ComparedKnife
        The first of those that were given.
    unsolved : tuple of UnsolvedKnife
    deepest_mm : float
        How deep the work goes; 1 mm where it is all on the tip.
    remarks : tuple of str
    """

    case: Case
    knives: tuple[ComparedKnife, ...]
    first: ComparedKnife
    unsolved: tuple[UnsolvedKnife, ...]
    deepest_mm: float
    remarks: tuple[str, ...]

    @property
    def margins(self) -> tuple[MarginBand, ...]:
        """Of the knives, in their order."""
        return tuple(knife.margin for knife in self.knives)

    @property
    def told_load(self) -> int:
        """Number of the load that is hardest on the first knife."""
        governing = self.first.governing
        return 0 if governing is None else self.first.run.loads.index(governing[0])


def compare_knives(
    case: Case,
    profiles: Sequence[CrossSection],
    *,
    with_own: bool = True,
    progress: Progress | None = None,
) -> Comparison:
    """Put several knives to the same work, each through the whole pipeline.

    Parameters
    ----------
    case : Case
        Steel, work, support, tolerated damage and accuracy.
    profiles : sequence of Profile or TracedProfile
        Each is taken once.
    with_own : bool
        Whether the case's own knife comes first.
    progress : callable or None

    Returns
    -------
    Comparison

    Raises
    ------
    BadInput
        Not 2 to 20 knives, or the case cannot hold one; nothing was solved then.
    NumericsFailed
        No knife could be solved.

    Notes
    -----
    Margins are ranked only where they differ by more than what the computation leaves, and
    what differs from edge to edge in one steel: see `simedge.studies.margin_band`.
    """
    planned, remarks = plan_knives(case, profiles, with_own=with_own)
    solved: list[ComparedKnife] = []
    unsolved: list[UnsolvedKnife] = []
    for number, knife in enumerate(planned, start=1):
        try:
            solved.append(_solve(knife))
        except NumericsFailed as error:  # one knife must not cost the others their answer
            unsolved.append(UnsolvedKnife(name=knife.name, reason=str(error)))
        if progress is not None:
            progress(number, len(planned))
    if not solved:
        raise NumericsFailed("\n".join(f"{each.name}: {each.reason}" for each in unsolved))
    if not any(knife.judged for knife in solved):
        raise BadInput(Problem("loads", "cancel everywhere: there is nothing to judge"))
    ranked = sorted(solved, key=lambda knife: -knife.margin.value)  # of equal ones the first given
    study = Comparison(
        case=case,
        knives=tuple(ranked),
        first=solved[0],
        unsolved=tuple(unsolved),
        deepest_mm=deepest_in_cut_mm(case),
        remarks=remarks,
    )
    return replace(study, remarks=(*remarks, *_what_to_mind(study)))


def _solve(knife: PlannedKnife) -> ComparedKnife:
    case = knife.case
    run = run_case(case)
    pushed = stiffness_of(
        [case.profile],
        held_at_mm=case.support.clamp_depth_mm,
        at_mm=(),
        elasticity=elasticity_of(run.steel),
    )
    deepest = deepest_in_cut_mm(case)
    return ComparedKnife(
        name=knife.name,
        run=run,
        stiffness=pushed.blades[0].places[0],
        thickness_at_deepest_mm=(
            float(run.outline.thickness_mm(deepest)) if deepest <= run.outline.depth_mm else None
        ),
    )


def _what_to_mind(study: Comparison) -> list[str]:
    """Warn where the margin is no measure of what differs."""
    told = []
    margins = [min(band.value, MOST) for band in study.margins]
    if len(margins) > 1 and max(margins) <= (1.0 + SAME_SHAPE) * min(margins):
        told.append(
            "these knives are alike where this work sits, so that the margin tells nothing about "
            "what differs between them; stiffness and thickness do"
        )
    held = {knife.run.outline.depth_mm for knife in study.knives}
    if len(held) > 1:
        told.append(
            "the case holds each knife at its own spine, and one that is held farther from its "
            "edge gives way more; a support.clamp_depth_mm that all have compares the grinds alone"
        )
    carried = [a.name for a in study.first.run.loads if any(part.carries for part in a.parts)]
    if carried:
        told.append(
            f'under "{carried[0]}" the apex is carried by a distance, whatever force that takes: '
            "a slim edge gives way and may take more than a thick one"
        )
    return told
