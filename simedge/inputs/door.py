"""The one door through which what a person wrote becomes a validated record.

Records are pydantic dataclasses that refuse unknown keys and coerce nothing; this file
turns what pydantic finds wrong into sentences that name file, line, field, value with
unit, rule and remedy, all problems at once. Lengths given in inches are converted here,
and nowhere else. No key of a record may end in ``_in``: that end means inches.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Literal, NamedTuple, TypeVar, Union, get_args, get_origin

from pydantic import Tag, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from simedge.errors import BadInput, Problem
from simedge.inputs.problems import FieldProblems
from simedge.inputs.toml_source import KeyPath, TomlDocument, dotted, one_line
from simedge.units import key_without_unit, mm_from_inch, unit_of_key

Record = TypeVar("Record")


def validated(cls: type[Record], document: TomlDocument, *, table: KeyPath = ()) -> Record:
    """Make a record of a TOML document, or of one of its tables.

    Parameters
    ----------
    cls : type
        A pydantic dataclass; ``extra="forbid"`` and strict numbers are its own business.
    document : TomlDocument
        The file; a key ``height_in`` stands for ``height_mm`` where a record reachable
        from `cls` has that field.
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
    written = _value_at(document.data, table)
    if written is _ABSENT:
        message = f"{dotted(table)} is missing; begin it with {_heading(table)}"
        raise BadInput(Problem(document.place_of(table), message))
    record, faults = _examined(cls, written, table)
    if not faults:
        return record
    raise BadInput(
        *dict.fromkeys(
            Problem(
                document.place_of(fault.path),
                f"{_named(document.data, fault.path)} {fault.message}".strip(),
            )
            for fault in sorted(faults, key=lambda fault: document.line_of(fault.path))
        )
    )


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
        The option that gave the value (or the table) at a key path; ``--height-mm`` for
        ``height_mm`` by default.

    Returns
    -------
    Record
        The validated record.

    Raises
    ------
    BadInput
        One `Problem` for each thing that is wrong.
    """
    record, faults = _examined(cls, dict(data), ())
    if not faults:
        return record
    problems = []
    for fault in faults:
        option, below = _option(fault.path, where)
        shown = dotted(below) if option else _named(data, fault.path)
        problems.append(Problem(option, f"{shown} {fault.message}".strip()))
    raise BadInput(*dict.fromkeys(problems))


def inch_echoes(document: TomlDocument, cls: type | None = None) -> tuple[str, ...]:
    """Tell how the lengths in inches of a valid document were read.

    Parameters
    ----------
    document : TomlDocument
        A document that `validated` took.
    cls : type, optional
        The record that it was taken as: then only keys that it reads count. By default
        every number whose key ends in ``_in`` does.

    Returns
    -------
    tuple of str
        A line for each, such as ``height_in = 1.1 read as 27.94 mm``.
    """
    metric = _in_millimetres(document.data, None if cls is None else _keys_of(cls))
    return tuple(
        f"{dotted(metric.as_written(path))} = {_plain(_value_at(document.data, written))}"
        f" read as {_plain(_value_at(metric.data, path))} mm"
        for path, written in ((p, metric.as_written(p)) for p in metric.inches)
        if _is_number(_value_at(document.data, written))
    )


# -- faults ---------------------------------------------------------------------------


class _Fault(NamedTuple):
    """Something wrong at a key path, counted from the top of the document, as written."""

    path: KeyPath
    message: str


_ABSENT: Final = object()


@cache
def _adapter(cls: type) -> TypeAdapter[Any]:
    return TypeAdapter(cls)


def _examined(cls: type[Record], written: Any, table: KeyPath) -> tuple[Record, list[_Fault]]:
    adapter = _adapter(cls)
    metric = _in_millimetres(written, _keys_of(cls))
    faults = [
        _Fault((*table, *path), f"is given beside {path[-1][:-3]}_mm; keep one of the two")
        for path in metric.doubled
    ]
    record: Any = None
    try:
        record = adapter.validate_python(metric.data)
    except ValidationError as failure:
        complaints = [_complaint(cls, error, metric) for error in failure.errors(include_url=False)]
        for complaint in _without_other_branches(complaints):
            for path, message in complaint.faults(table):
                faults.append(_Fault((*table, *metric.as_written(path)), message))
    return record, faults
