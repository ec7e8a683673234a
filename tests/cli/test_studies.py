"""``simedge micro-bevel`` and ``simedge slimmest``: sentence first, files, refusals."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from simedge.cli.main import main

#: A map of four, and a search.
QUESTIONS = {
    "micro-bevel": ("micro-bevel", "case.toml", "--grid", "2"),
    "slimmest": ("slimmest", "case.toml"),
}
FIRST_WORDS = {
    "micro-bevel": ("Worth adding", "Not needed", "Not worth it", "Not enough"),
    "slimmest": ("The slimmest edge", "Even an edge", "No edge"),
}


@pytest.mark.parametrize("name", QUESTIONS)
def test_the_sentence_comes_first_and_all_files_are_written(
    name: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*QUESTIONS[name], "--out", "answer"]) == 0
    said = capsys.readouterr()
    assert said.out.startswith(FIRST_WORDS[name])
    assert said.err == ""
    names = {path.name for path in (folder / "answer").iterdir()}
    assert names == {f"{name}.{ending}" for ending in ("csv", "json", "png", "svg")}
    document = json.loads((folder / "answer" / f"{name}.json").read_text(encoding="utf-8"))
    assert document["made_by"] == "simedge"
    assert "safety certificate" in document["caution"]
    drawing = (folder / "answer" / f"{name}.svg").read_text(encoding="utf-8")
    assert "<desc" in drawing
    assert "times this work" in drawing


def test_the_same_case_gives_the_same_bytes(folder: Path) -> None:
    for place in ("one", "two"):
        assert main([*QUESTIONS["micro-bevel"], "--out", place]) == 0
    for file in (folder / "one").iterdir():
        assert file.read_bytes() == (folder / "two" / file.name).read_bytes()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("micro-bevel", "case.toml", "--margin", "0"), "--margin is 0, but must lie in"),
        (("micro-bevel", "case.toml", "--margin", "nan"), "--margin is nan"),
        (("micro-bevel", "case.toml", "--angles", "steep"), '--angles is "steep"'),
        (("micro-bevel", "case.toml", "--angles", "10"), "beyond the edge's 11"),
        (("micro-bevel", "case.toml", "--heights", "0.1,inf"), "no finite number"),
        (("micro-bevel", "case.toml", "--grid", "400"), "grid is 400"),
        (("slimmest", "case.toml", "--at-mm", "40"), "at-mm is 40 mm"),
        (("slimmest", "case.toml", "--by", "yield depth"), "needs the depth that is tolerated"),
        (("slimmest", "nowhere.toml"), "nowhere.toml"),
    ],
)
def test_questions_that_make_no_sense_are_refused_in_a_line(
    arguments: tuple[str, ...], words: str, told: Callable[..., list[str]]
) -> None:
    (line,) = told(*arguments)
    assert words in line
