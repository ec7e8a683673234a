"""Traced outlines through the command line: every entry of the list of bad measured profiles.

What cannot be used ends with code 2, one line, and nothing written; what can be put right is, and
that is said with "mind:".
"""

from __future__ import annotations

import json
import math
import random
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from simedge.cli.main import main
from simedge.inputs.files import read_profile
from simedge.section.outline import build_outline

Told = Callable[..., list[str]]
Points = list[tuple[float, float]]

#: A land of 4 µm, shoulders at 0.45 mm thickness, 3.2 mm at the spine; closed.
KNIFE: Points = [
    (28.0, 1.6),
    (1.1, 0.225),
    (0.0, 0.002),
    (0.0, -0.002),
    (1.1, -0.225),
    (28.0, -1.6),
    (28.0, 1.6),
]
HEAD = "x_mm,y_mm\n"


def outline(points: Points, head: str = HEAD) -> str:
    return head + "".join(f"{x!r},{y!r}\n" for x, y in points)


@pytest.fixture
def traced(folder: Path) -> Path:
    """Put the trial knife's outline beside its case, which names it."""
    (folder / "knife.csv").write_text(outline(KNIFE), encoding="utf-8")
    case = (folder / "case.toml").read_text(encoding="utf-8")
    (folder / "case.toml").write_text(case.replace("knife.toml", "knife.csv"), encoding="utf-8")
    return folder


@pytest.fixture
def minded(traced: Path, capsys: pytest.CaptureFixture[str]) -> Callable[[str | bytes], list[str]]:
    """Measure an outline that must be accepted; give what is to be minded, each in one line."""

    def measure(text: str | bytes) -> list[str]:
        raw = text if isinstance(text, bytes) else text.encode("utf-8")
        (traced / "knife.csv").write_bytes(raw)
        code = main(["profile", "knife.csv"])
        said = capsys.readouterr()
        assert (code, said.err) == (0, "")
        joined = " ".join(said.out.split())
        return [part.strip() for part in joined.split("mind: ")[1:]]

    return measure


