"""One traced face as few straight runs and arcs: what the points themselves say, no more.

A run of points that lie on one line, or on one circle, within a tolerance becomes one stretch.
Through exact points of a wheel's hollow this gives the wheel's own arc.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from math import atan2, hypot, pi
from typing import Protocol

from simedge.inputs.curves import Curve
from simedge.inputs.trace_circles import fitted_bulge, off_arc, off_chord

Place = tuple[float, float]

#: Points of an arc, at least: three make any circle, four may be two facets that match.
ARC_POINTS = 5
#: An arc must reach so many points farther than a line would.
FARTHER = 2
#: Facets that turn more than this are corners, wherever their points lie.
LARGEST_TURN_RAD = pi / 9.0
#: An arc of a face bulges by less than this share of its chord.
LARGEST_BOW = 0.4


@dataclass(frozen=True, slots=True)
class Run:
    """Points from one number to another that make one stretch.

    Attributes
    ----------
    first, last : int
        Numbers of the points where it begins and ends.
    bulge_mm : float
        Of its arc, 0 where it is straight.
    """

    first: int
    last: int
    bulge_mm: float = 0.0


class Judge(Protocol):
    """Says whether a run of points is one stretch."""

    def is_line(self, first: int, last: int) -> bool:
        """Whether the points lie on one line."""

    def arc(self, first: int, last: int) -> float | None:
        """Give the bulge of their arc, mm, or None where they are on none."""


@dataclass(frozen=True, slots=True)
class ByPoints:
    """Takes the points where runs begin and end as exact, and allows others a tolerance.

    Attributes
    ----------
    places : sequence of (float, float)
    tolerance_mm : float
    """

    places: Sequence[Place]
    tolerance_mm: float

    def is_line(self, first: int, last: int) -> bool:
        """Whether the points lie on the chord."""
        begin, end = self.places[first], self.places[last]
        return all(
            abs(off_chord(begin, end, place)[1]) <= self.tolerance_mm
            for place in self.places[first + 1 : last]
        )

    def arc(self, first: int, last: int) -> float | None:
        """Give the bulge of the best arc from the first point to the last."""
        run = self.places[first : last + 1]
        begin, end, inner = run[0], run[-1], run[1:-1]
        bulge = fitted_bulge(begin, end, inner)
        if abs(bulge) > LARGEST_BOW * hypot(end[0] - begin[0], end[1] - begin[1]):
            return None
        if any(abs(off_arc(begin, end, bulge, place)) > self.tolerance_mm for place in inner):
            return None
        angles = [atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(run)]
        if any(abs(b - a) > LARGEST_TURN_RAD for a, b in pairwise(angles)):
            return None
        return bulge


def find_runs(judge: Judge, count: int) -> list[Run]:
    """Take a face apart into stretches, from the apex on.

    Parameters
    ----------
    judge : Judge
        Of its points, depth growing.
    count : int
        How many there are; two at least.

    Returns
    -------
    list of Run
        Each begins where the one before it ends.

    Examples
    --------
    >>> find_runs(ByPoints([(0, 0), (1, 0.2), (2, 0.4), (3, 0.5)], 1e-9), 4)
    [Run(first=0, last=2, bulge_mm=0.0), Run(first=2, last=3, bulge_mm=0.0)]
    """
    runs: list[Run] = []
    begin, end = 0, count - 1
    while begin < end:
        line = _farthest(begin + 1, end, partial(judge.is_line, begin))
        arc, shortest = 0, begin + ARC_POINTS - 1
        # the first points must be an arc for it to begin here
        if line < end and shortest <= end and judge.arc(begin, shortest) is not None:
            arc = _farthest(shortest, end, partial(_holds, judge, begin))
        if arc >= line + FARTHER:
            runs.append(Run(begin, arc, judge.arc(begin, arc) or 0.0))
        else:
            runs.append(Run(begin, line))
        begin = runs[-1].last
    return runs


def _holds(judge: Judge, first: int, last: int) -> bool:
    return judge.arc(first, last) is not None


def _farthest(sure: int, end: int, holds: Callable[[int], bool]) -> int:
    """Find how far a run goes: by doubling, then by halving."""
    step, low = 1, sure
    while low < end and holds(min(low + step, end)):
        low = min(low + step, end)
        step *= 2
    high = min(low + step, end + 1)
    while high - low > 1:
        middle = (low + high) // 2
        if holds(middle):
            low = middle
        else:
            high = middle
    return low


def as_curves(places: Sequence[Place], runs: Sequence[Run]) -> list[Curve]:
    """Turn runs into curves through the points where they meet."""
    return [
        Curve(begin_mm=places[run.first], end_mm=places[run.last], bulge_mm=run.bulge_mm)
        for run in runs
    ]
