"""The steel of a blade as a person writes it, and what of it is refused."""

from __future__ import annotations

from typing import Self

from pydantic import ValidationInfo, field_validator, model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs import library_data as library
from simedge.inputs.hardness import Curve, hardness_curve, own_yield_curve
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import RECORD, Number
from simedge.inputs.shown_values import one_line
from simedge.inputs.steel_limits import hardness_problems, value_problems
from simedge.inputs.yield_points import YieldPoint, given_curve, table_problems

#: Figures of a steel that a case may give itself.
OVERRIDES = (
    "yield_strength_mpa",
    "tensile_strength_mpa",
    "youngs_modulus_gpa",
    "poissons_ratio",
    "fracture_toughness_mpa_sqrt_m",
    "flaw_um",
    "largest_carbide_um",
    "short_crack_factor",
    "particle_toughness_mpa_sqrt_m",
)


@dataclass(frozen=True, slots=True, kw_only=True, config=RECORD)
class Steel:
    """A case's steel: a grade at a hardness, a yield strength, or a table of it over hardness.

    Attributes
    ----------
    grade : str or None
        Any open designation of a steel in the library; kept under the library's own
        name, so that ``100Cr6`` and ``52100`` are the same steel. Without one,
        ``yield_strength_mpa`` or ``yield_points`` must be given.
    hardness_hrc : float or None
        HRC, 40 to 68 (O1: 50 to 62). A grade needs it unless its yield strength is given.
    yield_strength_mpa, tensile_strength_mpa : float or None
        MPa; take the place of what hardness gives. [50, 6000] and [50, 8000].
    yield_points : tuple of YieldPoint
        The person's own table, rising in hardness and strength; takes the place of ours and
        is read at ``hardness_hrc``, by straight lines and never beyond its ends.
    yield_points_source : str
        Where that table comes from.
    youngs_modulus_gpa : float or None
        GPa, [50, 1000].
    poissons_ratio : float or None
        Above -1, at most 0.4995.
    fracture_toughness_mpa_sqrt_m : float or None
        K_IC at this hardness, MPa√m, [1, 200].
    flaw_um : float or None
        Depth of the flaw to assume, µm, [0.1, 1000].
    largest_carbide_um : float or None
        Largest carbide or aggregate, µm, [0.1, 200].
    short_crack_factor : float or None
        What a crack of the size of the flaw sees of K_IC, [0.1, 1].
    particle_toughness_mpa_sqrt_m : float or None
        K_c of a hard particle, MPa√m, [0.5, 20].

    Raises
    ------
    pydantic.ValidationError
        With `FieldProblems` inside, naming every rule above that is broken.

    Examples
    --------
    >>> Steel(grade="100cr6", hardness_hrc=60).grade
    '52100'
    """

    grade: str | None = None
    hardness_hrc: Number | None = None
    yield_strength_mpa: Number | None = None
    yield_points: tuple[YieldPoint, ...] | None = None
    yield_points_source: str = ""
    tensile_strength_mpa: Number | None = None
    youngs_modulus_gpa: Number | None = None
    poissons_ratio: Number | None = None
    fracture_toughness_mpa_sqrt_m: Number | None = None
    flaw_um: Number | None = None
    largest_carbide_um: Number | None = None
    short_crack_factor: Number | None = None
    particle_toughness_mpa_sqrt_m: Number | None = None

    @field_validator("grade", mode="before")
    @classmethod
    def _under_its_own_name(cls, typed: object) -> object:
        if isinstance(typed, (int, float)) and not isinstance(typed, bool):
            message = f'is {typed}, but a designation is text; write "{typed}", in quotes'
            raise FieldProblems(FieldProblem((), message))
        if not isinstance(typed, str):
            return typed
        known = library.find_grade(typed)
        if known is None:  # told here, so that other keys' mistakes are told beside it
            near = library.did_you_mean(typed, library.designations())
            hint = f'{near} ("simedge steels" lists all)' if near else '"simedge steels" lists all'
            message = f'is "{one_line(typed)}", but no such steel is known; {hint}'
            raise FieldProblems(FieldProblem((), message))
        return known.name

    @field_validator("hardness_hrc")
    @classmethod
    def _in_the_table(cls, hardness_hrc: float | None) -> float | None:
        if hardness_hrc is not None:
            vickers = hardness_curve("vickers_hardness")
            _raise_if_any(hardness_problems(hardness_hrc, vickers, "the hardness table runs"))
        return hardness_hrc

    @field_validator(*OVERRIDES)
    @classmethod
    def _possible(cls, value: float | None, info: ValidationInfo) -> float | None:
        if value is not None:
            _raise_if_any(value_problems(str(info.field_name), value))
        return value

    @model_validator(mode="after")
    def _fields_agree(self) -> Self:
        _raise_if_any([*_identity_problems(self), *_points_problems(self), *_exchanged(self)])
        return self

    @property
    def yield_curve(self) -> Curve | None:
        """The points that the yield strength is read from, where it is not by HV or given."""
        if self.yield_strength_mpa is not None:
            return None
        if self.yield_points is not None:
            return given_curve(self.yield_points, self.yield_points_source)
        return own_yield_curve(None if self.grade is None else library.find_grade(self.grade))


