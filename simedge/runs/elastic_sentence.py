"""The elastic sentence about a load: how hard it works the steel, and where it first yields."""

from __future__ import annotations

from dataclasses import dataclass

from simedge.runs.shown_words import shown_factor, shown_length, shown_side
from simedge.strength.peaks import Peaks
from simedge.strength.yielding import YieldedRegion


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """How a load carries the tip.

    Attributes
    ----------
    lateral_mm, axial_mm : float or None
        Towards the left, into the blade; None where it moves as it will.
    reaction_n_per_mm : float
        Size of the force that it takes.
    alone : bool
        Nothing else acts.
    """

    lateral_mm: float | None
    axial_mm: float | None
    reaction_n_per_mm: float
    alone: bool


def _place(x_mm: float, y_mm: float, even: bool) -> str:
    return f"{shown_length(x_mm)} behind the apex, {shown_side(x_mm, y_mm, even=even)}"


def sentence_for(
    peaks: Peaks,
    yielded: YieldedRegion,
    yield_strength_mpa: float,
    yield_low_mpa: float,
    *,
    even: bool,
    nothing_left: bool = False,
    carried: Carried | None = None,
) -> str:
    """Say in one sentence how hard a load works the edge.

    Parameters
    ----------
    peaks : Peaks
    yielded : YieldedRegion
    yield_strength_mpa, yield_low_mpa : float
        Of the steel: as it should be, and at the low end of its spread.
    even : bool
        Section and load are alike on both sides.
    nothing_left : bool
        The parts of the load cancel everywhere.
    carried : Carried or None
        Of a load that imposes a movement.

    Returns
    -------
    str
        About yield only: it is where trouble starts, not yet damage.
    """
    if nothing_left:
        return "Nothing is left of this load: its parts cancel everywhere."
    if carried is not None:
        return _of_movement(carried, peaks, yielded, yield_strength_mpa, even=even)
    peak = peaks.section
    if peak is None or peak.value_mpa == 0.0:
        return _without_peak(yielded)
    factor = yield_strength_mpa / peak.value_mpa
    if factor > 1.0:
        weak = (
            " (within the steel's spread it may already)" if yield_low_mpa < peak.value_mpa else ""
        )
        at = f"{shown_factor(factor)} times this work{weak}, {_place(peak.x_mm, peak.y_mm, even)}."
        if yielded.depth_mm == 0.0:
            return f"Springs back: the steel nowhere reaches yield, and would first do so at {at}"
        return (
            "Springs back behind the very tip: only where the load sits does the steel reach "
            f"yield ({shown_length(yielded.depth_mm)} deep); the section would first do so at {at}"
        )
    beyond = " or more" if yielded.reaches_clamp else ""
    through = (
        f", and through its whole thickness down to {shown_length(yielded.through_depth_mm)}"
        if yielded.through_depth_mm is not None
        else ", on its faces first"
    )
    return (
        f"Yields: the steel is worked past yield down to {shown_length(yielded.depth_mm)}{beyond} "
        f"behind the apex{through}; the section first yields at {shown_factor(factor)} times "
        "this work."
    )


def _moved(carried: Carried, factor: float = 1.0) -> str:
    """Write a movement with its directions.

    >>> _moved(Carried(lateral_mm=-0.5, axial_mm=None, reaction_n_per_mm=1.0, alone=True))
    '0.5 mm to the right'
    """
    told = [
        f"{shown_length(abs(factor * length))} {words[length < 0]}"
        for length, words in (
            (carried.lateral_mm, ("to the left", "to the right")),
            (carried.axial_mm, ("in", "out")),
        )
        if length
    ]
    return " and ".join(told) or "nowhere"


def _of_movement(
    carried: Carried,
    peaks: Peaks,
    yielded: YieldedRegion,
    yield_strength_mpa: float,
    *,
    even: bool,
) -> str:
    """Say what a movement asks of the edge: the force, and how far it may be carried."""
    force = f"{float(f'{carried.reaction_n_per_mm:.2g}'):g} N on each mm of edge"
    start = f"Carried {_moved(carried)}, the edge pushes back with {force} and"
    peak = peaks.section
    if peak is None or peak.value_mpa == 0.0:
        return (
            f"{start} is worked past no yield that could be told."
            if not yielded.depth_mm
            else (f"{start} yields down to {shown_length(yielded.depth_mm)} behind the apex.")
        )
    factor = yield_strength_mpa / peak.value_mpa
    what = "this movement" if carried.alone else "this movement and all else"
    limit = f"{_moved(carried, factor)} ({shown_factor(factor)} times {what})"
    at = _place(peak.x_mm, peak.y_mm, even)
    if factor > 1.0:
        patch = (
            f", apart from the very tip, where it yields {shown_length(yielded.depth_mm)} deep"
            if yielded.depth_mm
            else ""
        )
        return f"{start} springs back{patch}; it would first yield at {limit}, {at}."
    beyond = " or more" if yielded.reaches_clamp else ""
    return (
        f"{start} yields, down to {shown_length(yielded.depth_mm)}{beyond} behind the apex; it "
        f"first does so at {limit}, {at}."
    )


def _without_peak(yielded: YieldedRegion) -> str:
    """Say what can be said of a tip load on a perfectly sharp tip."""
    if yielded.depth_mm == 0.0:
        return "Stress under this load has no finite peak."
    return (
        "Stress under this load has no finite peak; elastically this work would take "
        f"the steel to yield down to {shown_length(yielded.depth_mm)} behind the apex."
    )
