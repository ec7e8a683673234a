"""What loads of layers, hard objects and movements answer, through the command line."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin, tan
from pathlib import Path
from typing import Any

import pytest

from simedge.cli.main import main

Answered = Callable[..., dict[str, Any]]
pytestmark = pytest.mark.usefixtures("no_files")

HEAD = """\
title = "trial"
accuracy_percent = 10.0
profile = "knife.toml"
[steel]
grade = "52100"
hardness_hrc = 60
[support]
clamp_depth_mm = 12.0
"""
FORCE = 'name = "tip"\nforce_n = 4.0\ncontact_length_mm = 12.0\ndirection_deg = 30.0\n'
BONE = '{ medium = "bone", from_mm = 0.0, to_mm = 0.4 }'
MEAT = '{ medium = "meat", from_mm = 0.4, to_mm = 8.0 }'
LAYERS = f'name = "both"\nside = "left"\nlayers = [\n{BONE},\n{MEAT},\n]\n'
STAPLE = 'name = "staple"\nobject = "mild steel"\nentry_mm = 0.03\n'
CARRIED = 'name = "carried"\napex_lateral_mm = 0.05\n'


def case_of(*loads: str, head: str = HEAD) -> str:
    return head + "".join(f"[[loads]]\n{load}" for load in loads)


def test_a_movement_answers_with_its_force(answered: Answered) -> None:
    loads = answered(case_of(CARRIED, FORCE))["loads"]
    carried, forced = loads
    assert carried["imposed_lateral_mm"] == 0.05
    assert carried["apex_lateral_mm"] == pytest.approx(0.05, rel=1e-8)
    assert carried["imposed_axial_mm"] is None
    assert carried["reaction_axial_n_per_mm"] == 0  # it is free that way
    assert carried["reaction_lateral_n_per_mm"] > 0
    assert carried["first_yield_lateral_mm"] == pytest.approx(
        0.05 * carried["first_yield_load_factor"], rel=1e-8
    )
    assert forced["imposed_lateral_mm"] is forced["reaction_lateral_n_per_mm"] is None
    (by_movement,), (by_force,) = carried["parts"], forced["parts"]
    assert (by_movement["carried_lateral_mm"], by_movement["carried_axial_mm"]) == (0.05, None)
    assert by_force["carried_lateral_mm"] is by_force["carried_axial_mm"] is None
    # the same force, spread as the movement has it, moves the apex as far
    force = carried["reaction_lateral_n_per_mm"]
    back = f'name = "back"\nlateral_n_per_mm = {force:.12g}\nspread = "rigid"\n'
    (moved,) = answered(case_of(back))["loads"]
    # ten digits of JSON, twice
    assert moved["apex_lateral_mm"] == pytest.approx(0.05, rel=1e-8)
    for key in ("section_peak_von_mises_mpa", "largest_principal_mpa", "yield_depth_mm"):
        assert moved[key] == pytest.approx(carried[key], rel=1e-7)


def test_the_table_tells_movement_and_force(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "case.toml").write_text(case_of(CARRIED), encoding="utf-8")
    assert main(["run", "case.toml"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "elastically: Carried 50 µm to the left, the edge pushes back with" in said
    assert "acting: the tip carried, by" in said
    assert "× this movement" in said
    assert "the movement takes" in said
    assert "apex moves 50 µm to the left" in said


def test_layers_name_their_media_and_the_shortest_contact_counts(answered: Answered) -> None:
    (load,) = answered(case_of(LAYERS))["loads"]
    assert load["contact_length_mm"] == 5  # bone's, where meat has 30
    assert {part["medium"] for part in load["parts"]} == {"bone"}  # the hand reaches no meat
    assert load["limited_by"] == "hand"
    strong = LAYERS + "hand_force_n = 2000.0\n"
    (load,) = answered(case_of(strong))["loads"]
    faces = [part for part in load["parts"] if part["at"] == "left face"]
    assert [(part["medium"], part["to_mm"]) for part in faces] == [("bone", 0.4), ("meat", 8.0)]
    assert load["limited_by"] == "medium"


def test_inches_reach_into_layers(answered: Answered) -> None:
    metric = LAYERS + "hand_force_n = 2000.0\n"
    inches = metric.replace("to_mm = 8.0", "to_in = 0.31496062992125984")
    ours, theirs = (answered(case_of(text))["loads"][0]["parts"] for text in (inches, metric))
    assert ours == theirs


def test_an_object_presses_along_its_slant(answered: Answered) -> None:
    (load,) = answered(case_of(STAPLE + "slant_deg = 20.0\n"))["loads"]
    # mild steel at 650 MPa flows at twice that; 2 d tan(alpha) + 2 R to R / d
    force = 2 * 650 * (2 * 0.03 * tan(radians(15)) + 2 * 0.0015)
    axial = sum(part["axial_n_per_mm"] for part in load["parts"])
    lateral = sum(part["lateral_n_per_mm"] for part in load["parts"])
    assert lateral / axial == pytest.approx(tan(radians(20)), rel=1e-9)
    assert axial == pytest.approx(force * cos(radians(20)), rel=0.05)
    assert lateral == pytest.approx(force * sin(radians(20)), rel=0.05)
    assert {part["medium"] for part in load["parts"]} == {"mild steel"}
    # the edge is pushed to the left
    assert load["apex_lateral_mm"] > 0


SLIM, STOUT = "dps = 8.0\nends_at_thickness_mm = 0.2", "dps = 11.0\nends_at_thickness_mm = 0.45"


def test_a_slim_edge_may_be_carried_farther_with_less_force(
    folder: Path, answered: Answered
) -> None:
    """Under one micro-bevel; the primary grind behind it gives way to a rod, and wins."""
    knife = (folder / "knife.toml").read_text(encoding="utf-8")
    assert knife.count(STOUT) == 1
    farthest, force = {}, {}
    for shape in (SLIM, STOUT):
        (folder / "knife.toml").write_text(knife.replace(STOUT, shape), encoding="utf-8")
        (load,) = answered(case_of(CARRIED))["loads"]
        farthest[shape] = load["first_yield_lateral_mm"]
        force[shape] = load["reaction_lateral_n_per_mm"] * load["first_yield_load_factor"]
    assert farthest[SLIM] > 1.5 * farthest[STOUT]
    assert force[SLIM] < 1.01 * force[STOUT]
