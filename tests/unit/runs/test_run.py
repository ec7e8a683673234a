"""A whole run: its answers agree with one another, warnings come when they should, nothing is NaN.

The accuracy of the answers themselves is the business of `tests/verification`.
"""

from __future__ import annotations

import math
from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np
import pytest
from pydantic import ValidationError

from simedge import run_case
from simedge.errors import SimedgeError
from simedge.fem.elastic import nodal_forces
from simedge.inputs.case import Case, Support
from simedge.inputs.load import CombinedLoad, FaceLoad, Load, MediumLoad, TipForce, TipLineLoad
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.answer import IN_MEMORY, LoadAnswer
from simedge.runs.run import Run

ROPE_KNIFE = Profile(
    height_mm=28.0,
    spine_thickness_mm=3.2,
    apex=Apex(radius_um=1.5),
    bevels=(
        Bevel(name="micro-bevel", dps=15.0, height_mm=0.08),
        Bevel(name="edge bevel", dps=11.0, ends_at_thickness_mm=0.45),
    ),
    primary_grind=PrimaryGrind(),
)
#: What may be raised on purpose: by the records themselves, or further on.
REFUSALS = (ValidationError, SimedgeError)
STEEL = Steel(grade="52100", hardness_hrc=60.0)
WEDGED = FaceLoad(at="left face", from_mm=0.02, to_mm=1.5, pressure_mpa=40.0, friction=0.2)
TIP = TipLineLoad(axial_n_per_mm=0.3, lateral_n_per_mm=0.1)


def run(
    *loads: Load,
    profile: Profile = ROPE_KNIFE,
    clamp_mm: float | None = 12.0,
    accuracy_percent: float = 3.0,
    steel: Steel = STEEL,
    **changes: Any,
) -> Run:
    return run_case(
        Case(
            profile=replace(profile, **changes),
            steel=steel,
            support=Support(clamp_depth_mm=clamp_mm),
            accuracy_percent=accuracy_percent,
            loads=loads,
        )
    )


def numbers(value: Any, path: str = "") -> list[tuple[str, float]]:
    """Give every number of an answer that is written to a file, with its name."""
    if is_dataclass(value) and not isinstance(value, type):
        inner = {f.name: getattr(value, f.name) for f in fields(value) if f.name not in IN_MEMORY}
        return [pair for key, each in inner.items() for pair in numbers(each, f"{path}.{key}")]
    if isinstance(value, tuple | list):
        return [
            pair for index, each in enumerate(value) for pair in numbers(each, f"{path}[{index}]")
        ]
    return [(path, value)] if isinstance(value, float) else []


def check_consistent(found: Run) -> None:
    """Check what must hold between the answers of any run."""
    strength = found.steel.yield_strength_mpa
    for answer in found.loads:
        told = numbers(answer)
        assert len(told) > 10
        assert [name for name, number in told if not math.isfinite(number)] == []
        peak, factor = answer.section_peak_von_mises_mpa, answer.first_yield_load_factor
        assert (peak is None) == (factor is None)
        if peak is not None and factor is not None:
            assert factor == pytest.approx(strength / peak, rel=1e-12)
            low, high = answer.first_yield_load_factor_low, answer.first_yield_load_factor_high
            assert low is not None
            assert high is not None
            assert low <= factor <= high
            assert low * peak == pytest.approx(found.steel.yield_low_mpa, rel=1e-12)
            assert (answer.first_yield_x_mm, answer.first_yield_y_mm) == (
                answer.section_peak_x_mm,
                answer.section_peak_y_mm,
            )
            # whatever the section says of yield, the yielded region says too
            assert (factor > 1 or answer.yield_depth_mm > 0) or factor == pytest.approx(1)
        if answer.patch_peak_von_mises_mpa is not None:
            assert answer.patch_first_yield_load_factor == pytest.approx(
                strength / answer.patch_peak_von_mises_mpa, rel=1e-12
            )
        assert (answer.yield_depth_mm == 0) == (answer.yielded_stretches_mm == ())
        assert (answer.yield_depth_y_mm is None) == (answer.yield_depth_mm == 0)
        if answer.yielded_stretches_mm:
            assert answer.yielded_stretches_mm[-1][1] == answer.yield_depth_mm
            assert all(begin <= end for begin, end in answer.yielded_stretches_mm)
        if answer.through_yield_depth_mm is not None:
            assert 0 < answer.through_yield_depth_mm <= answer.yield_depth_mm
        if answer.contact_ratio is not None:
            assert answer.contact_length_mm is not None
            assert answer.contact_ratio * answer.yield_depth_mm == pytest.approx(
                answer.contact_length_mm
            )
        assert answer.residual <= 1e-10
        assert answer.reaction_error <= 1e-9
        assert answer.sentence.endswith(".")
        for beside in answer.closed_form:
            computed = getattr(answer, beside.quantity)
            if beside.ratio is not None:
                assert beside.ratio * beside.value == pytest.approx(computed, rel=1e-12)


