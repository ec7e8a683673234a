"""A TOML file as data, and the line on which each of its keys stands.

``tomllib`` says what is valid TOML and what the values are; `simedge.inputs.toml_lines`
says where they stand, which ``tomllib`` does not.
"""

from __future__ import annotations

import codecs
import re
import stat
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import islice
from os import PathLike
from pathlib import Path
from typing import Any, Final, NoReturn

from simedge.errors import BadInput, Problem
from simedge.inputs.key_paths import KeyPath
from simedge.inputs.shown_values import one_line
from simedge.inputs.toml_lines import ExcessError, LineScan

#: The longest case of ours has some kilobytes; what is larger is another kind of file.
LARGEST_FILE_BYTES: Final = 1_000_000


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
        The file, of at most ``LARGEST_FILE_BYTES``; UTF-8, with or without a byte
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
    return parse_toml(_text_of(file, shown_name), shown_name, path=file)


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
        _refuse(shown_name, "is empty; 'simedge new' writes a first case to start from")
    scan = LineScan(text=text)
    try:
        text.encode()  # half a surrogate pair, which no file can hold, fails here
        scan.walk()
        data = tomllib.loads(text)
    except ExcessError as excess:
        _refuse(f"{shown_name}:{scan.line()}", str(excess))
    except UnicodeEncodeError as error:
        line = text.count("\n", 0, error.start) + 1
        _refuse(f"{shown_name}:{line}", f"holds {text[error.start]!a}, which is no character")
    except tomllib.TOMLDecodeError as error:
        raise BadInput(_syntax_problem(text, shown_name, error, scan.repeats)) from None
    return TomlDocument(path=path, shown_name=shown_name, data=data, lines=scan.lines)


def _refuse(where: str, message: str) -> NoReturn:
    raise BadInput(Problem(where, message)) from None


def _text_of(file: Path, shown_name: str) -> str:
    try:
        status = file.stat()
        if stat.S_ISDIR(status.st_mode):
            held = ", ".join(islice(sorted(one_line(p.name) for p in file.glob("*.toml")), 3))
            _refuse(shown_name, f"is a folder, but must be a file; it holds {held or 'no .toml'}")
        if not stat.S_ISREG(status.st_mode):  # a pipe could wait for ever, a device never end
            _refuse(shown_name, "is a pipe or device, but must be an ordinary file")
        if status.st_size > LARGEST_FILE_BYTES:
            size_mb = status.st_size / 1e6
            _refuse(shown_name, f"is {size_mb:.3g} MB, but must be at most 1 MB; is it a case?")
        with file.open("rb") as stream:
            raw = stream.read(LARGEST_FILE_BYTES + 1)  # it may have grown since
    except (FileNotFoundError, NotADirectoryError):
        _refuse(shown_name, f"there is no such file; {_neighbours(file)}")
    except OSError as error:
        _refuse(shown_name, f"cannot be read ({error.strerror}); check the name and its rights")
    except ValueError:  # a name with a NUL, or one that the system cannot encode
        _refuse(shown_name, "is no name that a file can have")
    return _decoded(raw, shown_name)


def _neighbours(file: Path) -> str:
    folder = one_line(str(file.parent), longest=400)
    try:
        # Some thousands are enough to help, and a huge folder must not take seconds.
        names = sorted(entry.name for entry in islice(file.parent.iterdir(), 5000))
    except OSError:
        return f"nor is there a folder {folder}"
    wanted = file.name.lower()
    by_lower = {name.lower(): name for name in names}
    near = [name for lower, name in by_lower.items() if lower.rpartition(".")[0] == wanted]
    near += [by_lower[lower] for lower in get_close_matches(wanted, by_lower, n=3, cutoff=0.7)]
    if near:
        return "did you mean " + " or ".join(one_line(n) for n in dict.fromkeys(near)) + "?"
    return f"nothing in {folder} has a name like it"


def _decoded(raw: bytes, shown_name: str) -> str:
    raw = raw.removeprefix(codecs.BOM_UTF8)
    marked = raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE, codecs.BOM_UTF32_BE))
    zeros = [raw[half::2].count(0) for half in (0, 1)]  # Latin letters: every second byte
    if marked or (len(raw) > 3 and min(zeros) == 0 and max(zeros) > 0.4 * len(raw)):
        _refuse(shown_name, "is UTF-16 or UTF-32 text, but must be UTF-8; save it as UTF-8")
    unprintable = len(raw.translate(None, bytes(range(32, 256)) + b"\t\n\r\f"))
    if 0 in raw or unprintable > 2 + len(raw) // 50:
        _refuse(shown_name, "is a binary file, but must be TOML text")
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        byte = raw[error.start]
        _refuse(f"{shown_name}:{line}", f"byte 0x{byte:02x} is not UTF-8; save the file as UTF-8")


#: What a line that is not TOML most likely means, and what to write; first match counts.
_SYNTAX_HINTS: Final = (
    (r"(^|[=\[,])\s*[“”„«»‘’‚]|[“”«»‘’]\s*(#.*)?$", 'write straight quotes: "'),
    (r"=\s*[\u2212\u2013\u2014]", "write a plain minus sign: -"),
    (r"^[^\"']*[\u00a0\u2000-\u200b\u202f\u3000\ufeff]", "write plain spaces"),
    (r"\r", "save it with ordinary line ends"),
    (r"=\s*[-+]?\d+,\d", "a decimal number is written with a point"),
    (r"=\s*[-+]?\.\d", "write the 0 before the point"),
    (r"=\s*[-+]?\d+\.\s*(#.*)?$", "write a digit after the point"),
    (r"=\s*[-+]?0\d", "a number has no leading zeros"),
    (
        r"=\s*[-+]?[\d.]+\s*[^\W\d_%°\"'µ]?[^\s\d,.\]#-][^=]*$",
        "write the number alone, without unit",
    ),
    (r"=\s*(?i:true|false)\b", "write true or false in small letters"),
    (r"=\s*\".*\\", "write paths with / or in single quotes"),
    (r"=\s*(#.*)?$", "a value is missing after the ="),
    (r"=\s*[^\W\d_]", 'text stands in quotes: "'),
    (r"^\s*[\w-]+\s*:", "write = instead of the colon"),
    (r"^\s*[\w-]+\s*$", "write key = value"),
)


def _syntax_problem(
    text: str, shown_name: str, error: tomllib.TOMLDecodeError, repeats: list[tuple[str, int, int]]
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
        shown, first_line, line = repeats[-1]
        said = f"{shown} is given twice, first in line {first_line}; keep one of the two"
        return Problem(f"{shown_name}:{line}", said)
    row = rows[line - 1]
    # Of a row that is too long to show, the stretch about the place.
    shown_row = one_line(row[max(0, column - 60) :].replace("\t", " ").strip())
    said = f"this is no TOML ({one_line(reason[:1].lower() + reason[1:])}): {shown_row}"
    hints = (hint for pattern, hint in _SYNTAX_HINTS if re.search(pattern, row[:2000]))
    hint = "" if reason.startswith("Un") and "string" not in reason else next(hints, "")
    return Problem(f"{shown_name}:{line}:{column}", f"{said}; {hint}" if hint else said)
