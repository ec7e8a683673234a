"""Margins that are known only so far: what is above what, which places, which are alike."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.strength.load_factors import KindFactor, LoadFactors
from simedge.studies.margin_band import MarginBand, alike, margin_band, places, smallest_band

NEVER = KindFactor(value=inf, low=inf, high=inf)


def factor(value: float, low: float, high: float, **changes: bool) -> KindFactor:
    return KindFactor(value=value, low=low, high=high, **changes)


def factors(**kinds: KindFactor | None) -> LoadFactors:
    every = {"blunt": NEVER, "roll": NEVER, "chip": NEVER, "crumble": NEVER, **kinds}
    return LoadFactors(spread_at_fold=1.0, **every)  # type: ignore[arg-type]


@st.composite
def bands(draw: st.DrawFn) -> list[MarginBand]:
    ends = st.floats(0.01, 3000.0)
    made = []
    for _ in range(draw(st.integers(1, 8))):
        low, value, high = sorted((draw(ends), draw(ends), draw(ends)))
        made.append(MarginBand(low=low, value=value, high=high))
    return made


def test_a_roll_is_known_to_five_per_cent_whatever_the_spread_of_the_yield_strength():
    narrow = margin_band(factors(roll=factor(2.0, 1.99, 2.01)))
    wide = margin_band(factors(roll=factor(2.0, 1.0, 4.0)))
    assert narrow == wide
    assert (narrow.low, narrow.value, narrow.high) == pytest.approx((1.9, 2.0, 2.1))


def test_a_chip_is_known_to_its_band():
    band = margin_band(factors(chip=factor(2.0, 1.2, 3.5), roll=factor(9.0, 8.0, 10.0)))
    assert (band.low, band.value, band.high) == (1.2, 2.0, 3.5)


def test_a_chip_that_may_come_first_counts_at_its_weak_end_alone():
    roll, chip = factor(2.0, 1.8, 2.2), factor(2.4, 1.5, 3.6)
    band = margin_band(factors(roll=roll, chip=chip))
    assert (band.low, band.high) == pytest.approx((1.5, 2.1))
    folds = replace(chip, folds_first=True)
    assert margin_band(factors(roll=roll, chip=folds)).low == pytest.approx(1.5)
    always = replace(folds, always_folds=True)
    assert margin_band(factors(roll=roll, chip=always)).low == pytest.approx(1.9)
    assert margin_band(factors(roll=roll, chip=None)).low == pytest.approx(1.9)


def test_the_smallest_over_loads_end_by_end():
    one = MarginBand(low=1.0, value=2.0, high=5.0)
    other = MarginBand(low=1.5, value=1.8, high=1.9)
    assert smallest_band([one, other]) == MarginBand(low=1.0, value=1.8, high=1.9)
    assert smallest_band([]).low == inf


def test_beyond_what_is_printed_all_are_alike():
    huge, never = MarginBand(low=2e3, value=3e3, high=4e3), MarginBand(low=inf, value=inf, high=inf)
    assert places([huge, never]) == [(1, 2), (1, 2)]
    assert alike([huge, never]) == [(0, 1)]


def test_being_alike_does_not_carry_over():
    a, b, c = (MarginBand(low=v - 1, value=v, high=v + 1) for v in (3.0, 4.5, 6.0))
    assert alike([c, b, a]) == [(0, 1), (1, 2)]
    assert places([c, b, a]) == [(1, 2), (1, 3), (2, 3)]


@given(bands())
def test_places_and_groups_tell_the_same(made: list[MarginBand]):
    found, groups = places(made), alike(made)
    grouped = {pair for group in groups for pair in combinations(group, 2)}
    for i, j in combinations(range(len(made)), 2):
        tied = not (made[i].is_above(made[j]) or made[j].is_above(made[i]))
        assert tied == ((i, j) in grouped)
        if made[i].is_above(made[j]):
            assert not made[j].is_above(made[i])
            assert found[i][0] <= found[j][0]
            assert found[i][1] <= found[j][1]
    for best, worst in found:
        assert 1 <= best <= worst <= len(made)
    assert any(best == 1 for best, _ in found)


@given(bands())
def test_easier_work_changes_no_place(made: list[MarginBand]):
    small = [b for b in made if b.high < 90.0]
    harder = [MarginBand(low=b.low / 0.5, value=b.value / 0.5, high=b.high / 0.5) for b in small]
    assert places(small) == places(harder)
