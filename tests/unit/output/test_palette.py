"""The scale of stress: lightness falls all the way; ink is readable on paper."""

from __future__ import annotations

import numpy as np
import pytest
from matplotlib.colors import to_rgb

from simedge.output.palette import BEYOND_STOPS, LIGHT, STRESS_STOPS, stress_colour_map


def luminance(colour) -> float:
    """Relative luminance of a colour, IEC 61966-2-1."""
    channels = np.array(to_rgb(colour))
    linear = np.where(channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)
    return float(linear @ [0.2126, 0.7152, 0.0722])


def lightness(colour) -> float:
    """CIE L* of a colour, 0 to 100."""
    share = luminance(colour)
    return 116.0 * share ** (1 / 3) - 16.0 if share > 216 / 24389 else share * 24389 / 27


def contrast(one, other) -> float:
    """WCAG contrast ratio."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_lightness_formula_on_known_greys():
    # L* of sRGB #777777 is 50.03 in any table; white is 100 by definition
    assert lightness("#777777") == pytest.approx(50.03, abs=0.01)
    assert lightness("#ffffff") == pytest.approx(100.0, abs=1e-3)


def test_lightness_falls_from_stop_to_stop():
    # the stops are even in CAM02-UCS, which no package of ours computes; that grey prints
    # keep them apart shows in CIE L* alone, where about 1 is the least that eyes tell
    steps = -np.diff([lightness(stop) for stop in STRESS_STOPS])
    assert steps.min() > 3.0


def test_lightness_falls_between_stops_too():
    values = [lightness(stress_colour_map()(x)[:3]) for x in np.linspace(0.0, 1.0, 101)]
    assert np.all(np.diff(values) < 0.0)
    assert lightness(BEYOND_STOPS) < values[-1]


@pytest.mark.parametrize("text", [LIGHT.ink, LIGHT.quiet_ink])
def test_text_is_readable(text):
    assert contrast(text, LIGHT.paper) >= 7.0


def test_lines_of_the_work_are_visible():
    assert contrast(LIGHT.work, LIGHT.paper) >= 3.0


def test_nothing_else_looks_like_the_work():
    work = np.array(to_rgb(LIGHT.work))
    others = [to_rgb(c) for c in (*STRESS_STOPS, LIGHT.ink, LIGHT.quiet_ink, LIGHT.hairline)]
    assert min(np.abs(work - other).max() for other in others) > 0.1
