"""The smallest cut that carries: issue 5's one measure of damage, on functions known by hand."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.strength.recession import CLOSE, MOST, SHALLOWEST_MM, STRIDE, recession


@given(depth=st.floats(2e-5, 5.0), power=st.floats(0.3, 3.0))
def test_the_cut_at_which_a_rising_strength_carries(depth: float, power: float) -> None:
    found = recession(lambda cut: (cut / depth) ** power, 10.0)
    # within CLOSE of the depth by the search, and told to six digits
    assert found.depth_mm == pytest.approx(depth, rel=CLOSE + 1e-6)
    assert not found.beyond


@given(load=st.floats(1.1, 1000.0), step=st.floats(1.0, 1.05), start=st.floats(1e-4, 1e-2))
def test_a_small_step_in_load_is_a_small_step_in_depth(
    load: float, step: float, start: float
) -> None:
    # strength goes as start + cut: the depth of a load is (load - 1) start
    one, two = (
        recession(lambda cut, by=by: (start + cut) / (start * by), 100.0).depth_mm
        for by in (load, load * step)
    )
    assert one == pytest.approx((load - 1.0) * start, rel=2e-5, abs=1e-9)
    assert -2e-5 * one <= two - one <= (step - 1.0) * load * start + 2e-5 * two


def test_what_carries_as_it_is_loses_nothing() -> None:
    for factor in (1.0, 1.5, inf):
        found = recession(lambda cut, by=factor: by, 1.0)
        assert (found.depth_mm, found.beyond) == (0.0, False)


def test_what_never_carries_loses_all_that_was_tried() -> None:
    found = recession(lambda cut: 0.5, 2.0)
    assert (found.depth_mm, found.beyond) == (2.0, True)
    assert recession(lambda cut: 0.5, 0.0).depth_mm == 0.0  # nothing may be cut
    assert recession(lambda cut: 0.5, 0.0).beyond


def test_what_carries_only_at_the_last_is_not_beyond() -> None:
    found = recession(lambda cut: cut / 1.999, 2.0)
    assert found.depth_mm == pytest.approx(1.999, rel=2e-5)
    assert not found.beyond


def test_a_rounded_tip_begins_where_it_has_width() -> None:
    asked: list[float] = []

    def factor(cut: float) -> float:
        asked.append(cut)
        return cut / 0.01

    recession(factor, 1.0, start_mm=1e-3)
    assert min(asked) == 1e-3
    assert recession(factor, 1.0, start_mm=0.02).depth_mm == 0.0


def test_the_first_cut_that_carries_counts_not_one_behind_it() -> None:
    # strong between 0.05 and 0.2, weak in a hollow behind, strong again from 1 mm on
    def factor(cut: float) -> float:
        if cut < 0.2:
            return cut / 0.05
        return 0.5 * cut / 0.5

    assert recession(factor, 5.0).depth_mm == pytest.approx(0.05, rel=2e-5)


@given(at=st.floats(1e-4, 1.0))
def test_a_jump_is_found_too(at: float) -> None:
    # where the work ends in front of the cut nothing bears on it any more: from some to inf
    found = recession(lambda cut: inf if cut >= at else 0.3, 10.0)
    assert found.depth_mm == pytest.approx(at, rel=1e-4)


def test_factors_beyond_any_use_do_not_upset_the_search() -> None:
    found = recession(lambda cut: (cut / 0.03) ** 100.0, 1.0)
    assert found.depth_mm == pytest.approx(0.03, rel=2e-5)
    assert 1.2**100.0 > MOST > 1.0  # a cut a fifth too deep, and a stride is more than that
    assert STRIDE > 1.2


def test_less_than_ten_nanometres_is_found_between_nothing_and_that() -> None:
    found = recession(lambda cut: (cut + 1e-6) / 4e-6, 1.0)
    # as near as a hundred thousandth of the shallowest cut
    assert found.depth_mm == pytest.approx(3e-6, abs=2 * CLOSE * SHALLOWEST_MM)
