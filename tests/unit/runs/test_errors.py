"""Errors, the clamp's part in them, and peaks that have no value."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, replace

import pytest

from simedge import run_case
from simedge.inputs.case import Case, Support
from simedge.inputs.load import FaceLoad, TipLineLoad, TipMovement
from simedge.inputs.profile import Apex, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.run import Run

Runner = Callable[..., Run]
STEEL = Steel(grade="52100", hardness_hrc=60.0)
LEVER = TipLineLoad(lateral_n_per_mm=1.0, axial_n_per_mm=0.2)
PRESSED = FaceLoad(at="left face", from_mm=0.02, to_mm=1.5, pressure_mpa=40.0)


def test_every_answer_has_an_error_and_none_without_one(run: Runner) -> None:
    for answer in run(LEVER, PRESSED).loads:
        for key, error in asdict(answer.errors).items():
            value = getattr(answer, key)
            assert (error is None) == (value is None), key
            if error is not None:
                assert 0.0 <= error <= 0.05 * abs(value) or value == 0.0, key


def test_a_finer_mesh_leaves_less_open(run: Runner) -> None:
    (rough,), (fine,) = (run(LEVER, accuracy_percent=a).loads for a in (5.0, 0.2))
    for key in ("section_peak_von_mises_mpa", "apex_lateral_mm"):
        assert getattr(fine.errors, key) < 0.7 * getattr(rough.errors, key)
        # and what the rough one says holds for what the fine one finds
        apart = abs(getattr(fine, key) - getattr(rough, key))
        assert apart <= getattr(rough.errors, key) + getattr(fine.errors, key)


def test_the_mesh_is_made_anew_where_it_leaves_too_much_open(run: Runner) -> None:
    assert run(LEVER, accuracy_percent=1.0).rounds == 1
    again = run(LEVER, accuracy_percent=0.05)
    assert again.rounds > 1
    (answer,) = again.loads
    assert answer.errors.apex_lateral_mm is not None
    assert answer.apex_lateral_mm is not None
    assert answer.errors.apex_lateral_mm <= 5e-4 * answer.apex_lateral_mm
    assert not [text for text in again.warnings if "not reached" in text]


# ---------------------------------------------------------------- where it is held


def test_a_clamp_nearer_changes_what_a_run_held_there_finds(run: Runner) -> None:
    # The same knife held at 10.8 instead of 12 mm. A clamp that stops only a cubic across the
    # thickness gives way a little more than a rigid one: within 2 % of the change itself.
    (far,), (near,) = (run(LEVER, clamp_mm=mm, accuracy_percent=1.0).loads for mm in (12.0, 10.8))
    effect = far.clamp_effect
    assert effect is not None
    assert effect.held_at_mm == pytest.approx(10.8)
    assert effect.apex_lateral_change_mm == pytest.approx(
        near.apex_lateral_mm - far.apex_lateral_mm,  # type: ignore[operator]
        rel=0.02,
    )
    # the peak sits at the tip and feels nothing of the clamp
    assert effect.section_peak_change_mpa == pytest.approx(0.0, abs=1e-6)


def test_a_peak_at_the_clamp_is_said_to_depend_on_it(run: Runner) -> None:
    # A bar of even thickness under a load on its tip bends the more the farther behind: wherever
    # it is held its peak is there. Its moment grows with the depth, held a tenth nearer by as much.
    bar = Profile(
        apex=Apex(land_um=1000.0),
        height_mm=20.0,
        spine_thickness_mm=1.02,
        primary_grind=PrimaryGrind(),
    )
    found = run(TipLineLoad(lateral_n_per_mm=1.0), profile=bar, clamp_mm=15.0)
    (answer,) = found.loads
    peak, effect = answer.section_peak_von_mises_mpa, answer.clamp_effect
    assert peak is not None
    assert effect is not None
    assert effect.section_peak_change_mpa == pytest.approx(0.1 * peak, rel=0.15)
    assert answer.errors.section_peak_von_mises_mpa >= effect.section_peak_change_mpa  # type: ignore[operator]
    assert any("depends on where the blade is held" in text for text in found.warnings)


def test_a_load_that_reaches_the_clamp_has_no_clamp_nearer(run: Runner) -> None:
    (answer,) = run(replace(PRESSED, to_mm=11.5)).loads
    assert answer.clamp_effect is None


def test_an_imposed_movement_is_exact_and_its_force_is_not(run: Runner) -> None:
    (answer,) = run(TipMovement(apex_lateral_mm=0.05)).loads
    assert answer.errors.apex_lateral_mm == 0.0
    assert answer.errors.reaction_lateral_n_per_mm > 0.0  # type: ignore[operator]
    assert answer.errors.first_yield_lateral_mm > 0.0  # type: ignore[operator]


# ---------------------------------------------------------------- peaks without a value


def test_a_sharp_tip_under_a_load_is_named_with_the_power_of_a_force(run: Runner) -> None:
    found = run(LEVER, PRESSED, apex=Apex(sharp=True), accuracy_percent=1.0)
    loaded, pressed = found.loads
    assert loaded.section_peak_von_mises_mpa is None
    assert loaded.singular is not None
    # stress under a force goes as one over the distance; of a wedge of 15 degrees per side
    assert loaded.singular.exponent_seen == pytest.approx(-1.0, abs=0.01)
    assert loaded.yield_depth_mm > 0.0
    assert pressed.singular is None
    assert pressed.section_peak_von_mises_mpa is not None


TURNS_IN = """x_mm,y_mm
3.0,1.24
0.5,0.072
0.0,0.0015
0.0,-0.0015
0.5,-0.072
3.0,-1.24
"""


def test_a_shoulder_that_turns_into_the_steel_has_no_peak(tmp_path) -> None:
    # From 8 to 25 degrees per side: 197 degrees of steel, and the peak is right there. Williams
    # has 1 - lambda = 0.159 (physics.md 8: 0.1426 at 195, 0.1813 at 200 degrees).
    from simedge import read_profile

    path = tmp_path / "turns-in.csv"
    path.write_text(TURNS_IN, encoding="utf-8")
    found = run_case(
        Case(
            profile=read_profile(path),
            steel=STEEL,
            support=Support(clamp_depth_mm=2.9),
            loads=(FaceLoad(at="left face", from_mm=0.02, to_mm=0.3, pressure_mpa=40.0),),
        )
    )
    (answer,) = found.loads
    assert answer.section_peak_von_mises_mpa is None
    assert answer.first_yield_load_factor is None
    assert answer.errors.section_peak_von_mises_mpa is None
    singular = answer.singular
    assert singular is not None
    assert (singular.x_mm, abs(singular.y_mm)) == pytest.approx((0.5, 0.072), abs=1e-6)
    assert singular.exponent_expected == pytest.approx(-0.159, abs=0.003)
    # read off the stress a hundredth of the thickness away, where other fields still add to it
    assert singular.exponent_seen == pytest.approx(singular.exponent_expected, abs=0.02)
    assert any("is singular" in text and "by theory" in text for text in found.warnings)
    assert answer.apex_lateral_mm is not None
