"""Plastic rectangles in plane strain under moment, axial force and shear, by hand.

M / M_p + (N / N_p)^2 + (V / V_p)^4 = 1: M and N exact for a rectangle, the shear term after
D.C. Drucker, J. Appl. Mech. 23 (1956) 509-514 (from memory).
"""

from __future__ import annotations

from dataclasses import replace
from math import inf, radians, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from judged import judge_of, plain, sections_of, times

from simedge.inputs.load import FaceLoad, TipLineLoad
from simedge.inputs.steel import Steel
from simedge.section.tractions import FaceTraction, TipTraction, Tractions
from simedge.strength.roll import factor_of, folds_towards, plastic_shares, roll_factors

K = 1000.0
YIELD = K * sqrt(3.0)
#: Shares of what a section carries alone: none, or from next to nothing to far too much.
parts = st.one_of(st.just(0.0), st.floats(1e-9, 1e4))


def on_tip(axial: float, lateral: float) -> Tractions:
    tip = TipTraction(axial_n_per_mm=axial, lateral_n_per_mm=lateral)
    return Tractions(name="tip", tip=(tip,))


def pressed(friction: float = 0.0) -> Tractions:
    face = FaceTraction(side="left", from_mm=0.0, to_mm=0.5, pressure_mpa=30.0, friction=friction)
    return Tractions(name="pressed", faces=(face,))


@given(moment=parts, axial=parts, shear=parts)
def test_the_factor_solves_its_polynomial(moment: float, axial: float, shear: float) -> None:
    assume(moment + axial + shear > 0.0)
    (f,) = factor_of(np.array([moment]), np.array([axial]), np.array([shear]))
    # Newton's method ends within 1e-14 of the root, each term is steep at most as its fourth power
    assert moment * f + (axial * f) ** 2 + (shear * f) ** 4 == pytest.approx(1.0, rel=1e-12)


@given(moment=parts, axial=parts, shear=parts, times_as_large=st.floats(0.01, 100.0))
def test_the_factor_goes_as_one_over_the_load(
    moment: float, axial: float, shear: float, times_as_large: float
) -> None:
    assume(moment + axial + shear > 0.0)
    share = np.array([[moment], [axial], [shear]])
    once, more = factor_of(*share), factor_of(*(times_as_large * share))
    assert more * times_as_large == pytest.approx(once, rel=1e-12)


@given(shares=st.tuples(parts, parts, parts), which=st.integers(0, 2), more=st.floats(1.0, 10.0))
def test_more_of_anything_never_helps(
    shares: tuple[float, float, float], which: int, more: float
) -> None:
    assume(sum(shares) > 0.0)
    worse = [part * more if number == which else part for number, part in enumerate(shares)]
    once, then = (factor_of(*(np.array([part]) for part in of)) for of in (shares, worse))
    assert then[0] <= once[0] * (1.0 + 1e-13)


def test_each_alone_and_two_by_hand() -> None:
    moment, axial, shear = np.array(
        # alone, alone, alone, the golden section of m f + f^2 = 1, f^2 + f^4 = 1, nothing
        [[0.5, 0, 0], [0, 0.5, 0], [0, 0, 0.5], [1, 1, 0], [0, 1, 1], [0, 0, 0]]
    ).T.astype(float)
    golden = 0.5 * (sqrt(5.0) - 1.0)
    wanted = [2.0, 2.0, 2.0, golden, sqrt(golden), inf]
    assert factor_of(moment, axial, shear) == pytest.approx(wanted, rel=1e-13)


def test_shares_of_a_section_by_hand() -> None:
    # 10 dps behind a land of 40 um: t at 1 mm; M_p = 2k t^2 / 4, N_p = 2k t, V_p = k t
    cut = sections_of(plain(10.0, land_um=40.0), replace(pressed(), tip=on_tip(5.0, 3.0).tip))
    shares = plastic_shares(cut, YIELD)
    at = int(np.argmin(np.abs(cut.x_mm - 1.0)))
    x, t = cut.x_mm[at], 0.04 + 2.0 * cut.x_mm[at] * tan(radians(10))
    slope = tan(radians(10))
    push, lift = -30.0 * 0.5, 30.0 * 0.5 * slope  # of the face, at 0.25 mm
    moment = -3.0 * x - push * (x - 0.25) - lift * (0.02 + 0.25 * slope)
    assert shares.moment[at] == pytest.approx(moment / (2 * K * t**2 / 4), rel=1e-9)
    assert shares.axial[at] == pytest.approx(lift / (2 * K * t), rel=1e-9)  # not the tip's 5 N/mm
    assert shares.shear[at] == pytest.approx(abs(3.0 + push) / (K * t), rel=1e-9)


