"""The failure assessment diagram: how much of K_IC a crack may use in steel that also yields.

K_r is stress intensity over toughness, L_r load over the load at which the section turns
plastic. Safe below the line

    K_r = (1 + L_r^2 / 2)^(-1/2) (0.3 + 0.7 exp(-mu L_r^6)),   L_r < (Y + R_m) / (2 Y)

with mu = 0.6: R6, Assessment of the integrity of structures containing defects, revision 4,
option 1; with mu = min(0.001 E / Y, 0.6): BS 7910:2013, option 1 (both from memory). For
steels as hard as edges the second is the more lenient.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from simedge.strength.closed_form.wedge_constants import FloatArray

#: The exponent of R6, and the largest of BS 7910.
R6_EXPONENT = 0.6
#: How near a factor is found, as a share of it.
CLOSE = 1e-10


def bs7910_exponent(youngs_modulus_mpa: float, yield_strength_mpa: float) -> float:
    """Give mu of BS 7910.

    >>> round(bs7910_exponent(207000.0, 2070.0), 3)
    0.1
    """
    return min(0.001 * youngs_modulus_mpa / yield_strength_mpa, R6_EXPONENT)


def collapse_cut_off(yield_strength_mpa: float, tensile_strength_mpa: float | None) -> float:
    """Give the largest L_r, (Y + R_m) / (2 Y); 1 where the tensile strength is not known."""
    tensile = yield_strength_mpa if tensile_strength_mpa is None else tensile_strength_mpa
    return (yield_strength_mpa + tensile) / (2.0 * yield_strength_mpa)


def allowed_toughness_share(collapse_share: ArrayLike, exponent: float) -> FloatArray:
    """Give K_r on the line at L_r, without the cut-off.

    >>> round(float(allowed_toughness_share(1.0, 0.6)), 2)
    0.56
    >>> round(float(allowed_toughness_share(1.0, bs7910_exponent(207000.0, 2070.0))), 2)
    0.76
    """
    share = np.asarray(collapse_share, dtype=float)
    return np.asarray((0.3 + 0.7 * np.exp(-exponent * share**6)) / np.sqrt(1.0 + 0.5 * share**2))


def first_to_fail(
    toughness_share: FloatArray, collapse_share: FloatArray, *, exponent: float, cut_off: float
) -> tuple[float, int]:
    """Give how many times a load may grow until the first of many cracks meets the line.

    Parameters
    ----------
    toughness_share, collapse_share : ndarray, shape (n,)
        K_r and L_r of each under the load as it is, 0 or more; both grow with it.
    exponent, cut_off : float
        mu, and the largest L_r.

    Returns
    -------
    (float, int)
        The factor, and which one it is; (inf, 0) where no crack is pulled, for nothing breaks
        there, however the section fares.

    Examples
    --------
    >>> brittle = first_to_fail(np.array([0.2, 0.5]), np.zeros(2), exponent=0.6, cut_off=1.1)
    >>> round(brittle[0], 9), brittle[1]  # 1 / K_r
    (2.0, 1)
    """
    pulled = np.flatnonzero(toughness_share > 0.0)
    if pulled.size == 0:
        return float("inf"), 0
    with np.errstate(divide="ignore"):
        bound = np.minimum(1.0 / toughness_share[pulled], cut_off / collapse_share[pulled])
    at = int(pulled[np.argmin(bound)])
    low, high = 0.0, float(bound.min())
    while high - low > CLOSE * high:  # K_r grows, the line falls: one crossing each
        middle = 0.5 * (low + high)
        allowed = allowed_toughness_share(middle * collapse_share[pulled], exponent)
        over = middle * toughness_share[pulled] >= allowed
        if over.any():
            pulled = pulled[over]  # the others fail later
            high, at = middle, int(pulled[0])
        else:
            low = middle
    return high, at
