"""The one door through which what a person wrote becomes a validated record.

Records are pydantic dataclasses that refuse unknown keys and coerce nothing; what pydantic
finds wrong leaves as sentences that name file, line, field, value with unit, rule and
remedy, all problems at once (`simedge.inputs.complaints` words them). Lengths given in
inches are converted here and nowhere else: no key of a record may itself end in ``_in``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from simedge.errors import BadInput, Problem
from simedge.inputs.complaints import Complaint, Fault, merged, worded
from simedge.inputs.field_rules import kinds_at, places_of_keys
from simedge.inputs.key_paths import ABSENT, KeyPath, dotted, heading, holds, value_at
from simedge.inputs.shown_values import one_line, shown_value
from simedge.inputs.toml_source import TomlDocument
from simedge.units import in_millimetres

Record = TypeVar("Record")


def validated(cls: type[Record], document: TomlDocument, *, table: KeyPath = ()) -> Record:
    """Make a record of a TOML document, or of one of its tables.

    Parameters
    ----------
    cls : type
        A pydantic dataclass; ``extra="forbid"`` and strict numbers are its own business.
    document : TomlDocument
        The file. A key ``height_in`` stands for ``height_mm`` if `cls`, or a record
        inside it, has that field.
    table : KeyPath
        The table to take; the whole document by default.

    Returns
    -------
    Record
        The validated record, lengths in millimetres.

    Raises
    ------
    BadInput
        One `Problem` for each thing that is wrong, in the order of the file's lines.
    """
    written = value_at(document.data, table)
    if written is ABSENT:
        message = f"{dotted(table)} is missing; begin it with {heading(table)}"
        raise BadInput(Problem(document.place_of(table), message))
    record: Record
    record, faults = _examined(cls, written, table)
    if faults:
        # a file of another schema is not judged by the rules of this one
        numbered = type(value_at(written, ("schema",))) is int
        of_schema = [fault for fault in faults if numbered and fault.path == (*table, "schema")]
        faults = of_schema or sorted(faults, key=lambda fault: document.line_of(fault.path))
        raise _bad_input(
            (document.place_of(fault.path), _named(document.data, fault.path), fault.message)
            for fault in faults
        )
    return record


def validated_arguments(
    cls: type[Record], data: Mapping[str, Any], where: Mapping[KeyPath, str] | None = None
) -> Record:
    """Make a record of arguments, naming options instead of lines where they are wrong.

    Parameters
    ----------
    cls : type
        A pydantic dataclass.
    data : mapping
        What a TOML table of that record would hold, inches included.
    where : mapping of KeyPath to str, optional
        The option that gave the value, or the table, at a key path; without it
        ``height_mm`` came from ``--height-mm``.

    Returns
    -------
    Record
        The validated record.

    Raises
    ------
    BadInput
        One `Problem` for each thing that is wrong.
    """
    record: Record
    record, faults = _examined(cls, dict(data), ())
    if faults:
        places = ((*_option(fault.path, where), fault) for fault in faults)
        raise _bad_input(
            # an option is the subject of its own sentence, and the place of what lies below it
            (option, dotted(below), fault.message)
            if option and below
            else ("", option or _named(data, fault.path), fault.message)
            for option, below, fault in places
        )
    return record


def inch_echoes(document: TomlDocument, cls: type | None = None) -> tuple[str, ...]:
    """Tell how the lengths in inches of a valid document were read.

    Parameters
    ----------
    document : TomlDocument
        A document that `validated` took.
    cls : type, optional
        The record that it was taken as; without it every number whose key ends in
        ``_in`` counts.

    Returns
    -------
    tuple of str
        A line for each, such as ``height_in = 1.1 read as 27.94 mm``.
    """
    metric = in_millimetres(document.data, None if cls is None else places_of_keys(cls))
    return tuple(
        f"{dotted(metric.as_written(path))} = {shown_value(written)} "
        f"read as {shown_value(length_mm)} mm"
        for path in metric.written_keys
        for written in (value_at(document.data, metric.as_written(path)),)
        for length_mm in (value_at(metric.data, path),)
        if isinstance(length_mm, float)
    )


def _bad_input(parts: Iterable[tuple[str, str, str]]) -> BadInput:
    problems = []
    for place, subject, message in parts:
        joint = "" if not subject or message.startswith(":") else " "
        problems.append(Problem(place, f"{subject}{joint}{message}".removeprefix(": ")))
    return BadInput(*dict.fromkeys(problems))


def _option(path: KeyPath, where: Mapping[KeyPath, str] | None) -> tuple[str, KeyPath]:
    """Find the option behind a path, and what of the path lies below it."""
    if where is None:
        key = next((part for part in reversed(path) if isinstance(part, str)), "")
        return (f"--{key.replace('_', '-')}" if key else ""), ()
    lengths = range(len(path), 0, -1)
    return next(((where[path[:n]], path[n:]) for n in lengths if path[:n] in where), ("", path))


def _named(data: Any, path: KeyPath) -> str:
    """Write a path, with the name of the list entry that it leads through."""
    for end in range(len(path), 0, -1):
        name = value_at(data, (*path[:end], "name"))
        named = isinstance(path[end - 1], int) and isinstance(name, str) and name.strip()
        if named and path[end:] != ("name",):
            return f"{dotted(path)} ({one_line(name, 40)})"
    return dotted(path)


@cache
def _adapter(cls: type) -> TypeAdapter[Any]:
    return TypeAdapter(cls)


def _examined(cls: type, written: Any, table: KeyPath) -> tuple[Any, list[Fault]]:
    """Validate; the paths of the faults are as written, from the top of the document."""
    adapter, metric = _adapter(cls), in_millimetres(written, places_of_keys(cls))
    faults = []
    for path in metric.doubled:
        other = f"{str(path[-1]).removesuffix('_in')}_mm"
        faults.append(Fault(path, f"is given beside {other}; keep one of the two"))
    record = None
    try:
        record = adapter.validate_python(metric.data)
    except ValidationError as failure:
        for error in failure.errors(include_url=False):
            path, tags = _located(error, metric.data)
            shown_path = metric.as_written(path)
            faults += worded(
                Complaint(
                    cls=cls,
                    error=error,
                    path=path,
                    shown_path=(*table, *shown_path),
                    value=value_at(written, shown_path),
                    kinds=kinds_at(cls, path, tags),
                    owners=kinds_at(cls, path[:-1], tags),
                )
            )
    return record, [
        fault._replace(path=(*table, *metric.as_written(fault.path))) for fault in merged(faults)
    ]


def _located(error: ErrorDetails, data: Any) -> tuple[KeyPath, frozenset[object]]:
    """Tell the path of an error from the tags of unions that pydantic mixes into it.

    A tag may be spelled like a key that is there, so every reading of the location is
    tried: right is the one that leads to the very object that pydantic looked at. Equal
    numbers may be one object: then it is the one that takes the last part for a key.
    """
    location, absent = error["loc"], error["type"] == "missing"

    def readings(rest: KeyPath, value: Any) -> Iterator[tuple[KeyPath, KeyPath]]:
        if not rest:
            yield (), ()
            return
        if holds(value, rest[0]):
            for path, tags in readings(rest[1:], value[rest[0]]):
                yield (rest[0], *path), tags
        for path, tags in readings(rest[1:], value):
            yield path, (rest[0], *tags)

    def credit(reading: tuple[KeyPath, KeyPath]) -> tuple[bool, bool, int]:
        path, _ = reading
        found = value_at(data, path) is error["input"]
        return found, path[-1:] == location[-1:], len(path)

    path, tags = max(readings(location[:-1] if absent else location, data), key=credit)
    return (*path, *location[-1:]) if absent else path, frozenset(tags)
