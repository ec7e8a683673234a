"""Traced sections: which end is the edge, what the tip is, what the faces are between points."""

from __future__ import annotations

import math
import random
import time
from contextlib import nullcontext
from typing import Any

import pytest
from hypothesis import assume, given, reject
from hypothesis import strategies as st
from pydantic import ValidationError

from simedge.inputs.faces import Faces
from simedge.inputs.grinds import Apex
from simedge.inputs.paired_faces import SAME_DEPTH_SHARE
from simedge.inputs.problems import FieldProblems
from simedge.inputs.traced import TracedProfile
from simedge.inputs.traced_faces import traced_section
from simedge.section.outline import build_outline

Points = list[tuple[float, float]]

#: 15 and 11 per side, closed: a land of 4 µm, shoulders at 0.45 mm thickness, a flat spine.
KNIFE: Points = [
    (28.0, 1.6),
    (1.1, 0.225),
    (0.0, 0.002),
    (0.0, -0.002),
    (1.1, -0.225),
    (28.0, -1.6),
    (28.0, 1.6),
]
#: The left face 0.1 mm thicker at the spine, so that the sides can be told apart.
UNEVEN: Points = [(28.0, 1.7), *KNIFE[1:-1], (28.0, 1.7)]


def faces_of(points: Points, **more: Any) -> Faces:
    return TracedProfile(points_mm=tuple(points), **more).faces


def refusal(points: Points, apex: Apex | None = None) -> tuple[tuple[str | int, ...], str]:
    """Give the path and the message of the one thing that is wrong."""
    with pytest.raises(FieldProblems) as caught:
        traced_section(tuple(points), 0.0, apex)
    (item,) = caught.value.items
    return item.path, item.message


# ---------------------------------------------------------------- drawings of all kinds


def test_points_become_the_faces_between_them() -> None:
    profile = TracedProfile(points_mm=tuple(KNIFE))
    faces = profile.faces
    assert profile.apex == Apex(land_um=4.0)
    assert faces.left_mm == ((0.0, 0.002), (1.1, 0.225), (28.0, 1.6))
    assert faces.right_mm == ((0.0, -0.002), (1.1, -0.225), (28.0, -1.6))
    assert faces.sides_deg[0][0] == pytest.approx(math.degrees(math.atan2(0.223, 1.1)), rel=1e-12)
    assert faces.remarks == ()


@pytest.mark.parametrize("start", range(6))
@pytest.mark.parametrize("way", [1, -1], ids=["one way", "the other way"])
def test_where_the_outline_begins_and_which_way_it_runs_change_no_bit(start: int, way: int) -> None:
    ring = UNEVEN[:-1]
    ring = (ring[start:] + ring[:start])[::way]
    assert faces_of([*ring, ring[0]]) == faces_of(UNEVEN)


# +y is left; a mirrored drawing keeps it, one that stands upright has it at smaller x
@pytest.mark.parametrize(
    ("turned", "said"),
    [
        (lambda x, y: (30 - x, y), "far end of x: mirrored"),
        (lambda x, y: (-y, x), "drawn upright with its edge at the bottom"),
        (lambda x, y: (-y, 40 - x), "drawn upright with its edge at the top"),
    ],
    ids=["edge at the right", "edge down", "edge up"],
)
def test_other_drawings_are_turned_and_that_is_said(turned: Any, said: str) -> None:
    faces = faces_of([turned(x, y) for x, y in UNEVEN])
    (remark,) = faces.remarks
    assert said in remark
    for side in ("left", "right"):
        for curve, plain in zip(getattr(faces, side), getattr(faces_of(UNEVEN), side), strict=True):
            assert curve.end_mm == pytest.approx(plain.end_mm, abs=1e-12)


def test_swapped_columns_are_told_by_the_shape() -> None:
    faces = faces_of([(y, x) for x, y in KNIFE])
    assert "its two columns swapped" in faces.remarks[0]
    assert faces.left_mm == faces_of(KNIFE).left_mm


def test_an_origin_elsewhere_changes_nothing_but_rounding() -> None:
    faces = faces_of([(x + 100.0, y - 50.0) for x, y in KNIFE])
    assert faces.remarks == ()
    assert faces.left == faces.right  # mirror images to the last bit
    assert faces.height_mm == pytest.approx(28.0, rel=1e-12)
    assert faces.left_mm[1] == pytest.approx((1.1, 0.225), abs=1e-12)


def test_a_short_wide_wedge_is_not_taken_for_an_upright_one() -> None:
    # 45 degrees per side: twice as wide as it is high
    faces = faces_of([(10.0, 10.0), (0.0, 0.0), (10.0, -10.0), (10.0, 10.0)])
    assert faces.sides_deg == ((45.0, 45.0),)


def test_alike_ends_are_asked_about() -> None:
    dagger = [(0.0, 0.0), (15.0, 2.0), (30.0, 0.0), (15.0, -2.0)]
    path, message = refusal(dagger)
    assert path == ("points_mm",)
    assert "nothing tells the edge from the spine" in message


