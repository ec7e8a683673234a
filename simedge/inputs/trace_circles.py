"""Circles through points that are not quite on them: fits, and arcs over a chord."""

from __future__ import annotations

from collections.abc import Sequence
from math import copysign, hypot, sqrt
from typing import NamedTuple

Place = tuple[float, float]


class Circle(NamedTuple):
    """Centre and radius, mm."""

    x: float
    y: float
    radius: float

    def off(self, place: Place) -> float:
        """Give how far a place lies outside of the circle; negative inside."""
        return hypot(place[0] - self.x, place[1] - self.y) - self.radius


def fitted_circle(places: Sequence[Place]) -> Circle | None:
    """Fit a circle to three or more places; None where they lie on a line.

    Kasa's fit: least squares of the power of the places with respect to the circle. Exact
    for places on a circle.

    >>> [round(value, 12) for value in fitted_circle([(0, 1), (1, 2), (2, 1), (1, 0)])]
    [1.0, 1.0, 1.0]
    """
    count = len(places)
    mean_x = sum(x for x, _ in places) / count
    mean_y = sum(y for _, y in places) / count
    shifted = [(x - mean_x, y - mean_y) for x, y in places]
    xx = sum(x * x for x, _ in shifted)
    yy = sum(y * y for _, y in shifted)
    xy = sum(x * y for x, y in shifted)
    x_power = sum(x * (x * x + y * y) for x, y in shifted)
    y_power = sum(y * (x * x + y * y) for x, y in shifted)
    determinant = xx * yy - xy * xy
    if determinant <= 1e-14 * (xx + yy) ** 2:
        return None
    x = 0.5 * (x_power * yy - y_power * xy) / determinant
    y = 0.5 * (y_power * xx - x_power * xy) / determinant
    radius = sqrt(x * x + y * y + (xx + yy) / count)
    return Circle(x + mean_x, y + mean_y, radius)


def off_chord(begin: Place, end: Place, place: Place) -> tuple[float, float]:
    """Give a place as a share of the chord, and its distance to the left of it."""
    along_x, along_y = end[0] - begin[0], end[1] - begin[1]
    length = hypot(along_x, along_y)
    x, y = place[0] - begin[0], place[1] - begin[1]
    return (x * along_x + y * along_y) / length**2, (y * along_x - x * along_y) / length


def off_arc(begin: Place, end: Place, bulge: float, place: Place) -> float:
    """Give the distance of a place from an arc over a chord, outward of it positive.

    ``bulge`` is the distance of the arc from the middle of its chord, to the left.
    """
    share, distance = off_chord(begin, end, place)
    length = hypot(end[0] - begin[0], end[1] - begin[1])
    if abs(bulge) <= 1e-12 * length:
        return distance
    radius = (0.25 * length**2 + bulge**2) / (2.0 * abs(bulge))
    centre = bulge - copysign(radius, bulge)
    from_centre = hypot((share - 0.5) * length, distance - centre)
    # of the squares: a radius a thousand times the chord costs no digits
    squared = ((share - 0.5) * length) ** 2 + (distance - centre) ** 2 - radius**2
    return copysign(1.0, bulge) * squared / (from_centre + radius)


def fitted_bulge(begin: Place, end: Place, places: Sequence[Place]) -> float:
    """Fit the bulge of the arc from one place to another to the places between them.

    On a circle of radius 1.25 about (1, -0.75):

    >>> round(fitted_bulge((0, 0), (2, 0), [(0.25, 0.25), (1, 0.5)]), 9)
    0.5
    """
    length = hypot(end[0] - begin[0], end[1] - begin[1])
    weights = [
        (share * (1.0 - share), d) for share, d in (off_chord(begin, end, p) for p in places)
    ]
    total = sum(w * w for w, _ in weights)
    bulge = 0.25 * sum(w * d for w, d in weights) / total if total > 0 else 0.0
    for _ in range(12):
        step = 1e-6 * length
        now = [off_arc(begin, end, bulge, p) for p in places]
        then = [off_arc(begin, end, bulge + step, p) for p in places]
        slopes = [(b - a) / step for a, b in zip(now, then, strict=True)]
        squares = sum(slope * slope for slope in slopes)
        if squares == 0.0:
            break
        change = -sum(slope * off for slope, off in zip(slopes, now, strict=True)) / squares
        bulge = max(min(bulge + change, 0.49 * length), -0.49 * length)
        if abs(change) <= 1e-14 * length:
            break
    return bulge
