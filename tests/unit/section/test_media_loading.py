"""Several media in one cut: windows of depths, one hand for all, by hand."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin, tan
from typing import Any

import pytest

from simedge.inputs.load import LayeredLoad, MediumLoad
from simedge.inputs.work_loads import Layer
from simedge.section.loading import tractions_of
from simedge.section.outline import Outline
from simedge.section.tractions import Tractions, resultant_up_to

Edge = Callable[..., Outline]
#: The data files: bone 250 MPa over 5 mm of edge, meat 0.3 MPa over 30; one hand gives 100 N.
BONE_MPA, BONE_MM, MEAT_MPA, HAND_N = 250.0, 5.0, 0.3, 100.0
BEGINS_MM = 0.0015 * (1 - sin(radians(15)))
BONE = Layer(medium="bone", from_mm=0.0, to_mm=0.05)
MEAT = Layer(medium="meat", from_mm=0.2, to_mm=6.0)


def acting(outline: Outline, *layers: Layer, **changes: Any) -> Tractions:
    return tractions_of(
        LayeredLoad(**{"layers": layers, "side": "left", **changes}), "trial", outline
    )


def windows(load: Tractions) -> list[tuple[str | None, float, float, float]]:
    return [(f.medium, f.from_mm, f.to_mm, f.pressure_mpa) for f in load.faces]


def test_each_medium_presses_in_its_window(edge: Edge) -> None:
    load = acting(edge(), BONE, MEAT)
    assert windows(load) == [
        ("bone", pytest.approx(BEGINS_MM, rel=1e-12), 0.05, BONE_MPA),
        ("meat", 0.2, 6.0, MEAT_MPA),
    ]
    assert load.contact_length_mm == BONE_MM  # the shortest
    assert load.limited_by == "medium"
    (tip,) = load.tip
    assert tip.medium == "bone"
    assert tip.axial_n_per_mm == pytest.approx(3 * BONE_MPA * 2 * 0.0015 * cos(radians(15)))


def test_the_order_of_writing_does_not_matter(edge: Edge) -> None:
    outline = edge()
    assert acting(outline, MEAT, BONE) == acting(outline, BONE, MEAT)


def test_one_hand_is_used_up_from_the_tip_backwards(edge: Edge) -> None:
    # 100 N over 5 mm are 20 N/mm: bone takes 250 x 0.05 (less the tip's start), meat what is left
    deep = Layer(medium="meat", from_mm=0.2, to_mm=11.0, level="high")  # 1 MPa
    load = acting(edge(), BONE, deep)
    left = HAND_N / BONE_MM - BONE_MPA * (0.05 - BEGINS_MM)
    assert load.faces[1].to_mm == pytest.approx(0.2 + left / 1.0, rel=1e-12)
    assert load.limited_by == "hand"
    # a weaker hand does not reach the meat at all
    weak = acting(edge(), BONE, deep, hand_force_n=50.0)
    assert [face.medium for face in weak.faces] == ["bone"]
    assert weak.faces[0].to_mm == pytest.approx(BEGINS_MM + 50 / (5 * 250), rel=1e-12)


def test_straight_the_axial_forces_add_up_to_the_hand(edge: Edge) -> None:
    outline = edge((), dps=15.0, height_mm=20.0)
    knot = Layer(medium="knots", from_mm=0.0, to_mm=0.03)
    wood = Layer(medium="hard wood", from_mm=0.03, to_mm=3.0)
    load = acting(outline, knot, wood, side="both")
    axial = float(resultant_up_to(load, outline, outline.depth_mm).axial_n_per_mm[0])
    assert axial == pytest.approx(HAND_N / 8.0, rel=1e-12)  # knots: 8 mm of edge
    # by hand: 2 p d (tan a + friction) on each window, the knot's from the tangent point
    rate = 2 * (tan(radians(15)) + 0.3)
    tip = 3 * 120 * 2 * 0.0015 * cos(radians(15))
    left = HAND_N / 8.0 - tip - 120 * rate * (0.03 - BEGINS_MM)
    assert load.faces[-1].to_mm == pytest.approx(0.03 + left / (60 * rate), rel=1e-12)
    assert load.is_straight


def test_a_gap_at_the_tip_leaves_it_alone(edge: Edge) -> None:
    load = acting(edge(), MEAT)
    assert load.tip == ()
    assert windows(load) == [("meat", 0.2, 6.0, MEAT_MPA)]


def test_one_layer_is_the_plain_medium(edge: Edge) -> None:
    outline = edge()
    plain = MediumLoad(medium="bone", depth_in_cut_mm=0.05, side="left")
    assert acting(outline, BONE) == tractions_of(plain, "trial", outline)


def test_touching_layers_of_one_medium_are_one(edge: Edge) -> None:
    outline = edge()
    whole = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="both")
    front = Layer(medium="hard wood", from_mm=0.0, to_mm=0.08)
    behind = Layer(medium="hard wood", from_mm=0.08, to_mm=0.5)
    one = tractions_of(whole, "trial", outline)
    two = acting(outline, front, behind, side="both")
    x = [0.05, 0.1, 1.0]
    ours, theirs = (resultant_up_to(load, outline, x) for load in (one, two))
    assert theirs.axial_n_per_mm == pytest.approx(ours.axial_n_per_mm, rel=1e-12)
    assert one.faces[-1].to_mm == pytest.approx(two.faces[-1].to_mm, rel=1e-12)


def test_a_layer_too_thin_to_press_is_passed_over(edge: Edge) -> None:
    thin = Layer(medium="meat", from_mm=0.06, to_mm=0.06 + 1e-9)
    for side in ("left", "both"):
        assert [face.medium for face in acting(edge(), BONE, thin, side=side).faces] == ["bone"] * (
            1 + (side == "both")
        )


def test_layers_that_touch_but_for_rounding(edge: Edge) -> None:
    # 7.62 mm are 0.3 in
    meat = Layer(medium="meat", from_mm=0.0, to_mm=7.62)
    behind = Layer(medium="vegetables", from_mm=0.3 * 25.4, to_mm=8.0)
    assert [face.medium for face in acting(edge(), meat, behind).faces] == ["meat", "vegetables"]


def test_what_the_hand_does_not_reach_is_said(edge: Edge) -> None:
    deep = Layer(medium="bone", from_mm=0.0, to_mm=5.0)
    behind = Layer(medium="meat", from_mm=5.0, to_mm=8.0)
    (said,) = acting(edge(), deep, behind).remarks
    assert said.startswith("the hand does not reach the meat from 5 mm on")
    assert acting(edge(), BONE, MEAT).remarks == ()
