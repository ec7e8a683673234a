"""The line on which each key of a TOML text stands.

``tomllib`` parses but says nothing about places, and every message of ours names its
``file:line``. That is why the text is scanned a second time here, for places alone;
what is valid TOML and what the values are stays the business of ``tomllib``.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left
from dataclasses import dataclass, field
from typing import Final, NamedTuple

from simedge.inputs.key_paths import KeyPath, dotted

#: Parts of a key, and lists in lists. tomllib takes time that grows with the square of
#: the parts of a key, and recurses into lists: a hostile file could hang or break it.
DEEPEST_NESTING: Final = 32

#: Characters of a number. Python converts no integer of more than 4300 digits.
LONGEST_NUMBER: Final = 400

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


class ExcessError(Exception):
    """More than tomllib can safely be given."""


class Repeat(NamedTuple):
    """A key or table that is given a second time.

    Attributes
    ----------
    first, shown : str
        How each of the two is written, brackets of tables included.
    first_line, line : int
        Where they stand.
    """

    first: str
    first_line: int
    shown: str
    line: int

    def told(self) -> str:
        """Say what is wrong, and what to do.

        Examples
        --------
        >>> Repeat("[loads]", 2, "[[loads]]", 5).told()
        '[[loads]] is given here, but [loads] in line 2; write both as [[loads]]'
        """
        shown, first = sorted((self.shown, self.first), key=lambda heading: heading.count("["))
        if self.first == self.shown:
            return f"{self.shown} is given twice, first in line {self.first_line}; keep one of them"
        here = f"{self.shown} is given here, but {self.first} in line {self.first_line}; "
        return here + (f"write both as {first}" if f"[{shown}]" == first else "keep one of them")


@dataclass(slots=True)
class LineScan:
    r"""One walk through TOML text that notes the line of every key, table and list entry.

    Attributes
    ----------
    text : str
        The document, its line ends all ``\n``; valid TOML or not.
    at : int
        How far the walk has come, characters.
    lines : dict of KeyPath to int
        Line, counted from 1, of every key, table and list entry passed so far.
    repeats : list of Repeat
        Each key or table given a second time.

    Examples
    --------
    >>> scan = LineScan(text="[apex]\nradius_um = 1.5")
    >>> scan.walk()
    >>> scan.lines
    {('apex',): 1, ('apex', 'radius_um'): 2}
    """

    text: str
    at: int = field(default=0, init=False)
    lines: dict[KeyPath, int] = field(default_factory=dict, init=False)
    repeats: list[Repeat] = field(default_factory=list, init=False)
    _newlines: list[int] = field(init=False)
    _given: dict[KeyPath, tuple[str, int]] = field(default_factory=dict, init=False)
    _entries: dict[KeyPath, int] = field(default_factory=dict, init=False)

    def __post_init__(self) -> None:
        self._newlines = [match.start() for match in re.finditer("\n", self.text)]

    def walk(self) -> None:
        """Walk to the end of the text, or to what is no TOML: that ``tomllib`` refuses.

        Raises
        ------
        ExcessError
            The text goes beyond ``DEEPEST_NESTING`` or ``LONGEST_NUMBER``; `line` then
            says where.
        """
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
                    if isinstance(table[-1], int):  # a list, and no table that could be begun
                        self._note_given(table[:-1], line, f"[{dotted(table[:-1])}]")
                        continue
                    self.lines[table] = line  # not that of an earlier [table.below]
                    self._note_given(table, line, f"[{dotted(table)}]")
                else:
                    self._pair(table, 0)
        except _NotUnderstoodError:
            return

    def line(self) -> int:
        """Give the line, counted from 1, that the walk has come to."""
        return bisect_left(self._newlines, self.at) + 1

    def _entry(self, path: KeyPath, line: int) -> KeyPath:
        if path not in self._entries:
            if path in self.lines:  # a table already, by a heading or a key below it
                self._given.setdefault(path, (f"[{dotted(path)}]", self.lines[path]))
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
            self.repeats.append(Repeat(*self._given[path], shown, line))
        self._given.setdefault(path, (shown, line))

    def _pair(self, table: KeyPath, depth: int) -> None:
        line = self.line()
        path = self._below(table, self._key(), line)
        self._note_given(path, line, dotted(path))
        self._expect("=")
        self._skip(_BLANK)
        self._value(path, depth)

    def _value(self, path: KeyPath, depth: int) -> None:
        if depth > DEEPEST_NESTING:
            raise ExcessError(_TOO_DEEP)
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
            raise ExcessError("a value without quotes is too long to be a number")

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
                raise ExcessError(_TOO_DEEP)
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
