"""A comparison: difference, tolerance, and what cannot be compared."""

from __future__ import annotations

from math import inf, nan

import pytest

from simedge.studies.verify.check import Comparison


def comparison(computed: float, reference: float, *, absolute: bool = False) -> Comparison:
    return Comparison(
        what="depth",
        computed=computed,
        reference=reference,
        unit="mm",
        tolerance=0.1,
        absolute=absolute,
    )


def test_a_share_is_of_the_references_size() -> None:
    """By hand: -1.9 lies 0.1 above -2, 5 % of its size."""
    assert comparison(-1.9, -2.0).difference == pytest.approx(0.05)
    assert comparison(-1.9, -2.0).used_share == pytest.approx(0.5)


def test_an_absolute_difference_is_in_the_unit_itself() -> None:
    assert comparison(-1.9, -2.0, absolute=True).difference == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("computed", "holds"), [(1.09, True), (0.91, True), (1.11, False), (0.89, False)]
)
def test_the_tolerance_counts_on_both_sides(computed: float, holds: bool) -> None:
    assert comparison(computed, 1.0).holds is holds
    assert (comparison(computed, 1.0).used_share <= 1.0) is holds


@pytest.mark.parametrize("computed", [nan, inf, -inf])
def test_no_number_never_holds(computed: float) -> None:
    assert not comparison(computed, 1.0).holds
    assert comparison(computed, 1.0).used_share == inf


def test_a_share_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="reference of 0"):
        comparison(1.0, 0.0)
    assert comparison(0.05, 0.0, absolute=True).holds


@pytest.mark.parametrize("tolerance", [0.0, -1.0, nan])
def test_a_tolerance_that_nothing_can_keep_is_refused(tolerance: float) -> None:
    with pytest.raises(ValueError, match="tolerance is above 0"):
        Comparison(what="depth", computed=1.0, reference=1.0, unit="mm", tolerance=tolerance)
