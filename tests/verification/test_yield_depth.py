"""Yield depth of the whole pipeline against the root of the exact field, from the real apex.

The deepest x at which Michell's field, with the moment of the load's true line of action, reaches
yield: a root in radius for each direction through the thickness (`scipy.optimize.brentq`), then the
deepest over directions. Nothing of `simedge.strength.local_wedge` is used.

Sources: J.H. Michell, Proc. London Math. Soc. 32 (1900) 35-61; S.D. Carothers, Proc. R. Soc.
Edinburgh 33 (1912) 292-306; von Mises stress in plane strain by definition.
"""

from __future__ import annotations

from functools import cache
from math import cos, radians, sin

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from simedge import run_case
from simedge.inputs.case import Case
from simedge.inputs.load import TipLineLoad
from simedge.inputs.profile import Apex, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.run import Run
from simedge.section.tractions import tip_resultant
from simedge.strength.closed_form.wedge_stress import apex_force_stress, apex_moment_stress

#: The figure that the work was ordered with; a depth goes as the stress, which is good to 0.3 %.
TOLERANCE_PERCENT = 0.5
RADIUS_MM = 1e-3
HEIGHT_MM = 10.0
YIELD_STRENGTH_MPA = 2000.0
POISSONS_RATIO = 0.3
HALF_ANGLES_DEG = (5.0, 10.0, 15.0, 20.0, 30.0)
#: Aims in radii of the tip; from 30 on the figure holds, and 2000 is 0.2 of the clamp's depth.
DEPTHS_IN_RADII = (32.0, 60.0, 150.0, 500.0, 1900.0)
#: Straight in, square to it, and in between.
DIRECTIONS_DEG = {"axial": 0.0, "lateral": 90.0, "oblique": 3.0}
DIRECTIONS = tuple(DIRECTIONS_DEG)


def mises_mpa(
    radius_mm: np.ndarray | float,
    theta_rad: float,
    half_angle_rad: float,
    load: tuple[float, float, float],
) -> np.ndarray:
    """Give the exact field's von Mises stress; the load is axial, lateral and moment."""
    radial, hoop, shear = apex_force_stress(
        radius_mm,
        theta_rad,
        half_angle_rad=half_angle_rad,
        axial_n_per_mm=load[0],
        lateral_n_per_mm=load[1],
    ) + apex_moment_stress(radius_mm, theta_rad, half_angle_rad=half_angle_rad, moment_n=load[2])
    out = POISSONS_RATIO * (radial + hoop)
    squares = (radial - hoop) ** 2 + (hoop - out) ** 2 + (out - radial) ** 2
    return np.sqrt(0.5 * squares + 3.0 * shear**2)


def exact_depth_mm(half_angle_rad: float, load: tuple[float, float, float]) -> float:
    """Give the deepest x, from the virtual apex, at which the exact field reaches yield."""
    radii = np.geomspace(RADIUS_MM, HEIGHT_MM, 200)

    def depth(theta: float) -> float:
        yields = mises_mpa(radii, theta, half_angle_rad, load) >= YIELD_STRENGTH_MPA
        if not yields.any():
            return 0.0
        deepest = int(np.flatnonzero(yields)[-1])
        root = brentq(
            lambda r: float(mises_mpa(r, theta, half_angle_rad, load)) - YIELD_STRENGTH_MPA,
            radii[deepest],
            radii[deepest + 1],
            xtol=1e-13,
        )
        return float(root) * cos(theta)

    directions = np.linspace(-half_angle_rad, half_angle_rad, 17)
    depths = [depth(theta) for theta in directions]
    best = int(np.argmax(depths))
    around = directions[max(best - 1, 0)], directions[min(best + 1, directions.size - 1)]
    refined = minimize_scalar(lambda theta: -depth(theta), bounds=around, method="bounded")
    return max(depths[best], -float(refined.fun))


