"""Lists of numbers and margins on the command line."""

from __future__ import annotations

from math import isfinite

import click

from simedge.errors import BadInput, Problem


def numbers_option(
    _context: click.Context, option: click.Parameter, text: str | None
) -> tuple[float, ...] | None:
    """Read numbers with commas between them."""
    if text is None:
        return None
    name = f"--{(option.name or '').replace('_', '-')}"
    try:
        found = tuple(float(part) for part in text.split(","))
    except ValueError as error:
        message = f'{name} is "{text[:60]}", but must be numbers with commas between them'
        raise BadInput(Problem("", message)) from error
    if not all(isfinite(number) for number in found):
        raise BadInput(Problem("", f"{name} holds what is no finite number: {text[:60]}"))
    return found


def check_margin(margin: float) -> None:
    """Refuse a margin that asks for nothing, or for more than anybody could mean."""
    if not 0.01 <= margin <= 100.0:
        raise BadInput(
            Problem("", f"--margin is {margin:g}, but must lie in [0.01, 100]; 1 is this work")
        )
