"""A TOML file as data, and the line on which each of its keys stands.

``tomllib`` says what is valid TOML and what the values are; `simedge.inputs.toml_lines`
says where they stand, which ``tomllib`` does not.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import Any

from simedge.errors import BadInput, Problem
from simedge.inputs.key_paths import KeyPath
from simedge.inputs.shown_values import one_line
from simedge.inputs.syntax_hints import syntax_hint
from simedge.inputs.text_file import read_text_file, refuse_file
from simedge.inputs.toml_lines import ExcessError, LineScan, Repeat


@dataclass(frozen=True, slots=True, kw_only=True)
class TomlDocument:
    """What a TOML file says, and where it says it.

    Attributes
    ----------
    path : Path or None
        The file; None for text that came another way. Paths inside it are relative
        to its folder.
    shown_name : str
        How messages name the file: as the person gave it.
    data : dict
        Tables as dict, lists as list, as ``tomllib`` gives them; not to be changed.
    lines : mapping of KeyPath to int
        Line, counted from 1, of every key, table and list entry.
    """

    path: Path | None
    shown_name: str
    data: dict[str, Any]
    lines: Mapping[KeyPath, int]

    def line_of(self, key_path: KeyPath) -> int:
        r"""Give the line of a key; for an absent one that of the nearest table around it.

        Examples
        --------
        >>> document = parse_toml("[apex]\nradius_um = 1.5", "knife.toml")
        >>> document.line_of(("apex", "radius_um")), document.line_of(("apex", "land_um"))
        (2, 1)
        """
        around = (key_path[:length] for length in range(len(key_path), 0, -1))
        return next((self.lines[path] for path in around if path in self.lines), 1)

    def place_of(self, key_path: KeyPath) -> str:
        """Give the ``file:line`` of a key, as :meth:`line_of` finds it."""
        return f"{self.shown_name}:{self.line_of(key_path)}"


def read_toml(path: str | PathLike[str]) -> TomlDocument:
    """Read a TOML file.

    Parameters
    ----------
    path : str or path
        The file, of at most 1 MB; UTF-8, with or without a byte
        order mark.

    Returns
    -------
    TomlDocument
        Its data and the lines of its keys.

    Raises
    ------
    BadInput
        One line, whatever is wrong: the file is missing (its nearest neighbours are
        named), is a folder, cannot be read, is too large, is no UTF-8 text or no TOML.
    """
    file = Path(path)
    shown_name = one_line(str(file), longest=400)
    text = read_text_file(
        file, shown_name, ending=".toml", kind="TOML text", question="is it a case?"
    )
    return parse_toml(text, shown_name, path=file)


def parse_toml(text: str, shown_name: str, *, path: Path | None = None) -> TomlDocument:
    r"""Parse TOML text.

    Parameters
    ----------
    text : str
        The whole document.
    shown_name : str
        How messages name it.
    path : Path or None
        The file that it came from, if any.

    Returns
    -------
    TomlDocument
        Its data and the lines of its keys.

    Raises
    ------
    BadInput
        The text is empty, is not TOML or gives a key twice; the place is in the message.

    Examples
    --------
    >>> parse_toml("[[bevels]]\ndps = 15", "knife.toml").place_of(("bevels", 0, "dps"))
    'knife.toml:2'
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    if not text.strip():
        refuse_file(shown_name, "is empty; 'simedge new' writes a first case to start from")
    scan = LineScan(text=text)
    try:
        text.encode()  # half a surrogate pair, which no file can hold, fails here
        scan.walk()
        data = tomllib.loads(text)
    except ExcessError as excess:
        refuse_file(f"{shown_name}:{scan.line()}", str(excess))
    except UnicodeEncodeError as error:
        line = text.count("\n", 0, error.start) + 1
        said = f"holds {text[error.start]!a}, which is no character"
        refuse_file(f"{shown_name}:{line}", said)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(_syntax_problem(text, shown_name, error, scan.repeats)) from None
    return TomlDocument(path=path, shown_name=shown_name, data=data, lines=scan.lines)


def _syntax_problem(
    text: str, shown_name: str, error: tomllib.TOMLDecodeError, repeats: list[Repeat]
) -> Problem:
    # Before Python 3.14 the place stands in the message alone.
    place = re.search(r"\(at line (\d+), column (\d+)\)$", str(error))
    reason = re.sub(r" \(at [^()]*\)$", "", str(error))
    rows = text.split("\n")
    if place:
        line, column = int(place[1]), int(place[2])
    else:  # the end of the document: its last line that says something
        line = max(number for number, row in enumerate(rows, 1) if row.strip())
        column = len(rows[line - 1]) + 1
    if repeats and reason.startswith(("Cannot", "Duplicate")):
        return Problem(f"{shown_name}:{repeats[-1].line}", repeats[-1].told())
    row = rows[line - 1]
    # Of a row that is too long to show, the stretch about the place.
    shown_row = one_line(row[max(0, column - 60) :].replace("\t", " ").strip())
    said = f"this is no TOML ({one_line(reason[:1].lower() + reason[1:])}): {shown_row}"
    hint = syntax_hint(row, reason)
    return Problem(f"{shown_name}:{line}:{column}", f"{said}; {hint}" if hint else said)
