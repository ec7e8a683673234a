"""Files that are none of ours, and what people type into those that are."""

from __future__ import annotations

import codecs
import errno
import gzip
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

import pytest

from simedge import __version__
from simedge.cli.main import main

Told = Callable[..., list[str]]
Edit = Callable[[str, str, str], int]
Out = pytest.CaptureFixture[str]

FORCE = "force_n = 4.0"
NAME = 'title = "trial"'

# ---------------------------------------------------------------- one slip in a file

# Each row: the file, the text in it and what stands there instead, and what must be said. The
# line that must be named is the last line of the new text.
# fmt: off
SLIPS: dict[str, tuple[str, str, str, list[str]]] = {
    "true for a number": ("case", FORCE, "force_n = true", ["loads[1].force_n (tip)", "is true",
        "must be a plain number (N)"]),
    "text for a number": ("case", FORCE, 'force_n = "20N"', ['is "20N"', "plain number (N)"]),
    "a number in quotes": ("case", FORCE, 'force_n = "4.0"', ['is "4.0"', "plain number (N)"]),
    "a list for a number": ("case", FORCE, "force_n = [4.0]", ["is a list of 1", "plain number"]),
    "a table for a number": ("case", FORCE, "force_n = { n = 4.0 }", ["is a table",
        "plain number"]),
    "a date for a number": ("case", FORCE, "force_n = 2026-04-01", ["is 2026-04-01",
        "plain number (N)"]),
    "a time for a number": ("case", FORCE, "force_n = 04:00:00", ["is 04:00:00", "plain number"]),
    "not a number": ("case", FORCE, "force_n = nan", ["is nan N", "finite"]),
    "endless": ("case", FORCE, "force_n = -inf", ["is -inf N", "finite"]),
    "beyond the largest float": ("case", FORCE, "force_n = 1e400", ["is inf N", "finite"]),
    "a huge whole number": ("case", FORCE, "force_n = " + "9" * 40, ["is 1e+40 N", "[1e-06, 100"]),
    "a huge hexadecimal": ("case", FORCE, "force_n = 0x1" + "0" * 300, ["beyond 1e308"]),
    "a number without end": ("case", FORCE, "force_n = " + "9" * 5000, ["too long to be a num"]),
    "a number for text": ("case", NAME, "title = 5", ["title is 5", "text in quotes"]),
    "a number for true": ("knife", "radius_um = 1.5", "sharp = 1", ["apex.sharp", "is 1",
        "must be true or false"]),
    "a decimal comma": ("case", FORCE, "force_n = 4,0", ["no TOML", "force_n = 4,0",
        "a decimal number is written with a point"]),
    "a unit": ("knife", "height_mm = 0.08", "height_mm = 0.08 mm", ["height_mm = 0.08 mm",
        "without unit"]),
    "degrees": ("knife", "dps = 15.0", "dps = 15°", ["dps = 15°", "without unit"]),
    "degrees in quotes": ("knife", "dps = 15.0", 'dps = "15°"', ['is "15°"', "number (deg)"]),
    "a percent sign": ("case", "accuracy_percent = 10.0", "accuracy_percent = 10 %",
        ["without unit"]),
    "an inch sign": ("case", "clamp_depth_mm = 12.0", 'clamp_depth_in = 0.5"', ["without unit"]),
    "a range": ("knife", "dps = 15.0", "dps = 14-16", ["write one number"]),
    "about": ("knife", "dps = 15.0", "dps = ~15", ["write one number"]),
    "a fraction": ("case", FORCE, "force_n = 4/2", ["as a decimal number"]),
    "spaced thousands": ("case", FORCE, "force_n = 4 000", ["without spaces"]),
    "no zero before the point": ("knife", "height_mm = 0.08", "height_mm = .08", ["the 0 before"]),
    "a leading zero": ("case", FORCE, "force_n = 04", ["no leading zeros"]),
    "a long minus": ("case", "direction_deg = 30.0", "direction_deg = −30", ["plain minus sign"]),
    "another alphabet's digits": ("case", FORCE, "force_n = ４", ["the digits 0 to 9"]),
    "a space that does not break": ("case", FORCE, "force_n =\u00a04", ["plain spaces"]),
    "no value": ("case", FORCE, "force_n =", ["a value is missing"]),
    "none": ("case", FORCE, "force_n = none", ["leave the key out"]),
    "True": ("knife", "radius_um = 1.5", "sharp = True", ["in small letters"]),
    "low quotes": ("case", NAME, "title = „trial“", ["straight quotes"]),
    "pointed quotes": ("case", NAME, "title = «trial»", ["straight quotes"]),
    "quotes that stay open": ("case", NAME, 'title = "trial', ["close the quotes"]),
    "a path with backslashes": ("case", '"knife.toml"', '"C:\\Users\\knife.toml"', ["single quo"]),
    "a colon": ("case", FORCE, "force_n: 4.0", ["write = instead of the colon"]),
    "two equal signs": ("case", FORCE, "force_n == 4.0", ["a single ="]),
    "another comment": ("case", FORCE, f"{FORCE} // at the tip", ["begins with #"]),
    "a semicolon": ("case", FORCE, f"{FORCE};", ["force_n = 4.0;"]),
    "braces": ("case", "[support]", "support {", ["begin a table with"]),
    "an open bracket": ("case", "[support]", "[support", ["close the brackets"]),
    "unknown key": ("case", "direction_deg = 30.0", "directon_deg = 30.0",
        ["loads[1].directon_deg", 'did you mean "direction_deg"?']),
    "unknown key of the knife": ("knife", "dps = 15.0", "dps = 15.0\nheigth_mm = 0.1",
        ["bevels[0].heigth_mm", 'did you mean "height_mm"?']),
    "a key like no other": ("case", FORCE, f"{FORCE}\nzzz = 1", ["loads[1].zzz", "its keys are",
        "force_n"]),
    "capital letters": ("case", FORCE, "FORCE_N = 4.0", ["FORCE_N", 'mean "force_n"?']),
    "a dash in a key": ("case", FORCE, "force-n = 4.0", ["force-n", 'mean "force_n"?']),
    "a space in a key": ("case", FORCE, "force n = 4.0", ["a key has no spaces"]),
    "another unit in a key": ("case", "clamp_depth_mm = 12.0", "clamp_depth_cm = 1.2",
        ["write clamp_depth_mm, in mm"]),
    "a key of another table": ("case", "hardness_hrc = 60", "hardness_hrc = 60\npressure_mpa = 4",
        ["steel.pressure_mpa", "it belongs in", "[[loads]]"]),
    "unknown section": ("case", "[support]", "[suport]", ["suport", 'did you mean "support"?']),
    "a section in a section": ("case", "[support]", "[steel.support]", ["steel.support",
        "belongs at the top of the file"]),
    "duplicate key": ("case", FORCE, f"{FORCE}\nforce_n = 5.0", ["given twice, first in line 18"]),
    "duplicate section": ("case", "[support]", "[support]\n[steel]", ["[steel] is given twice",
        "first in line 5"]),
    "an entry for a table": ("case", "[support]", "[[support]]", ["support is a list of 1",
        "[support] once, not [[support]]"]),
    "an entry for a table of the knife": ("knife", "[apex]", "[[apex]]", ["[apex] once, not"]),
    "newer schema": ("case", "schema = 1", "schema = 2", ["schema is 2", f"simedge {__version__}",
        "needs a newer simedge"]),
    "newer schema of the knife": ("knife", "schema = 1", "schema = 9", ["schema is 9", "newer"]),
    "schema of the far future": ("case", "schema = 1", "schema = " + "9" * 50, ["newer"]),
    "schema 0": ("case", "schema = 1", "schema = 0", ["schema is 0", "first schema is 1",
        "write schema = 1"]),
    "schema as text": ("case", "schema = 1", 'schema = "1"', ['is "1"', "a whole number"]),
    "schema with a point": ("case", "schema = 1", "schema = 1.0", ["is 1.0", "a whole number"]),
    "a schema that is true": ("case", "schema = 1", "schema = true", ["is true", "whole number"]),
    "profile that is not there": ("case", '"knife.toml"', '"knif.toml"', ["profile", '"knif.toml"',
        "no file", "from the case's folder"]),
    "profile of no such name": ("case", '"knife.toml"', '"rope-knive"', ["mean rope-knife"]),
    "profile without a name": ("case", '"knife.toml"', '""', ['profile is ""', "name or file"]),
    "a number for the profile": ("case", '"knife.toml"', "5", ["profile is 5", "name or file"]),
    "a folder for the profile": ("case", '"knife.toml"', '"."', ['is "."', "a folder"]),
    "a home for the profile": ("case", '"knife.toml"', '"~/knife.toml"', ["~ is not understood"]),
}
# fmt: on


