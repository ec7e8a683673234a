"""Records changed in Python, refused in words where the change makes no sense."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, TypeVar

from pydantic import ValidationError

from simedge.errors import BadInput, Problem
from simedge.inputs.key_paths import dotted
from simedge.inputs.problems import FieldProblems

Record = TypeVar("Record")


def varied(record: Record, **changes: Any) -> Record:
    """Give a record with some fields changed.

    Raises
    ------
    BadInput
        The record's own rules refuse it.

    Examples
    --------
    >>> from simedge.inputs.steel import Steel
    >>> varied(Steel(grade="52100", hardness_hrc=60.0), hardness_hrc=58.0).hardness_hrc
    58.0
    """
    try:
        made: Record = replace(record, **changes)  # type: ignore[type-var]
    except ValidationError as error:
        raise BadInput(*_problems(error)) from error
    return made


def _problems(error: ValidationError) -> list[Problem]:
    told = []
    for each in error.errors():
        cause = each.get("ctx", {}).get("error")
        place = tuple(each["loc"])
        if isinstance(cause, FieldProblems):
            told += [
                Problem("", f"{dotted((*place, *item.path))} {item.message}".strip())
                for item in cause.items
            ]
        else:
            told.append(Problem("", f"{dotted(place)}: {each['msg']}"))
    return told
