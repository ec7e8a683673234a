"""A whole run: its answers agree with one another, warnings come when they should, nothing is NaN.

The accuracy of the answers themselves is the business of `tests/verification`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from simedge.inputs.load import CombinedLoad, FaceLoad, MediumLoad, TipForce, TipLineLoad
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind
from simedge.inputs.steel import Steel
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run

Runner = Callable[..., Run]
Checker = Callable[[Run], None]
Teller = Callable[[LoadAnswer], dict[str, float]]

STEEL = Steel(grade="52100", hardness_hrc=60.0)
WEDGED = FaceLoad(at="left face", from_mm=0.02, to_mm=1.5, pressure_mpa=40.0, friction=0.2)
TIP = TipLineLoad(axial_n_per_mm=0.3, lateral_n_per_mm=0.1)
EDGE_BEVEL = Bevel(name="edge bevel", dps=11.0, ends_at_thickness_mm=0.45)


# ---------------------------------------------------------------- one answer and another


def test_answers_of_the_library_case_agree_with_one_another(
    rope_knife: Run, check_consistent: Checker
) -> None:
    check_consistent(rope_knife)
    assert [answer.name for answer in rope_knife.loads] == [
        "steering the cut",
        "wedged",
        "tip on a staple",
        "leaning on it",
    ]
    assert rope_knife.measures.thickness_behind_edge_mm == pytest.approx(0.45)


def test_equal_loads_have_equal_answers(run: Runner, answers_of: Teller) -> None:
    # 36 N over 12 mm at atan(1/3) to the left is 3 / sqrt(10) (3, 1) N/mm.
    size = 10**0.5 / 10
    force = TipForce(
        force_n=12.0 * size, contact_length_mm=12.0, direction_deg=math.degrees(math.atan(1 / 3))
    )
    one, other, part = run(TIP, force, CombinedLoad(parts=(TIP,))).loads
    # the same to the rounding of sine and cosine
    assert answers_of(replace(other, contact_length_mm=None, contact_ratio=None)) == pytest.approx(
        answers_of(one), rel=1e-9
    )
    # columns of one solution are summed in an order that depends on the processor
    assert answers_of(part) == pytest.approx(answers_of(one), rel=1e-9)


def test_twice_the_load_is_twice_the_stress_and_half_the_factor(run: Runner) -> None:
    double = TipLineLoad(axial_n_per_mm=0.6, lateral_n_per_mm=0.2)
    pressed = replace(WEDGED, pressure_mpa=80.0)
    for one, two in (run(TIP, double).loads, run(WEDGED, pressed).loads):
        keys = ["section_peak_von_mises_mpa", "largest_principal_mpa"]
        keys += ["apex_lateral_mm", "apex_axial_mm"]
        if one.parts[0].at == "tip":  # pressed with friction, stress at the ends has no peak
            keys.append("patch_peak_von_mises_mpa")
        for key in keys:
            assert getattr(two, key) == pytest.approx(2 * getattr(one, key), rel=1e-9), key
        assert two.first_yield_load_factor == pytest.approx(0.5 * one.first_yield_load_factor)
        assert two.section_peak_x_mm == one.section_peak_x_mm
        assert two.parts[0].axial_n_per_mm == pytest.approx(2 * one.parts[0].axial_n_per_mm)


def test_the_load_at_its_own_first_yield_just_yields(run: Runner) -> None:
    (before,) = run(WEDGED).loads
    assert before.first_yield_load_factor is not None
    for times, yields in ((0.999, False), (1.001, True)):
        pressure = times * before.first_yield_load_factor * 40.0
        (answer,) = run(replace(WEDGED, pressure_mpa=pressure)).loads
        at_section = [
            begin <= before.first_yield_x_mm <= end  # type: ignore[operator]
            for begin, end in answer.yielded_stretches_mm
        ]
        assert any(at_section) is yields


def test_a_medium_is_the_same_as_what_it_presses_by_hand(run: Runner, answers_of: Teller) -> None:
    medium = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left")
    (worked,) = run(medium).loads
    tip, face = worked.parts
    assert (tip.at, face.at, worked.limited_by) == ("tip", "left face", "hand")
    by_hand = CombinedLoad(
        parts=(
            TipLineLoad(axial_n_per_mm=tip.axial_n_per_mm),
            FaceLoad(
                at="left face",
                from_mm=face.from_mm,  # type: ignore[arg-type]
                to_mm=face.to_mm,  # type: ignore[arg-type]
                pressure_mpa=face.pressure_mpa,  # type: ignore[arg-type]
                friction=face.friction,  # type: ignore[arg-type]
            ),
        )
    )
    (pressed,) = run(by_hand).loads
    assert pressed.limited_by is None
    hidden = {".contact_length_mm", ".contact_ratio"}
    expected = {key: value for key, value in answers_of(worked).items() if key not in hidden}
    assert answers_of(pressed) == pytest.approx(expected, rel=1e-9)


def test_pressure_on_the_left_moves_the_apex_to_the_right(run: Runner) -> None:
    left, right = run(WEDGED, replace(WEDGED, at="right face")).loads
    assert left.apex_lateral_mm < 0 < right.apex_lateral_mm
    # two faces divided alike, though the triangles between them are not mirrored: 0.1 %
    assert left.apex_lateral_mm == pytest.approx(-right.apex_lateral_mm, rel=1e-3)


def test_an_axial_load_pushes_and_a_lateral_load_turns_the_apex(run: Runner) -> None:
    axial, lateral = run(TipLineLoad(axial_n_per_mm=1.0), TipLineLoad(lateral_n_per_mm=1.0)).loads
    assert axial.apex_axial_mm > 0
    assert lateral.apex_lateral_mm > 0
    # Betti: what one moves along the other's direction is the same both ways, here nothing
    assert abs(axial.apex_lateral_mm) < 1e-3 * axial.apex_axial_mm
    assert axial.even
    assert not lateral.even


def test_a_bevel_without_effect_changes_no_answer(run: Runner, answers_of: Teller) -> None:
    twin = Bevel(name="touch-up", dps=15.0, height_mm=0.02)
    nothing = Bevel(name="none", dps=20.0, height_mm=0.0)
    plain = run(TIP)
    # the two together are as high as the micro-bevel alone
    rest = Bevel(name="micro-bevel", dps=15.0, height_mm=0.06)
    same = run(TIP, bevels=(nothing, twin, rest, EDGE_BEVEL))
    # its shoulder, worked out in two steps, may differ in the last bit; the mesh is the same
    assert answers_of(same.loads[0]) == pytest.approx(answers_of(plain.loads[0]), rel=1e-8)
    assert [("left out" in text, "no effect" in text) for text in same.warnings[:2]] == [
        (True, False),
        (False, True),
    ]


@pytest.mark.parametrize(
    "changes",
    [
        {"apex": Apex(land_um=8.0)},
        {"apex": Apex(radius_um=0.02)},
        {"bevels": (Bevel(left_dps=0.0, right_dps=25.0, height_mm=2.0),)},
        {"bevels": (), "spine_thickness_mm": 0.4},
        {"bevels": (Bevel(dps=20.0, ends_at_thickness_mm=3.2),)},  # a parallel body
        {"bevels": (), "spine_thickness_mm": None, "primary_grind": PrimaryGrind(dps=45.0)},
    ],
)
def test_answers_of_any_edge_agree_with_one_another(
    changes: dict[str, Any], run: Runner, check_consistent: Checker
) -> None:
    straight = MediumLoad(medium="soft wood", depth_in_cut_mm=0.3, side="both")
    crooked = MediumLoad(medium="bone", depth_in_cut_mm=0.3, side="right")
    check_consistent(run(TIP, WEDGED, straight, crooked, **changes))


def test_stretches_may_meet_begin_at_the_tip_or_end_at_the_clamps_margin(
    run: Runner, check_consistent: Checker
) -> None:
    first = FaceLoad(at="left face", from_mm=0.0, to_mm=0.5, pressure_mpa=4.0, friction=0.3)
    second = FaceLoad(at="left face", from_mm=0.5, to_mm=11.99, pressure_mpa=4.0, friction=0.3)
    found = run(CombinedLoad(parts=(first, second)), first, second)
    check_consistent(found)
    both, one, other = found.loads
    assert both.apex_lateral_mm == pytest.approx(one.apex_lateral_mm + other.apex_lateral_mm)


# ---------------------------------------------------------------- warnings


def test_a_good_case_has_no_warnings(run: Runner) -> None:
    wood = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left")
    assert run(wood).warnings == ()


def test_a_short_contact_is_warned_of(run: Runner) -> None:
    short = TipForce(force_n=0.3, contact_length_mm=0.02, direction_deg=90.0)
    long = TipForce(force_n=150.0, contact_length_mm=10.0, direction_deg=90.0)
    found = run(short, long)
    near, far = found.loads
    assert near.contact_ratio is not None
    assert far.contact_ratio is not None
    assert near.contact_ratio < 4 < far.contact_ratio
    about = [text for text in found.warnings if "in contact over" in text]
    assert len(about) == 1
    assert about[0].startswith("load 1: ")
    assert "0.02 mm" in about[0]


def test_a_tip_load_beyond_the_cases_media_is_warned_of(run: Runner) -> None:
    # Hard wood at its strongest bears 3 x 80 MPa x 2 x 1.5 µm x cos 15 = 0.695 N/mm.
    wood = MediumLoad(medium="hard wood", depth_in_cut_mm=0.05, side="left", level="low")
    below = TipLineLoad(axial_n_per_mm=0.5, lateral_n_per_mm=0.4)  # together 0.64
    beyond = TipLineLoad(axial_n_per_mm=0.6, lateral_n_per_mm=0.4, name="staple")  # 0.72
    about = [text for text in run(wood, below, beyond).warnings if "cannot press" in text]
    assert len(about) == 1
    assert about[0].startswith("staple: 0.721 N/mm")
    assert "0.7 N/mm" in about[0]
    assert "hard wood" in about[0]
    # without a medium there is nothing to hold it against
    assert not [text for text in run(beyond).warnings if "cannot press" in text]


def test_parts_that_cancel_are_warned_of_and_answered(
    run: Runner, check_consistent: Checker
) -> None:
    push, pull = (TipLineLoad(lateral_n_per_mm=size) for size in (1.0, -1.0))
    found = run(CombinedLoad(parts=(push, pull), name="both"))
    assert any(text.startswith("both: the parts of this load cancel") for text in found.warnings)
    (answer,) = found.loads
    assert answer.apex_lateral_mm == pytest.approx(0.0, abs=1e-12)
    assert answer.yield_depth_mm == 0.0
    assert answer.section_peak_von_mises_mpa is None  # and not what rounding leaves
    assert answer.first_yield_load_factor is None
    assert answer.closed_form == ()
    assert answer.sentence.startswith("Nothing is left of this load")
    check_consistent(found)


def test_cancelling_spreads_leave_stress_under_them(run: Runner) -> None:
    smooth, even = TIP, TipLineLoad(axial_n_per_mm=-0.3, lateral_n_per_mm=-0.1, spread="uniform")
    found = run(CombinedLoad(parts=(smooth, even)))
    assert any("cancel" in text for text in found.warnings)
    (answer,) = found.loads
    assert not answer.nothing_left
    assert answer.stress.von_mises_mpa.max() > 1.0
    # the even spread ends abruptly on the round tip: under it stress has no peak to tell
    assert answer.patch_peak_von_mises_mpa is None


def test_a_re_entrant_shoulder_is_warned_of(run: Runner, check_consistent: Checker) -> None:
    front = Bevel(name="micro-bevel", left_dps=8.0, right_dps=22.0, height_mm=0.1)
    behind = Bevel(name="edge bevel", dps=11.0, height_mm=1.0)
    found = run(TIP, bevels=(front, behind))
    assert any("re-entrant shoulder" in text for text in found.warnings)
    check_consistent(found)


def test_a_pulled_tip_is_warned_of(run: Runner) -> None:
    (warning, *_) = run(TipLineLoad(axial_n_per_mm=-1.0, name="stuck")).warnings
    assert warning.startswith("stuck: the load pulls on the edge")


def test_a_clipped_stretch_is_said(run: Runner) -> None:
    (warning,) = run(replace(WEDGED, from_mm=0.0, pressure_mpa=5.0)).warnings
    assert "begins at 1.11 µm, where the left face leaves the tip" in warning


def test_a_blade_held_close_to_its_edge_is_warned_of(run: Runner) -> None:
    wide = run(TIP, bevels=(), spine_thickness_mm=None, primary_grind=PrimaryGrind(dps=40.0))
    assert any("stress is only judged down to" in text for text in wide.warnings)


def test_the_zones_edge_is_told_for_an_axial_tip_load(run: Runner) -> None:
    axial, lateral = (TipLineLoad(axial_n_per_mm=1.0), TipLineLoad(lateral_n_per_mm=1.0))
    found = run(axial, lateral)
    assert [answer.section_peak_at_zone_edge for answer in found.loads] == [True, False]
    assert sum("edge of the zone" in text for text in found.warnings) == 1


def test_nearly_incompressible_steel_is_warned_of(run: Runner) -> None:
    soft = replace(STEEL, poissons_ratio=0.499)
    assert any(
        "0.499" in text and "largest tension" in text for text in run(TIP, steel=soft).warnings
    )


def test_a_sharp_tip_under_a_pressed_face_shows_no_peak_of_its_few_elements(run: Runner) -> None:
    # under pressure from the very tip on, stress is alike along each ray (Carothers 1912): the
    # section's peak is the closed form's, not what the last elements before the point make of it
    press = FaceLoad(at="left face", from_mm=0.0, to_mm=0.1, pressure_mpa=200.0)
    slim = {"apex": Apex(sharp=True), "bevels": (), "spine_thickness_mm": 2.8}
    (answer,) = run(press, **slim).loads
    (peak,) = [c for c in answer.closed_form if c.quantity == "section_peak_von_mises_mpa"]
    assert peak.ratio == pytest.approx(1.0, abs=0.01)
    assert answer.section_peak_x_mm > 0.05  # type: ignore[operator]
    assert answer.yield_depth_mm > 0.05
    (blunt,) = run(press, **{**slim, "apex": Apex(radius_um=0.01)}).loads
    assert answer.section_peak_von_mises_mpa == pytest.approx(
        blunt.section_peak_von_mises_mpa, rel=0.01
    )