def test_a_unit_that_makes_no_blade_is_asked_about() -> None:
    assert "span 2.8e+04 mm" in refusal([(1000 * x, 1000 * y) for x, y in KNIFE])[1]
    assert "x_um,y_um" in refusal([(1e-4 * x, 1e-4 * y) for x, y in KNIFE])[1]


# ---------------------------------------------------------------- gaps and spines


def test_an_open_outline_is_closed_at_the_spine() -> None:
    (remark,) = faces_of(KNIFE[:-1]).remarks
    assert remark == "the outline was open: closed at the spine by a straight line of 3.2 mm"


def test_an_outline_that_does_not_return_at_the_edge_is_closed_where_neighbours_are_as_far() -> (
    None
):
    ring = [KNIFE[2], *KNIFE[1::-1], *KNIFE[5:2:-1]]  # ends on both sides of the land
    (remark,) = faces_of(ring).remarks
    assert "between point 6 and point 1 by a straight line of 0.004 mm" in remark


def test_a_part_of_a_face_that_is_missing_is_refused() -> None:
    right = [(0.2 * k, -0.0114 * k) for k in range(141)]
    left = [(28.0 - 0.1 * k, 1.6 * (1 - k / 280)) for k in range(240)]  # ends at 4.1 mm
    path, message = refusal([*right, *left])
    assert path == ("points_mm", 380)
    assert message.startswith("is the last, 4.107 mm away from the first in point 1 and not at")
    faces_of([*right, *left, (2.0, 0.115), (1.0, 0.0575)])


def test_a_round_spine_is_cut_off_where_both_faces_still_go_on() -> None:
    cap = [
        (28.0 + 1.6 * math.sin(a), 1.6 * math.cos(a))
        for a in [0.4 + (math.pi - 0.8) * k / 6 for k in range(7)]
    ]
    faces = faces_of([*KNIFE[1:6], *cap[::-1], KNIFE[0]])
    assert faces.height_mm == pytest.approx(28.0 + 1.6 * math.sin(0.4), rel=1e-12)
    assert any("is not straight across" in remark for remark in faces.remarks)


def test_a_spine_that_comes_to_a_point_is_cut_off_too() -> None:
    # 1.5 mm out over 3 mm: less steep than what counts as a spine on its own
    faces = faces_of([(26.0, 1.5), *KNIFE[1:5], (26.0, -1.5), (29.0, 0.0), (26.0, 1.5)])
    assert faces.height_mm == 26.0
    assert faces.spine_thickness_mm == 3.0


def test_faces_of_different_lengths_end_together() -> None:
    faces = faces_of([(24.0, 1.4), *KNIFE[1:6]])
    assert faces.height_mm == 24.0
    # the right face is straight from (1.1, 0.225) to (28, 1.6)
    assert faces.right_mm[-1][1] == pytest.approx(-(0.225 + 1.375 * 22.9 / 26.9), rel=1e-12)


def test_a_section_without_a_spine_misses_a_part() -> None:
    # the left face ends at 9 mm: what is left is a sliver with a point at either end
    path, message = refusal([(9.0, 0.6), *KNIFE[1:6]])
    assert path == ("points_mm",)
    assert "0.004 mm thick" in message
    assert "is a part of it missing?" in message


# ---------------------------------------------------------------- no polygon, or no blade


