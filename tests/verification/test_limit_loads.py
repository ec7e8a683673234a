"""Roll and tip pressure against limit loads of rigid-plastic wedges (physics.md 7).

Bounds there: lower ones by numerical limit analysis (A. Makrodimopoulos & C.M. Martin, Int. J.
Numer. Meth. Eng. 66 (2006) 604-634, the method), upper ones by mechanisms of A.P. Green's kind
(J. Mech. Phys. Solids 3 (1954) 1-15 and 143-155); Hill's pressure on a truncated wedge (The
Mathematical Theory of Plasticity, 1950). The shear term of the interaction is Drucker's.
"""

from __future__ import annotations

from math import radians, sqrt, tan

import numpy as np
import pytest
from judged import plain, sections_of, verdict_on

from simedge.inputs.load import FaceLoad, TipLineLoad
from simedge.inputs.steel import Steel
from simedge.section.outline import Outline
from simedge.section.tractions import TipTraction, Tractions
from simedge.strength.blunting import crushing_pressure_mpa
from simedge.strength.roll import roll_factors

K = 1000.0
YIELD = K * sqrt(3.0)
OWN = Steel(yield_strength_mpa=YIELD)
LAND_MM = 0.1
#: Q / (4 k t_a tan a) by angle: lower bound, upper bound, and how near to the bracket issue 5
#: wants the limit. Between 5 and 14 degrees the exact load is not known.
BRACKETS = {
    5: (0.9923, 1.0751, 0.05),
    10: (0.9698, 1.1284, 0.05),
    15: (0.9052, 0.9330, 0.05),
    20: (0.6716, 0.6869, 0.05),
    30: (0.4255, 0.4330, 0.08),
}


def on_tip(lateral: float) -> Tractions:
    tip = TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=lateral, spread="uniform")
    return Tractions(name="on the land", tip=(tip,))


def truncated(dps: float) -> Outline:
    return plain(dps, land_um=1000.0 * LAND_MM, held_mm=20.0)


def limit(dps: float) -> tuple[float, float]:
    """Give Q / (4 k t_a tan a), and where it folds over the virtual distance a."""
    cut = sections_of(truncated(dps), on_tip(1.0))
    factors = roll_factors(cut, YIELD)
    at = int(np.argmin(factors))
    slope = tan(radians(dps))
    front = LAND_MM / (2.0 * slope)
    return float(factors[at]) / (4.0 * K * LAND_MM * slope), (front + cut.x_mm[at]) / front


@pytest.mark.parametrize("dps", BRACKETS)
def test_a_push_on_the_land_lies_in_the_bracket(dps: int) -> None:
    # measured: 0.9992, 0.9845, 0.9157, 0.6869 and 0.4330 at 5, 10, 15, 20 and 30 degrees: all of
    # them inside their brackets, of which the upper ones from 20 on are met to four digits
    lower, upper, near = BRACKETS[dps]
    found, _ = limit(dps)
    assert lower * (1.0 - near) <= found <= upper * (1.0 + near)
    # issue 5, as verified: inside the brackets + 1 %
    assert lower * 0.99 <= found <= upper * 1.01


@pytest.mark.parametrize(("dps", "near"), [(3, 0.005), (5, 0.005), (8, 0.02), (10, 0.04)])
def test_slim_wedges_fold_at_twice_the_virtual_distance(dps: float, near: float) -> None:
    # Q = 4 k t_a tan a; issue 5 allows 0.5 % at 5 and 4 % at 10 degrees, shear counted (measured
    # 0.1 % and 1.5 %). The minimum over depth is flat: the hinge itself stands within 5 % of 2a.
    found, hinge = limit(dps)
    assert found == pytest.approx(1.0, abs=near)
    assert found <= 1.0 + 1e-4  # sections miss the very minimum by less; shear only takes away
    assert hinge == pytest.approx(2.0, rel=0.05)


