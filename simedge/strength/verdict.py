"""The verdict on one load: does the edge come through, and if not, what gives, and how deep."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import cached_property
from math import inf

from simedge.strength.load_factors import Judge, Kind, KindFactor, LoadFactors
from simedge.strength.recession import Recession, recession
from simedge.units import mm_from_um

#: Share of a rounded tip's radius that counts as the edge as it is: the very point of a round
#: has no width to press on.
OF_RADIUS = 1e-3


class Outcome(Enum):
    """How work ends for an edge; the value is the token in files."""

    COMES_THROUGH = "comes_through"
    BLUNTS = "blunts"
    ROLLS = "rolls"
    CHIPS = "chips"
    CRUMBLES = "crumbles"


ENDS_IN: dict[Kind, Outcome] = {
    "blunt": Outcome.BLUNTS,
    "roll": Outcome.ROLLS,
    "chip": Outcome.CHIPS,
    "crumble": Outcome.CRUMBLES,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Damage:
    """What is lost of an edge.

    Attributes
    ----------
    recession : Recession
        How far the edge goes back.
    blunted_land_um : float
        Width of the land that what bears on the tip makes; 0 where it makes none.
    """

    recession: Recession
    blunted_land_um: float


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """What becomes of an edge under one load.

    Attributes
    ----------
    outcome : Outcome
    governing_kind : {"blunt", "roll", "chip", "crumble"}
        The kind that comes first, whether or not the edge comes through.
    near_kinds : tuple of str
        Kinds that may come first instead, as the steel is known.
    factors : LoadFactors
        Of the edge cut back by the tolerated damage.
    margin : float
        Times the load until the governing kind; inf where nothing fails at any load.
    sure : bool
        No end of any kind's band tells otherwise.
    tolerated_damage_um : float
    find_damage : callable
        Searches for the damage: some ten times the work of the load factors, so that it waits
        until somebody asks.
    """

    outcome: Outcome
    governing_kind: Kind
    near_kinds: tuple[Kind, ...]
    factors: LoadFactors
    margin: float
    sure: bool
    tolerated_damage_um: float
    find_damage: Callable[[], Damage] = field(compare=False, repr=False)

    @cached_property
    def damage(self) -> Damage:
        """What is lost; found when it is first asked for."""
        return self.find_damage()

    @property
    def recession(self) -> Recession:
        """How far the edge goes back."""
        return self.damage.recession

    @property
    def blunted_land_um(self) -> float:
        """Width of the land that what bears on the tip makes; 0 where it makes none."""
        return self.damage.blunted_land_um

    @property
    def comes_through(self) -> bool:
        """Whether no more than the tolerated damage is done."""
        return self.outcome is Outcome.COMES_THROUGH

    @property
    def governing(self) -> KindFactor:
        """The factor of the kind that comes first."""
        found = self.factors.of(self.governing_kind)
        assert found is not None
        return found


def tolerated_cut_mm(by: Judge, tolerated_damage_um: float) -> float:
    """Give how much of the edge may go: the tolerated damage, as far as anything can be cut."""
    start = _start_mm(by)
    deepest = by.work.deepest_cut_mm(by.trusted_depth_mm)
    return max(min(mm_from_um(tolerated_damage_um), deepest), start)


def _start_mm(by: Judge) -> float:
    return OF_RADIUS * by.work.outline.tip.radius_mm


def judge(by: Judge, tolerated_damage_um: float) -> Verdict:
    """Judge one load.

    Parameters
    ----------
    by : Judge
    tolerated_damage_um : float
        Depth of damage that nobody minds, above 0.

    Returns
    -------
    Verdict
        The edge comes through where, cut back by what is tolerated, it carries the load by
        the middle of every kind's band.
    """
    factors = by.load_factors(tolerated_cut_mm(by, tolerated_damage_um))
    judged = factors.judged
    governing = min(judged, key=lambda kind: judged[kind].value)
    margin = judged[governing].value
    first, possible = judged[governing], factors.possible
    near = [k for k in possible if k != governing and possible[k].low <= first.high < inf]
    through = margin >= 1.0
    weak = min(factor.low for factor in possible.values())
    sure = weak >= 1.0 if through else first.high < 1.0
    return Verdict(
        outcome=Outcome.COMES_THROUGH if through else ENDS_IN[governing],
        governing_kind=governing,
        near_kinds=tuple(sorted(near, key=lambda kind: possible[kind].value)),
        factors=factors,
        margin=margin,
        sure=sure,
        tolerated_damage_um=tolerated_damage_um,
        find_damage=lambda: damage_by(by),
    )


def damage_by(by: Judge) -> Damage:
    """Find how far an edge goes back, and how wide a land the tip's load makes."""
    start, deepest = _start_mm(by), by.work.deepest_cut_mm(by.trusted_depth_mm)
    middle = replace(by, band=by.band.middle_alone)
    blunted = recession(by.blunt_factor, deepest, start).depth_mm
    land = float(by.work.outline.thickness_mm(blunted)) if blunted else 0.0
    return Damage(
        recession=recession(lambda cut: middle.load_factors(cut).smallest, deepest, start),
        blunted_land_um=1000.0 * land,
    )
