"""Arcs and straight runs of a face against circle geometry done by hand, and with exact numbers."""

from __future__ import annotations

from fractions import Fraction
from math import asin, cos, degrees, hypot, inf, isnan, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.inputs.curves import Bow, Curve, half_turn_rad, hollow_bulge_mm


def arc(bulge: float, rise: float = 0.0, run: float = 2.0) -> Curve:
    return Curve(begin_mm=(1.0, 3.0), end_mm=(1.0 + run, 3.0 + rise), bulge_mm=bulge)


def test_a_straight_run_by_hand() -> None:
    run = Curve(begin_mm=(1.0, 2.0), end_mm=(4.0, 6.0))
    assert run.chord_mm == 5.0
    assert run.is_straight
    assert run.radius_mm == inf
    assert run.begin_angle_rad == run.end_angle_rad == run.chord_angle_rad
    assert tan(run.chord_angle_rad) == pytest.approx(4 / 3)
    assert run.out_at(2.5) == 4.0
    assert run.cut_at(2.5) == Curve(begin_mm=(1.0, 2.0), end_mm=(2.5, 4.0))
    assert run.cut_at(4.0) is run


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_half_a_circle_by_hand(sign: float) -> None:
    # over a level chord of 2: radius 1, centre in the middle of the chord
    half = arc(sign * 1.0)
    assert half.radius_mm == pytest.approx(1.0)
    assert half.centre_mm == pytest.approx((2.0, 3.0))
    assert half.out_at(2.0) == pytest.approx(3.0 + sign)
    assert half.out_at(2.6) == pytest.approx(3.0 + sign * 0.8)
    assert degrees(half.begin_angle_rad) == pytest.approx(sign * 90)
    assert degrees(half.end_angle_rad) == pytest.approx(-sign * 90)


def test_an_arc_of_a_wheel_by_hand() -> None:
    # wheel of radius 5 over a level chord of 6: the centre lies 4 off the chord, the bow is 1
    bulge = hollow_bulge_mm(6.0, 5.0)
    assert bulge == pytest.approx(-1.0, rel=1e-15)
    hollow = Curve(begin_mm=(0.0, 0.0), end_mm=(6.0, 0.0), bulge_mm=bulge)
    assert hollow.radius_mm == pytest.approx(5.0, rel=1e-15)
    assert hollow.centre_mm == pytest.approx((3.0, 4.0))
    assert hollow.out_at(3.0) == pytest.approx(-1.0)
    # 4 - sqrt(5^2 - (3 - x)^2) at x = 0 and 6 is 0; at x = 3 - 4 it would be 1
    assert hollow.begin_angle_rad == pytest.approx(-asin(3 / 5))
    assert hollow.end_angle_rad == pytest.approx(asin(3 / 5))


def test_a_wheel_that_does_not_reach_gives_no_bow() -> None:
    assert isnan(hollow_bulge_mm(6.0, 2.999))
    assert hollow_bulge_mm(6.0, 3.0) == -3.0


def test_a_bow_is_a_bulge_or_a_wheel_or_neither() -> None:
    assert Bow().is_straight
    assert Bow().over(3.0) == 0.0
    assert not Bow(bulge_mm=0.2).is_straight
    assert Bow(bulge_mm=0.2).over(3.0) == 0.2
    assert not Bow(wheel_radius_mm=5.0).is_straight
    assert Bow(wheel_radius_mm=5.0).over(6.0) == pytest.approx(-1.0)


def test_half_a_turn_of_an_arc_is_the_angle_between_chord_and_tangent() -> None:
    # radius 1, opening 60 degrees: the chord is 1, the bow 1 - cos 30, the angle 30
    assert degrees(half_turn_rad(1 - cos(pi / 6), 1.0)) == pytest.approx(30.0)
    assert half_turn_rad(-0.1, 2.0) == -half_turn_rad(0.1, 2.0)


turns = st.floats(1e-6, 1.2) | st.floats(-1.2, -1e-6)


