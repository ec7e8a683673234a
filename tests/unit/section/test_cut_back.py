"""An edge cut back is the same steel, less what has gone: by comparison with the whole section."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import acos, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge.section.cut_back import cut_back
from simedge.section.outline import SIDES, Outline, Side, Stretch, Tip

Edge = Callable[..., Outline]
Ground = Callable[..., Outline]
#: Places are roots of circles up to 5 m wide, read off twice: ten digits of the depth are left.
PLACES = 1e-10
#: Cuts as shares of the depth, from a nanometre's order to nearly all of it.
few = settings(max_examples=15)  # for each of thirteen grinds
shares = st.one_of(st.floats(1e-7, 1e-3), st.floats(1e-3, 0.98))


def same_faces(cut: Outline, whole: Outline, depth_mm: float) -> None:
    """Hold both faces behind a cut against those of the whole section."""
    # not right at the shoulders, which rounding puts on either side of a place
    x = (1.0 - np.geomspace(1.0, 1e-7, 60)) * cut.depth_mm
    for side in SIDES:
        there = whole.face_y_mm(side, np.minimum(x + depth_mm, whole.depth_mm))
        assert cut.face_y_mm(side, x[1:]) == pytest.approx(there[1:], abs=PLACES * whole.depth_mm)


def area_in_front_mm2(outline: Outline, depth_mm: float) -> float:
    """Integrate the thickness by Gauss between all places where it is not smooth."""
    begins = [outline.face_begins_mm(side) for side in SIDES]
    ends = [run.end_mm[0] for side in SIDES for run in outline.face(side)]
    knots = sorted({0.0, depth_mm, *(x for x in (*begins, *ends) if x < depth_mm)})
    at, weight = np.polynomial.legendre.leggauss(40)
    area = 0.0
    for low, high in pairwise(knots):
        # x = low + (high - low) s^2: a round's vertical beginning is smooth in s
        s = 0.5 * (at + 1.0)
        thick = outline.thickness_mm(low + (high - low) * s**2)
        area += float(np.sum(0.5 * weight * thick * 2.0 * s)) * (high - low)
    return area


def mirrored(outline: Outline) -> Outline:
    """Exchange left and right."""

    def turned(side: Side) -> tuple[Stretch, ...]:
        other: Side = "right" if side == "left" else "left"
        return tuple(replace(run, side=side) for run in outline.face(other))

    (xl, yl), (xr, yr) = outline.tip.left_mm, outline.tip.right_mm
    tip = replace(outline.tip, left_mm=(xr, -yr), right_mm=(xl, -yl))
    return replace(outline, tip=tip, left=turned("left"), right=turned("right"))


@few
@given(share=shares)
def test_every_grind_is_the_same_steel_behind_a_cut(
    ground: Ground, grind: str, share: float
) -> None:
    whole = ground(grind, held=0.9)
    depth = share * whole.depth_mm
    cut = cut_back(whole, depth)
    assert cut.depth_mm == pytest.approx(whole.depth_mm - depth, rel=1e-14)
    same_faces(cut, whole, depth)


@few
@given(share=st.floats(1e-4, 0.95))
def test_what_is_cut_and_what_is_left_add_up(ground: Ground, grind: str, share: float) -> None:
    whole = ground(grind, held=0.9)
    depth = share * whole.depth_mm
    cut = cut_back(whole, depth)
    # nine digits: Gauss in front of the cut, segments of circles behind it
    gone = area_in_front_mm2(whole, depth)
    assert cut.area_mm2 + gone == pytest.approx(whole.area_mm2, rel=1e-9)


@few
@given(share=st.floats(1e-4, 0.95))
def test_a_cut_is_a_land_as_wide_as_the_blade_is_there(
    ground: Ground, grind: str, share: float
) -> None:
    whole = ground(grind, held=0.9)
    depth = share * whole.depth_mm
    tip = cut_back(whole, depth).tip
    assert (tip.kind, tip.radius_mm) == ("land", 0.0)
    assert tip.left_mm[0] == tip.right_mm[0] == pytest.approx(0.0, abs=1e-15)
    thick = float(whole.thickness_mm(depth))
    assert tip.width_mm == pytest.approx(thick, rel=1e-9, abs=PLACES * whole.depth_mm)


@few
@given(first=st.floats(1e-3, 0.5), second=st.floats(1e-3, 0.5))
def test_two_cuts_are_one(ground: Ground, grind: str, first: float, second: float) -> None:
    whole = ground(grind, held=0.9)
    a, b = 0.9 * first * whole.depth_mm, 0.9 * second * whole.depth_mm
    twice, once = cut_back(cut_back(whole, a), b), cut_back(whole, a + b)
    same_faces(twice, once, 0.0)
    # a shoulder at the very place of a cut may leave a sliver in one and none in the other
    assert abs(len(twice.left) - len(once.left)) <= 1


@few
@given(share=st.floats(0.01, 1.5))
@pytest.mark.parametrize("sides", [(15.0, 15.0), (0.0, 25.0), (25.0, 0.0), (8.0, 30.0)])
def test_within_the_round_what_is_left_of_it_stays_round(
    edge: Edge, sides: tuple[float, float], share: float
) -> None:
    radius = 0.02
    whole = edge(((*sides, 1.0),), radius_um=1000.0 * radius)
    depth = share * radius
    cut = cut_back(whole, depth)
    for side, dps in zip(SIDES, sides, strict=True):
        begins = radius * (1.0 - sin(radians(dps)))  # the tangent point
        left_of_round = [run for run in cut.face(side) if run.name == "apex"]
        assert len(left_of_round) == (1 if depth < begins else 0)
        for run in left_of_round:
            # a chord of the round from near its end costs digits: eight are left of ten
            assert run.curve.radius_mm == pytest.approx(radius, rel=1e-6)
            assert run.end_mm[0] == pytest.approx(begins - depth, abs=1e-15)
            # it leaves into the bevel without a corner
            assert run.curve.end_angle_rad == pytest.approx(radians(dps), abs=1e-6)
    same_faces(cut, whole, depth)


def test_a_plain_wedge_by_hand(edge: Edge) -> None:
    whole = edge((), dps=10.0, height_mm=10.0, sharp=True, clamp_mm=8.0)
    cut = cut_back(whole, 0.5)
    slope = tan(radians(10.0))
    assert cut.tip == Tip(
        kind="land",
        radius_mm=0.0,
        left_mm=(0.0, pytest.approx(0.5 * slope)),
        right_mm=(0.0, pytest.approx(-0.5 * slope)),
    )
    assert cut.area_mm2 == pytest.approx((8.0**2 - 0.5**2) * slope, rel=1e-13)


def test_what_is_cut_off_a_round_is_a_circle_segment(edge: Edge) -> None:
    whole = edge(((15.0, 15.0, 0.5),), radius_um=100.0)
    cut = cut_back(whole, 0.02)
    opening = 2.0 * acos(0.8)  # 0.08 mm of 0.1 are left between the cut and the centre
    gone = 0.5 * 0.1**2 * (opening - sin(opening))
    assert whole.area_mm2 - cut.area_mm2 == pytest.approx(gone, rel=1e-10)


def test_bevels_in_front_of_a_cut_are_gone_and_their_names_with_them(edge: Edge) -> None:
    whole = edge()  # 15 dps to 0.08 mm, 11 dps to 1.12 mm
    names = [[run.name for run in cut_back(whole, cut).left] for cut in (0.0005, 0.05, 0.5, 5.0)]
    every = [run.name for run in whole.left]
    assert names == [["apex", *every], every, every[1:], every[2:]]


@few
@given(share=st.floats(1e-3, 0.9))
@pytest.mark.parametrize("sides", [(0.0, 25.0), (8.0, 30.0)])
def test_mirrored_sections_are_cut_alike(
    edge: Edge, sides: tuple[float, float], share: float
) -> None:
    whole = edge(((*sides, 0.5),))
    depth = share * whole.depth_mm
    assert cut_back(mirrored(whole), depth) == mirrored(cut_back(whole, depth))


def test_no_cut_gives_the_same_section(edge: Edge) -> None:
    whole = edge()
    assert cut_back(whole, 0.0) is whole
    assert cut_back(whole, 1e-14) is whole  # less than a share of 1e-12 of the depth


@pytest.mark.parametrize("depth", [12.0, 13.0, -0.1, float("nan")])
def test_all_of_it_cannot_be_cut(edge: Edge, depth: float) -> None:
    with pytest.raises(ValueError, match=r"leaves nothing of 12 mm"):
        cut_back(edge(), depth)


def test_nothing_at_all_is_changed_in_the_whole_section(edge: Edge) -> None:
    whole, before = edge(), edge()
    cut_back(whole, 0.3)
    assert whole == before
