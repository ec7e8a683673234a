"""A person's own table of yield strength over hardness, for a steel that was measured."""

from __future__ import annotations

from itertools import pairwise

from pydantic import field_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.hardness import Curve
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import RECORD, Number
from simedge.inputs.steel_limits import meant_in_hv, value_problems

#: The Rockwell C scale is defined from here to there. Source: ISO 6508-1.
FIRST_HRC, LAST_HRC = 20, 70


@dataclass(frozen=True, slots=True, kw_only=True, config=RECORD)
class YieldPoint:
    """Compressive 0.2 % yield strength of a steel at one hardness.

    Attributes
    ----------
    hardness_hrc : float
        HRC, [20, 70].
    yield_strength_mpa : float
        MPa, [50, 6000].

    Raises
    ------
    pydantic.ValidationError
        With `FieldProblems` inside.
    """

    hardness_hrc: Number
    yield_strength_mpa: Number

    @field_validator("hardness_hrc")
    @classmethod
    def _on_the_scale(cls, hardness_hrc: float) -> float:
        if not FIRST_HRC <= hardness_hrc <= LAST_HRC:
            hint = meant_in_hv(hardness_hrc)
            message = (
                f"is {hardness_hrc:.6g} HRC, but must lie in [{FIRST_HRC}, {LAST_HRC}] HRC, where "
                f"the scale is defined{'; ' * bool(hint)}{hint}"
            )
            raise FieldProblems(FieldProblem((), message))
        return hardness_hrc

    @field_validator("yield_strength_mpa")
    @classmethod
    def _possible(cls, yield_strength_mpa: float) -> float:
        if problems := value_problems("yield_strength_mpa", yield_strength_mpa):
            raise FieldProblems(*problems)
        return yield_strength_mpa


def table_problems(points: tuple[YieldPoint, ...], key: str) -> list[FieldProblem]:
    """Check that a table of points can be read: two at least, rising in both columns.

    Parameters
    ----------
    points : tuple of YieldPoint
        In the order of the file.
    key : str
        Where the table stands in its record.
    """
    if len(points) < 2:
        message = f"has {len(points)} points, but a table needs two at least; "
        return [FieldProblem((key,), message.replace("1 points", "1 point") + _ALONE)]
    problems = []
    for number, (before, point) in enumerate(pairwise(points), start=1):
        hard, strong = point.hardness_hrc, point.yield_strength_mpa
        if hard == before.hardness_hrc:
            message = f"is {hard:g} HRC, as the point before it; keep one of the two"
            problems.append(FieldProblem((key, number, "hardness_hrc"), message))
        elif hard < before.hardness_hrc:
            message = (
                f"is {hard:g} HRC, but the points must rise and the one before it has "
                f"{before.hardness_hrc:g} HRC; put them in order"
            )
            problems.append(FieldProblem((key, number, "hardness_hrc"), message))
        elif strong < before.yield_strength_mpa:
            message = (
                f"is {strong:g} MPa, but {before.yield_strength_mpa:g} MPa at a lower hardness; "
                "are the two exchanged?"
            )
            problems.append(FieldProblem((key, number, "yield_strength_mpa"), message))
    return problems


_ALONE = "for a single one give yield_strength_mpa"


def given_curve(points: tuple[YieldPoint, ...], source: str) -> Curve:
    """Make the table that `table_problems` found nothing wrong with.

    Examples
    --------
    >>> low, high = ((58, 2000), (60, 2150))
    >>> points = [YieldPoint(hardness_hrc=h, yield_strength_mpa=y) for h, y in (low, high)]
    >>> given_curve(tuple(points), "own tests").at(59)
    2075.0
    """
    return Curve(
        points=tuple((point.hardness_hrc, point.yield_strength_mpa) for point in points),
        trust="given",
        source=source or "given in the case",
        spread="none said",
    )
