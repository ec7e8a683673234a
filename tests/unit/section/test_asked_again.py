"""The same work asked again of an edge that was cut back, by hand: issue 5 says what counts so."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.inputs.load import (
    CombinedLoad,
    FaceLoad,
    LayeredLoad,
    Load,
    MediumLoad,
    ObjectLoad,
    TipForce,
    TipLineLoad,
    TipMovement,
)
from simedge.inputs.work_loads import Layer
from simedge.section.asked_again import Work
from simedge.section.loading import tractions_of
from simedge.section.outline import Outline
from simedge.section.tractions import TipMovement as Carried
from simedge.section.tractions import TipTraction, Tractions, resultant_up_to

Edge = Callable[..., Outline]
SLOPE = tan(radians(12.0))
cuts = st.floats(1e-5, 3.0)


@pytest.fixture(scope="session")
def wedge(edge: Edge) -> Outline:
    """Give a sharp wedge of 12 dps, held 8 mm behind its apex: a cut of d is 2 d tan 12 wide."""
    return edge((), dps=12.0, height_mm=10.0, sharp=True, clamp_mm=8.0)


def work(load: Load, outline: Outline) -> Work:
    return Work(load=load, outline=outline, tractions=tractions_of(load, "trial", outline))


def again(load: Load, outline: Outline, cut_mm: float) -> Tractions:
    return work(load, outline).again(cut_mm)[1]


@given(cut=cuts)
def test_a_medium_presses_the_new_land_with_three_times_its_strength(
    wedge: Outline, cut: float
) -> None:
    load = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left")
    assert work(load, wedge).tractions.tip == ()  # no width, no force
    (tip,) = again(load, wedge, cut).tip
    wanted = 3.0 * 60.0 * 2.0 * cut * SLOPE
    # the hand's 100 N over 15 mm is all that there is to press straight in with
    assert tip.axial_n_per_mm == pytest.approx(min(wanted, 100.0 / 15.0), rel=1e-12)
    assert tip.lateral_n_per_mm == 0.0


@given(cut=cuts)
def test_the_depth_in_the_cut_counts_from_the_new_front(wedge: Outline, cut: float) -> None:
    load = MediumLoad(medium="soft wood", depth_in_cut_mm=0.3, side="left")  # 22 x 0.3 < 100 / 15
    (face,) = again(load, wedge, cut).faces
    assert (face.from_mm, face.to_mm, face.pressure_mpa) == (0.0, 0.3, 22.0)


@given(cut=cuts)
def test_windows_of_layers_and_of_faces_count_from_the_new_front(
    wedge: Outline, cut: float
) -> None:
    layers = (
        Layer(medium="meat", from_mm=0.0, to_mm=0.2),
        Layer(medium="vegetables", from_mm=0.4, to_mm=1.0),
    )
    both = CombinedLoad(
        parts=(
            LayeredLoad(layers=layers, side="right"),
            FaceLoad(at="left face", from_mm=0.1, to_mm=0.7, pressure_mpa=3.0),
        )
    )
    faces = again(both, wedge, cut).faces
    assert [(f.side, f.from_mm, f.to_mm) for f in faces] == [
        ("right", 0.0, 0.2),
        ("right", 0.4, 1.0),
        ("left", 0.1, 0.7),
    ]


@given(cut=cuts)
def test_an_objects_entry_counts_from_the_new_front_and_is_wider_there(
    wedge: Outline, cut: float
) -> None:
    load = ObjectLoad(object="mild steel", entry_mm=0.05, slant_deg=20.0)
    outline, asked = work(load, wedge).again(cut)
    found = resultant_up_to(asked, outline, outline.depth_mm)
    force = 2 * 650.0 * 2.0 * (cut + 0.05) * SLOPE  # q = p w at the same entry
    assert float(found.axial_n_per_mm[0]) == pytest.approx(force * cos(radians(20)), rel=1e-10)
    assert float(found.lateral_n_per_mm[0]) == pytest.approx(force * sin(radians(20)), rel=1e-10)
    assert {face.to_mm for face in asked.faces} == {0.05}


@given(cut=cuts)
def test_what_bears_on_the_tip_bears_on_the_land(wedge: Outline, cut: float) -> None:
    load = CombinedLoad(
        parts=(
            TipLineLoad(axial_n_per_mm=2.0, lateral_n_per_mm=-1.0, spread="uniform"),
            TipForce(force_n=30.0, contact_length_mm=10.0, direction_deg=90.0),
        )
    )
    outline, asked = work(load, wedge).again(cut)
    assert [part.spread for part in asked.tip] == ["uniform", "smooth"]
    assert asked.tip_axial_n_per_mm == pytest.approx(2.0)
    assert asked.tip_lateral_n_per_mm == pytest.approx(2.0)
    # on the middle of the land: no moment about the new front
    assert float(resultant_up_to(asked, outline, 1.0).moment_n[0]) == pytest.approx(0.0, abs=1e-13)
    assert asked.contact_length_mm == 10.0


def test_a_movement_is_asked_again_as_the_force_that_it_took(edge: Edge) -> None:
    outline = edge()
    load = CombinedLoad(
        parts=(
            TipMovement(apex_lateral_mm=0.1, contact_length_mm=4.0),
            MediumLoad(medium="meat", depth_in_cut_mm=2.0, side="left"),
        )
    )
    asked_first = tractions_of(load, "trial", outline)
    took = TipTraction(axial_n_per_mm=0.25, lateral_n_per_mm=7.0, spread="rigid")
    known = Tractions(
        name="trial",
        tip=(*asked_first.tip, took),
        faces=asked_first.faces,
        carried=Carried(axial_mm=None, lateral_mm=0.1),
        contact_length_mm=asked_first.contact_length_mm,
    )
    asked = Work(load=load, outline=outline, tractions=known).again(0.2)[1]
    assert asked.movement is None
    assert asked.tip[-1] == TipTraction(axial_n_per_mm=0.25, lateral_n_per_mm=7.0, spread="smooth")
    assert asked.tip_lateral_n_per_mm == 7.0  # and the meat on the land adds to the axial part
    assert asked.tip_axial_n_per_mm > 0.25
    assert asked.contact_length_mm == 4.0


def test_uncut_it_is_the_first_load_itself(edge: Edge) -> None:
    first = work(MediumLoad(medium="leather", depth_in_cut_mm=2.0, side="both"), edge())
    outline, asked = first.again(0.0)
    assert outline is first.outline
    assert asked is first.tractions


def test_cuts_leave_the_work_in_front_of_the_trusted_depth(wedge: Outline) -> None:
    pressed = work(MediumLoad(medium="soft wood", depth_in_cut_mm=0.3, side="left"), wedge)
    assert pressed.pressed_to_mm == 0.3
    assert pressed.deepest_cut_mm(6.0) == pytest.approx(0.999 * 5.7)
    assert pressed.deepest_cut_mm(0.2) == 0.0
    on_tip = work(TipLineLoad(lateral_n_per_mm=1.0), wedge)
    assert on_tip.pressed_to_mm == 0.0
    assert on_tip.deepest_cut_mm(6.0) == pytest.approx(5.994)
