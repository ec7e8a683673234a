"""Imposed movement as an answer: the force that it takes, and how far the edge may be carried."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from simedge.inputs.load import CombinedLoad, FaceLoad, TipLineLoad, TipMovement
from simedge.runs.elastic_sentence import Carried, sentence_for
from simedge.runs.run import Run
from simedge.strength.peaks import NO_PEAKS, Peak, Peaks
from simedge.strength.yielding import NOTHING_YIELDED, YieldedRegion

Runner = Callable[..., Run]
Checker = Callable[[Run], None]


def test_the_reaction_is_the_answer(run: Runner, check_consistent: Checker) -> None:
    found = run(TipMovement(apex_lateral_mm=0.02))
    (answer,) = found.loads
    assert answer.apex_lateral_mm == pytest.approx(0.02, rel=1e-8)
    assert (answer.imposed_lateral_mm, answer.imposed_axial_mm) == (0.02, None)
    assert answer.reaction_axial_n_per_mm == 0.0
    assert answer.reaction_lateral_n_per_mm is not None
    assert answer.first_yield_load_factor is not None
    assert answer.first_yield_lateral_mm == pytest.approx(0.02 * answer.first_yield_load_factor)
    assert answer.first_yield_axial_mm is None
    (part,) = answer.parts
    assert (part.spread, part.lateral_n_per_mm) == ("rigid", answer.reaction_lateral_n_per_mm)
    check_consistent(found)
    # and it is the force that moves it so far
    force = TipLineLoad(lateral_n_per_mm=answer.reaction_lateral_n_per_mm, spread="rigid")
    (by_force,) = run(force).loads
    assert by_force.apex_lateral_mm == pytest.approx(0.02, rel=1e-8)
    assert by_force.section_peak_von_mises_mpa == pytest.approx(
        answer.section_peak_von_mises_mpa, rel=1e-8
    )
    assert (by_force.imposed_lateral_mm, by_force.reaction_lateral_n_per_mm) == (None, None)


def test_bent_by_a_distance_the_slim_edge_wins_by_a_force_the_stout_one(run: Runner) -> None:
    # plain wedges: stiffness goes as the cube of the angle, strength at the tip as the angle itself
    movement, force = TipMovement(apex_lateral_mm=0.02), TipLineLoad(lateral_n_per_mm=0.2)
    slim, stout = (
        run(movement, force, bevels=(), spine_thickness_mm=thickness).loads
        for thickness in (2.0, 4.0)
    )
    assert slim[0].first_yield_lateral_mm > 2.0 * stout[0].first_yield_lateral_mm  # type: ignore[operator]
    assert slim[1].first_yield_load_factor < 0.9 * stout[1].first_yield_load_factor  # type: ignore[operator]
    assert slim[0].reaction_lateral_n_per_mm < stout[0].reaction_lateral_n_per_mm  # type: ignore[operator]


def test_mirrored_movement_is_mirrored(run: Runner) -> None:
    left, right = run(
        TipMovement(name="left", apex_lateral_mm=0.01),
        TipMovement(name="right", apex_lateral_mm=-0.01),
    ).loads
    assert right.reaction_lateral_n_per_mm == pytest.approx(-left.reaction_lateral_n_per_mm)  # type: ignore[operator]
    assert right.section_peak_von_mises_mpa == pytest.approx(
        left.section_peak_von_mises_mpa, rel=1e-6
    )
    assert "to the left" in left.elastic_sentence
    assert "to the right" in right.elastic_sentence


def test_movement_beside_other_parts_is_the_apexs_in_all(run: Runner) -> None:
    press = FaceLoad(at="left face", from_mm=0.1, to_mm=1.0, pressure_mpa=20.0)
    (answer,) = run(
        CombinedLoad(parts=(press, TipMovement(apex_lateral_mm=0.0, apex_axial_mm=1e-4)))
    ).loads
    assert answer.apex_lateral_mm == pytest.approx(0.0, abs=1e-10)
    # pressure on the left moves the apex to the right: it is held back towards the left
    assert answer.reaction_lateral_n_per_mm is not None
    assert answer.reaction_lateral_n_per_mm > 0
    assert "this movement and all else" in answer.elastic_sentence


def test_far_beyond_small_movements_is_warned_of(run: Runner) -> None:
    far, near = (run(TipMovement(apex_lateral_mm=size)) for size in (2.0, 0.05))
    assert any("small movements" in text for text in far.warnings)
    assert not any("small movements" in text for text in near.warnings)


def test_pushed_straight_in_the_edge_turns_nowhere(run: Runner) -> None:
    # its faces bulge, alike on both sides
    (answer,) = run(TipMovement(apex_axial_mm=0.1)).loads
    assert answer.edge_turn_deg == pytest.approx(0.0, abs=0.01)


# ---------------------------------------------------------------- in words

TO_THE_RIGHT = Carried(lateral_mm=-0.5, axial_mm=None, reaction_n_per_mm=1.234, alone=True)
PEAK = Peaks(
    section=Peak(value_mpa=1000.0, x_mm=0.3, y_mm=0.05, doubt_mpa=0.0),
    patch=None,
    section_principal=None,
    patch_principal=None,
    at_zone_edge=False,
)


def said(yields_at_mpa: float, yielded: YieldedRegion = NOTHING_YIELDED) -> str:
    return sentence_for(
        PEAK, yielded, yields_at_mpa, yields_at_mpa, even=False, carried=TO_THE_RIGHT
    )


def test_springing_back_in_words() -> None:
    assert said(1800.0) == (
        "Carried 0.5 mm to the right, the edge pushes back with 1.2 N on each mm of edge and "
        "springs back; it would first yield at 0.9 mm to the right (1.8 times this movement), "
        "0.3 mm behind the apex, on the left."
    )


def test_yielding_in_words() -> None:
    deep = YieldedRegion(
        depth_mm=0.062,
        depth_y_mm=0.0,
        through_depth_mm=None,
        stretches_mm=((0.0, 0.062),),
        doubt_mpa=0.0,
        reaches_clamp=False,
    )
    assert said(500.0, deep) == (
        "Carried 0.5 mm to the right, the edge pushes back with 1.2 N on each mm of edge and "
        "yields, down to 62 µm behind the apex; it first does so at 0.25 mm to the right (0.5 "
        "times this movement), 0.3 mm behind the apex, on the left."
    )


def test_nothing_left_in_words() -> None:
    told = sentence_for(NO_PEAKS, NOTHING_YIELDED, 1.0, 1.0, even=True, nothing_left=True)
    assert told == "Nothing is left of this load: its parts cancel everywhere."