def _raise_if_any(problems: list[FieldProblem]) -> None:
    if problems:
        raise FieldProblems(*problems)


def _identity_problems(steel: Steel) -> list[FieldProblem]:
    """Check that it is said which steel this is, at a hardness that we know about."""
    grade = None if steel.grade is None else library.find_grade(steel.grade)
    field, rule = "", ""
    if steel.yield_strength_mpa is not None:
        pass
    elif steel.yield_points is not None:
        if steel.hardness_hrc is None:
            field, rule = "hardness_hrc", "is missing, but yield_points are read at it; give it"
    elif grade is None:
        field, rule = "grade", "is missing, but a steel is told by its grade or by its strength; "
        rule += "give grade and hardness_hrc, or yield_strength_mpa"
    elif not grade.hardness_converts:
        field, rule = "yield_strength_mpa", "is missing, but ASTM E140 does not convert the "
        rule += f"hardness of {grade.name} ({grade.note}) to strength; give yield_strength_mpa"
    elif steel.hardness_hrc is None:
        field, rule = "hardness_hrc", f"is missing, but the strength of {grade.name} follows from "
        rule += f"it; give it ({grade.hardness_hrc.text('HRC')} is usual), or yield_strength_mpa"
    return [FieldProblem((field,), rule)] if rule else []


def _points_problems(steel: Steel) -> list[FieldProblem]:
    """Check the table that the yield strength is read from, and that it reaches that far."""
    if steel.yield_points is not None:
        if steel.yield_strength_mpa is not None:
            message = "are given beside yield_strength_mpa; keep one of the two"
            return [FieldProblem(("yield_points",), message)]
        if problems := table_problems(steel.yield_points, "yield_points"):
            return problems
    curve = steel.yield_curve
    if steel.hardness_hrc is None or curve is None:
        return []
    named = f"the yield points of {steel.grade} run"
    if steel.yield_points is not None:
        named = "yield_points run"
    return hardness_problems(steel.hardness_hrc, curve, named, ("hardness_hrc",))


def _exchanged(steel: Steel) -> list[FieldProblem]:
    """Check that the tensile strength is no less than the yield strength."""
    flow, tensile = steel.yield_strength_mpa, steel.tensile_strength_mpa
    if flow is None or tensile is None or tensile >= flow:
        return []
    message = (
        f"is {tensile:.6g} MPa, but cannot be less than yield_strength_mpa, "
        f"{flow:.6g} MPa; are the two exchanged?"
    )
    return [FieldProblem(("tensile_strength_mpa",), message)]
