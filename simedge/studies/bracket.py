"""The slimmest value that still takes the work: bracketed, with a look between the ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import log

import numpy as np
from scipy.optimize import brentq

#: Values that are tried between the ends before any is trusted.
LOOKS = 13
#: A margin this large is as good as any.
MOST = 1e6

#: Gives a design's margin at a value, None where it cannot be built.
MarginAt = Callable[[float], float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracketed:
    """What a search found.

    Attributes
    ----------
    value : float or None
        The slimmest that takes what was asked; None where none of the range does.
    by_bound : bool
        Even the slimmest of the range takes it.
    best : float
        The value of those looked at that takes most.
    best_margin : float
    looked : tuple of (float, float)
        Values and margins that were looked at, rising.
    islands : tuple of float
        Slimmer values that were looked at and take it too, with one between that does not.
    """

    value: float | None
    by_bound: bool
    best: float
    best_margin: float
    looked: tuple[tuple[float, float], ...]
    islands: tuple[float, ...]


def slimmest_value(
    margin_at: MarginAt, low: float, high: float, *, asked: float, close: float
) -> Bracketed | None:
    """Find the smallest value from which on every one takes what is asked.

    Parameters
    ----------
    margin_at : callable
    low, high : float
        Slimmest and stoutest value of the range, above 0.
    asked : float
        The margin.
    close : float
        How near the value is found.

    Returns
    -------
    Bracketed or None
        None where nothing of the range can be built. Where margins rise and fall, the value is
        the smallest above which all that were looked at take it.

    Examples
    --------
    >>> found = slimmest_value(lambda angle: angle / 8.0, 2.0, 40.0, asked=1.0, close=1e-6)
    >>> round(found.value, 5), found.by_bound, found.islands
    (8.0, False, ())
    """
    values = np.geomspace(low, high, LOOKS)
    found = [(float(value), margin_at(float(value))) for value in values]
    looked = tuple((value, margin) for value, margin in found if margin is not None)
    if not looked:
        return None
    margins = [margin for _, margin in looked]
    most = int(np.argmax(margins))
    short = [number for number, margin in enumerate(margins) if margin < asked]
    last = short[-1] if short else -1
    result = Bracketed(
        value=None,
        by_bound=False,
        best=looked[most][0],
        best_margin=margins[most],
        looked=looked,
        islands=tuple(v for v, margin in looked[: last + 1] if margin >= asked),
    )
    if not short:
        return replace(result, value=looked[0][0], by_bound=True)
    if last + 1 == len(looked):
        return result

    def over(value: float) -> float:
        margin = margin_at(value)
        return log(min(max(margin if margin is not None else MOST, 1.0 / MOST), MOST) / asked)

    value = float(brentq(over, looked[last][0], looked[last + 1][0], xtol=close))
    return replace(result, value=value)
