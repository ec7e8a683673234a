"""The points of a traced outline, read from a CSV file with a line of column names."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import isfinite
from pathlib import Path
from typing import Final

from simedge.errors import BadInput, Problem
from simedge.inputs.shown_values import one_line, shown_value
from simedge.inputs.text_file import read_text_file, refuse_file
from simedge.units import mm_from_inch, mm_from_um

#: More points than a section has features; checking them all would take seconds.
MOST_POINTS = 5000
#: Of a file that is wrong throughout, so many lines are told.
MOST_TOLD = 8

#: Millimetres per unit, by the end of a column's name.
_UNITS: Final = {"mm": 1.0, "in": mm_from_inch(1.0), "um": mm_from_um(1.0)}
_UNIT_WORDS: Final = {"in": "inches", "um": "micrometres"}
_NUMBER: Final = re.compile(r"[-+]?(?:\d+\.?(\d*)|\.(\d+))(?:[eE]([-+]?\d+))?", re.ASCII)
_ABOUT: Final = re.compile(r"#\s*(name|source)\s*[:=]\s*(.*\S)", re.IGNORECASE)
_COLUMNS: Final = "x_mm,y_mm (or x_um,y_um, or x_in,y_in)"


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedPoints:
    """What a file of points says.

    Attributes
    ----------
    shown_name : str
        How messages name the file.
    points_mm : tuple of (float, float)
        x and y in the order of the file.
    lines : tuple of int
        Line of each point, counted from 1.
    rounding_mm : float
        Half of the last digit that any point was written with.
    name, source : str or None
        From comment lines such as ``# name: worn knife``.
    remarks : tuple of str
        How lengths in another unit were read.
    """

    shown_name: str
    points_mm: tuple[tuple[float, float], ...]
    lines: tuple[int, ...]
    rounding_mm: float
    name: str | None
    source: str | None
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Header:
    """Where the columns stand, and what parts them."""

    line: int
    separator: str
    names: tuple[str, str]
    unit: str

    @property
    def x_first(self) -> bool:
        return self.names[0].startswith("x")


def read_points(path: Path) -> TracedPoints:
    """Read the points of an outline.

    Parameters
    ----------
    path : Path
        A CSV file: a line ``x_mm,y_mm``, then a point a line. Semicolons or tabs may
        stand for the commas; ``#`` begins a comment.

    Returns
    -------
    TracedPoints

    Raises
    ------
    BadInput
        Each line that cannot be read, with its number, `MOST_TOLD` at most; or one line
        where the file is none.
    """
    shown_name = one_line(str(path), longest=400)
    text = read_text_file(
        path, shown_name, ending=".csv", kind="CSV text", question="is it an outline?"
    )
    return parse_points(text, shown_name)


def parse_points(text: str, shown_name: str) -> TracedPoints:
    r"""Parse the text of a file of points; see `read_points`.

    >>> read = parse_points("x_mm;y_mm\n0;0\n28;1.6\n28;-1.6\n", "knife.csv")
    >>> read.points_mm[1], read.lines[1], read.rounding_mm
    ((28.0, 1.6), 3, 0.05)
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    header: _Header | None = None
    about: dict[str, str] = {}
    points: list[tuple[float, float]] = []
    lines: list[int] = []
    decimals, wrong = 0, list[Problem]()
    for number, row in enumerate(text.split("\n"), 1):
        told = _ABOUT.match(row.strip())
        if told:
            about.setdefault(told[1].lower(), one_line(told[2], longest=200))
        row = row.partition("#")[0]
        if not row.strip():
            continue
        if header is None:
            header = _header(row, number, f"{shown_name}:{number}")
            continue
        cells, problem = _cells(row, header)
        if problem:
            wrong.append(Problem(f"{shown_name}:{number}", problem))
            continue
        first, second = (float(cell) * _UNITS[header.unit] for cell in cells)
        points.append((first, second) if header.x_first else (second, first))
        lines.append(number)
        decimals = max(decimals, *map(_decimals, cells))
    if header is None:
        refuse_file(shown_name, f"is empty, but must begin with a line {_COLUMNS}")
    if wrong:
        if len(wrong) > MOST_TOLD:
            more = f"and {len(wrong) - MOST_TOLD} more lines cannot be read"
            wrong[MOST_TOLD:] = [Problem(shown_name, more)]
        raise BadInput(*wrong)
    if len(points) > MOST_POINTS:
        keep = -(-len(points) // MOST_POINTS)
        refuse_file(
            shown_name,
            f"holds {len(points)} points, but at most {MOST_POINTS} are read; keep one in {keep} "
            "along the faces, and all about the edge",
        )
    unit = _UNITS[header.unit]
    return TracedPoints(
        shown_name=shown_name,
        points_mm=tuple(points),
        lines=tuple(lines),
        rounding_mm=0.5 * 10.0**-decimals * unit,
        name=about.get("name"),
        source=about.get("source"),
        remarks=_echo(header, points),
    )


def _echo(header: _Header, points: list[tuple[float, float]]) -> tuple[str, ...]:
    """Tell how lengths in another unit were read, by the largest of them."""
    if header.unit == "mm" or not points:
        return ()
    largest = max(range(2), key=lambda axis: max(abs(point[axis]) for point in points))
    length_mm = max((point[largest] for point in points), key=abs)
    written = shown_value(length_mm / _UNITS[header.unit])
    return (
        f"the outline's lengths are read as {_UNIT_WORDS[header.unit]}: "
        f"{'xy'[largest]}_{header.unit} = {written} read as {shown_value(length_mm)} mm",
    )


def _header(row: str, line: int, where: str) -> _Header:
    separator = next((mark for mark in ";\t," if mark in row), ",")
    cells = [cell.strip().strip("\"'") for cell in row.split(separator)]
    shown = shown_value(row.strip())
    if any(_NUMBER.fullmatch(cell) for cell in cells):
        refuse_file(
            where,
            f"the first line is {shown}, but must name the columns and their unit; write "
            f"{_COLUMNS}",
        )
    named = [re.fullmatch(r"([xy])_([a-zµ]+)", cell.lower()) for cell in cells]
    if len(cells) != 2 or None in named:
        refuse_file(where, f"the columns are {shown}, but must be {_COLUMNS}")
    (first, first_unit), (second, second_unit) = ((n[1], n[2]) for n in named if n)
    if first_unit != second_unit:
        refuse_file(
            where,
            f"the columns are {shown}, in two units; write both in mm: x_mm{separator}y_mm",
        )
    if first == second or first_unit not in _UNITS:
        refuse_file(where, f"the columns are {shown}, but must be {_COLUMNS}")
    return _Header(
        line=line,
        separator=separator,
        names=(cells[0].lower(), cells[1].lower()),
        unit=first_unit,
    )


def _cells(row: str, header: _Header) -> tuple[list[str], str]:
    """Give the two numbers of a line as text, or what is wrong with it."""
    cells = [cell.strip().strip("\"'") for cell in row.split(header.separator)]
    if len(cells) != 2:
        return cells, _wrong_count(row, cells, header)
    for name, cell in zip(header.names, cells, strict=True):
        problem = _wrong_number(cell)
        if problem:
            return cells, f"{name} {problem}"
    return cells, ""


def _wrong_count(row: str, cells: list[str], header: _Header) -> str:
    marks = {",": "a comma", ";": "a semicolon", "\t": "a tab"}
    said = f"the line is {shown_value(row.strip())}, but must hold two numbers"
    if len(cells) == 4 and header.separator == "," and all(c.lstrip("-").isdigit() for c in cells):
        return (
            f"{said}; a decimal number is written with a point: {cells[0]}.{cells[1]},"
            f"{cells[2]}.{cells[3]}"
        )
    other = next((mark for mark in ";\t," if mark != header.separator and mark in row), None)
    if other and (len(cells) == 1 or other != ","):
        return (
            f"{said}; they are parted by {marks[header.separator]} in line {header.line}, "
            f"but by {marks[other]} here" + _point_hint(row)
        )
    return f"{said}, parted by {marks[header.separator]}"


def _point_hint(row: str) -> str:
    return "; and decimals have a point" if re.search(r"\d,\d+;", row) else ""


def _wrong_number(cell: str) -> str:
    if not cell:
        return "is blank, but must be a number; fill it in, or take the line out"
    if not _NUMBER.fullmatch(cell):
        shown = shown_value(cell)
        if re.fullmatch(r"[-+]?\d+,\d+", cell):
            pointed = cell.replace(",", ".")
            return f"is {shown}, but a decimal number is written with a point; write {pointed}"
        if cell.lower().lstrip("+-") in ("nan", "inf", "infinity"):
            return f"is {cell.lower()}, but must be finite; take the line out"
        return f"is {shown}, but must be a plain number, without unit"
    if not isfinite(float(cell)):
        return f"is {shown_value(cell)}, but must be finite; take the line out"
    return ""


def _decimals(cell: str) -> int:
    """Count the decimals that a number is written with.

    >>> _decimals("0.125"), _decimals("1.5e-3"), _decimals("28")
    (3, 4, 0)
    """
    found = _NUMBER.fullmatch(cell)
    if found is None:
        return 0
    exponent = int(found[3] or 0)
    return min(max(len(found[1] or found[2] or "") - exponent, 0), 300)
