"""The errors that runs state hold: against meshes of about 50 times the unknowns.

Asked with the work: over at least 60 cases the true error lies within the stated one in at least
95 %, and the statement is at most ten times too large in 90 %.

Of the peaks alone the second figure is about 84 %, and could not be much more: their true errors
take both signs, much as drawn from a bell curve, and of such errors 16 % lie within a tenth of
what covers 95 %.
"""

from __future__ import annotations

import numpy as np
import pytest
from random_sections import random_cases
from stated_errors import (
    StatedError,
    all_stated_errors,
    counted,
    effectivity_table,
    problem_of,
)

from simedge.runs.errors import mesh_error_share
from simedge.runs.refine import solve_to_accuracy


@pytest.fixture(scope="module")
def errors() -> list[StatedError]:
    return all_stated_errors()


@pytest.mark.slow
def test_true_errors_lie_within_the_stated_ones(errors: list[StatedError]) -> None:
    some = counted(errors)
    assert len({error.case for error in some}) >= 60
    assert np.mean([error.covers for error in some]) >= 0.95, effectivity_table(errors)


@pytest.mark.slow
def test_statements_are_not_far_too_large(errors: list[StatedError]) -> None:
    assert np.mean([error.is_fair for error in counted(errors)]) >= 0.90, effectivity_table(errors)


@pytest.mark.parametrize("accuracy_percent", [1.0, 0.1, 0.05])
def test_the_accuracy_that_was_asked_is_reached(accuracy_percent: float) -> None:
    for _, case in random_cases(3):
        problem, strength = problem_of(case)
        refined = solve_to_accuracy(problem, strength, accuracy_percent)
        assert not refined.fell_short
        worst = max(mesh_error_share(reading) for reading in refined.readings)
        assert worst <= accuracy_percent / 100.0
