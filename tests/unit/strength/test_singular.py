"""Growth without bound told from growth that settles."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.strength.singular import LEAST_GROWTH, growth_exponent

SIZES = (0.16, 0.04, 0.01)


def peaks(power: float, share: float = 0.5) -> tuple[float, float, float]:
    first, second, third = (
        100.0 * (1.0 - share) + 100.0 * share * (size / SIZES[0]) ** power for size in SIZES
    )
    return first, second, third


@given(power=st.floats(-0.5, -0.05), share=st.floats(0.5, 1.0))
def test_a_power_of_the_size_is_found_over_any_constant(power: float, share: float) -> None:
    assert growth_exponent(peaks(power, share), SIZES) == pytest.approx(power, abs=1e-6)


def test_as_much_at_every_halving_is_the_power_nought() -> None:
    # a root is found to a few parts in 1e-9
    assert growth_exponent((100.0, 110.0, 120.0), SIZES) == pytest.approx(0.0, abs=1e-7)


@given(power=st.floats(1.0, 4.0))
def test_what_settles_as_a_smooth_field_does_is_no_growth(power: float) -> None:
    # towards a bound from below, a fifth of it away on the first mesh
    bound = [120.0 - 20.0 * (size / SIZES[0]) ** power for size in SIZES]
    assert growth_exponent((bound[0], bound[1], bound[2]), SIZES) is None


@pytest.mark.parametrize(
    "falls",
    [(100.0, 99.0, 110.0), (100.0, 110.0, 105.0), (100.0, 100.0, 100.0)],
)
def test_peaks_that_do_not_keep_growing(falls: tuple[float, float, float]) -> None:
    assert growth_exponent(falls, SIZES) is None


def test_elements_hardly_smaller_tell_nothing() -> None:
    # a bounded peak beside the end of a pressed stretch, as three meshes of a run had it
    assert growth_exponent((564.2, 566.9, 573.8), (9.79e-4, 4.82e-4, 3.34e-4)) is None
    assert growth_exponent((100.0, 110.0, 121.0), (0.04, 0.03, 0.02)) is None


def test_a_growth_like_no_stresss_is_none() -> None:
    assert growth_exponent((100.0, 101.0, 200.0), SIZES) is None


def test_a_growth_within_what_meshes_leave_open_is_none() -> None:
    grown = 100.0 * (1.0 + 0.9 * LEAST_GROWTH)
    assert growth_exponent((100.0, 0.5 * (100.0 + grown), grown), SIZES) is None
