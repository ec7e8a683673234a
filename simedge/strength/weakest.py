"""Where a kind of failure comes first, and at how many times the load."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from simedge.section.outline import Side


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
