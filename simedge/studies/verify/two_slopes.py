"""Edges with a micro-bevel on a primary, bent by a lateral load on their land.

While the peak lies in the micro-bevel it is that of the micro-bevel's own wedge, whatever stands
behind; a micro-bevel gains in first-yield load until the peak has moved into it, and no more.
"""

from __future__ import annotations

from functools import lru_cache
from math import radians, tan

import numpy as np

from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.load import TipLineLoad
from simedge.inputs.profile import Profile
from simedge.strength.peaks import find_peaks
from simedge.strength.zones import patch_zone, trusted_depth_mm
from simedge.studies.verify.cantilevers import (
    CUT_OFF_MM,
    LATERAL_N_PER_MM,
    PEAK_TOLERANCE,
    PLACE_TOLERANCE,
    SOURCE,
    along_stretched_face,
    mean_movement_mm,
)
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.printed_tables import GAIN_CAPS, MOMENT, TWO_SLOPE_FINITE_ELEMENTS
from simedge.studies.verify.solved import (
    PLANE_STRAIN_MODULUS_MPA,
    SolvedSection,
    solve_section,
)

#: Micro-bevel and primary, height ratio H; where and how large the exact wedge's peak is.
PEAKS_IN_MICRO_BEVEL = ((20.0, 15.0, 5.0), (15.0, 10.0, 3.0), (20.0, 10.0, 3.0))
CLAMP_RATIO = 20.0


@lru_cache(maxsize=32)
def micro_bevelled(
    micro_dps: float | None,
    height_ratio: float,
    primary_dps: float,
    land_mm: float,
    depth_mm: float,
) -> SolvedSection:
    """Solve an edge on a land under a lateral load, with a micro-bevel or without.

    Parameters
    ----------
    micro_dps : float or None
    height_ratio : float
        H: distance of the shoulder over that of the land, from the micro-bevel's virtual apex.
    primary_dps : float
    land_mm, depth_mm : float
        Width of the land, and how far behind it the edge is held.
    """
    bevels: tuple[Bevel, ...] = ()
    if micro_dps is not None:
        height = (height_ratio - 1.0) * 0.5 * land_mm / tan(radians(micro_dps))
        bevels = (Bevel(name="micro-bevel", dps=micro_dps, height_mm=height),)
    profile = Profile(
        apex=Apex(land_um=1000.0 * land_mm),
        height_mm=depth_mm,
        bevels=bevels,
        primary_grind=PrimaryGrind(dps=primary_dps),
    )
    return solve_section(
        profile, (TipLineLoad(lateral_n_per_mm=LATERAL_N_PER_MM, spread="uniform"),)
    )


def _on_unit_land(micro_dps: float, primary_dps: float, height: float) -> SolvedSection:
    """Solve with the land 1 mm behind the micro-bevel's virtual apex, held at 20 mm."""
    land = 2.0 * CUT_OFF_MM * tan(radians(micro_dps))
    depth = (CLAMP_RATIO - 1.0) * CUT_OFF_MM
    return micro_bevelled(micro_dps, height, primary_dps, land, depth)


def _two_slope_peaks() -> tuple[Comparison, ...]:
    printed = {row[0]: row[1:] for row in MOMENT}
    found = []
    for micro, primary, height in PEAKS_IN_MICRO_BEVEL:
        solved = _on_unit_land(micro, primary, height)
        x, along = along_stretched_face(solved, 0, micro)
        case = f"{micro:g} on {primary:g} deg, H = {height:g}"
        found += [
            Comparison(
                what=f"{case}: largest stress along the micro-bevel",
                computed=float(along.max()),
                reference=printed[micro][4] * LATERAL_N_PER_MM / CUT_OFF_MM,
                unit="MPa",
                tolerance=PEAK_TOLERANCE,
            ),
            Comparison(
                what=f"{case}: its distance from the virtual apex",
                computed=float(x[np.argmax(along)]),
                reference=printed[micro][3] * CUT_OFF_MM,
                unit="mm",
                tolerance=PLACE_TOLERANCE,
            ),
        ]
    return tuple(found)