@pytest.mark.parametrize("slip", SLIPS)
def test_one_slip_is_one_line_with_its_place(slip: str, edit: Edit, told: Told) -> None:
    file, old, new, words = SLIPS[slip]
    line = edit(f"{file}.toml", old, new)
    (said,) = told("run", "case.toml")
    assert said.startswith(f"simedge: {file}.toml:{line}:")
    for each in words:
        assert each in said
    assert len(said) < 500
    if file == "knife":  # the same by itself
        assert told("profile", "knife.toml") == [said]


def test_syntax_is_told_with_its_column_and_the_line(edit: Edit, told: Told) -> None:
    line = edit("case.toml", FORCE, "force_n = 4,0  # at the tip")
    (said,) = told("run", "case.toml")
    # tomllib stops at the comma, the twelfth character
    assert said.startswith(f"simedge: case.toml:{line}:12: this is no TOML (")
    assert ": force_n = 4,0 # at the tip; " in said.replace("  ", " ")


def test_a_list_begun_as_a_table_is_told_with_both_lines(edit: Edit, told: Told) -> None:
    first = edit("case.toml", '[[loads]]\nname = "pressing"', '[loads]\nname = "pressing"') - 1
    second = edit("case.toml", '[[loads]]\nname = "tip"', '[[loads]]\nname = "tip"') - 1
    (said,) = told("run", "case.toml")
    assert said.startswith(f"simedge: case.toml:{second}: [[loads]] is given here, but [loads] in")
    assert f"line {first}; write both as [[loads]]" in said


