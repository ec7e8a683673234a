"""A whole case: what must fit together, every bad key at once, each with its file and line."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from simedge import read_case
from simedge.errors import BadInput
from simedge.inputs.case import Case, Support
from simedge.inputs.load import TipLineLoad
from simedge.inputs.profile import Apex, PrimaryGrind, Profile
from simedge.inputs.steel import Steel

Refused = Callable[[str], list[str]]

CASE = """\
schema = 1
title = "trial"
accuracy_percent = 1.0
[steel]
grade = "52100"
hardness_hrc = 60
[support]
clamp_depth_mm = 12.0
[[loads]]
name = "steering"
medium = "hard wood"
depth_in_cut_mm = 0.5
side = "left"
[[loads]]
at = "left face"
from_mm = 0.0
to_mm = 1.5
pressure_mpa = 40.0
[[loads]]
axial_n_per_mm = 3.0
[profile]
height_mm = 28.0
spine_thickness_mm = 3.2
[profile.apex]
radius_um = 1.5
[[profile.bevels]]
name = "edge bevel"
dps = 11.0
ends_at_thickness_mm = 0.45
[profile.primary_grind]
"""


def case(*edits: tuple[str, str]) -> str:
    """Give the trial case with texts replaced; each must stand there exactly once."""
    text = CASE
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def written(text: str, folder: Path) -> Case:
    (folder / "case.toml").write_text(text, encoding="utf-8")
    return read_case(folder / "case.toml")


def test_the_trial_case_is_taken(tmp_path: Path) -> None:
    read = written(CASE, tmp_path)
    assert (read.title, read.accuracy_percent) == ("trial", 1.0)
    assert read.support.clamp_depth_mm == 12.0
    assert read.profile.bevels[0].dps == 11.0
    assert [read.load_name(index) for index in range(3)] == ["steering", "load 2", "load 3"]
    assert hash(read) == hash(written(CASE, tmp_path))


def test_what_need_not_be_said() -> None:
    profile = Profile(height_mm=20.0, apex=Apex(sharp=True), primary_grind=PrimaryGrind(dps=5.0))
    steel = Steel(grade="52100", hardness_hrc=60.0)
    short = Case(profile=profile, steel=steel, loads=(TipLineLoad(axial_n_per_mm=1.0),))
    assert (short.schema, short.title, short.accuracy_percent) == (1, "untitled", 1.0)
    assert short.support == Support(clamp_depth_mm=None)


# Each row: what is edited, the line to be named, what must be said.
ONE_SLIP: dict[str, tuple[tuple[str, str], int, list[str]]] = {
    "clamp beyond the spine": (
        ("clamp_depth_mm = 12.0", "clamp_depth_mm = 28.1"),
        8,
        ["clamp_depth_mm is 28.1 mm", "not beyond the spine (28 mm)"],
    ),
    "clamp depth 0": (
        ("clamp_depth_mm = 12.0", "clamp_depth_mm = 0"),
        8,
        ["clamp_depth_mm is 0 mm", "(0, 1000]"],
    ),
    "stretch reaches the clamp": (
        ("to_mm = 1.5", "to_mm = 12.0"),
        17,
        ["loads[1].to_mm is 12 mm", "held from 12 mm on", "in front of the clamp"],
    ),
    "stretch beyond the part": (
        ("to_mm = 1.5", "to_mm = 40.0"),
        17,
        ["loads[1].to_mm is 40 mm", "held from 12 mm on"],
    ),
    "stretch within the apex": (
        ("to_mm = 1.5", "to_mm = 0.001"),
        17,
        ["loads[1].to_mm is 0.001 mm", "the face only begins 0.001214 mm behind the apex"],
    ),
    "cut to the clamp": (
        ("depth_in_cut_mm = 0.5", "depth_in_cut_mm = 15.0"),
        12,
        ["depth_in_cut_mm", "is 15 mm", "held from 12 mm on"],
    ),
    "cut within the apex": (
        ("depth_in_cut_mm = 0.5", "depth_in_cut_mm = 0.0005"),
        12,
        ["depth_in_cut_mm", "0.0005 mm", "go deeper"],
    ),
    "accuracy of nothing": (
        ("accuracy_percent = 1.0", "accuracy_percent = 0"),
        3,
        ["accuracy_percent is 0 %", "[0.05, 10]"],
    ),
    "newer schema": (("schema = 1", "schema = 2"), 1, ["schema is 2", "newer simedge"]),
    "older schema": (("schema = 1", "schema = 0"), 1, ["schema is 0", "write schema = 1"]),
    "no steel of that name": (
        ('grade = "52100"', 'grade = "52110"'),
        5,
        ['grade is "52110"', "52100", "simedge steels"],
    ),
    "hardness beyond the table": (
        ("hardness_hrc = 60", "hardness_hrc = 72"),
        6,
        ["hardness_hrc is 72 HRC", "40 to 68 HRC", "nothing is extrapolated"],
    ),
    "hardness in HV": (("hardness_hrc = 60", "hardness_hrc = 700"), 6, ["did you mean 60.1 HRC"]),
    "Poisson's ratio of a fluid": (
        ("hardness_hrc = 60", "hardness_hrc = 60\npoissons_ratio = 0.5"),
        7,
        ["poissons_ratio is 0.5", "below 0.5"],
    ),
    "Poisson's ratio of nothing": (
        ("hardness_hrc = 60", "hardness_hrc = 60\npoissons_ratio = -1"),
        7,
        ["poissons_ratio is -1", "above -1"],
    ),
    "modulus in MPa": (
        ("hardness_hrc = 60", "hardness_hrc = 60\nyoungs_modulus_gpa = 210000"),
        7,
        ["youngs_modulus_gpa is 210000 GPa", "did you mean 210 GPa?", "MPa"],
    ),
    "yield 0": (
        ("hardness_hrc = 60", "hardness_hrc = 60\nyield_strength_mpa = 0"),
        7,
        ["yield_strength_mpa is 0 MPa"],
    ),
    "negative modulus": (
        ("hardness_hrc = 60", "hardness_hrc = 60\nyoungs_modulus_gpa = -210"),
        7,
        ["youngs_modulus_gpa is -210 GPa"],
    ),
    "unknown section": (("[support]", "[suport]"), 7, ["suport", 'did you mean "support"?']),
}


@pytest.mark.parametrize("slip", ONE_SLIP)
def test_one_slip_is_told_with_its_line(slip: str, refused_case: Refused) -> None:
    edit, line, said = ONE_SLIP[slip]
    (told,) = refused_case(case(edit))
    assert told.startswith(f"{line}: ")
    for words in said:
        assert words in told


def test_clamp_in_the_apex_is_told_first(refused_case: Refused) -> None:
    # The face loads lie behind such a clamp as well, and may be told after it.
    told = refused_case(case(("clamp_depth_mm = 12.0", "clamp_depth_mm = 0.001")))
    assert told[0].startswith("8: support.clamp_depth_mm is 0.001 mm, but must lie behind the apex")
    # the faces begin at R (1 - sin 11) = 0.001214 mm; one and a half tip widths behind that
    assert "(0.005631 mm or more)" in told[0]


def test_no_loads_is_no_run(refused_case: Refused) -> None:
    begin, end = CASE.index("[[loads]]"), CASE.index("[profile]")
    (told,) = refused_case("loads = []\n" + CASE[:begin] + CASE[end:])
    assert told == "1: loads is empty, but a run needs some work to do"


def test_only_the_pressed_face_must_begin_before_the_cut_ends(tmp_path: Path) -> None:
    # The straight side of a chisel begins at R = 1.5 µm, the ground side at 1.5 (1 - sin 25) µm.
    chisel = ("dps = 11.0", "left_dps = 0\nright_dps = 25.0")
    shallow = ("depth_in_cut_mm = 0.5", "depth_in_cut_mm = 0.0012")
    assert written(case(chisel, shallow, ('side = "left"', 'side = "right"')), tmp_path)
    for side in ("left", "both"):
        with pytest.raises(BadInput, match=r"case\.toml:12: .* 0\.0015 mm behind the apex"):
            written(case(chisel, shallow, ('side = "left"', f'side = "{side}"')), tmp_path)


def test_every_bad_key_in_one_go(refused_case: Refused) -> None:
    told = refused_case(
        case(
            ("accuracy_percent = 1.0", 'accuracy_percent = "1"'),
            ("hardness_hrc = 60", "hardness_hrc = 72"),
            ("clamp_depth_mm = 12.0", "clamp_depth_mm = -1"),
            ("hard wood", "hard wod"),
            ("pressure_mpa = 40.0", "pressure_mpa = -40.0"),
            ("axial_n_per_mm = 3.0", "axial_n_per_mm = 0"),
            ("dps = 11.0", "dps = 95"),
        )
    )
    assert [message.split(":")[0] for message in told] == ["3", "6", "8", "11", "18", "20", "28"]


def test_every_misplaced_load_in_one_go(refused_case: Refused) -> None:
    told = refused_case(
        case(
            ("depth_in_cut_mm = 0.5", "depth_in_cut_mm = 15.0"),
            ("to_mm = 1.5", "to_mm = 40.0"),
        )
    )
    assert [message.split(" is ")[0] for message in told] == [
        "12: loads[0].depth_in_cut_mm (steering)",
        "17: loads[1].to_mm",
    ]


def test_slips_of_profile_file_and_case_file_are_told_together(tmp_path: Path) -> None:
    begin = CASE.index("[profile]")
    (tmp_path / "knife.toml").write_text(
        "height_mm = 28.0\nspine_thickness_mm = 3.2\n[apex]\nradius_um = 0\n"
        "[[bevels]]\ndps = 95\nheight_mm = 0.1\n[primary_grind]\n"
    )
    text = case(("hardness_hrc = 60", "hardness_hrc = 72"))[:begin]
    with pytest.raises(BadInput) as caught:
        written('profile = "knife.toml"\n' + text, tmp_path)
    places = [problem.where.removeprefix(f"{tmp_path}/") for problem in caught.value.problems]
    assert places == ["knife.toml:4", "knife.toml:6", "case.toml:7"]


def test_clamp_at_the_spine_by_rounding_is_taken() -> None:
    # 0.1 + 0.2 is one unit in the last place beyond 0.3
    profile = Profile(height_mm=0.3, apex=Apex(radius_um=1.0), primary_grind=PrimaryGrind(dps=5.0))
    steel = Steel(grade="52100", hardness_hrc=60.0)
    taken = Case(
        profile=profile,
        steel=steel,
        support=Support(clamp_depth_mm=0.1 + 0.2),
        loads=(TipLineLoad(axial_n_per_mm=1.0),),
    )
    assert taken.support.clamp_depth_mm == pytest.approx(0.3)


def without(*headings: str) -> str:
    """Give the trial case without the tables under these headings."""
    tables = re.split(r"(?m)^(?=\[)", CASE)
    return "".join(table for table in tables if table.split("\n")[0] not in headings)


def test_each_table_that_is_missing_is_told_with_its_heading(refused_case: Refused) -> None:
    told = refused_case('title = "nothing else"\n')
    assert told == [
        "1: profile is missing; begin it with [profile]",
        "1: steel is missing; begin it with [steel]",
        "1: loads is missing; begin each entry with [[loads]]",
    ]
    assert refused_case(without("[steel]")) == ["1: steel is missing; begin it with [steel]"]
    assert refused_case(without("[[loads]]"))[0].startswith("1: loads is missing")


def test_the_support_may_be_left_out_and_is_then_the_spine(tmp_path: Path) -> None:
    free = written(without("[support]"), tmp_path)
    assert free.support == Support()
    # held at the spine, 28 mm: a stretch may reach beyond the 12 mm of before, but not to 28 mm
    deep = without("[support]").replace("to_mm = 1.5", "to_mm = 27.9")
    assert written(deep, tmp_path).loads[1] != free.loads[1]
    with pytest.raises(
        BadInput, match=r"loads\[1\]\.to_mm is 28 mm, but the blade is held from 28"
    ):
        written(deep.replace("27.9", "28.0"), tmp_path)


@pytest.mark.parametrize(
    ("heading", "wrong", "said"),
    [
        ("[steel]", "[[steel]]", "write [steel] once, not [[steel]]"),
        ("[support]", "[[support]]", "write [support] once, not [[support]]"),
        ("[profile.apex]", "[[profile.apex]]", "write [profile.apex] once"),
        ("[[profile.bevels]]", "[profile.bevels]", "begin each entry with [[profile.bevels]]"),
    ],
)
def test_one_table_for_a_list_and_a_list_for_one_table(
    heading: str, wrong: str, said: str, refused_case: Refused
) -> None:
    text = case((heading, wrong))
    told = refused_case(text)
    line = text.partition(wrong)[0].count("\n") + 1
    assert len(told) == 1
    assert told[0].startswith(f"{line}: ")
    assert said in told[0]


@pytest.mark.parametrize("value", ["true", '"1"', "[1.0]", "1979-05-27", "{ mm = 1 }", "07:32:00"])
@pytest.mark.parametrize(
    "key",
    [
        "accuracy_percent = 1.0",
        "hardness_hrc = 60",
        "clamp_depth_mm = 12.0",
        "depth_in_cut_mm = 0.5",
        "pressure_mpa = 40.0",
        "axial_n_per_mm = 3.0",
        "height_mm = 28.0",
        "radius_um = 1.5",
        "dps = 11.0",
    ],
)
def test_nothing_but_a_number_is_a_number(key: str, value: str, refused_case: Refused) -> None:
    name = key.partition(" = ")[0]
    text = case((key, f"{name} = {value}"))
    (told,) = refused_case(text)
    line = CASE.partition(key)[0].count("\n") + 1
    assert told.startswith(f"{line}: ")
    assert f"{name}" in told
    assert "but must be a plain number" in told


def test_a_length_in_inches_is_named_as_it_was_written(refused_case: Refused) -> None:
    (told,) = refused_case(case(("clamp_depth_mm = 12.0", "clamp_depth_in = -0.5")))
    assert told.startswith("8: support.clamp_depth_in is -0.5 in (-12.7 mm), but must lie in (0, ")


def test_misplaced_parts_are_told_by_their_own_number(refused_case: Refused) -> None:
    parts = (
        "[[loads.parts]]\naxial_n_per_mm = 1.0\n"
        '[[loads.parts]]\nat = "right face"\nfrom_mm = 0.1\nto_mm = 13.0\npressure_mpa = 1.0\n'
    )
    text = case(("[profile]", f"[[loads]]\n{parts}[profile]"))
    (told,) = refused_case(text)
    line = text.partition("to_mm = 13.0")[0].count("\n") + 1
    assert told.startswith(f"{line}: loads[3].parts[1].to_mm is 13 mm")


def test_pulling_and_cancelling_are_odd_but_no_error(tmp_path: Path) -> None:
    # bad-inputs.md: both W; the run says so
    pulling = case(("axial_n_per_mm = 3.0", "axial_n_per_mm = -3.0"))
    assert written(pulling, tmp_path).loads[2] == TipLineLoad(axial_n_per_mm=-3.0)
    parts = "".join(f"[[loads.parts]]\nlateral_n_per_mm = {size}\n" for size in (1.0, -1.0))
    assert written(case(("[profile]", f"[[loads]]\n{parts}[profile]")), tmp_path)
