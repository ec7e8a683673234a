"""The steel of a blade as a person writes it, and the properties that follow from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass as plain_dataclass
from dataclasses import replace
from math import exp
from typing import Self

from pydantic import field_validator, model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs import library_data as library
from simedge.inputs.library_data import Band, Figure, Grade, Trust
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import RECORD, Number
from simedge.units import mpa_from_gpa


@dataclass(frozen=True, slots=True, kw_only=True, config=RECORD)
class Steel:
    """A case's steel: a grade at a hardness, a yield strength, or both.

    Attributes
    ----------
    grade : str or None
        Any open designation of a steel in the library; kept under the library's own
        name, so that ``100Cr6`` and ``52100`` are the same steel. Without one,
        ``yield_strength_mpa`` must be given.
    hardness_hrc : float or None
        HRC, 40 to 68 (O1: 50 to 62). A grade needs it unless its yield strength is given.
    yield_strength_mpa, tensile_strength_mpa : float or None
        MPa; take the place of what hardness gives. [50, 6000] and [50, 8000].
    youngs_modulus_gpa : float or None
        GPa, [50, 1000].
    poissons_ratio : float or None
        Above -1 and below 0.5.
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
        known = library.find_grade(typed) if isinstance(typed, str) else None
        return typed if known is None else known.name

    @model_validator(mode="after")
    def _fields_agree(self) -> Self:
        problems = [*_identity_problems(self), *_value_problems(self)]
        if problems:
            raise FieldProblems(*problems)
        return self


def _identity_problems(steel: Steel) -> list[FieldProblem]:
    """Check that it is said which steel this is, at a hardness that we know about."""
    grade = None if steel.grade is None else library.find_grade(steel.grade)
    yield_given = steel.yield_strength_mpa is not None
    field, rule = "", ""
    if steel.grade is not None and grade is None:
        near = library.did_you_mean(steel.grade, library.designations())
        hint = f'{near} ("simedge steels" lists all)' if near else '"simedge steels" lists all'
        field, rule = "grade", f'is "{steel.grade}", but no such steel is known; {hint}'
    elif yield_given:
        pass
    elif grade is None:
        field, rule = "grade", "is missing, but a steel is told by its grade or by its strength; "
        rule += "give grade and hardness_hrc, or yield_strength_mpa"
    elif not grade.hardness_converts:
        field, rule = "yield_strength_mpa", "is missing, but ASTM E140 does not convert the "
        rule += f"hardness of {grade.name} ({grade.note}) to strength; give yield_strength_mpa"
    elif steel.hardness_hrc is None:
        field, rule = "hardness_hrc", f"is missing, but the strength of {grade.name} follows from "
        rule += f"it; give it ({grade.hardness_hrc.text('HRC')} is usual), or yield_strength_mpa"
    problems = [FieldProblem((field,), rule)] if rule else []
    if steel.hardness_hrc is not None:
        problems += _hardness_problems(steel.hardness_hrc, None if yield_given else grade)
    return problems


def _hardness_problems(hardness_hrc: float, grade: Grade | None) -> list[FieldProblem]:
    """Check the hardness against the table, or the grade's own points where they decide."""
    vickers, own = library.hardness_curve("vickers_hardness"), library.own_yield_curve(grade)
    table, named = vickers, "the hardness table runs"
    if own is not None and grade is not None:
        table, named = own, f"the yield points of {grade.name} run"
    if table.covers(hardness_hrc):
        return []
    hint = "choose a hardness in that range, or leave it out and give yield_strength_mpa"
    if vickers.swapped().covers(hardness_hrc):
        meant = vickers.swapped().at(hardness_hrc)
        hint = f"did you mean {meant:.3g} HRC? that looks like HV"
    message = (
        f"is {hardness_hrc:.6g} HRC, but {named} from {table.first:g} to {table.last:g} HRC "
        f"and nothing is extrapolated; {hint}"
    )
    return [FieldProblem(("hardness_hrc",), message)]


