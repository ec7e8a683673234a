"""Tapered cantilevers against the check tables of the project's physics notes.

The notes' numbers were computed independently of this code (quadrature, brute force, symbolic
energy integrals); the sources that each test names are those of the formula, or "ours" where none
is published. Section numbers are from memory.
"""

from __future__ import annotations

import math
from decimal import Decimal, localcontext

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.strength.closed_form.tapered_cantilever import (
    beam_compliance,
    beam_face_stress_mpa,
    beam_first_yield_load_n_per_mm,
    beam_peak_distance_mm,
    compliance_densities,
    deflection_mm,
    prismatic_shear_compliance,
    saint_venant_compliance,
    tapered_bending_integral,
)
from simedge.strength.closed_form.wedge_constants import plane_strain_poissons_ratio
from simedge.strength.closed_form.wedge_stress import (
    apex_force_stress,
    apex_moment_stress,
    cartesian_stress,
)

# Eight printed digits: half a unit in the last place is at most 5e-8 of the value.
PRINTED = 5e-8
NU = 0.3


def rows(table: str) -> list[list[float]]:
    return [[float(cell) for cell in line.split()] for line in table.strip().split("\n")]


def by_angle(table: str) -> list[object]:
    return [pytest.param(row, id=f"alpha={row[0]:g}deg") for row in rows(table)]


# rho, F, quadrature, ln rho
BENDING_INTEGRAL = """
2 0.068147181 0.068147181 0.69314718
3 0.2097234 0.2097234 1.0986123
5 0.48943791 0.48943791 1.6094379
10 0.99758509 0.99758509 2.3025851
20 1.5944823 1.5944823 2.9957323
50 2.451823 2.451823 3.912023
"""
# alpha, beam sigma_x x/Q, exact sigma_r, exact sigma_x, beam error against each (percent),
# compliance exact/EB, EB 3/(2 tan^3), exact 1/A_Q, prismatic shear / EB (nu = 0.3)
APEX_LOAD = """
5 195.96914 196.26862 194.77774 -0.15258527 0.61167343 1.0091941 2239.9376 2260.5319 0.0087477329
10 48.245156 48.543055 47.079302 -0.61367875 2.4763617 1.0374579 273.61188 283.86079 0.035532805
15 20.892305 21.18754 19.768244 -1.3934372 5.6861954 1.0869426 77.971143 84.75016 0.082053451
20 11.322948 11.614386 10.25576 -2.5092783 10.40574 1.1616227 31.109545 36.137553 0.15139924
30 4.5 4.7801244 3.5850933 -5.8601907 25.519746 1.4163332 7.7942286 11.039224 0.38095238
"""
# alpha, C_QQ, C_QM, C_MM, 2D Saint-Venant, EB, shear 5/6,
# Saint-Venant/EB, Saint-Venant/(EB + shear); rho = 10, nu = 0.3
TIP_LOADED = """
5 5205.067 -2032.9307 1126.989 2266.1946 2234.5283 45.117717 1.0141714 0.99409934
10 653.61363 -254.69915 144.52917 288.74449 272.95113 22.386187 1.0578615 0.97767697
15 195.14445 -75.756393 44.636005 88.267672 77.78285 14.731482 1.1347961 0.95409728
20 83.20979 -32.132961 19.908085 38.851954 31.034418 10.845087 1.2518989 0.92770806
30 25.418754 -9.6714655 6.8245115 12.900334 7.7754063 6.8369046 1.6591202 0.8828401
"""


half_angles = st.floats(math.radians(1.0), math.radians(45.0))
length_ratios = st.floats(1.0, 1e3)
never_hurry = settings(deadline=None, max_examples=60)


def gauss(low: float, high: float, count: int = 60) -> tuple[np.ndarray, np.ndarray]:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return 0.5 * (high - low) * nodes + 0.5 * (high + low), 0.5 * (high - low) * weights


# ---------------------------------------------------------------- the tapered beam


