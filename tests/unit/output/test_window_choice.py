"""How deep the frames look."""

from __future__ import annotations

from dataclasses import replace

from simedge.output.window_choice import SAME_DEPTH, choose_depths


def test_frames_show_what_they_are_for(sample):
    for answer, depths in zip(sample.loads, choose_depths(sample), strict=True):
        pressed = [part.to_mm for part in answer.parts if part.to_mm is not None]
        outline = sample.outline
        assert depths.bevels_mm <= outline.depth_mm
        for place in (*outline.shoulders_mm, *pressed, answer.yield_depth_mm):
            assert place <= depths.bevels_mm
        if depths.close_up_mm is not None:
            assert outline.tip.width_mm < depths.close_up_mm < 0.5 * depths.bevels_mm


def test_work_much_smaller_than_the_bevels_gets_a_frame_of_its_own(rope_knife):
    # "wedged" presses over 1.5 mm, more than the bevels' 1.1 mm; the others far less
    close_ups = {
        answer.name: depths.close_up_mm
        for answer, depths in zip(rope_knife.loads, choose_depths(rope_knife), strict=True)
    }
    assert [name for name, close in close_ups.items() if close is None] == ["wedged"]


def test_rows_of_about_the_same_depth_share_it(rope_knife):
    first = rope_knife.loads[0]
    deeper = replace(first, yield_depth_mm=1.2 * choose_depths(rope_knife)[0].bevels_mm / 1.3)
    apart = replace(first, yield_depth_mm=2.0 * SAME_DEPTH * deeper.yield_depth_mm)
    shallow, deep, far = choose_depths(replace(rope_knife, loads=(first, deeper, apart)))
    assert shallow.bevels_mm == deep.bevels_mm
    assert far.bevels_mm > SAME_DEPTH * deep.bevels_mm