def _two_slope_movement() -> tuple[Comparison, ...]:
    found = []
    for micro, primary, height, _, compliance in TWO_SLOPE_FINITE_ELEMENTS:
        moved = mean_movement_mm(_on_unit_land(micro, primary, height), 0)
        found.append(
            Comparison(
                what=f"{micro:g} on {primary:g} deg, H = {height:g}: movement of the land",
                computed=moved,
                reference=compliance * LATERAL_N_PER_MM / PLANE_STRAIN_MODULUS_MPA,
                unit="mm",
                tolerance=5e-4,
            )
        )
    return tuple(found)


# ---------------------------------------------------------------- what a micro-bevel gains

LAND_MM = 0.01
GAIN_DEPTH_MM = 30.0 * LAND_MM / tan(radians(15.0))


def land_distance_mm(dps: float) -> float:
    """Give a0, how far the land lies behind the virtual apex of faces of that angle."""
    return 0.5 * LAND_MM / tan(radians(dps))


def peak_of(
    micro_dps: float | None, height_ratio: float, primary_dps: float
) -> tuple[float, float]:
    """Give the section's peak von Mises stress (MPa) and its depth (mm) on a land of 10 µm."""
    solved = micro_bevelled(micro_dps, height_ratio, primary_dps, LAND_MM, GAIN_DEPTH_MM)
    outline = solved.outline
    zone = patch_zone(solved.tractions[0], outline)
    peak = find_peaks(solved.fields[0], zone, outline, trusted_depth_mm(outline)).section
    assert peak is not None  # a land always has a finite peak
    return peak.value_mpa, peak.x_mm


def found_gain(micro_dps: float, primary_dps: float, height_ratio: float) -> float:
    """Give the gain in first-yield load over the plain primary on the same land."""
    return peak_of(None, 1.0, primary_dps)[0] / peak_of(micro_dps, height_ratio, primary_dps)[0]


def _gains() -> tuple[Comparison, ...]:
    found = []
    for micro, primary, slopes, _, cap, _, kink in GAIN_CAPS[:3]:
        below = 0.9 * kink
        for height, gain in (
            (below, (below * (slopes - 1.0) + 1.0) / slopes),
            (1.2 * kink, cap),
            (2.0 * kink, cap),
        ):
            found.append(
                Comparison(
                    what=f"{micro:g} on {primary:g} deg, H = {height:.3f}: gain in first-yield "
                    "load",
                    computed=found_gain(micro, primary, height),
                    reference=gain,
                    unit="",
                    tolerance=5e-3,
                )
            )
        place = next(row[4] for row in MOMENT if row[0] == micro)
        distance = land_distance_mm(micro)
        found.append(
            Comparison(
                what=f"{micro:g} on {primary:g} deg, above saturation: distance of the peak from "
                "the virtual apex",
                computed=peak_of(micro, 1.2 * kink, primary)[1] + distance,
                reference=place * distance,
                unit="mm",
                tolerance=2.0 * PLACE_TOLERANCE,
            )
        )
    return tuple(found)


CHECKS: tuple[Check, ...] = (
    Check(
        key="two-slope-peak",
        title="A micro-bevel on a primary: the peak in the micro-bevel is that of its own wedge",
        source=f"{SOURCE}peak derived here; that the primary does not shift it, by an "
        "independent finite-element run in the project's physics notes",
        reason="What the shoulder behind adds to the peak is 0.03 % in the independent run and "
        "0.06 % here; four times that is allowed, and 1 % for the place of a flat maximum.",
        compare=_two_slope_peaks,
    ),
    Check(
        key="two-slope-movement",
        title="A micro-bevel on a primary: how far the land moves",
        source="an independent finite-element run in the project's physics notes (second-order "
        "triangles); no publication known",
        reason="Both are finite elements with a singular clamp corner; the printed compliances "
        "have five or six digits, and 0.05 % is left to the two meshes.",
        compare=_two_slope_movement,
    ),
    Check(
        key="micro-bevel-gain",
        title="A micro-bevel on a land of 10 µm: gain in first-yield load, and where it stops",
        source="derived here on elementary beam theory with the exact wedge's peak (Michell "
        "1900, Carothers 1912) for the cap; no publication known",
        reason="The formula takes beam theory for the primary's peak, which is off by up to 0.2 % "
        "beside the shoulder; two peaks, each good to 0.2 %, are divided. The peak's place is a "
        "flat maximum between points of the mesh.",
        compare=_gains,
    ),
)
