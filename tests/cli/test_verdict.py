"""The verdict as the program gives it: first line, exit code, table and file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from simedge.cli.main import main

QUICK = ("run", "--steel", "52100", "--hrc", "60", "--medium", "bone", "--depth", "0.2")
CROOKED = (*QUICK, "--side", "left")

pytestmark = pytest.mark.usefixtures("no_files")


def test_check_ends_with_one_only_where_the_edge_does_not_come_through(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*CROOKED, "--dps", "7"]) == 0
    assert main([*CROOKED, "--dps", "7", "--check"]) == 1
    assert main([*CROOKED, "--dps", "20", "--check"]) == 0
    said = capsys.readouterr().out
    assert "crooked, left face: Comes through, at up to " in said
    assert "it would hold at " in said


def test_more_tolerated_damage_lets_the_same_edge_through(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    slim = (*CROOKED, "--dps", "8", "--check")
    assert main([*slim, "--tolerate", "stropped out in a minute"]) == 1
    assert "(2 µm tolerated)" in " ".join(capsys.readouterr().out.split())
    assert main([*slim, "--tolerate", "500"]) == 0


def test_the_file_holds_the_verdict_with_both_ends_of_each_band(
    answered: Callable[..., dict[str, Any]], folder: Path
) -> None:
    case = (folder / "case.toml").read_text(encoding="utf-8")
    pressing, tip = answered(case.replace("force_n = 4.0", "force_n = 40.0"))["loads"]
    assert pressing["verdict"] == "comes_through"
    assert pressing["sentence"].startswith("Comes through, at up to ")
    factors = pressing["load_factors"]
    assert set(factors) == {"first_yield", "blunt", "roll", "chip", "crumble"}
    assert factors["first_yield"]["value"] == pressing["first_yield_load_factor"]
    roll = factors["roll"]
    assert roll["low"] < roll["value"] < roll["high"]
    assert pressing["margin"] == min(
        factors[kind]["value"]
        for kind in ("blunt", "roll", "chip", "crumble")
        if factors[kind]["value"] is not None
    )
    assert factors["blunt"]["value"] is None  # nothing bears on the tip
    assert 0 < pressing["fold_at_mm"] < 12.0
    assert pressing["folds_to"] == "right"
    assert pressing["crack_from"] == "left"  # the pressed face is the one in tension
    assert pressing["blunted_land_um"] == 0
    assert tip["blunted_land_um"] > 0  # a force on a tip makes a land, if a tiny one
    assert 0 < tip["damage_depth_mm"] < 0.005


def test_a_steel_of_unknown_toughness_is_not_judged_by_chips(
    answered: Callable[..., dict[str, Any]], folder: Path
) -> None:
    case = (folder / "case.toml").read_text(encoding="utf-8")
    told = answered(case.replace('grade = "52100"\nhardness_hrc = 60', "yield_strength_mpa = 2100"))
    load = told["loads"][0]
    assert load["load_factors"]["chip"] is None
    assert load["crack_at_mm"] is None
    assert any("chips are not judged" in warning for warning in told["warnings"])
