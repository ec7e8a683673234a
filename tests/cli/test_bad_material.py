"""What people get wrong about the steel, through the command line; what is only odd is said."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from simedge.cli.main import main

Told = Callable[..., list[str]]
Edit = Callable[[str, str, str], int]
Answered = Callable[..., dict[str, Any]]

HARD = "hardness_hrc = 60"
GRADE = 'grade = "52100"'
POINTS = "[[steel.yield_points]]\nhardness_hrc = {}\nyield_strength_mpa = {}\n"


def beside(line: str) -> tuple[str, str]:
    """Give the edit that puts a line below the hardness."""
    return HARD, f"{HARD}\n{line}"


def table(*points: tuple[object, object]) -> tuple[str, str]:
    """Give the edit that puts a table of yield points below the hardness."""
    return beside("".join(POINTS.format(*point) for point in points).rstrip("\n"))


# Each row: the edit of the case, and what must be said. The line that must be named is the last
# line of the new text, unless the row says how many lines above it.
# fmt: off
SLIPS: dict[str, tuple[tuple[str, str], list[str]] | tuple[tuple[str, str], list[str], int]] = {
    "hardness beyond the table": ((HARD, "hardness_hrc = 72"), ["steel.hardness_hrc", "is 72 HRC",
        "40 to 68 HRC", "nothing is extrapolated"]),
    "hardness just beyond": ((HARD, "hardness_hrc = 68.01"), ["is 68.01 HRC", "40 to 68 HRC"]),
    "hardness below the table": ((HARD, "hardness_hrc = 39.9"), ["is 39.9 HRC", "40 to 68 HRC"]),
    "hardness in HV": ((HARD, "hardness_hrc = 700"), ["is 700 HRC", "did you mean 60.1 HRC?",
        "looks like HV"]),
    "hardness beyond the grade's own points": ((f"{GRADE}\n{HARD}",
        'grade = "O1"\nhardness_hrc = 64'), ["is 64 HRC", "the yield points of O1 run",
        "50 to 62 HRC", "nothing is extrapolated"]),
    "hardness as text": ((HARD, 'hardness_hrc = "60"'), ['is "60"', "a plain number (HRC)"]),
    "hardness with its unit": ((HARD, "hardness_hrc = 60 HRC"), ["without unit"]),
    "hardness as a range": ((HARD, "hardness_hrc = [58, 60]"), ["is a list of 2",
        "a plain number (HRC)"]),
    "hardness not a number": ((HARD, "hardness_hrc = nan"), ["is nan HRC", "a finite number"]),
    "unknown steel": ((GRADE, 'grade = "52101"'), ["steel.grade", 'is "52101"', '"52100"',
        '"simedge steels" lists all']),
    "unlike any steel": ((GRADE, 'grade = "stainless"'), ['is "stainless"',
        'no such steel is known; "simedge steels" lists all']),
    "steel without a name": ((GRADE, 'grade = ""'), ['is ""', '"simedge steels"']),
    "steel without quotes": ((GRADE, "grade = O1"), ["no TOML", "text stands in quotes"]),
    "steel as a number": ((GRADE, "grade = 52100"), ["is 52100", 'write "52100", in quotes']),
    "two steels": ((GRADE, 'grade = ["52100", "O1"]'), ["is a list of 2", "text in quotes"]),
    "no steel": ((f"{GRADE}\n", ""), ["steel.grade is missing", "grade and hardness_hrc"]),
    "no hardness": ((f"{HARD}\n", ""), ["steel.hardness_hrc is missing", "58 to 62 HRC is usual"],
        2),
    "a list of steels": (("[steel]", "[[steel]]"), ["write [steel] once, not [[steel]]"]),
    "Poisson's ratio 0.5": (beside("poissons_ratio = 0.5"), ["steel.poissons_ratio", "is 0.5",
        "below 0.5", "0.27 to 0.30"]),
    "Poisson's ratio all but 0.5": (beside("poissons_ratio = 0.4999999"), ["is 0.4999999",
        "does not balance its load", "0.4995 is the most"]),
    "Poisson's ratio -1": (beside("poissons_ratio = -1.0"), ["is -1", "above -1"]),
    "Poisson's ratio in percent": (beside("poissons_ratio = 29"), ["is 29", "did you mean 0.29?"]),
    "Poisson's ratio with a comma": (beside("poissons_ratio = 0,3"), ["written with a point"]),
    "modulus in MPa": (beside("youngs_modulus_gpa = 210000"), ["steel.youngs_modulus_gpa",
        "is 210000 GPa", "did you mean 210 GPa?", "looks like MPa"]),
    "modulus in Pa": (beside("youngs_modulus_gpa = 2.1e11"), ["did you mean 210 GPa?", "Pa"]),
    "modulus under the name of MPa": (beside("youngs_modulus_mpa = 210000"), ["not a key",
        "write youngs_modulus_gpa, in GPa"]),
    "modulus 0": (beside("youngs_modulus_gpa = 0"), ["is 0 GPa", "[50, 1000] GPa"]),
    "modulus negative": (beside("youngs_modulus_gpa = -210"), ["is -210 GPa", "190 to 210 GPa"]),
    "modulus endless": (beside("youngs_modulus_gpa = 1e400"), ["is inf GPa", "a finite number"]),
    "yield in GPa": (beside("yield_strength_mpa = 2.1"), ["steel.yield_strength_mpa", "is 2.1 MPa",
        "did you mean 2100 MPa?", "looks like GPa"]),
    "yield in Pa": (beside("yield_strength_mpa = 2.1e9"), ["did you mean 2100 MPa?"]),
    "yield in psi": (beside("yield_strength_mpa = 300000"), ["did you mean 2070 MPa?", "psi"]),
    "yield 0": (beside("yield_strength_mpa = 0"), ["is 0 MPa", "[50, 6000] MPa"]),
    "yield negative": (beside("yield_strength_mpa = -2100"), ["is -2100 MPa", "[50, 6000] MPa"]),
    "yield true": (beside("yield_strength_mpa = true"), ["is true", "a plain number (MPa)"]),
    "tensile below yield": (beside("yield_strength_mpa = 2100\ntensile_strength_mpa = 1800"),
        ["steel.tensile_strength_mpa", "is 1800 MPa", "2100 MPa", "exchanged?"]),
    "own points out of order": (table((60, 2150), (58, 2000)), ["steel.yield_points[1].hardness",
        "is 58 HRC", "must rise", "60 HRC", "put them in order"], 1),
    "own points that fall": (table((58, 2150), (60, 2000)), ["[1].yield_strength_mpa",
        "is 2000 MPa", "2150 MPa at a lower hardness", "exchanged?"]),
    "own points of one hardness": (table((58, 2000), (60, 2100), (60, 2150)),
        ["steel.yield_points[2].hardness_hrc", "is 60 HRC", "keep one of the two"], 1),
    "own points in GPa": (table((58, 2000), (60, 2.15)), ["[1].yield_strength_mpa",
        "did you mean 2150 MPa?"]),
    "own points in HV": (table((653, 2000), (697, 2150)), ["[0].hardness_hrc",
        "did you mean 58 HRC?"], 4),
    "own points that end before": (table((55, 1800), (59, 2100)), ["steel.hardness_hrc",
        "is 60 HRC", "yield_points run from 55 to 59 HRC", "nothing is extrapolated"], 6),
    "own points beside a strength": (beside("yield_strength_mpa = 2000\n" + POINTS.format(60, 2000)
        .rstrip("\n")), ["steel.yield_points", "keep one of the two"], 2),
    "a single own point": (table((60, 2150)), ["has 1 point", "give yield_strength_mpa"], 2),
    "own points without strength": (beside("[[steel.yield_points]]\nhardness_hrc = 60"),
        ["yield_points[0].yield_strength_mpa is missing"], 1),
    "own points as a list of lists": (beside("yield_points = [[58, 2000], [60, 2150]]"),
        ["yield_points[0]", "is a list of 2", "must be a table"]),
}
# fmt: on


@pytest.mark.parametrize("slip", SLIPS)
def test_one_slip_is_told_at_its_line(slip: str, edit: Edit, told: Told) -> None:
    (old, new), words, *above = SLIPS[slip]
    if not new:  # what is missing is told at its table
        edit("case.toml", old, "# nothing\n")
        line = 5
    else:
        line = edit("case.toml", old, new) - sum(above)
    said = told("run", "case.toml")
    assert said[0].startswith(f"simedge: case.toml:{line}:")
    for each in words:
        assert each in said[0]
    # the points' hardness is as wrong in each row of its table
    assert len(said) == (2 if slip == "own points in HV" or "list of lists" in slip else 1)


def test_every_designation_is_listed_by_the_command_that_is_named(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["steels"]) == 0
    listed = capsys.readouterr().out
    assert all(name in listed for name in ("52100", "100Cr6", "1.2379", "D2", "O1"))


# Each row: the edits of the case, and the words of the one warning that it must have.
# fmt: off
ODD: dict[str, tuple[tuple[str, str], list[str]]] = {
    "hardness between points": ((HARD, "hardness_hrc = 60.5"), ["60.5 HRC", "hardness table",
        "interpolated"]),
    "hardness between the grade's own points": ((f"{GRADE}\n{HARD}",
        'grade = "O1"\nhardness_hrc = 58'), ["58 HRC", "yield points", "interpolated"]),
    "hardness between one's own points": (table((58, 2000), (62, 2200)), ["60 HRC",
        "yield points", "interpolated"]),
    "nearly incompressible": (beside("poissons_ratio = 0.499"), ["0.499", "close to 0.5",
        "do not lock", "largest tension"]),
    "rubber": (beside("poissons_ratio = 0.45"), ["0.45", "close to 0.5", "largest tension"]),
    "swells when pulled": (beside("poissons_ratio = -0.9"), ["-0.9", "0.27 to 0.30"]),
    "stiffer than steel": (beside("youngs_modulus_gpa = 300"), ["300 GPa", "190 to 210 GPa"]),
}
# fmt: on


@pytest.mark.parametrize("row", ["nothing odd", *ODD])
def test_what_is_only_odd_runs_and_is_said(
    row: str, edit: Edit, answered: Answered, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # the files of the answer take longer than the answer, and are tested elsewhere
    monkeypatch.setattr("simedge.output.answer_folder.write_answer", lambda run, target: ())
    if row in ODD:
        edit("case.toml", *ODD[row][0])
    warnings = answered((folder / "case.toml").read_text(encoding="utf-8"))["warnings"]
    for name, (_, words) in ODD.items():
        mine = [text for text in warnings if all(each in text for each in words)]
        assert len(mine) == (name == row), name


def test_hardness_at_both_ends_of_the_table_is_read(
    edit: Edit, answered: Answered, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("simedge.output.answer_folder.write_answer", lambda run, target: ())
    before = f"{GRADE}\n{HARD}"
    # 9.807 x 392 HV / 3.65 and 9.807 x 940 HV / 3.2
    for hardness, yield_mpa in ((40, 1053.2), (68, 2880.8)):
        steel = f'grade = "M2"\nhardness_hrc = {hardness}'
        edit("case.toml", before, steel)
        before = steel
        found = answered((folder / "case.toml").read_text(encoding="utf-8"))["steel"]
        assert found["yield_strength_mpa"] == pytest.approx(yield_mpa, rel=1e-4)  # of its digits


def test_quadratic_triangles_do_not_lock_near_a_half_and_tension_is_not_to_be_used(
    edit: Edit, answered: Answered, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the warning at 0.499 says is measured, on a coarse mesh against a fine one."""
    monkeypatch.setattr("simedge.output.answer_folder.write_answer", lambda run, target: ())
    edit("case.toml", *beside("poissons_ratio = 0.499"))
    case = (folder / "case.toml").read_text(encoding="utf-8")
    coarse, fine = (
        answered(case.replace("accuracy_percent = 10.0", f"accuracy_percent = {accuracy}"))["loads"]
        for accuracy in (10.0, 0.1)
    )
    off = []
    for load, finer in zip(coarse, fine, strict=True):
        peak = finer["section_peak_von_mises_mpa"]
        # measured on the rack: 0.6 %, and movements 2.6 % at this accuracy
        assert load["section_peak_von_mises_mpa"] == pytest.approx(peak, rel=0.01)
        for key in ("apex_lateral_mm", "apex_axial_mm"):
            size = max(abs(finer["apex_lateral_mm"]), abs(finer["apex_axial_mm"]))
            assert load[key] == pytest.approx(finer[key], abs=0.03 * size)
        off.append(abs(load["largest_principal_mpa"] - finer["largest_principal_mpa"]) / peak)
    assert max(off) > 0.1  # an order beyond what the accuracy asked for allows
