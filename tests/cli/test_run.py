"""``simedge run``: the sentence first, the files of the contract, and nothing lost."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path

import pytest

from simedge.inputs.files import library_files

KNOT = "rope-knife-in-a-knot"
TOP_KEYS = {"schema_version", "library_versions", "inputs", "warnings", "loads"}
LOAD_KEYS = {
    "name",
    "sentence",
    "section_peak_von_mises_mpa",
    "section_peak_x_mm",
    "section_peak_y_mm",
    "patch_peak_von_mises_mpa",
    "largest_principal_mpa",
    "apex_lateral_mm",
    "apex_axial_mm",
    "first_yield_load_factor",
    "first_yield_x_mm",
    "first_yield_y_mm",
    "patch_first_yield_load_factor",
    "parts",
    "limited_by",
    "contact_ratio",
    "yield_depth_mm",
    "through_yield_depth_mm",
    "yielded_stretches_mm",
    "closed_form",
}
FILES = {"result.json", "stations.csv", "stress.vtu", "stress.png", "stress.svg"}


def test_a_case_of_the_library_ends_in_sentences_tables_and_files(simedge, tmp_path):
    done = simedge("run", KNOT)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    assert done.stdout.startswith("steering the cut: ")
    folder = tmp_path / "simedge-out" / KNOT
    assert {path.name for path in folder.iterdir()} == FILES
    assert re.search(r"picture: .*stress\.png", done.stdout)
    assert "No result is a safety certificate" in " ".join(done.stdout.split())


def test_the_json_has_the_contracts_names_and_no_nan(simedge, tmp_path):
    done = simedge("run", KNOT, "--json", "--out", "answer")
    assert done.returncode == 0, done.stderr
    document = json.loads(done.stdout, parse_constant=pytest.fail)
    assert done.stdout == (tmp_path / "answer" / "result.json").read_text(encoding="utf-8")
    assert document.keys() >= TOP_KEYS
    assert len(document["loads"]) == 4
    for load in document["loads"]:
        assert load.keys() >= LOAD_KEYS
        for closed in load["closed_form"]:
            assert {"quantity", "value", "ratio", "valid_for", "source"} <= closed.keys()
    crooked = document["loads"][0]
    assert crooked["limited_by"] == "hand"
    # 100 N over 15 mm of edge at 60 MPa press 0.111 mm of the face, from where it begins
    pressed = next(part for part in crooked["parts"] if part["at"] == "left face")
    assert pressed["to_mm"] - pressed["from_mm"] == pytest.approx(100 / (15 * 60), rel=1e-9)
    assert crooked["apex_lateral_mm"] < 0


def test_stations_hold_a_row_for_each_load_and_depth(simedge, tmp_path):
    simedge("run", KNOT, "--out", "answer")
    with (tmp_path / "answer" / "stations.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert list(rows[0]) == [
        "load",
        "x_mm",
        "thickness_mm",
        "left_face_mpa",
        "right_face_mpa",
        "axis_mpa",
        "moment_n",
        "shear_n_per_mm",
        "axial_n_per_mm",
    ]
    names = {row["load"] for row in rows}
    assert names == {"steering the cut", "wedged", "tip on a staple", "leaning on it"}
    staple = [row for row in rows if row["load"] == "tip on a staple"]
    assert {float(row["axial_n_per_mm"]) for row in staple} == {3.0}
    last = staple[-1]
    # statics: 1 N/mm at the tip, 12 mm in front of the clamp, turns against x to y
    assert float(last["moment_n"]) == pytest.approx(-12.0, rel=1e-3)


def test_the_same_case_gives_the_same_bytes_in_two_processes(simedge, tmp_path):
    for folder in ("first", "second"):
        assert simedge("run", KNOT, "--out", folder).returncode == 0
    for name in sorted(FILES):
        first, second = (tmp_path / folder / name for folder in ("first", "second"))
        assert first.read_bytes() == second.read_bytes(), name


def test_without_a_case_file_both_cuts_are_run_and_defaults_are_told(simedge):
    done = simedge(
        "run", "--dps", 7, "--micro", 11, "--micro-height", 0.1, "--steel", "52100", "--hrc", 60,
        "--medium", "hard wood", "--depth", 0.5,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("straight: ")
    assert "crooked, left face: " in done.stdout
    told = " ".join(done.stdout.split())
    assert "0.4 mm behind the edge, 30 mm high, 3 mm spine, 1 µm apex radius" in told


def test_an_earlier_answer_is_replaced_and_strangers_files_are_not(simedge, tmp_path):
    assert simedge("run", KNOT, "--out", "answer").returncode == 0
    note = tmp_path / "answer" / "my-notes.txt"
    note.write_text("held on Friday", encoding="utf-8")
    assert simedge("run", KNOT, "--out", "answer").returncode == 0
    assert note.read_text(encoding="utf-8") == "held on Friday"

    foreign = tmp_path / "foreign"
    foreign.mkdir()
    (foreign / "result.json").write_text('{"experiment": 7}', encoding="utf-8")
    refused = simedge("run", KNOT, "--out", "foreign")
    assert refused.returncode == 2
    assert "no earlier answer of simedge" in refused.stderr
    assert (foreign / "result.json").read_text(encoding="utf-8") == '{"experiment": 7}'
    assert [path.name for path in foreign.iterdir()] == ["result.json"]


def test_a_folder_that_cannot_be_made_is_refused_before_solving(simedge, tmp_path):
    refused = simedge("run", KNOT, "--out", "nowhere/deeper")
    assert refused.returncode == 2
    assert "does not exist" in refused.stderr
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert simedge("run", KNOT, "--out", "file").returncode == 2


def test_lengths_in_inches_are_read_and_echoed(simedge, tmp_path):
    profile = Path(library_files("profiles")["rope-knife"]).read_text(encoding="utf-8")
    case = Path(library_files("cases")[KNOT]).read_text(encoding="utf-8")
    (tmp_path / "p.toml").write_text(
        profile.replace("height_mm = 28.0", "height_in = 1.1"), encoding="utf-8"
    )
    (tmp_path / "c.toml").write_text(
        case.replace("../../profiles/rope-knife.toml", "p.toml"), encoding="utf-8"
    )
    done = simedge("run", "c.toml")
    assert done.returncode == 0, done.stderr
    assert "height_in = 1.1 read as 27.94 mm" in done.stdout


@pytest.mark.parametrize("name", sorted(library_files("cases")))
def test_every_case_of_the_rack_runs(simedge, name):
    done = simedge("run", name, "--json")
    assert done.returncode == 0, done.stderr
    for load in json.loads(done.stdout)["loads"]:
        assert load["reaction_error"] < 1e-9
        assert load["sentence"].endswith(".")
