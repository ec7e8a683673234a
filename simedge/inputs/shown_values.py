"""Values and any other text as messages show them: printable, on one line, not too long."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any


def shown_value(value: Any, unit: str = "") -> str:
    """Show a value as people write it: numbers with their unit, lists and tables in brief.

    Examples
    --------
    >>> shown_value(0.5, "mm"), shown_value("left"), shown_value([1, 2])
    ('0.5 mm', '"left"', 'a list of 2')
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{one_line(value, 60)}"'
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, dict):
        return "a table"
    if not isinstance(value, int | float):
        return one_line(str(value))
    try:
        return f"{float(value):.12g} {unit}".strip()
    except OverflowError:
        return "a number beyond 1e308"


def one_line(text: str, longest: int = 80) -> str:
    r"""Make any text printable on one line, with an ellipsis where it is too long.

    Examples
    --------
    >>> one_line("two\nlines", longest=8)
    'two\\n...'
    """
    printable = "".join(
        character if character.isprintable() else character.encode("unicode_escape").decode()
        for character in text[: longest + 1]
    )
    return printable if len(printable) <= longest else printable[: longest - 3] + "..."


def rounded_down(value: float, digits: int = 4) -> str:
    """Show a largest value that fits so that what is shown fits too.

    Examples
    --------
    >>> rounded_down(107.9777), rounded_down(0.5), rounded_down(0.123456, 3)
    ('107.9', '0.5', '0.123')
    """
    return _rounded(value, digits, ROUND_FLOOR)


def rounded_up(value: float, digits: int = 4) -> str:
    """Show a smallest value that fits so that what is shown fits too.

    Examples
    --------
    >>> rounded_up(83.21231), rounded_up(0.5), rounded_up(1234567.0, 3)
    ('83.22', '0.5', '1240000')
    """
    return _rounded(value, digits, ROUND_CEILING)


def _rounded(value: float, digits: int, rounding: str) -> str:
    exact = Decimal(f"{value:.12g}")  # what floats add beyond is no figure of a person's
    if not exact.is_finite() or exact.is_zero():
        return f"{exact:f}"
    place = Decimal(1).scaleb(exact.adjusted() - digits + 1)
    shown = f"{exact.quantize(place, rounding=rounding):f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown
