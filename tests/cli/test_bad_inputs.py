"""What people get wrong, through the command line: code 2, one clear line each, nothing written.

The rows follow the lists of bad input that a trusted tool answers: geometry, material, load and
support, file and command line; what is only odd runs, and is said.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

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


# ---------------------------------------------------------------- one slip

# Each row: the file, the edit, and what must be said. The line that must be named is the last
# line of the new text: that is where the person has to change something.
# fmt: off
SLIPS: dict[str, tuple[str, Edit, list[str]]] = {
    # geometry
    "half-angle 0": ("knife", ("dps = 15.0", "dps = 0"), ["bevels[0].dps", "is 0 deg", "(0, 45]"]),
    "half-angle negative": ("knife", ("dps = 15.0", "dps = -15"), ["is -15 deg", "(0, 45]"]),
    "half-angle 90": ("knife", ("dps = 11.0", "dps = 90"), ["bevels[1].dps", "is 90 deg"]),
    "hollow between two bevels": ("knife", ("dps = 15.0", "dps = 9.0"), ["bevels[0].dps", "18 deg",
        "22 deg", "hollow there", "grow towards the apex"]),
    "hollow in front of the primary": ("knife", ("dps = 11.0", "dps = 2.0"), ["bevels[1].dps",
        "4 deg", "grow towards the apex"]),
    "micro height negative": ("knife", ("height_mm = 0.08", "height_mm = -0.08"),
        ["bevels[0].height_mm", "is -0.08 mm", "[0, 1000]"]),
    "micro height beyond the blade": ("knife", ("height_mm = 0.08", "height_mm = 30"),
        ["bevels[0].height_mm", "30 mm", "28 mm high"]),
    "apex radius 0": ("knife", ("radius_um = 1.5", "radius_um = 0"), ["apex.radius_um", "is 0 µm",
        "sharp = true"]),
    # 0.08 / (1 - sin 15), and 0.45 mm of thickness allow 229 µm
    "apex radius beyond the micro-bevel": ("knife", ("radius_um = 1.5", "radius_um = 150"),
        ["apex.radius_um", "is 150 µm", "below 107.9 µm it fits"]),
    "apex radius below an atom": ("knife", ("radius_um = 1.5", "radius_um = 0.004"),
        ["apex.radius_um", "is 0.004 µm", "0.005 µm"]),
    "bevel never meets its thickness": ("knife", ("dps = 11.0\nends_at_thickness_mm = 0.45",
        "dps = 0.2\nends_at_thickness_mm = 0.45"), ["bevels[1].ends_at_thickness_mm", "0.45 mm",
        "28 mm high"]),
    "spine 0": ("knife", ("spine_thickness_mm = 3.2", "spine_thickness_mm = 0"),
        ["spine_thickness_mm", "is 0 mm", "(0, 1000]"]),
    "spine negative": ("knife", ("spine_thickness_mm = 3.2", "spine_thickness_mm = -3.2"),
        ["spine_thickness_mm", "is -3.2 mm"]),
    "spine thinner than the shoulder": ("knife", ("spine_thickness_mm = 3.2",
        "spine_thickness_mm = 0.3"), ["spine_thickness_mm", "is 0.3 mm", "0.45 mm thick"]),
    "height 0": ("knife", ("height_mm = 28.0", "height_mm = 0.0"), ["height_mm", "is 0 mm"]),
    "thickness 0 behind the edge": ("knife", ("ends_at_thickness_mm = 0.45",
        "ends_at_thickness_mm = 0"), ["bevels[1].ends_at_thickness_mm", "is 0 mm", "(0, 1000]"]),
    "length in µm": ("knife", ("height_mm = 28.0", "height_mm = 28000"), ["height_mm",
        "is 28000 mm", "(0, 1000]"]),
    # material
    "hardness beyond the table": ("case", ("hardness_hrc = 60", "hardness_hrc = 72"),
        ["steel.hardness_hrc", "is 72 HRC", "40 to 68 HRC", "nothing is extrapolated"]),
    "hardness below the table": ("case", ("hardness_hrc = 60", "hardness_hrc = 39.9"),
        ["is 39.9 HRC", "40 to 68 HRC"]),
    "unknown steel": ("case", ('grade = "52100"', 'grade = "52101"'), ["steel.grade", 'is "52101"',
        "52100", "simedge steels"]),
    "steel without quotes, as a number": ("case", ('grade = "52100"', "grade = 52100"),
        ["steel.grade", "is 52100", 'write "52100"']),
    "Poisson's ratio 0.5": ("case", ("hardness_hrc = 60",
        "hardness_hrc = 60\npoissons_ratio = 0.5"), ["steel.poissons_ratio", "is 0.5",
        "below 0.5"]),
    "Poisson's ratio -1": ("case", ("hardness_hrc = 60",
        "hardness_hrc = 60\npoissons_ratio = -1.0"), ["is -1", "above -1"]),
    "modulus in MPa": ("case", ("hardness_hrc = 60",
        "hardness_hrc = 60\nyoungs_modulus_gpa = 210000"), ["steel.youngs_modulus_gpa",
        "is 210000 GPa", "did you mean 210 GPa?", "MPa"]),
    "modulus 0": ("case", ("hardness_hrc = 60", "hardness_hrc = 60\nyoungs_modulus_gpa = 0"),
        ["is 0 GPa", "[50, 1000] GPa"]),
    "yield in GPa": ("case", ("hardness_hrc = 60", "hardness_hrc = 60\nyield_strength_mpa = 2.1"),
        ["steel.yield_strength_mpa", "is 2.1 MPa", "did you mean 2100 MPa?"]),
    "yield negative": ("case", ("hardness_hrc = 60",
        "hardness_hrc = 60\nyield_strength_mpa = -2100"), ["is -2100 MPa"]),
    # load and support
    "force 0": ("case", ("force_n = 4.0", "force_n = 0"), ["loads[1].force_n", "(tip)", "is 0 N"]),
    "force as text": ("case", ("force_n = 4.0", 'force_n = "20N"'), ['is "20N"',
        "must be a plain number (N)"]),
    "clamp nearer than the load": ("case", ("to_mm = 1.5", "to_mm = 13.0"), ["loads[0].to_mm",
        "(pressing)", "is 13 mm", "held from 12 mm on"]),
    "clamp beyond the spine": ("case", ("clamp_depth_mm = 12.0", "clamp_depth_mm = 29"),
        ["support.clamp_depth_mm", "is 29 mm", "28 mm"]),
    "clamp negative": ("case", ("clamp_depth_mm = 12.0", "clamp_depth_mm = -12"),
        ["support.clamp_depth_mm", "is -12 mm", "(0, 1000]"]),
    "stretch within the tip": ("case", ("from_mm = 0.1\nto_mm = 1.5",
        "from_mm = 0.0\nto_mm = 0.0001"), ["loads[0].to_mm", "is 0.0001 mm",
        "0.001112 mm behind the apex"]),
    "stretch backwards": ("case", ("from_mm = 0.1\nto_mm = 1.5", "from_mm = 1.5\nto_mm = 0.1"),
        ["loads[0].to_mm", "is 0.1 mm", "larger than from_mm = 1.5 mm"]),
    "direction not a number": ("case", ("direction_deg = 30.0", "direction_deg = nan"),
        ["loads[1].direction_deg", "is nan deg", "finite"]),
    "direction beyond half a turn": ("case", ("direction_deg = 30.0", "direction_deg = 270"),
        ["is 270 deg", "[-180, 180]"]),
    "pressure endless": ("case", ("pressure_mpa = 40.0", "pressure_mpa = inf"),
        ["loads[0].pressure_mpa", "is inf MPa", "finite"]),
    # file
    "true for a number": ("case", ("pressure_mpa = 40.0", "pressure_mpa = true"), ["is true",
        "must be a plain number (MPa)"]),
    "unknown key": ("case", ("direction_deg = 30.0", "directon_deg = 30.0"),
        ["loads[1].directon_deg", 'did you mean "direction_deg"?']),
    "unknown section": ("case", ("[support]", "[suport]"), ["suport", '"support"']),
    "unknown key of the knife": ("knife", ("dps = 15.0", "dps = 15.0\nheigth_mm = 0.1"),
        ["bevels[0].heigth_mm", 'did you mean "height_mm"?']),
    "duplicate key": ("case", ("pressure_mpa = 40.0", "pressure_mpa = 40.0\npressure_mpa = 41.0"),
        ["given twice, first in line 15"]),
    "unit behind a number": ("knife", ("height_mm = 28.0", "height_mm = 28.0 mm"), ["no TOML",
        "height_mm = 28.0 mm", "without unit"]),
    "comma for the point": ("knife", ("spine_thickness_mm = 3.2", "spine_thickness_mm = 3,2"),
        ["no TOML", "spine_thickness_mm = 3,2", "a decimal number is written with a point"]),
    "newer schema": ("case", ("schema = 1", "schema = 2"), ["schema is 2", "newer simedge"]),
    "newer schema of the knife": ("knife", ("schema = 1", "schema = 9"), ["schema is 9", "newer"]),
    "profile that is not there": ("case", ('profile = "knife.toml"', 'profile = "knif.toml"'),
        ["profile", '"knif.toml"', "no file"]),
    "profile of no such name": ("case", ('profile = "knife.toml"', 'profile = "rope-knive"'),
        ["profile", "did you mean rope-knife"]),
}
# fmt: on


@pytest.mark.parametrize("slip", SLIPS)
def test_one_slip_is_told_and_nothing_else_happens(slip: str, folder: Path, told: Told) -> None:
    file, (old, new), words = SLIPS[slip]
    path = folder / f"{file}.toml"
    text = edited(path.read_text(encoding="utf-8"), (old, new))
    path.write_text(text, encoding="utf-8")
    end = text.index(new) + len(new)
    line = text.count("\n", 0, end) + 1
    (said,) = told("run", "case.toml")
    assert said.startswith(f"simedge: {file}.toml:{line}:")
    for each in words:
        assert each in said
    if file == "knife":  # the same by itself
        assert told("profile", "knife.toml") == [said]


def test_every_slip_of_both_files_in_one_go(folder: Path, told: Told) -> None:
    (folder / "knife.toml").write_text(
        edited(
            written(folder, "knife.toml"),
            ("dps = 15.0", "dps = 95"),
            ("radius_um = 1.5", "radius_um = 0"),
        )
    )
    (folder / "case.toml").write_text(
        edited(
            written(folder, "case.toml"),
            ("hardness_hrc = 60", 'hardness_hrc = "60"'),
            ("clamp_depth_mm = 12.0", "clamp_depth_mm = 0"),
            ("force_n = 4.0", "force_n = 0"),
            ('at = "left face"', 'at = "top"'),
        )
    )
    places = ["knife.toml:6", "knife.toml:9", "case.toml:7", "case.toml:9", "case.toml:12"]
    said = told("run", "case.toml")
    assert [line.split(": ")[1] for line in said] == [*places, "case.toml:18"]


# ---------------------------------------------------------------- files that are none


def test_files_that_are_none_of_ours_are_one_line(folder: Path, told: Told) -> None:
    (folder / "folder").mkdir()
    (folder / "empty.toml").touch()
    (folder / "binary.toml").write_bytes(bytes(range(256)) * 20)
    (folder / "utf-16.toml").write_text(written(folder, "case.toml"), encoding="utf-16")
    (folder / "latin.toml").write_bytes('title = "Käse"\n'.encode("latin-1"))
    (folder / "loop.toml").symlink_to("loop.toml")
    with (folder / "huge.toml").open("wb") as huge:
        huge.truncate(2_000_000)  # larger ones are refused by the same number, unread
    for name, words in {
        "nowhere.toml": "no such file",
        "folder": "is a folder",
        "empty.toml": "is empty",
        "binary.toml": "is a binary file",
        "utf-16.toml": "UTF-16",
        "latin.toml": "not UTF-8",
        "loop.toml": "cannot be read",
        "huge.toml": "at most 1 MB",
        "case.toml/deeper.toml": "no such file",
    }.items():
        for command in ("run", "profile"):
            (said,) = told(command, name)
            assert said.startswith(f"simedge: {name}")
            assert words in said


def test_a_pipe_is_not_waited_for(folder: Path, deadline: None) -> None:
    os.mkfifo(folder / "pipe.toml")
    assert main(["run", "pipe.toml"]) == 2
    assert main(["profile", "/dev/zero"]) == 2


def test_a_file_that_may_not_be_read(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # root may read everything, so that rights alone would not show it
    def denied(self: Path, *_: object, **__: object) -> NoReturn:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", denied)
    assert main(["run", "case.toml"]) == 2
    (said,) = capsys.readouterr().err.splitlines()
    assert said.startswith("simedge: case.toml: cannot be read (Permission denied)")


@pytest.mark.parametrize("text", ["[[loads]]", "[", "a", "a = ", '"', "\ufeff[x", "= 1", "{}"])
def test_scraps_of_toml_are_told_with_their_place(text: str, folder: Path, told: Told) -> None:
    (folder / "case.toml").write_text(text, encoding="utf-8")
    for said in told("run", "case.toml"):
        assert said.startswith("simedge: case.toml:1")


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
    "depth beyond the clamp": ({"--depth": "9", "--clamp": "8"}, "--depth", ["is 9 mm",
        "held from 8 mm on"]),
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


# ---------------------------------------------------------------- odd, but it runs

PARTS = "[[loads]]\n" + "".join(f"[[loads.parts]]\nlateral_n_per_mm = {n}\n" for n in (1.0, -1.0))
# Each row: the edits of knife and of case, and what the run must mind.
ODD: dict[str, tuple[list[Edit], list[Edit], list[str]]] = {
    "included angle typed as half": (
        [("dps = 15.0", "dps = 40")],
        [],
        ["80 deg", "did you mean 20 per side?"],
    ),
    "slimmer on one side only": (
        [("dps = 15.0", "left_dps = 9.0\nright_dps = 21.0")],
        [],
        ["left face turns inward", "micro-bevel (9 deg)", "edge bevel (11 deg)", "re-entrant"],
    ),
    "bevel without effect": ([("dps = 15.0", "dps = 11.0")], [], ["micro-bevel", "no effect"]),
    "micro height 0": ([("height_mm = 0.08", "height_mm = 0")], [], ["height of 0 mm", "left out"]),
    "perfectly sharp": ([("radius_um = 1.5", "sharp = true")], [], ["singular", "no peak"]),
    "radius of a few atoms": ([("radius_um = 1.5", "radius_um = 0.04")], [], ["0.04 µm", "atoms"]),
    "hardness between points": (
        [],
        [("hardness_hrc = 60", "hardness_hrc = 60.5")],
        ["60.5 HRC", "interpolated"],
    ),
    "nearly incompressible": (
        [],
        [("hardness_hrc = 60", "hardness_hrc = 60\npoissons_ratio = 0.499")],
        ["0.499", "lock"],
    ),
    "stretch from 0": ([], [("from_mm = 0.1", "from_mm = 0")], ["1.11 µm", "left face leaves"]),
    "load that pulls": ([], [("direction_deg = 30.0", "direction_deg = 150")], ["tip", "pulls"]),
    "parts that cancel": ([], [("[[loads]]\nname = \"tip\"", f"{PARTS}[[loads]]\nname = \"tip\"")],
                          ["load 2", "cancel"]),
}  # fmt: skip


@pytest.mark.parametrize("row", ["nothing odd", *ODD])
def test_what_is_only_odd_runs_and_is_said(
    row: str,
    folder: Path,
    answered: Callable[..., dict[str, Any]],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # the files of the answer take longer than the answer, and are tested elsewhere
    monkeypatch.setattr("simedge.output.answer_folder.write_answer", lambda run, target: ())
    knife, case, _ = ODD.get(row, ([], [], []))
    (folder / "knife.toml").write_text(
        edited(written(folder, "knife.toml"), *knife), encoding="utf-8"
    )
    warnings = answered(edited(written(folder, "case.toml"), *case))["warnings"]
    for name, (_, _, words) in ODD.items():
        mine = [warning for warning in warnings if all(each in warning for each in words)]
        assert len(mine) == (name == row), name


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