def _value_problems(steel: Steel) -> list[FieldProblem]:
    """Check that each given property is possible for a steel, in the unit of its name."""
    problems: list[FieldProblem] = []
    for field, allowed in library.read_data("steels.toml")["allowed"].items():
        value, low, high = getattr(steel, field), allowed["low"], allowed["high"]
        if value is None or low <= value <= high:
            continue
        unit = f" {allowed['unit']}" if allowed["unit"] else ""
        meant = (
            f"did you mean {float(f'{value * factor:.3g}'):g}{unit}? that looks like {typed}"
            for typed, factor in allowed["slips"].items()
            if low <= value * factor <= high
        )
        rule = f"must lie in [{low}, {high}]{unit}; {next(meant, allowed['usual'])}"
        problems.append(FieldProblem((field,), f"is {value:.6g}{unit}, but {rule}"))
    ratio = steel.poissons_ratio
    if ratio is not None and not -1 < ratio < 0.5:
        message = f"is {ratio:.6g}, but must lie above -1 and below 0.5; steels have 0.27 to 0.30"
        problems.append(FieldProblem(("poissons_ratio",), message))
    flow, tensile = steel.yield_strength_mpa, steel.tensile_strength_mpa
    if not problems and flow is not None and tensile is not None and tensile < flow:
        message = (
            f"is {tensile:.6g} MPa, but cannot be less than yield_strength_mpa, "
            f"{flow:.6g} MPa; are the two exchanged?"
        )
        problems.append(FieldProblem(("tensile_strength_mpa",), message))
    return problems


