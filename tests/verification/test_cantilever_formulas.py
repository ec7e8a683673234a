"""Tapered cantilevers: definitions, brute-force maxima, precision, refusals.

Their tables are replayed by ``simedge verify`` (`simedge.studies.verify.beam_tables`), which
`test_checks` runs. The sources that each test names are those of the formula, or "ours" where
none is published.
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
)
from simedge.studies.verify.printed_tables import BENDING_INTEGRAL, PRINTED

NU = 0.3


half_angles = st.floats(math.radians(1.0), math.radians(45.0))
length_ratios = st.floats(1.0, 1e3)
never_hurry = settings(deadline=None, max_examples=60)


def gauss(low: float, high: float, count: int = 60) -> tuple[np.ndarray, np.ndarray]:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return 0.5 * (high - low) * nodes + 0.5 * (high + low), 0.5 * (high - low) * weights


# ---------------------------------------------------------------- the tapered beam


@pytest.mark.parametrize("rho", [row[0] for row in BENDING_INTEGRAL])
def test_bending_integral_is_the_integral(rho: float) -> None:
    """Definition: (s - 1)^2 / s^3 from 1 to rho; in ln s the integrand is smooth: 1e-12."""
    log_s, weights = gauss(0.0, math.log(rho))
    quadrature = np.sum(weights * (1 - np.exp(-log_s)) ** 2)
    assert float(tapered_bending_integral(rho)) == pytest.approx(quadrature, rel=1e-12)


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


@pytest.mark.parametrize("degrees", [5.0, 30.0], ids=lambda d: f"{d:g}deg")
def test_compliance_is_the_sum_of_its_densities(degrees: float) -> None:
    """Ours: densities integrated from r = 1 to 10 with M = Q x0, x0 = 1; smooth in ln r: 1e-12."""
    wedge = {"half_angle_rad": math.radians(degrees), "poissons_ratio": NU}
    log_r, weights = gauss(0.0, math.log(10.0))
    density = compliance_densities(np.exp(log_r), **wedge)
    summed = (
        density.lateral_per_mm + 2 * density.lateral_moment_per_mm2 + density.moment_per_mm3
    ) * np.exp(log_r)
    saint_venant = float(saint_venant_compliance(10.0, **wedge))
    assert float(np.sum(weights * summed)) == pytest.approx(saint_venant, rel=1e-12)


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
