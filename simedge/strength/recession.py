"""Damage as depth: how far the edge goes back until it carries the same work.

One measure for all kinds of failure, continuous in load and shape; it is what a person sees,
and has to grind away.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import isinf, log

from scipy.optimize import brentq

#: The shallowest cut that is tried, mm: ten nanometres.
SHALLOWEST_MM = 1e-5
#: Cuts that are tried on the way to one that carries, each so many times the last.
STRIDE = 1.5
#: How near a depth is found, as a share of it.
CLOSE = 1e-5
#: A factor this large is as good as any.
MOST = 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Recession:
    """How far an edge goes back.

    Attributes
    ----------
    depth_mm : float
        0 where it carries as it is; the deepest cut that was tried where none carries.
    beyond : bool
        No cut in front of the clamp carries.
    """

    depth_mm: float
    beyond: bool


def recession(
    factor_at: Callable[[float], float], deepest_mm: float, start_mm: float = 0.0
) -> Recession:
    """Find the smallest cut that carries the load.

    Parameters
    ----------
    factor_at : callable
        From a cut's depth in mm to how many times the load the edge takes then.
    deepest_mm : float
        Deepest cut to try.
    start_mm : float
        The edge as it is; above 0 for a rounded tip, whose very point has no width.

    Returns
    -------
    Recession

    Examples
    --------
    >>> recession(lambda cut: cut / 0.02, 1.0).depth_mm  # twice the cut, twice the load
    0.02
    """
    if factor_at(start_mm) >= 1.0:
        return Recession(depth_mm=0.0, beyond=False)
    failing, trial = start_mm, max(SHALLOWEST_MM, STRIDE * start_mm)
    while trial < deepest_mm and factor_at(trial) < 1.0:
        failing, trial = trial, trial * STRIDE
    if trial >= deepest_mm:
        trial = deepest_mm
        if deepest_mm <= failing or factor_at(trial) < 1.0:
            return Recession(depth_mm=max(deepest_mm, 0.0), beyond=True)

    def over(cut_mm: float) -> float:
        factor = factor_at(cut_mm)
        return log(MOST if isinf(factor) else max(factor, 1.0 / MOST))

    found = brentq(over, failing, trial, xtol=CLOSE * trial, rtol=CLOSE)
    return Recession(depth_mm=float(f"{found:.6g}"), beyond=False)
