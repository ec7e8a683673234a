"""The one door through which what a person wrote becomes a validated record.

Records are pydantic dataclasses that refuse unknown keys and coerce nothing; this file
turns what pydantic finds wrong into sentences that name file, line, field, value with
unit, rule and remedy, all problems at once. Lengths given in inches are converted here
and nowhere else: no key of a record may itself end in ``_in``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from types import NoneType, SimpleNamespace, UnionType
from typing import Annotated, Any, Final, Literal, NamedTuple, TypeVar, Union, get_args, get_origin

from pydantic import Tag, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from simedge.errors import BadInput, Problem
from simedge.inputs.problems import FieldProblems
from simedge.inputs.key_paths import KeyPath, dotted, one_line
from simedge.inputs.toml_source import TomlDocument
from simedge.units import in_millimetres, key_without_unit, unit_of_key

Record = TypeVar("Record")

_ABSENT: Final = object()


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
    written = _value_at(document.data, table)
    if written is _ABSENT:
        message = f"{dotted(table)} is missing; begin it with {_heading(table)}"
        raise BadInput(Problem(document.place_of(table), message))
    record: Record
    record, faults = _examined(cls, written, table)
    if faults:
        faults.sort(key=lambda fault: document.line_of(fault.path))
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
            (option, dotted(below) if option else _named(data, fault.path), fault.message)
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
    metric = in_millimetres(document.data, None if cls is None else _places_of_keys(cls))
    return tuple(
        f"{dotted(metric.as_written(path))} = {_shown(written)} read as {_shown(length_mm)} mm"
        for path in metric.written_keys
        for written in (_value_at(document.data, metric.as_written(path)),)
        for length_mm in (_value_at(metric.data, path),)
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


def _value_at(data: Any, path: KeyPath) -> Any:
    for part in path:
        if not _holds(data, part):
            return _ABSENT
        data = data[part]
    return data


def _holds(data: Any, part: str | int) -> bool:
    if isinstance(data, Mapping):
        return part in data
    return isinstance(data, list | tuple) and isinstance(part, int) and 0 <= part < len(data)


def _named(data: Any, path: KeyPath) -> str:
    """Write a path, with the name of the list entry that it leads through."""
    for end in range(len(path), 0, -1):
        name = _value_at(data, (*path[:end], "name"))
        named = isinstance(path[end - 1], int) and isinstance(name, str) and name.strip()
        if named and path[end:] != ("name",):
            return f"{dotted(path)} ({one_line(name, 40)})"
    return dotted(path)


def _heading(path: KeyPath) -> str:
    name = dotted(tuple(part for part in path if isinstance(part, str)))
    return f"[[{name}]]" if isinstance(path[-1], int) else f"[{name}]"


def _in_table(preposition: str, path: KeyPath) -> str:
    return f"{preposition} {_heading(path)}" if path else "at the top of the file"


# What a field may hold, read off the annotations ----------------------------------------


class _Kind(NamedTuple):
    """One alternative of an annotation, with the rules that stand around it."""

    type: Any
    rules: tuple[Any, ...]

    @property
    def fields(self) -> dict[str, FieldInfo]:
        return getattr(self.type, "__pydantic_fields__", {})

    @property
    def tags(self) -> set[object]:
        """What pydantic may call it in the location of an error."""
        literals = (f.annotation for f in self.fields.values() if get_origin(f.annotation))
        choices = (get_args(a) for a in literals if get_origin(a) is Literal)
        own = {getattr(self.type, "__name__", None), *(c for group in choices for c in group)}
        return own | {rule.tag for rule in self.rules if isinstance(rule, Tag)}


def _kinds(annotation: Any, rules: tuple[Any, ...] = ()) -> list[_Kind]:
    if get_origin(annotation) is Annotated:
        inner, *around = get_args(annotation)
        for rule in around:
            rules += (*rule.metadata, rule) if isinstance(rule, FieldInfo) else (rule,)
        return _kinds(inner, rules)
    if get_origin(annotation) in (Union, UnionType):
        return [kind for member in get_args(annotation) for kind in _kinds(member, rules)]
    return [] if annotation is NoneType else [_Kind(annotation, rules)]


def _inside(kind: _Kind, part: str | int) -> list[_Kind]:
    if part in kind.fields:
        info = kind.fields[str(part)]
        return _kinds(info.annotation, (*info.metadata, info))
    arguments, origin = get_args(kind.type), get_origin(kind.type)
    if not arguments or origin is Literal or (origin is dict) == isinstance(part, int):
        return []
    if origin is tuple and isinstance(part, int) and arguments[-1] is not Ellipsis:
        return _kinds(arguments[min(part, len(arguments) - 1)])
    return _kinds(arguments[1 if origin is dict else 0])


def _kinds_at(cls: type, path: KeyPath, tags: frozenset[object]) -> list[_Kind]:
    kinds = _kinds(cls)
    for part in path:
        inner = [below for kind in kinds for below in _inside(kind, part)]
        kinds = [kind for kind in inner if kind.tags & tags] or inner
    return kinds


@cache
def _places_of_keys(cls: type) -> dict[str, list[KeyPath]]:
    """Give every key of a record and of the records in it, with the tables that hold it."""
    places: dict[str, list[KeyPath]] = {}

    def visit(kind: _Kind, path: KeyPath, around: tuple[Any, ...]) -> None:
        for key in kind.fields if kind.type not in around else ():
            places.setdefault(key, []).append(path)
            for inner in _inside(kind, key):
                visit(inner, (*path, key), (*around, kind.type))
        for part in (0, "*"):
            for inner in _inside(kind, part):
                visit(inner, (*path, part), around)

    visit(_Kind(cls, ()), (), ())
    return places


# What pydantic complains about ----------------------------------------------------------


class _Fault(NamedTuple):
    """Something wrong at a key path."""

    path: KeyPath
    message: str
    wanted: str = ""  # the kind of value that had to stand there, if that is what is wrong
    remedy: str = ""


@cache
def _adapter(cls: type) -> TypeAdapter[Any]:
    return TypeAdapter(cls)


def _examined(cls: type, written: Any, table: KeyPath) -> tuple[Any, list[_Fault]]:
    """Validate; the paths of the faults are as written, from the top of the document."""
    adapter, metric = _adapter(cls), in_millimetres(written, _places_of_keys(cls))
    faults = []
    for path in metric.doubled:
        other = f"{str(path[-1]).removesuffix('_in')}_mm"
        faults.append(_Fault(path, f"is given beside {other}; keep one of the two"))
    record = None
    try:
        record = adapter.validate_python(metric.data)
    except ValidationError as failure:
        for error in failure.errors(include_url=False):
            path, tags = _located(error, metric.data)
            shown_path = metric.as_written(path)
            faults += _worded(
                _Complaint(
                    cls=cls,
                    error=error,
                    path=path,
                    shown_path=(*table, *shown_path),
                    value=_value_at(written, shown_path),
                    kinds=_kinds_at(cls, path, tags),
                    owners=_kinds_at(cls, path[:-1], tags),
                )
            )
    return record, [
        fault._replace(path=(*table, *metric.as_written(fault.path))) for fault in _merged(faults)
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
        if _holds(value, rest[0]):
            for path, tags in readings(rest[1:], value[rest[0]]):
                yield (rest[0], *path), tags
        for path, tags in readings(rest[1:], value):
            yield path, (rest[0], *tags)

    def credit(reading: tuple[KeyPath, KeyPath]) -> tuple[bool, bool, int]:
        path, _ = reading
        found = _value_at(data, path) is error["input"]
        return found, path[-1:] == location[-1:], len(path)

    path, tags = max(readings(location[:-1] if absent else location, data), key=credit)
    return (*path, *location[-1:]) if absent else path, frozenset(tags)


def _merged(faults: list[_Fault]) -> list[_Fault]:
    """Merge what the alternatives of one field say about a value of the wrong kind.

    Where text or a table may stand and a table does, wrongly filled, nobody is told
    that it is no text.
    """
    meant = {fault.path[:end] for fault in faults for end in range(len(fault.path))}
    meant |= {fault.path for fault in faults if not fault.wanted}
    wanted: dict[KeyPath, dict[str, str]] = {}
    for fault in faults:
        wanted.setdefault(fault.path, {})[fault.wanted] = fault.remedy

    def whole(fault: _Fault) -> _Fault:
        if not fault.wanted:
            return fault
        remedy = fault.remedy if len(wanted[fault.path]) == 1 else ""
        rule = f", but must be {' or '.join(wanted[fault.path])}{remedy}"
        return _Fault(fault.path, fault.message + rule)

    kept = (fault for fault in faults if not fault.wanted or fault.path not in meant)
    return list(dict.fromkeys(map(whole, kept)))


# How it is said -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Complaint:
    """One error of pydantic with all that is needed to word it."""

    cls: type
    error: ErrorDetails
    path: KeyPath  # in millimetres, from the record
    shown_path: KeyPath  # as written, from the top of the document
    value: Any  # as written
    kinds: list[_Kind]  # what may stand there
    owners: list[_Kind]  # whose key it is

    @property
    def key(self) -> str:
        return next((part for part in reversed(self.shown_path) if isinstance(part, str)), "")


#: What had to stand there, by the words with which pydantic's names of errors begin.
_WANTED: Final = {
    "float": "a plain number",
    "int": "a whole number",
    "string_type": "text in quotes",
    "bool": "true or false",
    **dict.fromkeys(("dataclass", "model", "dict", "mapping"), "a table"),
    **dict.fromkeys(("tuple", "list", "set", "frozen_set", "iterable"), "a list"),
}


def _worded(complaint: _Complaint) -> list[_Fault]:
    path, error, context = complaint.path, complaint.error, complaint.error.get("ctx", {})
    kind = error["type"]
    if kind in ("value_error", "assertion_error"):
        failure = context.get("error")
        if isinstance(failure, FieldProblems):
            return [_Fault((*path, *item.path), item.message) for item in failure.items]
        return [_Fault(path, f": {one_line(str(failure), 500)}")]
    if kind == "missing":
        return [_missing(complaint)]
    if kind in ("unexpected_keyword_argument", "extra_forbidden"):
        return [_Fault(path, _unknown_key(complaint))]
    if kind.startswith("union_tag"):
        return [_no_variant(complaint)]
    unit = unit_of_key(complaint.key)
    is_value = f"is {_shown(complaint.value, unit)}"
    if kind == "literal_error":
        return [_Fault(path, f"{is_value}, but {_choice(complaint.kinds, complaint.value)}")]
    if kind in _BOUNDS:
        in_mm = f" ({_shown(error['input'], 'mm')})" if unit == "in" else ""
        return [_Fault(path, f"{is_value}{in_mm}, but {_bounds(complaint)}")]
    wanted = next((w for start, w in _WANTED.items() if kind.startswith(start)), None)
    if wanted:
        said = f"{wanted} ({unit})" if unit and "number" in wanted else wanted
        return [_Fault(path, is_value, said, _how_to_write(complaint, wanted))]
    # The rest is rare, and pydantic says it well: "Tuple should have at most 2 items".
    rule = re.sub(r"^\w+ should", "must", error["msg"].replace(" after validation", ""))
    return [_Fault(path, f"{is_value}, but {one_line(rule, 300)}")]


def _shown(value: Any, unit: str = "") -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{one_line(value, 60)}"'
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, dict):
        return "a table"
    if not isinstance(value, int | float):
        return one_line(str(value))
    try:
        return f"{float(value):.12g} {unit}".strip()
    except OverflowError:
        return "a number beyond 1e308"


def _how_to_write(complaint: _Complaint, wanted: str) -> str:
    path, value = complaint.shown_path, complaint.value
    if not path:
        return ""
    heading = _heading(path)
    if wanted == "a table":
        once = isinstance(path[-1], str) and isinstance(value, list)
        return f"; write {heading} once, not [{heading}]" if once else f"; begin it with {heading}"
    if wanted == "a list" and any(inner.fields for k in complaint.kinds for inner in _inside(k, 0)):
        not_once = f", not {heading}" if isinstance(value, dict) else ""
        return f"; begin each entry with [{heading}]{not_once}"
    return ""


def _missing(complaint: _Complaint) -> _Fault:
    if isinstance(complaint.path[-1], int):  # pydantic misses each further entry on its own
        counts = {len(get_args(owner.type)) for owner in complaint.owners}
        return _Fault(complaint.path[:-1], f"is too short, but must have {max(counts)} entries")
    heading = _heading(complaint.shown_path)
    for kind in complaint.kinds:
        if kind.fields:
            return _Fault(complaint.path, f"is missing; begin it with {heading}")
        if any(inner.fields for inner in _inside(kind, 0)):
            return _Fault(complaint.path, f"is missing; begin each entry with [{heading}]")
    example = next(filter(None, map(_example, complaint.kinds)), "")
    hint = f"; write e.g. {complaint.key} = {example}" if example else ""
    return _Fault(complaint.path, f"is missing{hint}")


def _example(kind: _Kind) -> str:
    examples = [
        e for rule in kind.rules if isinstance(rule, FieldInfo) for e in rule.examples or ()
    ]
    if get_origin(kind.type) is Literal:
        examples += get_args(kind.type)
    if kind.type is int or kind.type is float:
        interval = _Interval.of(*kind.rules)
        middle = (interval.low + interval.high) / 2
        examples += filter(interval.holds, (1, interval.low, interval.high, middle))
    if examples:
        return _shown(float(examples[0]) if kind.type is float else examples[0])
    return {str: '"..."', bool: "true"}.get(kind.type, "")


def _unknown_key(complaint: _Complaint) -> str:
    key = complaint.key
    said = f"is not a key {_in_table('of', complaint.shown_path[:-1])}"
    own = [name for owner in complaint.owners for name in owner.fields]
    plain = key.lower().replace("-", "_")
    for name in own:
        if plain != name and key_without_unit(plain) == key_without_unit(name):
            unit = unit_of_key(name)
            return f"{said}; write {name}" + (f", in {unit}" if unit else "")
    if key in (elsewhere := _places_of_keys(complaint.cls)):
        above = complaint.shown_path[: len(complaint.shown_path) - len(complaint.path)]
        places = dict.fromkeys(_in_table("in", (*above, *path)) for path in elsewhere[key])
        return f"{said}; it belongs {' or '.join(places)}"
    if near := get_close_matches(plain, own, n=1):
        # A misspelt height_in is a length in inches, not one in millimetres.
        inches = plain.endswith("_in") and near[0].endswith("_mm")
        name = f"{near[0].removesuffix('_mm')}_in" if inches else near[0]
        return f'{said}; did you mean "{name}"?'
    return f"{said}; its keys are {', '.join(dict.fromkeys(own))}"


def _no_variant(complaint: _Complaint) -> _Fault:
    """Word that the tag of a tagged union is missing, or is none of those that it has."""
    path, kinds = complaint.path, complaint.kinds
    if not isinstance(complaint.value, dict):
        remedy = _how_to_write(complaint, "a table")
        return _Fault(path, f"is {_shown(complaint.value)}", "a table", remedy)
    key = complaint.error["ctx"]["discriminator"].strip("'")
    if all(key in kind.fields for kind in kinds):  # a field tells the variants apart
        choices = [choice for kind in kinds for choice in _inside(kind, key)]
        value = complaint.value.get(key, _ABSENT)
        said = "is missing" if value is _ABSENT else f"is {_shown(value)}"
        return _Fault((*path, key), f"{said}, but {_choice(choices, value)}")
    needed = [[name for name, info in kind.fields.items() if info.is_required()] for kind in kinds]
    sets = ", or ".join(" and ".join(names) for names in needed if names)
    return _Fault(path, f"does not say which kind it is; give {sets}")


def _choice(kinds: list[_Kind], value: object) -> str:
    choices = [choice for kind in kinds for choice in get_args(kind.type)]
    if len(choices) == 1:
        return f"must be {_shown(choices[0])}"
    texts = {choice.lower(): choice for choice in choices if isinstance(choice, str)}
    near = get_close_matches(value.lower(), texts, n=1) if isinstance(value, str) else []
    said = f"must be one of {', '.join(map(_shown, choices))}"
    return said + (f'; did you mean "{texts[near[0]]}"?' if near else "")


#: The bound of annotated-types behind each error of pydantic.
_BOUNDS: Final = {
    "greater_than": "gt",
    "greater_than_equal": "ge",
    "less_than": "lt",
    "less_than_equal": "le",
}


class _Interval(NamedTuple):
    """What a number may be; pydantic names only the bound that it broke."""

    low: float
    high: float
    low_is_in: bool
    high_is_in: bool

    @classmethod
    def of(cls, *rules: Any) -> _Interval:
        found: dict[str, float] = {}
        for rule in rules:
            limits = {bound: getattr(rule, bound, None) for bound in _BOUNDS.values()}
            found |= {bound: limit for bound, limit in limits.items() if limit is not None}
        low = found.get("ge", found.get("gt", -math.inf))
        high = found.get("le", found.get("lt", math.inf))
        return cls(low, high, "ge" in found, "le" in found)

    def holds(self, number: float) -> bool:
        above = self.low < number or (self.low_is_in and self.low == number)
        return above and (number < self.high or (self.high_is_in and number == self.high))

    def rule(self) -> str:
        if self.low == -math.inf:
            return f"must be {'at most' if self.high_is_in else 'less than'} {_shown(self.high)}"
        if self.high == math.inf:
            return f"must be {'at least' if self.low_is_in else 'greater than'} {_shown(self.low)}"
        ends = "[" if self.low_is_in else "(", "]" if self.high_is_in else ")"
        return f"must lie in {ends[0]}{_shown(self.low)}, {_shown(self.high)}{ends[1]}"


#: A unit that people mix up with a key's, and its size in the key's.
_MIX_UPS: Final = {"GPa": ("MPa", 1e-3), "MPa": ("GPa", 1e3), "mm": ("µm", 1e-3), "µm": ("mm", 1e3)}


def _bounds(complaint: _Complaint) -> str:
    bound, number = _BOUNDS[complaint.error["type"]], complaint.error["input"]
    limit = complaint.error["ctx"][bound]
    # Where alternatives differ, the interval meant is the one with the bound that broke.
    meant = [k.rules for k in complaint.kinds if limit in _Interval.of(*k.rules)[:2]]
    interval = _Interval.of(*(meant[0] if meant else [SimpleNamespace(**{bound: limit})]))
    unit = unit_of_key(complaint.key)
    if unit == "in":
        return f"{interval.rule()} mm"
    if complaint.key.endswith("dps") and number > interval.high:
        return f"{interval.rule()}; an included angle is written as half of it per side"
    other, size = _MIX_UPS.get(unit, ("", math.nan))
    if interval.holds(number * size):
        return f"{interval.rule()}; if it is meant in {other}, write {_shown(number * size)}"
    return interval.rule()
