"""The one colour scale of a picture: where it ends, and the bar that says what it shows."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Polygon, Rectangle

from simedge.output.drawing_frame import THIN_SPACE
from simedge.output.palette import (
    BEYOND_STOPS,
    SMALL_PT,
    Theme,
    stress_colour_map,
    type_face,
)
from simedge.runs.run import Run
from simedge.section.outline import Floats

MOST_BANDS = 14
#: The lightest-worked load still gets this share of the scale, ...
SHARE_OF_LIGHTEST = 1.0 / 6.0
#: ... but the scale never ends below this share of where it would end without it.
LEAST_OF_FULL = 1.0 / 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StressScale:
    """Bands of von Mises stress with their colours.

    Attributes
    ----------
    step_mpa : float
        Height of one band; the first begins at 0.
    colours : tuple of (red, green, blue, alpha)
        One a band.
    yield_strength_mpa : float
    clipped : bool
        Whether a load goes beyond the end of the scale.
    """

    step_mpa: float
    colours: tuple[tuple[float, float, float, float], ...]
    yield_strength_mpa: float
    clipped: bool

    @property
    def end_mpa(self) -> float:
        """Where the scale ends."""
        return self.step_mpa * len(self.colours)

    @property
    def levels_mpa(self) -> Floats:
        """Borders of the bands."""
        return self.step_mpa * np.arange(len(self.colours) + 1)


def stress_text(stress_mpa: float) -> str:
    """Write a stress with three figures.

    >>> stress_text(1842.2), stress_text(0.123456)
    ('1840\\u202fMPa', '0.123\\u202fMPa')
    """
    return f"{float(f'{stress_mpa:.3g}'):.12g}{THIN_SPACE}MPa"


def _round_step(wanted: float) -> float:
    """Give the smallest of 1, 2, 2.5 or 5 times a power of ten that is not below a value."""
    power = 10.0 ** floor(log10(wanted))
    factor = next(f for f in (1.0, 2.0, 2.5, 5.0, 10.0) if f * power >= wanted * (1 - 1e-9))
    return float(f"{factor * power:.3g}")


def choose_scale(run: Run) -> StressScale:
    """Choose the scale that all rows of a picture share.

    Parameters
    ----------
    run : Run

    Returns
    -------
    StressScale
        It ends at the highest section peak, or at yield where that is passed; lower still
        where the loads differ so much that one of them would be a single colour.
    """
    strength = run.steel.yield_strength_mpa
    peaks = [a.section_peak_von_mises_mpa or strength for a in run.loads]
    patches = [a.patch_peak_von_mises_mpa or 0.0 for a in run.loads]
    full = min(strength, max(peaks))
    end = min(full, max(min(peaks) / SHARE_OF_LIGHTEST, LEAST_OF_FULL * full))
    step = _round_step(end / MOST_BANDS)
    bands = max(ceil(end / step * (1 - 1e-9)), 1)
    colour_map = stress_colour_map()
    sharp = any(a.section_peak_von_mises_mpa is None for a in run.loads)
    return StressScale(
        step_mpa=step,
        colours=tuple(colour_map((band + 0.5) / bands) for band in range(bands)),
        yield_strength_mpa=strength,
        clipped=sharp or max(*peaks, *patches) > step * bands,
    )


def draw_bar(axes: Axes, width_in: float, scale: StressScale, theme: Theme) -> None:
    """Draw the colour bar, in inches from the lower left corner of its axes.

    Parameters
    ----------
    axes : Axes
        At least 0.8 inches high.
    width_in : float
        Of the bar, without the point that stands for what is beyond it.
    scale : StressScale
    theme : Theme
    """
    bottom, height, face = 0.36, 0.15, type_face(SMALL_PT)
    band = width_in / len(scale.colours)
    for number, colour in enumerate(scale.colours):
        axes.add_patch(
            Rectangle((number * band, bottom), band, height, facecolor=colour, edgecolor="none")
        )
    right = width_in
    if scale.clipped:
        right += 0.2
        axes.add_patch(
            Polygon(
                [(width_in, bottom), (right, bottom + 0.5 * height), (width_in, bottom + height)],
                facecolor=BEYOND_STOPS,
                edgecolor="none",
            )
        )
    axes.add_patch(
        Rectangle((0, bottom), width_in, height, facecolor="none", edgecolor=theme.ink, lw=0.6)
    )
    every = 1 if len(scale.colours) <= 7 else 2
    for number in range(0, len(scale.colours) + 1, every):
        x = number * band
        axes.plot([x, x], [bottom, bottom - 0.04], color=theme.ink, linewidth=0.6)
        axes.text(
            x,
            bottom - 0.06,
            f"{number * scale.step_mpa:.12g}",
            fontproperties=face,
            color=theme.ink,
            horizontalalignment="center",
            verticalalignment="top",
        )
    at_yield = scale.yield_strength_mpa / scale.step_mpa * band
    text = f"yields at {stress_text(scale.yield_strength_mpa)}"
    if at_yield <= width_in:
        axes.plot(
            [at_yield, at_yield],
            [bottom - 0.02, bottom + height + 0.06],
            color=theme.paper,
            linewidth=2.2,
        )
        axes.plot(
            [at_yield, at_yield],
            [bottom - 0.02, bottom + height + 0.06],
            color=theme.ink,
            linewidth=1.0,
        )
    else:
        text += " (off this scale)"
    axes.text(
        min(at_yield, width_in) + (0.2 if scale.clipped else 0.0),
        bottom + height + 0.08,
        text,
        fontproperties=face,
        color=theme.ink,
        horizontalalignment="right",
        verticalalignment="bottom",
    )


def bar_words(scale: StressScale) -> tuple[str, ...]:
    """Say what the bar shows, that it is no heat, and whether it is clipped."""
    words = (
        "von Mises stress in MPa: one number for how hard the steel is worked. Stress, not heat."
    )
    if not scale.clipped:
        return (words,)
    return (words, f"Clipped: all beyond {stress_text(scale.end_mpa)} has the darkest colour.")
