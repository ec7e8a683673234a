"""All checks, in the order in which they build on each other, and how they are run."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from time import perf_counter
from typing import Literal

from simedge.errors import BadInput, Problem, SystemLibraryMissing
from simedge.studies.verify import (
    balances,
    beam_tables,
    benchmarks_contact,
    benchmarks_corners,
    benchmarks_membranes,
    benchmarks_orders,
    benchmarks_round,
    cantilevers,
    face_loads,
    identities,
    limit_loads,
    two_slopes,
    wedge_fields,
    wedge_tables,
    yield_depths,
)
from simedge.studies.verify.check import Check, Comparison

#: A new check is one entry in its module's tuple.
CHECKS: tuple[Check, ...] = (
    *wedge_tables.CHECKS,
    *beam_tables.CHECKS,
    *wedge_fields.CHECKS,
    *face_loads.CHECKS,
    *yield_depths.CHECKS,
    *cantilevers.CHECKS,
    *two_slopes.CHECKS,
    *limit_loads.CHECKS,
    *identities.CHECKS,
    *balances.CHECKS,
    *benchmarks_orders.CHECKS,
    *benchmarks_membranes.CHECKS,
    *benchmarks_round.CHECKS,
    *benchmarks_corners.CHECKS,
    *benchmarks_contact.CHECKS,
)
#: More than these are not named one by one in the sentence.
MOST_NAMED = 5

#: Told before each check: its number from 1, how many there are, and which it is.
Progress = Callable[[int, int, Check], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckResult:
    """A check that was run.

    Attributes
    ----------
    check : Check
    comparisons : tuple of Comparison
        Empty where it broke off.
    broken : str or None
        What stopped it, where it gave no numbers.
    seconds : float
        How long it took.
    """

    check: Check
    comparisons: tuple[Comparison, ...]
    broken: str | None
    seconds: float

    @property
    def holds(self) -> bool:
        """Whether it gave numbers and every one lies as close as it should."""
        return bool(self.comparisons) and all(each.holds for each in self.comparisons)

    @property
    def verdict(self) -> Literal["holds", "fails"]:
        """The verdict in a word."""
        return "holds" if self.holds else "fails"

    @property
    def worst(self) -> Comparison | None:
        """The comparison that comes nearest to its tolerance, or exceeds it most."""
        return max(self.comparisons, key=lambda each: each.used_share, default=None)


def run_checks(
    keys: Iterable[str] | None = None, progress: Progress | None = None
) -> tuple[CheckResult, ...]:
    """Run checks, each on its own: one that raises has failed, and the next is run.

    Parameters
    ----------
    keys : iterable of str or None
        Which; None stands for all. They are run in the suite's order, each once.
    progress : callable or None
        Told before each check.

    Returns
    -------
    tuple of CheckResult

    Raises
    ------
    BadInput
        A key that no check has; all such keys are told at once.
    SystemLibraryMissing
        gmsh's shared libraries are not installed: nothing was checked then.

    Examples
    --------
    >>> [result.verdict for result in run_checks(["wedge-constants"])]
    ['holds']
    """
    chosen = chosen_checks(keys)
    results = []
    for number, check in enumerate(chosen, start=1):
        if progress is not None:
            progress(number, len(chosen), check)
        results.append(run_check(check))
    return tuple(results)


def chosen_checks(keys: Iterable[str] | None) -> tuple[Check, ...]:
    """Give the checks of some keys in the suite's order; None stands for all."""
    if keys is None:
        return CHECKS
    wanted = tuple(dict.fromkeys(keys))
    known = [check.key for check in CHECKS]
    unknown = [key for key in wanted if key not in known]
    if unknown:
        raise BadInput(*(_unknown(key, known) for key in unknown))
    return tuple(check for check in CHECKS if check.key in wanted)


def _unknown(key: str, known: list[str]) -> Problem:
    near = get_close_matches(key.lower(), known, n=1, cutoff=0.4)
    advice = f'did you mean "{near[0]}"?' if near else 'see "simedge verify --list"'
    return Problem("KEY", f'is "{key[:60]}", but no check is called that; {advice}')


def run_check(check: Check) -> CheckResult:
    """Run one check; what it raises is its failure."""
    begun = perf_counter()
    comparisons: tuple[Comparison, ...] = ()
    broken: str | None = None
    try:
        comparisons = check.compare()
    except SystemLibraryMissing:
        raise  # it is the machine that is not ready
    except Exception as error:  # whatever goes wrong in a check, the others are run
        broken = f"{type(error).__name__}: {error}"
    if broken is None and not comparisons:
        broken = "it compared nothing"
    return CheckResult(
        check=check,
        comparisons=comparisons,
        broken=broken,
        seconds=perf_counter() - begun,
    )


def verify_sentence(results: tuple[CheckResult, ...]) -> str:
    """Say in a sentence what the checks came to."""
    failed = [result.check.key for result in results if not result.holds]
    if not failed:
        numbers = sum(len(result.comparisons) for result in results)
        which = f"All {len(results)} checks hold" if len(results) > 1 else "The check holds"
        beside = "number lies" if numbers == 1 else "numbers lie"
        return (
            f"{which}: {numbers} {beside} as close to published or hand-provable ones as the "
            "stated reasons allow."
        )
    named = ", ".join(failed[:MOST_NAMED])
    more = f" and {len(failed) - MOST_NAMED} more" if len(failed) > MOST_NAMED else ""
    verb = "fails" if len(failed) == 1 else "fail"
    many = "checks" if len(results) > 1 else "check"
    return f"{len(failed)} of {len(results)} {many} {verb}: {named}{more}."
