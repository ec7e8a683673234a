"""Paths of keys through a document: what stands at one, and how a message names it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final, TypeAlias

from simedge.inputs.shown_values import one_line

#: Keys and list positions (from 0) that lead to a value: ``("bevels", 1, "dps")``.
KeyPath: TypeAlias = tuple[str | int, ...]

#: What `value_at` gives where nothing stands; no value of a document is this object.
ABSENT: Final = object()


def value_at(data: Any, path: KeyPath) -> Any:
    """Follow a path through tables and lists.

    Parameters
    ----------
    data : mapping, list, tuple or plain value
        What the path starts from.
    path : KeyPath
        The keys and positions to follow; none leads to `data` itself.

    Returns
    -------
    object
        What stands there, or ``ABSENT``.

    Examples
    --------
    >>> value_at({"bevels": [{"dps": 15}]}, ("bevels", 0, "dps"))
    15
    >>> value_at({"bevels": []}, ("bevels", 0)) is ABSENT
    True
    """
    for part in path:
        if not holds(data, part):
            return ABSENT
        data = data[part]
    return data


def holds(data: Any, part: str | int) -> bool:
    """Say whether a table has this key, or a list this position.

    Examples
    --------
    >>> holds({"dps": 15}, "dps"), holds([15], 1), holds("dps", 0)
    (True, False, False)
    """
    if isinstance(data, Mapping):
        return part in data
    return isinstance(data, list | tuple) and isinstance(part, int) and 0 <= part < len(data)


def dotted(key_path: KeyPath) -> str:
    """Write a key path as people read it.

    Examples
    --------
    >>> dotted(("bevels", 1, "dps"))
    'bevels[1].dps'
    """
    written = ""
    for part in key_path:
        if isinstance(part, int):
            written += f"[{part}]"
        else:
            plain = re.fullmatch(r"[A-Za-z0-9_-]+", part)
            written += ("." if written else "") + (
                one_line(part) if plain else f'"{one_line(part)}"'
            )
    return written


def heading(path: KeyPath) -> str:
    """Write the TOML heading of the table, or of the list entry, that a path leads to.

    Parameters
    ----------
    path : KeyPath
        At least one part.

    Returns
    -------
    str
        The heading with its brackets.

    Examples
    --------
    >>> heading(("grind",)), heading(("bevels", 1))
    ('[grind]', '[[bevels]]')
    """
    name = dotted(tuple(part for part in path if isinstance(part, str)))
    return f"[[{name}]]" if isinstance(path[-1], int) else f"[{name}]"
