"""``simedge steady-hand``: sentence, table, files, refusals."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from simedge.cli.main import main


def test_it_answers_with_sentences_table_and_files(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["steady-hand", "case.toml", "--out", "answer"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("pressing: ")
    assert "with half the twist" in said
    assert "one face alone, as it is" in said
    names = {path.name for path in (folder / "answer").iterdir()}
    assert names == {f"steady-hand.{ending}" for ending in ("csv", "json", "png", "svg")}
    document = json.loads((folder / "answer" / "steady-hand.json").read_text(encoding="utf-8"))
    pressing, tip = document["loads"]
    assert (pressing["own_crookedness"], tip["own_crookedness"]) == (1, pytest.approx(1 / 3))
    assert tip["rays"][-1]["degrees_off_straight"] == 90
    assert pressing["rays"][0]["load_factor"]["value"] > pressing["rays"][-1]["first_yield"]
    table = (folder / "answer" / "steady-hand.csv").read_text(encoding="utf-8").splitlines()
    assert table[0].startswith("load,crookedness,degrees_off_straight,as_it_is,")
    drawing = (folder / "answer" / "steady-hand.svg").read_text(encoding="utf-8")
    assert "of straight and of sideways force" in drawing  # the alternative text


def test_the_same_case_gives_the_same_bytes(folder: Path) -> None:
    for name in ("one", "two"):
        assert main(["steady-hand", "case.toml", "--load", "tip", "--out", name]) == 0
    for file in (folder / "one").iterdir():
        assert file.read_bytes() == (folder / "two" / file.name).read_bytes()


def test_a_load_that_is_not_there_is_refused_with_those_that_are(told: Callable[..., list]) -> None:
    (line,) = told("steady-hand", "case.toml", "--load", "twisting")
    assert line.startswith('simedge: --load: is "twisting", but this case has no such load')
    assert '"pressing", "tip"' in line


def test_nothing_to_steer_is_refused_before_anything_is_written(
    folder: Path, edit: Callable[[str, str, str], int], told: Callable[..., list[str]]
) -> None:
    edit("case.toml", "direction_deg = 30.0", "direction_deg = 150.0")
    (line,) = told("steady-hand", "case.toml", "--load", "tip")
    assert "nothing here can be steered; tip is left out: it pulls on the edge" in line
