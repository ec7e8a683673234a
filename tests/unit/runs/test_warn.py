"""Warnings at their own limits, on answers that are made up; whole runs are in `test_run.py`."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians

import pytest

from simedge.inputs.case import Case
from simedge.inputs.grinds import Apex
from simedge.inputs.load import CombinedLoad, Load, MediumLoad, TipLineLoad
from simedge.runs.answer import ActingPart, LoadAnswer
from simedge.runs.run import Run
from simedge.runs.warn import SMALLEST_CONTACT_RATIO, case_warnings, load_warnings
from simedge.section.loading import tractions_of
from simedge.section.outline import Outline, build_outline
from simedge.section.tractions import TipTraction

WOOD = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left", level="low")
#: Three times hard wood at its strongest, 80 MPa, on a tip 2 x 1.5 µm x cos 15 wide.
MOST_N_PER_MM = 3 * 80.0 * 2 * 0.0015 * cos(radians(15))


def quiet(run: Run) -> LoadAnswer:
    """Give an answer that has nothing to warn of."""
    answer = run.loads[1]
    bare = replace(answer.tractions, tip=(), remarks=())
    return replace(
        answer,
        tractions=bare,
        contact_ratio=None,
        section_peak_at_zone_edge=False,
        edge_turn_deg=1.0,
    )


def with_loads(run: Run, *loads: Load) -> Case:
    return replace(run.case, loads=loads)


def pressing_tip(answer: LoadAnswer, axial: float, lateral: float = 0.0) -> LoadAnswer:
    tip = TipTraction(axial_n_per_mm=axial, lateral_n_per_mm=lateral)
    return replace(answer, tractions=replace(answer.tractions, tip=(tip,)))


def acting(*forces: tuple[float, float]) -> tuple[ActingPart, ...]:
    return tuple(
        ActingPart(at="tip", axial_n_per_mm=axial, lateral_n_per_mm=lateral)
        for axial, lateral in forces
    )


def test_an_answer_without_trouble_has_no_warnings(rope_knife: Run) -> None:
    assert (
        load_warnings(rope_knife.case, rope_knife.outline, rope_knife.steel, quiet(rope_knife))
        == []
    )
    assert case_warnings(rope_knife.case, rope_knife.outline) == []


def test_what_was_clipped_on_the_way_comes_first(rope_knife: Run) -> None:
    answer = quiet(rope_knife)
    answer = replace(
        answer,
        tractions=replace(answer.tractions, remarks=("one", "two")),
        section_peak_at_zone_edge=True,
    )
    found = load_warnings(rope_knife.case, rope_knife.outline, rope_knife.steel, answer)
    assert found[:2] == ["one", "two"]
    assert len(found) == 3
    assert "edge of the zone" in found[2]


# ---------------------------------------------------------------- contact


@pytest.mark.parametrize(
    ("ratio", "warned"), [(0.01, True), (3.999, True), (4.0, False), (100.0, False), (None, False)]
)
def test_contact_shorter_than_four_yield_depths(
    ratio: float | None, warned: bool, rope_knife: Run
) -> None:
    assert SMALLEST_CONTACT_RATIO == 4.0
    answer = replace(quiet(rope_knife), contact_ratio=ratio, contact_length_mm=2.5)
    found = load_warnings(rope_knife.case, rope_knife.outline, rope_knife.steel, answer)
    assert [("in contact over 2.5 mm" in text) for text in found] == [True] * warned
    if warned:
        assert f"only {ratio:.2g} times the yield depth" in found[0]


# ---------------------------------------------------------------- turns


@pytest.mark.parametrize(("turn_deg", "warned"), [(5.9, False), (6.1, True), (None, False)])
def test_turns_beyond_small_movements(
    turn_deg: float | None, warned: bool, rope_knife: Run
) -> None:
    # a tenth of a radian is 5.7 degrees; its square, what small movements leave out, 1 %
    answer = replace(quiet(rope_knife), edge_turn_deg=turn_deg)
    found = load_warnings(rope_knife.case, rope_knife.outline, rope_knife.steel, answer)
    assert [("turns by 6.1 degrees" in text and "here 1 %" in text) for text in found] == [
        True
    ] * warned


# ---------------------------------------------------------------- what a medium can do


@pytest.mark.parametrize(
    ("axial", "lateral", "warned"),
    [
        (MOST_N_PER_MM, 0.0, False),  # what the medium itself exerts
        (MOST_N_PER_MM * 1.001, 0.0, True),
        (0.0, -MOST_N_PER_MM * 1.001, True),
        (0.6 * MOST_N_PER_MM, 0.8 * MOST_N_PER_MM, False),  # 3, 4, 5
        (0.61 * MOST_N_PER_MM, 0.8 * MOST_N_PER_MM, True),
    ],
)
def test_a_tip_load_is_held_against_the_medium_at_its_strongest(
    axial: float, lateral: float, warned: bool, rope_knife: Run
) -> None:
    answer = pressing_tip(quiet(rope_knife), axial, lateral)
    case = with_loads(rope_knife, WOOD)
    found = load_warnings(case, rope_knife.outline, rope_knife.steel, answer)
    assert [("cannot press harder than 0.7 N/mm" in text) for text in found] == [True] * warned
    if warned:
        assert "(hard wood)" in found[0]
        assert "tip 2.9 µm wide" in found[0]


def test_the_strongest_medium_of_the_case_counts_even_inside_parts(rope_knife: Run) -> None:
    own = MediumLoad(
        medium_strength_mpa=500.0, contact_length_mm=5.0, depth_in_cut_mm=0.1, side="both"
    )
    answer = pressing_tip(quiet(rope_knife), 2.0)  # between 0.7 and 3 x 500 x 2.9 µm = 4.3 N/mm
    weak = with_loads(rope_knife, WOOD)
    strong = with_loads(rope_knife, WOOD, CombinedLoad(parts=(TipLineLoad(axial_n_per_mm=1), own)))
    assert len(load_warnings(weak, rope_knife.outline, rope_knife.steel, answer)) == 1
    assert load_warnings(strong, rope_knife.outline, rope_knife.steel, answer) == []
    beyond = load_warnings(strong, rope_knife.outline, rope_knife.steel, pressing_tip(answer, 5.0))
    assert "the medium given" in beyond[0]


def test_media_are_compared_at_their_strongest(rope_knife: Run) -> None:
    # 70 MPa of one's own are more than hard wood's typical 60, and less than its strongest 80.
    own = MediumLoad(
        medium_strength_mpa=70.0, contact_length_mm=5.0, depth_in_cut_mm=0.1, side="left"
    )
    case = with_loads(rope_knife, own, WOOD)
    answer = quiet(rope_knife)
    between = pressing_tip(answer, 0.95 * MOST_N_PER_MM)
    assert load_warnings(case, rope_knife.outline, rope_knife.steel, between) == []
    (beyond,) = load_warnings(case, rope_knife.outline, rope_knife.steel, pressing_tip(answer, 1.0))
    assert "(hard wood)" in beyond


def test_without_a_medium_no_tip_load_is_too_large(rope_knife: Run) -> None:
    case = with_loads(rope_knife, TipLineLoad(axial_n_per_mm=1.0))
    answer = pressing_tip(quiet(rope_knife), 1e5)
    assert load_warnings(case, rope_knife.outline, rope_knife.steel, answer) == []


@pytest.mark.parametrize("level", ["low", "typical", "high"])
def test_a_medium_is_never_held_against_itself(level: str, rope_knife: Run) -> None:
    medium = replace(WOOD, level=level)  # type: ignore[arg-type]
    tractions = tractions_of(medium, "", rope_knife.outline)
    answer = replace(quiet(rope_knife), tractions=tractions)
    case = with_loads(rope_knife, medium)
    assert load_warnings(case, rope_knife.outline, rope_knife.steel, answer) == []


# ---------------------------------------------------------------- parts that cancel


@pytest.mark.parametrize(
    ("forces", "warned"),
    [
        (((1.0, 2.0), (-1.0, -2.0)), True),
        (((1.0, 2.0), (-1.0, -2.0), (1e-8, 0.0)), True),  # but for rounding
        (((1.0, 2.0), (-1.0, -1.99)), False),
        (((1.0, 2.0), (1.0, -2.0)), False),  # a straight cut: its sides cancel, the push remains
        (((0.0, 1.0), (0.0, -0.5), (0.0, -0.5)), True),
        (((1.0, 0.0),), False),
    ],
)
def test_parts_that_leave_nothing_behind_them(
    forces: tuple[tuple[float, float], ...], warned: bool, rope_knife: Run
) -> None:
    answer = replace(quiet(rope_knife), parts=acting(*forces))
    found = load_warnings(rope_knife.case, rope_knife.outline, rope_knife.steel, answer)
    assert [("cancel" in text) for text in found] == [True] * warned


# ---------------------------------------------------------------- the section


def test_a_sharp_tip_is_said(rope_knife: Run) -> None:
    sharp = replace(
        rope_knife.case, profile=replace(rope_knife.case.profile, apex=Apex(sharp=True))
    )
    outline = build_outline(sharp.profile.apex, sharp.profile.faces, 12.0)
    (found,) = case_warnings(sharp, outline)
    assert "perfectly sharp" in found
    assert "are left out" in found


def held(run: Run, clamp_mm: float) -> Outline:
    return build_outline(run.case.profile.apex, run.case.profile.faces, clamp_mm)


def test_a_clamp_that_is_felt_everywhere_is_said(rope_knife: Run) -> None:
    # Where the section is thicker than half of its depth, only half of the depth is judged: 11
    # degrees per side are 0.39 thick for 1 deep, 15 degrees 0.54.
    assert case_warnings(rope_knife.case, held(rope_knife, 0.9)) == []
    (found,) = case_warnings(rope_knife.case, held(rope_knife, 0.07))
    assert "held 0.07 mm behind the edge" in found
    assert "only judged down to 0.035 mm" in found


def test_nothing_is_told_of_a_clamp_at_the_spine(rope_knife: Run) -> None:
    assert case_warnings(rope_knife.case, held(rope_knife, 28.0)) == []
