"""The verdict's rows in the terminal: how many times the load each kind of failure takes."""

from __future__ import annotations

from collections.abc import Iterator
from math import isinf

from simedge.runs.shown_words import shown_factor, shown_length
from simedge.runs.verdict_sentence import UNBENT
from simedge.strength.load_factors import KINDS, Kind, KindFactor
from simedge.strength.verdict import Verdict

LABELS: dict[Kind, str] = {
    "blunt": "blunts at",
    "roll": "rolls at",
    "chip": "chips at",
    "crumble": "crumbles at",
}
FACES = {"left": "on the left", "right": "on the right"}


def verdict_rows(verdict: Verdict, work: str) -> Iterator[tuple[str, str, str]]:
    """Give label, value and place of each row.

    Parameters
    ----------
    verdict : Verdict
    work : str
        ``work`` or ``movement``.
    """
    for kind in KINDS:
        factor = verdict.factors.of(kind)
        if factor is None:
            yield LABELS[kind], "not judged", "toughness not known"
        elif factor.folds_first:
            yield LABELS[kind], _folds(factor), ""
        elif not isinf(factor.value):
            yield LABELS[kind], _times(factor, work), _place(kind, factor)
    yield "damage", _damage(verdict), ""
    if verdict.blunted_land_um and not verdict.recession.beyond:
        yield "tip flattened over", shown_length(verdict.blunted_land_um / 1000.0), ""


def shown_span(factor: KindFactor | None) -> str:
    """Write a load factor with both ends of its band, for a narrow cell."""
    if factor is None:
        return "not judged"
    if factor.folds_first:
        return _folds(factor)
    if isinf(factor.value):
        return "never"
    return f"{shown_factor(factor.value)}{_ends(factor)}"


def _times(factor: KindFactor, work: str) -> str:
    return f"{shown_factor(factor.value)} × this {work}{_ends(factor)}"


def _ends(factor: KindFactor) -> str:
    low, high = shown_factor(factor.low), shown_factor(factor.high)
    if isinf(factor.high):
        high = "never"
    return "" if low == high else f" ({low} to {high})"


def _folds(factor: KindFactor) -> str:
    """Say of a chip that it is a roll, and when the weak end of such a steel breaks."""
    weak = "" if factor.always_folds else f" (weak end: {shown_factor(factor.low)})"
    return f"rolls first{weak}"


def _place(kind: Kind, factor: KindFactor) -> str:
    if kind == "blunt" or factor.x_mm is None:
        return ""
    where = shown_length(factor.x_mm)
    if kind == "roll":
        unbent = UNBENT.get(factor.side)
        return f"{where}, {unbent}" if unbent else f"{where}, to the {factor.side}"
    rubbed = ", if nothing rubs" if factor.frictionless else ""
    return f"{where}, {FACES.get(factor.side or '', '')}{rubbed}"


def _damage(verdict: Verdict) -> str:
    depth, tolerated = verdict.recession.depth_mm, verdict.tolerated_damage_um
    allowed = f"{tolerated:g} µm tolerated"
    if verdict.recession.beyond:
        return f"no edge left in front of the clamp ({allowed})"
    if depth <= 0.0:
        return f"none ({allowed})"
    return f"{shown_length(depth)} deep ({allowed})"
