"""Words find room, and lines break where they may."""

from __future__ import annotations

import numpy as np
import pytest

from simedge.output.label_places import (
    Box,
    Room,
    text_size_in,
    text_width_in,
    wrap_evenly,
    wrap_text,
)
from simedge.output.palette import SMALL_PT, type_face

FACE = type_face(SMALL_PT)


@pytest.mark.parametrize(
    "text",
    ["", "one", "two words", "a steel held from 12\u202fmm on, " * 6, "W" * 200, "a " + "m" * 90],
)
def test_lines_keep_to_their_width_and_lose_nothing(text):
    lines = wrap_text(text, FACE, 1.5)
    assert all(text_width_in(line, FACE) <= 1.5 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_a_number_keeps_its_unit():
    words = "120\u202fMPa on the left face 7.24\u202fµm to 90.6\u202fµm"
    for width in (0.6, 0.9, 1.2, 1.75):
        assert all(line[0] not in "µM" for line in wrap_text(words, FACE, width))


def test_even_lines_are_as_few_and_no_word_is_left_alone():
    words = "6.92\u202fN/mm on the tip, straight in"
    greedy, even = wrap_text(words, FACE, 1.75), wrap_evenly(words, FACE, 1.75)
    assert len(even) == len(greedy) == 2
    assert even[-1] == "tip, straight in"


def test_labels_at_one_anchor_do_not_overlap():
    room, size = Room(4.0, 2.0), text_size_in(("60 MPa on the left face",), FACE)
    boxes = [room.place(size, (2.0, 1.0))[0] for _ in range(8)]
    for number, one in enumerate(boxes):
        assert one.left >= 0.0
        assert one.left + one.width <= 4.0
        assert one.bottom >= 0.0
        assert one.bottom + one.height <= 2.0
        for other in boxes[:number]:
            assert (
                one.left + one.width <= other.left
                or other.left + other.width <= one.left
                or one.bottom + one.height <= other.bottom
                or other.bottom + other.height <= one.bottom
            )


def test_labels_stay_off_the_steel_where_there_is_room():
    room = Room(4.0, 2.0)
    room.add_steel(np.array([[1.0, 1.0], [4.0, 1.8], [4.0, 0.2], [1.0, 1.0]]))
    assert room.is_clear(room.place((0.8, 0.15), (2.0, 1.2))[0])
    assert not room.is_clear(Box(left=3.0, bottom=0.9, width=0.5, height=0.2))


def test_a_label_larger_than_its_frame_is_placed_all_the_same():
    box, _ = Room(0.5, 0.2).place((3.0, 0.6), (0.2, 0.1))
    assert box.width == 3.0