def answers_of(answer: LoadAnswer) -> dict[str, float]:
    """Give an answer's own numbers, without balance and closed forms."""
    own = replace(answer, closed_form=(), residual=0.0, reaction_error=0.0)
    return dict(numbers(own))


# ---------------------------------------------------------------- one answer and another


def test_answers_of_the_library_case_agree_with_one_another(rope_knife: Run) -> None:
    check_consistent(rope_knife)
    assert [answer.name for answer in rope_knife.loads] == [
        "steering the cut",
        "wedged",
        "tip on a staple",
        "leaning on it",
    ]
    assert rope_knife.measures.thickness_behind_edge_mm == pytest.approx(0.45)


def test_equal_loads_have_equal_answers() -> None:
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
    assert answers_of(part) == answers_of(one)


def test_twice_the_load_is_twice_the_stress_and_half_the_factor() -> None:
    double = TipLineLoad(axial_n_per_mm=0.6, lateral_n_per_mm=0.2)
    pressed = replace(WEDGED, pressure_mpa=80.0)
    for one, two in (run(TIP, double).loads, run(WEDGED, pressed).loads):
        for key in (
            "section_peak_von_mises_mpa",
            "patch_peak_von_mises_mpa",
            "largest_principal_mpa",
            "apex_lateral_mm",
            "apex_axial_mm",
        ):
            assert getattr(two, key) == pytest.approx(2 * getattr(one, key), rel=1e-9), key
        assert two.first_yield_load_factor == pytest.approx(0.5 * one.first_yield_load_factor)
        assert two.section_peak_x_mm == one.section_peak_x_mm
        assert two.parts[0].axial_n_per_mm == pytest.approx(2 * one.parts[0].axial_n_per_mm)


def test_the_load_at_its_own_first_yield_just_yields() -> None:
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


def test_a_medium_is_the_same_as_what_it_presses_by_hand() -> None:
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


def test_pressure_on_the_left_moves_the_apex_to_the_right() -> None:
    left, right = run(WEDGED, replace(WEDGED, at="right face")).loads
    assert left.apex_lateral_mm < 0 < right.apex_lateral_mm
    # two faces divided alike, though the triangles between them are not mirrored: 0.1 %
    assert left.apex_lateral_mm == pytest.approx(-right.apex_lateral_mm, rel=1e-3)


def test_an_axial_load_pushes_and_a_lateral_load_turns_the_apex() -> None:
    axial, lateral = run(TipLineLoad(axial_n_per_mm=1.0), TipLineLoad(lateral_n_per_mm=1.0)).loads
    assert axial.apex_axial_mm > 0
    assert lateral.apex_lateral_mm > 0
    # Betti: what one moves along the other's direction is the same both ways, here nothing
    assert abs(axial.apex_lateral_mm) < 1e-3 * axial.apex_axial_mm
    assert axial.even
    assert not lateral.even


def test_a_bevel_without_effect_changes_no_answer() -> None:
    twin = Bevel(name="touch-up", dps=15.0, height_mm=0.02)
    nothing = Bevel(name="none", dps=20.0, height_mm=0.0)
    plain = run(TIP)
    # the two together are as high as the micro-bevel alone
    rest = Bevel(name="micro-bevel", dps=15.0, height_mm=0.06)
    same = run(TIP, bevels=(nothing, twin, rest, ROPE_KNIFE.bevels[1]))
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
def test_answers_of_any_edge_agree_with_one_another(changes: dict[str, Any]) -> None:
    straight = MediumLoad(medium="soft wood", depth_in_cut_mm=0.3, side="both")
    crooked = MediumLoad(medium="bone", depth_in_cut_mm=0.3, side="right")
    check_consistent(run(TIP, WEDGED, straight, crooked, **changes))


def test_stretches_may_meet_begin_at_the_tip_or_end_at_the_clamps_margin() -> None:
    first = FaceLoad(at="left face", from_mm=0.0, to_mm=0.5, pressure_mpa=4.0, friction=0.3)
    second = FaceLoad(at="left face", from_mm=0.5, to_mm=11.99, pressure_mpa=4.0, friction=0.3)
    found = run(CombinedLoad(parts=(first, second)), first, second)
    check_consistent(found)
    both, one, other = found.loads
    assert both.apex_lateral_mm == pytest.approx(one.apex_lateral_mm + other.apex_lateral_mm)


# ---------------------------------------------------------------- warnings


