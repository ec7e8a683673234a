"""Verdicts on edges in a few words, for the tests that ask many of them; no finite elements."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.load import Load
from simedge.inputs.profile import Profile
from simedge.inputs.steel import Steel
from simedge.inputs.steel_properties import steel_properties
from simedge.section.asked_again import Work
from simedge.section.loading import tractions_of
from simedge.section.outline import Outline, build_outline
from simedge.section.tractions import Tractions
from simedge.strength.load_factors import Judge
from simedge.strength.normal_sections import NormalSections, normal_sections
from simedge.strength.resistance import resistance_band
from simedge.strength.verdict import Verdict, judge
from simedge.strength.zones import trusted_depth_mm

TOLERATED_UM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SharpOrNot:
    """An apex in one word: a radius, a land, or neither."""

    radius_um: float | None = None
    land_um: float | None = None

    @property
    def apex(self) -> Apex:
        """As a profile has it."""
        sharp = self.radius_um is None and self.land_um is None
        return Apex(radius_um=self.radius_um, land_um=self.land_um, sharp=sharp)


def plain(
    dps: float | tuple[float, float],
    *,
    radius_um: float | None = None,
    land_um: float | None = None,
    held_mm: float = 10.0,
) -> Outline:
    """Give a wedge without bevels, sharp unless told otherwise; two angles are left and right."""
    left, right = dps if isinstance(dps, tuple) else (dps, dps)
    profile = Profile(
        apex=SharpOrNot(radius_um=radius_um, land_um=land_um).apex,
        height_mm=held_mm,
        primary_grind=PrimaryGrind(left_dps=left, right_dps=right),
    )
    return build_outline(profile.apex, profile.faces)


def bevelled(
    bevels: Sequence[tuple[float, float]],
    dps: float,
    *,
    radius_um: float | None = 0.5,
    held_mm: float = 10.0,
) -> Outline:
    """Give a wedge with bevels in front: (dps, height in mm) of each, apex first."""
    profile = Profile(
        apex=SharpOrNot(radius_um=radius_um).apex,
        bevels=tuple(Bevel(dps=angle, height_mm=height) for angle, height in bevels),
        height_mm=held_mm,
        primary_grind=PrimaryGrind(dps=dps),
    )
    return build_outline(profile.apex, profile.faces)


def sections_of(outline: Outline, load: Load | Tractions) -> NormalSections:
    """Cut an outline square to its bisectors under a load."""
    tractions = load if isinstance(load, Tractions) else tractions_of(load, "trial", outline)
    return normal_sections(outline, tractions, trusted_depth_mm(outline))


def judge_of(outline: Outline, load: Load, steel: Steel) -> Judge:
    """Give what a verdict rests on, stress by the wedge formula."""
    made = steel_properties(steel)
    return Judge(
        work=Work(load=load, outline=outline, tractions=tractions_of(load, "trial", outline)),
        band=resistance_band(made),
        yield_low=made.yield_low_mpa / made.yield_strength_mpa,
        yield_high=made.yield_high_mpa / made.yield_strength_mpa,
        trusted_depth_mm=trusted_depth_mm(outline),
    )


def verdict_on(
    outline: Outline, load: Load, steel: Steel, tolerated_um: float = TOLERATED_UM
) -> Verdict:
    """Give the verdict on an edge under a load."""
    return judge(judge_of(outline, load, steel), tolerated_um)


def times(load: Tractions, factor: float) -> Tractions:
    """Give a load so many times as large."""
    return replace(
        load,
        tip=tuple(
            replace(
                part,
                axial_n_per_mm=factor * part.axial_n_per_mm,
                lateral_n_per_mm=factor * part.lateral_n_per_mm,
            )
            for part in load.tip
        ),
        faces=tuple(replace(part, pressure_mpa=factor * part.pressure_mpa) for part in load.faces),
    )
