"""What people get wrong about the shape of a knife, through the command line.

The rows follow the list of bad geometry that a trusted tool answers; figures that are told to fit
were worked out by hand beside the row.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from simedge.cli.main import main

Told = Callable[..., list[str]]
Edit = Callable[[str, str, str], int]
Answered = Callable[..., dict[str, Any]]

MICRO, EDGE = "dps = 15.0", "dps = 11.0"
LOW, THICK = "height_mm = 0.08", "ends_at_thickness_mm = 0.45"
HIGH, SPINE = "height_mm = 28.0", "spine_thickness_mm = 3.2"
TIP, FLAT = "radius_um = 1.5", 'kind = "flat"'


def grind(kind: str, *lines: str) -> tuple[str, str]:
    """Give the edit that makes another primary grind."""
    return FLAT, "\n".join([f'kind = "{kind}"', *lines])


# Each row: the edit, and what must be said. The line that must be named is the last line of the
# new text, where the person has to change something, unless the row says how many lines above it.
# fmt: off
SLIPS: dict[str, tuple[tuple[str, str], list[str]] | tuple[tuple[str, str], list[str], int]] = {
    "half-angle 0": ((MICRO, "dps = 0"), ["bevels[0].dps", "is 0 deg", "(0, 45]"]),
    "half-angle negative": ((MICRO, "dps = -15"), ["bevels[0].dps", "is -15 deg", "(0, 45]"]),
    "half-angle 90": ((EDGE, "dps = 90"), ["bevels[1].dps", "is 90 deg", "(0, 45]",
        "an included angle is written as half of it per side"]),
    "half-angle 46": ((EDGE, "dps = 46"), ["is 46 deg", "(0, 45]"]),
    "both sides 0": ((EDGE, "left_dps = 0\nright_dps = 0"), ["bevels[1].left_dps (edge bevel)",
        "is 0 deg like right_dps", "not a wedge"], 1),
    "hollow between two bevels": ((MICRO, "dps = 9.0"), ["bevels[0].dps", "18 deg", "22 deg",
        "hollow there", "grow towards the apex"]),
    "hollow in front of the primary": ((EDGE, "dps = 2.0"), ["bevels[1].dps", "4 deg",
        "grow towards the apex"]),
    "micro height negative": ((LOW, "height_mm = -0.08"), ["bevels[0].height_mm", "is -0.08 mm",
        "[0, 1000]"]),
    "micro height of atoms": ((LOW, "height_mm = 1e-9"), ["bevels[0].height_mm", "is 1e-09 mm",
        "a few atoms", "leave the bevel out"]),
    "micro height beyond the blade": ((LOW, "height_mm = 30"), ["bevels[0].height_mm", "30 mm",
        "28 mm high"]),
    "micro height beyond the edge bevel": ((LOW, "height_mm = 0.9"),
        # 2 (0.9 tan 15 + 1.1 µm): thicker than where the edge bevel must end
        ["bevels[1].ends_at_thickness_mm", "is 0.45 mm", "0.4846 mm thick where this bevel"], -4),
    "bevels all along the blade": ((f"{EDGE}\n{THICK}", "dps = 11.0\nheight_mm = 27.92"),
        ["bevels[1].height_mm", "is 27.92 mm", "would end 28 mm", "only 28 mm high"]),
    "apex radius 0": ((TIP, "radius_um = 0"), ["apex.radius_um", "is 0 µm", "sharp = true"]),
    "apex land 0": ((TIP, "land_um = 0"), ["apex.land_um", "is 0 µm", "sharp = true"]),
    "apex radius negative": ((TIP, "radius_um = -1.5"), ["apex.radius_um", "is -1.5 µm"]),
    # 0.08 / (1 - sin 15)
    "apex radius beyond the micro-bevel": ((TIP, "radius_um = 150"), ["apex.radius_um",
        "is 150 µm", "below 107.9 µm it fits"]),
    "apex land beyond the edge": ((TIP, "land_um = 500"), ["bevels[1].ends_at_thickness_mm",
        "is 0.45 mm", "0.5429 mm thick"], -8),
    "apex radius below an atom": ((TIP, "radius_um = 0.004"), ["apex.radius_um", "is 0.004 µm",
        "0.005 µm", "a few atoms"]),
    "apex land below an atom": ((TIP, "land_um = 0.004"), ["apex.land_um", "is 0.004 µm",
        "0.005 µm"]),
    "bevel never meets its thickness": ((f"{EDGE}\n{THICK}", f"dps = 0.2\n{THICK}"),
        ["bevels[1].ends_at_thickness_mm", "is 0.45 mm", "28 mm high"]),
    "spine 0": ((SPINE, "spine_thickness_mm = 0"), ["spine_thickness_mm", "is 0 mm", "(0, 1000]"]),
    "spine negative": ((SPINE, "spine_thickness_mm = -3.2"), ["spine_thickness_mm", "is -3.2 mm"]),
    "spine thinner than the shoulder": ((SPINE, "spine_thickness_mm = 0.3"),
        ["spine_thickness_mm", "is 0.3 mm", "0.45 mm thick"]),
    "height 0": ((HIGH, "height_mm = 0.0"), ["height_mm", "is 0 mm", "(0, 1000]"]),
    "height negative": ((HIGH, "height_mm = -28"), ["height_mm", "is -28 mm", "(0, 1000]"]),
    "thickness 0 behind the micro-bevel": ((THICK, "ends_at_thickness_mm = 0"),
        ["bevels[1].ends_at_thickness_mm", "is 0 mm", "(0, 1000]"]),
    "length in µm": ((HIGH, "height_mm = 28000"), ["height_mm", "is 28000 mm", "(0, 1000]"]),
    # grinds: 26.91 mm of chord; 50 - sqrt(50^2 - (26.91 / 2)^2) = 1.845
    "hollow without its wheel": (grind("hollow"), ["primary_grind.wheel_radius_mm is missing",
        'kind = "hollow" needs it'], 1),
    "hollow wheel too small": (grind("hollow", "wheel_radius_mm = 50"),
        ["primary_grind.wheel_radius_mm", "is 50 mm", "each side 1.845 mm deep",
        "bites through the centre line", "mm deep fits, from a wheel of", "mm radius or more"]),
    "hollow wheel that does not reach": (grind("hollow", "wheel_radius_mm = 10"),
        ["is 10 mm", "does not reach over a grind 26.91 mm wide", "mm radius or more"]),
    "hollow wheel 0": (grind("hollow", "wheel_radius_mm = 0"), ["wheel_radius_mm", "is 0 mm",
        "(0, 5000]"]),
    "hollow beyond the blade": (grind("hollow", "wheel_radius_mm = 200", "grind_height_mm = 29"),
        ["primary_grind.grind_height_mm", "is 29 mm", "28 mm high"]),
    "convex past the spine": (grind("convex", "bulge_mm = 2"), ["primary_grind.bulge_mm",
        "is 2 mm", "bulge past the spine",
        # half the chord, 13.46 mm, times the tangent of half its angle, 2.93 deg
        "at most 0.343 mm fits"]),
    "convex steeper than its edge": ((f"{EDGE}\n{THICK}\n[primary_grind]\n{FLAT}",
        f'dps = 4.0\n{THICK}\n[primary_grind]\nkind = "convex"\nbulge_mm = 0.3'),
        ["primary_grind.bulge_mm", "is 0.3 mm", "the edge bevel in front of it has only 8 deg",
        "grow towards the apex", "fits"]),
    "key of another grind": (grind("convex", "bulge_mm = 0.1", "wheel_radius_mm = 50"),
        ["primary_grind.wheel_radius_mm", 'belongs to kind = "hollow", not to "convex"']),
    "part-height in front of its edge": (grind("part-height", "grind_height_mm = 1"),
        ["primary_grind.grind_height_mm", "is 1 mm", "only begins 1.121 mm behind the apex",
        "both count from the foremost point"]),
    "part-height without its height": (grind("part-height"), ["grind_height_mm is missing"], 1),
    "grind of no such kind": (grind("concave"), ['is "concave"', '"hollow"']),
    "bevel too convex": ((f"{EDGE}\n{THICK}", f'{EDGE}\n{THICK}\nkind = "convex"\nbulge_um = 200'),
        ["bevels[1].bulge_um", "is 200 µm", "bulge past the shoulder", "at most 51"]),
    "flat bevel with a bulge": ((f"{EDGE}\n{THICK}", f"{EDGE}\n{THICK}\nbulge_um = 20"),
        ["bevels[1].bulge_um", 'belongs to kind = "convex", not to "flat"']),
    "angles, spine and height": (grind("flat", "dps = 3"), ["primary_grind.dps",
        "two of the three settle the third"]),
}
# fmt: on


@pytest.mark.parametrize("slip", SLIPS)
def test_one_slip_is_told_and_nothing_else_happens(
    slip: str, edit: Edit, folder: Path, told: Told
) -> None:
    (old, new), words, *above = SLIPS[slip]
    line = edit("knife.toml", old, new) - (above[0] if above else 0)
    (said,) = told("run", "case.toml")
    for each in words:
        assert each in said
    assert said.startswith(f"simedge: knife.toml:{line}:")
    assert told("profile", "knife.toml") == [said]  # the same by itself


# ---------------------------------------------------------------- odd, but it runs

# Each row: the edit, and what the run must mind.
ODD: dict[str, tuple[tuple[str, str], list[str]]] = {
    "included angle typed as half": ((MICRO, "dps = 40"), ["80 deg", "did you mean 20 per side?"]),
    "slimmer on one side only": (
        (MICRO, "left_dps = 9.0\nright_dps = 21.0"),
        ["left face turns inward", "micro-bevel (9 deg)", "edge bevel (11 deg)", "re-entrant"],
    ),
    "bevel without effect": ((MICRO, "dps = 11.0"), ["micro-bevel", "no effect"]),
    "micro height 0": ((LOW, "height_mm = 0"), ["height of 0 mm", "left out"]),
    "perfectly sharp": ((TIP, "sharp = true"), ["singular", "no peak"]),
    "radius of a few atoms": ((TIP, "radius_um = 0.04"), ["radius of 0.04 µm", "atoms"]),
    "land of a few atoms": ((TIP, "land_um = 0.04"), ["land of 0.04 µm", "atoms"]),
}
FINE = {
    "as it is": (MICRO, MICRO),
    "one side 0": (EDGE, "left_dps = 0\nright_dps = 14"),
    "hollow": grind("hollow", "wheel_radius_mm = 250"),
    "convex": grind("convex", "bulge_mm = 0.2"),
    "part-height": grind("part-height", "grind_height_mm = 14"),
}


@pytest.fixture
def minded(
    answered: Answered, edit: Edit, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> Callable[..., list[str]]:
    # the files of the answer take longer than the answer, and are tested elsewhere
    monkeypatch.setattr("simedge.output.answer_folder.write_answer", lambda run, target: ())

    def run(old: str, new: str) -> list[str]:
        edit("knife.toml", old, new)
        warnings: list[str] = answered()["warnings"]
        return warnings

    return run


@pytest.mark.parametrize("row", [*FINE, *ODD])
def test_what_is_only_odd_runs_and_is_said(row: str, minded: Callable[..., list[str]]) -> None:
    warnings = minded(*(FINE[row] if row in FINE else ODD[row][0]))
    for name, (_, words) in ODD.items():
        mine = [warning for warning in warnings if all(each in warning for each in words)]
        assert len(mine) == (name == row), name


@pytest.mark.parametrize(
    ("old", "new"),
    [(MICRO, "dps = 11.0"), (LOW, "height_mm = 0")],
    ids=["same angle", "height 0"],
)
def test_a_bevel_without_effect_gives_the_numbers_of_none(
    old: str,
    new: str,
    folder: Path,
    answered: Answered,
    edit: Edit,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("simedge.output.answer_folder.write_answer", lambda run, target: ())
    whole = (folder / "knife.toml").read_text(encoding="utf-8")
    edit("knife.toml", old, new)
    with_it = answered()
    begin, end = whole.index("[[bevels]]"), whole.rindex("[[bevels]]")
    (folder / "knife.toml").write_text(whole[:begin] + whole[end:], encoding="utf-8")
    without = answered()
    for key in ("section", "loads"):
        assert with_it[key] == without[key]
    assert len(with_it["warnings"]) == len(without["warnings"]) + 1


# ---------------------------------------------------------------- what simedge profile shows


@pytest.mark.parametrize(
    ("knife", "lines"),
    [
        (
            "skinning-knife",
            ["The primary grind is hollow: a wheel of 100 mm radius, 0.29 mm deep", "above the"],
        ),
        (
            "splitting-axe",
            [
                "an edge of 40.5 degrees included",
                "The edge bevel is convex: it stands out 60 µm from its chord",
                "The primary grind is convex: it stands out 0.6 mm from its chord",
            ],
        ),
        ("whittling-knife", ["above the grind  0°"]),
    ],
)
def test_a_profile_shows_its_grind(
    knife: str, lines: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["profile", knife]) == 0
    said = capsys.readouterr().out
    for line in lines:
        assert line in said
    assert ("hollow" in said) == (knife == "skinning-knife")
    assert ("convex" in said) == (knife == "splitting-axe")
