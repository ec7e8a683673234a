"""The properties that follow from the steel of a blade, each with where it comes from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import exp

from simedge.inputs import library_data as library
from simedge.inputs.hardness import (
    VICKERS_TO_MPA,
    tensile_strength,
    vickers_hardness,
    yield_strength,
)
from simedge.inputs.library_data import Band, Figure, Grade, Trust
from simedge.inputs.steel import Steel
from simedge.units import mpa_from_gpa

#: Above it the mean pressure, stiffer by 1 / (1 - 2 nu) than the rest, comes out as noise.
#: Measured on the rack's eight knives at accuracies of 10 and 1 % against 0.1 %: up to here
#: the largest tension is off by 1.3 % of the peak von Mises stress at most, at 0.45 by 3, at
#: 0.48 by 8, at 0.499 by 147, whatever the accuracy. Peak von Mises stress is off by 0.6 % at
#: most, and movements by 2.6 % at an accuracy of 10 % and by 0.6 % at one of 1 %, at any ratio.
FIRM_POISSONS_RATIO = 0.4


@dataclass(frozen=True, slots=True, kw_only=True)
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


@dataclass(frozen=True, slots=True, kw_only=True)
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
    hardness = None if converted is None else vickers_hardness(converted)
    # Without hardness there is a yield strength: the steel's own validator saw to that.
    flow = _given(steel.yield_strength_mpa) or _read_off(steel) or yield_strength(grade, hrc or 0)
    from_hardness = None if converted is None else tensile_strength(converted)
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
        remarks=tuple(_remarks(steel, grade, hardness, flow, tensile)),
    )


def _given(value: float | None) -> Figure | None:
    """Take the case's own figure as it stands, without a band."""
    told = {"value": value, "trust": "given", "source": "given in the case", "spread": "none said"}
    return None if value is None else library.read_figure(told)


def _read_off(steel: Steel) -> Figure | None:
    """Read the person's own table at the hardness."""
    if steel.yield_points is None or steel.yield_curve is None or steel.hardness_hrc is None:
        return None
    return steel.yield_curve.read_off(steel.hardness_hrc)


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
    steel: Steel,
    grade: Grade | None,
    hardness: Figure | None,
    flow: Figure,
    tensile: Figure | None,
) -> Iterator[str]:
    """Give the rare and useful warnings; what holds for most steels stands in the origins."""
    hrc, curve = steel.hardness_hrc, steel.yield_curve
    own = steel.yield_strength_mpa is not None or steel.yield_points is not None
    given_mpa = flow.single if own else None
    modulus, ratio = steel.youngs_modulus_gpa, steel.poissons_ratio
    if hrc is not None and hardness and not hrc.is_integer():
        yield f"{hrc:g} HRC lies between points of the hardness table; values are interpolated"
    if hrc is not None and curve is not None and not curve.has_point(hrc):
        yield f"{hrc:g} HRC lies between the yield points of the steel; its yield is interpolated"
    if grade is not None:
        usual = grade.hardness_hrc
        if hrc is not None and not usual.low <= hrc <= usual.high:
            yield f"{hrc:g} HRC is outside the {usual.text('HRC')} usual for {grade.name}"
        if hrc is None and steel.fracture_toughness_mpa_sqrt_m is None:
            quoted_at = grade.fracture_toughness_mpa_sqrt_m.at_hrc
            yield f"no hardness given: K_IC is taken as quoted for {quoted_at:g} HRC"
    elif steel.fracture_toughness_mpa_sqrt_m is None:
        yield "neither grade nor fracture_toughness_mpa_sqrt_m given: chipping cannot be judged"
    if given_mpa is not None and hardness is not None:
        seen = library.read_data("hardness.toml")["hardness_over_yield"]
        quotient = VICKERS_TO_MPA * hardness.single / given_mpa
        if not seen["low"] <= quotient <= seen["high"]:
            yield (
                f"{hardness.text('HV')} is {quotient:.2g} times the yield strength given; "
                f"{seen['low']} to {seen['high']} is what steels show: is one of them wrong?"
            )
    if given_mpa is not None and tensile is not None and tensile.single < given_mpa:
        yield f"tensile strength from hardness, {tensile.text('MPa')}, is below the yield given"
    stiffness, usual_ratio = (
        library.every_steel()[name] for name in ("youngs_modulus_gpa", "poissons_ratio")
    )
    if modulus is not None and not stiffness.low <= modulus <= stiffness.high:
        span = f"{stiffness.low:g} to {stiffness.high:g} GPa"
        yield f"Young's modulus is {modulus:g} GPa; steels have {span}"
    if ratio is not None and ratio > FIRM_POISSONS_RATIO:
        yield (
            f"Poisson's ratio {ratio:g} is close to 0.5: quadratic triangles do not lock, and von "
            "Mises stress and movements hold, but the largest tension does not; do not use it"
        )
    elif ratio is not None and not (usual_ratio.low <= ratio <= usual_ratio.high):
        span = f"{usual_ratio.low:.2f} to {usual_ratio.high:.2f}"
        yield f"Poisson's ratio is {ratio:g}; steels have {span}"
