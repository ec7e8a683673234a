"""Differences and tolerances of checks in words, alike in terminal and report."""

from __future__ import annotations

from math import isfinite

from simedge.studies.verify.check import Comparison

#: Thin space between a number and its unit.
THIN = "\u2009"


def shown_number(value: float, digits: int = 8) -> str:
    """Write a number with its significant digits, powers of ten only where they help.

    >>> shown_number(0.097481074), shown_number(2266.1946), shown_number(1.3e-14, 2)
    ('0.097481074', '2266.1946', '1.3e-14')
    """
    return f"{value:.{digits}g}"


def with_unit(number: str, unit: str) -> str:
    """Put the unit behind a number; a ratio has none."""
    return f"{number}{THIN}{unit}" if unit else number


def shown_difference(comparison: Comparison) -> str:
    """Write by how much computed and reference differ: in percent, or in the quantity's unit."""
    return _as_stated(comparison, comparison.difference, sign="+")


def shown_tolerance(comparison: Comparison) -> str:
    """Write how much is allowed, in the same way."""
    return _as_stated(comparison, comparison.tolerance, sign="")


def _as_stated(comparison: Comparison, value: float, sign: str) -> str:
    size = value if comparison.absolute else 100.0 * value
    unit = comparison.unit if comparison.absolute else "%"
    if not isfinite(size):
        return "no number"
    return with_unit(f"{size:{sign}.2g}" if size else "0", unit)


def shown_seconds(seconds: float) -> str:
    """Write how long something took.

    >>> shown_seconds(0.004), shown_seconds(12.345)
    ('< 0.1 s', '12.3 s')
    """
    return "< 0.1 s" if seconds < 0.1 else f"{seconds:.1f} s"
