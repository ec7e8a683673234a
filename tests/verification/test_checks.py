"""Every check of ``simedge verify`` holds: its source, reference and tolerance stand in the check.

The checks that hold the pipeline against the wider matrix (every angle, every side, more clamp
depths) are in the files named after their sources, and share the checks' computation.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from simedge.studies.verify.check import Check
from simedge.studies.verify.printed_tables import TIP_LOADED_WEDGE
from simedge.studies.verify.suite import CHECKS, run_check

#: The work was ordered with at least so many, in at most so long.
FEWEST_CHECKS = 25
MOST_SECONDS = 60.0
EVERY_CHECK = pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.key)
seconds: dict[str, float] = {}


@EVERY_CHECK
def test_every_comparison_of_a_check_holds(check: Check) -> None:
    result = run_check(check)
    seconds[check.key] = result.seconds
    assert result.broken is None
    assert result.comparisons
    missed = [
        f"{each.what}: {each.computed!r} beside {each.reference!r}"
        for each in result.comparisons
        if not each.holds
    ]
    assert missed == []


@EVERY_CHECK
def test_every_check_says_what_after_whom_and_why(check: Check) -> None:
    assert check.key == check.key.lower()
    assert " " not in check.key
    assert check.title
    assert check.source
    assert check.reason.endswith(".")


def test_there_are_enough_checks_of_different_names() -> None:
    assert len(CHECKS) >= FEWEST_CHECKS
    assert len({check.key for check in CHECKS}) == len(CHECKS)


def test_all_together_take_less_than_a_minute() -> None:
    """Ordered with the work; on two cores they take some ten seconds."""
    for check in CHECKS:
        if check.key not in seconds:  # another worker of a parallel run had it
            seconds[check.key] = run_check(check).seconds
    assert sum(seconds.values()) < MOST_SECONDS


def test_slimmer_wedges_come_nearer_to_the_beam() -> None:
    """By the printed table itself: the tables are read in the right columns."""
    over_beam = [row[7] for row in TIP_LOADED_WEDGE]
    assert all(one < other for one, other in pairwise(over_beam))
