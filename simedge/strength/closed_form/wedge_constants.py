"""Constants of a plane-strain wedge, and differences of angles that stay exact in thin wedges.

The half angle a is half of the included angle, in radians, in (0, pi/2); Poisson's ratio lies in
[0, 1/2]. Anything else raises `BadInput`.

Sources: J.H. Michell, Proc. London Math. Soc. 32 (1900) 35-61; S.D. Carothers, Proc. R. Soc.
Edinburgh 33 (1912) 292-306; Timoshenko & Goodier, Theory of Elasticity, 3rd ed. 1970, Arts. 38
and 39 (article numbers from memory, not checked against the book).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simedge.errors import BadInput, Problem

FloatArray = NDArray[np.float64]
Values = float | FloatArray

# Points on a face come out of atan2 with rounding; this much beyond the face still counts as on it.
_FACE_SLACK_RAD = 1e-6
# Below this argument the differences are summed as power series: direct subtraction loses
# 1e-16 / x^2 (x^4 for the shear energy); at 2 both ways are good to a few units in the last place.
_SERIES_BELOW_RAD = 2.0
_SERIES_ORDERS = range(1, 15)
# Coefficients of x^(2k+1), from the Taylor series of sine and cosine.
_ANGLE_LESS_SINE = [(-1.0) ** (k + 1) / math.factorial(2 * k + 1) for k in _SERIES_ORDERS]
_SINE_LESS_ANGLE_COSINE = [
    (-1.0) ** (k + 1) * 2 * k / math.factorial(2 * k + 1) for k in _SERIES_ORDERS
]
_SHEAR_ENERGY = [(-1.0) ** k * (2 * k - 2) / math.factorial(2 * k + 1) for k in _SERIES_ORDERS]


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgeConstants:
    """The integrals over the angle that scale every field of a wedge (dimensionless).

    Attributes
    ----------
    half_angle_rad : float
        Half of the included angle, in (0, pi/2).
    axial : float
        A_P = a + sin(2a)/2, about 2a.
    lateral : float
        A_Q = a - sin(2a)/2, about 2a^3/3.
    moment : float
        m = sin(2a) - 2a cos(2a), about 8a^3/3.
    moment_normal_energy : float
        I1 = a - sin(4a)/4, the integral of sin^2(2 theta); about 8a^3/3.
    moment_shear_energy : float
        I2 = 2a cos^2(2a) + a - 3 sin(4a)/4, the integral of (cos 2a - cos 2 theta)^2; 64a^5/15.
    """

    half_angle_rad: float
    axial: float
    lateral: float
    moment: float
    moment_normal_energy: float
    moment_shear_energy: float


def wedge_constants(half_angle_rad: float) -> WedgeConstants:
    """Give the constants of a wedge to full double precision, at any half angle.

    Parameters
    ----------
    half_angle_rad : float
        Half of the included angle, in (0, pi/2).

    Returns
    -------
    WedgeConstants
        A_P, A_Q, m, I1 and I2.

    Raises
    ------
    BadInput
        Half angle outside its range.

    Notes
    -----
    Sources: module docstring; Timoshenko & Goodier, Art. 38 (number from memory).

    Examples
    --------
    >>> round(wedge_constants(math.radians(15)).axial, 8)
    0.51179939
    """
    if not 0.0 < half_angle_rad < math.pi / 2:
        raise refuse(
            f"half_angle_rad is {half_angle_rad:.6g} rad",
            "must lie in (0, pi/2)",
            "give half of the included angle, in radians",
        )
    double, quadruple = 2 * half_angle_rad, np.asarray(4 * half_angle_rad)
    shear_energy = _series_or(
        quadruple,
        2 * quadruple + quadruple * np.cos(quadruple) - 3 * np.sin(quadruple),
        _SHEAR_ENERGY,
    )
    return WedgeConstants(
        half_angle_rad=half_angle_rad,
        axial=half_angle_rad + 0.5 * math.sin(2 * half_angle_rad),
        lateral=0.5 * float(angle_less_sine(double)),
        moment=float(sine_less_angle_cosine(double)),
        moment_normal_energy=0.25 * float(angle_less_sine(quadruple)),
        moment_shear_energy=0.25 * float(shear_energy),
    )


def plane_strain_modulus_mpa(youngs_modulus_mpa: float, poissons_ratio: float) -> float:
    """Give E' = E/(1 - nu^2) (MPa).

    Raises
    ------
    BadInput
        Modulus not above 0, or Poisson's ratio outside [0, 1/2].

    Examples
    --------
    >>> round(plane_strain_modulus_mpa(210e3, 0.3), 3)
    230769.231
    """
    if not youngs_modulus_mpa > 0:
        raise refuse(
            f"youngs_modulus_mpa is {youngs_modulus_mpa:.6g} MPa",
            "must be above 0",
            "steels have about 210e3",
        )
    return youngs_modulus_mpa / (1.0 - _poisson(poissons_ratio) ** 2)


def plane_strain_poissons_ratio(poissons_ratio: float) -> float:
    """Give nu' = nu/(1 - nu) (dimensionless); `BadInput` outside [0, 1/2].

    Examples
    --------
    >>> round(plane_strain_poissons_ratio(0.3), 6)
    0.428571
    """
    return _poisson(poissons_ratio) / (1.0 - poissons_ratio)


def uniaxial_mises_factor(poissons_ratio: float) -> float:
    """Give k_v = sqrt(1 - nu + nu^2): von Mises over an in-plane uniaxial stress, plane strain.

    First yield of such a stress is at yield strength / k_v. `BadInput` outside [0, 1/2].

    Examples
    --------
    >>> round(uniaxial_mises_factor(0.3), 8)
    0.88881944
    """
    return math.sqrt(1.0 - _poisson(poissons_ratio) + poissons_ratio**2)


def angle_less_sine(angle_rad: Values) -> FloatArray:
    """Give x - sin x without cancellation, for an angle of either sign.

    Examples
    --------
    >>> round(6e18 * float(angle_less_sine(1e-6)), 12)
    1.0
    """
    x = np.asarray(angle_rad, dtype=float)
    return _series_or(x, x - np.sin(x), _ANGLE_LESS_SINE)


def sine_less_angle_cosine(angle_rad: Values) -> FloatArray:
    """Give sin x - x cos x without cancellation, for an angle of either sign.

    Examples
    --------
    >>> round(3e18 * float(sine_less_angle_cosine(1e-6)), 12)
    1.0
    """
    x = np.asarray(angle_rad, dtype=float)
    return _series_or(x, np.sin(x) - x * np.cos(x), _SINE_LESS_ANGLE_COSINE)


def place_in_wedge(
    radius_mm: Values, theta_rad: Values, half_angle_rad: float
) -> tuple[FloatArray, FloatArray]:
    """Broadcast radii and angles, and refuse any place that is not in the blade.

    Examples
    --------
    >>> [part.shape for part in place_in_wedge(1.0, np.zeros(3), 0.2)]
    [(3,), (3,)]
    """
    wedge_constants(half_angle_rad)
    r, t = np.broadcast_arrays(
        np.asarray(radius_mm, dtype=float), np.asarray(theta_rad, dtype=float)
    )
    if not np.all((r > 0) & (r < np.inf)):
        raise refuse("a radius_mm is not above 0", "the fields are unbounded there", "leave it out")
    if not np.all(np.abs(t) <= half_angle_rad + _FACE_SLACK_RAD):
        raise refuse(
            "a theta_rad lies outside the wedge",
            f"must lie within {half_angle_rad:.6g} rad of the bisector",
            "angles are in radians, and the half angle is half of the included angle",
        )
    return r, t


def refuse(value: str, rule: str, advice: str) -> BadInput:
    """Make the error of an argument of a closed form that lies outside its range.

    Examples
    --------
    >>> print(refuse("radius_mm is -1 mm", "must lie above 0", "measure from the apex"))
    closed form: radius_mm is -1 mm, but must lie above 0; measure from the apex
    """
    return BadInput(Problem(where="closed form", message=f"{value}, but {rule}; {advice}"))


def _series_or(x: FloatArray, direct: FloatArray, coefficients: Sequence[float]) -> FloatArray:
    """Sum the series c1 x^3 + c2 x^5 + ... where x is small, else take the direct value."""
    square = x * x
    total = np.zeros_like(x)
    for coefficient in reversed(coefficients):
        total = total * square + coefficient
    return np.where(np.abs(x) < _SERIES_BELOW_RAD, total * square * x, direct)


def _poisson(poissons_ratio: float) -> float:
    if not 0.0 <= poissons_ratio <= 0.5:
        raise refuse(
            f"poissons_ratio is {poissons_ratio:.6g}",
            "must lie in [0, 0.5]",
            "steels have 0.28 to 0.30",
        )
    return poissons_ratio
