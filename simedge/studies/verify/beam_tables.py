"""Tapered and two-slope cantilevers, number by number against their printed tables."""

from __future__ import annotations

import math

import numpy as np

from simedge.strength.closed_form.tapered_cantilever import (
    beam_compliance,
    beam_face_stress_mpa,
    compliance_densities,
    prismatic_shear_compliance,
    saint_venant_compliance,
    tapered_bending_integral,
)
from simedge.strength.closed_form.two_slope_cantilever import (
    beam_gain,
    beam_saturation_ratio,
    plane_strain_gain,
    plane_strain_saturation_ratio,
    slope_ratio,
    two_slope_beam_compliance,
    two_slope_peak_ratio,
)
from simedge.strength.closed_form.wedge_stress import apex_force_stress, cartesian_stress
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.printed_tables import (
    APEX_LOADED_BEAM,
    BENDING_INTEGRAL,
    FIGURES,
    GAIN_CAPS,
    GAINS,
    POISSONS_RATIO,
    TIP_LOADED_WEDGE,
    TWO_SLOPE_STIFFNESS,
)
from simedge.studies.verify.wedge_tables import PRINTED_REASON, beside_table

#: So high that the gain has reached its cap.
VERY_HIGH = 1e6


def _bending_integral() -> tuple[Comparison, ...]:
    found: list[Comparison] = []
    for ratio, printed, quadrature, _ in BENDING_INTEGRAL:
        computed = float(tapered_bending_integral(ratio))
        names = ("F", "F against quadrature")
        case = f"clamp over tip distance {ratio:g}"
        found += beside_table(case, names, (computed, computed), (printed, quadrature))
    return tuple(found)


def _apex_loaded_beam() -> tuple[Comparison, ...]:
    names = (
        *("beam's stress along the axis", "exact along the face", "exact along the axis"),
        *("beam's error along the face, %", "beam's error along the axis, %"),
        *("compliance, exact over beam", "compliance of the beam", "compliance, exact"),
        "prismatic shear over the beam",
    )
    found: list[Comparison] = []
    for degrees, *printed in APEX_LOADED_BEAM:
        a = math.radians(degrees)
        beam = float(
            beam_face_stress_mpa(1.0, half_angle_rad=a, lateral_n_per_mm=1.0, load_distance_mm=0.0)
        )
        exact = apex_force_stress(1 / math.cos(a), -a, half_angle_rad=a, lateral_n_per_mm=1.0)
        radial, along = float(exact[0]), float(cartesian_stress(exact, -a)[0])
        wedge = compliance_densities(1.0, half_angle_rad=a, poissons_ratio=POISSONS_RATIO)
        lateral = float(wedge.lateral_per_mm)
        # per unit of ln rho: the coefficient of F in the beam, and the shear of the prism
        bending = float(beam_compliance(7.0, half_angle_rad=a) / tapered_bending_integral(7.0))
        shear = float(
            prismatic_shear_compliance(math.e, half_angle_rad=a, poissons_ratio=POISSONS_RATIO)
        )
        against = (100 * (beam / radial - 1), 100 * (beam / along - 1))
        computed = (beam, radial, along, *against, lateral / bending, bending, lateral)
        found += beside_table(f"{degrees:g} deg", names, (*computed, shear / bending), printed)
    return tuple(found)


def _tip_loaded_wedge() -> tuple[Comparison, ...]:
    names = (
        *("C_QQ", "C_QM", "C_MM", "Saint-Venant, two-dimensional", "beam", "prismatic shear"),
        *("Saint-Venant over beam", "Saint-Venant over beam with shear"),
    )
    nodes, weights = np.polynomial.legendre.leggauss(40)
    log_r = 0.5 * math.log(10.0) * (nodes + 1.0)
    r, weights = np.exp(log_r), 0.5 * math.log(10.0) * weights
    found: list[Comparison] = []
    for degrees, *printed in TIP_LOADED_WEDGE:
        a = math.radians(degrees)
        steel = {"half_angle_rad": a, "poissons_ratio": POISSONS_RATIO}
        density = compliance_densities(r, **steel)
        parts = (density.lateral_per_mm, density.lateral_moment_per_mm2, density.moment_per_mm3)
        integrals = [float(np.sum(weights * r * part)) for part in parts]
        saint_venant = float(saint_venant_compliance(10.0, **steel))
        beam = float(beam_compliance(10.0, half_angle_rad=a))
        shear = float(prismatic_shear_compliance(10.0, **steel))
        ratios = (saint_venant / beam, saint_venant / (beam + shear))
        computed = (*integrals, saint_venant, beam, shear, *ratios)
        found += beside_table(f"{degrees:g} deg, b = 10 a", names, computed, printed)
    return tuple(found)


