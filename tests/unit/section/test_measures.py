"""A profile's own numbers, as a person would find them with calipers and a pencil."""

from __future__ import annotations

from math import asin, atan, cos, degrees, radians, sin, tan
from typing import Any

import pytest

from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile
from simedge.section.measures import Measures, measure
from simedge.section.outline import build_outline


def measured(**fields: Any) -> Measures:
    profile = Profile(
        **{
            "height_mm": 28.0,
            "spine_thickness_mm": 3.2,
            "apex": Apex(radius_um=1.5),
            "primary_grind": PrimaryGrind(),
            **fields,
        }
    )
    return measure(profile.faces, build_outline(profile.apex, profile.faces))


MICRO = Bevel(name="micro-bevel", dps=15.0, height_mm=0.08)
EDGE = Bevel(name="edge bevel", left_dps=10.0, right_dps=12.0, ends_at_thickness_mm=0.45)


def test_stretches_from_apex_to_spine() -> None:
    micro, edge, primary = measured(bevels=(MICRO, EDGE)).stretches
    assert (micro.name, micro.left_dps, micro.right_dps, micro.included_deg) == (
        "micro-bevel",
        15.0,
        15.0,
        30.0,
    )
    assert micro.begins_mm == pytest.approx(0.0015 * (1 - sin(radians(15))), rel=1e-12)
    assert micro.ends_mm == 0.08
    half = 0.0015 * cos(radians(15)) + (0.08 - micro.begins_mm) * tan(radians(15))
    assert micro.ends_at_thickness_mm == pytest.approx(2 * half, rel=1e-12)
    assert (edge.included_deg, edge.begins_mm) == (22.0, 0.08)
    gain = tan(radians(10)) + tan(radians(12))
    assert edge.ends_mm == pytest.approx(0.08 + (0.45 - 2 * half) / gain, rel=1e-12)
    assert edge.ends_at_thickness_mm == pytest.approx(0.45, rel=1e-12)
    assert (primary.name, primary.begins_mm, primary.ends_mm) == ("primary grind", edge.ends_mm, 28)
    assert primary.ends_at_thickness_mm == pytest.approx(3.2, rel=1e-12)


def test_thickness_behind_the_edge_is_that_at_the_last_shoulder() -> None:
    assert measured(bevels=(MICRO, EDGE)).thickness_behind_edge_mm == pytest.approx(0.45, rel=1e-12)
    assert measured(bevels=()).thickness_behind_edge_mm is None


def test_size_thickness_and_area_of_a_sharp_wedge_by_hand() -> None:
    wedge = measured(
        apex=Apex(sharp=True), primary_grind=PrimaryGrind(dps=10.0), spine_thickness_mm=None
    )
    slope = 2 * tan(radians(10))
    assert (wedge.height_mm, wedge.spine_thickness_mm) == pytest.approx((28.0, 28 * slope))
    assert wedge.area_mm2 == pytest.approx(28**2 * slope / 2, rel=1e-12)
    assert [depth for depth, _ in wedge.thickness_at_mm] == [
        0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0,
    ]  # fmt: skip
    for depth, thickness in wedge.thickness_at_mm:
        assert thickness == pytest.approx(depth * slope, rel=1e-12)


def test_a_face_that_begins_later_begins_the_stretch() -> None:
    # of a chisel the straight side begins a whole radius behind the foremost point
    chisel = measured(bevels=(Bevel(left_dps=0.0, right_dps=25.0, height_mm=2.0),))
    assert chisel.stretches[0].begins_mm == pytest.approx(0.0015, rel=1e-12)
    assert chisel.stretches[0].included_deg == 25.0


def test_a_bevel_without_effect_is_not_measured() -> None:
    twin = Bevel(name="touch-up", left_dps=10.0, right_dps=12.0, height_mm=0.3)
    nothing = Bevel(name="none", dps=20.0, height_mm=0.0)
    plain, same = measured(bevels=(EDGE,)), measured(bevels=(nothing, twin, EDGE))
    assert [stretch.name for stretch in same.stretches] == ["edge bevel", "primary grind"]
    assert same.area_mm2 == pytest.approx(plain.area_mm2, rel=1e-12)
    assert same.thickness_behind_edge_mm == pytest.approx(0.45, rel=1e-12)


def test_a_hollow_grind_by_hand() -> None:
    # from a sharp tip 1.6 mm out over 28 mm: a chord of 28.0457, at 3.2705 deg
    grind = PrimaryGrind(kind="hollow", wheel_radius_mm=400.0)
    found = measured(apex=Apex(sharp=True), primary_grind=grind)
    (stretch,) = found.stretches
    chord = (28.0**2 + 1.6**2) ** 0.5
    turn = degrees(asin(chord / 800.0))
    assert stretch.radius_mm == pytest.approx(400.0, rel=1e-12)
    assert stretch.bulge_mm == pytest.approx(-(400.0 - (400.0**2 - chord**2 / 4) ** 0.5), rel=1e-9)
    assert stretch.included_deg == pytest.approx(2 * degrees(atan(1.6 / 28.0)))
    assert stretch.begins_included_deg == pytest.approx(stretch.included_deg - 2 * turn)
    assert stretch.ends_included_deg == pytest.approx(stretch.included_deg + 2 * turn)


def test_a_convex_bevel_stands_out_and_a_flat_one_does_not() -> None:
    hand = Bevel(
        name="edge", left_dps=0.0, right_dps=20.0, height_mm=0.5, kind="convex", bulge_um=6
    )
    edge, primary = measured(bevels=(hand,)).stretches
    assert edge.bulge_mm == 0.006  # of the side that is ground
    assert edge.begins_included_deg > edge.included_deg > edge.ends_included_deg
    assert (primary.bulge_mm, primary.radius_mm) == (0.0, None)
    assert primary.begins_included_deg == pytest.approx(primary.included_deg, rel=1e-12)
    assert primary.ends_included_deg == pytest.approx(primary.included_deg, rel=1e-12)


def test_parallel_sides_above_a_grind_are_not_behind_the_edge() -> None:
    grind = PrimaryGrind(kind="part-height", grind_height_mm=12.0)
    found = measured(bevels=(EDGE,), primary_grind=grind)
    assert [stretch.name for stretch in found.stretches][1:] == ["primary grind", "above the grind"]
    assert found.stretches[-1].included_deg == 0.0
    assert found.thickness_behind_edge_mm == pytest.approx(0.45, rel=1e-12)
    assert dict(found.thickness_at_mm)[20.0] == pytest.approx(3.2, rel=1e-12)