def test_a_good_case_has_no_warnings() -> None:
    wood = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left")
    assert run(wood).warnings == ()


def test_a_short_contact_is_warned_of() -> None:
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


def test_a_tip_load_beyond_the_cases_media_is_warned_of() -> None:
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


def test_parts_that_cancel_are_warned_of_and_answered() -> None:
    push, pull = (TipLineLoad(lateral_n_per_mm=size) for size in (1.0, -1.0))
    found = run(CombinedLoad(parts=(push, pull), name="both"))
    assert any(text.startswith("both: the parts of this load cancel") for text in found.warnings)
    (answer,) = found.loads
    assert answer.apex_lateral_mm == pytest.approx(0.0, abs=1e-12)
    assert answer.yield_depth_mm == 0.0
    check_consistent(found)


def test_cancelling_spreads_leave_stress_under_them() -> None:
    smooth, even = TIP, TipLineLoad(axial_n_per_mm=-0.3, lateral_n_per_mm=-0.1, spread="uniform")
    found = run(CombinedLoad(parts=(smooth, even)))
    assert any("cancel" in text for text in found.warnings)
    assert found.loads[0].patch_peak_von_mises_mpa > 1.0  # type: ignore[operator]


def test_a_re_entrant_shoulder_is_warned_of() -> None:
    front = Bevel(name="micro-bevel", left_dps=8.0, right_dps=22.0, height_mm=0.1)
    behind = Bevel(name="edge bevel", dps=11.0, height_mm=1.0)
    found = run(TIP, bevels=(front, behind))
    assert any("re-entrant shoulder" in text for text in found.warnings)
    check_consistent(found)


def test_a_pulled_tip_is_warned_of() -> None:
    (warning, *_) = run(TipLineLoad(axial_n_per_mm=-1.0, name="stuck")).warnings
    assert warning.startswith("stuck: the load pulls on the edge")


def test_a_clipped_stretch_is_said() -> None:
    (warning,) = run(replace(WEDGED, from_mm=0.0)).warnings
    assert "begins at 1.11 µm, where the left face leaves the tip" in warning


def test_a_blade_held_close_to_its_edge_is_warned_of() -> None:
    wide = run(TIP, bevels=(), spine_thickness_mm=None, primary_grind=PrimaryGrind(dps=40.0))
    assert any("stress is only judged down to" in text for text in wide.warnings)


def test_the_zones_edge_is_told_for_an_axial_tip_load() -> None:
    axial, lateral = (TipLineLoad(axial_n_per_mm=1.0), TipLineLoad(lateral_n_per_mm=1.0))
    found = run(axial, lateral)
    assert [answer.section_peak_at_zone_edge for answer in found.loads] == [True, False]
    assert sum("edge of the zone" in text for text in found.warnings) == 1


def test_nearly_incompressible_steel_is_warned_of() -> None:
    soft = replace(STEEL, poissons_ratio=0.499)
    assert any("0.499" in text and "lock" in text for text in run(TIP, steel=soft).warnings)


# ---------------------------------------------------------------- what people type


@pytest.mark.usefixtures("deadline")
def test_a_sharp_tip_under_a_tip_load_has_no_peak_and_says_so() -> None:
    found = run(TIP, apex=Apex(sharp=True))
    (answer,) = found.loads
    assert answer.section_peak_von_mises_mpa is None
    assert answer.first_yield_load_factor is None
    assert answer.largest_principal_mpa is None
    assert "no finite peak" in answer.sentence
    assert any("perfectly sharp" in text and "singular" in text for text in found.warnings)
    check_consistent(found)


@pytest.mark.usefixtures("deadline")
@pytest.mark.parametrize("from_mm", [0.0, 0.1])
def test_a_sharp_edge_pressed_on_a_face_has_a_peak(from_mm: float) -> None:
    found = run(replace(WEDGED, from_mm=from_mm), apex=Apex(sharp=True))
    check_consistent(found)
    assert found.loads[0].section_peak_von_mises_mpa is not None


@pytest.mark.usefixtures("deadline")
def test_a_medium_bears_on_no_tip_of_a_sharp_edge() -> None:
    wood = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left")
    found = run(wood, apex=Apex(sharp=True))
    assert [part.at for part in found.loads[0].parts] == ["left face"]
    check_consistent(found)


STEPPED = (
    Bevel(name="first", dps=15.0, height_mm=0.1),
    Bevel(name="next", dps=11.0, height_mm=0.2),
)


