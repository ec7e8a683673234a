"""Where a kind of failure comes first, and at how many times the load."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from simedge.section.outline import Floats, Side


@dataclass(frozen=True, slots=True, kw_only=True)
class Weakest:
    """Where a kind of failure comes first.

    Attributes
    ----------
    factor : float
        How many times the load it takes; inf where it does not happen.
    x_mm : float or None
        Depth behind the front at which it does.
    side : {"left", "right"} or None
        Face, where it is one face's.
    by_collapse : bool
        Of a chip: the section would fold before it breaks.
    """

    factor: float
    x_mm: float | None = None
    side: Side | None = None
    by_collapse: bool = False


NEVER = Weakest(factor=inf)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Crossings:
    """Where the thickness passes a limit between two sections: no section need stand there.

    Attributes
    ----------
    before : ndarray of int
        Numbers of the sections in front.
    share : ndarray
        Of the way to the next.
    """

    before: NDArray[np.intp]
    share: Floats

    def added_to(self, values: Floats) -> Floats:
        """Give what is known section by section, and behind it what it is at the crossings."""
        here, next_one = values[self.before], values[self.before + 1]
        return np.concatenate([values, here + (next_one - here) * self.share])


def crossings(thickness_mm: Floats, limit_mm: float) -> Crossings:
    """Find where the thickness passes a limit.

    >>> crossings(np.array([1.0, 2.0, 4.0]), 2.5).added_to(np.array([0.0, 0.0, 8.0])).tolist()
    [0.0, 0.0, 8.0, 2.0]
    """
    within = thickness_mm <= limit_mm
    before = np.flatnonzero(within[:-1] != within[1:])
    step = thickness_mm[before + 1] - thickness_mm[before]
    return Crossings(before=before, share=(limit_mm - thickness_mm[before]) / step)
