"""The same knife ground otherwise: what changes, and what is kept."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge import read_case
from simedge.errors import BadInput
from simedge.inputs.files import read_profile
from simedge.inputs.profile import Apex, PrimaryGrind, Profile
from simedge.studies.reground import (
    edge_dps,
    edge_sides_deg,
    ground_profile,
    has_micro_bevel,
    thickness_behind_edge_mm,
    with_edge_dps,
    with_micro_bevel,
    with_spine,
    with_thickness_behind_edge,
    without_micro_bevel,
)

ROPE = ground_profile(read_case("rope-knife-in-a-knot").profile)
CHISEL = ground_profile(read_case("chisel-in-end-grain").profile)
PLAIN = without_micro_bevel(ROPE)


def test_a_micro_bevel_is_left_off_and_the_rest_kept() -> None:
    assert has_micro_bevel(ROPE)
    assert not has_micro_bevel(PLAIN)
    assert edge_dps(PLAIN) == 11.0
    assert thickness_behind_edge_mm(PLAIN) == pytest.approx(0.45)
    assert without_micro_bevel(PLAIN) is PLAIN


@given(st.floats(12.0, 40.0), st.floats(0.01, 0.2))
def test_a_micro_bevel_keeps_the_thickness_behind_the_edge(dps: float, height: float) -> None:
    made = with_micro_bevel(PLAIN, dps, height)
    assert thickness_behind_edge_mm(made) == pytest.approx(0.45)
    assert made.faces.left_mm[1][0] == pytest.approx(height)
    assert made.faces.sides_deg[0] == pytest.approx((dps, dps))


@given(st.floats(4.0, 40.0))
def test_another_edge_angle_keeps_the_thickness_behind_the_edge(dps: float) -> None:
    made = with_edge_dps(PLAIN, dps)
    assert edge_sides_deg(made) == pytest.approx((dps, dps))
    assert thickness_behind_edge_mm(made) == pytest.approx(0.45)
    assert made.faces.height_mm == pytest.approx(PLAIN.faces.height_mm)


def test_a_one_sided_edge_stays_one_sided() -> None:
    plain = without_micro_bevel(CHISEL)
    assert edge_sides_deg(plain) == (0.0, 25.0)
    assert edge_sides_deg(with_edge_dps(plain, 20.0)) == pytest.approx((0.0, 20.0))
    assert with_micro_bevel(plain, 30.0, 0.1).faces.sides_deg[0] == pytest.approx((0.0, 30.0))


def test_thickness_and_spine_change_alone() -> None:
    thin = with_thickness_behind_edge(PLAIN, 0.3)
    assert thickness_behind_edge_mm(thin) == pytest.approx(0.3)
    assert edge_dps(thin) == 11.0
    slim = with_spine(PLAIN, 2.0)
    assert slim.faces.spine_thickness_mm == pytest.approx(2.0)
    assert thickness_behind_edge_mm(slim) == pytest.approx(0.45)


def test_a_wedge_without_bevels_is_ground_from_edge_to_spine() -> None:
    wedge = Profile(apex=Apex(radius_um=1.0), height_mm=20.0, primary_grind=PrimaryGrind(dps=6.0))
    made = with_edge_dps(wedge, 4.0)
    assert edge_dps(made) == pytest.approx(4.0)
    assert made.faces.height_mm == pytest.approx(20.0)
    assert thickness_behind_edge_mm(made) is None


def test_a_traced_knife_has_no_angles_to_change() -> None:
    with pytest.raises(BadInput, match="traced outline, which has no angles"):
        ground_profile(read_profile("worn-kitchen-knife"))


def test_what_makes_no_blade_is_refused_in_words() -> None:
    with pytest.raises(BadInput, match="spine"):
        with_spine(PLAIN, 0.4)