def test_a_newer_file_is_not_judged_by_the_rules_of_this_program(edit: Edit, told: Told) -> None:
    edit("case.toml", "schema = 1", "schema = 2\nwear = true")
    edit("case.toml", FORCE, "force_n = 0")
    (said,) = told("run", "case.toml")
    assert said.startswith("simedge: case.toml:1: schema is 2")


def test_every_slip_of_both_files_in_one_go(edit: Edit, told: Told) -> None:
    places = [
        f"knife.toml:{edit('knife.toml', 'radius_um = 1.5', 'radius_um = 0')}",
        f"knife.toml:{edit('knife.toml', 'dps = 15.0', 'dps = 95')}",
        f"case.toml:{edit('case.toml', 'hardness_hrc = 60', 'hardness_hrc = true')}",
        f"case.toml:{edit('case.toml', 'clamp_depth_mm = 12.0', 'clamp_depth_mm = 0')}",
        f"case.toml:{edit('case.toml', 'pressure_mpa = 40.0', 'presure_mpa = 40.0')}",
        f"case.toml:{edit('case.toml', FORCE, 'force_n = 0')}",
    ]
    assert [line.split(": ")[1] for line in told("run", "case.toml")] == places


def test_without_a_schema_a_file_is_of_the_first(edit: Edit, folder: Path, capsys: Out) -> None:
    edit("knife.toml", "schema = 1\n", "")
    assert main(["profile", "knife.toml"]) == 0
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("text", ["[[loads]]", "[", "a", "a = ", '"', "\ufeff[x", "= 1", "{}"])
def test_scraps_of_toml_are_told_with_their_place(text: str, folder: Path, told: Told) -> None:
    (folder / "case.toml").write_text(text, encoding="utf-8")
    for said in told("run", "case.toml"):
        assert said.startswith("simedge: case.toml:1")


# ---------------------------------------------------------------- files that are none


def test_files_that_are_none_of_ours_are_one_line(folder: Path, told: Told) -> None:
    case = (folder / "case.toml").read_bytes()
    text = case.decode()
    (folder / "folder").mkdir()
    (folder / "folder.toml").mkdir()
    (folder / "loop.toml").symlink_to("loop.toml")
    (folder / "astray.toml").symlink_to("nowhere-at-all.toml")
    with (folder / "huge.toml").open("wb") as huge:
        huge.truncate(200_000_000)  # takes no room: nothing is written
    for name, content in {
        "empty.toml": b"",
        "blank.toml": b"\xef\xbb\xbf \r\n\t\n",
        "binary.toml": bytes(range(256)) * 20,
        "packed.toml.gz": gzip.compress(case),
        "picture.toml": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
        "utf-16.toml": text.encode("utf-16"),
        "utf-16-le.toml": text.encode("utf-16-le"),
        "utf-16-be.toml": text.encode("utf-16-be"),
        "utf-32.toml": text.encode("utf-32"),
        "latin.toml": 'title = "Käse"\n'.encode("latin-1"),
        "windows.toml": "title = \u201ctrial\u201d\n".encode("cp1252"),
        "old-mac.toml": case.replace(b"\n", b"\r"),
        "settings.toml": json.dumps({"title": "trial"}).encode(),
        "page.toml": b"<!DOCTYPE html>\n<html></html>\n",
        "settings.yaml": b"schema: 1\ntitle: trial\n",
        "points.txt": b"x_mm,y_mm\n0,0\n1,0.1\n",
    }.items():
        (folder / name).write_bytes(content)
    for name, words in {
        "nowhere.toml": "no such file",
        "nowhere/case.toml": "nor is there a folder nowhere",
        "case.tml": "did you mean case.toml",
        "case.toml/deeper.toml": "no such file",
        "folder": "is a folder",
        "folder.toml": "is a folder",
        ".": "is a folder",
        "loop.toml": "cannot be read",
        "astray.toml": "no such file",
        "huge.toml": "is 200 MB, but must be at most 1 MB",
        "empty.toml": "is empty",
        "blank.toml": "is empty",
        "binary.toml": "is a binary file",
        "packed.toml.gz": "is a binary file",
        "picture.toml": "is a binary file",
        "utf-16.toml": "UTF-16",
        "utf-16-le.toml": "UTF-16",
        "utf-16-be.toml": "UTF-16",
        "utf-32.toml": "UTF-32",
        "latin.toml": "byte 0xe4 is not UTF-8; save",
        "windows.toml": "byte 0x93 is not UTF-8; save",
        "old-mac.toml": "ordinary line ends",
        "settings.toml": "TOML has no braces",
        "page.toml": "the file that was meant?",
        "settings.yaml": "write = instead of the colon",
        "points.txt": "the file that was meant?",
        "x" * 5000 + ".toml": "cannot be read (File name too long)",
    }.items():
        for command in ("run", "profile"):
            (said,) = told(command, name)
            assert said.startswith(f"simedge: {name[:100]}")
            assert words in said
            assert len(said) < 600


