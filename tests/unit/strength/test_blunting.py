"""A land that carries what bears on it: R. Hill's truncated wedge (physics.md 7; 1950), by hand."""

from __future__ import annotations

from math import inf, radians, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from judged import judge_of, plain, verdict_on

from simedge.inputs.load import FaceLoad, MediumLoad, TipLineLoad
from simedge.inputs.steel import Steel
from simedge.section.loading import tractions_of
from simedge.strength.blunting import (
    blunt_factor,
    crushing_pressure_mpa,
    half_angle_behind_tip_rad,
    land_needed_mm,
)

#: p / 2k of Hill's truncated wedge, the table of physics.md 7: 1 + alpha.
HILL = {5: 1.0872665, 10: 1.1745329, 15: 1.2617994, 20: 1.3490659, 30: 1.5235988}
K = 1000.0
YIELD = K * sqrt(3.0)
OWN = Steel(yield_strength_mpa=YIELD)


@pytest.mark.parametrize(("dps", "over_2k"), HILL.items())
def test_hills_table(dps: float, over_2k: float) -> None:
    # eight printed digits
    assert crushing_pressure_mpa(radians(dps), YIELD) == pytest.approx(2 * K * over_2k, rel=5e-8)


@pytest.mark.parametrize("sides", [(12.0, 12.0), (0.0, 24.0), (20.0, 4.0)])
def test_a_one_sided_edge_counts_by_half_its_included_angle(sides: tuple[float, float]) -> None:
    edge = plain(sides, radius_um=1.0)
    assert half_angle_behind_tip_rad(edge) == pytest.approx(radians(12.0), rel=1e-12)


@given(dps=st.floats(4.0, 35.0), land_um=st.floats(0.1, 500.0), force=st.floats(0.01, 100.0))
def test_the_factor_by_hand(dps: float, land_um: float, force: float) -> None:
    edge = plain(dps, land_um=land_um, held_mm=5.0)
    load = tractions_of(TipLineLoad(axial_n_per_mm=force), "tip", edge)
    pressure = 2 * K * (1 + radians(dps))
    assert blunt_factor(edge, load, YIELD) == pytest.approx(
        pressure * land_um / 1000.0 / force, rel=1e-12
    )
    assert land_needed_mm(edge, load, YIELD) == pytest.approx(force / pressure, rel=1e-12)


def test_what_pulls_or_pushes_sideways_blunts_nothing() -> None:
    edge = plain(12.0, land_um=3.0)
    for axial, lateral in ((0.0, 5.0), (-2.0, 1.0)):
        tip = TipLineLoad(axial_n_per_mm=axial, lateral_n_per_mm=lateral)
        load = tractions_of(tip, "tip", edge)
        assert blunt_factor(edge, load, YIELD) == inf
        assert land_needed_mm(edge, load, YIELD) == 0.0


@pytest.mark.parametrize("dps", [8.0, 15.0, 25.0])
def test_a_line_load_on_a_sharp_tip_makes_hills_land(dps: float) -> None:
    # issue 5 wants it to 1e-6
    load = TipLineLoad(axial_n_per_mm=10.0)
    verdict = verdict_on(plain(dps), load, OWN)
    land = 10.0 / (2 * K * (1 + radians(dps)))
    assert verdict.blunted_land_um == pytest.approx(1000.0 * land, rel=1e-6)
    # and nothing else happens: the height lost follows from the angle
    lost = 0.5 * land / tan(radians(dps))
    assert verdict.recession.depth_mm == pytest.approx(lost, rel=1e-6)


@pytest.mark.parametrize("over", [0.99, 1.01])
def test_a_medium_blunts_only_if_it_can_press_so_hard(over: float) -> None:
    # none while 3 p <= 2k (1 + alpha)
    strength = over * 2 * K * (1 + radians(12.0)) / 3.0
    load = MediumLoad(
        medium_strength_mpa=strength,
        contact_length_mm=10.0,
        depth_in_cut_mm=0.01,
        side="both",
        hand_force_n=1e5,
    )
    judge = judge_of(plain(12.0, land_um=1.0), load, OWN)
    for cut in (0.0, 0.001, 0.005):
        assert judge.blunt_factor(cut) == pytest.approx(1.0 / over, rel=1e-9)


def test_blunting_ends_at_the_depth_in_the_cut() -> None:
    load = MediumLoad(
        medium_strength_mpa=2000.0,
        contact_length_mm=10.0,
        depth_in_cut_mm=0.01,
        side="both",
        hand_force_n=1e5,
    )
    judge = judge_of(plain(12.0, land_um=1.0), load, OWN)
    assert judge.blunt_factor(0.0099) < 1.0
    assert judge.blunt_factor(0.0101) == inf


def test_faces_alone_bear_on_no_tip() -> None:
    load = FaceLoad(at="left face", from_mm=0.0, to_mm=0.2, pressure_mpa=50.0)
    assert judge_of(plain(12.0, land_um=1.0), load, OWN).load_factors(0.0).blunt.value == inf
