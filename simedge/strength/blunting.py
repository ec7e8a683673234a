"""Blunting: the tip is crushed to a land wide enough to carry what bears on it.

A land under pressure flows at 2k (1 + alpha), k = Y / sqrt(3), alpha half the angle between
the faces behind it (R. Hill, The Mathematical Theory of Plasticity, 1950: truncated wedge;
chapter not checked). It limits itself: a land of the tip's force over that pressure carries,
and a medium that cannot press so hard makes none. A depth, not a collapse; at most the depth
in the cut, behind which nothing bears on the front.
"""

from __future__ import annotations

from math import sqrt

from simedge.section.outline import SIDES, Outline
from simedge.section.tractions import Tractions


def crushing_pressure_mpa(half_angle_rad: float, yield_strength_mpa: float) -> float:
    """Give the pressure at which a land flows, 2k (1 + alpha).

    >>> round(crushing_pressure_mpa(0.17453293, 3.0**0.5 / 2.0), 6)  # 10 degrees, 2k = 1
    1.174533
    """
    return 2.0 * yield_strength_mpa / sqrt(3.0) * (1.0 + half_angle_rad)


def half_angle_behind_tip_rad(outline: Outline) -> float:
    """Give half the angle between the faces where they leave the tip."""
    return 0.5 * sum(
        float(outline.face_angle_rad(side, outline.face_begins_mm(side))) for side in SIDES
    )


def blunt_factor(outline: Outline, load: Tractions, yield_strength_mpa: float) -> float:
    """Give how many times the load a tip takes before it flows; inf where nothing bears on it."""
    force = load.tip_axial_n_per_mm
    if force <= 0.0:
        return float("inf")
    pressure = crushing_pressure_mpa(half_angle_behind_tip_rad(outline), yield_strength_mpa)
    return pressure * outline.tip.width_mm / force


def land_needed_mm(outline: Outline, load: Tractions, yield_strength_mpa: float) -> float:
    """Give the width of the land that carries what bears on the tip; 0 where nothing does."""
    pressure = crushing_pressure_mpa(half_angle_behind_tip_rad(outline), yield_strength_mpa)
    return max(load.tip_axial_n_per_mm, 0.0) / pressure
