"""What a field of a record may hold, read off its annotation."""

from __future__ import annotations

import math
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, NamedTuple, Union, get_args, get_origin

from pydantic import Tag
from pydantic.fields import FieldInfo

from simedge.inputs.key_paths import KeyPath
from simedge.inputs.shown_values import shown_value


class FieldKind(NamedTuple):
    """One alternative of an annotation, with the rules that stand around it.

    Attributes
    ----------
    type : object
        A class, or a form of typing such as ``tuple[float, ...]`` or ``Literal["left"]``.
    rules : tuple of object
        Bounds, tags and field settings.
    """

    type: Any
    rules: tuple[Any, ...]

    @property
    def fields(self) -> dict[str, FieldInfo]:
        """Fields of a record by name; none for anything else."""
        return getattr(self.type, "__pydantic_fields__", {})

    @property
    def tags(self) -> set[object]:
        """What pydantic may call it in the location of an error."""
        literals = (f.annotation for f in self.fields.values() if get_origin(f.annotation))
        choices = (get_args(a) for a in literals if get_origin(a) is Literal)
        own = {getattr(self.type, "__name__", None), *(c for group in choices for c in group)}
        return own | {rule.tag for rule in self.rules if isinstance(rule, Tag)}


def kinds_of(annotation: Any, rules: tuple[Any, ...] = ()) -> list[FieldKind]:
    """Take an annotation apart into its alternatives, None left out.

    Parameters
    ----------
    annotation : object
        What stands behind the colon of a field.
    rules : tuple of object
        Rules that stand around it.

    Returns
    -------
    list of FieldKind
        One for each member of a union, else one.

    Examples
    --------
    >>> [kind.type.__name__ for kind in kinds_of(Annotated[float, "a rule"] | str | None)]
    ['float', 'str']
    """
    if get_origin(annotation) is Annotated:
        inner, *around = get_args(annotation)
        for rule in around:
            rules += (*rule.metadata, rule) if isinstance(rule, FieldInfo) else (rule,)
        return kinds_of(inner, rules)
    if get_origin(annotation) in (Union, UnionType):
        return [kind for member in get_args(annotation) for kind in kinds_of(member, rules)]
    return [] if annotation is NoneType else [FieldKind(annotation, rules)]


def kinds_inside(kind: FieldKind, part: str | int) -> list[FieldKind]:
    """Give what may stand one step further in.

    Parameters
    ----------
    kind : FieldKind
        A record, a list or a table.
    part : str or int
        The field's name, the key or the position.

    Returns
    -------
    list of FieldKind
        Its alternatives; none where the step leads nowhere.

    Examples
    --------
    >>> (entry,) = kinds_inside(FieldKind(tuple[float, ...], ()), 3)
    >>> entry.type
    <class 'float'>
    """
    if part in kind.fields:
        info = kind.fields[str(part)]
        return kinds_of(info.annotation, (*info.metadata, info))
    arguments, origin = get_args(kind.type), get_origin(kind.type)
    if not arguments or origin is Literal or (origin is dict) == isinstance(part, int):
        return []
    if origin is tuple and isinstance(part, int) and arguments[-1] is not Ellipsis:
        return kinds_of(arguments[min(part, len(arguments) - 1)])
    return kinds_of(arguments[1 if origin is dict else 0])


def kinds_at(cls: type, path: KeyPath, tags: frozenset[object]) -> list[FieldKind]:
    """Give what may stand at a path into a record.

    Parameters
    ----------
    cls : type
        The record.
    path : KeyPath
        The way into it; none gives the record itself.
    tags : frozenset
        Which members of the unions on the way were meant, as pydantic calls them
        (`FieldKind.tags`); where none is among them, all count.

    Returns
    -------
    list of FieldKind
        The alternatives; none where the path leads nowhere.
    """
    kinds = kinds_of(cls)
    for part in path:
        inner = [below for kind in kinds for below in kinds_inside(kind, part)]
        kinds = [kind for kind in inner if kind.tags & tags] or inner
    return kinds


@cache
def places_of_keys(cls: type) -> dict[str, list[KeyPath]]:
    """Give every key of a record and of the records in it, with the tables that hold it.

    Parameters
    ----------
    cls : type
        The record.

    Returns
    -------
    dict of str to list of KeyPath
        Paths of the tables by key; 0 and ``*`` stand for any position and any key.
    """
    places: dict[str, list[KeyPath]] = {}

    def visit(kind: FieldKind, path: KeyPath, around: tuple[Any, ...]) -> None:
        for key in kind.fields if kind.type not in around else ():
            places.setdefault(key, []).append(path)
            for inner in kinds_inside(kind, key):
                visit(inner, (*path, key), (*around, kind.type))
        for part in (0, "*"):
            for inner in kinds_inside(kind, part):
                visit(inner, (*path, part), around)

    visit(FieldKind(cls, ()), (), ())
    return places


class Interval(NamedTuple):
    """What a number may be; pydantic names only the bound that it broke.

    Attributes
    ----------
    low, high : float
        Its ends, infinite where there is no bound.
    low_is_in, high_is_in : bool
        Whether the end itself is allowed.
    """

    low: float
    high: float
    low_is_in: bool
    high_is_in: bool

    @classmethod
    def of(cls, *rules: Any) -> Interval:
        """Read it off rules with an attribute ``gt``, ``ge``, ``lt`` or ``le``; others do no harm.

        Examples
        --------
        >>> from annotated_types import Gt, Le
        >>> Interval.of(Gt(0), Le(45))
        Interval(low=0, high=45, low_is_in=False, high_is_in=True)
        """
        found: dict[str, float] = {}
        for rule in rules:
            limits = {bound: getattr(rule, bound, None) for bound in ("gt", "ge", "lt", "le")}
            found |= {bound: limit for bound, limit in limits.items() if limit is not None}
        low = found.get("ge", found.get("gt", -math.inf))
        high = found.get("le", found.get("lt", math.inf))
        return cls(low, high, "ge" in found, "le" in found)

    def holds(self, number: float) -> bool:
        """Say whether a number is allowed."""
        above = self.low < number or (self.low_is_in and self.low == number)
        return above and (number < self.high or (self.high_is_in and number == self.high))

    def rule(self) -> str:
        """Say it in words.

        Examples
        --------
        >>> Interval(0, 45, False, True).rule(), Interval(0, math.inf, True, False).rule()
        ('must lie in (0, 45]', 'must be at least 0')
        """
        low, high = shown_value(self.low), shown_value(self.high)
        if self.low == -math.inf:
            return f"must be {'at most' if self.high_is_in else 'less than'} {high}"
        if self.high == math.inf:
            return f"must be {'at least' if self.low_is_in else 'greater than'} {low}"
        ends = "[" if self.low_is_in else "(", "]" if self.high_is_in else ")"
        return f"must lie in {ends[0]}{low}, {high}{ends[1]}"