def load_n_per_mm(half_angle_rad: float, depth_mm: float, direction_deg: float) -> TipLineLoad:
    """Give the tip load of that direction with yield about that deep."""
    virtual = RADIUS_MM / sin(half_angle_rad) - RADIUS_MM
    axial, lateral = cos(radians(direction_deg)), sin(radians(direction_deg))
    unit = (axial, lateral, lateral * virtual)
    stress = max(
        float(mises_mpa((depth_mm + virtual) / cos(theta), theta, half_angle_rad, unit))
        for theta in (-half_angle_rad, 0.0, half_angle_rad)
    )
    size = YIELD_STRENGTH_MPA / stress
    return TipLineLoad(axial_n_per_mm=size * axial, lateral_n_per_mm=size * lateral)


@cache
def run_wedge(dps: float, direction: str, accuracy_percent: float) -> Run:
    """Run an edge ground flat to the apex under loads of one direction, ever larger."""
    half = radians(dps)
    return run_case(
        Case(
            profile=Profile(
                apex=Apex(radius_um=1000.0 * RADIUS_MM),
                height_mm=HEIGHT_MM,
                primary_grind=PrimaryGrind(dps=dps),
            ),
            steel=Steel(
                grade="52100",
                hardness_hrc=60.0,
                yield_strength_mpa=YIELD_STRENGTH_MPA,
                poissons_ratio=POISSONS_RATIO,
            ),
            loads=tuple(
                load_n_per_mm(half, depth * RADIUS_MM, DIRECTIONS_DEG[direction])
                for depth in DEPTHS_IN_RADII
            ),
            accuracy_percent=accuracy_percent,
        )
    )


def depth_differences_percent(
    dps: float, direction: str, accuracy_percent: float = 1.0
) -> tuple[np.ndarray, np.ndarray]:
    """Give the exact depths in radii, and how far the pipeline's differ, percent."""
    run = run_wedge(dps, direction, accuracy_percent)
    half = radians(dps)
    virtual = RADIUS_MM / sin(half) - RADIUS_MM
    exact, found = [], []
    for answer in run.loads:
        axial, lateral, moment = tip_resultant(answer.tractions.tip[0], run.outline)
        load = (axial, lateral, moment + lateral * virtual)
        exact.append(exact_depth_mm(half, load) - virtual)
        found.append(answer.yield_depth_mm)
    depths = np.array(exact)
    return depths / RADIUS_MM, 100.0 * np.abs(np.array(found) / depths - 1.0)


@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize("dps", HALF_ANGLES_DEG, ids=lambda d: f"{d:g}dps")
def test_yield_depth_is_the_exact_fields(dps: float, direction: str) -> None:
    """Source: Michell 1900, Carothers 1912. At the accuracy that people get by default."""
    depths, differences = depth_differences_percent(dps, direction)
    assert depths.min() > 30.0  # the figure is for these
    assert differences.max() < TOLERANCE_PERCENT


@pytest.mark.parametrize("direction", ["axial", "lateral"])
def test_nothing_yields_below_first_yield(direction: str) -> None:
    """By definition: below the load of first yield, section and patch alike, the depth is 0."""
    run = run_wedge(15.0, direction, 1.0)
    answer = run.loads[0]
    factors = (answer.first_yield_load_factor, answer.patch_first_yield_load_factor)
    for share, yields in ((0.99, False), (1.01, True)):
        size = share * min(factor for factor in factors if factor is not None)
        load = TipLineLoad(
            axial_n_per_mm=size * answer.tractions.tip_axial_n_per_mm,
            lateral_n_per_mm=size * answer.tractions.tip_lateral_n_per_mm,
        )
        case = Case(profile=run.case.profile, steel=run.case.steel, loads=(load,))
        again = run_case(case).loads[0]
        assert (again.yield_depth_mm > 0.0) is yields
        assert bool(again.yielded_stretches_mm) is yields
