"""The two-slope cantilever: what a micro-bevel does for strength and stiffness, in closed form.

A micro-bevel (half angle alpha1) reaches from the land to a shoulder; the primary (alpha2, not
above alpha1) runs on to the clamp. Distances run from the virtual apex of the micro-bevel: a0 to
the land, h to the shoulder, b to the clamp, 0 < a0 <= h <= b. T = tan(alpha1)/tan(alpha2) >= 1 and
H = h/a0 >= 1. The load is lateral, on the land. Plane strain.

Everything is compared with a plain wedge of the primary's angle and the *same land*. A load on the
tip alone is what makes the gain saturate: under pressure on a face the primary decides. The clamp
must lie behind the peak (`two_slope_peak_ratio`). `BadInput` is raised outside these ranges.

Sources: elementary beam theory (Timoshenko, Strength of Materials, section from memory); all closed
forms here are our own (no publication known), checked by brute-force maxima and quadrature. The
two-dimensional cap uses the exact peak of a wedge, `peak_stress_factor`.
"""

from __future__ import annotations

import math

import numpy as np

from simedge.strength.closed_form.tapered_cantilever import tapered_bending_integral
from simedge.strength.closed_form.wedge_constants import (
    FloatArray,
    Values,
    refuse,
    wedge_constants,
)
from simedge.strength.closed_form.wedge_yield import peak_stress_factor


def slope_ratio(micro_half_angle_rad: float, primary_half_angle_rad: float) -> float:
    """Give T = tan(alpha1)/tan(alpha2), which is also the beam's cap on the gain.

    Parameters
    ----------
    micro_half_angle_rad, primary_half_angle_rad : float
        Half angles in (0, pi/2), the micro-bevel's not below the primary's.

    Returns
    -------
    float
        At least 1.

    Raises
    ------
    BadInput
        An angle outside its range, or the primary steeper than the micro-bevel.

    Examples
    --------
    >>> round(slope_ratio(math.radians(15), math.radians(10)), 7)
    1.5196154
    """
    wedge_constants(micro_half_angle_rad)
    wedge_constants(primary_half_angle_rad)
    if micro_half_angle_rad < primary_half_angle_rad:
        raise refuse(
            f"micro_half_angle_rad is {micro_half_angle_rad:.6g} rad",
            f"must not be below the primary's {primary_half_angle_rad:.6g} rad",
            "swap the two",
        )
    return math.tan(micro_half_angle_rad) / math.tan(primary_half_angle_rad)


def plane_strain_gain_cap(micro_half_angle_rad: float, primary_half_angle_rad: float) -> float:
    """Give the most that a micro-bevel of any height gains in first-yield load, 2D: pk2/(T pk1).

    It is 4 to 23 % below the beam's cap T for usual pairs. Arguments, errors as `slope_ratio`.

    Examples
    --------
    >>> round(plane_strain_gain_cap(math.radians(15), math.radians(10)), 7)
    1.4616422
    """
    ratio = slope_ratio(micro_half_angle_rad, primary_half_angle_rad)
    peak_micro = peak_stress_factor(micro_half_angle_rad)
    return peak_stress_factor(primary_half_angle_rad) / (ratio * peak_micro)


def beam_gain(
    height_ratio: Values, *, micro_half_angle_rad: float, primary_half_angle_rad: float
) -> FloatArray:
    """Give the gain in first-yield load by beam theory: min(T, (H (T - 1) + 1)/T).

    Parameters
    ----------
    height_ratio : float or array
        H = shoulder distance / land distance, from the micro-bevel's virtual apex, at least 1.
    micro_half_angle_rad, primary_half_angle_rad : float
        As in `slope_ratio`.

    Returns
    -------
    FloatArray
        1 for no micro-bevel (H = 1 or T = 1), up to T.

    Raises
    ------
    BadInput
        An argument outside its range.

    Examples
    --------
    >>> round(float(beam_gain(2.0, micro_half_angle_rad=math.radians(15),
    ...     primary_half_angle_rad=math.radians(10))), 7)
    1.3419387
    """
    ratio = slope_ratio(micro_half_angle_rad, primary_half_angle_rad)
    return np.minimum(ratio, _primary_gain(height_ratio, ratio))


def plane_strain_gain(
    height_ratio: Values, *, micro_half_angle_rad: float, primary_half_angle_rad: float
) -> FloatArray:
    """Give the gain with the cap of the exact wedge: min(pk2/(T pk1), (H (T - 1) + 1)/T).

    Arguments, result and errors as `beam_gain`.

    Examples
    --------
    >>> round(float(plane_strain_gain(9.0, micro_half_angle_rad=math.radians(20),
    ...     primary_half_angle_rad=math.radians(10))), 7)
    1.8781259
    """
    ratio = slope_ratio(micro_half_angle_rad, primary_half_angle_rad)
    cap = plane_strain_gain_cap(micro_half_angle_rad, primary_half_angle_rad)
    return np.minimum(cap, _primary_gain(height_ratio, ratio))


