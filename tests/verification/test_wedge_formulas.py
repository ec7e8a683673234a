"""Exact wedge fields against the check tables of the project's physics notes.

The notes' numbers were computed independently of this code (symbolic proofs, quadrature); the
sources that each test names are those of the formula. Article numbers are from memory.
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
    cartesian_stress,
    face_pressure_stress,
    face_shear_stress,
)
from simedge.strength.closed_form.wedge_yield import (
    deepest_yield_direction_rad,
    face_tension_inclination_rad,
    face_yield_inclination_rad,
    first_yield_lateral_load_n_per_mm,
    peak_distance_factor,
    peak_stress_factor,
    von_mises_plane_strain,
    yield_depth_mm,
)

# Eight printed digits: half a unit in the last place is at most 5e-8 of the value.
PRINTED = 5e-8
NU = 0.3


def rows(table: str) -> list[list[float]]:
    return [[float(cell) for cell in line.split()] for line in table.strip().split("\n")]


def by_angle(table: str) -> list[object]:
    return [pytest.param(row, id=f"alpha={row[0]:g}deg") for row in rows(table)]


# columns: alpha, A_P, A_Q, m, -sigma_r r/P axis, face, -sigma_r r/Q face, r_Y sigma_Y/P axis,
# face, r_Y sigma_Y/Q face
APEX_FORCE = """
5 0.17409055 0.00044237377 0.0017667998 5.7441371 5.722279 197.01833 5.1055008 5.0860728 175.11373
10 0.345543 0.0035228535 0.01400554 2.8939959 2.8500296 49.291909 2.5722398 2.5331617 43.811607
15 0.51179939 0.011799388 0.046550159 1.9538906 1.8873134 21.934955 1.7366559 1.6774808 19.496215
20 0.67045966 0.027672046 0.1079877 1.4915141 1.4015648 12.359771 1.3256867 1.245738 10.985605
30 0.95661148 0.090586074 0.34242663 1.0453565 0.90530526 5.5196122 0.92913316 0.80465292 4.9059387
"""
# alpha, deepest r_Y sigma_Y/F at inclination 5, 15, 30, 45, 90 degrees, beta* (deg)
OBLIQUE = """
5 20.328886 50.235536 91.961531 127.4205 175.11373 0.012737628
10 6.3419554 13.786125 24.099586 32.770701 43.811607 0.1029991
15 3.3703046 6.6663137 11.200848 14.972064 19.496215 0.3539397
20 2.1984561 4.0465742 6.5716431 8.6488653 10.985605 0.86064579
30 1.2291717 2.0469854 3.1498192 4.037998 4.9059387 3.1293613
"""
# alpha, tension-face r_Y sigma_Y/F at 15, 45 degrees, beta_0 (deg)
TENSION_FACE = """
5 40.409998 120.22771 1.6636537
10 8.8924321 29.188269 3.3091244
15 3.4256697 12.599748 4.9176952
20 1.6399932 6.8871258 6.4695511
30 0.49251532 2.900047 9.3144971
"""
# alpha, sigma_r r^2/M face, tau r^2/M axis, r*/x0, x*/x0, peak x0/Q (direct), (formula), beam,
# sigma_r exact/beam, sigma_x exact/beam
MOMENT = """
5 196.56803 -8.5987372 1.9954288 1.9878356 49.367417 49.367417 48.992286 1.0076569 1.0000027
10 48.840695 -4.3059662 1.9816922 1.9515858 12.436823 12.436823 12.061289 1.0311355 1.0000429
15 21.482204 -2.8780696 1.9587187 1.891977 5.5993123 5.5993123 5.2230762 1.0720334 1.0002208
20 11.90483 -2.1665019 1.9263836 1.8102085 3.2080243 3.2080243 2.8307371 1.1332823 1.0007135
30 5.0581662 -1.4601668 1.8327977 1.5872493 1.5057887 1.5057887 1.125 1.3384789 1.0038592
"""
# alpha, sigma_r/p loaded, free face, tau/p axis, beam, sigma_r/s at +alpha, -alpha, axis, tau/s
FACE_LOADS = """
5 97.284016 -98.284016 4.2993686 97.984572 -22.825079 11.482515 -5.7150262 -0.25038138
10 23.420348 -24.420348 2.1529831 24.122578 -11.271787 5.776832 -2.8356409 -0.25153287
15 9.7411019 -10.741102 1.4390348 10.446152 -7.3560786 3.891977 -1.8660254 -0.25347685
20 4.9524151 -5.9524151 1.083251 5.6614741 -5.3473232 2.9638161 -1.3737387 -0.25625183
30 1.5290831 -2.5290831 0.73008341 2.25 -3.2257999 2.0710994 -0.8660254 -0.26454156
"""


def sine(x: Decimal) -> Decimal:
    term, total, order = x, x, 1
    while abs(term) > Decimal("1e-70"):
        term *= -x * x / ((order + 1) * (order + 2))
        total, order = total + term, order + 2
    return total


def cosine(x: Decimal) -> Decimal:
    return 1 - 2 * sine(x / 2) ** 2


# ---------------------------------------------------------------- the tables of the notes


@pytest.mark.parametrize("row", by_angle(APEX_FORCE))
def test_apex_force_table(row: list[float]) -> None:
    """Levy 1898; Michell 1900; Timoshenko & Goodier Art. 38 (from memory); depths are ours."""
    a = math.radians(row[0])
    wedge = wedge_constants(a)
    axial = -apex_force_stress(1.0, np.array([0.0, a]), half_angle_rad=a, axial_n_per_mm=1.0)[0]
    lateral = -apex_force_stress(1.0, a, half_angle_rad=a, lateral_n_per_mm=1.0)[0]
    steel = {"half_angle_rad": a, "yield_strength_mpa": 1.0, "poissons_ratio": NU}
    axial_depth = yield_depth_mm(
        np.array([0.0, a]), axial_n_per_mm=1.0, lateral_n_per_mm=0.0, **steel
    )
    lateral_depth = yield_depth_mm(a, axial_n_per_mm=0.0, lateral_n_per_mm=1.0, **steel)
    computed = [wedge.axial, wedge.lateral, wedge.moment, *axial, lateral, *axial_depth]
    assert [*computed, lateral_depth] == pytest.approx(row[1:], rel=PRINTED)


@pytest.mark.parametrize("row", by_angle(OBLIQUE))
def test_oblique_force_yields_deepest_table(row: list[float]) -> None:
    """Ours, on the fields of Michell 1900: deepest yield over the section, and beta*."""
    a = math.radians(row[0])
    beta = np.radians([5.0, 15.0, 30.0, 45.0, 90.0])
    force = {
        "half_angle_rad": a,
        "axial_n_per_mm": np.cos(beta),
        "lateral_n_per_mm": np.sin(beta),
    }
    depth = yield_depth_mm(
        deepest_yield_direction_rad(**force), yield_strength_mpa=1.0, poissons_ratio=NU, **force
    )
    assert depth == pytest.approx(row[1:6], rel=PRINTED)
    assert math.degrees(face_yield_inclination_rad(a)) == pytest.approx(row[6], rel=PRINTED)


@pytest.mark.parametrize("row", by_angle(TENSION_FACE))
def test_tension_face_table(row: list[float]) -> None:
    """Ours, on the fields of Michell 1900: yield depth on the tension-side face, and beta_0."""
    a = math.radians(row[0])
    beta = np.radians([15.0, 45.0])
    depth = yield_depth_mm(
        -a,
        half_angle_rad=a,
        axial_n_per_mm=np.cos(beta),
        lateral_n_per_mm=np.sin(beta),
        yield_strength_mpa=1.0,
        poissons_ratio=NU,
    )
    assert depth == pytest.approx(row[1:3], rel=PRINTED)
    assert math.degrees(face_tension_inclination_rad(a)) == pytest.approx(row[3], rel=PRINTED)


@pytest.mark.parametrize("row", by_angle(MOMENT))
def test_moment_table(row: list[float]) -> None:
    """Carothers 1912; Inglis 1922; Timoshenko & Goodier Art. 39 (from memory); peaks are ours."""
    a = math.radians(row[0])
    face = apex_moment_stress(1.0, a, half_angle_rad=a, moment_n=1.0)[0]
    axis = apex_moment_stress(1.0, 0.0, half_angle_rad=a, moment_n=1.0)[2]
    place, peak = peak_distance_factor(a), peak_stress_factor(a)
    direct = apex_force_stress(
        place, -a, half_angle_rad=a, lateral_n_per_mm=1.0
    ) + apex_moment_stress(place, -a, half_angle_rad=a, moment_n=1.0)
    beam = 3.0 / (8.0 * math.tan(a) ** 2)
    along_x = cartesian_stress(direct, -a)[0]
    computed = [face, axis, place, place * math.cos(a), direct[0], peak, beam]
    assert [*computed, peak / beam, along_x / beam] == pytest.approx(row[1:], rel=PRINTED)


@pytest.mark.parametrize("row", by_angle(FACE_LOADS))
def test_face_load_table(row: list[float]) -> None:
    """Levy 1898; Timoshenko & Goodier Art. 45 (from memory)."""
    a = math.radians(row[0])
    t = np.array([a, -a, 0.0])
    pressed = face_pressure_stress(1.0, t, half_angle_rad=a, pressure_mpa=1.0)
    dragged = face_shear_stress(1.0, t, half_angle_rad=a, shear_mpa=1.0)
    assert [pressed[0, 0], pressed[0, 1], pressed[2, 2]] == pytest.approx(row[1:4], rel=PRINTED)
    assert [*dragged[0], dragged[2, 2]] == pytest.approx(row[5:], rel=PRINTED)


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


def test_small_angle_series_of_the_peak() -> None:
    """Notes, section 2; the terms left out are of order a^6 = 1.6e-8 at a = 0.05."""
    a = 0.05
    place = peak_distance_factor(a) * math.cos(a)
    assert place == pytest.approx(2 - 8 / 5 * a**2 + 184 / 525 * a**4, rel=1e-7)
    series = 3 / 8 / math.tan(a) ** 2 * (1 + a**2 + 374 / 525 * a**4)
    assert peak_stress_factor(a) == pytest.approx(series, rel=1e-7)


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
