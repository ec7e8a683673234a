"""What a steadier hand buys: the ends are runs of their own; first yield is the wedge's."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge import read_case, steady_hand
from simedge.errors import BadInput
from simedge.inputs.case import Case, Support
from simedge.inputs.grinds import Apex, PrimaryGrind
from simedge.inputs.load import MediumLoad, TipLineLoad
from simedge.inputs.profile import Profile
from simedge.runs.quick import quick_run
from simedge.studies.steady_hand import SteadyHandStudy
from simedge.studies.steady_hand_sentence import steady_hand_sentences


@pytest.fixture(scope="module")
def rope() -> SteadyHandStudy:
    return steady_hand(read_case("rope-knife-in-a-knot"))


def test_as_it_is_it_takes_what_a_quick_run_says(rope: SteadyHandStudy) -> None:
    for load, quick in zip(rope.loads, quick_run(rope.case).loads, strict=True):
        assert load.own.margin == pytest.approx(quick.margin, rel=1e-9)
        assert load.own.kind == quick.governing_kind
        assert load.own.first_yield == pytest.approx(quick.first_yield, rel=1e-9)


def test_straight_it_takes_what_both_faces_alike_take(rope: SteadyHandStudy) -> None:
    steering = rope.case.loads[0]
    assert isinstance(steering, MediumLoad)
    (both,) = quick_run(replace(rope.case, loads=(replace(steering, side="both"),))).loads
    assert rope.loads[0].straight.margin == pytest.approx(both.margin, rel=1e-9)
    assert rope.loads[0].own is rope.loads[0].crooked


def test_a_steadier_hand_buys_a_lot_with_one_face_pressed(rope: SteadyHandStudy) -> None:
    wedged = rope.loads[1]
    assert wedged.straight.margin > 4.0 * wedged.own.margin  # 4 to 12 times, and more
    margins = [ray.margin for ray in wedged.rays]
    assert margins == sorted(margins, reverse=True)


def test_one_load_may_be_asked_alone(rope: SteadyHandStudy) -> None:
    (alone,) = steady_hand(rope.case, "leaning on it").loads
    assert alone == rope.loads[3]
    with pytest.raises(BadInput, match='has no such load; it has "steering the cut"'):
        steady_hand(rope.case, "leaning")


def test_where_the_edge_no_longer_comes_through_is_found() -> None:
    (load,) = steady_hand(read_case("fillet-knife-over-a-rod"), "bent over the backbone").loads
    assert load.holds_up_to is not None
    before = max(r.crookedness for r in load.rays if r.margin >= 1.0)
    behind = min(r.crookedness for r in load.rays if r.margin < 1.0)
    assert before <= load.holds_up_to <= behind


def test_the_sentence_tells_what_straight_and_half_as_crooked_take(rope: SteadyHandStudy) -> None:
    steering, _, staple, leaning = steady_hand_sentences(rope)
    assert steering.startswith("steering the cut: comes through, at up to ")
    assert "Straight it would take" in steering
    assert "with half the twist, " in steering
    assert "Steadier buys nothing" in staple
    assert "at 15 instead of 30 degrees off straight" in leaning


def test_straight_work_is_warned_of_a_little_crookedness() -> None:
    study = steady_hand(read_case("kitchen-knife-on-carrots"), "straight down")
    (sentence,) = steady_hand_sentences(study)
    assert "With one face alone pressed it would take" in sentence
    assert "a tenth of that twist already leaves" in sentence


@settings(max_examples=10)
@given(st.floats(0.05, 0.95), st.floats(0.5, 20.0))
def test_sides_answer_alike_and_margins_follow_the_force(share: float, force: float) -> None:
    """A mirrored load takes as many times; twice the load, half as many times."""
    case = read_case("rope-knife-in-a-knot")
    line = TipLineLoad(axial_n_per_mm=force * (1.0 - share), lateral_n_per_mm=force * share)
    mirrored = replace(line, lateral_n_per_mm=-line.lateral_n_per_mm)
    double = replace(
        line,
        axial_n_per_mm=2.0 * line.axial_n_per_mm,
        lateral_n_per_mm=2.0 * line.lateral_n_per_mm,
    )
    one, other, twice = (
        steady_hand(replace(case, loads=(each,))).loads[0] for each in (line, mirrored, double)
    )
    for ray, across, strong in zip(one.rays, other.rays, twice.rays, strict=True):
        assert across.margin == pytest.approx(ray.margin, rel=1e-6)
        assert across.sideways_n_per_mm == pytest.approx(ray.sideways_n_per_mm, rel=1e-9)
        assert 2.0 * strong.margin == pytest.approx(ray.margin, rel=1e-6)


LAND_MM, YIELD_MPA, POISSON = 0.02, 2000.0, 0.3


def plain_wedge(dps: float) -> Case:
    """Give an endless wedge with a land, pushed 1 N/mm sideways."""
    case = read_case("rope-knife-in-a-knot")
    profile = Profile(
        apex=Apex(land_um=1000.0 * LAND_MM),
        height_mm=30.0,
        primary_grind=PrimaryGrind(dps=dps),
    )
    steel = replace(case.steel, yield_strength_mpa=YIELD_MPA, poissons_ratio=POISSON)
    return replace(
        case,
        profile=profile,
        steel=steel,
        support=Support(),
        loads=(TipLineLoad(lateral_n_per_mm=1.0),),
    )


def von_mises_of_wedge(dps: float, axial: float, lateral: float) -> float:
    """Give the largest von Mises stress farther than half the land from it, by hand.

    Force at the virtual apex (Michell) and moment (Carothers), Q acting x0 behind it:
    sigma_r = -(P cos t / A_P + Q sin t / A_Q) / r + 2 Q x0 sin 2t / (m r^2),
    tau = Q x0 (cos 2a - cos 2t) / (m r^2), sigma_t = 0, sigma_z = nu sigma_r.
    """
    a = radians(dps)
    a_p, a_q = a + 0.5 * sin(2 * a), a - 0.5 * sin(2 * a)
    m = sin(2 * a) - 2 * a * cos(2 * a)
    x0 = 0.5 * LAND_MM / tan(a)
    r, t = np.meshgrid(x0 * np.geomspace(1.0, 30.0, 4001), np.linspace(-a, a, 201))
    x, y = r * np.cos(t) - x0, r * np.sin(t)
    far = np.hypot(x, np.maximum(np.abs(y) - 0.5 * LAND_MM, 0.0)) >= 0.5 * LAND_MM
    radial = -(axial * np.cos(t) / a_p + lateral * np.sin(t) / a_q) / r
    radial += 2 * lateral * x0 * np.sin(2 * t) / (m * r**2)
    shear = lateral * x0 * (cos(2 * a) - np.cos(2 * t)) / (m * r**2)
    mises = np.sqrt((1 - POISSON + POISSON**2) * radial**2 + 3 * shear**2)
    return float(mises[far & (x > 0.0)].max())


@pytest.mark.parametrize("dps", [5.0, 10.0, 15.0, 20.0])
def test_first_yield_of_a_plain_wedge_is_the_closed_form_in_each_direction(dps: float) -> None:
    """Source: Michell 1900 and Carothers 1912.

    1.2 % because the first place off the loaded land is found on depths 4.6 % apart.
    """
    (load,) = steady_hand(plain_wedge(dps)).loads
    assert len(load.rays) > 20
    for ray in load.rays:
        peak = von_mises_of_wedge(dps, ray.straight_n_per_mm, ray.sideways_n_per_mm)
        assert ray.first_yield == pytest.approx(YIELD_MPA / peak, rel=1.2e-2)


@pytest.mark.parametrize(("dps", "printed"), [(5.0, 49.367417), (10.0, 12.436823)])
def test_sideways_first_yield_is_the_printed_peak(dps: float, printed: float) -> None:
    """Peak x0 / Q of a force across a wedge, x0 behind its apex: physics of the wedge, table 2."""
    (load,) = steady_hand(plain_wedge(dps)).loads
    x0 = 0.5 * LAND_MM / tan(radians(dps))
    peak = sqrt(1 - POISSON + POISSON**2) * printed / x0
    assert load.crooked.first_yield == pytest.approx(YIELD_MPA / peak, rel=2e-3)
