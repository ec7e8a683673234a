"""Problems found across the fields of an input, each with the path of its field."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FieldProblem:
    """A broken rule, at the path of the field that a person would change.

    Attributes
    ----------
    path : tuple of str or int
        Keys and list positions that lead to the field from the record whose validator
        speaks; empty where that validator is the field's own.
    message : str
        ``is <value with unit>, but <rule>; <what to do>``. Whoever shows it puts the
        name of the field in front.
    """

    path: tuple[str | int, ...]
    message: str


class FieldProblems(ValueError):
    """Raised inside validators; whoever renders errors for people unpacks ``items``.

    Parameters
    ----------
    items : FieldProblem
        Everything that is wrong, told at once.
    """

    def __init__(self, *items: FieldProblem) -> None:
        self.items = items
        super().__init__("; ".join(item.message for item in items))
