"""Places where elastic stress grows without bound, told by how it grows."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, degrees, hypot, log, sin

import numpy as np
from scipy.optimize import brentq

from simedge.fem.stress_field import StressField, von_mises
from simedge.section.outline import SIDES, Outline

#: A peak whose growth falls off more slowly than this power of the element size does not
#: settle: of a smooth field the error falls with its second to fourth power.
SLOWEST_SETTLING = -0.2
#: Growth below this share is none: where a pressure ends abruptly a peak, bounded as it is, may
#: still move by so much.
LEAST_GROWTH = 0.03
#: Elements at least so much smaller from mesh to mesh, or a growth tells nothing of its power.
LARGEST_RATIO = 0.55
#: No elastic stress grows faster than that under a force on a point.
STEEPEST_GROWTH = -1.1
#: Sharper turns into the steel than this are corners (degrees): less is what tracing leaves.
LEAST_TURN_DEG = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A shoulder behind which the blade widens faster: stress there has no bound.

    Attributes
    ----------
    x_mm, y_mm : float
    angle_deg : float
        Of the steel there; above 180.
    inward : tuple of (float, float)
        Direction of the steel's bisector there.
    """

    x_mm: float
    y_mm: float
    angle_deg: float
    inward: tuple[float, float]


def reentrant_corners(outline: Outline) -> tuple[Corner, ...]:
    """Give the corners of an outline that turn into the steel, left face first."""
    found = []
    for side in SIDES:
        for front, behind in pairwise(outline.face(side)):
            x, y = behind.begin_mm
            before, after = (
                float(front.angle_rad(np.array(x))),
                float(behind.angle_rad(np.array(x))),
            )
            turn_deg = degrees(after - before)
            if turn_deg > LEAST_TURN_DEG:
                tangent = 0.5 * (before + after)
                inward = (sin(tangent), -behind.outward * cos(tangent))
                found.append(Corner(x_mm=x, y_mm=y, angle_deg=180.0 + turn_deg, inward=inward))
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Singular:
    """A place where stress has no bound.

    Attributes
    ----------
    x_mm, y_mm : float
    cause : str
        In words.
    exponent_seen : float
        Stress grows with this power of the distance, or of the element size.
    exponent_expected : float or None
        By theory, where it is known.
    """

    x_mm: float
    y_mm: float
    cause: str
    exponent_seen: float
    exponent_expected: float | None


def growth_exponent(
    peaks_mpa: tuple[float, float, float], sizes_mm: tuple[float, float, float]
) -> float | None:
    """Give the power of the element size with which a peak grows.

    Parameters
    ----------
    peaks_mpa, sizes_mm : tuple of three float
        Of three meshes, each finer there than the one before.

    Returns
    -------
    float or None
        The s of A h^s + B through all three: negative for one that grows without bound,
        0 where it grows by as much at every halving. None for one that has settled, and
        where the meshes do not tell: elements not much smaller, or a growth like no stress's.

    Examples
    --------
    A tenth of a power, over a constant:

    >>> sizes = (0.16, 0.04, 0.01)
    >>> peaks = tuple(100.0 + 50.0 * size**-0.1 for size in sizes)
    >>> round(growth_exponent(peaks, sizes), 6)
    -0.1
    >>> growth_exponent((100.0, 100.1, 100.11), sizes) is None
    True
    """
    first, second, third = peaks_mpa
    if any(finer > LARGEST_RATIO * rougher for rougher, finer in pairwise(sizes_mm)):
        return None
    if not third - first > LEAST_GROWTH * third or second <= first or third <= second:
        return None
    wanted = (third - second) / (second - first)
    coarse, middle, fine = (log(size) for size in sizes_mm)

    def ratio(power: float) -> float:
        if abs(power) < 1e-9:
            return (middle - fine) / (coarse - middle)
        ends = [np.exp(power * (place - coarse)) for place in (coarse, middle, fine)]
        return float((ends[2] - ends[1]) / (ends[1] - ends[0]))

    steepest, mildest = STEEPEST_GROWTH, -SLOWEST_SETTLING
    if not ratio(mildest) <= wanted <= ratio(steepest):
        return None
    return float(brentq(lambda power: ratio(power) - wanted, steepest, mildest))


#: Places along a ray at which a power is read.
PLACES = 9


def distance_exponent(
    field: StressField,
    from_mm: tuple[float, float],
    direction: tuple[float, float],
    nearest_mm: float,
    farthest_mm: float,
) -> float:
    """Give the power of the distance from a place with which von Mises grows towards it.

    Parameters
    ----------
    field : StressField
    from_mm : tuple of (float, float)
        The place.
    direction : tuple of (float, float)
        Of a ray into the steel.
    nearest_mm, farthest_mm : float
        Distances between which the power is read.
    """
    distance = np.geomspace(nearest_mm, farthest_mm, PLACES)
    length = hypot(*direction)
    x, y = (
        start + distance * part / length for start, part in zip(from_mm, direction, strict=True)
    )
    return float(np.polyfit(np.log(distance), np.log(von_mises(field.at(x, y))), 1)[0])
