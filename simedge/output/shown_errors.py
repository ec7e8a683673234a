"""Numbers with their errors, as people read them: no figure beyond what is known."""

from __future__ import annotations

import re
from math import ceil, floor, log10

from simedge.runs.shown_words import LARGEST_FACTOR, shown_factor

#: Thin, and no place for a line break: stands between a number and its unit.
THIN_SPACE = "\u202f"
#: More figures mean nothing beside how well a blade's thickness is known.
MOST_FIGURES = 4
#: Lengths below it, mm, are written in micrometres.
LEAST_IN_MM = 0.0995


def shown_with_error(value: float, error: float) -> str:
    """Write a value above 0 with its error, rounded up to one figure, to four figures at most.

    >>> shown_with_error(1.45364, 0.00021), shown_with_error(1234.5, 16.0)
    ('1.454 ± 0.001', '1230 ± 20')
    >>> shown_with_error(0.3, 0.47)
    '0.3 ± 0.5'
    """
    step = 10.0 ** (floor(log10(value)) - MOST_FIGURES + 1)
    for _ in range(2):  # rounding up may need one more figure
        if error > 0.0:
            step = max(step, 10.0 ** floor(log10(error)))
        error = ceil(error / step - 1e-9) * step if error > 0.0 else step
    decimals = max(0, -floor(log10(step) + 1e-9))
    return f"{round(value / step) * step:.{decimals}f} ± {error:.{decimals}f}"


def stress_with_error(stress_mpa: float, error_mpa: float) -> str:
    """Write a stress of either sign with its error.

    >>> stress_with_error(600.890097, 0.1923), stress_with_error(-12.3456, 0.01)
    ('600.9 ± 0.2 MPa', '-12.35 ± 0.01 MPa')
    """
    if stress_mpa == 0.0:
        return "0 MPa"
    sign = "-" if stress_mpa < 0.0 else ""
    return f"{sign}{shown_with_error(abs(stress_mpa), error_mpa)} MPa"


def length_with_error(length_mm: float, error_mm: float) -> str:
    """Write a length from 0 on with its error: micrometres below a tenth of a millimetre.

    >>> length_with_error(0.00725885, 8.5e-6), length_with_error(0.1417177, 1.7e-5)
    ('7.259 ± 0.009 µm', '0.1417 ± 0.0001 mm')
    """
    if length_mm == 0.0:
        return "0 mm"
    if length_mm < LEAST_IN_MM:
        return f"{shown_with_error(1000.0 * length_mm, 1000.0 * error_mm)} µm"
    return f"{shown_with_error(length_mm, error_mm)} mm"


def factor_with_error(factor: float, error: float) -> str:
    """Write a load factor with its error.

    >>> factor_with_error(3.55487, 0.0011), factor_with_error(5321.0, 2.0)
    ('3.555 ± 0.002', 'more than 1000')
    """
    return shown_factor(factor) if factor > LARGEST_FACTOR else shown_with_error(factor, error)


def with_thin_spaces(text: str) -> str:
    """Put a thin space, which never breaks a line, between each number and its unit."""
    return re.sub(r"(?<=\d) (?=(?:nm|µm|mm|MPa|N/mm|HRC)\b)", THIN_SPACE, text)
