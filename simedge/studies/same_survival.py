"""How much steeper, or thicker, an edge must be to take as much in another steel."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, isfinite, log

from simedge.errors import BadInput
from simedge.inputs.case import Case
from simedge.inputs.profile import Profile
from simedge.inputs.steel_properties import SteelProperties
from simedge.runs.quick import quick_judge
from simedge.section.outline import build_outline
from simedge.strength.load_factors import Judge, LoadFactors
from simedge.strength.verdict import tolerated_cut_mm
from simedge.studies.bracket import slimmest_value
from simedge.studies.hardness_sentence import ALIKE
from simedge.studies.reground import edge_dps, with_bevels_turned, with_profile
from simedge.studies.slimmest_ways import SLIMMEST_DPS, ways_of

#: Degrees per side at which a bevel is as steep as it may be.
STEEPEST_DPS = 45.0
#: How near a value is found, as a share of the knife's own.
CLOSE = 1e-3
#: Values that differ by less than this share tell no slope.
APART = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Regrind:
    """One measure of the edge that may be ground otherwise.

    Attributes
    ----------
    own : float
        The knife's own.
    low, high : float
        The range that is searched.
    make : callable
        Grinds the knife to a value; BadInput where that makes no blade.
    """

    own: float
    low: float
    high: float
    make: Callable[[float], Profile]


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """What a steel needs to take as much as the case's own.

    Attributes
    ----------
    own : float
        The knife's own measure, degrees per side or mm.
    value : float or None
        What it takes; None where nothing of the range does, or where it does not matter.
    error : float
        What an error of the margins makes of it; 0 where there is no value.
    weak, strong : float or None
        What it takes at the weak and the strong end of what is known of such a steel; None
        where nothing of the range does.
    least, most : float
        The range that was searched.
    by_bound : bool
        Even the least of the range does.
    matters : bool
        Margins move at all over the range.
    enough : bool
        It takes as much in the knife as it is.
    """

    own: float
    value: float | None
    error: float
    weak: float | None
    strong: float | None
    least: float
    most: float
    by_bound: bool
    matters: bool
    enough: bool


@dataclass(frozen=True, slots=True)
class Span:
    """The smallest load factor of several loads: in the middle, the weak and the strong end."""

    value: float
    low: float
    high: float

    @classmethod
    def of(cls, factors: tuple[LoadFactors, ...]) -> Span:
        """Take the smallest of all kinds and loads."""
        return cls(
            value=min(each.smallest for each in factors),
            low=min(f.low for each in factors for f in each.possible.values()),
            high=min(f.high for each in factors for f in each.judged.values()),
        )


class Bench:
    """One knife, ground to one value after the other and judged in one steel after the other.

    Parameters
    ----------
    case : Case
    steel : SteelProperties
        As stiff as all that will be asked about.
    regrind : Regrind
    loads : tuple of int
        Numbers of the loads that are judged.
    """

    def __init__(
        self, case: Case, steel: SteelProperties, regrind: Regrind, loads: tuple[int, ...]
    ) -> None:
        self._case, self._steel, self._loads = case, steel, loads
        self.regrind = regrind
        self._judges: dict[float, tuple[Judge, ...] | None] = {}

    def span(self, value: float, steel: SteelProperties) -> Span | None:
        """Judge the knife ground to a value, in a steel; None where it cannot be ground so."""
        if value not in self._judges:
            self._judges[value] = self._made(value)
        judges = self._judges[value]
        if judges is None:
            return None
        return judged_in(judges, steel, self._case.tolerated_damage_um)

    def _made(self, value: float) -> tuple[Judge, ...] | None:
        try:
            case = with_profile(self._case, self.regrind.make(value))
            clamp = case.support.clamp_depth_mm
            outline = build_outline(case.profile.apex, case.profile.faces, clamp)
            return tuple(quick_judge(case, load, outline, self._steel) for load in self._loads)
        except BadInput:
            return None


def judged_in(judges: tuple[Judge, ...], steel: SteelProperties, tolerated_um: float) -> Span:
    """Judge the same work in a steel."""
    return Span.of(factors_in(judges, steel, tolerated_um))


def factors_in(
    judges: tuple[Judge, ...], steel: SteelProperties, tolerated_um: float
) -> tuple[LoadFactors, ...]:
    """Give the load factors of the same work in a steel, of the edge cut back by the tolerated."""
    again = [judge.with_steel(steel) for judge in judges]
    return tuple(by.load_factors(tolerated_cut_mm(by, tolerated_um)) for by in again)


def angle_regrind(profile: Profile) -> Regrind:
    """Vary the angle of the edge bevel, and of a micro-bevel with it."""
    own = edge_dps(profile)
    steepest = (
        max(side for bevel in profile.bevels for side in bevel.sides_deg)
        if (profile.bevels)
        else own
    )
    return Regrind(
        own=own,
        low=min(SLIMMEST_DPS, 0.5 * own),
        high=STEEPEST_DPS - (steepest - own),
        make=lambda dps: with_bevels_turned(profile, dps),
    )


def thickness_regrind(profile: Profile) -> Regrind | None:
    """Vary the thickness behind the edge, its angle kept; None where no more may stand there."""
    found = [way for way in ways_of(profile) if way.unit == "mm" and "behind" in way.key]
    if not found or not found[0].low < found[0].own < found[0].high:
        return None
    way = found[0]
    return Regrind(own=way.own, low=way.low, high=way.high, make=way.make)


def needed(bench: Bench, steel: SteelProperties, target: float, off: float) -> Needed | None:
    """Find what a steel needs to reach a margin; None where the knife cannot be ground at all.

    Parameters
    ----------
    bench : Bench
    steel : SteelProperties
    target : float
        The margin, finite.
    off : float
        By what share the margins may be off.
    """
    regrind = bench.regrind
    seen: dict[float, Span] = {}

    def margin_at(value: float) -> float | None:
        span = bench.span(value, steel)
        if span is not None:
            seen[value] = span
        return None if span is None else span.value

    found = slimmest_value(
        margin_at, regrind.low, regrind.high, asked=target, close=CLOSE * regrind.own
    )
    if found is None:
        return None
    margins = [margin for _, margin in found.looked]
    as_it_is = margin_at(regrind.own)
    values = sorted(seen)
    ends = {
        end: _reached(values, [getattr(seen[value], end) for value in values], target)
        for end in ("low", "high")
    }
    return Needed(
        own=regrind.own,
        value=found.value,
        error=_error(values, [seen[value].value for value in values], found.value, off),
        weak=ends["low"],
        strong=ends["high"],
        least=values[0],
        most=values[-1],
        by_bound=found.by_bound,
        enough=as_it_is is not None and as_it_is >= target,
        matters=max(margins) > (1.0 + ALIKE) * min(margins),
    )


def _reached(values: list[float], margins: list[float], target: float) -> float | None:
    """Give from which value on all margins reach a target, by ratios between those known.

    >>> _reached([1.0, 2.0, 4.0], [0.5, 1.0, 2.0], 1.5)
    3.0
    >>> _reached([1.0, 2.0], [0.5, 1.0], 1.5) is None
    True
    """
    short = [number for number, margin in enumerate(margins) if margin < target]
    if not short:
        return values[0]
    at = short[-1]
    if at + 1 == len(values):
        return None
    below, above = margins[at], margins[at + 1]
    if not isfinite(above):
        return values[at + 1]
    share = log(target / below) / log(above / below)
    return round(exp(log(values[at]) + share * log(values[at + 1] / values[at])), 12)


def _error(values: list[float], margins: list[float], value: float | None, off: float) -> float:
    """Say what an error of the margins makes of a value, by the slope around it.

    >>> round(_error([5.0, 10.0, 20.0], [1.0, 2.0, 4.0], 10.0, 0.01), 9)
    0.1
    """
    if value is None:
        return 0.0
    # nearer than this a search stands on its own steps
    below = [n for n, each in enumerate(values) if each < value * (1.0 - APART)]
    above = [n for n, each in enumerate(values) if each > value * (1.0 + APART)]
    first, last = (below or [0])[-1], (above or [len(values) - 1])[0]
    rises = log(margins[last] / margins[first]) if isfinite(margins[last]) else 0.0
    if last == first or rises <= 0.0:
        return 0.0
    return value * off * log(values[last] / values[first]) / rises
