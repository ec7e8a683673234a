"""What another hardness of the same steel would allow: which kind gives first, and when."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.hardness import hardness_curve, own_yield_curve
from simedge.inputs.library_data import Band, find_grade
from simedge.inputs.steel import Steel
from simedge.inputs.steel_properties import steel_properties
from simedge.runs.run import Run, run_case
from simedge.runs.verdicts import judge_of
from simedge.strength.load_factors import LoadFactors
from simedge.strength.verdict import tolerated_cut_mm

#: Beyond the usual range of a grade, HRC: to see where it goes.
BEYOND_USUAL_HRC, STEP_HRC = 2.0, 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class HardnessPoint:
    """One hardness.

    Attributes
    ----------
    hardness_hrc : float
    factors : tuple of LoadFactors
        A load each, of the edge cut back by the tolerated damage.
    """

    hardness_hrc: float
    factors: tuple[LoadFactors, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HardnessStudy:
    """A case over the hardness of its steel.

    Attributes
    ----------
    run : Run
        The case as it is.
    load_names : tuple of str
        Of the loads that are judged; those whose parts cancel are left out.
    points : tuple of HardnessPoint
        Rising in hardness.
    usual_hrc : Band or None
        What is usual for the grade.
    remarks : tuple of str
    """

    run: Run
    load_names: tuple[str, ...]
    points: tuple[HardnessPoint, ...]
    usual_hrc: Band | None
    remarks: tuple[str, ...]

    @property
    def own_hrc(self) -> float:
        """The case's own hardness."""
        assert self.run.case.steel.hardness_hrc is not None
        return self.run.case.steel.hardness_hrc


def over_hardness(case: Case) -> HardnessStudy:
    """Ask a case at every hardness that its steel may have.

    Parameters
    ----------
    case : Case
        Its steel with a hardness, its strength not given outright.

    Returns
    -------
    HardnessStudy

    Raises
    ------
    BadInput
        Strength of this steel does not follow from its hardness.
    NumericsFailed
        The mesher or the solver gave nothing that may be shown.

    Notes
    -----
    Elastic stress does not depend on hardness: one run serves all. Toughness falls as
    exp(-0.08 HRC), derived from one grade (M2); the carbides are taken as the same.
    """
    hardnesses, usual = _hardnesses(case.steel)
    run = run_case(case)
    judged = [
        (load, answer)
        for load, answer in zip(case.loads, run.loads, strict=True)
        if answer.verdict is not None
    ]
    if not judged:
        raise BadInput(Problem("loads", "cancel everywhere: there is nothing to judge"))
    judges = [
        judge_of(load, run.outline, answer.tractions, run.steel, answer.stress)
        for load, answer in judged
    ]
    points = []
    for hardness in hardnesses:
        steel = steel_properties(replace(case.steel, hardness_hrc=hardness))
        again = [judge.with_steel(steel) for judge in judges]
        points.append(
            HardnessPoint(
                hardness_hrc=hardness,
                factors=tuple(
                    by.load_factors(tolerated_cut_mm(by, case.tolerated_damage_um)) for by in again
                ),
            )
        )
    remarks = []
    if case.steel.fracture_toughness_mpa_sqrt_m is not None:
        remarks.append("the toughness given in the case is taken as it is at every hardness")
    return HardnessStudy(
        run=run,
        load_names=tuple(answer.name for _, answer in judged),
        points=tuple(points),
        usual_hrc=usual,
        remarks=tuple(remarks),
    )


def check_steel(steel: Steel) -> None:
    """Refuse a steel whose strength does not follow from its hardness."""
    if steel.yield_strength_mpa is not None or steel.hardness_hrc is None:
        raise BadInput(
            Problem(
                "steel.hardness_hrc",
                "must be given, without yield_strength_mpa: the chart asks what another hardness "
                "would allow, and a strength that is given does not follow it",
            )
        )


def _hardnesses(steel: Steel) -> tuple[tuple[float, ...], Band | None]:
    """Choose the hardnesses: the grade's usual ones and a little beyond, as far as data go."""
    check_steel(steel)
    grade = None if steel.grade is None else find_grade(steel.grade)
    usual = None if grade is None else grade.hardness_hrc.band
    table = steel.yield_curve or own_yield_curve(grade) or hardness_curve("vickers_hardness")
    own = steel.hardness_hrc
    assert own is not None
    low, high = (table.first, table.last) if usual is None else (usual.low, usual.high)
    low, high = min(low - BEYOND_USUAL_HRC, own), max(high + BEYOND_USUAL_HRC, own)
    low, high = max(low, table.first), min(high, table.last)
    steps = np.arange(np.ceil(low / STEP_HRC), np.floor(high / STEP_HRC) + 1) * STEP_HRC
    return tuple(sorted({low, high, own, *map(float, steps)})), usual
