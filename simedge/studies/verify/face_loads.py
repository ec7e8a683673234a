"""The pipeline's stress under pressure and friction along one face, beside Levy's exact fields.

A stretch pressed from the apex on has, well in front of its end, the uniform field of an endless
stretch, less that of the piece between the virtual apex and the point where the face leaves the
rounded tip, which is not there and carries nothing. That piece acts as a force and a moment at
the virtual apex; at 5 degrees it takes away a third of the stress at 60 tip radii.
"""

from __future__ import annotations

from functools import lru_cache
from math import cos, radians, sin, tan
from typing import Literal

import numpy as np

from simedge.inputs.grinds import Apex, PrimaryGrind
from simedge.inputs.load import FaceLoad
from simedge.inputs.profile import Profile
from simedge.section.outline import SIDES, Floats, Side
from simedge.strength.closed_form.wedge_stress import (
    apex_force_stress,
    apex_moment_stress,
    cartesian_stress,
    face_pressure_stress,
    face_shear_stress,
)
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.printed_tables import APEX_FORCE, FACE_LOADS, MOMENT
from simedge.studies.verify.solved import SolvedSection, solve_section

Kind = Literal["pressure", "shear"]
LEVY = (
    "M. Levy, Comptes Rendus 126 (1898) 1235; Timoshenko & Goodier, Theory of Elasticity, 3rd ed. "
    "1970, Art. 45 (number from memory); less J.H. Michell 1900 and S.D. Carothers 1912 for the "
    "piece in front of the tip"
)
#: One length in two units, so that a slip between them shows.
RADIUS_UM, RADIUS_MM = 1.0, 1e-3
HEIGHT_MM = 10.0
HALF_ANGLES_DEG = (5.0, 15.0, 30.0)
PRESSURE_MPA, FRICTION = 20.0, 0.5
#: A stretch must end in front of the clamp. Its end is felt as the clamp is.
PRESSED_SHARE = 0.9
PLACES = 10
#: Of the stress along the loaded face; the work was ordered with it.
TOLERANCE_PERCENT = 0.5
REASON = (
    "The mesh of the default accuracy leaves up to 0.2 % of the stress along the loaded face; the "
    "end of the stretch is felt by another 0.2 % at 0.2 of the clamp's depth in the widest wedge."
)


@lru_cache(maxsize=8)
def pressed_wedge(dps: float, side: Side) -> SolvedSection:
    """Solve a wedge with one whole face pressed, without and with friction."""
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
        apex=Apex(radius_um=RADIUS_UM),
        height_mm=HEIGHT_MM,
        primary_grind=PrimaryGrind(dps=dps),
    )
    return solve_section(profile, loads)


def missing_mm(half_angle_rad: float) -> float:
    """Give the length along the face from the virtual apex to where the face leaves the tip."""
    return RADIUS_MM / tan(half_angle_rad)


def exact_polar_stress(
    kind: Kind, side: Side, half_angle_rad: float, radius_mm: Floats, theta_rad: Floats
) -> Floats:
    """Give the endless stretch less the piece in front of the tip's tangent point."""
    outward = 1.0 if side == "left" else -1.0
    where = {"half_angle_rad": half_angle_rad}
    missing = missing_mm(half_angle_rad)
    if kind == "pressure":
        endless = face_pressure_stress(
            radius_mm,
            theta_rad,
            half_angle_rad=half_angle_rad,
            pressure_mpa=PRESSURE_MPA,
            loaded_face=side,
        )
        size = PRESSURE_MPA * missing
        axial, lateral = size * sin(half_angle_rad), -outward * size * cos(half_angle_rad)
        moment = -outward * size * missing / 2.0
    else:
        endless = face_shear_stress(
            radius_mm,
            theta_rad,
            half_angle_rad=half_angle_rad,
            shear_mpa=FRICTION * PRESSURE_MPA,
            loaded_face=side,
        )
        size = FRICTION * PRESSURE_MPA * missing
        axial, lateral = size * cos(half_angle_rad), outward * size * sin(half_angle_rad)
        moment = 0.0
    piece = apex_force_stress(
        radius_mm, theta_rad, axial_n_per_mm=axial, lateral_n_per_mm=lateral, **where
    ) + apex_moment_stress(radius_mm, theta_rad, moment_n=moment, **where)
    return endless - piece


