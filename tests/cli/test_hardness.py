"""``simedge hardness``: sentence, table, files, refusals."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from simedge.cli.main import main


def test_it_answers_with_sentences_table_and_files(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["hardness", "case.toml", "--out", "answer"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("pressing: comes through ")
    assert "HRC  rolls" in said
    names = {path.name for path in (folder / "answer").iterdir()}
    assert names == {f"hardness.{ending}" for ending in ("csv", "json", "png", "svg")}
    document = json.loads((folder / "answer" / "hardness.json").read_text(encoding="utf-8"))
    assert document["loads"] == ["pressing", "tip"]
    own = [point for point in document["points"] if point["hardness_hrc"] == 60]
    assert own[0]["loads"][0]["roll"]["value"] > 1
    table = (folder / "answer" / "hardness.csv").read_text(encoding="utf-8").splitlines()
    assert table[0].split(",")[:4] == ["hardness_hrc", "load", "kind", "load_factor"]
    drawing = (folder / "answer" / "hardness.svg").read_text(encoding="utf-8")
    assert "times this work" in drawing  # the alternative text


def test_the_same_case_gives_the_same_bytes(folder: Path) -> None:
    for name in ("one", "two"):
        assert main(["hardness", "case.toml", "--out", name]) == 0
    for file in (folder / "one").iterdir():
        assert file.read_bytes() == (folder / "two" / file.name).read_bytes()


def test_a_given_strength_is_refused_before_anything_is_solved(
    folder: Path, edit: Callable[[str, str, str], int], told: Callable[..., list[str]]
) -> None:
    edit("case.toml", 'grade = "52100"\nhardness_hrc = 60', "yield_strength_mpa = 2000")
    (line,) = told("hardness", "case.toml")
    assert "steel.hardness_hrc" in line
    assert "does not follow it" in line
