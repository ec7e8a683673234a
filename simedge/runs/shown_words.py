"""Lengths, load factors and places as a person would say them."""

from __future__ import annotations

#: A load factor beyond it says "never" well enough.
LARGEST_FACTOR = 1000.0


def shown_length(length_mm: float) -> str:
    """Write a length as a person would say it: micrometres below a tenth of a millimetre.

    >>> shown_length(0.0622), shown_length(0.454)
    ('62 µm', '0.45 mm')
    """
    if length_mm < 0.0995:
        return f"{1000.0 * length_mm:.2g} µm"
    return f"{length_mm:.0f} mm" if length_mm >= 99.5 else f"{length_mm:.2g} mm"


def shown_factor(factor: float) -> str:
    """Write a load factor with two figures, and none beyond a thousand.

    >>> shown_factor(0.4321), shown_factor(1.04), shown_factor(12.4), shown_factor(123.4)
    ('0.43', '1.0', '12', '120')
    >>> shown_factor(5321.0)
    'more than 1000'
    """
    if factor > LARGEST_FACTOR:
        return "more than 1000"
    if factor >= 99.5:
        return f"{10 * round(factor / 10):d}"
    if factor >= 9.95:
        return f"{factor:.0f}"
    return f"{factor:.1f}" if factor >= 0.995 else f"{factor:.2g}"


def shown_side(x_mm: float, y_mm: float, *, even: bool) -> str:
    """Say where across the thickness a place lies.

    >>> shown_side(1.0, 0.1, even=False), shown_side(1.0, 0.1, even=True)
    ('on the left', 'on both sides')
    """
    if abs(y_mm) <= 1e-3 * x_mm:
        return "in the middle"
    if even:
        return "on both sides"
    return "on the left" if y_mm > 0 else "on the right"