@pytest.mark.parametrize(
    "row", [pytest.param(row, id=f"rho={row[0]:g}") for row in rows(BENDING_INTEGRAL)]
)
def test_bending_integral_table(row: list[float]) -> None:
    """Ours, after Timoshenko's taper bending (section from memory): F against the printed values.

    F is also integrated here as (s - 1)^2 / s^3; in ln s the integrand is smooth: 1e-12.
    """
    rho = row[0]
    log_s, weights = gauss(0.0, math.log(rho))
    quadrature = np.sum(weights * (1 - np.exp(-log_s)) ** 2)
    computed = float(tapered_bending_integral(rho))
    assert computed == pytest.approx(row[1], rel=PRINTED)
    assert computed == pytest.approx(quadrature, rel=1e-12)


@pytest.mark.parametrize("excess", [1e-6, 1e-3, 0.1, 0.3, 0.34, 2.0, 99.0])
def test_bending_integral_keeps_its_precision(excess: float) -> None:
    """The printed F in 60 digits, down to rho = 1 + 1e-6, where double would lose all of them.

    u = 1 - 1/rho is known to 1e-16 only, so F ~ u^3/3 to 3e-16/u.
    """
    rho = 1.0 + excess
    with localcontext() as context:
        context.prec = 60
        exact_rho = Decimal(rho)
        exact = exact_rho.ln() - Decimal("1.5") + 2 / exact_rho - 1 / (2 * exact_rho**2)
    tolerance = 2e-14 + 1e-15 / min(excess, 1.0)
    assert float(tapered_bending_integral(rho)) == pytest.approx(
        float(exact), rel=tolerance, abs=0.0
    )


@pytest.mark.parametrize("row", by_angle(APEX_LOAD))
def test_apex_load_table(row: list[float]) -> None:
    """Timoshenko's taper bending against Michell 1900 (numbers from memory): stress, compliance."""
    a = math.radians(row[0])
    beam = float(
        beam_face_stress_mpa(1.0, half_angle_rad=a, lateral_n_per_mm=1.0, load_distance_mm=0.0)
    )
    exact = apex_force_stress(1 / math.cos(a), -a, half_angle_rad=a, lateral_n_per_mm=1.0)
    exact_r, exact_x = float(exact[0]), float(cartesian_stress(exact, -a)[0])
    against = [100 * (beam / exact_r - 1), 100 * (beam / exact_x - 1)]
    wedge = float(compliance_densities(1.0, half_angle_rad=a, poissons_ratio=NU).lateral_per_mm)
    # per unit of ln rho: the coefficient of F in the beam, and the shear of the prism
    bending = float(beam_compliance(7.0, half_angle_rad=a) / tapered_bending_integral(7.0))
    shear = float(prismatic_shear_compliance(math.e, half_angle_rad=a, poissons_ratio=NU))
    computed = [beam, exact_r, exact_x, *against, wedge / bending, bending, wedge, shear / bending]
    assert computed == pytest.approx(row[1:], rel=PRINTED)


@pytest.mark.parametrize("row", by_angle(TIP_LOADED))
def test_tip_loaded_table(row: list[float]) -> None:
    """Ours (energy of the exact fields); shear coefficient 5/6 after Cowper 1966; rho = 10.

    The columns C are the densities integrated from r = 1 to 10, with M = Q x0 and x0 = 1.
    """
    wedge = {"half_angle_rad": math.radians(row[0]), "poissons_ratio": NU}
    log_r, weights = gauss(0.0, math.log(10.0))
    r = np.exp(log_r)
    density = compliance_densities(r, **wedge)
    integrals = [
        float(np.sum(weights * r * part))
        for part in (density.lateral_per_mm, density.lateral_moment_per_mm2, density.moment_per_mm3)
    ]
    saint_venant = float(saint_venant_compliance(10.0, **wedge))
    bending = float(beam_compliance(10.0, half_angle_rad=wedge["half_angle_rad"]))
    shear = float(prismatic_shear_compliance(10.0, **wedge))
    ratios = [saint_venant / bending, saint_venant / (bending + shear)]
    computed = [*integrals, saint_venant, bending, shear, *ratios]
    assert computed == pytest.approx(row[1:], rel=PRINTED)
    summed = integrals[0] + 2 * integrals[1] + integrals[2]
    assert summed == pytest.approx(saint_venant, rel=1e-12)