@pytest.mark.parametrize("to_mm", [0.3, 0.1 + 0.2, 0.3 + 1e-12, 0.3 - 1e-9, 0.3000001])
def test_a_stretch_may_end_at_a_shoulder_or_next_to_it(to_mm: float) -> None:
    # A person writes 0.3 mm, and the shoulder lies at 0.1 + 0.2 = 0.30000000000000004 mm.
    ending = replace(WEDGED, to_mm=to_mm)
    found, at_ease = run(ending, bevels=STEPPED), run(replace(WEDGED, to_mm=0.29), bevels=STEPPED)
    check_consistent(found)
    # 3 % more of the stretch moves the apex by a few per cent more
    assert found.loads[0].apex_lateral_mm == pytest.approx(
        at_ease.loads[0].apex_lateral_mm, rel=0.1
    )


@pytest.mark.parametrize("length_mm", [1e-12, 1e-7, 1e-4, 1e-2])
@pytest.mark.parametrize("from_mm", [0.02, 0.5])
def test_a_short_stretch_is_carried_or_refused_but_not_lost(
    from_mm: float, length_mm: float
) -> None:
    # What the answer says acts must be what the mesh was given: never an unmoved apex.
    try:
        found = run(replace(WEDGED, from_mm=from_mm, to_mm=from_mm + length_mm))
    except REFUSALS:
        return
    (answer,), outline = found.loads, found.outline
    carried = nodal_forces(found.mesh, outline, answer.tractions).sum(axis=1)
    told = (answer.parts[0].axial_n_per_mm, answer.parts[0].lateral_n_per_mm)
    # ends may be moved by what the mesh cannot resolve, which is little of what is pressed
    assert carried == pytest.approx(told, rel=1e-2)
    assert answer.apex_lateral_mm < 0


@pytest.mark.parametrize("shift", [1e-15, 1e-12, 1e-9, 1e-7])
def test_two_loads_may_end_next_to_each_other(shift: float) -> None:
    found = run(WEDGED, replace(WEDGED, to_mm=1.5 + shift))
    check_consistent(found)
    one, other = found.loads
    assert one.apex_lateral_mm == pytest.approx(other.apex_lateral_mm, rel=1e-5)


@pytest.mark.parametrize("clamp_mm", [0.8, 0.7 + 0.1, 0.8 + 1e-12])
def test_the_clamp_may_stand_at_a_shoulder_or_next_to_it(clamp_mm: float) -> None:
    # 0.7 + 0.1 = 0.7999999999999999, and a person writes 0.8
    bevels = (Bevel(dps=15.0, height_mm=0.7), Bevel(dps=11.0, height_mm=0.1))
    check_consistent(run(TIP, bevels=bevels, clamp_mm=clamp_mm))


@pytest.mark.parametrize("clamp_mm", [0.00112, 0.0015, 0.004, 0.0055, 0.006, 0.02])
@pytest.mark.parametrize("accuracy_percent", [0.3, 3.0])
def test_a_blade_held_at_its_apex_is_answered_or_refused(
    clamp_mm: float, accuracy_percent: float
) -> None:
    # The faces begin 0.001112 mm behind the apex; nobody holds a knife there.
    try:
        found = run(TIP, clamp_mm=clamp_mm, accuracy_percent=accuracy_percent)
    except REFUSALS:
        return
    check_consistent(found)


@pytest.mark.parametrize("clamp_mm", [1e-6, 1.0, 3.001, 4.0])
def test_a_wide_land_held_close_is_not_called_sharp(clamp_mm: float) -> None:
    # Half a land's width is zone; here that is all that may be judged.
    wide = replace(ROPE_KNIFE, apex=Apex(land_um=2000.0), bevels=())
    try:
        found = run(TipLineLoad(axial_n_per_mm=1.0), profile=wide, clamp_mm=clamp_mm)
    except REFUSALS:
        return
    check_consistent(found)
    assert "sharp" not in found.loads[0].sentence


@pytest.mark.parametrize("size", [1e-300, 1e-200, 1e-100, 1e-9, 1e5])
def test_loads_of_any_size_are_answered_or_refused(size: float) -> None:
    try:
        found = run(TipLineLoad(axial_n_per_mm=size))
    except REFUSALS:
        return
    check_consistent(found)


def test_random_loads_are_answered_in_order() -> None:
    turns = np.linspace(-180, 180, 9)
    found = run(
        *(TipForce(force_n=1.0, contact_length_mm=2.0, direction_deg=float(t)) for t in turns)
    )
    check_consistent(found)
    expected = 0.5 * np.sin(np.radians(turns))
    assert [answer.parts[0].lateral_n_per_mm for answer in found.loads] == pytest.approx(
        expected, abs=1e-12
    )
    assert np.sign([round(answer.apex_lateral_mm, 9) for answer in found.loads]).tolist() == (
        np.sign(expected.round(9)).tolist()
    )
