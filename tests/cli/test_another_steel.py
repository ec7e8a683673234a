"""``simedge another-steel``: sentence, tables, files, refusals."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from simedge.cli.main import main

Told = Callable[..., list[str]]


def test_it_answers_with_a_sentence_tables_and_files(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["another-steel", "case.toml", "--steel", "D2", "--hrc", "58", "--out", "a"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("In the same shape D2 at 58 HRC takes ")
    assert "52100 at 60 HRC" in said
    names = {path.name for path in (folder / "a").iterdir()}
    assert names == {f"another-steel.{ending}" for ending in ("csv", "json", "png", "svg")}
    document = json.loads((folder / "a" / "another-steel.json").read_text(encoding="utf-8"))
    own, other = sorted(document["steels"], key=lambda each: not each["own"])
    assert (own["edge_dps_needed"], own["hardness_hrc"]) == (None, 60)
    assert other["edge_dps_needed"]["own"] == 11
    assert document["loads"] == ["pressing", "tip"]
    table = (folder / "a" / "another-steel.csv").read_text(encoding="utf-8").splitlines()
    assert table[0].startswith("steel,place,tied_with_own,load,kind,load_factor,low,high")
    drawing = (folder / "a" / "another-steel.svg").read_text(encoding="utf-8")
    assert "a row a steel" in drawing  # the alternative text


def test_hardness_alone_asks_the_cases_own_grade(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["another-steel", "case.toml", "--hrc", "56", "--json"]) == 0
    steels = json.loads(capsys.readouterr().out)["steels"]
    assert [each["name"] for each in steels] == ["52100 at 60 HRC", "52100 at 56 HRC"]


def test_the_same_question_gives_the_same_bytes(folder: Path) -> None:
    for name in ("one", "two"):
        assert main(["another-steel", "case.toml", "--steel", "A2", "--out", name]) == 0
    for file in (folder / "one").iterdir():
        assert file.read_bytes() == (folder / "two" / file.name).read_bytes()


@pytest.mark.parametrize(
    ("options", "part"),
    [
        (["--steel", "52101"], 'did you mean "52100"?'),
        (["--steel", "D2", "--hrc", "700"], "--hrc is 700 HRC, but the hardness table runs from"),
        (["--steel", "52100", "--hrc", "60"], "that is the case's own steel"),
        (["--steel", "1.4568"], "does not convert the hardness of 1.4568"),
        (["--steel", "D2", "--hrc", "60", "--hrc", "61"], "is given 2 times, but --steel 1 times"),
    ],
)
def test_a_steel_that_makes_no_sense_is_refused_before_anything_is_solved(
    told: Told, options: list[str], part: str
) -> None:
    (line,) = told("another-steel", "case.toml", *options)
    assert part in line


def test_hardness_alone_needs_a_grade(edit: Callable[[str, str, str], int], told: Told) -> None:
    edit("case.toml", 'grade = "52100"\nhardness_hrc = 60', "yield_strength_mpa = 2000")
    (line,) = told("another-steel", "case.toml", "--hrc", "60")
    assert "--steel: is missing, and the case's own steel has no grade" in line
