"""The order in which steels and angles give way, as people who use edges report it.

Common practice, no source, but for the shavings in soft wood: Kato & Kawai as cited in
steels-and-loads.md 5. Only the order is held, and outcomes that nobody doubts; how many times the
load each edge takes is printed in no such report.
"""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from judged import bevelled, judge_of, plain, verdict_on

from simedge.inputs.load import FaceLoad, Load, MediumLoad, TipLineLoad
from simedge.inputs.steel import Steel
from simedge.section.outline import Outline
from simedge.strength.verdict import Outcome, Verdict

FINE = Steel(grade="52100", hardness_hrc=60)
TOUGH = Steel(grade="S7", hardness_hrc=56)
COARSE = Steel(grade="D2", hardness_hrc=61)
BREAKS = (Outcome.CHIPS, Outcome.CRUMBLES)


def pressed(mpa: float) -> FaceLoad:
    """Press one face over 0.2 mm."""
    return FaceLoad(at="left face", from_mm=0.0, to_mm=0.2, pressure_mpa=mpa, friction=0.3)


def kitchen(dps: float) -> Outline:
    return bevelled(((dps, 0.5),), 2.5, held_mm=20.0)


def chisel(bevel_deg: float) -> Outline:
    return plain((0.0, bevel_deg), radius_um=0.5)


def breaks_first(verdict: Verdict) -> bool:
    return verdict.governing_kind in ("chip", "crumble")


def rolls_first(verdict: Verdict) -> bool:
    """Roll comes first, or may as the steel is known."""
    return verdict.governing_kind == "roll" or "roll" in verdict.near_kinds


@pytest.mark.parametrize("dps", [7.0, 9.0, 12.0])
@pytest.mark.parametrize("mpa", [60.0, 130.0, 250.0])
def test_coarse_steel_breaks_where_fine_and_tough_ones_roll_or_hold(dps: float, mpa: float) -> None:
    coarse, fine, tough = (
        verdict_on(plain(dps, radius_um=0.5), pressed(mpa), steel)
        for steel in (COARSE, FINE, TOUGH)
    )
    assert coarse.outcome in BREAKS
    assert "roll" not in coarse.near_kinds  # and no doubt about it
    assert rolls_first(fine)
    assert tough.governing_kind == "roll"
    # it goes back farther too, and gives way sooner
    assert coarse.recession.depth_mm > max(fine.recession.depth_mm, tough.recession.depth_mm)
    assert coarse.margin < min(fine.margin, tough.margin)


@pytest.mark.parametrize("dps", [12.0, 15.0, 18.0, 20.0])
def test_coarse_steel_breaks_on_bone_at_angles_where_tough_steel_comes_through(dps: float) -> None:
    bone = MediumLoad(medium="bone", depth_in_cut_mm=0.15, side="left")
    assert verdict_on(kitchen(dps), bone, COARSE).outcome in BREAKS
    assert verdict_on(kitchen(dps), bone, TOUGH).comes_through


def test_a_slim_edge_crooked_on_bone_does_not_come_through() -> None:
    bone = MediumLoad(medium="bone", depth_in_cut_mm=0.15, side="left")
    slim = verdict_on(kitchen(7.0), bone, FINE)
    assert not slim.comes_through
    assert slim.sure
    assert verdict_on(kitchen(15.0), bone, FINE).comes_through


@pytest.mark.parametrize("level", ["low", "typical", "high"])
@pytest.mark.parametrize("steel", [FINE, TOUGH, Steel(grade="1.4116", hardness_hrc=56)])
def test_vegetables_never_damage_a_kitchen_edge(level: str, steel: Steel) -> None:
    carrots = MediumLoad(medium="vegetables", depth_in_cut_mm=10.0, side="left", level=level)
    verdict = verdict_on(kitchen(12.0), carrots, steel)
    assert verdict.comes_through
    assert verdict.sure
    assert verdict.recession.depth_mm == 0.0


@pytest.mark.parametrize("side", ["both", "left"])
def test_an_axe_in_soft_wood_comes_through(side: str) -> None:
    axe = bevelled(((25.0, 1.5),), 8.0, radius_um=5.0, held_mm=30.0)
    blow = 8000.0 if side == "both" else 600.0  # as in the rack's case
    wood = MediumLoad(
        medium="soft wood",
        depth_in_cut_mm=10.0,
        side=side,
        hand_force_n=blow,
        contact_length_mm=60.0,
    )
    verdict = verdict_on(axe, wood, Steel(grade="5160", hardness_hrc=56))
    assert verdict.comes_through
    assert verdict.sure


@pytest.mark.parametrize("bevel", [26.0, 29.0, 32.0])
@pytest.mark.parametrize("grade", ["O1", "52100"])
def test_thin_shavings_of_soft_wood_do_not_damage_a_single_bevel(bevel: float, grade: str) -> None:
    # Kato & Kawai: no damage at 0.05 mm, 1 to 3 N/mm. A plane's iron is pushed along the wood
    # and thrust off it: within 45 degrees of its bisector, to either side
    steel = Steel(grade=grade, hardness_hrc=60)
    loads: list[Load] = [
        TipLineLoad(axial_n_per_mm=q * cos(lean), lateral_n_per_mm=q * sin(lean))
        for q in (1.0, 2.0, 3.0)
        for lean in (radians(off - 0.5 * bevel) for off in (-45.0, -20.0, 0.0, 20.0, 45.0))
    ]
    loads += [
        MediumLoad(medium="soft wood", depth_in_cut_mm=0.05, side=side, level="high")
        for side in ("both", "left", "right")
    ]
    for load in loads:
        assert holds(bevel, steel, load)


def holds(bevel: float, steel: Steel, load: Load) -> bool:
    """Tell whether no more than the tolerated damage is done, without asking how much it is."""
    return judge_of(chisel(bevel), load, steel).load_factors(0.005).smallest >= 1.0


def needed_deg(steel: Steel, load: Load) -> int:
    """Give the smallest whole angle of a single bevel that comes through."""
    return next(bevel for bevel in range(8, 40) if holds(bevel, steel, load))


@pytest.mark.parametrize("force", [100.0, 250.0])
def test_coarser_steel_wants_a_larger_angle(force: float) -> None:
    # A2 above O1: about 14 and 25 degrees under 250 N
    wood = MediumLoad(
        medium="hard wood", depth_in_cut_mm=1.0, side="right", level="high", hand_force_n=force
    )
    a2, o1 = (Steel(grade=grade, hardness_hrc=60) for grade in ("A2", "O1"))
    assert needed_deg(a2, wood) > needed_deg(o1, wood)


@pytest.mark.parametrize("steel", [FINE, TOUGH, COARSE], ids=["fine", "tough", "coarse"])
def test_more_angle_never_harms(steel: Steel) -> None:
    depths, margins = zip(
        *(
            (found.recession.depth_mm, found.margin)
            for found in (
                verdict_on(plain(dps, radius_um=0.5), pressed(130.0), steel)
                for dps in (6.0, 8.0, 10.0, 12.0, 15.0, 20.0)
            )
        ),
        strict=True,
    )
    assert list(depths) == sorted(depths, reverse=True)
    assert list(margins) == sorted(margins)


def test_a_micro_bevel_saves_a_slim_edge() -> None:
    with_bevel = bevelled(((14.0, 0.08),), 7.0)
    without = bevelled((), 7.0)
    load = TipLineLoad(axial_n_per_mm=2.0, lateral_n_per_mm=2.0)
    saved, lost = (verdict_on(edge, load, FINE) for edge in (with_bevel, without))
    assert saved.comes_through
    assert not lost.comes_through
