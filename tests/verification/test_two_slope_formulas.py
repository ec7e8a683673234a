"""Two-slope cantilevers (micro-bevel on a primary): brute-force maxima, quadrature, refusals.

Their tables are replayed by ``simedge verify`` (`simedge.studies.verify.beam_tables`), which
`test_checks` runs; no source is published for the gain formulas, so they are checked here from
the beam up.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.strength.closed_form.tapered_cantilever import beam_compliance
from simedge.strength.closed_form.two_slope_cantilever import (
    beam_gain,
    plane_strain_gain,
    plane_strain_gain_cap,
    plane_strain_saturation_ratio,
    slope_ratio,
    two_slope_beam_compliance,
    two_slope_peak_ratio,
)
from simedge.studies.verify.printed_tables import GAINS, TWO_SLOPE_STIFFNESS


def by_pair(table: tuple[tuple[float, ...], ...], **columns: int) -> list[object]:
    return [
        pytest.param(
            row,
            id="-".join(
                [f"{row[0]:g}on{row[1]:g}deg"]
                + [f"{name}={row[column]:g}" for name, column in columns.items()]
            ),
        )
        for row in table
    ]


half_angles = st.floats(math.radians(1.0), math.radians(45.0))
length_ratios = st.floats(1.0, 1e3)
never_hurry = settings(deadline=None, max_examples=60)


def gauss(low: float, high: float, count: int = 60) -> tuple[np.ndarray, np.ndarray]:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return 0.5 * (high - low) * nodes + 0.5 * (high + low), 0.5 * (high - low) * weights


# ---------------------------------------------------------------- the two-slope cantilever


@pytest.mark.parametrize("row", by_pair(GAINS, H=3))
def test_gain_is_that_of_the_beams_largest_stress(row: tuple[float, ...]) -> None:
    """Ours: gain and place of the peak by a brute-force maximum of the beam's fibre stress.

    Thickness and moment are written out anew, as the section's own statement of them.
    """
    a1, a2 = map(math.radians, row[:2])
    height = row[3]
    pair = {"micro_half_angle_rad": a1, "primary_half_angle_rad": a2}
    gain = float(beam_gain(height, **pair))
    place = float(two_slope_peak_ratio(height, **pair))

    x = np.linspace(1.0, 60.0, 590_001)
    thick_at_shoulder = 2 * height * math.tan(a1)
    thickness = np.where(
        x <= height, 2 * x * math.tan(a1), thick_at_shoulder + 2 * (x - height) * math.tan(a2)
    )
    stress = 6 * (x - 1.0) / thickness**2
    land = 2 * math.tan(a1)
    plain = 3 / (4 * land * math.tan(a2))
    # the grid of 1e-4 misses a smooth peak by at most (0.5e-4)^2 relative
    assert plain / stress.max() == pytest.approx(gain, rel=1e-8)
    assert x[np.argmax(stress)] == pytest.approx(place, abs=2e-4)


@pytest.mark.parametrize("row", by_pair(TWO_SLOPE_STIFFNESS, H=2))
def test_compliance_is_the_integral_of_the_bending(row: tuple[float, ...]) -> None:
    """Definition: moment^2 over bending stiffness, part by part."""
    a1, a2 = map(math.radians, row[:2])
    height, clamp = row[2:4]
    two_slope = two_slope_beam_compliance(
        micro_half_angle_rad=a1,
        primary_half_angle_rad=a2,
        tip_distance_mm=1.0,
        shoulder_distance_mm=height,
        clamp_distance_mm=clamp,
    )
    total = 0.0
    for low, high in ((1.0, height), (height, clamp)):
        x, weights = gauss(low, high)
        in_micro = 2 * x * math.tan(a1)
        in_primary = 2 * height * math.tan(a1) + 2 * (x - height) * math.tan(a2)
        thickness = in_micro if high == height else in_primary
        total += np.sum(weights * 12 * (x - 1.0) ** 2 / thickness**3)
    assert two_slope == pytest.approx(total, rel=1e-10)


@given(half_angles, length_ratios, st.floats(0.0, 1.0), st.floats(1e-3, 10.0))
@never_hurry
def test_equal_slopes_are_a_plain_wedge(a: float, rho: float, where: float, tip: float) -> None:
    """Limit T = 1: no gain, and the compliance does not see the shoulder nor the scale."""
    height = 1.0 + where * (rho - 1.0)
    pair = {"micro_half_angle_rad": a, "primary_half_angle_rad": a}
    assert float(beam_gain(height, **pair)) == 1.0
    assert float(plane_strain_gain(height, **pair)) == pytest.approx(1.0, rel=1e-14)
    computed = two_slope_beam_compliance(
        **pair, tip_distance_mm=tip, shoulder_distance_mm=tip * height, clamp_distance_mm=tip * rho
    )
    plain = float(beam_compliance(rho, half_angle_rad=a))
    # near rho = 1 the lengths' own rounding, 1e-16 of 1, is what F ~ (rho - 1)^3 sees
    assert computed == pytest.approx(plain, rel=1e-11, abs=1e-13 / a**3)


@given(half_angles, st.floats(0.2, 1.0), length_ratios, length_ratios)
@never_hurry
def test_gain_grows_to_its_cap(a1: float, fraction: float, one: float, other: float) -> None:
    """The gain lies between 1 and its cap, grows with the height, and meets the cap at H*."""
    pair = {"micro_half_angle_rad": a1, "primary_half_angle_rad": fraction * a1}
    lower, higher = sorted((one, other))
    cap = slope_ratio(a1, fraction * a1)
    low, high = (float(beam_gain(height, **pair)) for height in (lower, higher))
    assert 1.0 - 1e-12 <= low <= high <= cap
    assert float(beam_gain(cap + 1.0, **pair)) == pytest.approx(cap, rel=1e-12)
    if cap > 1.001:
        height = plane_strain_saturation_ratio(a1, fraction * a1)
        assert (height * (cap - 1) + 1) / cap == pytest.approx(
            plane_strain_gain_cap(a1, fraction * a1), rel=1e-9
        )


# ---------------------------------------------------------------- refusals

PAIR = {"micro_half_angle_rad": 0.3, "primary_half_angle_rad": 0.2}


@pytest.mark.parametrize(
    ("call", "named"),
    [
        pytest.param(lambda: slope_ratio(0.2, 0.3), "micro_half_angle_rad", id="steeper primary"),
        pytest.param(lambda: slope_ratio(0.2, 0.0), "half_angle_rad", id="flat primary"),
        pytest.param(lambda: beam_gain(0.9, **PAIR), "height_ratio", id="shoulder before land"),
        pytest.param(lambda: plane_strain_saturation_ratio(0.2, 0.2), "equal", id="no shoulder"),
        pytest.param(
            lambda: two_slope_beam_compliance(
                **PAIR, tip_distance_mm=1.0, shoulder_distance_mm=3.0, clamp_distance_mm=2.0
            ),
            "tip <= shoulder <= clamp",
            id="clamp before shoulder",
        ),
    ],
)
def test_impossible_two_slope_is_refused(call, named: str) -> None:
    with pytest.raises(BadInput, match=named):
        call()
