"""The work in words."""

from __future__ import annotations

from dataclasses import replace

from simedge.output.load_arrows import part_words, work_words
from simedge.runs.answer import ActingPart

LEFT = ActingPart(
    at="left face",
    axial_n_per_mm=3.0,
    lateral_n_per_mm=-6.0,
    from_mm=0.001,
    to_mm=0.1,
    pressure_mpa=60.0,
    friction=0.3,
)
RIGHT = replace(LEFT, at="right face", lateral_n_per_mm=6.0)
TIP = ActingPart(at="tip", axial_n_per_mm=0.0, lateral_n_per_mm=-2.0)


def test_the_same_on_both_faces_is_said_once():
    assert work_words((LEFT, TIP, RIGHT)) == (
        "60\u202fMPa on both faces down to 0.1\u202fmm, friction 0.3",
        "2\u202fN/mm on the tip, sideways to the right",
        "",
    )


def test_what_differs_is_said_apart():
    for other in (
        replace(RIGHT, pressure_mpa=61.0),
        replace(RIGHT, to_mm=0.11),
        replace(RIGHT, from_mm=0.05),
        replace(RIGHT, friction=0.2),
        replace(RIGHT, at="left face"),
    ):
        words = work_words((LEFT, other))
        assert words == (part_words(LEFT), part_words(other))


def test_a_stretch_away_from_the_tip_has_both_ends():
    far = replace(LEFT, from_mm=0.05, friction=None)
    assert part_words(far) == "60\u202fMPa on the left face 50\u202fµm to 0.1\u202fmm"


def test_directions_of_a_tip_load():
    for axial, lateral, words in (
        (3.0, 0.0, "3\u202fN/mm on the tip, straight in"),
        (-3.0, 0.0, "3\u202fN/mm on the tip, pulling straight out"),
        (3.0, 3.0, "4.24\u202fN/mm on the tip, 45° left of straight in"),
        (0.0, 3.0, "3\u202fN/mm on the tip, sideways to the left"),
    ):
        part = replace(TIP, axial_n_per_mm=axial, lateral_n_per_mm=lateral)
        assert part_words(part) == words
