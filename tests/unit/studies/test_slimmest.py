"""How slim an edge may be: against the root of the exact field, and what it says."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, radians, sin

import pytest
from scipy.optimize import brentq

from simedge import read_case
from simedge.errors import BadInput
from simedge.inputs.case import Case
from simedge.inputs.load import MediumLoad, TipLineLoad
from simedge.inputs.profile import Apex, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.inputs.steel_properties import steel_properties
from simedge.strength.closed_form.tip_gain import smooth_load_distance
from simedge.strength.closed_form.wedge_constants import wedge_constants
from simedge.studies.bracket import slimmest_value
from simedge.studies.slimmest import run_margin, slimmest_study
from simedge.studies.slimmest_answer import SlimmestQuestion
from simedge.studies.slimmest_sentence import slimmest_remarks, slimmest_sentences

STEELS = (("52100", 60.0), ("D2", 61.0), ("S7", 56.0), ("420", 52.0), ("M2", 64.0))


def face_depth_mm(dps: float, radius_mm: float, load: float, steel: Steel) -> float:
    """Give where von Mises on the compressed face falls to yield, physics.md 1 and 2."""
    alpha = radians(dps)
    wedge = wedge_constants(alpha)
    made = steel_properties(steel)
    invariant = (1.0 - made.poissons_ratio + made.poissons_ratio**2) ** 0.5
    x0 = radius_mm * smooth_load_distance(alpha)

    def over(r: float) -> float:
        stress = load * sin(alpha) / (wedge.lateral * r)
        stress -= 2.0 * load * x0 * sin(2.0 * alpha) / (wedge.moment * r**2)
        return invariant * stress - made.yield_strength_mpa

    peak = 8.0 * x0 * cos(alpha) * wedge.lateral / wedge.moment
    r = brentq(over, peak, 1e3 * peak)
    return float(r) * cos(alpha) - radius_mm * (1.0 / sin(alpha) - 1.0)


@pytest.mark.parametrize(("grade", "hardness"), STEELS)
def test_a_plain_wedge_is_as_slim_as_the_exact_field_allows(grade: str, hardness: float) -> None:
    """Lateral load, yield depth above 500 radii: the angle within the 0.1 degree asked."""
    steel, radius_um, load, depth_mm = Steel(grade=grade, hardness_hrc=hardness), 0.2, 3.0, 0.15
    case = Case(
        profile=Profile(
            apex=Apex(radius_um=radius_um), height_mm=20.0, primary_grind=PrimaryGrind(dps=12.0)
        ),
        steel=steel,
        accuracy_percent=1.0,
        loads=(TipLineLoad(name="push", lateral_n_per_mm=load),),
    )
    asked = SlimmestQuestion(measure="yield depth", tolerated_yield_depth_mm=depth_mm)
    (way,) = slimmest_study(case, asked).ways
    exact = brentq(
        lambda dps: face_depth_mm(dps, 1e-3 * radius_um, load, steel) - depth_mm, 4.0, 30.0
    )
    assert depth_mm > 500.0 * 1e-3 * radius_um
    assert way.value is not None
    assert way.error is not None
    assert way.value == pytest.approx(exact, abs=0.1)
    assert way.value == pytest.approx(exact, abs=max(3.0 * way.error, 0.03))


def kitchen(*loads: MediumLoad) -> Case:
    """Give the rack's kitchen knife in other work."""
    return replace(read_case("kitchen-knife-on-carrots"), accuracy_percent=5.0, loads=loads)


CARROT = MediumLoad(name="carrot", medium="vegetables", depth_in_cut_mm=6.0, side="left")
BONE = MediumLoad(
    name="touch of bone", medium="bone", depth_in_cut_mm=0.2, side="left", occasional=True
)


def test_a_touch_of_bone_sets_the_angle_and_the_answer_says_so() -> None:
    study = slimmest_study(kitchen(CARROT, BONE))
    edge = study.ways[0]
    assert edge.value is not None
    assert edge.without_occasional is not None
    # steels-and-loads: without a hard thing 7 to 9 degrees or less, with one 12 to 20 or so
    assert 9.0 < edge.value < 20.0
    assert edge.without_occasional.value is not None
    assert edge.without_occasional.value < 9.0
    assert edge.quick.governing.name == "touch of bone"
    assert "touch of bone sets it" in slimmest_sentences(study)[0]
    assert edge.run is not None
    assert run_margin(edge.run, study.question) == pytest.approx(1.0, abs=0.01)
    assert edge.less is not None
    assert edge.more is not None
    assert edge.less.margin < 1.0 < edge.more.margin
    assert edge.band is not None
    assert edge.band[0] < edge.value < edge.band[1]
    thicknesses = [way.way.key for way in study.ways]
    assert thicknesses == ["edge angle", "thickness behind the edge", "spine of the primary grind"]
    if study.pair is not None:
        assert study.pair.thickness_in_cut_mm < edge.thickness_in_cut_mm
        assert run_margin(study.pair.run, study.question) > 0.97


def test_soft_work_is_told_to_be_bound_by_the_search_alone() -> None:
    study = slimmest_study(kitchen(replace(CARROT, level="low")))
    assert study.ways[0].found.by_bound
    assert slimmest_sentences(study)[0].startswith("Even an edge of 2 degrees per side comes")


def test_work_that_no_edge_takes_is_said() -> None:
    study = slimmest_study(kitchen(BONE), SlimmestQuestion(asked_margin=80.0))
    assert study.ways[0].value is None
    assert slimmest_sentences(study)[0].startswith("No edge up to ")


def test_a_measure_that_moves_nothing_is_told() -> None:
    fillet = read_case("fillet-knife-on-the-backbone")
    study = slimmest_study(replace(fillet, accuracy_percent=5.0, loads=fillet.loads[-1:]))
    assert any("spine of the primary grind does not move" in r for r in slimmest_remarks(study))


@pytest.mark.parametrize("depth", [None, 0.0, -1.0, float("inf")])
def test_a_yield_depth_must_be_given_to_judge_by_it(depth: float | None) -> None:
    asked = SlimmestQuestion(measure="yield depth", tolerated_yield_depth_mm=depth)
    with pytest.raises(BadInput, match="needs the depth that is tolerated"):
        slimmest_study(kitchen(BONE), asked)


def test_margins_that_rise_and_fall_are_searched_from_the_stout_end() -> None:
    found = slimmest_value(
        lambda x: 1.5 if 2.0 < x < 3.0 else x / 10.0, 1.0, 40.0, asked=1.0, close=1e-6
    )
    assert found is not None
    assert found.value == pytest.approx(10.0, abs=1e-4)
    assert all(2.0 < value < 3.0 for value in found.islands)
    assert found.islands


def test_what_cannot_be_built_is_passed_over() -> None:
    found = slimmest_value(lambda x: None if x < 3.0 else x / pi, 1.0, 40.0, asked=2.0, close=1e-6)
    assert found is not None
    assert found.value == pytest.approx(2.0 * pi, abs=1e-4)
    assert slimmest_value(lambda _: None, 1.0, 2.0, asked=1.0, close=1e-6) is None