def answers(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert main([*arguments, "--json"]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    document: dict[str, Any] = json.loads(said.out, parse_constant=pytest.fail)
    return document


# ---------------------------------------------------------------- wherever a profile serves


def test_a_case_names_an_outline(traced, capsys):
    document = answers(capsys, "run", "case.toml")
    assert document["section"]["height_mm"] == 28.0
    assert document["inputs"]["profile"]["name"] == "knife"
    assert document["inputs"]["profile"]["points_mm"][1] == [1.1, 0.225]
    assert len(document["loads"]) == 2


def test_a_case_has_a_table_with_an_outline_and_an_apex(traced, capsys):
    case = (traced / "case.toml").read_text(encoding="utf-8").replace('profile = "knife.csv"\n', "")
    (traced / "work").mkdir()
    (traced / "work" / "case.toml").write_text(
        f'{case}[profile]\nname = "mine"\nsource = "a photograph"\noutline = "../knife.csv"\n'
        "[profile.apex]\nradius_um = 1.0\n",
        encoding="utf-8",
    )
    document = answers(capsys, "run", "work/case.toml")
    profile = document["inputs"]["profile"]
    assert (profile["name"], profile["source"]) == ("mine", "a photograph")
    assert profile["given_apex"] == {"radius_um": 1.0, "sharp": False}
    assert any("in front of the trace's own tip" in said for said in document["warnings"])


def test_a_profile_file_with_an_outline_is_measured(traced, capsys):
    (traced / "mine.toml").write_text(
        'schema = 1\nname = "mine"\noutline = "knife.csv"\n[apex]\nradius_um = 1.0\n'
    )
    assert main(["profile", "mine.toml"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.startswith("The mine has an edge of 22.9 degrees included")
    assert "traced: knife.csv" in said


def test_options_name_an_outline_and_put_an_apex_on_it(traced, capsys):
    knot = ["--steel", "52100", "--hrc", "60", "--medium", "hard wood", "--accuracy", "10"]
    document = answers(capsys, "run", "--profile", "knife.csv", *knot, "--radius-um", "2")
    assert document["inputs"]["title"] == "knife in hard wood"
    assert document["inputs"]["profile"]["given_apex"]["radius_um"] == 2.0
    assert [load["name"] for load in document["loads"]] == ["straight", "crooked, left face"]


def test_options_name_a_built_profile_too(folder, capsys):
    knot = ["--steel", "52100", "--hrc", "60", "--medium", "hard wood", "--accuracy", "10"]
    document = answers(capsys, "run", "--profile", "rope-knife", *knot, "--radius-um", "2")
    assert document["inputs"]["profile"]["apex"]["radius_um"] == 2.0
    assert len(document["inputs"]["profile"]["bevels"]) == 2


def test_the_library_has_a_traced_knife(folder, capsys):
    assert main(["profile", "worn-kitchen-knife"]) == 0
    said = capsys.readouterr().out
    assert "invented for the demo" in said


def test_new_takes_a_traced_knife(simedge, tmp_path):
    (tmp_path / "mine.csv").write_text(outline(KNIFE), encoding="utf-8")
    done = simedge("new", typed="mine.csv\n\n\n\n")
    assert done.returncode == 0, done.stderr
    assert "2. Its edge is the one that was traced." in done.stdout
    assert 'profile = "mine.csv"' in (tmp_path / "mine-in-hard-wood.toml").read_text("utf-8")


# ---------------------------------------------------------------- put right, and said


def test_clockwise_gives_the_same_answer_to_the_last_bit(traced, capsys):
    one = answers(capsys, "run", "case.toml")
    (traced / "knife.csv").write_text(outline(KNIFE[::-1]), encoding="utf-8")
    other = answers(capsys, "run", "case.toml")
    assert one["loads"] == other["loads"]
    assert one["section"] == other["section"]


@pytest.mark.parametrize(
    ("turned", "said"),
    [
        (lambda x, y: (28 - x, y), "the edge is at the far end of x: mirrored"),
        (lambda x, y: (y, 28 - x), "drawn upright with its edge at the top"),
        (lambda x, y: (-y, x), "drawn upright with its edge at the bottom"),
        (lambda x, y: (y, x), "or with its two columns swapped"),
    ],
    ids=["mirrored", "edge up", "edge down", "columns swapped"],
)
def test_other_drawings_are_turned(minded, turned, said):
    (remark,) = minded(outline([turned(x, y) for x, y in KNIFE]))
    assert said in remark


def test_an_open_outline_is_closed_at_the_spine(minded):
    (remark,) = minded(outline(KNIFE[:-1]))
    assert remark == "the outline was open: closed at the spine by a straight line of 3.2 mm"


def test_scatter_is_smoothed_and_its_difference_told(minded):
    made = random.Random(5)
    face = [(0.011 * k, 0.002 + 0.00223 * k) for k in range(100)]
    face += [(1.1 + 0.269 * k, 0.225 + 0.01375 * k) for k in range(101)]
    rough = [
        [(x, sign * (y + (made.gauss(0, 0.001) if x else 0.0))) for x, y in face]
        for sign in (1, -1)
    ]
    remarks = minded(outline([*rough[0][::-1], *rough[1]]))
    told = next(remark for remark in remarks if "scatter" in remark)
    assert "laid through them by least squares" in told
    assert "µm off" in told
    assert "thickness, smoothed for as traced: " in told
    assert "mm at 0.1 mm" in told


def test_inches_are_converted_and_said(minded):
    in_inches = [(x / 25.4, y / 25.4) for x, y in KNIFE]
    (remark,) = minded(outline(in_inches, "x_in,y_in\n"))
    assert "read as inches" in remark
    assert "read as 28 mm" in remark


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace(",", ";"),
        lambda text: text.replace(",", "\t"),
        lambda text: "\ufeff" + text.replace("\n", "\r\n"),
        lambda text: "# by hand\n\n" + text + "# the end\n",
        lambda text: text.replace("1.1,0.225\n", "1.1,0.225\n1.1,0.225\n"),
    ],
    ids=["semicolons", "tabs", "mark and CRLF", "comments", "doubled point"],
)
def test_spellings_that_tell_nothing(minded, change):
    assert minded(change(outline(KNIFE))) == []


# ---------------------------------------------------------------- refused

CROSSED: Points = [(28.0, 1.6), (1.0, -0.2), (0.0, 0.0), (1.0, 0.2), (28.0, -1.6), (28.0, 1.6)]
SPIKED: Points = [*KNIFE[:2], (1.1, 5.0), *KNIFE[1:]]
OVERHANGING: Points = [KNIFE[0], (5.0, 0.9), (6.0, 0.5), *KNIFE[1:]]
GAPING: Points = [
    *[(0.2 * k, -0.0114 * k) for k in range(141)],
    *[(28.0 - 0.1 * k, 1.6 * (1 - k / 280)) for k in range(240)],
]
DAGGER: Points = [(0.0, 0.0), (15.0, 2.0), (30.0, 0.0), (15.0, -2.0), (0.0, 0.0)]
FACETS: Points = [
    *[(10.0, 1.5), (0.1, 0.3), (0.02, 0.2), (0.0, 0.05)],
    *[(0.0, -0.05), (0.02, -0.2), (0.1, -0.3), (10.0, -1.5), (10.0, 1.5)],
]
# Each row: the file, the line that is named (None: the file as a whole), and what is said.
REFUSED: dict[str, tuple[str | bytes, int | None, list[str]]] = {
    "crossing": (
        outline(CROSSED),
        2,
        ["up to line 3, that the one from line 5 to line 6 crosses at (4, 0) mm"],
    ),
    "spike": (outline(SPIKED), 4, ["(1.1, 5) mm is the end of a spike"]),
    "overhang": (outline(OVERHANGING), 3, ["than line 4", "overhangs here"]),
    "gap": (outline(GAPING), 382, ["4.107 mm away from the first in line 2", "missing"]),
    "alike ends": (outline(DAGGER), None, ["nothing tells the edge from the spine"]),
    "facets": (outline(FACETS), 5, ["[profile.apex]"]),
    "nan": (outline(KNIFE).replace("1.1,0.225", "nan,0.225"), 3, ["x_mm is nan"]),
    "inf": (outline(KNIFE).replace("1.1,0.225", "1.1,inf"), 3, ["y_mm is inf"]),
    "blank": (outline(KNIFE).replace("1.1,0.225", "1.1,"), 3, ["y_mm is blank"]),
    "text": (outline(KNIFE).replace("1.1,0.225", "1.1,tip"), 3, ['y_mm is "tip"']),
    "columns": (outline(KNIFE).replace("1.1,0.225", "1.1,0.225,0"), 3, ["two numbers"]),
    "decimal commas": (HEAD + "0,5;1,2\n", 2, ["a semicolon here", "decimals have a point"]),
    "two points": (outline(KNIFE[:2]), None, ["are 2 different ones"]),
    "on a line": (outline([(0.0, 0.0), (1.0, 1.0), (9.0, 9.0)]), None, ["lie on one line"]),
    "mixed units": (outline(KNIFE, "x_mm,y_inch\n"), 1, ["in two units"]),
    "no header": (outline(KNIFE, ""), 1, ["must name the columns"]),
    "in µm": (outline([(1000 * x, 1000 * y) for x, y in KNIFE]), None, ["x_um,y_um"]),
    "too many": (HEAD + "1,2\n" * 6000, None, ["6000 points, but at most 5000"]),
    "empty": ("", None, ["is empty", "x_mm,y_mm"]),
    "header alone": (HEAD, None, ["are 0 different ones"]),
    "binary": (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", None, ["binary file", "CSV text"]),
    "UTF-16": (outline(KNIFE).encode("utf-16"), None, ["UTF-16"]),
    "Latin-1": (b"# S\xe4ge\n" + outline(KNIFE).encode(), 1, ["not UTF-8"]),
}


@pytest.mark.parametrize("slip", REFUSED)
def test_what_cannot_be_used_is_one_line(slip, traced, told):
    text, line, words = REFUSED[slip]
    raw = text if isinstance(text, bytes) else text.encode("utf-8")
    (traced / "knife.csv").write_bytes(raw)
    place = "knife.csv: " if line is None else f"knife.csv:{line}: "
    for command in (["profile", "knife.csv"], ["run", "case.toml"]):
        (said,) = told(*command)
        assert said.startswith(f"simedge: {place}")
        for word in words:
            assert word in said


def test_200_mb_are_refused_unread(traced, told):
    with (traced / "knife.csv").open("wb") as file:
        file.truncate(200_000_000)
    (said,) = told("profile", "knife.csv")
    assert "is 200 MB, but must be at most 1 MB" in said


def test_an_outline_that_is_not_there(traced, told):
    (said,) = told("profile", "knif.csv")
    assert "there is no such file; did you mean knife.csv" in said
    table = 'outline = "knif.csv"\n'
    (traced / "mine.toml").write_text(table, encoding="utf-8")
    (said,) = told("profile", "mine.toml")
    assert said.startswith('simedge: mine.toml:1: outline is "knif.csv", but there is no file')


def test_an_outline_must_be_points(traced, told):
    (traced / "mine.toml").write_text('schema = 1\noutline = "knife.toml"\n', encoding="utf-8")
    (said,) = told("profile", "mine.toml")
    assert said.startswith('simedge: mine.toml:2: outline is "knife.toml", but must name a file')


def test_slips_of_the_table_are_told_at_their_lines(traced, told):
    text = 'outline = "knife.csv"\n[apex]\nradius_um = 600.0\n'
    (traced / "mine.toml").write_text(text, encoding="utf-8")
    (said,) = told("profile", "mine.toml")
    assert said.startswith("simedge: mine.toml:3: apex.radius_um is 600 µm, but the first stretch")
    assert "it fits" in said
    (traced / "mine.toml").write_text(f"{text}[[bevels]]\ndps = 11.0\n", encoding="utf-8")
    (said,) = told("profile", "mine.toml")
    assert said.startswith("simedge: mine.toml:4: bevels is not a key")


def test_an_apex_of_the_options_that_does_not_fit(traced, told):
    knot = ["--steel", "52100", "--hrc", "60", "--medium", "hard wood"]
    (said,) = told("run", "--profile", "knife.csv", *knot, "--radius-um", "600")
    assert said.startswith("simedge: --radius-um is 600 µm, but the first stretch of the trace")


def test_an_outline_is_no_case(traced, told):
    (said,) = told("run", "knife.csv")
    assert said.endswith("run it with: simedge run --profile knife.csv")


def test_options_that_say_the_edge_twice(traced, capsys):
    knot = ["--steel", "52100", "--hrc", "60", "--medium", "hard wood"]
    assert main(["run", "--profile", "knife.csv", "--dps", "11", "--height", "20", *knot]) == 2
    assert "--dps, --height cannot be given beside --profile" in capsys.readouterr().err


# ---------------------------------------------------------------- the mesher


@pytest.mark.parametrize(
    ("program", "said"),
    [
        ("import time; time.sleep(60)", "the mesher was still at it after 1 s and was stopped"),
        ("import os, signal; os.kill(os.getpid(), signal.SIGSEGV)", "killed by SIGSEGV"),
    ],
    ids=["hangs", "crashes"],
)
def test_a_mesher_in_trouble_ends_with_code_3(traced, capsys, monkeypatch, program, said):
    from simedge.section import meshing
    from simedge.section.mesh_worker import mesh_in_worker

    def troubled(*task: Any) -> Any:
        return mesh_in_worker(*task, deadline_s=1.0, command=[sys.executable, "-c", program])

    monkeypatch.setattr(meshing, "mesh_in_worker", troubled)
    assert main(["run", "case.toml"]) == 3
    told = capsys.readouterr()
    assert said in told.err
    assert told.out == ""
    assert not list((traced / "simedge-out").rglob("*.json"))


# ---------------------------------------------------------------- whatever a file holds

CELL = st.one_of(
    st.floats(-50, 50).map(repr),
    st.integers(-3, 3).map(str),
    st.sampled_from(["", "nan", "1e400", "0,5", "a", "-0.0", "1e-12"]),
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    rows=st.lists(st.lists(CELL, min_size=2, max_size=2), max_size=12), noise=st.binary(max_size=4)
)
def test_any_outline_is_measured_or_refused_in_words(rows, noise, folder, capsys):
    text = HEAD + "".join(",".join(row) + "\n" for row in rows)
    (folder / "any.csv").write_bytes(text.encode() + noise)
    code = main(["profile", "any.csv"])
    said = capsys.readouterr()
    assert code in (0, 2)
    assert bool(said.err) == (code == 2)
    assert "Traceback" not in said.err


def test_the_demo_keeps_what_it_says_of_itself():
    read = read_profile("worn-kitchen-knife")
    whole = build_outline(read.apex, read.faces)
    assert read.apex.land_um == 18.0
    assert math.isclose(float(whole.thickness_mm(1.0)), 0.406, abs_tol=0.002)


def test_one_face_alone_is_no_section(traced, capsys):
    (traced / "half.csv").write_text("x_mm,y_mm\n0,0\n1,0.2\n12,0.8\n", encoding="utf-8")
    assert main(["profile", "half.csv"]) == 2
    said = capsys.readouterr().err
    assert "half.csv:4" in said
    assert "only one face seems to be traced" in said
