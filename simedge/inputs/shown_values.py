"""Values and any other text as messages show them: printable, on one line, not too long."""

from __future__ import annotations

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