def beam_saturation_ratio(micro_half_angle_rad: float, primary_half_angle_rad: float) -> float:
    """Give H* = T + 1: a higher micro-bevel gains no more strength, by beam theory.

    Then H* a0 - a0 = T a0: as tall as the piece cut off the plain primary to get that land.
    Arguments and errors as `slope_ratio`.

    Examples
    --------
    >>> round(beam_saturation_ratio(math.radians(15), math.radians(10)), 7)
    2.5196154
    """
    return slope_ratio(micro_half_angle_rad, primary_half_angle_rad) + 1.0


def plane_strain_saturation_ratio(
    micro_half_angle_rad: float, primary_half_angle_rad: float
) -> float:
    """Give H* where `plane_strain_gain` meets its cap: (pk2/pk1 - 1)/(T - 1).

    Arguments and errors as `slope_ratio`; equal angles have no shoulder and are refused.

    Examples
    --------
    >>> round(plane_strain_saturation_ratio(math.radians(15), math.radians(10)), 7)
    2.3500729
    """
    ratio = slope_ratio(micro_half_angle_rad, primary_half_angle_rad)
    if ratio <= 1.0:
        raise refuse("both half angles are equal", "must differ", "a plain wedge does not saturate")
    cap = plane_strain_gain_cap(micro_half_angle_rad, primary_half_angle_rad)
    return (cap * ratio - 1.0) / (ratio - 1.0)


def two_slope_peak_ratio(
    height_ratio: Values, *, micro_half_angle_rad: float, primary_half_angle_rad: float
) -> FloatArray:
    """Give where the beam is stressed most, over a0: 2 in the micro-bevel, else H (T - 1) + 2.

    From `beam_saturation_ratio` on the peak stays in the micro-bevel; below, it lies in the
    primary, at or behind the shoulder. Arguments and errors as `beam_gain`.

    Examples
    --------
    >>> [round(float(place), 7) for place in two_slope_peak_ratio(np.array([1.5, 3.0]),
    ...     micro_half_angle_rad=math.radians(15), primary_half_angle_rad=math.radians(10))]
    [2.7794231, 2.0]
    """
    ratio = slope_ratio(micro_half_angle_rad, primary_half_angle_rad)
    height = _height(height_ratio)
    return np.where(height >= ratio + 1.0, 2.0, height * (ratio - 1.0) + 2.0)


def two_slope_beam_compliance(
    *,
    micro_half_angle_rad: float,
    primary_half_angle_rad: float,
    tip_distance_mm: float,
    shoulder_distance_mm: float,
    clamp_distance_mm: float,
) -> float:
    """Give E' * tip movement / tip load of the two-slope cantilever, Euler-Bernoulli.

    Parameters
    ----------
    micro_half_angle_rad, primary_half_angle_rad : float
        As in `slope_ratio`.
    tip_distance_mm, shoulder_distance_mm, clamp_distance_mm : float
        a0, h and b from the micro-bevel's virtual apex, 0 < a0 <= h <= b.

    Returns
    -------
    float
        Dimensionless; times the load over E' it is the deflection (`deflection_mm`).

    Raises
    ------
    BadInput
        An argument outside its range.

    Examples
    --------
    >>> round(two_slope_beam_compliance(micro_half_angle_rad=math.radians(15),
    ...     primary_half_angle_rad=math.radians(10), tip_distance_mm=1.0,
    ...     shoulder_distance_mm=3.0, clamp_distance_mm=20.0), 5)
    240.43913
    """
    ratio = slope_ratio(micro_half_angle_rad, primary_half_angle_rad)
    a0, h, b = tip_distance_mm, shoulder_distance_mm, clamp_distance_mm
    if not 0.0 < a0 <= h <= b < math.inf:
        raise refuse(
            f"the distances are {a0:.6g}, {h:.6g} and {b:.6g} mm",
            "must have 0 < tip <= shoulder <= clamp",
            "measure all from the micro-bevel's virtual apex",
        )
    # the primary's virtual apex lies c = h (T - 1) in front of the micro-bevel's; with s = x + c
    # the moment is Q (s - (a0 + c)), so each part is a difference of F                    [ours]
    c = h * (ratio - 1.0)
    micro, shoulder, clamp = tapered_bending_integral(
        np.array([h / a0, (h + c) / (a0 + c), (b + c) / (a0 + c)])
    )
    bending = (
        micro / math.tan(micro_half_angle_rad) ** 3
        + (clamp - shoulder) / math.tan(primary_half_angle_rad) ** 3
    )
    return 1.5 * float(bending)


def _height(height_ratio: Values) -> FloatArray:
    height = np.asarray(height_ratio, dtype=float)
    if not np.all(height >= 1):
        raise refuse("a height_ratio is below 1", "must be shoulder / land distance", "swap them")
    return height


def _primary_gain(height_ratio: Values, ratio: float) -> FloatArray:
    """Gain if only the primary's own peak mattered; it moves back as the micro-bevel grows."""
    return np.asarray((_height(height_ratio) * (ratio - 1.0) + 1.0) / ratio)
