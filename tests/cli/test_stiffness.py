"""``simedge stiffness``: what it says, the files that it leaves, and what it refuses."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from pathlib import Path

import pytest

from simedge.cli.main import main

Told = Callable[..., list[str]]
Capture = pytest.CaptureFixture[str]
FILES = ["stiffness.csv", "stiffness.json", "stiffness.png", "stiffness.svg"]
HELD = ("--held-at-mm", "6", "--at-mm", "1")
SHARP = (
    'schema = 1\nname = "sharp"\nheight_mm = 20.0\n[apex]\nsharp = true\n'
    '[primary_grind]\nkind = "flat"\ndps = 3.0\n'
)


def test_two_knives_are_compared(folder: Path, capsys: Capture) -> None:
    assert main(["stiffness", "knife.toml", "fillet-knife", *HELD]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    first = " ".join(said.out.split())
    assert first.startswith("At 1 mm behind the apex the trial knife is the stiffer: ")
    assert "times as stiff as the fillet knife. A push of 1 N on each mm of edge moves" in first
    assert "Held from 6 mm behind the apex on." in first
    assert "207 GPa" in first
    assert "0.29" in first
    assert sorted(path.name for path in (folder / "simedge-out" / "stiffness").iterdir()) == FILES


def test_a_single_knife_says_what_it_takes(folder: Path, capsys: Capture) -> None:
    assert main(["stiffness", "fillet-knife", "--at-mm", "2"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.startswith("At 2 mm behind the apex it takes 10 N on each mm of edge")
    assert "Held from 22 mm behind the apex, its spine, on." in said
    assert "× the first" not in said


def test_own_spines_are_told_and_minded(folder: Path, capsys: Capture) -> None:
    assert main(["stiffness", "fillet-knife", "kitchen-knife", "--at-mm", "2"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.startswith("At 2 mm behind the apex, each held at its own spine, the fillet knife")
    assert "Each is held at its own spine, behind the apex: fillet knife 22 mm" in said
    assert "mind: a blade that is held farther from its edge gives way more" in said


def test_files_and_printed_document_agree(folder: Path, capsys: Capture) -> None:
    out = folder / "answer"
    assert (
        main(["stiffness", "knife.toml", "fillet-knife", *HELD, "--out", "answer", "--json"]) == 0
    )
    printed = capsys.readouterr().out
    assert printed == (out / "stiffness.json").read_text(encoding="utf-8")
    document = json.loads(printed, parse_constant=pytest.fail)
    assert document["made_by"] == "simedge"
    assert document["elasticity"] == {"poissons_ratio": 0.29, "youngs_modulus_mpa": 207000.0}
    with (out / "stiffness.csv").open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))
    places = [(blade["name"], place) for blade in document["blades"] for place in blade["places"]]
    assert len(rows) == len(places) == 4
    for row, (name, place) in zip(rows, places, strict=True):
        assert row["knife"] == name
        assert float(row["stiffness_n_per_mm2"]) == pytest.approx(
            place["stiffness_n_per_mm2"], rel=1e-8
        )
        assert place["error_n_per_mm2"] < 2e-3 * place["stiffness_n_per_mm2"]
        assert place["ratio"] == pytest.approx(1.0, abs=0.02)
    shape = document["blades"][0]["deflected_shape"]
    assert len({len(column) for column in shape.values()}) == 1
    assert (out / "stiffness.png").read_bytes().startswith(b"\x89PNG")
    assert "<title" in (out / "stiffness.svg").read_text(encoding="utf-8")


def test_an_earlier_answer_is_replaced(folder: Path, capsys: Capture) -> None:
    for depth in ("1", "2"):
        assert main(["stiffness", "fillet-knife", "--at-mm", depth, "--out", "again"]) == 0
    assert sorted(path.name for path in (folder / "again").iterdir()) == FILES
    assert '"at_mm": 2.0' in (folder / "again" / "stiffness.json").read_text(encoding="utf-8")


def test_a_sharp_apex_is_said_to_have_none(folder: Path, capsys: Capture) -> None:
    (folder / "sharp.toml").write_text(SHARP, encoding="utf-8")
    assert main(["stiffness", "sharp.toml", "--at-mm", "1", "--held-at-mm", "8"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "mind: sharp: a perfectly sharp apex gives way without bound" in said
    document = json.loads((folder / "simedge-out/stiffness/stiffness.json").read_text("utf-8"))
    apex, behind = document["blades"][0]["places"]
    assert apex["stiffness_n_per_mm2"] is None
    assert behind["stiffness_n_per_mm2"] > 0.0


def test_a_traced_outline_is_taken_too(folder: Path, capsys: Capture) -> None:
    assert main(["stiffness", "worn-kitchen-knife", "--at-mm", "1", "--json"]) == 0
    (blade,) = json.loads(capsys.readouterr().out)["blades"]
    assert blade["remarks"]  # how the points were read
    assert [place["ratio"] for place in blade["places"]] == pytest.approx([1.0, 1.0], abs=0.02)


def test_a_steel_of_the_library_is_named(folder: Path, capsys: Capture) -> None:
    assert main(["stiffness", "fillet-knife", "--at-mm", "1", "--steel", "100Cr6"]) == 0
    assert "52100 (100Cr6): Young's modulus 207 GPa" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--at-mm", "0.5,x"), '--at-mm is "0.5,x", but must be depths in mm; write 0.5,1,5'),
        (("--at-mm", ""), '--at-mm is "", but must be depths in mm'),
        (("--at-mm", "0"), "fillet knife: --at-mm is 0 mm, but must lie between"),
        (("--at-mm", "nan"), "fillet knife: --at-mm is nan mm, but must lie between"),
        (("--at-mm", "40"), "fillet knife: --at-mm is 40 mm, but must lie between"),
        (("--held-at-mm", "5", "--at-mm", "6"), "where the blade is held (5 mm)"),
        (("--held-at-mm", "23"), "fillet knife: --held-at-mm is 23 mm, but must lie behind"),
        (("--held-at-mm", "nan"), "fillet knife: --held-at-mm is nan mm"),
        (("--steel", "52101"), "did you mean"),
        (("--out", "knife.toml"), "--out: knife.toml is a file"),
    ],
)
def test_what_cannot_be_asked(
    arguments: tuple[str, ...], said: str, folder: Path, capsys: Capture
) -> None:
    assert main(["stiffness", "fillet-knife", *arguments]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert said in told.err
    assert "Traceback" not in told.err


def test_all_profiles_that_are_wrong_are_told(folder: Path, capsys: Capture) -> None:
    (folder / "bad.toml").write_text(SHARP.replace("3.0", "95.0"), encoding="utf-8")
    assert main(["stiffness", "bad.toml", "filet-knife", "knife.toml"]) == 2
    first, second = capsys.readouterr().err.splitlines()
    assert first.startswith("simedge: bad.toml:8: ")
    assert "did you mean fillet-knife" in second


def test_no_profile_at_all(capsys: Capture) -> None:
    assert main(["stiffness"]) == 2
    assert "PROFILE" in capsys.readouterr().err


def test_a_refused_question_leaves_no_folder(folder: Path, capsys: Capture) -> None:
    before = set(folder.rglob("*"))
    assert main(["stiffness", "fillet-knife", "--held-at-mm", "23"]) == 2
    assert set(folder.rglob("*")) == before
