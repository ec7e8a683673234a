"""The first sentence about a load: every branch of it, and figures as a person says them."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.runs.elastic_sentence import sentence_for
from simedge.runs.run import Run
from simedge.runs.shown_words import shown_factor, shown_length, shown_side
from simedge.strength.peaks import Peak, Peaks
from simedge.strength.yielding import YieldedRegion

YIELD_MPA, LOW_MPA = 2000.0, 1800.0


def peaks(value_mpa: float | None, x_mm: float = 0.4, y_mm: float = -0.1) -> Peaks:
    section = (
        None
        if value_mpa is None
        else Peak(value_mpa=value_mpa, x_mm=x_mm, y_mm=y_mm, doubt_mpa=0.0)
    )
    return Peaks(
        section=section,
        patch=None,
        section_principal=section,
        patch_principal=None,
        at_zone_edge=False,
    )


def yielded(depth_mm: float = 0.0, **changes: Any) -> YieldedRegion:
    return YieldedRegion(
        **{
            "depth_mm": depth_mm,
            "depth_y_mm": 0.01 if depth_mm else None,
            "through_depth_mm": None,
            "stretches_mm": ((0.0, depth_mm),) if depth_mm else (),
            "doubt_mpa": 0.0,
            "reaches_clamp": False,
            **changes,
        }
    )


def sentence(found: Peaks, region: YieldedRegion, *, even: bool = False) -> str:
    return sentence_for(found, region, YIELD_MPA, LOW_MPA, even=even)


# ---------------------------------------------------------------- every branch


def test_an_edge_that_springs_back() -> None:
    assert sentence(peaks(500.0), yielded()) == (
        "Springs back: the steel nowhere reaches yield, and would first do so at 4.0 times this "
        "work, 0.4 mm behind the apex, on the right."
    )
    on_both = sentence(peaks(500.0), yielded(), even=True)
    assert on_both.endswith("behind the apex, on both sides.")
    on_axis = sentence(peaks(500.0, y_mm=0.0), yielded(), even=True)
    assert on_axis.endswith("behind the apex, in the middle.")


def test_the_steels_own_spread_may_decide() -> None:
    within = " (within the steel's spread it may already)"
    assert within in sentence(peaks(1801.0), yielded())
    # a weak blade that just bears it still bears it
    assert within not in sentence(peaks(1800.0), yielded())


def test_yield_right_under_the_load_alone() -> None:
    assert sentence(peaks(1600.0, y_mm=0.1), yielded(0.0042)) == (
        "Springs back behind the very tip: only where the load sits does the steel reach yield "
        "(4.2 µm deep); the section would first do so at 1.2 times this work, 0.4 mm behind the "
        "apex, on the left."
    )


def test_an_edge_that_yields_on_its_faces() -> None:
    assert sentence(peaks(4000.0), yielded(0.6)) == (
        "Yields: the steel is worked past yield down to 0.6 mm behind the apex, on its faces "
        "first; the section first yields at 0.5 times this work."
    )


def test_an_edge_that_yields_right_through() -> None:
    assert sentence(peaks(4000.0), yielded(0.6, through_depth_mm=0.031)) == (
        "Yields: the steel is worked past yield down to 0.6 mm behind the apex, and through its "
        "whole thickness down to 31 µm; the section first yields at 0.5 times this work."
    )


def test_yield_that_reaches_the_clamps_margin_may_go_on() -> None:
    told = sentence(peaks(4000.0), yielded(11.0, reaches_clamp=True))
    assert "down to 11 mm or more behind the apex, on its faces first" in told


def test_the_limit_itself_counts_as_yield() -> None:
    assert sentence(peaks(2000.0), yielded(0.4)).startswith("Yields: ")
    assert sentence(peaks(1999.999), yielded()).startswith("Springs back: ")


def test_a_sharp_tip_has_no_peak_to_tell() -> None:
    assert sentence(peaks(None), yielded()) == "Stress under this load has no finite peak."
    assert sentence(peaks(None), yielded(0.02)) == (
        "Stress under this load has no finite peak; elastically this work would take the steel "
        "to yield down to 20 µm behind the apex."
    )


def test_the_runs_own_sentences_begin_as_they_should(rope_knife: Run) -> None:
    for answer in rope_knife.loads:
        assert answer.section_peak_von_mises_mpa is not None
        assert answer.first_yield_load_factor is not None
        if answer.first_yield_load_factor <= 1:
            assert answer.elastic_sentence.startswith(
                "Yields: the steel is worked past yield down to "
            )
            assert shown_length(answer.yield_depth_mm) in answer.elastic_sentence
        else:
            assert answer.elastic_sentence.startswith("Springs back")
        assert shown_factor(answer.first_yield_load_factor) in answer.elastic_sentence


# ---------------------------------------------------------------- figures


@pytest.mark.parametrize(
    ("length_mm", "shown"),
    [
        (0.0000123, "0.012 µm"),
        (0.00151, "1.5 µm"),
        (0.0994, "99 µm"),
        (0.0996, "0.1 mm"),
        (0.454, "0.45 mm"),
        (11.46, "11 mm"),
        (99.4, "99 mm"),
    ],
)
def test_lengths_by_hand(length_mm: float, shown: str) -> None:
    assert shown_length(length_mm) == shown


@pytest.mark.parametrize("length_mm", [99.6, 123.0, 290.0])
def test_lengths_of_a_long_blade_have_no_powers_of_ten(length_mm: float) -> None:
    # A machete or a draw knife, held more than 10 cm behind its edge.
    assert "e+" not in shown_length(length_mm)


@pytest.mark.parametrize(
    ("factor", "shown"),
    [
        (0.043, "0.043"),
        (0.994, "0.99"),
        (0.996, "1.0"),
        (1.04, "1.0"),
        (9.94, "9.9"),
        (9.96, "10"),
        (99.4, "99"),
        (99.6, "100"),
        (123.4, "120"),
        (999.0, "1000"),
        (1001.0, "more than 1000"),
    ],
)
def test_factors_by_hand(factor: float, shown: str) -> None:
    assert shown_factor(factor) == shown


@given(factor=st.floats(1e-3, 1e9))
def test_a_factor_is_shown_to_two_figures(factor: float) -> None:
    shown = shown_factor(factor)
    if shown == "more than 1000":
        assert factor > 1000
    else:
        # half of the second figure: at most 5 % where that is 1.0
        assert float(shown) == pytest.approx(factor, rel=0.0501)


@given(length_mm=st.floats(1e-6, 99.0))
def test_a_length_is_shown_to_two_figures_with_its_unit(length_mm: float) -> None:
    found = re.fullmatch(r"([\d.]+|[\d.]+e-\d\d) (µm|mm)", shown_length(length_mm))
    assert found is not None
    told = float(found[1]) * (1e-3 if found[2] == "µm" else 1.0)
    assert told == pytest.approx(length_mm, rel=0.0501)


def test_sides_by_hand() -> None:
    assert shown_side(1.0, 0.2, even=False) == "on the left"
    assert shown_side(1.0, -0.2, even=False) == "on the right"
    assert shown_side(1.0, -0.2, even=True) == "on both sides"
    assert shown_side(1.0, 1e-5, even=False) == "in the middle"


def test_the_foremost_point_is_in_the_middle() -> None:
    assert shown_side(0.0, 0.0, even=False) == "in the middle"
    assert shown_side(0.0, 0.0, even=True) == "in the middle"
