"""What a micro-bevel on a land gains in first-yield load, through the whole pipeline.

Two edges with the same land under the same lateral load on it: one ground flat at the primary's
angle, one with a micro-bevel in front. The gain grows with the height of the micro-bevel, while the
peak lies in the primary, and stops where the peak moves into the micro-bevel and stays there.

Source: derived here on elementary beam theory, with the exact wedge's peak (Michell 1900, Carothers
1912) for the cap; see `simedge.strength.closed_form.two_slope_cantilever`, tested in
`test_two_slope_formulas`. No publication of the gain formula is known to us. The
computation is that of the check (`simedge.studies.verify.two_slopes`), here for more heights.
"""

from __future__ import annotations

from math import cos, radians

import pytest

from simedge.strength.closed_form.two_slope_cantilever import (
    plane_strain_gain,
    plane_strain_gain_cap,
    plane_strain_saturation_ratio,
)
from simedge.strength.closed_form.wedge_yield import peak_distance_factor
from simedge.studies.verify.two_slopes import found_gain, land_distance_mm, peak_of

#: The figure that the work was ordered with; the formula takes beam theory for the primary's peak,
#: which leaves up to 0.2 % beside the shoulder of a 20/15 edge (the same on finer meshes).
TOLERANCE_PERCENT = 1.0
PAIRS_DEG = ((15.0, 10.0), (20.0, 10.0), (20.0, 15.0))
#: H = 1 + height / a0; the saturation of each pair is added.
HEIGHT_RATIOS = (1.25, 1.5, 2.0, 3.0, 5.0, 10.0)


def exact_gain(micro_dps: float, primary_dps: float, height_ratio: float) -> float:
    """Give the gain by the closed form."""
    return float(
        plane_strain_gain(
            height_ratio,
            micro_half_angle_rad=radians(micro_dps),
            primary_half_angle_rad=radians(primary_dps),
        )
    )


def saturation_ratio(micro_dps: float, primary_dps: float) -> float:
    """Give the height ratio from which on the gain stands still."""
    return plane_strain_saturation_ratio(radians(micro_dps), radians(primary_dps))


every_pair = pytest.mark.parametrize(
    ("micro_dps", "primary_dps"), PAIRS_DEG, ids=[f"{m:g}-on-{p:g}" for m, p in PAIRS_DEG]
)


@pytest.mark.parametrize("height_ratio", HEIGHT_RATIOS, ids=lambda h: f"H{h:g}")
@every_pair
def test_gain(micro_dps: float, primary_dps: float, height_ratio: float) -> None:
    """Source: derived here: G = min(pk2 / (T pk1), (H (T - 1) + 1) / T)."""
    exact = exact_gain(micro_dps, primary_dps, height_ratio)
    found = found_gain(micro_dps, primary_dps, height_ratio)
    assert 100.0 * abs(found / exact - 1.0) < TOLERANCE_PERCENT


@every_pair
def test_gain_saturates_where_the_formula_says(micro_dps: float, primary_dps: float) -> None:
    """Source: derived here: H* = (T cap - 1) / (T - 1), and more height adds no strength.

    Below, the gain still rises with the formula's slope; above and far above, it is the cap. A
    tenth less height costs 4 to 8 % of gain: the 0.2 % by which the formula itself is off are at
    most a twentieth of that.
    """
    kink = saturation_ratio(micro_dps, primary_dps)
    cap = plane_strain_gain_cap(radians(micro_dps), radians(primary_dps))
    below, at, above = (found_gain(micro_dps, primary_dps, s * kink) for s in (0.9, 1.0, 1.1))
    far = found_gain(micro_dps, primary_dps, 3.0 * kink)
    rise = exact_gain(micro_dps, primary_dps, kink) - exact_gain(micro_dps, primary_dps, 0.9 * kink)
    assert at - below == pytest.approx(rise, rel=0.1)
    for found in (at, above, far):
        assert 100.0 * abs(found / cap - 1.0) < TOLERANCE_PERCENT
    assert abs(far / above - 1.0) < 0.003


@every_pair
def test_peak_moves_into_the_micro_bevel(micro_dps: float, primary_dps: float) -> None:
    """Source: derived here: below H* the primary is stressed most, above it the micro-bevel.

    There the place is the plain wedge's (Michell 1900): within 5 %, as points of the mesh stand.
    """
    kink, a0 = saturation_ratio(micro_dps, primary_dps), land_distance_mm(micro_dps)
    below = peak_of(micro_dps, 0.9 * kink, primary_dps)[1]
    above = peak_of(micro_dps, 1.2 * kink, primary_dps)[1]
    assert below > (0.9 * kink - 1.0) * a0
    half = radians(micro_dps)
    assert above + a0 == pytest.approx(peak_distance_factor(half) * cos(half) * a0, rel=0.05)