@pytest.mark.parametrize("degrees", [1.0, 10.0, 30.0], ids=lambda d: f"{d:g}deg")
@pytest.mark.parametrize("poissons_ratio", [0.0, 0.3, 0.5])
def test_compliance_is_the_energy_of_the_stress(degrees: float, poissons_ratio: float) -> None:
    """Definition: mutual energies of the fields themselves, by quadrature over the angle."""
    a, r = math.radians(degrees), 1.7
    t, weights = gauss(-a, a)
    ratio = plane_strain_poissons_ratio(poissons_ratio)
    fields = {
        "P": apex_force_stress(r, t, half_angle_rad=a, axial_n_per_mm=1.0),
        "Q": apex_force_stress(r, t, half_angle_rad=a, lateral_n_per_mm=1.0),
        "M": apex_moment_stress(r, t, half_angle_rad=a, moment_n=1.0),
    }

    def mutual(one: str, other: str) -> float:
        s, w = fields[one], fields[other]
        energy = s[0] * w[0] + s[1] * w[1] - ratio * (s[0] * w[1] + s[1] * w[0])
        return float(np.sum(weights * r * (energy + 2 * (1 + ratio) * s[2] * w[2])))

    density = compliance_densities(r, half_angle_rad=a, poissons_ratio=poissons_ratio)
    assert float(density.axial_per_mm) == pytest.approx(mutual("P", "P"), rel=1e-12)
    assert float(density.lateral_per_mm) == pytest.approx(mutual("Q", "Q"), rel=1e-12)
    assert float(density.lateral_moment_per_mm2) == pytest.approx(mutual("Q", "M"), rel=1e-12)
    assert float(density.moment_per_mm3) == pytest.approx(mutual("M", "M"), rel=1e-12)
    # what the record leaves out is nothing: axial load does not couple, by symmetry
    size = math.sqrt(mutual("P", "P") * mutual("M", "M"))
    assert abs(mutual("P", "Q")) + abs(mutual("P", "M")) < 1e-12 * size


def test_bending_density_survives_a_thin_wedge() -> None:
    """At r = x0 only shear is left of three terms 1/a^2 larger: 3e-11 lost at 0.1 degree.

    The reference sums the integrals of the notes (ours) in 60 digits.
    """
    half_angle = math.radians(0.1)
    with localcontext() as context:
        context.prec = 60
        a = Decimal(half_angle)
        sine = {n: taylor_sine(n * a) for n in (1, 2, 4)}
        cosine_2a = 1 - 2 * sine[1] ** 2
        lateral = a - sine[2] / 2
        m = sine[2] - 2 * a * cosine_2a
        nu = Decimal(NU)
        energy = 4 * (a - sine[4] / 4) + 2 * (1 + nu / (1 - nu)) * (
            2 * a * cosine_2a**2 + a - 3 * sine[4] / 4
        )
        exact = 1 / lateral - 16 * sine[1] ** 3 / (3 * lateral * m) + energy / m**2
    density = compliance_densities(1.0, half_angle_rad=half_angle, poissons_ratio=NU)
    computed = density.lateral_per_mm + 2 * density.lateral_moment_per_mm2 + density.moment_per_mm3
    assert float(computed) == pytest.approx(float(exact), rel=1e-9)


def taylor_sine(x: Decimal) -> Decimal:
    term, total, order = x, x, 1
    while abs(term) > Decimal("1e-70"):
        term *= -x * x / ((order + 1) * (order + 2))
        total, order = total + term, order + 2
    return total


@given(half_angles, st.floats(1.0, 30.0), st.floats(0.1, 10.0))
@never_hurry
def test_beam_peak_is_the_largest_stress(a: float, reach: float, tip: float) -> None:
    """Notes, section 4: brute force over the beam (0.1 % grid) for long and short cantilevers."""
    clamp = tip * reach
    load = {"half_angle_rad": a, "lateral_n_per_mm": 3.0, "load_distance_mm": tip}
    peak = float(beam_face_stress_mpa(beam_peak_distance_mm(tip, clamp), **load))
    brute = beam_face_stress_mpa(np.linspace(tip, clamp, 1001), **load).max()
    assert peak >= brute * (1 - 1e-12)
    # quadratic at the peak: half a grid step, (0.0005 reach)^2 / 4 relative, is the most missed
    assert peak <= brute * (1 + (0.0005 * reach) ** 2)


