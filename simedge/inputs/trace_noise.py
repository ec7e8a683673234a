"""How much the points of a trace scatter, and faces laid through the scatter.

A photograph's outline wanders from point to point. Where that is more than the digits it was
written with, stretches are fitted by least squares, and what that changes is told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from math import isfinite, sqrt

from simedge.inputs.curves import Curve
from simedge.inputs.trace_stretches import Run

Place = tuple[float, float]

#: Points from which scatter can be told, at least.
FEWEST_POINTS = 12
#: Median over standard deviation of a normal distribution's absolute value.
MEDIAN_OF_NORMAL = 0.6745
#: Weights of the test below on evenly spaced points: the residual from the cubic through the
#: four neighbours, less the mean of the residuals beside it. White noise of deviation 1 gives
#: this; whatever is smooth gives next to nothing.
NOISE_GAIN = sqrt(2 * (1 / 144 + 1 / 4 + 25 / 16) + 25 / 9)
CUBIC_GAIN = sqrt(1 + 34 / 36)


def scatter_mm(places: Sequence[Place]) -> float:
    """Estimate the standard deviation of the scatter across a face, mm; 0 for few points.

    Corners and arcs do not count: a corner is a few points among many, and an arc is
    smooth.
    """
    if len(places) < FEWEST_POINTS:
        return 0.0
    residuals = [_off_cubic(places, at) for at in range(2, len(places) - 2)]
    tested = [
        abs(mid - 0.5 * (a + b))
        for a, mid, b in zip(residuals, residuals[1:], residuals[2:], strict=False)
        if isfinite(a + mid + b)
    ]
    if len(tested) < FEWEST_POINTS // 2:
        return 0.0
    return sorted(tested)[len(tested) // 2] / (MEDIAN_OF_NORMAL * NOISE_GAIN)


def _off_cubic(places: Sequence[Place], at: int) -> float:
    """Give how far a point is off the cubic through its neighbours, two on each side.

    Scaled to what even spacing would give; nan where the spacing is too uneven to tell.
    """
    x, out = places[at]
    around = [places[at + step] for step in (-2, -1, 1, 2)]
    off, squares = out, 1.0
    for number, (own_x, own_out) in enumerate(around):
        weight = 1.0
        for other, (other_x, _) in enumerate(around):
            if other != number:
                if own_x == other_x:
                    return float("nan")
                weight *= (x - other_x) / (own_x - other_x)
        off -= weight * own_out
        squares += weight**2
    return off * CUBIC_GAIN / sqrt(squares) if squares < 10.0 else float("nan")


@dataclass(frozen=True, slots=True)
class ByLeastSquares:
    """Judges a run by how far its points lie off their own best line or parabola.

    Attributes
    ----------
    places : sequence of (float, float)
    tolerance_mm : float
    """

    places: Sequence[Place]
    tolerance_mm: float

    def is_line(self, first: int, last: int) -> bool:
        """Whether the points lie on a line."""
        return self._fitted(first, last, 2) is not None

    def arc(self, first: int, last: int) -> float | None:
        """Give the bow of the best parabola."""
        fitted = self._fitted(first, last, 3)
        return None if fitted is None else -0.25 * fitted[2]

    def _fitted(self, first: int, last: int, terms: int) -> list[float] | None:
        run = self.places[first : last + 1]
        x0, scale = run[0][0], (run[-1][0] - run[0][0]) or 1.0
        shares = [(x - x0) / scale for x, _ in run]
        sums = [sum(t**power for t in shares) for power in range(2 * terms - 1)]
        right = [
            sum(t**power * out for t, (_, out) in zip(shares, run, strict=True))
            for power in range(terms)
        ]
        matrix = [[sums[row + column] for column in range(terms)] for row in range(terms)]
        solved = _solved(matrix, right)
        for t, (_, out) in zip(shares, run, strict=True):
            if abs(out - sum(c * t**power for power, c in enumerate(solved))) > self.tolerance_mm:
                return None
        return solved


def best_breaks(places: Sequence[Place], runs: Sequence[Run]) -> list[Run]:
    """Move the points where runs meet to where both sides fit best.

    A run found within a tolerance goes past its shoulder before it notices.
    """
    first = [run.first for run in runs]
    bends = [3 if run.bulge_mm else 2 for run in runs]
    ends = [*first, runs[-1].last]
    for _ in range(2):
        for knot in range(1, len(ends) - 1):
            low, high = ends[knot - 1] + bends[knot - 1], ends[knot + 1] - bends[knot]
            if low > high:
                continue
            costs = _Costs(places, ends[knot - 1], ends[knot + 1])
            ends[knot] = min(
                range(low, high + 1),
                key=partial(costs.of_both, bends[knot - 1], bends[knot]),
            )
    return [Run(a, b, run.bulge_mm) for (a, b), run in zip(pairwise(ends), runs, strict=True)]


class _Costs:
    """Squared residuals of least-squares lines and parabolas over any run of points, by sums."""

    def __init__(self, places: Sequence[Place], begin: int, end: int) -> None:
        self.begin, self.end = begin, end
        x0, scale = places[begin][0], (places[end][0] - places[begin][0]) or 1.0
        sums = [[0.0] * 8]
        for x, out in places[begin : end + 1]:
            t = (x - x0) / scale
            terms = (1.0, t, t**2, t**3, t**4, out, t * out, t**2 * out)
            sums.append([a + b for a, b in zip(sums[-1], terms, strict=True)])
        self.sums = sums
        self.squares = [0.0]
        for _, out in places[begin : end + 1]:
            self.squares.append(self.squares[-1] + out * out)

    def of_both(self, front_terms: int, behind_terms: int, knot: int) -> float:
        """Give the squared residuals in front of a point and behind it."""
        front = self._of(0, knot - self.begin + 1, front_terms)
        return front + self._of(knot - self.begin, self.end - self.begin + 1, behind_terms)

    def _of(self, low: int, high: int, terms: int) -> float:
        s = [b - a for a, b in zip(self.sums[low], self.sums[high], strict=True)]
        matrix = [[s[row + column] for column in range(terms)] for row in range(terms)]
        right = s[5 : 5 + terms]
        solved = _solved(matrix, right)
        explained = sum(a * b for a, b in zip(solved, right, strict=True))
        return max(self.squares[high] - self.squares[low] - explained, 0.0)


def _solved(matrix: list[list[float]], right: list[float]) -> list[float]:
    """Solve a small symmetric system; rows that say nothing give 0."""
    size = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for column in range(size):
        pivot = rows[column][column]
        if abs(pivot) <= 1e-14 * max(abs(matrix[column][column]), 1e-300):
            continue
        for below in rows[column + 1 :]:
            factor = below[column] / pivot
            for k in range(column, size + 1):
                below[k] -= factor * rows[column][k]
    values = [0.0] * size
    for column in reversed(range(size)):
        rest = rows[column][size] - sum(
            rows[column][k] * values[k] for k in range(column + 1, size)
        )
        pivot = rows[column][column]
        small = abs(pivot) <= 1e-14 * max(abs(matrix[column][column]), 1e-300)
        values[column] = 0.0 if small else rest / pivot
    return values


def laid_through(places: Sequence[Place], runs: Sequence[Run]) -> list[Curve]:
    """Lay stretches through scattered points: least squares, joined at their ends.

    Parameters
    ----------
    places : sequence of (float, float)
        Depth and distance out.
    runs : sequence of Run

    Returns
    -------
    list of Curve
        Stretches meet at the depths of the points where the runs do.
    """
    knots = [places[run.first][0] for run in runs] + [places[runs[-1].last][0]]
    unknowns = 2 * len(runs) + 1  # out, bow, out, bow, ..., out
    band = [[0.0] * 3 for _ in range(unknowns)]  # the diagonal and two beside it
    right = [0.0] * unknowns
    for number, run in enumerate(runs):
        x0, x1 = knots[number], knots[number + 1]
        begin, end = run.first, run.last + (number == len(runs) - 1)
        for x, out in places[begin:end]:
            t = (x - x0) / (x1 - x0)
            weights = (1.0 - t, 4.0 * t * (1.0 - t) if run.bulge_mm else 0.0, t)
            for a in range(3):
                right[2 * number + a] += weights[a] * out
                for b in range(a, 3):
                    band[2 * number + a][b - a] += weights[a] * weights[b]
    values = _banded_solution(band, right)
    curves = []
    for number in range(len(runs)):
        begin_mm = (knots[number], values[2 * number])
        end_mm = (knots[number + 1], values[2 * number + 2])
        straight = Curve(begin_mm=begin_mm, end_mm=end_mm)
        # the bow is measured across the blade, the bulge normal to the chord
        across = (end_mm[0] - begin_mm[0]) / straight.chord_mm
        curves.append(
            Curve(begin_mm=begin_mm, end_mm=end_mm, bulge_mm=values[2 * number + 1] * across)
        )
    return curves


def _banded_solution(band: list[list[float]], right: list[float]) -> list[float]:
    """Solve a symmetric positive system with two diagonals beside the main one."""
    size = len(right)
    rows = [row[:] for row in band]
    values = right[:]
    for at in range(size):
        pivot = rows[at][0]
        if pivot <= 0.0:  # a straight stretch has no bow
            continue
        for step in range(1, min(3, size - at)):
            factor = rows[at][step] / pivot
            for k in range(step, 3):
                rows[at + step][k - step] -= factor * rows[at][k]
            values[at + step] -= factor * values[at]
    for at in reversed(range(size)):
        pivot = rows[at][0]
        rest = sum(rows[at][step] * values[at + step] for step in range(1, min(3, size - at)))
        values[at] = (values[at] - rest) / pivot if pivot > 0.0 else 0.0
    return values
