"""Exact wedge fields: precision in thin wedges, a worked example, refusals.

Their tables are replayed by ``simedge verify`` (`simedge.studies.verify.wedge_tables`), which
`test_checks` runs.
"""

from __future__ import annotations

import math
from decimal import Decimal, localcontext

import numpy as np
import pytest

from simedge.errors import BadInput
from simedge.strength.closed_form.wedge_constants import (
    plane_strain_modulus_mpa,
    plane_strain_poissons_ratio,
    uniaxial_mises_factor,
    wedge_constants,
)
from simedge.strength.closed_form.wedge_stress import (
    apex_force_stress,
    apex_moment_stress,
    face_pressure_stress,
    face_shear_stress,
)
from simedge.strength.closed_form.wedge_yield import (
    first_yield_lateral_load_n_per_mm,
    von_mises_plane_strain,
    yield_depth_mm,
)
from simedge.studies.verify.printed_tables import PRINTED


def sine(x: Decimal) -> Decimal:
    term, total, order = x, x, 1
    while abs(term) > Decimal("1e-70"):
        term *= -x * x / ((order + 1) * (order + 2))
        total, order = total + term, order + 2
    return total


def cosine(x: Decimal) -> Decimal:
    return 1 - 2 * sine(x / 2) ** 2


def test_worked_example_of_a_lateral_force() -> None:
    """Notes, section 1: 10 N/mm sideways on a 15-degree wedge of 2000 MPa, nu = 0.3."""
    a = math.radians(15.0)
    depth = yield_depth_mm(
        a,
        half_angle_rad=a,
        axial_n_per_mm=0.0,
        lateral_n_per_mm=10.0,
        yield_strength_mpa=2000.0,
        poissons_ratio=0.3,
    )
    assert float(depth) == pytest.approx(0.097481074, rel=PRINTED)


@pytest.mark.parametrize(("ratio", "printed"), [(0.3, 0.88881944), (0.28, 0.89353232)])
def test_von_mises_factor_of_a_uniaxial_stress(ratio: float, printed: float) -> None:
    """Notes, section 0."""
    assert uniaxial_mises_factor(ratio) == pytest.approx(printed, rel=PRINTED)
    assert float(von_mises_plane_strain(np.array([-1.0, 0.0, 0.0]), ratio)) == pytest.approx(
        printed, rel=PRINTED
    )


# ---------------------------------------------------------------- precision


@pytest.mark.parametrize(
    "half_angle", [1e-6, 1e-3, 0.01, 0.1, 0.25, 0.499, 0.501, 0.7, 0.999, 1.001, 1.4]
)
def test_constants_keep_double_precision(half_angle: float) -> None:
    """Against 80-digit arithmetic, on both sides of each switch (0.5 and 1 rad) to the series.

    Both ways lose a few units in the last place (2e-16) to the subtraction at the switch.
    """
    with localcontext() as context:
        context.prec = 80
        a = Decimal(half_angle)
        exact = [
            a + sine(2 * a) / 2,
            a - sine(2 * a) / 2,
            sine(2 * a) - 2 * a * cosine(2 * a),
            a - sine(4 * a) / 4,
            2 * a * cosine(2 * a) ** 2 + a - 3 * sine(4 * a) / 4,
        ]
    wedge = wedge_constants(half_angle)
    computed = [
        wedge.axial,
        wedge.lateral,
        wedge.moment,
        wedge.moment_normal_energy,
        wedge.moment_shear_energy,
    ]
    assert computed == pytest.approx([float(value) for value in exact], rel=4e-15, abs=0.0)


