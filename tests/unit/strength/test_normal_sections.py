"""Sections square to the bisector, and the forces on them: by hand, and by brute force sums."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import cos, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from judged import plain, sections_of

from simedge.section.outline import SIDES, Outline, Side
from simedge.section.tractions import FaceTraction, TipTraction, Tractions
from simedge.strength.normal_sections import NormalSections, normal_sections
from simedge.strength.zones import trusted_depth_mm

Edge = Callable[..., Outline]
SIDEWAYS = Tractions(name="sideways", tip=(TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=2.0),))


def on_face(side: Side, to_mm: float, pressure: float, friction: float = 0.0) -> Tractions:
    face = FaceTraction(
        side=side, from_mm=0.0, to_mm=to_mm, pressure_mpa=pressure, friction=friction
    )
    return Tractions(name="pressed", faces=(face,))


def mirrored(load: Tractions) -> Tractions:
    other: dict[Side, Side] = {"left": "right", "right": "left"}
    return replace(
        load,
        tip=tuple(replace(part, lateral_n_per_mm=-part.lateral_n_per_mm) for part in load.tip),
        faces=tuple(replace(part, side=other[part.side]) for part in load.faces),
    )


def in_blade_axes(cut: NormalSections, outline: Outline) -> tuple[np.ndarray, ...]:
    """Turn section forces to blade axes: (force x, force y, moment about the origin)."""
    y = {side: outline.face_y_mm(side, cut.face_x_mm[side]) for side in SIDES}
    across = np.stack([cut.face_x_mm["left"] - cut.face_x_mm["right"], y["left"] - y["right"]])
    ex, ey = across / cut.thickness_mm
    fx = (cut.shear_n_per_mm * ex + cut.axial_n_per_mm * ey) / cut.spread
    fy = (cut.shear_n_per_mm * ey - cut.axial_n_per_mm * ex) / cut.spread
    cx = 0.5 * (cut.face_x_mm["left"] + cut.face_x_mm["right"])
    cy = 0.5 * (y["left"] + y["right"])
    return fx, fy, cut.moment_n / cut.spread + cx * fy - cy * fx


def test_a_push_on_the_land_by_hand() -> None:
    wedge = plain(10.0, land_um=40.0, held_mm=5.0)
    cut = sections_of(wedge, SIDEWAYS)
    x = cut.x_mm
    assert cut.moment_n == pytest.approx(-2.0 * x, rel=1e-12, abs=1e-15)  # turns y to x
    assert cut.shear_n_per_mm == pytest.approx(np.full_like(x, 2.0), rel=1e-12)
    assert cut.axial_n_per_mm == pytest.approx(np.zeros_like(x), abs=1e-14)
    assert cut.thickness_mm == pytest.approx(0.04 + 2 * x * tan(radians(10)), rel=1e-12)
    assert cut.half_angle_rad == pytest.approx(radians(10))
    assert cut.tilt_rad == pytest.approx(0.0, abs=1e-15)
    assert x[0] == 0.0  # the land itself, where it may shear off


@pytest.mark.parametrize("friction", [0.0, 0.3])
def test_a_pressed_face_by_hand(friction: float) -> None:
    slope = tan(radians(15))
    wedge = plain(15.0, held_mm=5.0)
    cut = sections_of(wedge, on_face("left", 0.5, 20.0, friction))
    x, behind = cut.x_mm, cut.x_mm >= 0.5
    reach = np.minimum(x, 0.5)
    axial = 20.0 * reach * (slope + friction)
    lateral = 20.0 * reach * (-1.0 + friction * slope)
    assert cut.axial_n_per_mm == pytest.approx(axial, rel=1e-10)
    assert cut.axial_of_faces_n_per_mm == pytest.approx(axial, rel=1e-10)
    assert cut.shear_n_per_mm == pytest.approx(lateral, rel=1e-10)
    # the resultant sits in the middle of the pressed stretch of face
    moment = -(x - 0.5 * reach) * lateral - 0.5 * reach * slope * axial
    assert cut.moment_n == pytest.approx(moment, rel=1e-9)
    assert behind.any()
    assert not behind.all()


def test_sections_of_a_chisel_are_square_to_its_bisector() -> None:
    # a flat back (left) and 25 degrees: both faces are met at the same distance r from the apex
    force = Tractions(name="tip", tip=(TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=1.0),))
    cut = sections_of(plain((0.0, 25.0), held_mm=5.0), force)
    r, lean = cut.face_x_mm["left"], radians(-12.5)
    assert cut.face_x_mm["right"] == pytest.approx(r * cos(radians(25)), rel=1e-10)
    assert cut.thickness_mm == pytest.approx(2.0 * r * sin(radians(12.5)), rel=1e-10)
    assert cut.tilt_rad == pytest.approx(lean)
    assert cut.half_angle_rad == pytest.approx(radians(12.5))
    n, v = 3 * cos(lean) + sin(lean), cos(lean) - 3 * sin(lean)
    assert cut.axial_n_per_mm == pytest.approx(np.full_like(r, n), rel=1e-10)
    assert cut.shear_n_per_mm == pytest.approx(np.full_like(r, v), rel=1e-10)
    assert cut.moment_n == pytest.approx(-v * r * cos(radians(12.5)), rel=1e-10)


def test_the_tips_share_of_the_axial_force_is_kept_apart(edge: Edge) -> None:
    tip = TipTraction(axial_n_per_mm=4.0, lateral_n_per_mm=0.0)
    load = replace(on_face("left", 1.0, 10.0), tip=(tip,))
    cut = sections_of(edge(), load)
    whole, faces = cut.axial_n_per_mm, cut.axial_of_faces_n_per_mm
    # even faces: sections stand upright
    assert whole - faces == pytest.approx(np.full_like(whole, 4.0), rel=1e-9)


@given(
    left=st.floats(0.0, 30.0),
    right=st.floats(5.0, 30.0),
    friction=st.floats(-0.3, 0.5),
    to=st.floats(0.05, 2.0),
    lateral=st.floats(-3.0, 3.0),
)
def test_forces_are_the_sum_of_what_acts_in_front(
    left: float, right: float, friction: float, to: float, lateral: float
) -> None:
    wedge = plain((left, right), land_um=20.0, held_mm=6.0)
    faces = tuple(
        replace(on_face(side, to, pressure, friction).faces[0])
        for side, pressure in (("left", 12.0), ("right", 5.0))
    )
    tip = TipTraction(axial_n_per_mm=1.0, lateral_n_per_mm=lateral)
    cut = sections_of(wedge, Tractions(name="all", faces=faces, tip=(tip,)))
    got = in_blade_axes(cut, wedge)
    # brute force: a thousand slices of each straight face; the middle rule is exact for them
    slices = (np.arange(1000) + 0.5) / 1000
    wanted = [np.full_like(cut.x_mm, 1.0), np.full_like(cut.x_mm, lateral), 0.0 * cut.x_mm]
    # the land's middle lies off the mid-plane only by rounding: an even land
    for part, dps in zip(faces, (left, right), strict=True):
        reach = np.minimum(cut.face_x_mm[part.side], to)
        x = np.outer(reach, slices)
        y = wedge.face_y_mm(part.side, x)
        out, a = (1.0 if part.side == "left" else -1.0), radians(dps)
        along = reach / cos(a)
        normal, drag = part.pressure_mpa, part.friction * part.pressure_mpa
        fx = normal * sin(a) + drag * cos(a)
        fy = out * (drag * sin(a) - normal * cos(a))
        wanted[0] += fx * along
        wanted[1] += fy * along
        wanted[2] += (x * fy - y * fx).mean(axis=1) * along
    for ours, theirs in zip(got, wanted, strict=True):
        # ten digits of the largest: turned to the section's axes and back
        assert ours == pytest.approx(theirs, rel=1e-9, abs=1e-10 * np.abs(theirs).max() + 1e-12)


@given(left=st.floats(0.0, 30.0), right=st.floats(5.0, 30.0), lateral=st.floats(-3.0, 3.0))
def test_mirrored_work_on_a_mirrored_edge_is_mirrored(
    left: float, right: float, lateral: float
) -> None:
    tip = TipTraction(axial_n_per_mm=1.0, lateral_n_per_mm=lateral)
    load = replace(on_face("left", 0.7, 9.0, 0.2), tip=(tip,))
    one = sections_of(plain((left, right), land_um=20.0), load)
    two = sections_of(plain((right, left), land_um=20.0), mirrored(load))
    size = float(np.abs(one.moment_n).max())
    assert two.x_mm == pytest.approx(one.x_mm, rel=1e-12, abs=1e-15)
    assert two.moment_n == pytest.approx(-one.moment_n, rel=1e-9, abs=1e-12 * size)
    assert two.shear_n_per_mm == pytest.approx(-one.shear_n_per_mm, rel=1e-9, abs=1e-12)
    assert two.axial_n_per_mm == pytest.approx(one.axial_n_per_mm, rel=1e-9, abs=1e-12)
    assert two.face_x_mm["left"] == pytest.approx(one.face_x_mm["right"], rel=1e-12, abs=1e-15)


def test_straight_work_on_an_even_edge_bends_nothing(edge: Edge) -> None:
    faces = (*on_face("left", 1.0, 10.0, 0.3).faces, *on_face("right", 1.0, 10.0, 0.3).faces)
    cut = sections_of(edge(), Tractions(name="straight", faces=faces))
    assert np.abs(cut.shear_n_per_mm).max() <= 1e-12 * cut.axial_n_per_mm.max()
    assert np.abs(cut.moment_n).max() <= 1e-12 * cut.axial_n_per_mm.max()


def test_sections_stand_at_shoulders_and_patch_ends(edge: Edge) -> None:
    outline = edge()  # even: sections stand upright
    x = sections_of(outline, on_face("left", 0.37, 10.0)).x_mm
    trusted = trusted_depth_mm(outline)
    for mark in (0.37, *outline.shoulders_mm):
        assert np.abs(x - mark).min() <= 1e-12
    assert x.max() <= trusted * (1.0 + 1e-12)
    assert np.all(np.diff(x) > 0.0)


def test_a_short_contact_is_spread_behind_where_it_presses() -> None:
    # L / (L + 2 (x - d)): issue 5, common practice
    wedge = plain(12.0, held_mm=10.0)
    alone = on_face("left", 0.5, 10.0)
    short = replace(alone, contact_length_mm=3.0)
    whole, spread = sections_of(wedge, alone), sections_of(wedge, short)
    share = 3.0 / (3.0 + 2.0 * np.maximum(whole.x_mm - 0.5, 0.0))
    assert spread.spread == pytest.approx(share, rel=1e-12)
    assert np.all(whole.spread == 1.0)
    for name in ("moment_n", "shear_n_per_mm", "axial_n_per_mm", "axial_of_faces_n_per_mm"):
        assert getattr(spread, name) == pytest.approx(share * getattr(whole, name), rel=1e-12)


def test_a_contact_on_the_tip_is_spread_from_there() -> None:
    load = replace(SIDEWAYS, contact_length_mm=2.0)
    cut = sections_of(plain(12.0, land_um=10.0), load)
    assert cut.spread == pytest.approx(2.0 / (2.0 + 2.0 * cut.x_mm), rel=1e-12)


def test_nothing_is_cut_behind_the_trusted_depth(edge: Edge) -> None:
    outline = edge(((0.0, 25.0, 2.0),))
    cut = normal_sections(outline, SIDEWAYS, 3.0)
    # leaning sections reach as far behind it as half their thickness leans
    lean = 0.5 * cut.thickness_mm * np.abs(np.sin(cut.tilt_rad))
    assert np.all(cut.x_mm - lean <= 3.0 + 1e-12)
