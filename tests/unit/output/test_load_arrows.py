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


def test_a_carried_tip_tells_movement_and_force():
    carried = replace(TIP, carried_lateral_mm=-0.05)
    assert part_words(carried) == (
        "the tip carried 50\u202fµm to the right by 2\u202fN/mm, sideways to the right"
    )
    both = replace(carried, carried_lateral_mm=0.3, carried_axial_mm=0.001, axial_n_per_mm=2.0)
    assert part_words(both).startswith(
        "the tip carried 0.3\u202fmm to the left and 1\u202fµm in by"
    )
    free = replace(carried, lateral_n_per_mm=0.0)
    assert part_words(free) == "the tip carried 50\u202fµm to the right by no force"


def test_several_media_are_named_and_one_is_not():
    bone, meat = replace(LEFT, medium="bone"), replace(LEFT, medium="meat", from_mm=0.1, to_mm=8.0)
    assert work_words((bone,)) == (part_words(LEFT),)
    assert work_words((bone, meat)) == (
        f"bone: {part_words(bone)}",
        f"meat: {part_words(meat)}",
    )
    # on both faces each is still said once
    mirrored = (replace(bone, at="right face"), replace(meat, at="right face"))
    assert work_words((bone, meat, *mirrored))[2:] == ("", "")
    # what is of no medium stays without a name
    assert work_words((bone, meat, TIP))[2] == part_words(TIP)


def test_rubbing_towards_the_apex_is_said():
    assert part_words(replace(LEFT, friction=-0.2163)).endswith("friction 0.216 towards the apex")
