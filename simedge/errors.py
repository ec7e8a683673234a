"""Everything that simedge raises on purpose.

::

    SimedgeError
    ├── BadInput               something a person wrote cannot be simulated   exit code 2
    ├── NumericsFailed         the mesher or the solver gave no usable answer exit code 3
    └── SystemLibraryMissing   a library of the operating system is not there exit code 4

A physical outcome (the edge rolls, nothing yields) is data, never an exception.
"""

from __future__ import annotations

from dataclasses import dataclass


class SimedgeError(Exception):
    """Base of all errors that simedge raises on purpose."""

    exit_code: int = 1


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong with an input, in the words that the person reads.

    Attributes
    ----------
    where : str
        Place: ``file:line``, or the name of an argument.
    message : str
        Field, value with its unit, the rule that it breaks, and what to do.
    """

    where: str
    message: str

    def __str__(self) -> str:
        """Give the problem as the one line that is printed."""
        return f"{self.where}: {self.message}" if self.where else self.message


class BadInput(SimedgeError):
    """What was asked cannot be simulated; all its problems are told at once.

    Parameters
    ----------
    problems : Problem
        At least one.
    """

    exit_code = 2

    def __init__(self, *problems: Problem) -> None:
        if not problems:
            raise ValueError("BadInput needs at least one problem")
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


class NumericsFailed(SimedgeError):
    """The mesher or the solver gave no answer that may be shown."""

    exit_code = 3


class SystemLibraryMissing(SimedgeError):
    """A shared library of the operating system is missing."""

    exit_code = 4