@plain_dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where one of a steel's figures comes from.

    Attributes
    ----------
    quantity, value : str
        Such as ``yield strength``, and the figure with its range and unit for people.
    trust : Trust
    source : str
    """

    quantity: str
    value: str
    trust: Trust
    source: str


@plain_dataclass(frozen=True, slots=True, kw_only=True)
class SteelProperties:
    """Everything that a simulation asks of a steel, and where it comes from.

    Attributes
    ----------
    name : str
        Grade with its equivalent, or that none was given.
    hardness_hrc, hardness_hv : float or None
        HV only where ASTM E140 applies.
    youngs_modulus_mpa, poissons_ratio : float
    yield_strength_mpa, yield_low_mpa, yield_high_mpa : float
        Compressive 0.2 % yield; the three are equal where the case gives it.
    tensile_strength_mpa : float or None
    fracture_toughness_mpa_sqrt_m : Band or None
        K_IC at this hardness; None where unknown: chipping cannot be judged then.
    largest_carbide_um : Band or None
        None in a steel without carbides, or where unknown.
    flaw_um : Band
        Depth of the flaw to assume, µm.
    short_crack_factor : Band
        What a crack of the flaw's size sees of K_IC.
    particle_toughness_mpa_sqrt_m : Band
        K_c of hard particles.
    grindability, density_g_per_cm3 : float or None
        Grindability is a rank, O1 being 1; both None without a grade.
    origins : tuple of Origin
    remarks : tuple of str
        One-line warnings; none for a usual steel at a whole number of HRC.
    """

    name: str
    hardness_hrc: float | None
    hardness_hv: float | None
    youngs_modulus_mpa: float
    poissons_ratio: float
    yield_strength_mpa: float
    yield_low_mpa: float
    yield_high_mpa: float
    tensile_strength_mpa: float | None
    fracture_toughness_mpa_sqrt_m: Band | None
    largest_carbide_um: Band | None
    flaw_um: Band
    short_crack_factor: Band
    particle_toughness_mpa_sqrt_m: Band
    grindability: float | None
    density_g_per_cm3: float | None
    origins: tuple[Origin, ...]
    remarks: tuple[str, ...]


def steel_properties(steel: Steel) -> SteelProperties:
    """Work out a steel's properties from its grade, its hardness and what the case gives.

    Yield strength is 9.807 HV / C, C from 3.65 (to 50 HRC) to 3.2 (from 55 HRC); O1 has
    points of its own. K_IC = K0 exp(-0.08 (HRC - HRC0)), a slope seen in one grade (M2).

    Examples
    --------
    >>> made = steel_properties(Steel(grade="52100", hardness_hrc=60))
    >>> round(made.yield_strength_mpa), made.hardness_hv  # 9.807 x 697 / 3.2
    (2136, 697.0)
    """
    grade = None if steel.grade is None else library.find_grade(steel.grade)
    shared, hrc = library.every_steel(), steel.hardness_hrc
    converted = hrc if grade is None or grade.hardness_converts else None
    hardness = None if converted is None else library.vickers_hardness(converted)
    # Without hardness there is a yield strength: the steel's own validator saw to that.
    flow = _given(steel.yield_strength_mpa) or library.yield_strength(grade, hrc or 0.0)
    from_hardness = None if converted is None else library.tensile_strength(converted)
    tensile = _given(steel.tensile_strength_mpa) or from_hardness
    modulus = _given(steel.youngs_modulus_gpa) or shared["youngs_modulus_gpa"]
    ratio = _given(steel.poissons_ratio) or shared["poissons_ratio"]
    toughness = _given(steel.fracture_toughness_mpa_sqrt_m) or _toughness(grade, hrc)
    carbide = _given(steel.largest_carbide_um) or (grade.largest_carbide_um if grade else None)
    flaw = _given(steel.flaw_um) or _flaw(carbide)
    factor = _given(steel.short_crack_factor) or _short_crack_factor(carbide)
    of_carbides = shared["particle_toughness_mpa_sqrt_m"]
    particle = _given(steel.particle_toughness_mpa_sqrt_m) or of_carbides
    grindability = grade.grindability if grade else None
    density = grade.density_g_per_cm3 if grade else None
    shown = (
        ("hardness", hardness, "HV"),
        ("yield strength", flow, "MPa"),
        ("tensile strength", tensile, "MPa"),
        ("Young's modulus", modulus, "GPa"),
        ("Poisson's ratio", ratio, ""),
        ("fracture toughness", toughness, "MPa√m"),
        ("largest carbide", carbide, "µm"),
        ("flaw", flaw, "µm"),
        ("short-crack factor", factor, ""),
        ("particle toughness", particle, "MPa√m"),
        ("grindability", grindability, ""),
        ("density", density, "g/cm³"),
    )
    return SteelProperties(
        name=grade.full_name if grade else "steel without a grade",
        hardness_hrc=hrc,
        hardness_hv=hardness.single if hardness else None,
        youngs_modulus_mpa=mpa_from_gpa(modulus.single),
        poissons_ratio=ratio.single,
        yield_strength_mpa=flow.single,
        yield_low_mpa=flow.low,
        yield_high_mpa=flow.high,
        tensile_strength_mpa=tensile.single if tensile else None,
        fracture_toughness_mpa_sqrt_m=toughness.band if toughness else None,
        largest_carbide_um=carbide.band if carbide else None,
        flaw_um=flaw.band,
        short_crack_factor=factor.band,
        particle_toughness_mpa_sqrt_m=particle.band,
        grindability=grindability.single if grindability else None,
        density_g_per_cm3=density.single if density else None,
        origins=tuple(
            Origin(quantity=name, value=figure.text(unit), trust=figure.trust, source=figure.source)
            for name, figure, unit in shown
            if figure is not None
        ),
        remarks=tuple(_remarks(steel, grade, hardness, tensile)),
    )


def _given(value: float | None) -> Figure | None:
    """Take the case's own figure as it stands, without a band."""
    told = {"value": value, "trust": "given", "source": "given in the case", "spread": "none said"}
    return None if value is None else library.read_figure(told)


