"""What people get wrong on the command line itself: code 2, one clear line each, nothing written.

Geometry, the steel, loads, files and the numerics have files of their own beside this one.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from simedge.cli.main import main

Edit = tuple[str, str]
Told = Callable[..., list[str]]


def edited(text: str, *edits: Edit) -> str:
    """Give a text with parts replaced; each must stand there exactly once."""
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def written(folder: Path, name: str) -> str:
    return (folder / name).read_text(encoding="utf-8")


# ---------------------------------------------------------------- options

QUICK = {"--dps": "10", "--steel": "52100", "--hrc": "60", "--medium": "hard wood"}
# Each row: the options that are given besides, the one to be named, what must be said.
# fmt: off
OPTIONS: dict[str, tuple[dict[str, str], str, list[str]]] = {
    "angle 0": ({"--dps": "0"}, "--dps", ["is 0 deg", "(0, 45]"]),
    "angle not a number": ({"--dps": "nan"}, "--dps", ["is nan deg", "finite"]),
    "micro-bevel too slim": ({"--micro": "8"}, "--micro", ["16 deg", "20 deg", "hollow there"]),
    "micro-bevel of negative height": ({"--micro": "15", "--micro-height": "-1"}, "--micro-height",
        ["is -1 mm", "[0, 1000]"]),
    "behind the edge 0": ({"--behind-edge": "0"}, "--behind-edge", ["is 0 mm", "(0, 1000]"]),
    "height too small": ({"--height": "0.9"}, "--behind-edge", ["is 0.4 mm", "0.9 mm high"]),
    "spine too thin": ({"--spine": "0.1"}, "--spine", ["is 0.1 mm", "0.4 mm thick"]),
    "radius 0": ({"--radius-um": "0"}, "--radius-um", ["is 0 µm", "no finite value"]),
    "radius endless": ({"--radius-um": "1e400"}, "--radius-um", ["is inf µm", "finite"]),
    "no such steel": ({"--steel": "52101"}, "--steel", ['is "52101"', "52100"]),
    "hardness in HV": ({"--hrc": "700"}, "--hrc", ["is 700 HRC", "did you mean 60.1 HRC?"]),
    "no such medium": ({"--medium": "wod"}, "--medium", ['is "wod"', "soft wood"]),
    "depth 0": ({"--depth": "0"}, "--depth", ["is 0 mm", "(0, 1000]"]),
    # both cuts reach that deep: it is told once, of the clamp
    "depth beyond the clamp": ({"--depth": "9", "--clamp": "8"}, "--clamp", ["is 8 mm",
        "straight reaches 9 mm", "in front of the clamp"]),
    "friction negative": ({"--friction": "-0.1"}, "--friction", ["is -0.1", "[0, 2]"]),
    "hand that gives nothing": ({"--hand-force": "0"}, "--hand-force", ["is 0 N"]),
    "clamp beyond the spine": ({"--clamp": "50"}, "--clamp", ["is 50 mm", "30 mm"]),
    "accuracy 0": ({"--accuracy": "0"}, "--accuracy", ["is 0 %", "[0.05, 10]"]),
}
# fmt: on


@pytest.mark.parametrize("row", OPTIONS)
def test_a_wrong_option_is_named(row: str, told: Told) -> None:
    options, named, words = OPTIONS[row]
    said = told("run", *(text for pair in {**QUICK, **options}.items() for text in pair))
    mine = [line for line in said if line.startswith(f"simedge: {named} ")]
    assert len(mine) == len(said) == 1
    for each in words:
        assert each in mine[0]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["run", "--dps", "7,5"], "'7,5' is not a valid float"),
        (["run", "--side", "top"], "'top' is not one of"),
        (["run", "--micro-height", "0.1", "--dps", "7"], "--steel, --hrc, --medium missing"),
        (["run", "case.toml", "--hrc", "60"], "--hrc cannot be given beside a case file"),
        (["run", "case.toml", "case.toml"], "extra argument"),
        (["run", "case.toml", "--jsn"], "--json"),
        (["profile"], "Missing argument"),
    ],
)
def test_usage_is_told(arguments: list[str], words: str, told: Told) -> None:
    assert words in "\n".join(told(*arguments))


# ---------------------------------------------------------------- any name


@pytest.mark.parametrize("text", ["[/b]", "a [red] b", "$\\\\frac{$", "%s {} \\u0007", "x" * 500])
def test_any_name_is_shown_as_it_is(
    text: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    knife = edited(written(folder, "knife.toml"), ("trial knife", text), ("edge bevel", text))
    (folder / "knife.toml").write_text(knife, encoding="utf-8")
    case = edited(written(folder, "case.toml"), ('"trial"', f'"{text}"'), ('"tip"', f'"{text}"'))
    (folder / "case.toml").write_text(case, encoding="utf-8")
    for command in (["run", "case.toml"], ["profile", "knife.toml"]):
        assert main(command) == 0
        said = capsys.readouterr()
        assert said.err == ""
        if "\\" not in text and len(text) < 20:  # else shown in another way, or wrapped
            # the run names title, knife and load, the profile knife and bevel
            assert said.out.count(text) >= 2