@pytest.mark.parametrize("command", ["run", "profile"])
def test_names_that_name_nothing(command: str, told: Told) -> None:
    for name in ("", " "):
        (said,) = told(command, name)
        assert "name: is empty; name a file" in said
    (said,) = told(command, "-")
    assert "standard input is not read" in said
    for name in ("/dev/null", "/dev/zero"):
        (said,) = told(command, name)
        assert "is a pipe or device" in said
    for name in ("help", "a\0b", "\udcff", "https://example.org/a", "*", "case.toml:3"):
        assert len(told(command, name)) == 1


def test_a_name_without_its_ending_finds_the_file_beside_it(told: Told) -> None:
    (said,) = told("run", "case")
    assert "did you mean case.toml" in said


def test_a_case_is_no_profile_and_a_profile_no_case(edit: Edit, told: Told) -> None:
    (said,) = told("run", "knife.toml")
    assert "knife.toml: is a profile, but a case is wanted" in said
    assert "simedge profile knife.toml" in said
    (said,) = told("profile", "case.toml")
    assert "case.toml: is a case, but a profile is wanted" in said
    assert "simedge run case.toml" in said
    edit("case.toml", '"knife.toml"', '"case.toml"')
    (said,) = told("run", "case.toml")
    assert "case.toml: is a case, but a profile is wanted" in said


def test_a_pipe_is_not_waited_for(folder: Path, deadline: None) -> None:
    os.mkfifo(folder / "pipe.toml")
    assert main(["run", "pipe.toml"]) == 2


def test_a_file_that_may_not_be_read(
    folder: Path, capsys: Out, monkeypatch: pytest.MonkeyPatch
) -> None:
    # root may read everything, so that rights alone would not show it
    def denied(self: Path, *_: object, **__: object) -> NoReturn:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", denied)
    assert main(["run", "case.toml"]) == 2
    (said,) = capsys.readouterr().err.splitlines()
    assert said.startswith("simedge: case.toml: cannot be read (Permission denied)")


@pytest.mark.parametrize(
    ("name", "change"),
    [
        ("case.toml", lambda raw: raw.replace(b"\n", b"\r\n")),
        ("case.toml", lambda raw: codecs.BOM_UTF8 + raw),
        ("case.toml", lambda raw: raw.replace(b" = ", b"\t=\t").replace(b"[", b"\t[", 1)),
        ("case.toml", lambda raw: raw.replace(b"4.0", b"+4_000e-3  # N")),
        ("case.toml", lambda raw: raw.replace(b'"trial"', "'trial für Käse ✂'".encode())),
        ("a case/my first case.toml", lambda raw: raw.replace(b"knife.toml", b"../knife.toml")),
        ("messer für käse ✂.toml", bytes),
        (os.fsdecode(b"caf\xe9.toml"), bytes),
        ("[case] 100%.toml", bytes),
        ("case", bytes),
        ("CASE.TOML", bytes),
        ("case.toml.txt", bytes),
        ("a" * 250 + ".toml", bytes),
        ("two\nlines.toml", bytes),
    ],
)
def test_what_looks_odd_and_is_right_is_answered(
    name: str, change: Callable[[bytes], bytes], folder: Path, capsys: Out,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setattr("simedge.output.answer_folder.write_answer", lambda run, target: ())
    raw = (folder / "case.toml").read_bytes()
    (folder / name).parent.mkdir(exist_ok=True)
    (folder / name).write_bytes(change(raw))
    assert main(["run", name, "--json"]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    loads = json.loads(said.out)["loads"]
    # 4 N over 12 mm of edge, 30 deg from straight in
    assert loads[1]["parts"][0]["lateral_n_per_mm"] == pytest.approx(4 / 12 / 2, rel=1e-9)
