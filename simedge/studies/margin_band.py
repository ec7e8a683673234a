"""Which of two margins is larger, where both are known only so far."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf

from simedge.strength.load_factors import Kind, KindFactor, LoadFactors

#: Limit loads of rolls and blunting are good to so much of themselves.
LIMIT_LOAD_ERROR = 0.05
#: Beyond it nobody tells margins apart, and none is printed.
MOST = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MarginBand:
    """A margin, and between what it lies as far as one edge may differ from another.

    Attributes
    ----------
    low, value, high : float
        Times the work; inf where nothing fails.
    """

    low: float
    value: float
    high: float

    def is_above(self, other: MarginBand) -> bool:
        """Tell whether it is larger by more than both bands leave open.

        Examples
        --------
        >>> one = MarginBand(low=1.9, value=2.0, high=2.1)
        >>> MarginBand(low=2.2, value=2.3, high=2.4).is_above(one)
        True
        >>> MarginBand(low=2.0, value=2.2, high=2.4).is_above(one)
        False
        """
        return min(self.low, MOST) > min(other.high, MOST)


def margin_band(factors: LoadFactors) -> MarginBand:
    """Give the margin under one load.

    Parameters
    ----------
    factors : LoadFactors

    Returns
    -------
    MarginBand
        Of the kind that comes first, whichever it is at that end. The spread of the yield
        strength is the same in edges of one steel and is not in it; flaws and particles differ
        from place to place even in one bar, and are.
    """
    judged, possible = factors.judged, factors.possible
    return MarginBand(
        low=min(_ends(kind, factor)[0] for kind, factor in possible.items()),
        value=factors.smallest,
        high=min(_ends(kind, factor)[1] for kind, factor in judged.items()),
    )


def smallest_band(bands: Iterable[MarginBand]) -> MarginBand:
    """Give the margin over several loads; without any, nothing fails."""
    every = tuple(bands) or (MarginBand(low=inf, value=inf, high=inf),)
    return MarginBand(
        low=min(band.low for band in every),
        value=min(band.value for band in every),
        high=min(band.high for band in every),
    )


def _ends(kind: Kind, factor: KindFactor) -> tuple[float, float]:
    if kind in ("roll", "blunt"):
        return (1.0 - LIMIT_LOAD_ERROR) * factor.value, (1.0 + LIMIT_LOAD_ERROR) * factor.value
    return factor.low, factor.high


def places(bands: Sequence[MarginBand]) -> list[tuple[int, int]]:
    """Give the best and the worst place that each may have, the largest margin's being 1.

    Examples
    --------
    >>> two, more, most = (
    ...     MarginBand(low=0.9 * value, value=value, high=1.1 * value) for value in (2.0, 2.2, 5.0)
    ... )
    >>> places([two, more, most])
    [(2, 3), (2, 3), (1, 1)]
    """
    return [
        (
            1 + sum(other.is_above(band) for other in bands),
            len(bands) - sum(band.is_above(other) for other in bands),
        )
        for band in bands
    ]


def alike(bands: Sequence[MarginBand]) -> list[tuple[int, ...]]:
    """Give all groups whose members are all as good as each other, by their numbers.

    A group that is part of another is left out; one may belong to several, as being alike does
    not carry over: a like b and b like c do not make a like c.

    Examples
    --------
    >>> a, b, c = (MarginBand(low=v - 1.0, value=v, high=v + 1.0) for v in (5.0, 6.5, 8.0))
    >>> alike([c, b, a])
    [(0, 1), (1, 2)]
    """
    # bands that overlap two by two all hold the largest low end among them
    groups = []
    for band in bands:
        group = tuple(
            number
            for number, other in enumerate(bands)
            if min(other.low, MOST) <= min(band.low, MOST) <= min(other.high, MOST)
        )
        groups.append(group)
    largest = {group for group in groups if not any(set(group) < set(other) for other in groups)}
    return sorted(group for group in largest if len(group) > 1)
