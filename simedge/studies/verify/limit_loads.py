"""What verdicts rest on: limit loads of slim wedges, and crack factors of finite thickness."""

from __future__ import annotations

from math import radians, sqrt, tan

import numpy as np

from simedge.inputs.grinds import Apex, PrimaryGrind
from simedge.inputs.profile import Profile
from simedge.section.outline import build_outline
from simedge.section.tractions import TipTraction, Tractions
from simedge.strength.blunting import crushing_pressure_mpa
from simedge.strength.closed_form.edge_crack import bending_factor, tension_factor
from simedge.strength.normal_sections import normal_sections
from simedge.strength.roll import roll_factors
from simedge.strength.zones import trusted_depth_mm
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.printed_tables import FIGURES

LAND_MM, HEIGHT_MM = 0.1, 20.0
#: Shear yield strength k; the yield strength is sqrt(3) of it.
SHEAR_MPA = 1000.0
#: Q / (4 k t_a tan a) of a push on the land, by half angle: the bounds of limit analysis.
BRACKETS = {
    5.0: (0.9923, 1.0751),
    10.0: (0.9698, 1.1284),
    15.0: (0.9052, 0.9330),
    20.0: (0.6716, 0.6869),
    30.0: (0.4255, 0.4330),
}
#: Mean tip pressure over 2k of a smooth rigid die, lower bound of limit analysis.
TIP_PRESSURES = {5.0: 1.0822, 10.0: 1.1644, 15.0: 1.2460, 20.0: 1.3276, 30.0: 1.4893}
#: Share of the thickness, factor in tension and in bending: handbook tables, three digits.
CRACKS = (
    (0.1, 1.19, 1.044),
    (0.2, 1.37, 1.055),
    (0.3, 1.66, 1.125),
    (0.4, 2.11, 1.257),
    (0.5, 2.83, 1.495),
    (0.6, 4.03, 1.915),
)


def _pushed_on_land(dps: float) -> float:
    """Give the lateral limit load of a truncated wedge over 4 k t_a tan a."""
    profile = Profile(
        apex=Apex(land_um=1000.0 * LAND_MM),
        height_mm=HEIGHT_MM,
        primary_grind=PrimaryGrind(dps=dps),
    )
    outline = build_outline(profile.apex, profile.faces)
    tip = TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=1.0, spread="uniform")
    load = Tractions(name="push", tip=(tip,))
    sections = normal_sections(outline, load, trusted_depth_mm(outline))
    factor = float(np.min(roll_factors(sections, SHEAR_MPA * sqrt(3.0))))
    return factor / (4.0 * SHEAR_MPA * LAND_MM * tan(radians(dps)))


def _brackets() -> tuple[Comparison, ...]:
    return tuple(
        Comparison(
            what=f"push that folds or shears off a land, {dps:g} degrees per side",
            computed=_pushed_on_land(dps),
            reference=0.5 * (low + high),
            unit="",
            tolerance=0.5 * (high - low) + 0.01 * high,
            absolute=True,
        )
        for dps, (low, high) in BRACKETS.items()
    )


def _pressures() -> tuple[Comparison, ...]:
    strip = 2.0 * SHEAR_MPA
    return tuple(
        Comparison(
            what=f"pressure that crushes a land, {dps:g} degrees per side, over 2k",
            computed=crushing_pressure_mpa(radians(dps), SHEAR_MPA * sqrt(3.0)) / strip,
            reference=pressure,
            unit="",
            tolerance=0.03,
        )
        for dps, pressure in TIP_PRESSURES.items()
    )


def _cracks() -> tuple[Comparison, ...]:
    found = []
    for share, tension, bending in CRACKS:
        for words, factor, printed in (
            ("tension", tension_factor(share), tension),
            ("bending", bending_factor(share), bending),
        ):
            found.append(
                Comparison(
                    what=f"edge crack through {share:g} of the thickness, {words}",
                    computed=float(factor),
                    reference=printed,
                    unit="",
                    tolerance=0.01,
                )
            )
    return tuple(found)


CHECKS: tuple[Check, ...] = (
    Check(
        key="pushed-land-limit",
        title="The push that folds a truncated wedge, or shears its land off",
        source=(
            f"{FIGURES}; bounds by limit analysis (Makrodimopoulos & Martin, Int. J. Numer. Meth. "
            "Eng. 66 (2006) 604-634, the method) and by mechanisms (A.P. Green, J. Mech. Phys. "
            "Solids 3 (1954) 1-15)"
        ),
        reason=(
            "the exact load lies between the two bounds: ours may be anywhere between them, and "
            "1 % outside, which is what interaction of bending and shear in a rectangle leaves out."
        ),
        compare=_brackets,
    ),
    Check(
        key="land-pressure",
        title="The pressure at which a land flows",
        source=f"{FIGURES}; R. Hill, The Mathematical Theory of Plasticity, 1950 (not checked)",
        reason=(
            "the reference is a lower bound of limit analysis, which lies 0.5 to 2.3 % below "
            "Hill's field at these angles and closes in with its mesh."
        ),
        compare=_pressures,
    ),
    Check(
        key="edge-crack-factors",
        title="Stress intensity of an edge crack in a strip of finite thickness",
        source=(
            "H. Tada, P.C. Paris & G.R. Irwin, The Stress Analysis of Cracks Handbook, tables of "
            "the single-edge-notched strip (from memory, three digits)"
        ),
        reason="the polynomials are said to be good to 0.5 %, and the tables have three digits.",
        compare=_cracks,
    ),
)
