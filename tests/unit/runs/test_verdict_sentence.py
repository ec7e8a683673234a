"""The verdict in words: what gives, how deep, and at how many times the load."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest

from simedge.runs.verdict_sentence import verdict_sentence
from simedge.strength.load_factors import KindFactor, LoadFactors
from simedge.strength.recession import Recession
from simedge.strength.verdict import Damage, Outcome, Verdict


def gone(depth_mm: float, *, beyond: bool = False, land_um: float = 0.0) -> Damage:
    """Give what is lost of an edge."""
    return Damage(recession=Recession(depth_mm=depth_mm, beyond=beyond), blunted_land_um=land_um)


NEVER = KindFactor(value=inf, low=inf, high=inf)
ROLL = KindFactor(value=0.7, low=0.63, high=0.77, x_mm=0.16, side="right")
CHIP = KindFactor(value=0.9, low=0.6, high=1.4, x_mm=0.2, side="left")
FAILS = Verdict(
    outcome=Outcome.ROLLS,
    governing_kind="roll",
    near_kinds=(),
    factors=LoadFactors(blunt=NEVER, roll=ROLL, chip=None, crumble=NEVER, spread_at_fold=1.0),
    margin=0.7,
    sure=True,
    tolerated_damage_um=5.0,
    find_damage=lambda: gone(0.0622),
)


def holding(value: float, roll: KindFactor, **changes: object) -> Verdict:
    """Give a verdict by which the edge comes through, the roll first."""
    return replace(
        FAILS,
        outcome=Outcome.COMES_THROUGH,
        margin=value,
        find_damage=lambda: gone(0.0),
        factors=replace(FAILS.factors, roll=roll),
        **changes,  # type: ignore[arg-type]
    )


def test_a_roll_says_how_deep_where_to_and_what_would_hold() -> None:
    assert verdict_sentence(FAILS) == (
        "Rolls: about 62 µm would fold to the right; it would hold at 0.7 of this load."
    )
    assert verdict_sentence(FAILS, "this movement").endswith("0.7 of this movement.")


def test_kinds_within_the_band_are_both_named() -> None:
    both = replace(FAILS, near_kinds=("chip",), factors=replace(FAILS.factors, chip=CHIP))
    assert verdict_sentence(both) == (
        "Rolls or chips: about 62 µm of the edge would be lost; it would hold at 0.7 of this load."
    )


def test_a_verdict_that_could_be_otherwise_says_so() -> None:
    assert "may hold as it is" in verdict_sentence(replace(FAILS, sure=False))
    roll = replace(ROLL, value=1.05, low=0.94, high=1.15)
    assert verdict_sentence(holding(1.05, roll, sure=False)) == (
        "Comes through, at up to 1.1 times this load, though a roll may come at 0.94 of it, as "
        "steels of one name differ. First to give would be a roll to the right 0.16 mm behind "
        "the apex."
    )


def test_coming_through_names_what_would_give_first() -> None:
    roll = replace(ROLL, value=1.8, low=1.6, high=2.0)
    assert verdict_sentence(holding(1.8, roll, near_kinds=("chip",))) == (
        "Comes through, at up to 1.8 times this load. First to give would be a roll to the right "
        "0.16 mm behind the apex or a chip."
    )
    crushed = replace(roll, value=4321.0, side="neither")
    assert verdict_sentence(holding(4321.0, crushed, near_kinds=("blunt",))) == (
        "Comes through, at more than 1000 times this load. First to give would be the section "
        "0.16 mm behind the apex, crushed, or a blunted tip."
    )
    assert verdict_sentence(holding(inf, NEVER)) == (
        "Comes through: no more of this load would harm it."
    )


@pytest.mark.parametrize(
    ("kind", "changes", "words"),
    [
        (
            "blunt",
            {"find_damage": lambda: gone(0.0622, land_um=9.0)},
            "62 µm of the tip would be crushed, to a land 9 µm",
        ),
        ("crumble", {}, "Crumbles: about 62 µm of the edge would crumble away"),
        ("roll", {"find_damage": lambda: gone(3.0, beyond=True)}, "no edge would be left"),
    ],
)
def test_each_kind_has_its_own_words(kind: str, changes: dict[str, object], words: str) -> None:
    found = replace(FAILS, governing_kind=kind, **changes)  # type: ignore[arg-type]
    assert words in verdict_sentence(found)


def test_parts_that_cancel_harm_nothing() -> None:
    assert verdict_sentence(None).startswith("Nothing is left of this load")