@given(turn=turns, angle=st.floats(0.0, 0.35), chord=st.floats(1e-3, 60.0), at=st.floats(0.0, 1.0))
def test_every_place_of_an_arc_lies_on_its_circle(
    turn: float, angle: float, chord: float, at: float
) -> None:
    curve = Curve(
        begin_mm=(0.3, 0.2),
        end_mm=(0.3 + chord * cos(angle), 0.2 + chord * sin(angle)),
        bulge_mm=0.5 * chord * tan(turn / 2),
    )
    assert curve.radius_mm == pytest.approx(chord / (2 * sin(abs(turn))), rel=1e-9)
    x = 0.3 + at * chord * cos(angle)
    out, (centre_x, centre_out) = curve.out_at(x), curve.centre_mm
    assert hypot(x - centre_x, out - centre_out) == pytest.approx(curve.radius_mm, rel=1e-12)
    # a tangent stands square to its radius
    for (px, py), tangent in (
        (curve.begin_mm, curve.begin_angle_rad),
        (curve.end_mm, curve.end_angle_rad),
    ):
        along = (px - centre_x) * cos(tangent) + (py - centre_out) * sin(tangent)
        assert along == pytest.approx(0.0, abs=1e-9 * curve.radius_mm)


def test_the_middle_of_an_arc_is_its_bulge_off_the_chord() -> None:
    curve = Curve(begin_mm=(0.0, 0.0), end_mm=(8.0, 6.0), bulge_mm=-0.5)
    # the middle of the chord (4, 3), and 0.5 to its right hand: (0.3, -0.4)
    assert curve.out_at(4.3) == pytest.approx(2.6, rel=1e-14)


@pytest.mark.parametrize("bulge", [1e-7, 1e-5, 1e-3, -1e-7, -1e-3])
def test_a_wide_arc_over_a_short_face_keeps_its_digits(bulge: float) -> None:
    # against exact rational numbers: level chord of 20 mm, at 1/16 of it
    chord, bow, share = Fraction(20), Fraction(abs(bulge)), Fraction(1, 16)
    radius = (chord**2 / 4 + bow**2) / (2 * bow)
    # rise s solves s^2 + 2 s (R - bow) = share (1 - share) chord^2; two steps of Newton
    power, middle = share * (1 - share) * chord**2, radius - bow
    rise = power / (2 * middle)
    for _ in range(2):
        rise -= (rise**2 + 2 * rise * middle - power) / (2 * rise + 2 * middle)
    curve = Curve(begin_mm=(0.0, 0.0), end_mm=(20.0, 0.0), bulge_mm=bulge)
    assert abs(curve.out_at(1.25)) == pytest.approx(float(rise), rel=1e-14)


@pytest.mark.parametrize("bulge", [0.3, -0.3])
@pytest.mark.parametrize("share", [0.01, 0.4, 0.999])
def test_a_cut_arc_lies_on_the_same_circle(bulge: float, share: float) -> None:
    whole = arc(bulge, rise=0.6)
    x = 1.0 + 2.0 * share
    cut = whole.cut_at(x)
    assert cut.begin_mm == whole.begin_mm
    assert cut.end_mm == (x, whole.out_at(x))
    assert cut.radius_mm == pytest.approx(whole.radius_mm, rel=1e-12)
    assert cut.centre_mm == pytest.approx(whole.centre_mm, rel=1e-9)
    assert cut.begin_angle_rad == pytest.approx(whole.begin_angle_rad, rel=1e-9)
    middle = 1.0 + share
    assert cut.out_at(middle) == pytest.approx(whole.out_at(middle), rel=1e-14)


def test_a_bow_of_a_billionth_is_straight() -> None:
    assert arc(1.9e-9).is_straight
    assert not arc(2.1e-9).is_straight
    assert arc(1.9e-9).half_turn_rad == 0.0


def test_a_quarter_of_a_circle_between_level_and_upright() -> None:
    # from (0, 0) upwards, to (1, 1) level: centre (1, 0), radius 1, bow 1 - sqrt(1/2)
    quarter = Curve(begin_mm=(0.0, 0.0), end_mm=(1.0, 1.0), bulge_mm=1 - sqrt(0.5))
    assert quarter.centre_mm == pytest.approx((1.0, 0.0), abs=1e-15)
    assert degrees(quarter.begin_angle_rad) == pytest.approx(90.0)
    assert degrees(quarter.end_angle_rad) == pytest.approx(0.0, abs=1e-13)
    assert quarter.out_at(0.0) == 0.0
    assert quarter.out_at(0.2) == pytest.approx(0.6)
    assert quarter.out_at(1.0) == pytest.approx(1.0)
    assert radians(45) == pytest.approx(quarter.half_turn_rad)