def found_stress(
    dps: float, kind: Kind, side: Side, radius_mm: Floats, theta_rad: Floats
) -> Floats:
    """Give xx, yy, xy of the pipeline in the wedge's own places, along the first axis."""
    solved, half = pressed_wedge(dps, side), radians(dps)
    virtual = RADIUS_MM / sin(half) - RADIUS_MM
    places = radius_mm * np.cos(theta_rad) - virtual, radius_mm * np.sin(theta_rad)
    pressed, dragged = (field.at(*places)[:3] for field in solved.fields)
    # friction alone is the difference of the two: the problem is linear
    return pressed if kind == "pressure" else dragged - pressed


def differences_percent(dps: float, kind: Kind, side: Side) -> Floats:
    """Give |xx|, |yy|, |xy| differences on left face, axis, right face, shape (3, 3, places).

    Ten radii from 60 tip radii to 0.2 of the clamp's depth; percent of the stress along the
    loaded face at the same radius.
    """
    half = radians(dps)
    radius = np.geomspace(60.0 * RADIUS_MM, 0.2 * HEIGHT_MM, PLACES)
    theta = np.array([half, 0.0, -half])[:, None] * np.ones(PLACES)
    polar = exact_polar_stress(kind, side, half, radius, theta)
    exact = cartesian_stress(polar, theta)
    found = found_stress(dps, kind, side, radius, theta).reshape(exact.shape)
    loaded = 0 if side == "left" else 2
    return np.asarray(100.0 * np.abs(found - exact) / np.abs(polar[0, loaded]))


def _printed_free_face(kind: Kind, dps: float, radius: float) -> float:
    """Give the stress along the free face from the printed factors alone, left face loaded."""
    half = radians(dps)
    force, moment, face = (
        next(row[1:] for row in table if row[0] == dps)
        for table in (APEX_FORCE, MOMENT, FACE_LOADS)
    )
    missing = missing_mm(half)
    if kind == "pressure":
        endless, size = PRESSURE_MPA * face[1], PRESSURE_MPA * missing
        axial, lateral, turn = size * sin(half), -size * cos(half), -size * missing / 2.0
    else:
        size = FRICTION * PRESSURE_MPA * missing
        endless = FRICTION * PRESSURE_MPA * face[5]
        axial, lateral, turn = size * cos(half), size * sin(half), 0.0
    # on the right face, theta = -alpha
    piece = (-axial * force[4] + lateral * force[5]) / radius - turn * moment[0] / radius**2
    return endless - piece


def _face_load(kind: Kind) -> tuple[Comparison, ...]:
    found = []
    radius = 1.0
    for dps in HALF_ANGLES_DEG:
        half = radians(dps)
        xx, yy, _ = found_stress(dps, kind, "left", np.array([radius]), np.array([-half]))[:, 0]
        found.append(
            Comparison(
                what=f"{dps:g} deg per side, left face loaded: stress along the free face, 1 mm "
                "from the virtual apex",
                computed=float(xx + yy),
                reference=_printed_free_face(kind, dps, radius),
                unit="MPa",
                tolerance=TOLERANCE_PERCENT / 100.0,
            )
        )
        found += [
            Comparison(
                what=f"{dps:g} deg per side, {side} face loaded: largest difference of any "
                "component, share of the stress along the loaded face",
                computed=float(differences_percent(dps, kind, side).max()),
                reference=0.0,
                unit="%",
                tolerance=TOLERANCE_PERCENT,
                absolute=True,
            )
            for side in (SIDES if dps == 15.0 else SIDES[:1])
        ]
    return tuple(found)


CHECKS: tuple[Check, ...] = (
    Check(
        key="face-pressure",
        title="Pressure along one face: stress all through the wedge",
        source=LEVY,
        reason=REASON,
        compare=lambda: _face_load("pressure"),
    ),
    Check(
        key="face-friction",
        title="Friction dragging one face towards the spine: stress all through the wedge",
        source=LEVY,
        reason=REASON,
        compare=lambda: _face_load("shear"),
    ),
)
