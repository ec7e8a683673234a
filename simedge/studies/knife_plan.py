"""Which knives the work of a case may be put on, checked before anything is solved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.cross_section import CrossSection
from simedge.inputs.variants import varied
from simedge.section.element_sizes import check_element_budget
from simedge.section.loading import tractions_of
from simedge.section.outline import build_outline
from simedge.section.tractions import patch_ends_mm
from simedge.studies.push_plan import distinct_names, plan_pushes

LEAST_KNIVES, MOST_KNIVES = 2, 20


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedKnife:
    """A knife that the case can hold.

    Attributes
    ----------
    name : str
        The profile's; numbered where several have the same.
    case : Case
        The work, with this knife.
    """

    name: str
    case: Case


def plan_knives(
    case: Case, profiles: Sequence[CrossSection], *, with_own: bool = True
) -> tuple[tuple[PlannedKnife, ...], tuple[str, ...]]:
    """Check, before anything is solved, that a case can hold each knife and put its work on it.

    Parameters
    ----------
    case : Case
    profiles : sequence of Profile or TracedProfile
    with_own : bool
        Whether the case's own knife comes first.

    Returns
    -------
    tuple of PlannedKnife
    tuple of str
        What to mind about the choice.

    Raises
    ------
    BadInput
        All that is wrong, of all knives at once.
    """
    chosen: list[CrossSection] = []
    remarks = []
    for profile in [*([case.profile] if with_own else []), *profiles]:
        if profile in chosen:
            remarks.append(f"the {profile.name} was named twice and is taken once")
        else:
            chosen.append(profile)
    if not LEAST_KNIVES <= len(chosen) <= MOST_KNIVES:
        given = {0: "no knife is", 1: "one knife is"}.get(len(chosen), f"{len(chosen)} knives are")
        own = "counting the case's own, " if with_own else "without the case's own, "
        told = "give another profile" if len(chosen) < LEAST_KNIVES else "leave some out"
        raise BadInput(
            Problem(
                "",
                f"{own}{given} given{_twice(remarks)}, but {LEAST_KNIVES} to {MOST_KNIVES} "
                f"different ones can be compared; {told}",
            )
        )
    planned, problems = [], []
    for name, profile in zip(distinct_names(chosen), chosen, strict=True):
        try:
            planned.append(PlannedKnife(name=name, case=_with_knife(case, profile)))
        except BadInput as error:
            problems += [_of_knife(name, problem) for problem in error.problems]
    if problems:
        raise BadInput(*problems)
    return tuple(planned), tuple(remarks)


def _twice(remarks: Sequence[str]) -> str:
    return f" ({remarks[0]})" if remarks else ""


def _with_knife(case: Case, profile: CrossSection) -> Case:
    """Put another knife into a case, and check all that its run and its push will ask."""
    made = varied(case, profile=profile)
    held = made.support.clamp_depth_mm
    outline = build_outline(profile.apex, profile.faces, held)
    loads = [
        tractions_of(load, made.load_name(index), outline) for index, load in enumerate(made.loads)
    ]
    check_element_budget(outline, patch_ends_mm(loads), made.accuracy_percent)
    plan_pushes([profile], held, ())
    return made


def _of_knife(name: str, problem: Problem) -> Problem:
    """Say of which knife a problem is, and that it may be left out."""
    message = problem.message.replace("held_at_mm", "support.clamp_depth_mm")
    joint = ", or" if ";" in message else "; change the case, or"
    if message.startswith("support.clamp_depth_mm"):
        joint = "; hold the blade nearer to its edge in the case, or"
    return Problem(name, f"{message}{joint} leave this knife out")
