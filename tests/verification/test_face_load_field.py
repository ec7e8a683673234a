"""Pressure and friction along a face of a wedge, through the whole pipeline.

A stretch that is pressed from the apex on has, well in front of its end, the uniform field of an
endless stretch, less that of the piece between the virtual apex and the point where the face leaves
the rounded tip, which is not there and carries nothing. That piece acts as a force and a moment at
the virtual apex; at 5 deg it takes away a third of the stress at 60 R.

Sources: M. Levy, Comptes Rendus 126 (1898) 1235 (uniform tractions); J.H. Michell, Proc. London
Math. Soc. 32 (1900) 35-61, and S.D. Carothers, Proc. R. Soc. Edinburgh 33 (1912) 292-306 (force and
moment). The fields themselves are checked in `test_wedge_fields`. The
computation is that of the checks (`simedge.studies.verify.face_loads`), here for more angles.
"""

from __future__ import annotations

from math import radians, tan

import numpy as np
import pytest

from simedge.section.outline import SIDES, Side
from simedge.studies.verify.face_loads import (
    PRESSURE_MPA,
    RADIUS_MM,
    TOLERANCE_PERCENT,
    Kind,
    differences_percent,
    exact_polar_stress,
    pressed_wedge,
)

HALF_ANGLES_DEG = (5.0, 10.0, 15.0, 20.0, 30.0)
KINDS: tuple[Kind, Kind] = ("pressure", "shear")


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("dps", HALF_ANGLES_DEG, ids=lambda d: f"{d:g}dps")
def test_stress_is_levys(dps: float, kind: Kind, side: Side) -> None:
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
    solved = pressed_wedge(15.0, side)
    pressed, dragged = solved.displacement.at_points_mm[:, :, solved.mesh.foremost]
    assert sign * pressed[1] > 0.0
    assert dragged[0] > pressed[0]
    face = 1.0 if side == "left" else -1.0
    y = face * (0.999 * tan(radians(15.0)) * 0.5)
    assert solved.fields[0].at(0.5, y)[0, 0] > 0.0
    assert solved.fields[0].at(0.5, -y)[0, 0] < 0.0
