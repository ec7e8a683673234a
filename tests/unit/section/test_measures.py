"""A profile's own numbers, as a person would find them with calipers and a pencil."""

from __future__ import annotations

from math import cos, radians, sin, tan
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