def test_what_bears_on_the_tip_does_not_fold_it() -> None:
    wedge = plain(12.0, land_um=20.0)
    with_axial = roll_factors(sections_of(wedge, on_tip(50.0, 1.0)), YIELD)
    assert with_axial == pytest.approx(roll_factors(sections_of(wedge, on_tip(0.0, 1.0)), YIELD))
    straight = roll_factors(sections_of(wedge, on_tip(50.0, 0.0)), YIELD)
    assert np.all(straight == inf)


@given(factor=st.floats(0.01, 100.0), friction=st.floats(0.0, 0.5))
def test_of_a_load_so_many_times_as_large(factor: float, friction: float) -> None:
    wedge = plain(9.0, land_um=10.0)
    load = replace(pressed(friction), tip=on_tip(0.0, 0.3).tip)
    once = roll_factors(sections_of(wedge, load), YIELD)
    more = roll_factors(sections_of(wedge, times(load, factor)), YIELD)
    assert factor * more == pytest.approx(once, rel=1e-10)


@given(harder=st.floats(1.0, 3.0))
def test_a_harder_steel_takes_as_much_more(harder: float) -> None:
    cut = sections_of(plain(9.0, land_um=10.0), pressed(0.3))
    assert roll_factors(cut, harder * YIELD) == pytest.approx(
        harder * roll_factors(cut, YIELD), rel=1e-12
    )


@given(hardness=st.floats(40.0, 67.0), step=st.floats(0.1, 1.0))
def test_a_harder_grade_never_rolls_sooner(hardness: float, step: float) -> None:
    edge = plain(9.0, radius_um=0.5)
    load = FaceLoad(at="left face", from_mm=0.0, to_mm=0.3, pressure_mpa=60.0)
    soft, hard = (
        judge_of(edge, load, Steel(grade="52100", hardness_hrc=hrc)).load_factors(0.005).roll
        for hrc in (hardness, hardness + step)
    )
    assert soft.value < hard.value
    assert soft.low <= soft.value <= soft.high


def test_a_push_on_the_tip_folds_it_the_way_of_the_push() -> None:
    for lateral, side in ((1.0, "left"), (-1.0, "right")):
        cut = sections_of(plain(8.0, land_um=10.0), on_tip(0.0, lateral))
        factors = roll_factors(cut, YIELD)
        at = int(np.argmin(factors))
        assert folds_towards(cut, float(factors[at]), YIELD, at) == side


def test_a_pressed_face_folds_away_from_the_pressure() -> None:
    cut = sections_of(plain(8.0), pressed())
    factors = roll_factors(cut, YIELD)
    at = int(np.argmin(factors))
    assert folds_towards(cut, float(factors[at]), YIELD, at) == "right"


def test_what_is_sheared_off_folds_to_no_side() -> None:
    # above 14 degrees the land shears off at its very front, where nothing bends
    cut = sections_of(plain(25.0, land_um=100.0), on_tip(0.0, 1.0))
    factors = roll_factors(cut, YIELD)
    at = int(np.argmin(factors))
    assert at == 0
    assert factors[0] == pytest.approx(K * 0.1, rel=1e-12)
    assert folds_towards(cut, float(factors[at]), YIELD, at) == "neither"


def test_where_it_folds_is_told_behind_the_whole_edges_apex() -> None:
    # a line load on the land of a wedge cut back by c folds it at twice the virtual distance:
    # 8 dps, sharp: c behind the new front, 2 c behind the apex
    judge = judge_of(
        plain(8.0), TipLineLoad(lateral_n_per_mm=1.0), Steel(grade="52100", hardness_hrc=60)
    )
    roll = judge.load_factors(0.05).roll
    assert roll.side == "left"
    # a ninth of the depth between sections; shear moves it forward by a few per cent
    assert roll.x_mm == pytest.approx(0.10, rel=0.1)
