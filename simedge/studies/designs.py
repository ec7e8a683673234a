"""Many designs judged one after the other: the one loop over designs that studies have."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from simedge.errors import BadInput
from simedge.inputs.case import Case
from simedge.runs.quick import QuickRun, quick_run

#: Told after each design: how many are done, and of how many.
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Infeasible:
    """A design that cannot be built.

    Attributes
    ----------
    reason : str
    """

    reason: str


Judged = QuickRun | Infeasible
#: Makes a design, or raises `BadInput` where it cannot be built.
Maker = Callable[[], Case]


def judge_designs(designs: Sequence[Maker], progress: Progress | None = None) -> tuple[Judged, ...]:
    """Judge designs without a mesh.

    Parameters
    ----------
    designs : sequence of callable
        Each makes a case.
    progress : callable or None

    Returns
    -------
    tuple of QuickRun or Infeasible
        In the order of the designs.
    """
    found: list[Judged] = []
    for number, make in enumerate(designs, start=1):
        try:
            found.append(quick_run(make()))
        except BadInput as error:
            found.append(Infeasible(reason=str(error)))
        if progress is not None:
            progress(number, len(designs))
    return tuple(found)
