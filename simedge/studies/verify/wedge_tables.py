"""The closed forms of an endless wedge, number by number against their printed tables.

The fields of the pipeline are held against these formulas, so these come first: a half angle
for the included one, a lost factor or a sign shows here in the eighth digit.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from simedge.strength.closed_form.wedge_constants import uniaxial_mises_factor, wedge_constants
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
    peak_distance_factor,
    peak_stress_factor,
    yield_depth_mm,
)
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.printed_tables import (
    APEX_FORCE,
    FACE_LOADS,
    FIGURES,
    MOMENT,
    OBLIQUE_FORCE,
    POISSONS_RATIO,
    PRINTED,
    TENSION_FACE,
)

PRINTED_REASON = (
    "Only the printing is uncertain: half a unit in the last of eight printed digits is at most "
    "5e-8 of a figure."
)
STEEL = {"yield_strength_mpa": 1.0, "poissons_ratio": POISSONS_RATIO}


def beside_table(
    case: str, names: Iterable[str], computed: Iterable[float], printed: Iterable[float]
) -> tuple[Comparison, ...]:
    """Set computed numbers beside a row of a printed table."""
    return tuple(
        Comparison(
            what=f"{case}: {name}",
            computed=float(found),
            reference=figure,
            unit="",
            tolerance=PRINTED,
        )
        for name, found, figure in zip(names, computed, printed, strict=True)
    )


def _constants() -> tuple[Comparison, ...]:
    found = list(
        beside_table(
            "von Mises of a stress in one direction",
            ("at Poisson's ratio 0.3", "at 0.28"),
            (uniaxial_mises_factor(0.3), uniaxial_mises_factor(0.28)),
            (0.88881944, 0.89353232),
        )
    )
    for degrees, *printed in APEX_FORCE:
        wedge = wedge_constants(math.radians(degrees))
        computed = (wedge.axial, wedge.lateral, wedge.moment)
        found += beside_table(f"{degrees:g} deg", ("A_P", "A_Q", "m"), computed, printed[:3])
    return tuple(found)


def _apex_force() -> tuple[Comparison, ...]:
    names = (
        *("stress on the axis, axial force", "on a face, axial", "on a face, lateral"),
        *("yield depth on the axis, axial", "on a face, axial", "on a face, lateral"),
    )
    found: list[Comparison] = []
    for degrees, *printed in APEX_FORCE:
        a = math.radians(degrees)
        places = np.array([0.0, a])
        axial = -apex_force_stress(1.0, places, half_angle_rad=a, axial_n_per_mm=1.0)[0]
        lateral = -apex_force_stress(1.0, a, half_angle_rad=a, lateral_n_per_mm=1.0)[0]
        depth = yield_depth_mm(
            np.array([0.0, a, a]),
            half_angle_rad=a,
            axial_n_per_mm=np.array([1.0, 1.0, 0.0]),
            lateral_n_per_mm=np.array([0.0, 0.0, 1.0]),
            **STEEL,
        )
        computed = (*axial, lateral, *depth)
        found += beside_table(f"{degrees:g} deg", names, computed, printed[3:])
    return tuple(found)


def _oblique_force() -> tuple[Comparison, ...]:
    found: list[Comparison] = []
    directions = (5.0, 15.0, 30.0, 45.0, 90.0)
    beta = np.radians(directions)
    for (degrees, *deepest), (_, *tension) in zip(OBLIQUE_FORCE, TENSION_FACE, strict=True):
        a = math.radians(degrees)
        axial, lateral = np.cos(beta), np.sin(beta)
        towards = deepest_yield_direction_rad(
            half_angle_rad=a, axial_n_per_mm=axial, lateral_n_per_mm=lateral
        )
        depth, on_tension_face = (
            yield_depth_mm(
                place, half_angle_rad=a, axial_n_per_mm=axial, lateral_n_per_mm=lateral, **STEEL
            )
            for place in (towards, -a)
        )
        names = [f"deepest yield, force at {direction:g} deg" for direction in directions]
        names += ["direction from which on a face yields deepest"]
        names += [f"yield of the tension face, force at {at} deg" for at in (15, 45)]
        names += ["direction from which on a face is in tension"]
        limits = (face_yield_inclination_rad(a), face_tension_inclination_rad(a))
        computed = (*depth, math.degrees(limits[0]), *on_tension_face[[1, 3]])
        computed = (*computed, math.degrees(limits[1]))
        found += beside_table(f"{degrees:g} deg", names, computed, (*deepest, *tension))
    return tuple(found)


def _moment() -> tuple[Comparison, ...]:
    names = (
        *("stress on a face, moment", "shear on the axis, moment"),
        *("distance of the peak over that of the load", "the same along the axis"),
        *("peak read off the fields", "peak by its formula", "peak of the beam"),
        *("peak along the face over the beam's", "peak along the axis over the beam's"),
    )
    found: list[Comparison] = []
    for degrees, *printed in MOMENT:
        a = math.radians(degrees)
        face = apex_moment_stress(1.0, a, half_angle_rad=a, moment_n=1.0)[0]
        axis = apex_moment_stress(1.0, 0.0, half_angle_rad=a, moment_n=1.0)[2]
        place, peak = peak_distance_factor(a), peak_stress_factor(a)
        fields = apex_force_stress(
            place, -a, half_angle_rad=a, lateral_n_per_mm=1.0
        ) + apex_moment_stress(place, -a, half_angle_rad=a, moment_n=1.0)
        beam = 3.0 / (8.0 * math.tan(a) ** 2)
        along_axis = cartesian_stress(fields, -a)[0]
        computed = (face, axis, place, place * math.cos(a), fields[0], peak, beam)
        ratios = (peak / beam, along_axis / beam)
        found += beside_table(f"{degrees:g} deg", names, (*computed, *ratios), printed)
    return tuple(found)


def _face_loads() -> tuple[Comparison, ...]:
    names = (
        *("pressure, loaded face", "pressure, free face", "pressure, shear on the axis"),
        *("shear, loaded face", "shear, free face", "shear, stress on the axis"),
        "shear, shear on the axis",
    )
    found: list[Comparison] = []
    for degrees, *printed in FACE_LOADS:
        a = math.radians(degrees)
        places = np.array([a, -a, 0.0])
        pressed = face_pressure_stress(1.0, places, half_angle_rad=a, pressure_mpa=1.0)
        dragged = face_shear_stress(1.0, places, half_angle_rad=a, shear_mpa=1.0)
        computed = (*pressed[0, :2], pressed[2, 2], *dragged[0], dragged[2, 2])
        figures = (*printed[:3], *printed[4:])
        found += beside_table(f"{degrees:g} deg", names, computed, figures)
    return tuple(found)


def _small_angles() -> tuple[Comparison, ...]:
    a = 0.05
    slope = math.tan(a)
    pairs = {
        "A_P over 2a (1 - a^2 / 3)": (wedge_constants(a).axial / (2 * a), 1 - a**2 / 3),
        "A_Q over 2a^3 / 3 (1 - a^2 / 5)": (
            wedge_constants(a).lateral / (2 / 3 * a**3),
            1 - a**2 / 5,
        ),
        "m over 8a^3 / 3 (1 - 2a^2 / 5)": (
            wedge_constants(a).moment / (8 / 3 * a**3),
            1 - 2 * a**2 / 5,
        ),
        "place of the peak along the axis": (
            peak_distance_factor(a) * math.cos(a),
            2 - 8 / 5 * a**2 + 184 / 525 * a**4,
        ),
        "peak over the beam's": (
            peak_stress_factor(a) * 8 * slope**2 / 3,
            1 + a**2 + 374 / 525 * a**4,
        ),
        "compliance over the beam's": (
            2 / 3 * slope**3 / wedge_constants(a).lateral,
            1 + 6 / 5 * a**2 + 167 / 175 * a**4,
        ),
    }
    two_terms = tuple(pairs)[:3]
    return tuple(
        Comparison(
            what=f"half angle 0.05 rad: {what}",
            computed=computed,
            reference=series,
            unit="",
            tolerance=2e-6 if what in two_terms else 2e-7,
        )
        for what, (computed, series) in pairs.items()
    )


CHECKS: tuple[Check, ...] = (
    Check(
        key="wedge-constants",
        title="Constants of a wedge: A_P, A_Q, m, and von Mises of a stress in one direction",
        source="J.H. Michell, Proc. London Math. Soc. 32 (1900) 35-61; S.D. Carothers, Proc. R. "
        f"Soc. Edinburgh 33 (1912) 292-306; {FIGURES}",
        reason=PRINTED_REASON,
        compare=_constants,
    ),
    Check(
        key="apex-force-table",
        title="Stress and yield depth of a force at the apex, by formula",
        source="M. Levy 1898; J.H. Michell 1900; Timoshenko & Goodier, Theory of Elasticity, 3rd "
        f"ed. 1970, Art. 38 (number from memory); yield depths derived here; {FIGURES}",
        reason=PRINTED_REASON,
        compare=_apex_force,
    ),
    Check(
        key="oblique-force-table",
        title="Yield depth of an oblique force at the apex, by formula",
        source=f"derived here on the fields of J.H. Michell 1900; {FIGURES}",
        reason=PRINTED_REASON,
        compare=_oblique_force,
    ),
    Check(
        key="moment-table",
        title="Stress of a moment at the apex, and peak of a force at a distance, by formula",
        source="S.D. Carothers 1912; C.E. Inglis, Trans. Inst. Naval Arch. 64 (1922); Timoshenko "
        f"& Goodier Art. 39 (number from memory); peaks derived here; {FIGURES}",
        reason=PRINTED_REASON,
        compare=_moment,
    ),
    Check(
        key="face-load-table",
        title="Stress of pressure and of shear along one face, by formula",
        source="M. Levy, Comptes Rendus 126 (1898) 1235; Timoshenko & Goodier Art. 45 (number "
        f"from memory); {FIGURES}",
        reason=PRINTED_REASON,
        compare=_face_loads,
    ),
    Check(
        key="small-angle-series",
        title="Slim wedges against the power series of their formulas",
        source="Taylor series of sine and cosine, done by hand and symbolically in the project's "
        "physics notes",
        reason="The first term that a series leaves out is of order a^4 / 5 = 1.3e-6 at a = 0.05 "
        "for the constants, and of order 5 a^6 = 8e-8 for peaks and compliance.",
        compare=_small_angles,
    ),
)