def _gains() -> tuple[Comparison, ...]:
    found: list[Comparison] = []
    names = ("T", "cap, beam", "cap, two-dimensional", "H*, beam", "H*, two-dimensional")
    for micro, primary, *printed in GAIN_CAPS:
        one, other = math.radians(micro), math.radians(primary)
        pair = {"micro_half_angle_rad": one, "primary_half_angle_rad": other}
        caps = (
            slope_ratio(one, other),
            float(beam_gain(VERY_HIGH, **pair)),
            float(plane_strain_gain(VERY_HIGH, **pair)),
            beam_saturation_ratio(one, other),
            plane_strain_saturation_ratio(one, other),
        )
        found += beside_table(f"{micro:g} on {primary:g} deg", names, caps, printed)
    for micro, primary, _, height, gain, _, _, place in GAINS:
        pair = {
            "micro_half_angle_rad": math.radians(micro),
            "primary_half_angle_rad": math.radians(primary),
        }
        computed = (float(beam_gain(height, **pair)), float(two_slope_peak_ratio(height, **pair)))
        case = f"{micro:g} on {primary:g} deg, H = {height:g}"
        found += beside_table(case, ("gain", "place of the peak"), computed, (gain, place))
    return tuple(found)


def _two_slope_stiffness() -> tuple[Comparison, ...]:
    found: list[Comparison] = []
    for micro, primary, height, clamp, printed, _, plain, gain in TWO_SLOPE_STIFFNESS:
        one, other = math.radians(micro), math.radians(primary)
        two_slope = two_slope_beam_compliance(
            micro_half_angle_rad=one,
            primary_half_angle_rad=other,
            tip_distance_mm=1.0,
            shoulder_distance_mm=height,
            clamp_distance_mm=clamp,
        )
        tip = slope_ratio(one, other)
        same_land = float(beam_compliance((tip + clamp - 1.0) / tip, half_angle_rad=other))
        found += beside_table(
            f"{micro:g} on {primary:g} deg, H = {height:g}",
            ("compliance", "compliance of a plain wedge of that land", "gain in stiffness"),
            (two_slope, same_land, same_land / two_slope),
            (printed, plain, gain),
        )
    return tuple(found)


TIMOSHENKO = "Timoshenko, Strength of Materials (taper bending; section from memory)"
CHECKS: tuple[Check, ...] = (
    Check(
        key="tapered-beam-integral",
        title="The tapered cantilever's bending integral F(rho)",
        source=f"{TIMOSHENKO}; F derived here; {FIGURES}",
        reason=PRINTED_REASON,
        compare=_bending_integral,
    ),
    Check(
        key="tapered-beam-table",
        title="A wedge loaded at its apex: the tapered beam against the exact wedge, by formula",
        source=f"{TIMOSHENKO}; J.H. Michell 1900; shear coefficient 5/6 after G.R. Cowper, J. "
        f"Appl. Mech. 33 (1966) 335-340; {FIGURES}",
        reason=PRINTED_REASON,
        compare=_apex_loaded_beam,
    ),
    Check(
        key="truncated-wedge-table",
        title="A truncated wedge loaded at its land: compliances by formula",
        source="derived here, the energy of J.H. Michell's and S.D. Carothers' fields; shear "
        "coefficient 5/6 after G.R. Cowper 1966; why prismatic shear is wrong in a taper: G. "
        f"Balduzzi et al., Int. J. Solids Struct. 90 (2016) 236-250; {FIGURES}",
        reason=PRINTED_REASON,
        compare=_tip_loaded_wedge,
    ),
    Check(
        key="micro-bevel-table",
        title="What a micro-bevel gains in first-yield load, by formula",
        source="elementary beam theory with the exact wedge's peak; derived here, no publication "
        f"known; {FIGURES} (also by brute force)",
        reason=PRINTED_REASON,
        compare=_gains,
    ),
    Check(
        key="two-slope-table",
        title="What a micro-bevel gains in stiffness, by formula",
        source=f"elementary beam theory; derived here, no publication known; {FIGURES}",
        reason=PRINTED_REASON,
        compare=_two_slope_stiffness,
    ),
)
