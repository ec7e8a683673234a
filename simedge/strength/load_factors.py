"""How many times a load an edge takes before each kind of failure, when it is cut back so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import inf
from typing import Literal, TypedDict

import numpy as np

from simedge.inputs.steel_properties import SteelProperties
from simedge.section.asked_again import Work
from simedge.section.outline import SIDES, Floats, Outline, Side
from simedge.section.tractions import Tractions
from simedge.strength.blunting import blunt_factor
from simedge.strength.chip import first_chip
from simedge.strength.crumble import first_crumbling
from simedge.strength.face_stress import face_stresses, without_friction
from simedge.strength.field_share import FieldShare
from simedge.strength.normal_sections import NormalSections, normal_sections
from simedge.strength.resistance import Resistance, ResistanceBand, resistance_band
from simedge.strength.roll import Direction, folds_towards, roll_factors
from simedge.strength.weakest import Weakest

Kind = Literal["blunt", "roll", "chip", "crumble"]
KINDS: tuple[Kind, ...] = ("blunt", "roll", "chip", "crumble")


@dataclass(frozen=True, slots=True, kw_only=True)
class KindFactor:
    """How many times the load one kind of failure takes.

    Attributes
    ----------
    value, low, high : float
        For the middle, the weak and the strong end of the steel's band; inf where the kind
        does not happen.
    x_mm : float or None
        Depth behind the apex of the whole edge at which it comes first.
    side : {"left", "right", "neither", "apart"} or None
        To which a roll folds, or the face that breaks.
    folds_first, always_folds : bool
        Of a chip: the section rolls before it breaks, in the middle of the band; at every
        place of it.
    frictionless : bool
        Of what breaks: it would do so sooner if the medium slid freely, and that is counted.
    """

    value: float
    low: float
    high: float
    x_mm: float | None = None
    side: Direction | None = None
    folds_first: bool = False
    always_folds: bool = False
    frictionless: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadFactors:
    """The kinds side by side; chip is None where the steel's toughness is not known.

    Attributes
    ----------
    blunt, roll, crumble : KindFactor
    chip : KindFactor or None
    spread_at_fold : float
        Share of the load's forces that the section of the roll carries itself.
    """

    blunt: KindFactor
    roll: KindFactor
    chip: KindFactor | None
    crumble: KindFactor
    spread_at_fold: float

    def of(self, kind: Kind) -> KindFactor | None:
        """Give the factor of a kind."""
        found: KindFactor | None = getattr(self, kind)
        return found

    @property
    def judged(self) -> dict[Kind, KindFactor]:
        """The kinds that could come first, without a chip that is a roll."""
        return {kind: f for kind, f in self._known.items() if not f.folds_first}

    @property
    def possible(self) -> dict[Kind, KindFactor]:
        """The kinds that could come first in some steel of the band."""
        return {kind: f for kind, f in self._known.items() if not f.always_folds}

    @property
    def _known(self) -> dict[Kind, KindFactor]:
        found = {kind: self.of(kind) for kind in KINDS}
        return {kind: factor for kind, factor in found.items() if factor is not None}

    @property
    def smallest(self) -> float:
        """The smallest value of any kind."""
        return min(factor.value for factor in self.judged.values())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Judge:
    """All that a judgement rests on, beside how much is cut back.

    Attributes
    ----------
    work : Work
    band : ResistanceBand
    yield_low, yield_high : float
        Ends of the yield strength's spread over the yield strength itself.
    trusted_depth_mm : float
        Nothing behind it is judged.
    field_share : FieldShare or None
        None leaves the wedge formula as it is.
    """

    work: Work
    band: ResistanceBand
    yield_low: float
    yield_high: float
    trusted_depth_mm: float
    field_share: FieldShare | None = None

    def with_steel(self, steel: SteelProperties) -> Judge:
        """Judge the same work on the same shape in another steel of the same stiffness."""
        return replace(self, **_of_steel(steel))

    @classmethod
    def of(
        cls,
        work: Work,
        steel: SteelProperties,
        trusted_depth_mm: float,
        field_share: FieldShare | None,
    ) -> Judge:
        """Judge work in a steel."""
        return cls(
            work=work,
            trusted_depth_mm=trusted_depth_mm,
            field_share=field_share,
            **_of_steel(steel),
        )

    def load_factors(self, cut_mm: float) -> LoadFactors:
        """Judge the edge cut back so far, the same work asked of it again."""
        outline, load = self.work.again(cut_mm)
        flow = self.band.weak.yield_strength_mpa
        trusted = self.trusted_depth_mm - cut_mm
        sections = normal_sections(outline, load, trusted)
        factors = roll_factors(sections, flow)
        at = int(np.argmin(factors))
        fold = float(factors[at])
        cases = [self._broken(outline, load, sections, factors, cut_mm)]
        if any(part.friction > 0.0 for part in load.faces):
            free = without_friction(load)
            cut = normal_sections(outline, free, trusted)
            cases.append(self._broken(outline, free, cut, roll_factors(cut, flow), cut_mm))
        return LoadFactors(
            blunt=self._by_yield(self._blunt(outline, load, cut_mm), cut_mm, None),
            roll=self._by_yield(
                fold,
                cut_mm + float(sections.x_mm[at]),
                folds_towards(sections, fold, flow, at) if fold < inf else None,
            ),
            chip=_worse([case[0] for case in cases], cut_mm)
            if self.band.weak.toughness_mpa_sqrt_mm is not None
            else None,
            crumble=_worse([case[1] for case in cases], cut_mm),
            spread_at_fold=float(sections.spread[at]),
        )

    def blunt_factor(self, cut_mm: float) -> float:
        """Judge by blunting alone."""
        return self._blunt(*self.work.again(cut_mm), cut_mm)

    def _blunt(self, outline: Outline, load: Tractions, cut_mm: float) -> float:
        if 0.0 < self.work.pressed_to_mm <= cut_mm:
            return inf  # behind the cut nothing bears on the front
        return blunt_factor(outline, load, self.band.weak.yield_strength_mpa)

    def _by_yield(self, factor: float, x_mm: float, side: Direction | None) -> KindFactor:
        """Give a factor that goes with the yield strength."""
        return KindFactor(
            value=factor,
            low=factor * self.yield_low,
            high=factor * self.yield_high,
            x_mm=x_mm if factor < inf else None,
            side=side,
        )

    def _broken(
        self,
        outline: Outline,
        load: Tractions,
        sections: NormalSections,
        factors: Floats,
        cut_mm: float,
    ) -> tuple[list[Weakest], list[Weakest]]:
        """Give where steel breaks first over the band: by a crack, by crumbling."""
        stress = face_stresses(sections, outline, load)
        if self.field_share is not None:
            stress = self._put_right(stress, sections, cut_mm)

        def over_band(find: Callable[[Resistance], Weakest]) -> list[Weakest]:
            return [find(end) for end in self.band.each]

        chips: list[Weakest] = []
        if self.band.weak.toughness_mpa_sqrt_mm is not None:
            chips = over_band(lambda end: first_chip(sections, stress, factors, end))
        return chips, over_band(lambda end: first_crumbling(sections, stress, end))

    def _put_right(
        self, stress: dict[Side, Floats], sections: NormalSections, cut_mm: float
    ) -> dict[Side, Floats]:
        assert self.field_share is not None
        return {
            side: stress[side] * self.field_share.at(side, sections.face_x_mm[side], cut_mm)
            for side in SIDES
        }


class _Steel(TypedDict):
    band: ResistanceBand
    yield_low: float
    yield_high: float


def _of_steel(steel: SteelProperties) -> _Steel:
    """Give what a judgement takes from a steel."""
    return {
        "band": resistance_band(steel),
        "yield_low": steel.yield_low_mpa / steel.yield_strength_mpa,
        "yield_high": steel.yield_high_mpa / steel.yield_strength_mpa,
    }


def _worse(cases: list[list[Weakest]], cut_mm: float) -> KindFactor:
    """Take the worse of the stated friction and none at each place of the band."""
    places = [min(ends, key=lambda found: found.factor) for ends in zip(*cases, strict=True)]
    weak, middle, strong = places[0], places[len(places) // 2], places[-1]
    place = middle if middle.x_mm is not None else weak
    return KindFactor(
        value=middle.factor,
        # ends judge other sections where other particles fill them
        low=min(weak.factor, middle.factor),
        high=max(strong.factor, middle.factor),
        x_mm=cut_mm + place.x_mm if place.x_mm is not None else None,
        side=place.side,
        folds_first=middle.by_collapse,
        always_folds=weak.by_collapse,
        frictionless=len(cases) > 1 and middle not in cases[0],
    )
