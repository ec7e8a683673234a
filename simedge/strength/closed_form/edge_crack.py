"""Stress intensity of a crack that runs from one face into a strip of finite thickness.

Shares s = a / t of the thickness; stresses are the strip's own, without the crack. The strip
may bend as it opens. Source: H. Tada, P.C. Paris & G.R. Irwin, The Stress Analysis of Cracks
Handbook, single-edge-notched strip, tension and pure bending (polynomials of B. Gross and
J.E. Srawley; coefficients from memory), good to 0.5 % up to s = 0.6.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from simedge.strength.closed_form.wedge_constants import FloatArray

#: Share of the thickness up to which the polynomials hold.
DEEPEST_SHARE = 0.6
TENSION = (1.12, -0.231, 10.55, -21.72, 30.39)
BENDING = (1.122, -1.40, 7.33, -13.08, 14.0)


def tension_factor(share: ArrayLike) -> FloatArray:
    """Give F in K = F sigma sqrt(pi a) for even tension; share of the thickness in [0, 0.6].

    >>> round(float(tension_factor(0.0)), 3), round(float(tension_factor(0.5)), 3)
    (1.12, 2.826)
    """
    return _polynomial(TENSION, share)


def bending_factor(share: ArrayLike) -> FloatArray:
    """Give F for pure bending, sigma being the largest stress; share in [0, 0.6].

    >>> round(float(bending_factor(0.5)), 4)
    1.4945
    """
    return _polynomial(BENDING, share)


def stress_intensity_mpa_sqrt_mm(
    depth_mm: ArrayLike,
    thickness_mm: ArrayLike,
    *,
    at_crack_mpa: ArrayLike,
    at_far_face_mpa: ArrayLike,
) -> FloatArray:
    """Give K_I of an edge crack under a stress that falls straight through the thickness.

    Parameters
    ----------
    depth_mm, thickness_mm : float or array
        Of the crack, at most 0.6 of the strip's; of the strip.
    at_crack_mpa, at_far_face_mpa : float or array
        Stress along the strip at the cracked face and at the other, tension positive.

    Returns
    -------
    ndarray
        MPa sqrt(mm), negative where the crack is pressed shut.

    Raises
    ------
    ValueError
        A crack deeper than 0.6 of the thickness, or of negative depth.

    Examples
    --------
    >>> shallow = stress_intensity_mpa_sqrt_mm(1e-6, 1.0, at_crack_mpa=1.0, at_far_face_mpa=1.0)
    >>> round(float(shallow / math.sqrt(math.pi * 1e-6)), 3)  # 1.12 sigma sqrt(pi a)
    1.12
    """
    near, far = np.asarray(at_crack_mpa, dtype=float), np.asarray(at_far_face_mpa, dtype=float)
    depth = np.asarray(depth_mm, dtype=float)
    share = depth / np.asarray(thickness_mm, dtype=float)
    even, bent = 0.5 * (near + far), 0.5 * (near - far)
    both = even * tension_factor(share) + bent * bending_factor(share)
    return np.asarray(both * np.sqrt(math.pi * depth))


def _polynomial(coefficients: tuple[float, ...], share: ArrayLike) -> FloatArray:
    s = np.asarray(share, dtype=float)
    if np.any(s < 0.0) or np.any(s > DEEPEST_SHARE * (1.0 + 1e-9)):
        raise ValueError(f"a crack's share of the thickness must lie in [0, {DEEPEST_SHARE}]")
    return np.asarray(np.polynomial.polynomial.polyval(s, coefficients))
