"""A load straighter and more crooked: what presses then, and what cannot be steered."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from simedge import read_case
from simedge.inputs.case import Case
from simedge.inputs.load import (
    CombinedLoad,
    FaceLoad,
    Load,
    MediumLoad,
    ObjectLoad,
    TipForce,
    TipLineLoad,
    TipMovement,
)
from simedge.inputs.steel_properties import steel_properties
from simedge.runs.quick import quick_tractions
from simedge.section.outline import build_outline
from simedge.section.tractions import resultant_up_to
from simedge.studies.crookedness import Steered, steered

WOOD = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left")
LOADS: dict[str, tuple[Load, float]] = {
    "one face": (WOOD, 1.0),
    "both faces": (replace(WOOD, side="both"), 0.0),
    "pressure": (FaceLoad(at="right face", from_mm=0.1, to_mm=1.0, pressure_mpa=30.0), 1.0),
    "force": (TipForce(force_n=30.0, contact_length_mm=10.0, direction_deg=-45.0), 0.5),
    "line": (TipLineLoad(axial_n_per_mm=0.0, lateral_n_per_mm=2.0), 1.0),
    "staple": (ObjectLoad(object="staple", entry_mm=0.03, slant_deg=9.0), 0.1),
    "carried": (TipMovement(apex_lateral_mm=0.01, contact_length_mm=5.0), 1.0),
    "both at once": (CombinedLoad(parts=(WOOD, TipLineLoad(axial_n_per_mm=1.0))), 1.0),
}


def taken_apart(load: Load) -> tuple[Steered | str, Case]:
    case = replace(read_case("rope-knife-in-a-knot"), loads=(load,))
    outline = build_outline(case.profile.apex, case.profile.faces, case.support.clamp_depth_mm)
    acting = quick_tractions(case, 0, outline, steel_properties(case.steel))
    return steered(load, acting, outline, "left"), case


@pytest.mark.parametrize("name", LOADS)
def test_as_crooked_as_it_is_it_is_the_load(name: str) -> None:
    load, own = LOADS[name]
    way, _ = taken_apart(load)
    assert isinstance(way, Steered)  # `steered` itself compares all forces
    assert way.own == pytest.approx(own, rel=1e-6)


@pytest.mark.parametrize("name", LOADS)
def test_straight_work_pushes_to_no_side(name: str) -> None:
    way, _ = taken_apart(LOADS[name][0])
    assert isinstance(way, Steered)
    straight, crooked = (way.work(c).tractions for c in (0.0, 1.0))
    depth = way.outline.depth_mm
    sideways = [
        float(resultant_up_to(load, way.outline, depth).lateral_n_per_mm[0])
        for load in (straight, crooked)
    ]
    assert abs(sideways[0]) < 1e-9 < abs(sideways[1])


def test_half_as_crooked_the_other_face_has_half() -> None:
    way, _ = taken_apart(WOOD)
    assert isinstance(way, Steered)
    at: dict[str, float] = {}
    for part in way.work(0.5).tractions.faces:
        if part.from_mm < 0.01 < part.to_mm:  # as deep as the hand presses both
            at[part.side] = at.get(part.side, 0.0) + part.pressure_mpa
    assert at["right"] == pytest.approx(0.5 * at["left"])
    assert at["left"] == pytest.approx(WOOD.layers_by_depth[0].strength_mpa())


@pytest.mark.parametrize("name", ["force", "line"])
def test_a_force_turns_and_stays_as_large(name: str) -> None:
    load, _ = LOADS[name]
    way, _ = taken_apart(load)
    assert isinstance(way, Steered)
    sizes = [
        hypot(acting.tip_axial_n_per_mm, acting.tip_lateral_n_per_mm)
        for acting in (way.work(c).tractions for c in (0.0, 0.3, 1.0))
    ]
    assert sizes == pytest.approx([sizes[0]] * 3)


def test_a_pull_is_not_steered() -> None:
    way, _ = taken_apart(TipLineLoad(axial_n_per_mm=-1.0, lateral_n_per_mm=0.1))
    assert way == "it pulls on the edge, which no hand steers straight"


def test_what_shares_the_tip_is_told_not_to_mix() -> None:
    layers = CombinedLoad(parts=(WOOD, replace(WOOD, medium="soft wood", side="both")))
    way, _ = taken_apart(layers)
    assert way == "its parts bear on the tip together, and cannot be mixed"
