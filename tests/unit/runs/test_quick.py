"""Designs judged without a mesh: against whole runs, and what must hold between designs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge import read_case, run_case
from simedge.inputs.case import Case
from simedge.inputs.load import FaceLoad, MediumLoad, TipLineLoad
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.quick import quick_run

STEEL = Steel(grade="52100", hardness_hrc=60.0)
LOADS = (
    TipLineLoad(name="tip", axial_n_per_mm=0.5, lateral_n_per_mm=1.0),
    FaceLoad(name="face", at="left face", from_mm=0.0, to_mm=0.5, pressure_mpa=30.0),
    MediumLoad(name="wood", medium="hard wood", depth_in_cut_mm=0.4, side="left"),
)
never_hurry = settings(max_examples=20, deadline=None)


def wedge(dps: float, steel: Steel = STEEL, *loads: object) -> Case:
    """Give a plain wedge in some work."""
    profile = Profile(apex=Apex(radius_um=1.0), height_mm=15.0, primary_grind=PrimaryGrind(dps=dps))
    return Case(profile=profile, steel=steel, loads=loads or LOADS)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "name",
    ["rope-knife-in-a-knot", "chisel-in-end-grain", "fillet-knife-over-a-rod", "axe-into-a-knot"],
)
def test_verdicts_agree_with_whole_runs(name: str) -> None:
    """Within 1 % where an edge rolls or blunts, by statics; a few per cent where it breaks."""
    case = replace(read_case(name), accuracy_percent=3.0)
    quick = quick_run(case)
    for answer, load in zip(run_case(case).loads, quick.loads, strict=True):
        assert answer.verdict is not None
        assert load.governing_kind == answer.verdict.governing_kind
        near = 0.01 if load.governing_kind in ("roll", "blunt") else 0.03
        assert load.margin == pytest.approx(answer.verdict.margin, rel=near)


@pytest.mark.parametrize("name", ["rope-knife-in-a-knot", "kitchen-knife-on-carrots"])
def test_first_yield_of_crooked_work_agrees_with_whole_runs(name: str) -> None:
    case = replace(read_case(name), accuracy_percent=3.0)
    for answer, load in zip(run_case(case).loads, quick_run(case).loads, strict=True):
        if not answer.even:
            assert load.first_yield == pytest.approx(answer.first_yield_load_factor, rel=0.012)


@given(st.floats(4.0, 20.0), st.floats(1.001, 1.25))
@never_hurry
def test_more_angle_never_lowers_a_plain_wedges_load_factors(dps: float, more: float) -> None:
    """Up to 25 degrees: beyond, pressure itself, and not bending, is what works a stout edge."""
    slim, stout = quick_run(wedge(dps)), quick_run(wedge(dps * more))
    for less, greater in zip(slim.loads, stout.loads, strict=True):
        # the depths at which the field is read move with the shape
        assert greater.first_yield >= less.first_yield * (1.0 - 1e-4)
        assert greater.margin >= less.margin * (1.0 - 1e-3)


@given(st.floats(58.0, 61.5), st.floats(0.01, 0.5), st.floats(6.0, 25.0))
@never_hurry
def test_a_harder_steel_never_yields_rolls_or_blunts_earlier(
    hardness: float, more: float, dps: float
) -> None:
    def at(hrc: float) -> Case:
        return wedge(dps, Steel(grade="52100", hardness_hrc=hrc))

    soft, hard = quick_run(at(hardness)), quick_run(at(hardness + more))
    for one, other in zip(soft.loads, hard.loads, strict=True):
        assert other.first_yield >= one.first_yield
        assert other.factors.roll.value >= one.factors.roll.value
        assert other.factors.blunt.value >= one.factors.blunt.value


@given(st.floats(5.0, 20.0), st.floats(0.0, 8.0), st.floats(0.05, 0.3))
@never_hurry
def test_mirrored_knives_in_mirrored_work_answer_the_same(
    left: float, more: float, height: float
) -> None:
    def knife(one: float, two: float) -> Profile:
        return Profile(
            apex=Apex(radius_um=2.0),
            bevels=(Bevel(name="edge", left_dps=one, right_dps=two, height_mm=height),),
            height_mm=15.0,
            spine_thickness_mm=1.2,
            primary_grind=PrimaryGrind(),
        )

    work = MediumLoad(name="wood", medium="hard wood", depth_in_cut_mm=0.4, side="left")
    tip = TipLineLoad(name="tip", axial_n_per_mm=0.5, lateral_n_per_mm=1.0)
    ours = Case(profile=knife(left, left + more), steel=STEEL, loads=(work, tip))
    theirs = Case(
        profile=knife(left + more, left),
        steel=STEEL,
        loads=(replace(work, side="right"), replace(tip, lateral_n_per_mm=-1.0)),
    )
    for one, other in zip(quick_run(ours).loads, quick_run(theirs).loads, strict=True):
        assert other.margin == pytest.approx(one.margin, rel=1e-6)
        assert other.first_yield == pytest.approx(one.first_yield, rel=1e-6)
        roll, mirrored = one.factors.roll.side, other.factors.roll.side
        assert (
            mirrored == {"left": "right", "right": "left", "neither": "neither", None: None}[roll]
        )


def test_a_movement_is_judged_by_the_force_that_it_takes() -> None:
    case = replace(read_case("fillet-knife-over-a-rod"), accuracy_percent=3.0)
    for answer, load in zip(run_case(case).loads, quick_run(case).loads, strict=True):
        assert answer.verdict is not None
        assert load.margin == pytest.approx(answer.verdict.margin, rel=0.02)
