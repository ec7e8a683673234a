"""Damage is a depth that grows with the load and with nothing in jumps (issue 5, no source).

The smallest cut after which the edge carries. Tried there and rejected: the deepest hinge, which
jumps from nothing to a multiple of the cut's depth. What an edge takes, cut back ever farther,
must not fall behind what it took before: where it does, some load's damage jumps.
"""

from __future__ import annotations

from itertools import pairwise
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judged import bevelled, judge_of, plain, verdict_on

from simedge.inputs.load import FaceLoad, Load, TipLineLoad
from simedge.inputs.steel import Steel
from simedge.section.outline import Outline

STEELS = {
    "fine": Steel(grade="52100", hardness_hrc=60),
    "coarse": Steel(grade="D2", hardness_hrc=61),
    "tough": Steel(grade="S7", hardness_hrc=56),
}
EDGES = {
    "plain": plain(9.0, radius_um=0.5),
    "micro-bevel": bevelled(((14.0, 0.03),), 8.0),
    "steep micro-bevel": bevelled(((20.0, 0.06),), 8.0),
    "two bevels": bevelled(((20.0, 0.02), (12.0, 0.6)), 3.0),
    "land": plain(7.0, land_um=3.0),
    "chisel": plain((0.0, 20.0), radius_um=1.0),
}


def on_face(mpa: float) -> Load:
    """Press one face over 0.2 mm, with nothing that gives way."""
    return FaceLoad(at="left face", from_mm=0.0, to_mm=0.2, pressure_mpa=mpa, friction=0.2)


def on_tip(force: float) -> Load:
    return TipLineLoad(axial_n_per_mm=force, lateral_n_per_mm=0.5 * force)


LOADS = {"face": on_face, "tip": on_tip}


def depth_mm(outline: Outline, load: Load, steel: Steel) -> float:
    found = verdict_on(outline, load, steel).recession
    return inf if found.beyond else found.depth_mm


@pytest.mark.parametrize("load", LOADS)
@pytest.mark.parametrize("steel", STEELS)
@pytest.mark.parametrize("shape", EDGES)
def test_an_edge_cut_back_never_takes_less(shape: str, steel: str, load: str) -> None:
    judge = judge_of(EDGES[shape], LOADS[load](1.0), STEELS[steel])
    cuts = np.geomspace(2e-4, 2.0, 16)
    takes = np.array([judge.load_factors(cut).smallest for cut in cuts])
    falls = takes / np.maximum.accumulate(takes) - 1.0
    # sections are chosen, not searched: a thousandth of a factor; measured 0.34 % at worst, on a
    # steep micro-bevel in coarse steel, 0.04 % elsewhere
    assert falls.min() > -0.005


@pytest.mark.parametrize("load", LOADS)
@pytest.mark.parametrize("shape", ["plain", "steep micro-bevel", "chisel"])
@pytest.mark.parametrize("steel", ["fine", "coarse"])
def test_it_grows_with_the_load(shape: str, steel: str, load: str) -> None:
    sizes = {"face": (1.0, 40.0, 80.0, 160.0, 320.0), "tip": (1e-3, 1.0, 4.0, 16.0, 64.0)}[load]
    depths = [depth_mm(EDGES[shape], LOADS[load](size), STEELS[steel]) for size in sizes]
    # a tip load crushes any round a little: a hundredth of its radius and less under a newton
    assert depths[0] <= 1e-4
    for shallow, deep in pairwise(depths):
        assert deep >= shallow
    assert depths[-1] > 0.01


@settings(max_examples=4)
@given(mpa=st.floats(40.0, 400.0), steel=st.sampled_from(sorted(STEELS)))
def test_one_per_cent_of_load_is_a_few_per_cent_of_depth(mpa: float, steel: str) -> None:
    # on a plain wedge r + (R / sin a - R) = (d/2)(p / p0 - 1): 1 % of p is 1 % of (r + d/2 + ...).
    # Asked of depths beyond a tenth of the depth in the cut, where that is 6 %; 10 % allowed
    one, two = (depth_mm(EDGES["plain"], on_face(mpa * step), STEELS[steel]) for step in (1, 1.01))
    assert one <= two
    if one > 0.02 and two < inf:
        assert two <= 1.1 * one


@settings(max_examples=4)
@given(dps=st.floats(6.0, 12.0), steel=st.sampled_from(sorted(STEELS)))
def test_one_per_cent_of_angle_is_a_few_per_cent_of_depth(dps: float, steel: str) -> None:
    # strength goes as the angle squared: twice of what 1 % of load does
    slim, stout = (
        depth_mm(plain(dps * step, radius_um=0.5), on_face(150.0), STEELS[steel])
        for step in (1, 1.01)
    )
    assert stout <= slim
    if stout > 0.02 and slim < inf:
        assert slim <= 1.2 * stout


@settings(max_examples=4)
@given(height=st.floats(0.02, 0.2))
def test_a_micro_bevel_a_little_higher_is_a_little_other_depth(height: float) -> None:
    low, high = (
        depth_mm(bevelled(((15.0, height * step),), 8.0), on_tip(30.0), STEELS["fine"])
        for step in (1, 1.01)
    )
    # damage of about 40 um: a bevel 1 % higher moves its shoulder, and no more, by 1 %
    assert high == pytest.approx(low, rel=0.03, abs=1e-5)


@settings(max_examples=8)
@given(
    size=st.floats(0.3, 60.0),
    tolerated=st.floats(1.0, 200.0),
    shape=st.sampled_from(sorted(EDGES)),
    steel=st.sampled_from(sorted(STEELS)),
    load=st.sampled_from(sorted(LOADS)),
)
def test_it_comes_through_exactly_where_no_more_than_tolerated_is_lost(
    size: float, tolerated: float, shape: str, steel: str, load: str
) -> None:
    put = LOADS[load](size * 6.0 if load == "face" else size)
    verdict = verdict_on(EDGES[shape], put, STEELS[steel], tolerated)
    if abs(verdict.margin - 1.0) < 0.005:
        return  # what it takes may fall behind by as much (above): either is right
    lost_um = inf if verdict.recession.beyond else 1000.0 * verdict.recession.depth_mm
    assert verdict.comes_through == (lost_um <= tolerated)
    assert verdict.comes_through == (verdict.margin >= 1.0)
