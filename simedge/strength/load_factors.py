"""How many times a load an edge takes before each kind of failure, when it is cut back so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf, isinf, sqrt
from typing import Literal

import numpy as np

from simedge.section.asked_again import Work
from simedge.section.outline import SIDES, Floats, Outline, Side
from simedge.section.tractions import Tractions
from simedge.strength.blunting import blunt_factor
from simedge.strength.chip import first_chip
from simedge.strength.crumble import first_crumbling
from simedge.strength.face_stress import face_stresses, without_friction
from simedge.strength.field_share import FieldShare
from simedge.strength.normal_sections import NormalSections, normal_sections
from simedge.strength.resistance import Resistance, ResistanceBand
from simedge.strength.roll import Direction, folds_towards, roll_factors
from simedge.strength.weakest import Weakest

Kind = Literal["blunt", "roll", "chip", "crumble"]
KINDS: tuple[Kind, ...] = ("blunt", "roll", "chip", "crumble")
#: Answers of the crack picture are good to about this factor: how far the middle of a band
#: lies above its weak end at most.
GOOD_TO = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class KindFactor:
    """How many times the load one kind of failure takes.

    Attributes
    ----------
    value, low, high : float
        The ends come from the steel's band; inf where the kind does not happen.
    x_mm : float or None
        Depth behind the apex of the whole edge at which it comes first.
    side : {"left", "right", "neither"} or None
        To which a roll folds, or the face that breaks.
    by_collapse : bool
        Of a chip: even the weak end of the steel folds before it breaks.
    frictionless : bool
        Of what breaks: it would do so sooner if the medium slid freely, and that is counted.
    """

    value: float
    low: float
    high: float
    x_mm: float | None = None
    side: Direction | None = None
    by_collapse: bool = False
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
        """The kinds that could be judged, without a chip that is a roll."""
        found = {kind: self.of(kind) for kind in KINDS}
        return {
            kind: factor
            for kind, factor in found.items()
            if factor is not None and not factor.by_collapse
        }

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
        """Give where steel breaks first at both ends of the band: by a crack, by crumbling."""
        stress = face_stresses(sections, outline, load)
        if self.field_share is not None:
            stress = self._put_right(stress, sections, cut_mm)

        def at_ends(find: Callable[[Resistance], Weakest]) -> list[Weakest]:
            return [find(end) for end in self.band.ends]

        chips: list[Weakest] = []
        if self.band.weak.toughness_mpa_sqrt_mm is not None:
            chips = at_ends(lambda end: first_chip(sections, stress, factors, end))
        return chips, at_ends(lambda end: first_crumbling(sections, stress, end))

    def _put_right(
        self, stress: dict[Side, Floats], sections: NormalSections, cut_mm: float
    ) -> dict[Side, Floats]:
        assert self.field_share is not None
        return {
            side: stress[side] * self.field_share.at(side, sections.face_x_mm[side], cut_mm)
            for side in SIDES
        }


def _worse(cases: list[list[Weakest]], cut_mm: float) -> KindFactor:
    """Take the worse of the stated friction and none at both ends of the band."""
    weak, strong = (min(ends, key=lambda found: found.factor) for ends in zip(*cases, strict=True))
    return KindFactor(
        value=_between(weak.factor, strong.factor),
        low=weak.factor,
        high=strong.factor,
        x_mm=cut_mm + weak.x_mm if weak.x_mm is not None else None,
        side=weak.side,
        by_collapse=weak.by_collapse,
        frictionless=len(cases) > 1 and cases[1][0].factor < cases[0][0].factor,
    )


def _between(low: float, high: float) -> float:
    """Give the middle of a band, in ratios; at most twice its weak end.

    That is continuous: a strong end that grows until it never fails leaves the middle as it is.

    >>> _between(0.5, 2.0), _between(0.5, 3.0) == _between(0.5, inf) == 1.0
    (1.0, True)
    """
    if isinf(low):
        return inf
    return min(sqrt(low * high), GOOD_TO * low)
