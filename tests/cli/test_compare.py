"""``simedge compare``: what it says, the files that it leaves, and what it refuses."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from simedge.cli.main import main

Told = Callable[..., list[str]]
Capture = pytest.CaptureFixture[str]
FILES = ["compare.csv", "compare.json", "compare.png", "compare.svg"]


def test_it_answers_with_sentence_table_and_files(folder: Path, capsys: Capture) -> None:
    assert main(["compare", "case.toml", "axe", "kitchen-knife", "--out", "answer"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Of 3 knives ")
    assert "the axe takes most, " in said
    assert sorted(path.name for path in (folder / "answer").iterdir()) == FILES
    document = json.loads((folder / "answer" / "compare.json").read_text(encoding="utf-8"))
    assert [knife["knife"] for knife in document["knives"]] == [
        "axe",
        "trial knife",
        "kitchen knife",
    ]
    assert document["inputs"]["title"] == "trial"
    drawing = (folder / "answer" / "compare.svg").read_text(encoding="utf-8")
    assert "trial: 3 knives compared" in drawing


def test_the_same_case_gives_the_same_bytes(folder: Path) -> None:
    for name in ("one", "two"):
        assert main(["compare", "case.toml", "axe", "--out", name]) == 0
    for file in (folder / "one").iterdir():
        assert file.read_bytes() == (folder / "two" / file.name).read_bytes()


def test_without_its_own_knife_and_with_a_load_of_choice(folder: Path, capsys: Capture) -> None:
    asked = ["compare", "case.toml", "knife.toml", "axe", "--without-own", "--load", "tip"]
    assert main([*asked, "--json"]) == 0
    said = capsys.readouterr()
    document = json.loads(said.out)
    assert [knife["knife"] for knife in document["knives"]] == ["axe", "trial knife"]
    assert said.err == ""
    drawing = (folder / "simedge-out" / "compare" / "compare.svg").read_text(encoding="utf-8")
    assert "Cross-sections under &quot;tip&quot;" in drawing


def test_knives_that_cannot_be_held_are_all_told(
    told: Told, folder: Path, edit: Callable[..., int]
) -> None:
    edit("case.toml", "clamp_depth_mm = 12.0", "clamp_depth_mm = 20.0")
    lines = told("compare", "case.toml", "carving-knife", "axe", "worn-kitchen-knife")
    assert len(lines) == 2
    assert "carving knife: support.clamp_depth_mm is 20 mm" in lines[0]
    assert "worn kitchen knife: support.clamp_depth_mm is 20 mm" in lines[1]
    assert all(line.endswith("or leave this knife out") for line in lines)
    assert not (folder / "simedge-out").exists()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("axee",), "did you mean axe?"),
        (("knife.toml",), "one knife is given (the trial knife was named twice"),
        (("axe", "--without-own"), "one knife is given"),
        (("axe", "--load", "tipp"), 'did you mean "tip"?'),
        (("axe", "--load", ""), "there are pressing, tip"),
        (("case.toml",), "is a case, but a profile is wanted"),
        (("axe", "--out", " "), "--out: is empty"),
        (("axe", "--out", "case.toml"), "is a file, but a folder is needed"),
    ],
)
def test_bad_questions(told: Told, folder: Path, arguments: tuple[str, ...], words: str) -> None:
    (line,) = told("compare", "case.toml", *arguments)
    assert words in line
    assert not (folder / "simedge-out").exists()


def test_a_foreign_file_is_left_alone(told: Told, folder: Path) -> None:
    (folder / "mine").mkdir()
    (folder / "mine" / "compare.csv").write_text("mine", encoding="utf-8")
    (line,) = told("compare", "case.toml", "axe", "--out", "mine")
    assert "holds compare.csv" in line