def test_points_that_enclose_nothing() -> None:
    assert "2 different ones" in refusal([(0.0, 0.0), (1.0, 1.0), (0.0, 0.0)])[1]
    assert "lie on one line" in refusal([(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (5.0, 5.0)])[1]


def test_a_crossing_names_both_segments_and_the_place() -> None:
    crossed = [(28.0, 1.6), (1.0, -0.2), (0.0, 0.0), (1.0, 0.2), (28.0, -1.6)]
    path, message = refusal(crossed)
    assert path == ("points_mm", 0)
    # both lines from 0.2 mm at 1 mm to 1.6 mm at 28 mm: they meet at y = 0, x = 1 + 27 / 9
    assert "up to point 2, that the one from point 4 to point 5 crosses at (4, 0) mm" in message


def test_an_outline_that_touches_itself_is_refused() -> None:
    touching = [*KNIFE[:2], (14.0, -0.8841), *KNIFE[2:6]]
    touching[2] = (14.55, -(0.225 + 1.375 * 0.5))  # the middle of the right face
    assert "must not cross or touch itself" in refusal(touching)[1]


def test_a_spike_is_refused_at_its_end() -> None:
    spiked = [*KNIFE[:2], (1.1, 5.0), (1.1, 0.225), *KNIFE[2:]]
    path, message = refusal(spiked)
    assert path == ("points_mm", 2)
    assert "there and back on the same line" in message


def test_an_overhang_is_refused_at_its_point() -> None:
    path, message = refusal([KNIFE[0], (5.0, 0.9), (6.0, 0.5), *KNIFE[1:]])
    assert path == ("points_mm", 1)
    assert "than point 3" in message
    assert "the left one overhangs here" in message


def test_repeated_points_are_one_and_points_on_a_line_tell_nothing() -> None:
    middle = (14.55, 0.225 + 1.375 * 0.5)
    doubled = [KNIFE[0], KNIFE[0], middle, middle, *KNIFE[1:]]
    assert faces_of(doubled) == faces_of(KNIFE)


# ---------------------------------------------------------------- whatever points there are

COORDINATE = st.one_of(
    st.floats(-50, 50, allow_nan=False), st.integers(-4, 4).map(float), st.floats(-0.01, 0.01)
)


@given(
    points=st.lists(st.tuples(COORDINATE, COORDINATE), max_size=12),
    apex=st.sampled_from([None, Apex(radius_um=1.0), Apex(land_um=4.0), Apex(sharp=True)]),
)
def test_any_points_are_a_section_or_are_refused(points: Points, apex: Apex | None) -> None:
    try:
        section = traced_section(tuple(points), 0.0, apex)
    except FieldProblems as error:
        for item in error.items:
            assert item.path[0] in ("points_mm", "apex")
            assert item.message.isprintable()
        return
    for face in (section.faces.left, section.faces.right):
        for curve in face:
            assert curve.begin_mm[0] < curve.end_mm[0]
            assert all(map(math.isfinite, (*curve.begin_mm, *curve.end_mm, curve.bulge_mm)))
    assert build_outline(section.apex, section.faces).area_mm2 > 0.0


@st.composite
def simple_sections(draw: st.DrawFn) -> Points:
    """Give a section that does not cross itself: both faces go out, ever less, on each side."""
    faces = []
    for sign in (1.0, -1.0):
        steps = draw(st.lists(st.floats(0.01, 3.0), min_size=1, max_size=30))
        # angles grow towards the apex, as on a blade
        drawn = draw(st.lists(st.floats(0.01, 0.6), min_size=len(steps), max_size=len(steps)))
        slopes = sorted(drawn, reverse=True)
        x, out, face = 0.0, draw(st.sampled_from([1e-4, 0.01])), []
        for step, slope in zip([*steps, 0.0], [*slopes, 0.0], strict=True):
            face.append((x, sign * out))
            x, out = x + step, out + step * slope
        faces.append([*face[:-1], (40.0 if sum(steps) < 39 else x + 1.0, face[-1][1])])
    return [*faces[0][::-1], *faces[1]]


@given(points=simple_sections())
def test_a_section_that_does_not_cross_itself_keeps_its_thickness(points: Points) -> None:
    ends = sorted(x for x, _ in (points[0], points[-1]))
    assume(ends[0] > 0.6 * ends[1])
    try:
        section = traced_section(tuple(points), 0.0, None)
    except FieldProblems as error:
        # a bar with a slant at its end has no edge that could be told, or none that is a tip
        told = [item.message for item in error.items]
        assert all("ends are alike" in text or "neither round" in text for text in told)
        reject()
    outline = build_outline(section.apex, section.faces)
    if any("scatter" in remark for remark in section.faces.remarks):
        return
    for x, y in points:
        if x < 0.999 * section.faces.height_mm:
            side = "left" if y > 0 else "right"
            offset = section.faces.left_mm[0][1] - points[[p[0] for p in points].index(0.0)][1]
            # two faces' shoulders at about one depth are put at one: half of that share, times
            # the steepest slope drawn
            near = 1e-5 + 0.5 * SAME_DEPTH_SHARE * 0.6 * float(outline.thickness_mm(x))
            assert float(outline.face_y_mm(side, x)) == pytest.approx(y + offset, abs=near)


@pytest.mark.parametrize("shape", ["zigzag", "comb", "ellipse", "rough"])
def test_five_thousand_points_take_less_than_two_seconds(shape: str) -> None:
    made = random.Random(1)
    points = {
        "zigzag": [(0.0 if k % 2 else 30.0, 1e-3 * k) for k in range(5000)],
        "comb": [(0.01 * k, 5.0 if k % 2 else 0.1) for k in range(2500)],
        "ellipse": [
            (30 * math.cos(2 * math.pi * k / 5000), 2 * math.sin(2 * math.pi * k / 5000))
            for k in range(5000)
        ],
        "rough": [(6e-3 * k, 0.01 + 3e-4 * k + made.gauss(0, 2e-3)) for k in range(2500)],
    }[shape]
    if shape in ("comb", "rough"):
        points = [*points[::-1], *[(x, -y) for x, y in points]]
    began = time.perf_counter()
    with nullcontext() if shape == "rough" else pytest.raises(FieldProblems):
        traced_section(tuple(points), 0.0, None)
    assert time.perf_counter() - began < 2.0


def test_python_learns_of_bad_points_as_of_any_other_field() -> None:
    with pytest.raises(ValidationError, match="lie on one line"):
        TracedProfile(points_mm=((0.0, 0.0), (1.0, 1.0), (2.0, 2.0)))