@pytest.mark.parametrize("half_angle", [1e-4, 0.02, 0.4], ids=lambda a: f"{a:g}rad")
@pytest.mark.parametrize("fraction", [-0.9, 0.3, 0.7])
def test_face_loads_do_not_cancel_in_thin_wedges(half_angle: float, fraction: float) -> None:
    """The formulas as Levy's field is printed, in 80 digits, against their regrouped form here.

    Rounding of theta itself moves the answer by a few units in the last place: 1e-14 covers it.
    """
    theta = fraction * half_angle
    with localcontext() as context:
        context.prec = 80
        a, t = Decimal(half_angle), Decimal(theta)
        s2a, c2a, s2t, c2t = sine(2 * a), cosine(2 * a), sine(2 * t), cosine(2 * t)
        m = s2a - 2 * a * c2a
        half = Decimal("0.5")
        pressed = [
            -half + (2 * t * c2a + s2t) / (2 * m),
            -half + (2 * t * c2a - s2t) / (2 * m),
            -(c2a - c2t) / (2 * m),
        ]
        big_a, big_b, big_c, big_d = -c2a / s2a / 4, -s2a / (2 * m), 1 / (4 * s2a), a / (2 * m)
        dragged = [
            2 * big_a + 2 * big_b * t - 2 * big_c * c2t - 2 * big_d * s2t,
            2 * big_a + 2 * big_b * t + 2 * big_c * c2t + 2 * big_d * s2t,
            -big_b + 2 * big_c * s2t - 2 * big_d * c2t,
        ]
    pressure = face_pressure_stress(1.0, theta, half_angle_rad=half_angle, pressure_mpa=1.0)
    shear = face_shear_stress(1.0, theta, half_angle_rad=half_angle, shear_mpa=1.0)
    assert pressure == pytest.approx([float(v) for v in pressed], rel=1e-14, abs=1e-14)
    assert shear == pytest.approx([float(v) for v in dragged], rel=1e-14, abs=1e-14)


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize("half_angle", [0.0, -0.1, math.pi / 2, 15.0, math.nan])
def test_half_angle_out_of_range_is_refused(half_angle: float) -> None:
    with pytest.raises(BadInput, match=r"half_angle_rad is .* half of the included angle"):
        wedge_constants(half_angle)


@pytest.mark.parametrize("radius", [0.0, -1.0, math.inf, math.nan])
def test_radius_out_of_range_is_refused(radius: float) -> None:
    with pytest.raises(BadInput, match="radius_mm"):
        apex_force_stress(np.array([1.0, radius]), 0.0, half_angle_rad=0.2, axial_n_per_mm=1.0)


@pytest.mark.parametrize("theta", [0.21, -0.21, math.nan])
def test_place_outside_the_blade_is_refused(theta: float) -> None:
    with pytest.raises(BadInput, match="theta_rad"):
        apex_moment_stress(1.0, np.array([0.0, theta]), half_angle_rad=0.2, moment_n=1.0)


def test_unknown_face_is_refused() -> None:
    with pytest.raises(BadInput, match="loaded_face is 'top'"):
        face_pressure_stress(1.0, 0.0, half_angle_rad=0.2, pressure_mpa=1.0, loaded_face="top")


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: plane_strain_modulus_mpa(0.0, 0.3), "youngs_modulus_mpa"),
        (lambda: plane_strain_modulus_mpa(210e3, -0.1), "poissons_ratio"),
        (lambda: plane_strain_poissons_ratio(0.51), "poissons_ratio"),
        (lambda: von_mises_plane_strain(np.ones(3), 0.51), "poissons_ratio"),
        (
            lambda: first_yield_lateral_load_n_per_mm(
                0.0, half_angle_rad=0.2, yield_strength_mpa=2000.0, poissons_ratio=0.3
            ),
            "load_distance_mm",
        ),
        (
            lambda: first_yield_lateral_load_n_per_mm(
                1.0, half_angle_rad=0.2, yield_strength_mpa=0.0, poissons_ratio=0.3
            ),
            "yield_strength_mpa",
        ),
    ],
    ids=["modulus", "negative ratio", "ratio", "ratio of von mises", "distance", "strength"],
)
def test_material_out_of_range_is_refused(call, named: str) -> None:
    with pytest.raises(BadInput, match=named):
        call()
