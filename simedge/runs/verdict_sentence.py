"""The first line about a load: does the edge come through, and if not, what gives, how deep."""

from __future__ import annotations

from math import isinf

from simedge.runs.shown_words import shown_factor, shown_length
from simedge.strength.load_factors import Kind, KindFactor
from simedge.strength.roll import Direction
from simedge.strength.verdict import Verdict

VERBS: dict[Kind, str] = {
    "blunt": "blunts",
    "roll": "rolls",
    "chip": "chips",
    "crumble": "crumbles",
}
#: What becomes of a section that gives without folding to a side.
UNBENT: dict[Direction | None, str] = {"neither": "crushed", "apart": "pulled apart"}
NOUNS: dict[Kind, str] = {
    "blunt": "a blunted tip",
    "roll": "a roll",
    "chip": "a chip",
    "crumble": "crumbling",
}


def verdict_sentence(verdict: Verdict | None, work: str = "this load") -> str:
    """Say what becomes of an edge.

    Parameters
    ----------
    verdict : Verdict or None
        None where the parts of the load cancel.
    work : str
        What is asked of it, in the words to use.
    """
    if verdict is None:
        return "Nothing is left of this load: its parts cancel everywhere."
    if verdict.comes_through:
        return _comes_through(verdict, work)
    kinds = (verdict.governing_kind, *verdict.near_kinds)
    first = " or ".join(VERBS[kind] for kind in kinds)
    hold = f"it would hold at {shown_factor(verdict.margin)} of {work}"
    if verdict.recession.beyond:
        return f"{first.capitalize()}: no edge would be left in front of the clamp; {hold}."
    return f"{first.capitalize()}: {_damage(verdict)}; {hold}{_unsure(verdict)}."


def _unsure(verdict: Verdict) -> str:
    """Say that another steel of the same name might hold."""
    return "" if verdict.sure else ", and may hold as it is, as steels of one name differ"


def _comes_through(verdict: Verdict, work: str) -> str:
    if isinf(verdict.margin):
        return f"Comes through: no more of {work} would harm it."
    margin = shown_factor(verdict.margin)
    up_to = "at" if margin.startswith("more") else "at up to"
    start = f"Comes through, {up_to} {margin} times {work}"
    if not verdict.sure:
        possible = verdict.factors.possible
        weakest = min(possible, key=lambda kind: possible[kind].low)
        low = shown_factor(possible[weakest].low)
        at = "just at it" if low == "1.0" else f"at {low} of it"
        start += f", though {NOUNS[weakest]} may come {at}, as steels of one name differ"
    first = _place(verdict.governing_kind, verdict.governing)
    comma = "," if "," in first else ""
    near = "".join(f"{comma} or {NOUNS[kind]}" for kind in verdict.near_kinds)
    return f"{start}. First to give would be {first}{near}."


def _place(kind: Kind, factor: KindFactor) -> str:
    """Name a kind of failure with its place."""
    if kind == "blunt" or factor.x_mm is None:
        return NOUNS[kind]
    at = f"{shown_length(factor.x_mm)} behind the apex"
    if kind == "roll" and factor.side in UNBENT:
        return f"the section {at}, {UNBENT[factor.side]}"
    if kind == "roll":
        return f"a roll to the {factor.side} {at}"
    return f"{NOUNS[kind]} from the {factor.side} face {at}"


def _damage(verdict: Verdict) -> str:
    """Say what would be gone."""
    depth = f"about {shown_length(verdict.recession.depth_mm)}"
    kind, side = verdict.governing_kind, verdict.governing.side
    if kind == "blunt":
        land = shown_length(verdict.blunted_land_um / 1000.0)
        return f"{depth} of the tip would be crushed, to a land {land} wide"
    if verdict.near_kinds or kind == "chip":
        return f"{depth} of the edge would be lost"
    if kind == "crumble":
        return f"{depth} of the edge would crumble away"
    if side in UNBENT:
        return f"{depth} would be {UNBENT[side]}"
    return f"{depth} would fold to the {side}"
