"""What a load in a person's words puts on the outline: the rules of issue 2, by hand."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin, tan
from typing import Any

import pytest

from simedge.inputs.grinds import Apex, PrimaryGrind
from simedge.inputs.load import (
    CombinedLoad,
    FaceLoad,
    Load,
    MediumLoad,
    TipForce,
    TipLineLoad,
)
from simedge.inputs.profile import Profile
from simedge.section.loading import tractions_of
from simedge.section.media_loading import medium_tip_load_n_per_mm
from simedge.section.outline import Outline, build_outline
from simedge.section.tractions import FaceTraction, Tractions, resultant_up_to

Edge = Callable[..., Outline]

#: Hard wood bears 60 MPa and takes 15 mm of edge; one hand gives 100 N (the data files).
WOOD_MPA, WOOD_MM, HAND_N = 60.0, 15.0, 100.0
BEGINS_MM = 0.0015 * (1 - sin(radians(15)))
TIP_N_PER_MM = 3 * WOOD_MPA * 2 * 0.0015 * cos(radians(15))


def acting(load: Load, outline: Outline) -> Tractions:
    return tractions_of(load, "trial", outline)


def wood(**changes: Any) -> MediumLoad:
    return MediumLoad(**{"medium": "hard wood", "depth_in_cut_mm": 0.5, "side": "left", **changes})


def axial_of(load: Tractions, outline: Outline) -> float:
    return float(resultant_up_to(load, outline, outline.depth_mm).axial_n_per_mm[0])


# ---------------------------------------------------------------- a medium on one side


def test_the_hand_caps_what_one_side_is_pressed(edge: Edge) -> None:
    load = acting(wood(), edge())
    # F / (L p) = 100 / (15 x 60) = 0.1111 mm, counted from where the face leaves the tip
    (face,) = load.faces
    assert face == FaceTraction(
        side="left",
        from_mm=pytest.approx(BEGINS_MM, rel=1e-12),
        to_mm=pytest.approx(BEGINS_MM + 1 / 9, rel=1e-12),
        pressure_mpa=60.0,
        friction=0.3,
        medium="hard wood",
    )
    assert load.limited_by == "hand"
    assert load.contact_length_mm == WOOD_MM
    assert (load.name, load.remarks) == ("trial", ())


def test_the_medium_caps_a_shallow_cut(edge: Edge) -> None:
    load = acting(wood(depth_in_cut_mm=0.1, side="right", friction=0.0), edge())
    (face,) = load.faces
    assert (face.side, face.to_mm, face.friction) == ("right", 0.1, 0.0)
    assert load.limited_by == "medium"


def test_a_medium_bears_on_the_tip_three_times_its_strength(edge: Edge) -> None:
    outline = edge()
    (tip,) = acting(wood(), outline).tip
    assert tip.axial_n_per_mm == pytest.approx(TIP_N_PER_MM, rel=1e-12)
    assert tip.axial_n_per_mm == pytest.approx(0.52160, rel=1e-5)
    assert (tip.lateral_n_per_mm, tip.spread) == (0.0, "smooth")
    assert medium_tip_load_n_per_mm(WOOD_MPA, outline) == tip.axial_n_per_mm
    # a land is as wide as it is written: 3 x 60 x 0.008
    (tip,) = acting(wood(), edge(land_um=8.0)).tip
    assert tip.axial_n_per_mm == pytest.approx(1.44, rel=1e-12)
    assert acting(wood(), edge(sharp=True)).tip == ()


def test_the_hand_caps_the_tip_too(edge: Edge) -> None:
    load = acting(wood(hand_force_n=1.5), edge())
    assert load.tip[0].axial_n_per_mm == pytest.approx(1.5 / WOOD_MM, rel=1e-12)
    assert load.limited_by == "hand"


@pytest.mark.parametrize(("level", "strength"), [("low", 40.0), ("typical", 60.0), ("high", 80.0)])
def test_levels_of_a_medium(level: str, strength: float, edge: Edge) -> None:
    load = acting(wood(level=level, depth_in_cut_mm=0.05), edge())
    assert load.faces[0].pressure_mpa == strength
    assert load.tip[0].axial_n_per_mm == pytest.approx(TIP_N_PER_MM * strength / 60, rel=1e-12)


def test_a_medium_and_a_hand_of_ones_own(edge: Edge) -> None:
    own = MediumLoad(
        medium_strength_mpa=200.0,
        contact_length_mm=5.0,
        hand_force_n=50.0,
        depth_in_cut_mm=0.5,
        side="left",
        friction=0.1,
    )
    load = acting(own, edge())
    assert load.faces[0].to_mm == pytest.approx(BEGINS_MM + 50 / (5 * 200), rel=1e-12)
    assert (load.faces[0].pressure_mpa, load.faces[0].friction) == (200.0, 0.1)
    assert load.contact_length_mm == 5.0


def test_a_contact_length_takes_the_place_of_the_mediums(edge: Edge) -> None:
    load = acting(wood(contact_length_mm=30.0), edge())
    assert load.faces[0].to_mm == pytest.approx(BEGINS_MM + 100 / (30 * 60), rel=1e-12)


# ---------------------------------------------------------------- a medium on both sides


def test_straight_balance_on_one_wedge(edge: Edge) -> None:
    outline = edge((), dps=15.0, height_mm=20.0)
    load = acting(wood(side="both", depth_in_cut_mm=2.0), outline)
    # 2 p d (tan a + friction) + tip = F / L, d from the tangent point on
    left = HAND_N / WOOD_MM - TIP_N_PER_MM
    depth = left / (2 * WOOD_MPA * (tan(radians(15)) + 0.3))
    assert [face.side for face in load.faces] == ["left", "right"]
    for face in load.faces:
        assert face.to_mm == pytest.approx(BEGINS_MM + depth, rel=1e-12)
    assert load.limited_by == "hand"
    assert axial_of(load, outline) == pytest.approx(HAND_N / WOOD_MM, rel=1e-12)
    assert load.is_straight


@pytest.mark.parametrize("hand_n", [10.0, 100.0, 500.0, 900.0])
def test_straight_balance_over_several_bevels(hand_n: float, edge: Edge) -> None:
    # Shoulders at 0.08 and 1.12 mm; the hand's balance ends in another bevel for each force.
    outline = edge()
    load = acting(wood(side="both", depth_in_cut_mm=3.0, hand_force_n=hand_n), outline)
    rates = [2 * WOOD_MPA * (tan(run.curve.chord_angle_rad) + 0.3) for run in outline.left]
    remaining = hand_n / WOOD_MM - TIP_N_PER_MM
    begin = BEGINS_MM
    for rate, run in zip(rates, outline.left, strict=True):
        reach = min(run.end_mm[0], 3.0)
        if remaining <= rate * (reach - begin):
            depth = begin + remaining / rate
            break
        remaining -= rate * (reach - begin)
        begin = reach
    else:
        raise AssertionError("the hand should be the limit")
    assert load.faces[0].to_mm == pytest.approx(depth, rel=1e-12)
    assert load.limited_by == "hand"
    assert axial_of(load, outline) == pytest.approx(hand_n / WOOD_MM, rel=1e-12)


def test_straight_cut_that_the_medium_limits(edge: Edge) -> None:
    outline = edge()
    load = acting(wood(side="both", depth_in_cut_mm=0.05), outline)
    assert load.limited_by == "medium"
    assert {face.to_mm for face in load.faces} == {0.05}
    assert axial_of(load, outline) < HAND_N / WOOD_MM


def test_straight_balance_of_a_chisel(edge: Edge) -> None:
    # Straight left face from R on, right face of 25 degrees from R (1 - sin 25) on: friction acts
    # on both, the wedging on one.
    outline = edge(((0.0, 25.0, 2.0),))
    load = acting(wood(side="both", depth_in_cut_mm=1.0, hand_force_n=60.0), outline)
    assert load.limited_by == "hand"
    right_begins = 0.0015 * (1 - sin(radians(25)))
    to = load.faces[0].to_mm
    tip = 3 * WOOD_MPA * 0.0015 * (1 + cos(radians(25)))
    left = WOOD_MPA * 0.3 * (to - 0.0015)
    right = WOOD_MPA * (tan(radians(25)) + 0.3) * (to - right_begins)
    assert tip + left + right == pytest.approx(60.0 / WOOD_MM, rel=1e-12)


def test_a_hand_too_weak_for_the_tip_reaches_no_face(edge: Edge) -> None:
    load = acting(wood(side="both", hand_force_n=1.5), edge())
    assert load.faces == ()
    assert load.tip[0].axial_n_per_mm == pytest.approx(0.1, rel=1e-12)
    assert load.limited_by == "hand"


# ---------------------------------------------------------------- by hand


def test_pressure_by_hand_is_clipped_to_the_face_and_said(edge: Edge) -> None:
    stretch = FaceLoad(at="right face", from_mm=0.0, to_mm=1.5, pressure_mpa=40.0, friction=0.2)
    load = acting(stretch, edge())
    assert load.faces == (
        FaceTraction(
            side="right",
            from_mm=pytest.approx(BEGINS_MM, rel=1e-12),
            to_mm=1.5,
            pressure_mpa=40.0,
            friction=0.2,
        ),
    )
    (remark,) = load.remarks
    assert "begins at 1.11 µm" in remark
    assert "right face" in remark
    assert (load.limited_by, load.contact_length_mm, load.tip) == (None, None, ())


@pytest.mark.parametrize(
    ("from_mm", "shape"), [(0.2, {}), (0.0, {"land_um": 8.0}), (0.0, {"sharp": True})]
)
def test_pressure_that_begins_on_the_face_is_not_clipped(
    from_mm: float, shape: dict[str, Any], edge: Edge
) -> None:
    stretch = FaceLoad(at="left face", from_mm=from_mm, to_mm=1.5, pressure_mpa=40.0)
    load = acting(stretch, edge(**shape))
    assert (load.faces[0].from_mm, load.remarks) == (from_mm, ())


@pytest.mark.parametrize(
    ("direction_deg", "axial", "lateral"),
    [
        (0.0, 1.0, 0.0),
        (30.0, 3**0.5 / 2, 0.5),
        (90.0, 0.0, 1.0),
        (-90.0, 0.0, -1.0),
        (150.0, -(3**0.5) / 2, 0.5),
        (180.0, -1.0, 0.0),
    ],
)
def test_a_force_on_the_tip_by_its_direction(
    direction_deg: float, axial: float, lateral: float, edge: Edge
) -> None:
    force = TipForce(force_n=40.0, contact_length_mm=8.0, direction_deg=direction_deg)
    load = acting(force, edge())
    (tip,) = load.tip
    assert (tip.axial_n_per_mm, tip.lateral_n_per_mm) == pytest.approx(
        (5 * axial, 5 * lateral), abs=1e-12
    )
    assert load.contact_length_mm == 8.0
    assert [("pulls" in remark) for remark in load.remarks] == [True] * (axial < 0)


def test_a_pulled_tip_is_said(edge: Edge) -> None:
    load = acting(TipLineLoad(axial_n_per_mm=-1.0), edge())
    assert "pulls on the edge" in load.remarks[0]
    assert acting(TipLineLoad(lateral_n_per_mm=-1.0), edge()).remarks == ()


def test_parts_act_together_and_the_shortest_contact_counts(edge: Edge) -> None:
    force = TipForce(force_n=12.0, contact_length_mm=4.0, spread="uniform")
    load = acting(
        CombinedLoad(parts=(wood(), force, wood(side="right", depth_in_cut_mm=0.05))), edge()
    )
    # wood presses from both sides, but there is one tip
    assert [tip.axial_n_per_mm for tip in load.tip] == pytest.approx([TIP_N_PER_MM, 3.0])
    assert [tip.spread for tip in load.tip] == ["smooth", "uniform"]
    assert "2 parts of this load press with a medium: the tip is pressed once" in load.remarks[0]
    assert [face.side for face in load.faces] == ["left", "right"]
    assert (load.contact_length_mm, load.limited_by) == (4.0, "hand")


def test_a_hand_that_the_tip_uses_up_is_the_limit() -> None:
    # 3 x 1200 MPa on a land 0.1 mm wide would be 360 N/mm; 100 N over 1.5 mm are 66.7
    profile = Profile(
        apex=Apex(land_um=100.0),
        height_mm=28.0,
        spine_thickness_mm=3.2,
        primary_grind=PrimaryGrind(),
    )
    outline = build_outline(profile.apex, profile.faces)
    load = MediumLoad(medium="mild steel", level="high", depth_in_cut_mm=0.001, side="left")
    found = tractions_of(load, "tin", outline)
    assert found.tip_axial_n_per_mm == pytest.approx(100.0 / 1.5)
    assert found.limited_by == "hand"
