"""The first words about stiffness: nothing is ranked that the errors do not tell apart."""

from __future__ import annotations

from collections.abc import Callable

from simedge.studies.stiffness import StiffnessStudy
from simedge.studies.stiffness_sentence import is_stiffer, stiffness_sentences

Study = Callable[..., StiffnessStudy]


def test_two_blades(made_up: Study):
    # 1 N/mm over 5 and 2.5 N/mm2 moves 0.2 and 0.4 mm
    assert stiffness_sentences(made_up(hollow=(2.5, 4.0), flat=(5.0, 6.4))) == (
        "At 1 mm behind the apex the flat is the stiffer: 1.6 times as stiff as the hollow. A push "
        "of 1 N on each mm of edge moves the apex of the flat by 0.2 mm and the hollow by 0.4 mm."
    )


def test_three_blades_tell_the_next_and_the_softest(made_up: Study):
    said = stiffness_sentences(made_up(a=(1.0, 4.0), b=(1.0, 8.0), c=(1.0, 1.0)))
    assert said.startswith(
        "At 1 mm behind the apex the b is the stiffest: 2.0 times as stiff as the a, the next, and "
        "8.0 times as stiff as the c, the softest."
    )


def test_many_blades_tell_the_range_of_movements(made_up: Study):
    said = stiffness_sentences(made_up(a=(1.0, 1.0), b=(2.0, 2.0), c=(4.0, 4.0), d=(8.0, 8.0)))
    assert said.endswith("moves the apexes between 0.12 mm (d) and 1 mm (a).")


def test_little_differences_read_in_percent(made_up: Study):
    said = stiffness_sentences(made_up(a=(1.0, 4.0), b=(1.0, 4.12)))
    assert "the b is the stiffer: 3 % stiffer than the a." in said


def test_blades_within_their_errors_are_not_ranked(made_up: Study):
    said = stiffness_sentences(made_up(a=(1.0, 4.0), b=(1.0, 4.12), error=0.07))
    assert "the b and a are equally stiff" in said
    assert "stiffer" not in said
    said = stiffness_sentences(made_up(a=(1.0, 4.0), b=(1.0, 4.12), c=(1.0, 2.0), error=0.07))
    assert "the b and a are the stiffest, alike as far as the computation can tell" in said


def test_one_blade(made_up: Study):
    assert stiffness_sentences(made_up(hollow=(2.0, 4.0))) == (
        "At 1 mm behind the apex it takes 4.0 N on each mm of edge to move the hollow by 1 mm. A "
        "push of 1 N on each mm of edge moves the apex of the hollow by 0.5 mm."
    )


def test_sharp_apexes_are_told(made_up: Study):
    assert "without bound" in stiffness_sentences(made_up(a=(None, 4.0), b=(None, 5.0)))
    said = stiffness_sentences(made_up(a=(None, 4.0), b=(2.0, 5.0)))
    assert said.endswith("moves the apex of the b by 0.5 mm.")


def test_stiffer_needs_more_than_both_errors(made_up: Study):
    first, second = (blade.places[1] for blade in made_up(a=(1.0, 4.0), b=(1.0, 4.021)).blades)
    assert is_stiffer(second, first)
    assert not is_stiffer(first, second)
    first, second = (blade.places[1] for blade in made_up(a=(1.0, 4.0), b=(1.0, 4.019)).blades)
    assert not is_stiffer(second, first)