def _toughness(grade: Grade | None, hardness_hrc: float | None) -> Figure | None:
    """K_IC of a grade at a hardness; as quoted where no hardness is given."""
    if grade is None:
        return None
    quoted = grade.fracture_toughness_mpa_sqrt_m
    slope = library.every_steel()["toughness_slope_per_hrc"]
    quoted_at = quoted.at_hrc or 0.0
    source = f"{quoted.source}, quoted at {quoted_at:g} HRC"
    if hardness_hrc is None or hardness_hrc == quoted_at:
        return replace(quoted, source=source)
    # K = K0 exp(-0.08 (HRC - HRC0))                               [D, from M2]
    band = quoted.band.times(exp(-slope.single * (hardness_hrc - quoted_at)))
    source += f"; taken to {hardness_hrc:g} HRC by {slope.single:g} per HRC ({slope.trust}, M2)"
    return replace(quoted, low=band.low, high=band.high, source=source)


def _flaw(carbide: Figure | None) -> Figure:
    """Half of the largest carbide to all of it, and never less than a scratch."""
    shared = library.every_steel()
    scratch, share = shared["smallest_flaw_um"], shared["flaw_over_largest_carbide"]
    if carbide is None:
        return scratch
    band = carbide.band.times(share.low, share.high).at_least(scratch.single)
    return replace(share, value=None, low=band.low, high=band.high)


def _short_crack_factor(carbide: Figure | None) -> Figure:
    """Below 1 only where carbides are coarse enough for a rising R-curve."""
    shared = library.every_steel()
    coarse = shared["short_crack_from_carbide_um"]
    if carbide is not None and carbide.high >= coarse.single:
        return shared["short_crack_factor"]
    return replace(coarse, value=1.0, low=1.0, high=1.0)


def _remarks(
    steel: Steel, grade: Grade | None, hardness: Figure | None, tensile: Figure | None
) -> Iterator[str]:
    """Give the rare and useful warnings; what holds for most steels stands in the origins."""
    hrc, flow = steel.hardness_hrc, steel.yield_strength_mpa
    modulus, ratio = steel.youngs_modulus_gpa, steel.poissons_ratio
    if hrc is not None and hardness and not hrc.is_integer():
        yield f"{hrc:g} HRC lies between points of the hardness table; values are interpolated"
    if grade is not None:
        usual = grade.hardness_hrc
        if hrc is not None and not usual.low <= hrc <= usual.high:
            yield f"{hrc:g} HRC is outside the {usual.text('HRC')} usual for {grade.name}"
        if hrc is None and steel.fracture_toughness_mpa_sqrt_m is None:
            quoted_at = grade.fracture_toughness_mpa_sqrt_m.at_hrc
            yield f"no hardness given: K_IC is taken as quoted for {quoted_at:g} HRC"
    elif steel.fracture_toughness_mpa_sqrt_m is None:
        yield "neither grade nor fracture_toughness_mpa_sqrt_m given: chipping cannot be judged"
    if flow is not None and hardness is not None:
        seen = library.read_data("hardness.toml")["hardness_over_yield"]
        quotient = library.VICKERS_TO_MPA * hardness.single / flow
        if not seen["low"] <= quotient <= seen["high"]:
            yield (
                f"{hardness.text('HV')} is {quotient:.2g} times the yield strength given; "
                f"{seen['low']} to {seen['high']} is what steels show: is one of them wrong?"
            )
    if flow is not None and tensile is not None and tensile.single < flow:
        yield f"tensile strength from hardness, {tensile.text('MPa')}, is below the yield given"
    stiffness = library.every_steel()["youngs_modulus_gpa"]
    if modulus is not None and not stiffness.low <= modulus <= stiffness.high:
        span = f"{stiffness.low:g} to {stiffness.high:g} GPa"
        yield f"Young's modulus is {modulus:g} GPa; steels have {span}"
    if ratio is not None and ratio > 0.49:
        yield f"Poisson's ratio {ratio:g} is close to 0.5: displacement elements may lock"
