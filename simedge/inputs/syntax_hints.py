"""What a line that is not TOML most likely means, and what to write instead."""

from __future__ import annotations

import re
from typing import Final

#: First match counts: a pattern in the line, and what to do.
_HINTS: Final = (
    (r"(^|[=\[,])\s*[“”„«»‘’‚]|[“”«»‘’]\s*(#.*)?$", 'write straight quotes: "'),
    (r"=\s*[\u2010-\u2015\u2212]", "write a plain minus sign: -"),
    (r"^[^\"']*[\u00a0\u2000-\u200b\u202f\u3000\ufeff]", "write plain spaces"),
    (r"\r", "save it with ordinary line ends"),
    (r"\x1a$", "delete the last character, which ends files on old systems"),
    (r"^\s*(//|/\*|;|--|<!--|%)|=[^\"'#]*\s(//|/\*|;|--)", "a comment begins with #"),
    (r"^\s*[\w.\- ]+\s*(==|:=)", "write a single ="),
    (r"=\s*[-+]?\d+,\d", "a decimal number is written with a point"),
    (r"=\s*[-+]?\.\d", "write the 0 before the point"),
    (r"=\s*[-+]?\d+\.\s*(#.*)?$", "write a digit after the point"),
    (r"=\s*[-+]?0\d", "a number has no leading zeros"),
    (r"=\s*[-+]?\d+(\.\d+)?( \d|'\d)", "write a number without spaces or marks in it"),
    (r"=\s*([-+]?[\d.]+\s*/\s*\d|[½¼¾⅓⅔⅛])", "write a fraction as a decimal number"),
    (r"=\s*[-+]?(?![0-9])\d", "write the digits 0 to 9"),
    (r"=\s*([~<>≈≤≥±]|[\d.]+\s*(±|\+/?-|\.\.|[-\u2010-\u2015…]\s*\d))", "write one number"),
    (
        r"=\s*[-+]?[\d.]+\s*[^\W\d_%°\"'µ]?[^\s\d,.\]#-][^=]*$",
        "write the number alone, without unit",
    ),
    (r"=\s*(?i:true|false)\b", "write true or false in small letters"),
    (r"=\s*(?i:null|none|nil|n/a|undefined)\b", "leave the key out where there is no value"),
    (r"=\s*\".*\\", "write paths with / or in single quotes"),
    (r"=\s*\"[^\"]*$|=\s*'[^']*$", "close the quotes on the same line"),
    (r"=\s*(#.*)?$", "a value is missing after the ="),
    (r"=\s*[^\W\d_]", 'text stands in quotes: "'),
    (r"^\s*[{}]|\{\s*$", "TOML has no braces around keys: begin a table with [its name]"),
    (r"^\s*\[\[?[^\]]*\]?\s*(#.*)?$", "close the brackets: [a table], [[an entry of a list]]"),
    (r"^\s*[\w.-]+\s*:", "write = instead of the colon"),
    (r"^\s*[\w-]+\s*$", "write key = value"),
    (r"^\s*[\w-]+\s+[-+\d\"']", "write key = value"),
    (r"^\s*(?=[^=\"']*[^\x00-\x7f])[\w\- ]+=", "write the keys as the examples have them"),
    (r"^\s*\w+(\s+\w+)+\s*=", "a key has no spaces: write _ between its words"),
    (r"^\s*<|^[^=\"]*,|^\s*(import|from|def|class)\b", "is it the file that was meant?"),
)

#: Longer lines are judged by their beginning alone.
LONGEST_ROW: Final = 2000


def syntax_hint(row: str, reason: str) -> str:
    """Say what to do about a line that is not TOML; empty where nobody can tell.

    Parameters
    ----------
    row : str
        The line.
    reason : str
        What the parser says of it: where something was not closed, the line that it
        stopped at tells nothing.

    Examples
    --------
    >>> syntax_hint("radius_um = 0,15", "Expected newline")
    'a decimal number is written with a point'
    >>> syntax_hint("b = 0,15", "Unclosed array")
    ''
    """
    if reason.startswith("Un") and "string" not in reason:
        return ""
    return next((hint for pattern, hint in _HINTS if re.search(pattern, row[:LONGEST_ROW])), "")
