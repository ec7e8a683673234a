"""Points inside a triangle at which functions are summed up to their integral."""

from __future__ import annotations

import numpy as np
from scipy.special import roots_jacobi

from simedge.section.outline import Floats


def triangle_rule(count: int) -> tuple[Floats, Floats]:
    """Give local coordinates and weights over the triangle (0, 0), (1, 0), (0, 1).

    Parameters
    ----------
    count : int
        Points in each of two directions.

    Returns
    -------
    places : ndarray, shape (2, count**2)
    weights : ndarray, shape (count**2,)
        Their sum is the area, one half. Exact for polynomials of degree 2 count - 1.

    Notes
    -----
    A square's Gauss rule drawn together at one corner (A. H. Stroud, Approximate
    Calculation of Multiple Integrals, 1971, from memory).

    Examples
    --------
    The integral of x y over the triangle is 1 / 24:

    >>> (x, y), weights = triangle_rule(2)
    >>> round(24.0 * float(weights @ (x * y)), 12)
    1.0
    """
    across, across_weights = np.polynomial.legendre.leggauss(count)
    along, along_weights = roots_jacobi(count, 1.0, 0.0)
    r, s = np.meshgrid(0.5 * (1.0 + along), 0.5 * (1.0 + across), indexing="ij")
    weights = np.outer(along_weights / 4.0, across_weights / 2.0)
    return np.stack([r.ravel(), (s * (1.0 - r)).ravel()]), np.asarray(weights.ravel())