def test_beam_first_yield_load_brings_the_peak_to_yield() -> None:
    """Notes, section 4: Q_Y = 4/3 sigma t_a tan a, sigma = yield / k_v, checked as k_v * stress."""
    a, land = math.radians(12.0), 0.02
    tip = land / (2 * math.tan(a))
    load = beam_first_yield_load_n_per_mm(
        land, half_angle_rad=a, yield_strength_mpa=1900.0, poissons_ratio=NU
    )
    stress = beam_face_stress_mpa(
        2 * tip, half_angle_rad=a, lateral_n_per_mm=load, load_distance_mm=tip
    )
    assert 0.88881944 * float(stress) == pytest.approx(1900.0, rel=PRINTED)


def test_deflection_divides_by_the_plane_strain_modulus() -> None:
    """Notes, sections 0 and 4: delta_EB = 3Q F / (2 E' tan^3 a) with F(10) and E' by hand."""
    a = math.radians(15.0)
    expected = 3 * 10.0 * 0.99758509 / (2 * 210e3 / 0.91 * math.tan(a) ** 3)
    computed = deflection_mm(
        beam_compliance(10.0, half_angle_rad=a),
        lateral_n_per_mm=10.0,
        youngs_modulus_mpa=210e3,
        poissons_ratio=0.3,
    )
    assert float(computed) == pytest.approx(expected, rel=PRINTED)


@given(half_angles, length_ratios, length_ratios)
@never_hurry
def test_longer_wedges_give_more(a: float, one: float, other: float) -> None:
    """Every compliance grows with the length and starts at nothing."""
    shorter, longer = sorted((one, other))
    wedge = {"half_angle_rad": a, "poissons_ratio": NU}
    for compliance in (
        lambda rho: float(saint_venant_compliance(rho, **wedge)),
        lambda rho: float(beam_compliance(rho, half_angle_rad=a)),
        lambda rho: float(prismatic_shear_compliance(rho, **wedge)),
    ):
        # rounding of three terms of size a^-3 ln rho
        slack = 1e-14 * (1 + math.log(longer)) / a**3
        assert compliance(longer) >= compliance(shorter) - slack
        assert abs(compliance(1.0)) <= slack


# ---------------------------------------------------------------- refusals

LONG_WEDGE = {"half_angle_rad": 0.2, "poissons_ratio": 0.3}


@pytest.mark.parametrize(
    ("call", "named"),
    [
        pytest.param(lambda: saint_venant_compliance(0.9, **LONG_WEDGE), "length_ratio", id="rho"),
        pytest.param(lambda: tapered_bending_integral(math.nan), "length_ratio", id="nan rho"),
        pytest.param(lambda: compliance_densities(0.0, **LONG_WEDGE), "radius_mm", id="radius"),
        pytest.param(
            lambda: compliance_densities(1.0, half_angle_rad=2.0, poissons_ratio=0.3),
            "half_angle_rad",
            id="half angle",
        ),
        pytest.param(lambda: beam_compliance(2.0, half_angle_rad=0.0), "half_angle_rad", id="flat"),
        pytest.param(
            lambda: beam_face_stress_mpa(
                0.5, half_angle_rad=0.2, lateral_n_per_mm=1.0, load_distance_mm=1.0
            ),
            "behind the load",
            id="station in front of the load",
        ),
        pytest.param(lambda: beam_peak_distance_mm(2.0, 1.0), "tip <= clamp", id="clamp first"),
        pytest.param(
            lambda: beam_first_yield_load_n_per_mm(
                0.0, half_angle_rad=0.2, yield_strength_mpa=2000.0, poissons_ratio=0.3
            ),
            "land_mm",
            id="no land",
        ),
    ],
)
def test_impossible_cantilever_is_refused(call, named: str) -> None:
    with pytest.raises(BadInput, match=named):
        call()
