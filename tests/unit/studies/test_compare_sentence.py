"""The first words about knives compared: none is ranked that the bands do not tell apart."""

from __future__ import annotations

from math import inf
from types import SimpleNamespace
from typing import Any

from simedge.studies.compare_sentence import compare_sentences, shown_place
from simedge.studies.margin_band import MarginBand


def made_up(
    spread: float = 0.01,
    unsure: tuple[str, ...] = (),
    loads: tuple[tuple[str, bool], ...] = (("cutting", False),),
    hardest: dict[str, int] | None = None,
    **margins: float,
) -> Any:
    """Make a comparison with the margins that a test wants."""
    answers = [SimpleNamespace(name=name) for name, _ in loads]
    knives = [
        SimpleNamespace(
            name=name.replace("_", " "),
            sure=name not in unsure,
            margin=MarginBand(low=m * (1 - spread), value=m, high=m * (1 + spread)),
            run=SimpleNamespace(comes_through=m >= 1.0, loads=answers),
            governing=(answers[(hardest or {}).get(name, 0)], None),
        )
        for name, m in sorted(margins.items(), key=lambda item: -item[1])
    ]
    return SimpleNamespace(
        knives=knives,
        margins=tuple(k.margin for k in knives),
        first=knives[0],
        case=SimpleNamespace(loads=[SimpleNamespace(occasional=rare) for _, rare in loads]),
        unsolved=(),
    )


def test_how_many_come_through_which_takes_most_which_are_alike() -> None:
    study = made_up(carving_knife=6.2, rope_knife=0.9, axe=0.905, hoe=2.0)
    assert compare_sentences(study) == (
        "Of 4 knives 2 come through; the carving knife takes most, 6.2 times this work; the axe "
        "and the rope knife are as good as each other."
    )


def test_all_and_none() -> None:
    assert compare_sentences(made_up(a=2.0, b=3.0, c=4.0)) == (
        "All 3 knives come through; the c takes most, 4.0 times this work."
    )
    assert compare_sentences(made_up(a=0.2, b=0.3, c=0.4)) == (
        "None of the 3 knives comes through; the c comes nearest, at 0.4 of this work."
    )
    assert compare_sentences(made_up(a=2.0, b=0.5)) == (
        "Of 2 knives only the a comes through; the a takes most, 2.0 times this work."
    )
    assert compare_sentences(made_up(a=0.2, b=0.5)).startswith("Neither knife comes through; ")
    assert compare_sentences(made_up(a=2.0, b=5.0)).startswith("Both knives come through; ")


def test_knives_alike_are_not_ranked() -> None:
    assert compare_sentences(made_up(spread=0.2, a=2.0, b=2.2)) == (
        "Both knives come through; as far as this can tell they are as good as each other: 2.2 "
        "and 2.0 times this work."
    )
    assert compare_sentences(made_up(spread=0.05, a=1.0, b=4.0, c=4.1)) == (
        "All 3 knives come through; the c and the b take most and are as good as each other, 4.1 "
        "and 4.0 times this work."
    )


def test_far_apart_and_yet_not_told_apart() -> None:
    said = compare_sentences(made_up(spread=0.2, a=1.0, b=1.4, c=1.9, d=9.0))
    assert said.endswith(
        "the c and the b cannot be told apart, as steels of one name differ; the b and the a "
        "cannot be told apart, as steels of one name differ."
    )
    said = compare_sentences(made_up(spread=0.4, a=1.0, b=2.0))
    assert "they cannot be told apart, as steels of one name differ: 2.0 and 1.0 times" in said


def test_many_ties_are_left_to_the_table() -> None:
    margins = {f"k{n}": 1.3**n for n in range(9)}
    said = compare_sentences(made_up(spread=0.14, **margins))
    assert said.count("cannot be told apart") == 2
    assert said.endswith("; for other ties see the places below.")


def test_what_never_fails() -> None:
    assert compare_sentences(made_up(a=2.0, b=inf)) == (
        "Both knives come through; the b takes most: no more of this work would harm it."
    )
    assert "would harm any of them" in compare_sentences(made_up(a=inf, b=inf))


def test_what_hangs_on_the_piece_of_steel_is_told() -> None:
    said = compare_sentences(made_up(a=1.05, b=3.0, unsure=("a",)))
    assert said.startswith(
        "Both knives come through, though for the a that hangs on the very piece of steel; "
    )


def test_the_hardest_work_is_named_where_there_are_several() -> None:
    loads = (("cutting", False), ("a staple", True))
    said = compare_sentences(made_up(a=2.0, b=3.0, c=4.0, loads=loads))
    assert said.endswith('Of all this work "cutting" is the hardest on each of them.')
    said = compare_sentences(made_up(a=2.0, b=3.0, c=4.0, loads=loads, hardest={"a": 1}))
    assert said.endswith(
        'Hardest is "cutting" on 2 of them and "a staple", which comes now and then, on the a.'
    )


def test_places() -> None:
    assert (shown_place((2, 2)), shown_place((1, 3))) == ("2", "1 to 3")
