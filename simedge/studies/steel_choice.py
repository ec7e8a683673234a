"""Which steels a case is asked in: those that are named, or all of the library."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.library_data import Grade, grades
from simedge.inputs.steel import Steel


def usual_steel(grade: Grade, case: Case) -> Steel:
    """Give a grade at the middle of its usual hardness, as stiff as the case says."""
    return as_stiff(
        Steel(
            grade=grade.name,
            hardness_hrc=0.5 * (grade.hardness_hrc.low + grade.hardness_hrc.high),
        ),
        case,
    )


def as_stiff(steel: Steel, case: Case) -> Steel:
    """Give a steel the elastic constants that a case gives its own."""
    return replace(
        steel,
        youngs_modulus_gpa=case.steel.youngs_modulus_gpa,
        poissons_ratio=case.steel.poissons_ratio,
    )


def steel_name(steel: Steel) -> str:
    """Name a steel as people do, such as ``A2 at 60 HRC``."""
    grade = steel.grade or "the case's steel"
    if steel.hardness_hrc is None:
        return grade
    return f"{grade} at {steel.hardness_hrc:g} HRC"


def chosen_steels(case: Case, asked: Sequence[Steel] | None) -> tuple[Steel, ...]:
    """Give the steels to ask about, without the case's own and without doubles.

    Raises
    ------
    BadInput
        There is none but the case's own.
    """
    if asked is None:
        asked = [usual_steel(each, case) for each in grades().values() if each.hardness_converts]
    steels = dict.fromkeys(as_stiff(each, case) for each in asked)
    others = tuple(each for each in steels if each != case.steel)
    if not others:
        raise BadInput(
            Problem(
                "--steel",
                f"is {steel_name(case.steel)}, but that is the case's own steel; name another "
                "grade, or another hardness",
            )
        )
    return others