@pytest.mark.parametrize("dps", [16.0, 18.0, 20.0, 25.0, 30.0, 40.0])
def test_stout_wedges_shear_their_land_off(dps: float) -> None:
    # from 16 degrees (14 without the shear term) at the very front, under k t_a
    found, hinge = limit(dps)
    assert hinge == pytest.approx(1.0, abs=1e-12)
    assert found * 4.0 * tan(radians(dps)) == pytest.approx(1.0, rel=1e-9)


@pytest.mark.parametrize("dps", [5.0, 10.0, 13.0, 15.0])
def test_below_16_degrees_it_bends_first(dps: float) -> None:
    assert limit(dps)[1] > 1.5


@pytest.mark.parametrize(
    ("dps", "lower"), [(5, 1.0822), (10, 1.1644), (15, 1.2460), (20, 1.3276), (30, 1.4893)]
)
def test_the_pressure_on_a_land_is_hills_and_above_the_lower_bounds(dps: int, lower: float) -> None:
    # physics.md 7, case 4: lower bounds by limit analysis, 0.5 to 4 % below Hill's
    over_2k = crushing_pressure_mpa(radians(dps), YIELD) / (2.0 * K)
    assert lower <= over_2k <= lower * 1.04


@pytest.mark.parametrize("dps", [5.0, 7.0, 8.0, 10.0])
@pytest.mark.parametrize("over", [2.0, 3.0, 5.0])
def test_recession_under_pressure_on_one_face(dps: float, over: float) -> None:
    # issue 5: r = (d/2)(p / (4k tan^2 a) - 1) - (R / sin a - R), the sum within 4 % where p is at
    # least twice 4k tan^2 a. Measured 0.8 to 2.9 % too small: the face's axial force, which the
    # formula leaves out, is counted against the distance between hinge and patch
    slope, radius, pressed = tan(radians(dps)), 5e-4, 0.1
    load = FaceLoad(
        at="left face", from_mm=0.0, to_mm=pressed, pressure_mpa=over * 4 * K * slope**2
    )
    found = verdict_on(plain(dps, radius_um=0.5, held_mm=20.0), load, OWN).recession
    front = radius / np.sin(radians(dps)) - radius
    assert found.depth_mm + front == pytest.approx(0.5 * pressed * (over - 1.0), rel=0.04)


@pytest.mark.parametrize(("dps", "near"), [(5.0, 0.01), (7.0, 0.01), (8.0, 0.01), (10.0, 0.02)])
@pytest.mark.parametrize("wanted", [0.02, 0.1])
def test_recession_under_a_lateral_line_load(dps: float, near: float, wanted: float) -> None:
    # issue 5: r = Q / (8k tan^2 a) - (R / sin a - R), the sum within 1 % to 8 dps and 2 % at 10
    slope, radius = tan(radians(dps)), 5e-4
    load = TipLineLoad(lateral_n_per_mm=wanted * 8 * K * slope**2)
    found = verdict_on(plain(dps, radius_um=0.5, held_mm=20.0), load, OWN).recession
    front = radius / np.sin(radians(dps)) - radius
    assert found.depth_mm + front == pytest.approx(wanted, rel=near)


@pytest.mark.parametrize(("slim", "stout"), [(5.0, 7.5), (6.0, 9.0), (10.0, 15.0)])
def test_strength_at_a_fixed_depth_goes_as_the_angle_squared(slim: float, stout: float) -> None:
    # steels-and-loads.md 5: 2.25 for half as much again. A push on a sharp edge cut back by c:
    # Q = 8 k c tan^2 a, less what shear takes (3 % at 10, 8 % at 15 degrees)
    def push(dps: float) -> float:
        cut = sections_of(plain(dps, land_um=2e3 * 0.05 * tan(radians(dps))), on_tip(1.0))
        return float(roll_factors(cut, YIELD).min())

    gain = push(stout) / push(slim)
    assert gain == pytest.approx((tan(radians(stout)) / tan(radians(slim))) ** 2, rel=0.08)
    assert gain == pytest.approx((stout / slim) ** 2, rel=0.08)
