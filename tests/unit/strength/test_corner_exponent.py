"""Williams' exponents against every row of a table checked by determinants and root scans."""

from __future__ import annotations

from cmath import sin
from math import pi, radians, tan
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from simedge.strength.closed_form.corner_exponent import (
    clamped_corner_exponent,
    free_corner_exponent,
    free_corner_root,
)

Field = Literal["symmetric", "antisymmetric"]
#: Tables print eight digits behind the point.
PRINTED = 5.1e-9

# Angle of the steel in degrees, and lambda of both fields; None: not below 1.
REENTRANT: list[tuple[float, float, float | None]] = [
    (182, 0.97826096, None),
    (185, 0.94737167, None),
    (190, 0.90004381, None),
    (195, 0.85733185, None),
    (200, 0.81869585, None),
    (210, 0.75197455, None),
    (225, 0.67358343, None),
    (240, 0.61573106, None),
    (270, 0.54448374, 0.90852919),
    (300, 0.51222136, 0.73090074),
    (360, 0.5, 0.5),
]
CONVEX = [
    (90, 2.7395934 + 1.1190245j, 4.8082508 + 1.4639281j),
    (120, 2.0941391 + 0.604585j, 3.630729 + 0.88122599j),
    (140, 1.8268686 + 0.26169532j, 3.1328905 + 0.55157156j),
    (150, 1.53386, 2.9367212 + 0.36374649j),
    (160, 1.2884139, 2.6588841),
    (165, 1.2006316, 2.4164432),
    (170, 1.1250964, 2.253132),
    (175, 1.0588283, 2.1179269),
    (178, 1.0227274, 2.0454696),
]
# Angle in degrees, Poisson's ratio, lambda.
CLAMPED = [
    (90, 0.28, 0.72432209),
    (90, 0.30, 0.71117293),
    (85, 0.28, 0.75084786),
    (85, 0.30, 0.73727823),
    (80, 0.28, 0.78192968),
    (80, 0.30, 0.76782452),
    (75, 0.28, 0.81840949),
    (75, 0.30, 0.80364529),
    (70, 0.28, 0.86138464),
    (70, 0.30, 0.84582277),
    (65, 0.28, 0.91230153),
    (65, 0.30, 0.89578031),
    (60, 0.28, 0.97309766),
    (60, 0.30, 0.95542225),
    (55, 0.28, 1.0464226),
    (55, 0.30, 1.027351),
    (45, 0.28, 1.2471796),
    (45, 0.30, 1.2242875),
]


@pytest.mark.parametrize(("degrees", "symmetric", "antisymmetric"), REENTRANT)
def test_corners_that_turn_into_the_steel(
    degrees: float, symmetric: float, antisymmetric: float | None
) -> None:
    angle = radians(degrees)
    assert free_corner_exponent(angle) == pytest.approx(symmetric, abs=PRINTED)
    found = free_corner_root(angle, "antisymmetric")
    assert found.imag == 0.0
    if antisymmetric is None:
        assert found.real > 1.0
    else:
        assert found.real == pytest.approx(antisymmetric, abs=PRINTED)


@pytest.mark.parametrize(("degrees", "symmetric", "antisymmetric"), CONVEX)
def test_corners_that_stand_out(degrees: float, symmetric: complex, antisymmetric: complex) -> None:
    fields: tuple[tuple[Field, complex], ...] = (
        ("symmetric", symmetric),
        ("antisymmetric", antisymmetric),
    )
    for field, expected in fields:
        found = free_corner_root(radians(degrees), field)
        # eight digits each of the real and the imaginary part
        assert found == pytest.approx(expected, abs=7.2e-8)


@pytest.mark.parametrize(("degrees", "ratio", "expected"), CLAMPED)
def test_corners_held_on_one_side(degrees: float, ratio: float, expected: float) -> None:
    found = clamped_corner_exponent(radians(degrees), ratio)
    assert found == pytest.approx(expected, abs=5.1e-8 if expected > 1.0 else PRINTED)


@pytest.mark.parametrize(("ratio", "degrees"), [(0.3, 56.789089), (0.28, 58.051941)])
def test_stress_at_a_clamp_has_a_bound_below_this_angle(ratio: float, degrees: float) -> None:
    assert clamped_corner_exponent(radians(degrees), ratio) == pytest.approx(1.0, abs=1e-7)


def test_a_clamped_straight_bar_without_poissons_ratio_has_no_singularity() -> None:
    # plain tension stays plain where nothing wants to narrow
    assert clamped_corner_exponent(pi / 2, 0.0) == pytest.approx(1.0, abs=1e-7)


def test_a_turn_slightly_into_the_steel_by_its_series() -> None:
    # lambda = 1 - (2 / pi) turn + ..., the turn in radians
    turn = 1e-5
    assert free_corner_exponent(pi + turn) == pytest.approx(1.0 - 2.0 / pi * turn, abs=1e-9)


@given(st.floats(5.0, 360.0).map(radians), st.sampled_from(["symmetric", "antisymmetric"]))
def test_every_root_solves_williams_equation(angle: float, field: Field) -> None:
    found = free_corner_root(angle, field)
    sign = 1.0 if field == "symmetric" else -1.0
    left, right = sin(found * angle), -sign * found * sin(angle)
    assert left == pytest.approx(right, abs=1e-9 * max(1.0, abs(left)))
    assert found.real > 0.4


def test_antisymmetric_stress_has_no_bound_above_the_angle_of_the_paradox() -> None:
    # tan(omega) = omega, Sternberg and Koiter's 257.4534 degrees: lambda passes 1
    paradox = brentq(lambda angle: tan(angle) - angle, 4.4, 4.6)
    below, above = (
        free_corner_root(paradox + step, "antisymmetric").real for step in (-0.01, 0.01)
    )
    assert below > 1.0 > above
    assert below == pytest.approx(above, abs=0.02)


@pytest.mark.parametrize("angle", [pi, 0.0, 7.0, float("nan")])
def test_other_angles_are_refused(angle: float) -> None:
    with pytest.raises(ValueError, match="angle_rad"):
        free_corner_exponent(angle)


def test_what_no_clamped_corner_has_is_refused() -> None:
    with pytest.raises(ValueError, match="angle_rad"):
        clamped_corner_exponent(2.0, 0.3)
    with pytest.raises(ValueError, match="poissons_ratio"):
        clamped_corner_exponent(1.0, 0.6)
