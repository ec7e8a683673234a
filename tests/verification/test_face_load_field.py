"""Pressure and friction along a face of a wedge, through the whole pipeline.

A stretch that is pressed from the apex on has, well in front of its end, the uniform field of an
endless stretch, less that of the piece between the virtual apex and the point where the face leaves
the rounded tip, which is not there and carries nothing. That piece acts as a force and a moment at
the virtual apex; at 5 deg it takes away a third of the stress at 60 R.

Sources: M. Levy, Comptes Rendus 126 (1898) 1235 (uniform tractions); J.H. Michell, Proc. London
Math. Soc. 32 (1900) 35-61, and S.D. Carothers, Proc. R. Soc. Edinburgh 33 (1912) 292-306 (force and
moment). The fields themselves are checked in `test_wedge_fields`.
"""

from __future__ import annotations

from functools import cache
from math import cos, radians, sin, tan

import numpy as np
import pytest

from simedge import run_case
from simedge.inputs.case import Case
from simedge.inputs.load import FaceLoad
from simedge.inputs.profile import Apex, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.run import Run
from simedge.section.outline import Side
from simedge.strength.closed_form.wedge_stress import (
    apex_force_stress,
    apex_moment_stress,
    cartesian_stress,
    face_pressure_stress,
    face_shear_stress,
)

#: The figure that the work was ordered with.
TOLERANCE_PERCENT = 0.5
HALF_ANGLES_DEG = (5.0, 10.0, 15.0, 20.0, 30.0)
KINDS = ("pressure", "shear")
SIDES: tuple[Side, Side] = ("left", "right")
RADIUS_MM = 1e-3
HEIGHT_MM = 10.0
PRESSURE_MPA = 20.0
FRICTION = 0.5
PLACES = 10
#: A stretch must end in front of the clamp. Its end is felt as the clamp is: 0.2 % at 30 deg, at
#: 0.2 of the clamp's depth, less in front of that.
PRESSED_SHARE = 0.9


@cache
def run_pressed(dps: float, side: Side) -> Run:
    """Run a wedge with one whole face pressed, without and with friction."""
    loads = tuple(
        FaceLoad(
            at="left face" if side == "left" else "right face",
            from_mm=0.0,
            to_mm=PRESSED_SHARE * HEIGHT_MM,
            pressure_mpa=PRESSURE_MPA,
            friction=friction,
        )
        for friction in (0.0, FRICTION)
    )
    profile = Profile(
        apex=Apex(radius_um=1000.0 * RADIUS_MM),
        height_mm=HEIGHT_MM,
        primary_grind=PrimaryGrind(dps=dps),
    )
    steel = Steel(grade="52100", hardness_hrc=60.0)
    return run_case(Case(profile=profile, steel=steel, loads=loads))


def exact_polar_stress(
    kind: str, side: Side, half: float, radius: np.ndarray, theta: np.ndarray
) -> np.ndarray:
    """Give the endless stretch less the piece in front of the tip's tangent point."""
    missing = RADIUS_MM / tan(half)  # along the face, from the virtual apex to the tangent point
    outward = 1.0 if side == "left" else -1.0
    if kind == "pressure":
        endless = face_pressure_stress(
            radius, theta, half_angle_rad=half, pressure_mpa=PRESSURE_MPA, loaded_face=side
        )
        size = PRESSURE_MPA * missing
        axial, lateral = size * sin(half), -outward * size * cos(half)
        moment = -outward * size * missing / 2.0
    else:
        endless = face_shear_stress(
            radius, theta, half_angle_rad=half, shear_mpa=FRICTION * PRESSURE_MPA, loaded_face=side
        )
        size = FRICTION * PRESSURE_MPA * missing
        axial, lateral, moment = size * cos(half), outward * size * sin(half), 0.0
    piece = apex_force_stress(
        radius, theta, half_angle_rad=half, axial_n_per_mm=axial, lateral_n_per_mm=lateral
    ) + apex_moment_stress(radius, theta, half_angle_rad=half, moment_n=moment)
    return endless - piece


def differences_percent(dps: float, kind: str, side: Side) -> np.ndarray:
    """Give |xx|, |yy|, |xy| differences on left face, axis, right face, shape (3, 3, places).

    Percent of the stress along the loaded face at the same radius.
    """
    run, half = run_pressed(dps, side), radians(dps)
    radius = np.geomspace(60.0 * RADIUS_MM, 0.2 * HEIGHT_MM, PLACES)
    theta = np.array([half, 0.0, -half])[:, None] * np.ones(PLACES)
    polar = exact_polar_stress(kind, side, half, radius, theta)
    exact = cartesian_stress(polar, theta)
    virtual = RADIUS_MM / sin(half) - RADIUS_MM
    places = radius * np.cos(theta) - virtual, radius * np.sin(theta)
    pressed, dragged = (answer.stress.at(*places)[:3] for answer in run.loads)
    # friction alone is the difference of the two: the problem is linear
    found = pressed if kind == "pressure" else dragged - pressed
    loaded = 0 if side == "left" else 2
    return 100.0 * np.abs(found.reshape(exact.shape) - exact) / np.abs(polar[0, loaded])


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("dps", HALF_ANGLES_DEG, ids=lambda d: f"{d:g}dps")
def test_stress_is_levys(dps: float, kind: str, side: Side) -> None:
    """Source: Levy 1898, less Michell 1900 and Carothers 1912 for the piece that is not there."""
    assert differences_percent(dps, kind, side).max() < TOLERANCE_PERCENT


def test_the_missing_piece_matters() -> None:
    """By hand at 5 deg: the face begins R / tan 5 deg = 11.43 R behind the virtual apex.

    At 60 R a force p * 11.43 R takes 11.43 / 60 * 197.0 p = 37.5 p off the face, its moment gives
    196.6 / 2 * (11.43 / 60)^2 p = 3.6 p back, and Levy's endless stretch has 97.3 p there.
    """
    half, radius = radians(5.0), np.array([60.0 * RADIUS_MM])
    exact = exact_polar_stress("pressure", "left", half, radius, np.array([half]))[0, 0]
    assert exact / PRESSURE_MPA == pytest.approx(97.3 - 37.5 + 3.6, abs=0.2)


@pytest.mark.parametrize(("side", "sign"), [("left", -1.0), ("right", 1.0)])
def test_pressure_moves_the_apex_away_from_itself(side: Side, sign: float) -> None:
    """By definition: pressure on the left face (+y) pushes towards -y; the pressed face stretches.

    Friction drags towards the spine, so it moves the apex into the blade.
    """
    pressed, dragged = run_pressed(15.0, side).loads
    assert sign * pressed.apex_lateral_mm > 0.0
    assert dragged.apex_axial_mm > pressed.apex_axial_mm
    face = 1.0 if side == "left" else -1.0
    y = face * (0.999 * tan(radians(15.0)) * 0.5)
    assert pressed.stress.at(0.5, y)[0, 0] > 0.0
    assert pressed.stress.at(0.5, -y)[0, 0] < 0.0
