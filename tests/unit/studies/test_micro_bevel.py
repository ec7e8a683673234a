"""A map of micro-bevels: against the two-slope cantilever, and what it says."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

import pytest

from simedge import read_case
from simedge.errors import BadInput
from simedge.inputs.case import Case, Support
from simedge.inputs.load import MediumLoad, TipLineLoad
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.quick import quick_run
from simedge.strength.closed_form.tip_gain import gain_cap_same_radius
from simedge.strength.closed_form.two_slope_cantilever import (
    plane_strain_gain,
    plane_strain_saturation_ratio,
)
from simedge.studies.micro_bevel import micro_bevel_study
from simedge.studies.micro_bevel_answer import MicroBevelQuestion, MicroDesign
from simedge.studies.micro_bevel_sentence import micro_bevel_remarks, micro_bevel_sentence
from simedge.studies.reground import with_micro_bevel, with_profile

PUSH = TipLineLoad(name="push", lateral_n_per_mm=1.0)


def wedge(dps: float, apex: Apex, height_mm: float = 20.0) -> Case:
    """Give a plain wedge under a lateral load on its tip."""
    return Case(
        profile=Profile(apex=apex, height_mm=height_mm, primary_grind=PrimaryGrind(dps=dps)),
        steel=Steel(grade="52100", hardness_hrc=60.0),
        loads=(PUSH,),
    )


@pytest.mark.parametrize(("micro", "edge"), [(15.0, 10.0), (20.0, 10.0), (20.0, 15.0)])
@pytest.mark.parametrize("ratio", [1.5, 2.0, 3.0, 6.0])
def test_on_a_land_the_gain_is_that_of_physics_5(micro: float, edge: float, ratio: float) -> None:
    """physics.md 5 (two-slope cantilever, G_2D), within the 1 % that is asked."""
    land_um = 20.0
    base = wedge(edge, Apex(land_um=land_um))
    before_land = 0.5e-3 * land_um / tan(radians(micro))  # a0: virtual apex to land
    height = (ratio - 1.0) * before_land
    made = with_profile(base, with_micro_bevel(base.profile, micro, height))  # type: ignore[arg-type]
    gain = quick_run(made).loads[0].first_yield / quick_run(base).loads[0].first_yield
    angles = {"micro_half_angle_rad": radians(micro), "primary_half_angle_rad": radians(edge)}
    expected = float(plane_strain_gain(ratio, **angles))
    assert gain == pytest.approx(expected, rel=0.01)


def test_on_a_land_the_gain_saturates_where_physics_5_says() -> None:
    micro, edge, land_um = 20.0, 10.0, 20.0
    base = wedge(edge, Apex(land_um=land_um))
    before_land = 0.5e-3 * land_um / tan(radians(micro))
    saturation = float(plane_strain_saturation_ratio(radians(micro), radians(edge)))

    def gain(ratio: float) -> float:
        height = (ratio - 1.0) * before_land
        made = with_profile(base, with_micro_bevel(base.profile, micro, height))  # type: ignore[arg-type]
        return quick_run(made).loads[0].first_yield

    assert gain(1.01 * saturation) == pytest.approx(gain(3.0 * saturation), rel=1e-3)
    assert gain(0.97 * saturation) < 0.995 * gain(3.0 * saturation)


@pytest.mark.parametrize(("micro", "edge"), [(15.0, 10.0), (20.0, 10.0), (20.0, 15.0)])
def test_at_the_same_radius_the_cap_is_that_of_the_true_line_of_action(
    micro: float, edge: float
) -> None:
    """Our derivation from physics.md 2, against the program: tall micro-bevel over plain edge."""
    base = wedge(edge, Apex(radius_um=2.0))
    made = with_profile(base, with_micro_bevel(base.profile, micro, 0.5))  # type: ignore[arg-type]
    gain = quick_run(made).loads[0].first_yield / quick_run(base).loads[0].first_yield
    cap = gain_cap_same_radius(radians(micro), radians(edge))
    # the patch zone leaves out the first half width of the tip, in front of the peak
    assert gain == pytest.approx(cap, rel=0.01)


def bone(dps: float, **changes: object) -> Case:
    """Give a kitchen knife with one face in bone."""
    work = MediumLoad(name="bone", medium="bone", depth_in_cut_mm=0.3, side="left")
    knife = read_case("kitchen-knife-on-carrots")
    edge = Bevel(name="edge bevel", dps=dps, ends_at_thickness_mm=0.3)
    profile = replace(knife.profile, bevels=(edge,))
    return replace(knife, profile=profile, accuracy_percent=5.0, loads=(work,), **changes)


SMALL = MicroBevelQuestion(grid=4)


def test_an_edge_too_slim_gets_the_smallest_that_comes_through() -> None:
    study = micro_bevel_study(bone(8.0), SMALL)
    assert study.base.margin < 1.0
    assert study.chosen is not None
    assert study.chosen.margin >= 1.0
    assert study.chosen.margin == pytest.approx(1.0, rel=0.05)
    assert study.checked is not None
    (answer,) = study.checked.loads
    assert answer.verdict is not None
    assert answer.verdict.margin == pytest.approx(study.chosen.margin, rel=0.03)
    through = [d for d in study.feasible if d.margin >= 1.0]
    thinnest = min(d.slimness.thickness_in_cut_mm for d in through)
    assert study.chosen.slimness.thickness_in_cut_mm <= thinnest * (1.0 + 1e-9)
    sentence = micro_bevel_sentence(study)
    assert sentence.startswith("Worth adding: ")
    assert study.chosen.renewals >= 0
    assert study.chosen.metal_mm2 > 0.0


def test_an_edge_that_comes_through_needs_none() -> None:
    study = micro_bevel_study(bone(20.0), SMALL)
    assert study.chosen is None
    assert micro_bevel_sentence(study).startswith("Not needed: without one the edge takes ")


def test_what_gives_behind_it_is_not_helped_and_that_is_said() -> None:
    deep = MediumLoad(name="deep", medium="hard wood", depth_in_cut_mm=6.0, side="left")
    case = replace(bone(14.0), loads=(replace(deep, hand_force_n=2000.0),))
    low = MicroBevelQuestion(angles_dps=(16.0, 20.0), heights_mm=(0.03, 0.06), asked_margin=50.0)
    study = micro_bevel_study(case, low)
    assert micro_bevel_sentence(study).startswith("Not worth it: ")
    assert any("do not move the margin" in remark for remark in micro_bevel_remarks(study))


def test_costs_grow_with_height() -> None:
    study = micro_bevel_study(bone(10.0), SMALL)
    for row in study.designs:
        found = [design for design in row if isinstance(design, MicroDesign)]
        for key in ("metal_mm2", "renewals"):
            values = [getattr(design, key) for design in found]
            assert values == sorted(values)
        thick = [design.slimness.thickness_in_cut_mm for design in found]
        assert thick == sorted(thick)


def test_a_micro_bevel_equal_to_its_bevel_changes_nothing() -> None:
    base = bone(12.0, support=Support(clamp_depth_mm=20.0))
    same = with_micro_bevel(base.profile, 12.0, 0.05)  # type: ignore[arg-type]
    plain, equal = quick_run(base), quick_run(with_profile(base, same))
    for one, other in zip(plain.loads, equal.loads, strict=True):
        assert other.margin == pytest.approx(one.margin, rel=1e-3)
        assert other.first_yield == pytest.approx(one.first_yield, rel=1e-3)


@pytest.mark.parametrize(
    ("question", "words"),
    [
        (MicroBevelQuestion(angles_dps=(9.0,)), "beyond the edge's"),
        (MicroBevelQuestion(heights_mm=(0.0,)), "height 0 mm"),
        (MicroBevelQuestion(grid=1), "grid is 1"),
        (MicroBevelQuestion(at_mm=500.0), "at-mm is 500 mm"),
    ],
)
def test_questions_that_make_no_sense_are_refused(question: MicroBevelQuestion, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        micro_bevel_study(bone(10.0), question)
