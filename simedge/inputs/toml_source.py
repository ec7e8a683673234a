"""A TOML file as data, and the line on which each of its keys stands.

``tomllib`` parses but says nothing about places, and every message of ours names its
``file:line``. That is why the text is scanned a second time here, for places alone;
what is valid TOML and what the values are stays the business of ``tomllib``.
"""

from __future__ import annotations

import codecs
import re
import stat
import tomllib
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from itertools import islice
from os import PathLike
from pathlib import Path
from typing import Any, Final, NoReturn, TypeAlias

from simedge.errors import BadInput, Problem

#: Keys and list positions (from 0) that lead to a value: ``("bevels", 1, "dps")``.
KeyPath: TypeAlias = tuple[str | int, ...]

#: The longest case of ours has some kilobytes; what is larger is another kind of file.
LARGEST_FILE_BYTES: Final = 1_000_000

#: Parts of a key, and lists in lists. tomllib takes time that grows with the square of
#: the parts of a key, and recurses into lists: a hostile file could hang or break it.
DEEPEST_NESTING: Final = 32

#: Characters of a number. Python converts no integer of more than 4300 digits.
LONGEST_NUMBER: Final = 400


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
    scan = _Scan(text=text, newlines=[match.start() for match in re.finditer("\n", text)])
    try:
        text.encode()  # half a surrogate pair, which no file can hold, fails here
        scan.walk()
        data = tomllib.loads(text)
    except _ExcessError as excess:
        _refuse(f"{shown_name}:{scan.line()}", str(excess))
    except UnicodeEncodeError as error:
        line = text.count("\n", 0, error.start) + 1
        _refuse(f"{shown_name}:{line}", f"holds {text[error.start]!a}, which is no character")
    except tomllib.TOMLDecodeError as error:
        raise BadInput(_syntax_problem(text, shown_name, error, scan.repeats)) from None
    return TomlDocument(path=path, shown_name=shown_name, data=data, lines=scan.lines)


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
            written += ("." if written else "") + (part if plain else f'"{one_line(part)}"')
    return written


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


# Greedy repeats of one-character steps: linear time, and no possessive quantifiers, which
# Python before 3.11.5 gets wrong.
_GAP = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_BLANK = re.compile(r"[ \t]*")
_KEY_PART = re.compile(r'[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'')
_STRING = re.compile(
    r'"""(?:[^"\\]|\\.|"(?!""))*"{3,5}'
    r"|'''(?:[^']|'(?!''))*'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_TOO_DEEP: Final = f"is nested more than {DEEPEST_NESTING} deep, which no input of ours is"
_SCALAR = re.compile(r"[^,\]}#\n]+")


class _NotUnderstoodError(Exception):
    """The scan ends: tomllib will say what is wrong here."""


class _ExcessError(Exception):
    """More than tomllib can safely be given."""


@dataclass(slots=True)
class _Scan:
    """One walk through TOML text that notes the line of every key, table and list entry."""

    text: str
    newlines: list[int]
    at: int = 0
    lines: dict[KeyPath, int] = field(default_factory=dict)
    repeats: list[tuple[str, int, int]] = field(default_factory=list)
    _given: dict[KeyPath, int] = field(default_factory=dict)
    _entries: dict[KeyPath, int] = field(default_factory=dict)

    def walk(self) -> None:
        table: KeyPath = ()
        try:
            while self._skip(_GAP) < len(self.text):
                line = self.line()
                if self._take("[["):
                    *outer, last = self._key()
                    self._expect("]]")
                    table = self._entry((*self._below((), outer, line), last), line)
                elif self._take("["):
                    table = self._below((), self._key(), line)
                    self._expect("]")
                    self.lines[table] = line  # not that of an earlier [table.below]
                    self._note_given(table, line, f"[{dotted(table)}]")
                else:
                    self._pair(table, 0)
        except _NotUnderstoodError:
            return

    def line(self) -> int:
        return bisect_left(self.newlines, self.at) + 1

    def _entry(self, path: KeyPath, line: int) -> KeyPath:
        if path not in self._entries:
            self._note_given(path, line, f"[[{dotted(path)}]]")
        index = self._entries.get(path, 0)
        self._entries[path] = index + 1
        self.lines.setdefault(path, line)
        self.lines[(*path, index)] = line
        return (*path, index)

    def _below(self, table: KeyPath, key: list[str], line: int) -> KeyPath:
        path = table
        for part in key:
            path = (*path, part)
            self.lines.setdefault(path, line)
            if path in self._entries:  # a header below [[list]] means its latest entry
                path = (*path, self._entries[path] - 1)
        return path

    def _note_given(self, path: KeyPath, line: int, shown: str) -> None:
        if path in self._given:
            self.repeats.append((shown, self._given[path], line))
        self._given.setdefault(path, line)

    def _pair(self, table: KeyPath, depth: int) -> None:
        line = self.line()
        path = self._below(table, self._key(), line)
        self._note_given(path, line, dotted(path))
        self._expect("=")
        self._skip(_BLANK)
        self._value(path, depth)

    def _value(self, path: KeyPath, depth: int) -> None:
        if depth > DEEPEST_NESTING:
            raise _ExcessError(_TOO_DEEP)
        if self._take("["):
            index = 0
            while self._skip(_GAP) < len(self.text) and not self._take("]"):
                self.lines[(*path, index)] = self.line()
                self._value((*path, index), depth + 1)
                self._skip(_GAP)
                self._take(",")
                index += 1
        elif self._take("{"):
            while self._skip(_GAP) < len(self.text) and not self._take("}"):
                self._pair(path, depth + 1)
                self._skip(_GAP)
                self._take(",")
        elif self.text.startswith(('"', "'"), self.at):
            self._past(_STRING)
        elif len(self._past(_SCALAR).strip()) > LONGEST_NUMBER:
            raise _ExcessError("a value without quotes is too long to be a number")

    def _key(self) -> list[str]:
        parts: list[str] = []
        while not parts or self._take("."):
            self._skip(_BLANK)
            raw = self._past(_KEY_PART)
            try:  # escapes in quoted keys are undone by the one who knows how
                parts += tomllib.loads(f"k = {raw}").values() if raw[0] in "\"'" else [raw]
            except ValueError:
                raise _NotUnderstoodError from None
            if len(parts) > DEEPEST_NESTING:
                raise _ExcessError(_TOO_DEEP)
            self._skip(_BLANK)
        return parts

    def _skip(self, pattern: re.Pattern[str]) -> int:
        match = pattern.match(self.text, self.at)
        self.at = match.end() if match else self.at
        return self.at

    def _past(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if not match:
            raise _NotUnderstoodError
        self.at = match.end()
        return match.group()

    def _take(self, mark: str) -> bool:
        taken = self.text.startswith(mark, self.at)
        self.at += len(mark) * taken
        return taken

    def _expect(self, mark: str) -> None:
        if not self._take(mark):
            raise _NotUnderstoodError
