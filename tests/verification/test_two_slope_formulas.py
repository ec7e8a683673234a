"""Two-slope cantilevers (micro-bevel on a primary) against the check tables of the physics notes.

The notes' numbers come from brute-force maxima and quadrature, which are repeated here; no source
is published for the gain formulas, so the tests name them "ours" and check them from the beam up.
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
    beam_saturation_ratio,
    plane_strain_gain,
    plane_strain_gain_cap,
    plane_strain_saturation_ratio,
    slope_ratio,
    two_slope_beam_compliance,
    two_slope_peak_ratio,
)

# Eight printed digits: half a unit in the last place is at most 5e-8 of the value.
PRINTED = 5e-8


def rows(table: str) -> list[list[float]]:
    """Turn a table of the notes into numbers; "15/10" becomes the two angles."""
    return [
        [float(number) for cell in line.split() for number in cell.split("/")]
        for line in table.strip().split("\n")
    ]


def by_pair(table: str, **columns: int) -> list[object]:
    return [
        pytest.param(
            row,
            id="-".join(
                [f"{row[0]:g}on{row[1]:g}deg"]
                + [f"{name}={row[column]:g}" for name, column in columns.items()]
            ),
        )
        for row in rows(table)
    ]


# alpha1/alpha2, T, cap beam, cap 2D, H* beam, H* 2D
CAPS = """
15/10 1.5196154 1.5196154 1.4616422 2.5196154 2.3500729
20/10 2.0641778 2.0641778 1.8781259 3.0641778 2.7032944
20/15 1.3583554 1.3583554 1.2849423 2.3583554 2.0800811
25/15 1.7402839 1.7402839 1.5296836 2.7402839 2.2451977
30/10 3.2743161 3.2743161 2.5224630 4.2743161 3.1918788
"""
# alpha1/alpha2, T, H, G closed, G brute (0.01 grid), x*/a0 brute, x*/a0 closed
GAINS = """
15/10 1.5196154 1.0 1.0 1.0 2.52 2.5196154
15/10 1.5196154 1.5 1.1709694 1.1709694 2.78 2.7794231
15/10 1.5196154 2.0 1.3419387 1.3419388 3.04 3.0392308
15/10 1.5196154 3.0 1.5196154 1.5196154 2.0 2.0
15/10 1.5196154 5.0 1.5196154 1.5196154 2.0 2.0
15/10 1.5196154 10.0 1.5196154 1.5196154 2.0 2.0
20/10 2.0641778 1.0 1.0 1.000001 3.06 3.0641778
20/10 2.0641778 1.5 1.2577728 1.2577735 3.6 3.5962667
20/10 2.0641778 2.0 1.5155456 1.5155457 4.13 4.1283555
20/10 2.0641778 3.0 2.0310912 2.0310914 5.19 5.1925333
20/10 2.0641778 5.0 2.0641778 2.0641778 2.0 2.0
20/10 2.0641778 10.0 2.0641778 2.0641778 2.0 2.0
20/15 1.3583554 1.0 1.0 1.0000004 2.36 2.3583554
20/15 1.3583554 1.5 1.1319078 1.1319085 2.54 2.5375331
20/15 1.3583554 2.0 1.2638156 1.2638168 2.72 2.7167108
20/15 1.3583554 3.0 1.3583554 1.3583554 2.0 2.0
20/15 1.3583554 5.0 1.3583554 1.3583554 2.0 2.0
20/15 1.3583554 10.0 1.3583554 1.3583554 2.0 2.0
25/15 1.7402839 1.0 1.0 1.0 2.74 2.7402839
25/15 1.7402839 1.5 1.2126906 1.2126906 3.11 3.1104258
25/15 1.7402839 2.0 1.4253811 1.4253811 3.48 3.4805677
25/15 1.7402839 3.0 1.7402839 1.7402839 2.0 2.0
25/15 1.7402839 5.0 1.7402839 1.7402839 2.0 2.0
25/15 1.7402839 10.0 1.7402839 1.7402839 2.0 2.0
30/10 3.2743161 1.0 1.0 1.0000004 4.27 4.2743161
30/10 3.2743161 1.5 1.3472964 1.3472964 5.41 5.4114741
30/10 3.2743161 2.0 1.6945927 1.6945927 6.55 6.5486322
30/10 3.2743161 3.0 2.3891854 2.3891855 8.82 8.8229483
30/10 3.2743161 5.0 3.2743161 3.2743161 2.0 2.0
30/10 3.2743161 10.0 3.2743161 3.2743161 2.0 2.0
"""
# alpha1/alpha2, H, b/a0, E' delta/Q, quadrature, plain wedge of the same land and height, gain
STIFFNESS = """
15/10 3.0 20.0 240.43913 240.43913 341.54841 1.4205192
20/10 3.0 20.0 154.49726 154.49726 277.4506 1.7958286
20/15 5.0 20.0 67.951356 67.951356 104.35933 1.5357946
30/10 10.0 20.0 17.582987 17.582987 191.67061 10.900913
"""


half_angles = st.floats(math.radians(1.0), math.radians(45.0))
length_ratios = st.floats(1.0, 1e3)
never_hurry = settings(deadline=None, max_examples=60)


def gauss(low: float, high: float, count: int = 60) -> tuple[np.ndarray, np.ndarray]:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return 0.5 * (high - low) * nodes + 0.5 * (high + low), 0.5 * (high - low) * weights


# ---------------------------------------------------------------- the two-slope cantilever


@pytest.mark.parametrize("row", by_pair(CAPS))
def test_gain_cap_table(row: list[float]) -> None:
    """Ours: caps and saturation heights, by beam theory and with the exact peak of a wedge."""
    a1, a2 = np.radians(row[:2])
    computed = [
        slope_ratio(a1, a2),
        float(beam_gain(1e6, micro_half_angle_rad=a1, primary_half_angle_rad=a2)),
        float(plane_strain_gain(1e6, micro_half_angle_rad=a1, primary_half_angle_rad=a2)),
        beam_saturation_ratio(a1, a2),
        plane_strain_saturation_ratio(a1, a2),
    ]
    assert computed == pytest.approx(row[2:], rel=PRINTED)
    assert plane_strain_gain_cap(a1, a2) == pytest.approx(row[4], rel=PRINTED)


@pytest.mark.parametrize("row", by_pair(GAINS, H=3))
def test_gain_table(row: list[float]) -> None:
    """Ours: gain and place of the peak, and a brute-force maximum of the beam's fibre stress.

    Thickness and moment are written out anew, as the section's own statement of them.
    """
    a1, a2 = np.radians(row[:2])
    height = row[3]
    pair = {"micro_half_angle_rad": a1, "primary_half_angle_rad": a2}
    gain = float(beam_gain(height, **pair))
    place = float(two_slope_peak_ratio(height, **pair))
    assert [slope_ratio(a1, a2), gain, place] == pytest.approx(
        [row[2], row[4], row[7]], rel=PRINTED
    )

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


@pytest.mark.parametrize("row", by_pair(STIFFNESS, H=2))
def test_stiffness_table(row: list[float]) -> None:
    """Ours: compliance of the two-slope beam, and of a plain wedge of the same land and height."""
    a1, a2 = np.radians(row[:2])
    height, clamp = row[2:4]
    two_slope = two_slope_beam_compliance(
        micro_half_angle_rad=a1,
        primary_half_angle_rad=a2,
        tip_distance_mm=1.0,
        shoulder_distance_mm=height,
        clamp_distance_mm=clamp,
    )
    tip = slope_ratio(a1, a2)
    plain = float(beam_compliance((tip + clamp - 1.0) / tip, half_angle_rad=a2))
    expected = [row[4], row[6], row[7]]
    assert [two_slope, plain, plain / two_slope] == pytest.approx(expected, rel=PRINTED)

    # the integral of moment^2 / bending stiffness, part by part
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
