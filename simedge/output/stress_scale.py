"""The one colour scale of a picture: where it ends, and its bands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, inf, log10

import numpy as np

from simedge.output.palette import stress_colour_map
from simedge.output.shown_errors import THIN_SPACE
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run
from simedge.section.outline import Floats

MOST_BANDS = 25


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
    yields : bool
        Whether a load's section goes beyond yield.
    clipped : bool
        Whether a load goes beyond the end of the scale.
    """

    step_mpa: float
    colours: tuple[tuple[float, float, float, float], ...]
    yield_strength_mpa: float
    yields: bool
    clipped: bool

    @property
    def end_mpa(self) -> float:
        """Where the scale ends."""
        return self.step_mpa * len(self.colours)

    @property
    def levels_mpa(self) -> Floats:
        """Borders of the bands."""
        return np.asarray(self.step_mpa * np.arange(len(self.colours) + 1), dtype=np.float64)


def stress_text(stress_mpa: float) -> str:
    r"""Write a stress with three figures.

    >>> stress_text(1842.2), stress_text(0.123456)
    ('1840\u202fMPa', '0.123\u202fMPa')
    """
    return f"{float(f'{stress_mpa:.3g}'):.12g}{THIN_SPACE}MPa"


def _round_step(wanted: float) -> float:
    """Give the smallest of 1, 2, 2.5 or 5 times a power of ten that is not below a value."""
    power = 10.0 ** floor(log10(wanted))
    factor = next(f for f in (1.0, 2.0, 2.5, 5.0, 10.0) if f * power >= wanted * (1 - 1e-9))
    return float(f"{factor * power:.3g}")


def choose_scale(run: Run) -> StressScale:
    """Choose the scale that all loads of a run share; see `shared_scale`."""
    return shared_scale(run.loads, run.steel.yield_strength_mpa)


def shared_scale(answers: Sequence[LoadAnswer], yield_strength_mpa: float) -> StressScale:
    """Choose the scale that all rows of a picture share.

    Parameters
    ----------
    answers : sequence of LoadAnswer
        Of one steel.
    yield_strength_mpa : float

    Returns
    -------
    StressScale
        It ends at the highest section peak, or a band beyond yield where that is passed:
        what the load's own patch and a yielded skin have beyond would leave the rest one
        colour. A sharp tip under a tip load has no highest stress: it passes yield.
    """
    strength = yield_strength_mpa
    loads = [answer for answer in answers if not answer.nothing_left]
    peaks = [inf if (p := a.section_peak_von_mises_mpa) is None else p for a in loads] or [strength]
    patches = [a.patch_peak_von_mises_mpa or 0.0 for a in loads]
    yields = max(peaks) >= strength
    end = strength if yields else max(peaks)
    step = _round_step(end / MOST_BANDS)
    bands = max(ceil(end / step * (1 - 1e-9)), 1) + yields
    colour_map = stress_colour_map()
    return StressScale(
        step_mpa=step,
        colours=tuple(colour_map((band + 0.5) / bands) for band in range(bands)),
        yield_strength_mpa=strength,
        yields=yields,
        clipped=max([*peaks, *patches]) > step * bands,
    )
