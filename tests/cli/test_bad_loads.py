"""What people get wrong about loads and support, through the command line; odd ones are said.

The trial knife's faces begin 1.11 µm behind the apex and end at the spine, 28 mm; the blade is
held from 12 mm on.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from simedge.cli.main import main

Told = Callable[..., list[str]]
Answered = Callable[..., dict[str, Any]]

HEAD = """\
title = "trial"
accuracy_percent = 10.0
profile = "knife.toml"
[steel]
grade = "52100"
hardness_hrc = 60
[support]
clamp_depth_mm = 12.0
"""
FACE = 'name = "pressing"\nat = "left face"\nfrom_mm = 0.1\nto_mm = 1.5\npressure_mpa = 40.0\n'
FORCE = 'name = "tip"\nforce_n = 4.0\ncontact_length_mm = 12.0\ndirection_deg = 30.0\n'
WOOD = 'name = "wood"\nmedium = "hard wood"\ndepth_in_cut_mm = 0.5\nside = "left"\n'
BONE = '{ medium = "bone", from_mm = 0.0, to_mm = 0.4 }'
MEAT = '{ medium = "meat", from_mm = 0.4, to_mm = 8.0 }'
LAYERS = f'name = "both"\nside = "left"\nlayers = [\n{BONE},\n{MEAT},\n]\n'
STAPLE = 'name = "staple"\nobject = "mild steel"\nentry_mm = 0.03\n'
CARRIED = 'name = "carried"\napex_lateral_mm = 0.05\n'
#: Marks the line that must be named.
HERE = "  # here"


def case_of(*loads: str, head: str = HEAD) -> str:
    return head + "".join(f"[[loads]]\n{load}" for load in loads)


def parts(*loads: str) -> str:
    return "".join(f"[[loads.parts]]\n{load}" for load in loads)


def changed(load: str, old: str, new: str) -> str:
    """Give a load with one line replaced; the last new one is the one to be named."""
    assert load.count(old) == 1, old
    return load.replace(old, new + HERE)


def clamped(depth: str, *loads: str) -> str:
    return case_of(*loads, head=changed(HEAD, "clamp_depth_mm = 12.0", f"clamp_depth_mm = {depth}"))


LEAST_FORCE = "must lie in [1e-06, 100000]"
# Each row: the case, and what must be said of the marked line.
SLIPS: dict[str, tuple[str, list[str]]] = {
    # no force at all
    "force 0": (
        case_of(changed(FORCE, "force_n = 4.0", "force_n = 0")),
        ["loads[0].force_n (tip)", "is 0 N", LEAST_FORCE],
    ),
    "force negative": (
        case_of(changed(FORCE, "force_n = 4.0", "force_n = -4")),
        ["is -4 N", LEAST_FORCE],
    ),
    "force as text": (
        case_of(changed(FORCE, "force_n = 4.0", 'force_n = "20N"')),
        ['is "20N"', "must be a plain number (N)"],
    ),
    "line load of nothing": (
        case_of('axial_n_per_mm = 0.0  # here\nlateral_n_per_mm = 0\nname = "no load"\n'),
        ["axial_n_per_mm (no load) is 0 N/mm", "nothing can be said about strength"],
    ),
    "pressure 0": (
        case_of(changed(FACE, "pressure_mpa = 40.0", "pressure_mpa = 0")),
        ["pressure_mpa", "is 0 MPa", "[1e-06, 20000]"],
    ),
    "pressure that pulls": (
        case_of(changed(FACE, "pressure_mpa = 40.0", "pressure_mpa = -40.0")),
        ["is -40 MPa", "[1e-06, 20000]"],
    ),
    "pressure endless": (
        case_of(changed(FACE, "pressure_mpa = 40.0", "pressure_mpa = inf")),
        ["loads[0].pressure_mpa", "is inf MPa", "finite"],
    ),
    "hand that gives nothing": (
        case_of(WOOD + "hand_force_n = 0  # here\n"),
        ["hand_force_n", "is 0 N"],
    ),
    "movement of nothing": (
        case_of(changed(CARRIED, "apex_lateral_mm = 0.05", "apex_lateral_mm = 0")),
        ["apex_lateral_mm (carried)", "is 0 mm", "without a movement"],
    ),
    "parts of nothing": (
        case_of('name = "nothing"\nparts = []  # here\n'),
        ["parts (nothing) is empty", "something must act"],
    ),
    # directions
    "direction not a number": (
        case_of(changed(FORCE, "direction_deg = 30.0", "direction_deg = nan")),
        ["loads[0].direction_deg", "is nan deg", "finite"],
    ),
    "direction beyond half a turn": (
        case_of(changed(FORCE, "direction_deg = 30.0", "direction_deg = 180.5")),
        ["is 180.5 deg", "[-180, 180]"],
    ),
    "slant beyond a right angle": (
        case_of(STAPLE + "slant_deg = 91.0  # here\n"),
        ["slant_deg (staple)", "is 91 deg", "[-90, 90]"],
    ),
    "slant not a number": (case_of(STAPLE + "slant_deg = nan  # here\n"), ["is nan deg"]),
    # where it presses
    "stretch beyond the clamp": (
        case_of(changed(FACE, "to_mm = 1.5", "to_mm = 13.0")),
        ["loads[0].to_mm (pressing)", "is 13 mm", "held from 12 mm on", "in front of the clamp"],
    ),
    "stretch up to the clamp": (
        case_of(changed(FACE, "to_mm = 1.5", "to_mm = 12.0")),
        ["is 12 mm", "held from 12 mm on"],
    ),
    "stretch beyond the part": (
        case_of(changed(FACE, "to_mm = 1.5", "to_mm = 40.0")),
        ["is 40 mm", "held from 12 mm on"],
    ),
    "stretch within the tip": (
        case_of(changed(FACE, "from_mm = 0.1\nto_mm = 1.5", "from_mm = 0.0\nto_mm = 0.0001")),
        ["loads[0].to_mm", "is 0.0001 mm", "0.001112 mm behind the apex", "go deeper"],
    ),
    "stretch backwards": (
        case_of(changed(FACE, "from_mm = 0.1\nto_mm = 1.5", "from_mm = 1.5\nto_mm = 0.1")),
        ["is 0.1 mm", "larger than from_mm = 1.5 mm"],
    ),
    "stretch that begins before the part": (
        case_of(changed(FACE, "from_mm = 0.1", "from_mm = -0.1")),
        ["is -0.1 mm", "[0, 1000]"],
    ),
    "a face that there is not": (
        case_of(changed(FACE, 'at = "left face"', 'at = "top"')),
        ['is "top"', '"left face", "right face"'],
    ),
    "cut beyond the part": (
        case_of(changed(WOOD, "depth_in_cut_mm = 0.5", "depth_in_cut_mm = 30.0")),
        ["depth_in_cut_mm (wood)", "is 30 mm", "held from 12 mm on"],
    ),
    "layer beyond the clamp": (
        case_of(LAYERS.replace(f"{MEAT},", MEAT.replace("8.0", "12.5") + "," + HERE)),
        ["loads[0].layers[1].to_mm (both)", "is 12.5 mm", "held from 12 mm on"],
    ),
    "layer within the tip": (
        case_of(LAYERS.replace(f"{BONE},", BONE.replace("0.4", "0.001") + "," + HERE)),
        ["layers[0].to_mm", "is 0.001 mm", "0.001112 mm behind the apex"],
    ),
    "entry beyond the clamp": (
        case_of(changed(STAPLE, "entry_mm = 0.03", "entry_mm = 12.0")),
        ["entry_mm (staple)", "is 12 mm", "held from 12 mm on"],
    ),
    # the clamp itself
    "clamp beyond the spine": (
        clamped("29", FACE),
        ["support.clamp_depth_mm", "is 29 mm", "28 mm"],
    ),
    "clamp negative": (clamped("-12", FACE), ["is -12 mm", "(0, 1000]"]),
    "clamp within the tip, told once": (
        clamped("0.001", FACE, WOOD, LAYERS, STAPLE),
        ["support.clamp_depth_mm", "is 0.001 mm", "behind the apex (0.005458 mm or more)"],
    ),
    "clamp in front of several loads, told once": (
        clamped("0.3", FACE, WOOD, STAPLE, LAYERS),
        ["support.clamp_depth_mm", "is 0.3 mm", "pressing reaches 1.5 mm", "wood reaches 0.5 mm"],
    ),
    # names
    "two loads of one name": (
        case_of(FACE, WOOD, changed(FACE, 'name = "pressing"', 'name = "pressing"')),
        ["loads[2].name", 'is "pressing"', "(number 1)", "give each its own"],
    ),
    "names that differ by a space": (
        case_of(FACE, changed(FORCE, 'name = "tip"', 'name = "pressing "')),
        ["loads[1].name", '"pressing"', "(number 1)"],
    ),
    "the name of one without": (
        case_of(
            changed(FACE, 'name = "pressing"', 'name = "load 2"'), FORCE.replace('name = "tip"', "")
        ),
        ["loads[0].name", '"load 2"', "(number 2)"],
    ),
    # several media
    "layers that overlap": (
        case_of(LAYERS.replace(f"{MEAT},", MEAT.replace("0.4", "0.3") + "," + HERE)),
        ["layers[1].from_mm", "is 0.3 mm (meat)", "layers[0] (bone) reaches from 0 to 0.4 mm"],
    ),
    "no layers": (
        case_of('name = "none"\nside = "left"\nlayers = []  # here\n'),
        ["layers (none) is empty", "a cut goes through something"],
    ),
    "layer backwards": (
        case_of(LAYERS.replace(f"{MEAT},", MEAT.replace("8.0", "0.2") + "," + HERE)),
        ["layers[1].to_mm", "is 0.2 mm", "larger than from_mm = 0.4 mm"],
    ),
    "layer of no medium": (
        case_of(LAYERS.replace(f"{BONE},", "{ from_mm = 0.0, to_mm = 0.4 }," + HERE)),
        ["layers[0].medium (both) or medium_strength_mpa must be given"],
    ),
    "layer of an unknown medium": (
        case_of(LAYERS.replace(f"{BONE},", BONE.replace('"bone"', '"bome"') + "," + HERE)),
        ["layers[0].medium", 'is "bome"', 'did you mean "bone"'],
    ),
    "layers beside a medium": (
        case_of(LAYERS + 'medium = "bone"  # here\n'),
        ["loads[0].medium (both) is not a key"],
    ),
    # hard objects
    "object pressing with less than flowing asks for": (
        case_of(STAPLE + "pressure_over_strength = 1.0  # here\n"),
        ["pressure_over_strength", "is 1", "[1.2, 3]"],
    ),
    "object of two strengths": (
        case_of(
            changed(STAPLE, 'object = "mild steel"', 'object_strength_mpa = 9\nobject = "wire"')
        ),
        ["loads[0].object", "or object_strength_mpa must be given, and only one of the two"],
    ),
    "no such object": (
        case_of(changed(STAPLE, 'object = "mild steel"', 'object = "stapel"')),
        ['is "stapel"', 'did you mean "staple"'],
    ),
    "entry 0": (
        case_of(changed(STAPLE, "entry_mm = 0.03", "entry_mm = 0")),
        ["is 0 mm", "(0, 1000]"],
    ),
    # movements
    "two movements in one load": (
        case_of('name = "twice"\n' + parts(CARRIED, changed(CARRIED, "0.05", "0.1"))),
        ["parts[1]", "parts[0] does so already", "put both components into one part"],
    ),
    "movement not a number": (
        case_of(changed(CARRIED, "apex_lateral_mm = 0.05", "apex_lateral_mm = nan")),
        ["is nan mm", "finite"],
    ),
}
#: The line of a table that begins with the part itself is named for a part as a whole.
WHOLE_PARTS = {"two movements in one load"}


@pytest.mark.parametrize("slip", SLIPS)
def test_one_slip_is_told_at_its_line(slip: str, folder: Path, told: Told) -> None:
    case, words = SLIPS[slip]
    (folder / "case.toml").write_text(case, encoding="utf-8")
    lines = case.splitlines()
    (line,) = [number for number, text in enumerate(lines, 1) if text.endswith(HERE)]
    if slip in WHOLE_PARTS:
        line = max(n for n, text in enumerate(lines[:line], 1) if text == "[[loads.parts]]")
    (said,) = told("run", "case.toml")
    assert said.startswith(f"simedge: case.toml:{line}: ")
    for each in words:
        assert each in said


@pytest.mark.parametrize("load", [CARRIED, f'name = "held"\n{parts(FACE, CARRIED)}'])
def test_a_point_is_carried_by_no_force(load: str, folder: Path, told: Told) -> None:
    knife = (folder / "knife.toml").read_text(encoding="utf-8")
    (folder / "knife.toml").write_text(knife.replace("radius_um = 1.5", "sharp = true"))
    (folder / "case.toml").write_text(case_of(load), encoding="utf-8")
    (said,) = told("run", "case.toml")
    assert "apex_lateral_mm" in said
    assert "is 0.05 mm, but the apex is perfectly sharp" in said
    assert "radius_um or land_um" in said


@pytest.mark.parametrize(
    ("load", "key"),
    [
        (LAYERS.replace(BONE, BONE.replace('medium = "bone"', "medium_strength_mpa = 9")), "layer"),
        (STAPLE.replace('object = "mild steel"', "object_strength_mpa = 900"), "object"),
    ],
)
def test_strengths_of_ones_own_need_a_contact(
    load: str, key: str, folder: Path, told: Told
) -> None:
    (folder / "case.toml").write_text(case_of(load), encoding="utf-8")
    (said,) = told("run", "case.toml")
    assert "contact_length_mm" in said
    assert "is missing" in said
    assert "of your own needs the length of edge in contact" in said


def test_an_option_in_front_of_two_loads_names_the_clamp_once(told: Told) -> None:
    quick = ["--dps", "10", "--steel", "52100", "--hrc", "60", "--medium", "hard wood"]
    (said,) = told("run", *quick, "--depth", "9", "--clamp", "8")
    assert said.startswith("simedge: --clamp is 8 mm, but the work must stay in front of the clamp")
    assert "straight reaches 9 mm" in said
    assert "crooked, left face reaches 9 mm" in said
    # of a single load it is the load that is named
    (said,) = told("run", *quick, "--depth", "9", "--clamp", "8", "--side", "left")
    assert said.startswith("simedge: --depth is 9 mm, but the blade is held from 8 mm on")


def test_every_slip_in_one_go(folder: Path, told: Told) -> None:
    case = case_of(
        changed(FACE, "to_mm = 1.5", "to_mm = 40.0"),
        LAYERS.replace(f"{MEAT},", MEAT.replace("8.0", "30") + "," + HERE),
        changed(FACE, 'name = "pressing"', 'name = "pressing"'),
    )
    (folder / "case.toml").write_text(case, encoding="utf-8")
    lines = [n for n, text in enumerate(case.splitlines(), 1) if text.endswith(HERE)]
    assert [int(said.split(":")[2]) for said in told("run", "case.toml")] == lines


# ---------------------------------------------------------------- odd, but it runs

CANCEL = 'name = "nought"\n' + parts(*(f"lateral_n_per_mm = {n}\n" for n in (1.0, -0.3, -0.7)))
TWO_SIDES = 'name = "twice"\n' + parts(
    WOOD.replace('name = "wood"\n', ""),
    WOOD.replace('name = "wood"\n', "").replace('"left"', '"right"').replace("0.5", "0.05"),
)
# Each row: a load, and the words of the one warning that it must have.
ODD: dict[str, tuple[str, list[str]]] = {
    "stretch that begins at 0": (
        FACE.replace("from_mm = 0.1", "from_mm = 0").replace("pressing", "clipped"),
        ["clipped: ", "begins at 1.11 µm, where the left face leaves the tip, not at 0 µm"],
    ),
    "force that pulls": (
        FORCE.replace("direction_deg = 30.0", "direction_deg = 150"),
        ["tip: the load pulls on the edge"],
    ),
    "movement that pulls": (
        'name = "pulled"\napex_axial_mm = -0.0001\n',
        ["pulled: the movement pulls on the edge"],
    ),
    "parts that cancel": (CANCEL, ["nought: the parts of this load cancel"]),
    "media on both sides": (
        TWO_SIDES,
        ["twice: 2 parts of this load press with a medium: the tip is pressed once"],
    ),
    "hard object": (STAPLE, ["staple: an entry of 0.03 mm takes", "over 1.5 mm of edge"]),
    "object harder than the edge": (
        STAPLE.replace('"staple"', '"file"').replace(
            'object = "mild steel"', "object_strength_mpa = 1300\ncontact_length_mm = 1.5"
        ),
        ["file: the object presses with 2600 MPa", "crushed at about 2457 MPa"],
    ),
    "movement that turns the edge": (
        CARRIED.replace("carried", "turned").replace("0.05", "0.3"),
        ["turned: the edge turns by ", "small movements", "rough"],
    ),
}


@pytest.mark.usefixtures("no_files")
def test_what_is_only_odd_runs_and_each_load_is_told_its_own(answered: Answered) -> None:
    quiet = FACE.replace("pressing", "quiet").replace("40.0", "4.0")
    warnings = answered(case_of(quiet, *(load for load, _ in ODD.values())))["warnings"]
    assert not [text for text in warnings if text.startswith("quiet: ")]
    for row, (_, words) in ODD.items():
        mine = [text for text in warnings if all(each in text for each in words)]
        assert len(mine) == 1, row


@pytest.mark.usefixtures("no_files")
def test_of_parts_that_cancel_nothing_is_answered(
    answered: Answered, capsys: pytest.CaptureFixture[str]
) -> None:
    (load,) = answered(case_of(CANCEL))["loads"]
    assert load["nothing_left"] is True
    assert load["sentence"] == "Nothing is left of this load: its parts cancel everywhere."
    for key in ("section_peak_von_mises_mpa", "first_yield_load_factor", "largest_principal_mpa"):
        assert load[key] is None
    assert (load["yield_depth_mm"], load["apex_lateral_mm"], load["closed_form"]) == (0, 0, [])
    assert len(load["parts"]) == 3
    assert main(["run", "case.toml"]) == 0
    said = capsys.readouterr().out
    assert "more than 1000" not in said
    assert "no finite value" not in said


def test_parts_that_cancel_are_drawn(folder: Path) -> None:
    # alone in its picture: a scale of stress must still be found
    (folder / "case.toml").write_text(case_of(CANCEL), encoding="utf-8")
    assert main(["run", "case.toml", "--out", "answer"]) == 0
    assert (folder / "answer" / "stress.png").stat().st_size > 10_000


@pytest.mark.usefixtures("no_files")
def test_parts_that_cancel_apart_still_press(answered: Answered) -> None:
    # a spread that falls to the rims against an even one: no force is left, but a stress is
    both = parts("axial_n_per_mm = 2.0\n", 'axial_n_per_mm = -2.0\nspread = "uniform"\n')
    document = answered(case_of(f'name = "squeezed"\n{both}'))
    (load,) = document["loads"]
    assert load["nothing_left"] is False
    # the even spread ends abruptly on the round tip: under it stress has no peak to tell
    assert load["patch_peak_von_mises_mpa"] is None
    assert any("cancel" in text for text in document["warnings"])
