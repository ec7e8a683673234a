"""Traced profiles from files: an outline alone, or a TOML table that names one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from pydantic.dataclasses import dataclass

from simedge.errors import BadInput, Problem
from simedge.inputs.door import validated
from simedge.inputs.grinds import Apex
from simedge.inputs.key_paths import KeyPath, dotted
from simedge.inputs.outline_csv import TracedPoints, read_points
from simedge.inputs.polygon_checks import in_lines, shown_place
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import RECORD, SCHEMA, SchemaVersion
from simedge.inputs.shown_values import one_line, shown_value
from simedge.inputs.toml_source import TomlDocument
from simedge.inputs.traced import TracedProfile
from simedge.inputs.traced_faces import traced_section

#: How a file of points ends.
OUTLINE_ENDING = ".csv"
#: The key by which a table says that its profile is traced.
OUTLINE_KEY = "outline"


@dataclass(frozen=True, kw_only=True, config=RECORD)
class TraceTable:
    """What a person writes of a traced profile beside its points.

    Attributes
    ----------
    schema : int
        Version of the file's contract.
    outline : str
        The file of points, a path from the TOML file's folder.
    name, source : str or None
        What it is and where the points come from; by default what the file itself says.
    apex : Apex or None
        Put on the trace in place of its own tip.
    """

    schema: SchemaVersion = SCHEMA
    outline: str
    name: str | None = None
    source: str | None = None
    apex: Apex | None = None


def read_outline(path: Path) -> TracedProfile:
    """Read a traced profile from a file of points alone.

    Raises
    ------
    BadInput
        All that is wrong with it, with file and line.
    """
    return _traced(read_points(path), path, None, None)


def read_trace_table(
    document: TomlDocument, table: KeyPath, find: Callable[[str], Path]
) -> TracedProfile:
    """Read a traced profile from a TOML table with ``outline``.

    Parameters
    ----------
    document : TomlDocument
    table : KeyPath
        Of the table; empty for the whole document.
    find : callable
        Finds the file of points.

    Raises
    ------
    BadInput
        All that is wrong with the table, or with the points.
    """
    trace = validated(TraceTable, document, table=table)
    key = (*table, OUTLINE_KEY)
    place = document.place_of(key)
    if Path(trace.outline).suffix.lower() != OUTLINE_ENDING:
        raise BadInput(
            Problem(
                place,
                f"{dotted(key)} is {shown_value(trace.outline)}, but must name a file of points "
                f"that ends in {OUTLINE_ENDING}",
            )
        )
    path = find(trace.outline)
    if not path.exists():
        raise BadInput(
            Problem(
                place,
                f"{dotted(key)} is {shown_value(trace.outline)}, but there is no file "
                f"{one_line(str(path))}; paths count from the folder of this file",
            )
        )

    def at_key(path: KeyPath, message: str) -> Problem:
        key = (*table, *path)
        return Problem(document.place_of(key), f"{dotted(key)} {message}")

    return _traced(read_points(path), path, trace, at_key)


def _traced(
    points: TracedPoints,
    path: Path,
    table: TraceTable | None,
    at_key: Callable[[KeyPath, str], Problem] | None,
) -> TracedProfile:
    apex = table.apex if table else None
    rounding = min(points.rounding_mm, 1.0)
    try:
        traced_section(points.points_mm, rounding, apex)
    except FieldProblems as failure:
        raise BadInput(*(_told(item, points, at_key) for item in failure.items)) from None
    name = (table.name if table else None) or points.name or one_line(path.stem)
    source = (table.source if table else None) or points.source
    return TracedProfile(
        points_mm=points.points_mm,
        rounding_mm=rounding,
        given_apex=apex,
        name=name,
        source=source or f"traced: {one_line(path.name)}",
        reading=points.remarks,
    )


def _told(
    item: FieldProblem,
    points: TracedPoints,
    at_key: Callable[[KeyPath, str], Problem] | None,
) -> Problem:
    """Say what is wrong at the line of the point, or at the key of the apex."""
    if item.path[0] == "apex" and at_key is not None:
        return at_key(item.path, item.message)
    message = in_lines(item.message, points.lines)
    if len(item.path) == 1:
        return Problem(points.shown_name, f"the points {message}")
    number = item.path[1]
    assert isinstance(number, int)
    place = f"{points.shown_name}:{points.lines[number]}"
    return Problem(place, f"the point {shown_place(*points.points_mm[number])} {message}")
