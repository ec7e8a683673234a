"""How stress behaves in a corner: Williams' exponents.

M. L. Williams, J. Appl. Mech. 19 (1952) 526-528: stress goes as r^(lambda - 1), whatever
loads the section. Below 1, lambda tells how fast stress grows without bound towards the
corner; above, that it fades there. The angle is that of the steel.
"""

from __future__ import annotations

from cmath import cos as complex_cosine
from cmath import sin as complex_sine
from itertools import pairwise
from math import acos, acosh, cos, pi, sin
from typing import Literal

from scipy.optimize import brentq, newton

#: Relative accuracy of the roots.
ROOT_TOLERANCE = 1e-14


def free_corner_exponent(angle_rad: float) -> float:
    """Give lambda of the symmetric field in a corner between two free faces.

    Parameters
    ----------
    angle_rad : float
        Of the steel, above pi and up to 2 pi: the corner turns into the steel.

    Returns
    -------
    float
        Below 1: stress goes with the distance to the power lambda - 1 and has no bound.
        Does not depend on Poisson's ratio.

    Raises
    ------
    ValueError
        The corner does not turn into the steel.

    Examples
    --------
    >>> from math import radians
    >>> round(free_corner_exponent(radians(190.0)), 8)
    0.90004381
    """
    if not pi < angle_rad <= 2.0 * pi:
        raise ValueError(f"angle_rad is {angle_rad:g}, but must lie above pi, up to 2 pi")
    return free_corner_root(angle_rad, "symmetric").real


def free_corner_root(angle_rad: float, field: Literal["symmetric", "antisymmetric"]) -> complex:
    """Give the lowest lambda of a field between two free faces, turning as a whole left out.

    Parameters
    ----------
    angle_rad : float
        Of the steel, above 0 and up to 2 pi.
    field : {"symmetric", "antisymmetric"}
        About the corner's bisector.

    Returns
    -------
    complex
        With an imaginary part where the field changes sign again and again towards the
        corner: below 146 degrees, the antisymmetric one below 159. Its conjugate is a
        root too.

    Raises
    ------
    ValueError
        No such angle.

    Notes
    -----
    Beside lambda = 1 of the antisymmetric field, a turn without stress, roots pair up
    and nearly touch at 257.45 degrees; within 1e-6 of it the answer is good to 1e-6 only.

    Examples
    --------
    >>> from math import radians
    >>> round(free_corner_root(radians(270.0), "antisymmetric").real, 8)
    0.90852919
    """
    if not 0.0 < angle_rad <= 2.0 * pi:
        raise ValueError(f"angle_rad is {angle_rad:g}, but must lie above 0, up to 2 pi")
    # with z = lambda omega: sin z +- z sin(omega) / omega = 0                  [Williams]
    slope = sin(angle_rad) / angle_rad
    if field == "antisymmetric":
        slope = -slope

    def function(z: float) -> float:
        return sin(z) + slope * z

    # between places where its slope cos z + slope vanishes the function has one root or none
    first = acos(-slope)
    turns = (first, 2.0 * pi - first, 2.0 * pi + first, 4.0 * pi - first)
    roots = [
        float(brentq(function, low, high, xtol=1e-15, rtol=ROOT_TOLERANCE))
        for low, high in pairwise(turns)
        if function(low) * function(high) <= 0.0
    ]
    if field == "antisymmetric" and roots:
        roots.remove(min(roots, key=lambda root: abs(root - angle_rad)))
    if roots:
        return complex(roots[0] / angle_rad)
    # where the sine falls short of the straight line: sin(x + i y) = sin x cosh y at its crest
    crest = 1.5 * pi if slope > 0.0 else 2.5 * pi
    start = complex(crest, acosh(max(abs(slope) * crest, 1.0)) + 0.1)
    root = newton(
        lambda z: complex_sine(z) + slope * z,
        start,
        fprime=lambda z: complex_cosine(z) + slope,
        tol=1e-14,
    )
    return complex(root) / angle_rad


def clamped_corner_exponent(angle_rad: float, poissons_ratio: float) -> float:
    """Give lambda in a corner between a face held fast and a free one, in plane strain.

    Parameters
    ----------
    angle_rad : float
        Of the steel, above 0 and up to pi / 2: at a straight base across a wedge, that
        less its half angle.
    poissons_ratio : float
        From 0 to 0.5.

    Returns
    -------
    float

    Raises
    ------
    ValueError
        An argument outside its range.

    Examples
    --------
    A wedge of 10 degrees on each side, clamped: stress has no bound at its base's corners.

    >>> from math import radians
    >>> round(clamped_corner_exponent(radians(80.0), 0.3), 8)
    0.76782452
    """
    if not 0.0 < angle_rad <= 0.5 * pi:
        raise ValueError(f"angle_rad is {angle_rad:g}, but must lie above 0, up to pi / 2")
    if not 0.0 <= poissons_ratio <= 0.5:
        raise ValueError(f"poissons_ratio is {poissons_ratio:g}, but must lie from 0 to 0.5")
    # sin^2(lambda omega) = ((kappa + 1)^2 - 4 lambda^2 sin^2 omega) / (4 kappa), with
    # kappa = 3 - 4 nu in plane strain                                         [Williams]
    kappa = 3.0 - 4.0 * poissons_ratio

    def function(exponent: float) -> float:
        # 2 sin^2 = 1 - cos of twice: at the end of the bracket exact to rounding
        rising = 2.0 * kappa * (1.0 - cos(2.0 * exponent * angle_rad))
        return rising + (2.0 * exponent * sin(angle_rad)) ** 2 - (kappa + 1.0) ** 2

    # rises up to lambda omega = pi / 2, and is not negative there up to a right angle; the
    # margin takes in what rounding leaves at nu = 0 and a right angle, where it is zero
    end = 0.5 * pi / angle_rad * (1.0 + 1e-9)
    return float(brentq(function, 0.0, end, xtol=1e-15, rtol=ROOT_TOLERANCE))
