"""How it is said what is wrong with an input.

Every sentence is built of what pydantic found, the value as it was written and what the
field may hold: ``is <value with unit>, but <rule>; <remedy>``.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches
from types import SimpleNamespace
from typing import Any, Final, Literal, NamedTuple, get_args, get_origin

from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from simedge.inputs.field_rules import FieldKind, Interval, kinds_inside, places_of_keys
from simedge.inputs.key_paths import ABSENT, KeyPath, heading
from simedge.inputs.problems import FieldProblems
from simedge.inputs.shown_values import one_line, shown_value
from simedge.units import key_without_unit, unit_of_key


class Fault(NamedTuple):
    """Something wrong at a key path.

    Attributes
    ----------
    path : KeyPath
        What a person would change, lengths under their keys in millimetres.
    message : str
        What is said of it; the name of the field stands in front.
    wanted : str
        The kind of value that had to stand there, if that is what is wrong.
    remedy : str
        How to write such a value, joint included; not part of the message until `merged`.
    instead : KeyPath
        Of the field that an unknown key most likely was meant for.
    """

    path: KeyPath
    message: str
    wanted: str = ""
    remedy: str = ""
    instead: KeyPath = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint:
    """One error of pydantic with all that is needed to word it.

    Attributes
    ----------
    cls : type
        The record that was asked for.
    error : ErrorDetails
        The error as pydantic gives it.
    path, shown_path : KeyPath
        Where: from the record with its keys in millimetres, and from the top of the
        document as written.
    value : object
        What stands there, as written.
    kinds, owners : list of FieldKind
        What may stand there, and whose key it is.
    """

    cls: type
    error: ErrorDetails
    path: KeyPath
    shown_path: KeyPath
    value: Any
    kinds: list[FieldKind]
    owners: list[FieldKind]

    @property
    def key(self) -> str:
        """The last key of the path as written; empty where there is none."""
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


def worded(complaint: Complaint) -> list[Fault]:
    """Say in people's words what one error of pydantic means.

    Parameters
    ----------
    complaint : Complaint
        The error, and what stands and what may stand at its place.

    Returns
    -------
    list of Fault
        One, or as many as a validator found at once.
    """
    path, error, context = complaint.path, complaint.error, complaint.error.get("ctx", {})
    kind = error["type"]
    if kind in ("value_error", "assertion_error"):
        failure = context.get("error")
        if isinstance(failure, FieldProblems):
            return [Fault((*path, *item.path), item.message) for item in failure.items]
        return [Fault(path, f": {one_line(str(failure), 500)}")]
    if kind == "missing":
        return [_missing(complaint)]
    if kind in ("unexpected_keyword_argument", "extra_forbidden"):
        return [_unknown_key(complaint)]
    if kind.startswith("union_tag"):
        return [_no_variant(complaint)]
    unit = unit_of_key(complaint.key)
    is_value = f"is {shown_value(complaint.value, unit)}"
    if kind == "literal_error":
        return [Fault(path, f"{is_value}, but {_choice(complaint.kinds, complaint.value)}")]
    if kind in _BOUNDS:
        in_mm = f" ({shown_value(error['input'], 'mm')})" if unit == "in" else ""
        return [Fault(path, f"{is_value}{in_mm}, but {_bounds(complaint)}")]
    if kind.startswith("int_") and isinstance(complaint.value, float):
        is_value = f"is {complaint.value!r}"  # 1.0 as it was written, and not 1
    wanted = next((w for start, w in _WANTED.items() if kind.startswith(start)), None)
    if wanted:
        said = f"{wanted} ({unit})" if unit and "number" in wanted else wanted
        return [Fault(path, is_value, said, _how_to_write(complaint, wanted))]
    # The rest is rare, and pydantic says it well: "Tuple should have at most 2 items".
    rule = re.sub(r"^\w+ should", "must", error["msg"].replace(" after validation", ""))
    return [Fault(path, f"{is_value}, but {one_line(rule, 300)}")]


def _how_to_write(complaint: Complaint, wanted: str) -> str:
    path, value = complaint.shown_path, complaint.value
    if not path:
        return ""
    shown = heading(path)
    if wanted == "a table":
        once = isinstance(path[-1], str) and isinstance(value, list)
        return f"; write {shown} once, not [{shown}]" if once else f"; begin it with {shown}"
    if wanted == "a list" and any(map(_holds_tables, complaint.kinds)):
        not_once = f", not {shown}" if isinstance(value, dict) else ""
        return f"; begin each entry with [{shown}]{not_once}"
    return ""


def _holds_tables(kind: FieldKind) -> bool:
    return any(entry.fields for entry in kinds_inside(kind, 0))


def _missing(complaint: Complaint) -> Fault:
    if isinstance(complaint.path[-1], int):  # pydantic misses each further entry on its own
        counts = {len(get_args(owner.type)) for owner in complaint.owners}
        return Fault(complaint.path[:-1], f"is too short, but must have {max(counts)} entries")
    shown = heading(complaint.shown_path)
    for kind in complaint.kinds:
        if kind.fields:
            return Fault(complaint.path, f"is missing; begin it with {shown}")
        if _holds_tables(kind):
            return Fault(complaint.path, f"is missing; begin each entry with [{shown}]")
    example = next(filter(None, map(_example, complaint.kinds)), "")
    hint = f"; write e.g. {complaint.key} = {example}" if example else ""
    return Fault(complaint.path, f"is missing{hint}")


def _example(kind: FieldKind) -> str:
    examples = [
        e for rule in kind.rules if isinstance(rule, FieldInfo) for e in rule.examples or ()
    ]
    if get_origin(kind.type) is Literal:
        examples += get_args(kind.type)
    if kind.type is int or kind.type is float:
        interval = Interval.of(*kind.rules)
        middle = (interval.low + interval.high) / 2
        examples += filter(interval.holds, (1, interval.low, interval.high, middle))
    if examples:
        return shown_value(float(examples[0]) if kind.type is float else examples[0])
    return {str: '"..."', bool: "true"}.get(kind.type, "")


def _unknown_key(complaint: Complaint) -> Fault:
    key, path = complaint.key, complaint.path
    said = f"is not a key {_in_table('of', complaint.shown_path[:-1])}"
    own = [name for owner in complaint.owners for name in owner.fields]
    plain = key.lower().replace("-", "_")
    for name in own:
        if plain != name and key_without_unit(plain) == key_without_unit(name):
            unit = unit_of_key(name)
            said += f"; write {name}" + (f", in {unit}" if unit else "")
            return Fault(path, said, instead=(*path[:-1], name))
    if key in (elsewhere := places_of_keys(complaint.cls)):
        above = complaint.shown_path[: len(complaint.shown_path) - len(complaint.path)]
        places = dict.fromkeys(_in_table("in", (*above, *path)) for path in elsewhere[key])
        if _in_table("in", complaint.shown_path[:-1]) in places:  # of another kind of entry
            return Fault(path, f"{said} of this kind; its keys are {', '.join(dict.fromkeys(own))}")
        return Fault(path, f"{said}; it belongs {' or '.join(places)}")
    if near := get_close_matches(plain, own, n=1):
        # A misspelt height_in is a length in inches, not one in millimetres.
        inches = plain.endswith("_in") and near[0].endswith("_mm")
        name = f"{near[0].removesuffix('_mm')}_in" if inches else near[0]
        said += f'; did you mean "{name}"?'
        return Fault(path, said, instead=(*path[:-1], near[0]))
    return Fault(path, f"{said}; its keys are {', '.join(dict.fromkeys(own))}")


def _no_variant(complaint: Complaint) -> Fault:
    """Word that the tag of a tagged union is missing, or is none of those that it has."""
    path, kinds = complaint.path, complaint.kinds
    if not isinstance(complaint.value, dict):
        remedy = _how_to_write(complaint, "a table")
        return Fault(path, f"is {shown_value(complaint.value)}", "a table", remedy)
    key = complaint.error["ctx"]["discriminator"].strip("'")
    if all(key in kind.fields for kind in kinds):  # a field tells the variants apart
        choices = [choice for kind in kinds for choice in kinds_inside(kind, key)]
        value = complaint.value.get(key, ABSENT)
        said = "is missing" if value is ABSENT else f"is {shown_value(value)}"
        return Fault((*path, key), f"{said}, but {_choice(choices, value)}")
    needed = [[name for name, info in kind.fields.items() if info.is_required()] for kind in kinds]
    sets = ", or ".join(" and ".join(names) for names in needed if names)
    return Fault(path, f"does not say which kind it is; give {sets}")


def _choice(kinds: list[FieldKind], value: object) -> str:
    choices = [choice for kind in kinds for choice in get_args(kind.type)]
    if len(choices) == 1:
        return f"must be {shown_value(choices[0])}"
    texts = {choice.lower(): choice for choice in choices if isinstance(choice, str)}
    near = get_close_matches(value.lower(), texts, n=1) if isinstance(value, str) else []
    said = f"must be one of {', '.join(map(shown_value, choices))}"
    return said + (f'; did you mean "{texts[near[0]]}"?' if near else "")


#: The bound of annotated-types behind each error of pydantic.
_BOUNDS: Final = {
    "greater_than": "gt",
    "greater_than_equal": "ge",
    "less_than": "lt",
    "less_than_equal": "le",
}

#: A unit that people mix up with a key's, and its size in the key's.
_MIX_UPS: Final = {"GPa": ("MPa", 1e-3), "MPa": ("GPa", 1e3), "mm": ("µm", 1e-3), "µm": ("mm", 1e3)}


def _bounds(complaint: Complaint) -> str:
    bound, number = _BOUNDS[complaint.error["type"]], complaint.error["input"]
    limit = complaint.error["ctx"][bound]
    # Where alternatives differ, the interval meant is the one with the bound that broke.
    meant = [k.rules for k in complaint.kinds if limit in Interval.of(*k.rules)[:2]]
    interval = Interval.of(*(meant[0] if meant else [SimpleNamespace(**{bound: limit})]))
    rule, unit = interval.rule(), unit_of_key(complaint.key)
    if unit == "in":
        return f"{rule} mm"
    if complaint.key.endswith("dps") and number > interval.high:
        return f"{rule}; an included angle is written as half of it per side"
    other, size = _MIX_UPS.get(unit, ("", math.nan))
    if interval.holds(number * size):
        return f"{rule}; if it is meant in {other}, write {shown_value(number * size)}"
    return rule


def _in_table(preposition: str, path: KeyPath) -> str:
    return f"{preposition} {heading(path)}" if path else "at the top of the file"


def merged(faults: list[Fault]) -> list[Fault]:
    """Merge what the alternatives of one field say about a value of the wrong kind.

    Where text or a table may stand and a table does, wrongly filled, nobody is told
    that it is no text; nor that a key is missing which stands there misspelt.

    Parameters
    ----------
    faults : list of Fault
        Everything that `worded` said of one record.

    Returns
    -------
    list of Fault
        With whole messages, each once, in the same order.

    Examples
    --------
    >>> one, other = (Fault(("handle",), "is 5", kind) for kind in ("text in quotes", "a table"))
    >>> [fault.message for fault in merged([one, other])]
    ['is 5, but must be text in quotes or a table']
    """
    meant = {fault.path[:end] for fault in faults for end in range(len(fault.path))}
    meant |= {fault.path for fault in faults if not fault.wanted}
    wanted: dict[KeyPath, dict[str, str]] = {}
    for fault in faults:
        wanted.setdefault(fault.path, {})[fault.wanted] = fault.remedy

    def whole(fault: Fault) -> Fault:
        if not fault.wanted:
            return fault
        remedy = fault.remedy if len(wanted[fault.path]) == 1 else ""
        rule = f", but must be {' or '.join(wanted[fault.path])}{remedy}"
        return Fault(fault.path, fault.message + rule)

    misspelt = {fault.instead for fault in faults if fault.instead}
    kept = (
        fault
        for fault in faults
        if not (fault.wanted and fault.path in meant)
        and not (fault.path in misspelt and fault.message.startswith("is missing"))
    )
    return list(dict.fromkeys(map(whole, kept)))
