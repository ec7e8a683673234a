"""Loads as a person writes them: which kind is meant, what is filled in, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter

from simedge import read_case
from simedge.inputs.load import (
    CombinedLoad,
    FaceLoad,
    LayeredLoad,
    Load,
    MediumLoad,
    ObjectLoad,
    TipForce,
    TipLineLoad,
    TipMovement,
    parts_of,
)
from simedge.inputs.work_loads import Layer

Refused = Callable[[str], list[str]]

#: One line before the loads for each thing that a case needs; its first load is on line 6.
HEAD = """\
profile = { apex = { sharp = true }, primary_grind = { dps = 5 }, height_mm = 20.0 }
[steel]
grade = "52100"
hardness_hrc = 60
[[loads]]
"""


def load(**keys: Any) -> Any:
    return TypeAdapter(Load).validate_python(keys)


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        (
            {"medium": "hard wood", "depth_in_cut_mm": 0.5, "side": "left"},
            MediumLoad(
                medium="hard wood", depth_in_cut_mm=0.5, side="left", level="typical", friction=0.3
            ),
        ),
        (
            {
                "medium_strength_mpa": 60.0,
                "depth_in_cut_mm": 1,
                "side": "both",
                "contact_length_mm": 9.0,
            },
            MediumLoad(
                medium_strength_mpa=60.0, depth_in_cut_mm=1.0, side="both", contact_length_mm=9.0
            ),
        ),
        (
            {"at": "left face", "from_mm": 0, "to_mm": 1.5, "pressure_mpa": 40.0},
            FaceLoad(at="left face", from_mm=0.0, to_mm=1.5, pressure_mpa=40.0, friction=0.0),
        ),
        ({"axial_n_per_mm": 3.0}, TipLineLoad(axial_n_per_mm=3.0, lateral_n_per_mm=0.0)),
        (
            {"lateral_n_per_mm": -1.0, "spread": "uniform"},
            TipLineLoad(axial_n_per_mm=0.0, lateral_n_per_mm=-1.0, spread="uniform"),
        ),
        (
            {"layers": [{"medium": "meat", "from_mm": 0, "to_mm": 1}], "side": "both"},
            LayeredLoad(layers=(Layer(medium="meat", from_mm=0.0, to_mm=1.0),), side="both"),
        ),
        (
            {"object": "wire", "entry_mm": 0.1},
            ObjectLoad(object="wire", entry_mm=0.1, pressure_over_strength=2.0, slant_deg=0.0),
        ),
        ({"apex_axial_mm": 0.1}, TipMovement(apex_axial_mm=0.1, apex_lateral_mm=None)),
        (
            {"force_n": 40.0, "contact_length_mm": 12.0},
            TipForce(force_n=40.0, contact_length_mm=12.0, direction_deg=0.0, spread="smooth"),
        ),
    ],
)
def test_keys_tell_the_kind_and_defaults_are_filled_in(keys: dict[str, Any], expected: Any) -> None:
    assert load(**keys) == expected
    assert parts_of(expected) == (expected,)


def test_parts_act_at_once() -> None:
    both = load(
        name="both", parts=[{"axial_n_per_mm": 3.0}, {"force_n": 4, "contact_length_mm": 2}]
    )
    assert both == CombinedLoad(
        name="both",
        parts=(TipLineLoad(axial_n_per_mm=3.0), TipForce(force_n=4.0, contact_length_mm=2.0)),
    )
    assert parts_of(both) == both.parts


def test_medium_of_the_library_and_of_ones_own() -> None:
    known = load(medium="Hardwood", depth_in_cut_mm=0.5, side="left").library_medium
    assert known is not None
    assert known.name == "hard wood"
    own = load(medium_strength_mpa=5, depth_in_cut_mm=1, side="left", contact_length_mm=2)
    assert own.library_medium is None


MEDIUM = 'medium = "hard wood"\ndepth_in_cut_mm = 0.5\nside = "left"\n'
FACE = 'at = "left face"\nfrom_mm = 0.1\nto_mm = 0.5\npressure_mpa = 40.0\n'
FORCE = "force_n = 40.0\ncontact_length_mm = 12.0\n"
TIP = "axial_n_per_mm = 3.0\n"

# Each row: the load as written from line 6 on, the line to be named, what must be said.
REFUSED: dict[str, tuple[str, int, list[str]]] = {
    "force 0": (FORCE.replace("40.0", "0"), 6, ["force_n is 0 N", ", 100000]"]),
    "negative force": (FORCE.replace("40.0", "-5"), 6, ["force_n is -5 N"]),
    "force as text": (FORCE.replace("40.0", '"40N"'), 6, ['force_n is "40N"', "plain number (N)"]),
    "force as truth": (FORCE.replace("40.0", "true"), 6, ["force_n is true", "plain number (N)"]),
    "contact length 0": (FORCE.replace("12.0", "0"), 7, ["contact_length_mm is 0 mm"]),
    "no contact length": ("force_n = 40.0\n", 5, ["contact_length_mm is missing"]),
    "direction beyond half a turn": (
        FORCE + "direction_deg = 181\n",
        8,
        ["direction_deg is 181 deg", "[-180, 180]"],
    ),
    "direction not a number": (
        FORCE + "direction_deg = nan\n",
        8,
        ["direction_deg is nan deg", "finite"],
    ),
    "tip load of nothing": (
        "axial_n_per_mm = 0\nlateral_n_per_mm = 0.0\n",
        6,
        ["axial_n_per_mm is 0 N/mm", "nothing can be said about strength"],
    ),
    "endless tip load": ("axial_n_per_mm = inf\n", 6, ["axial_n_per_mm is inf N/mm", "finite"]),
    "spread of another name": (
        TIP + 'spread = "smoth"\n',
        7,
        ['spread is "smoth"', 'did you mean "smooth"?'],
    ),
    "stretch backwards": (
        FACE.replace("0.5", "0.05"),
        8,
        ["to_mm is 0.05 mm", "larger than from_mm = 0.1 mm"],
    ),
    "stretch of no length": (FACE.replace("0.5", "0.1"), 8, ["to_mm is 0.1 mm", "larger than"]),
    "stretch in front of the edge": (FACE.replace("0.1", "-1"), 7, ["from_mm is -1 mm"]),
    "pressure 0": (FACE.replace("40.0", "0"), 9, ["pressure_mpa is 0 MPa", ", 20000]"]),
    "pulling on a face": (FACE.replace("40.0", "-4"), 9, ["pressure_mpa is -4 MPa"]),
    "negative friction": (FACE + "friction = -0.1\n", 10, ["friction is -0.1", "[0, 2]"]),
    "a face of another name": (
        FACE.replace("left face", "left"),
        6,
        ['at is "left"', '"left face", "right face"'],
    ),
    "no such medium": (
        MEDIUM.replace("hard wood", "hard wod"),
        6,
        ['medium is "hard wod"', 'did you mean "hard wood"'],
    ),
    "medium and a strength": (
        MEDIUM + "medium_strength_mpa = 5.0\n",
        6,
        ["medium or medium_strength_mpa must be given, and only one"],
    ),
    "no side": (MEDIUM.replace('side = "left"\n', ""), 5, ["side is missing"]),
    "no depth": (MEDIUM.replace("depth_in_cut_mm = 0.5\n", ""), 5, ["depth_in_cut_mm is missing"]),
    "level of another name": (MEDIUM + 'level = "mean"\n', 9, ['level is "mean"', '"typical"']),
    "hand that gives nothing": (MEDIUM + "hand_force_n = 0\n", 9, ["hand_force_n is 0 N"]),
    "own medium without its contact": (
        'medium_strength_mpa = 5\ndepth_in_cut_mm = 0.5\nside = "left"\n',
        5,
        ["contact_length_mm is missing", "medium of your own"],
    ),
    "no parts": ("parts = []\n", 6, ["parts is empty", "something must act"]),
    "a part that is no table": ("parts = [5]\n", 6, ["parts[0] is 5", "a table"]),
    "key of another kind": (TIP + "pressure_mpa = 4.0\n", 6, ["axial_n_per_mm is not a key"]),
    "misspelt key": (FACE + "frction = 0.1\n", 10, ["frction", 'did you mean "friction"?']),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_refused_is_told_with_its_line(name: str, refused_case: Refused) -> None:
    text, line, said = REFUSED[name]
    told = refused_case(HEAD + text)
    (message,) = [each for each in told if each.startswith(f"{line}: loads[0]")]
    for words in said:
        assert words in message


def test_all_that_is_wrong_with_a_load_and_its_parts_at_once(refused_case: Refused) -> None:
    text = (
        MEDIUM.replace("hard wood", "hard wod").replace("0.5", "-0.5").replace("left", "top")
        + "friction = 3\n[[loads]]\n[[loads.parts]]\nforce_n = 0\ncontact_length_mm = -1\n"
        + "[[loads.parts]]\n"
        + FACE.replace("40.0", "0")
    )
    told = refused_case(HEAD + text)
    assert [message.split(" ")[:2] for message in told] == [
        ["6:", "loads[0].medium"],
        ["7:", "loads[0].depth_in_cut_mm"],
        ["8:", "loads[0].side"],
        ["9:", "loads[0].friction"],
        ["12:", "loads[1].parts[0].force_n"],
        ["13:", "loads[1].parts[0].contact_length_mm"],
        ["18:", "loads[1].parts[1].pressure_mpa"],
    ]


@pytest.mark.parametrize("written", ["loads = 5", 'loads = "press"', "loads = [5]", "loads = {}"])
def test_loads_that_are_no_list_of_tables(written: str, refused_case: Refused) -> None:
    lines = HEAD.splitlines()
    told = refused_case("\n".join([written, *lines[:-1]]) + "\n")
    assert told[0].startswith("1: loads")
    assert len(told) == 1


# ---------------------------------------------------------------- which kind is meant

#: Keys that each kind needs, by the key that is enough to tell it.
TELLING: dict[str, tuple[str, list[str]]] = {
    "medium": ('"leather"', ["depth_in_cut_mm", "side"]),
    "medium_strength_mpa": ("5.0", ["depth_in_cut_mm", "side"]),
    "depth_in_cut_mm": ("0.5", ["side"]),
    "at": ('"left face"', ["from_mm", "to_mm", "pressure_mpa"]),
    "pressure_mpa": ("4.0", ["at", "from_mm", "to_mm"]),
    "from_mm": ("0.1", ["at", "to_mm", "pressure_mpa"]),
    "to_mm": ("0.1", ["at", "from_mm", "pressure_mpa"]),
    "force_n": ("4.0", ["contact_length_mm"]),
    "direction_deg": ("30.0", ["force_n", "contact_length_mm"]),
    "object": ('"wire"', ["entry_mm"]),
    "layers": ('[{ medium = "meat", from_mm = 0, to_mm = 1 }]', ["side"]),
}


@pytest.mark.parametrize("nested", [False, True])
@pytest.mark.parametrize("key", TELLING)
def test_one_key_tells_the_kind_and_what_is_missing(
    key: str, nested: bool, refused_case: Refused
) -> None:
    value, missing = TELLING[key]
    part = "[[loads.parts]]\n" if nested else ""
    told = refused_case(f"{HEAD}{part}{key} = {value}\n")
    where = "6: loads[0].parts[0]" if nested else "5: loads[0]"
    said = {message.partition(" is missing")[0] for message in told if " is missing" in message}
    assert said == {f"{where}.{each}" for each in missing}


@pytest.mark.parametrize("key", ["depth_in_cut", "from", "to"])
def test_inches_tell_the_kind_too(key: str, refused_case: Refused) -> None:
    in_inches = refused_case(f"{HEAD}{key}_in = 0.02\n")
    assert in_inches == refused_case(f"{HEAD}{key}_mm = 0.508\n")
    assert all(" is missing" in message for message in in_inches)


@pytest.mark.parametrize("side_key", ["name", "friction", "spread", "level", "contact_length_mm"])
def test_what_several_kinds_share_is_no_load_by_itself(
    side_key: str, refused_case: Refused
) -> None:
    value = "4.0" if side_key in ("friction", "contact_length_mm") else '"typical"'
    told = refused_case(f"{HEAD}{side_key} = {value}\n")
    assert told
    assert all(message.startswith(("5: loads[0]", "6: loads[0]")) for message in told)


# A key that is nearly a telling one must not be answered with the keys of another kind.
MISSPELT = {
    "axal_n_per_mm = 2.0\n": "axial_n_per_mm",
    "lateral_n_mm = 2.0\n": "lateral_n_per_mm",
    "force_N = 2.0\ncontact_length_mm = 3.0\n": "force_n",
    "force = 2.0\ncontact_length_mm = 3.0\n": "force_n",
    "presure_mpa = 2.0\n": "pressure_mpa",
    "apex_lateral = 0.1\n": "apex_lateral_mm",
    "slant_degrees = 10.0\n": "slant_deg",
    "layer = []\n": "layers",
}


@pytest.mark.parametrize("text", MISSPELT)
def test_a_misspelt_telling_key_is_answered_with_its_own(text: str, refused_case: Refused) -> None:
    told = refused_case(HEAD + text)
    (said,) = [message for message in told if " is not a key" in message]
    assert said.startswith("6: loads[0].")
    assert MISSPELT[text] in said


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (TIP + FORCE, 6),
        (FORCE + TIP, 8),
        (FACE + TIP, 10),
        (MEDIUM + FACE, 9),
        (MEDIUM + "parts = [{ axial_n_per_mm = 1.0 }]\n", 6),
    ],
)
def test_two_kinds_in_one_entry_are_refused(text: str, line: int, refused_case: Refused) -> None:
    # What acts at once stands in parts; one of the two kinds must not be lost in silence.
    told = refused_case(HEAD + text)
    assert any(message.startswith(f"{line}: loads[0]") for message in told)
    assert any("is not a key" in message for message in told)


def test_parts_have_no_parts(refused_case: Refused) -> None:
    told = refused_case(f"{HEAD}[[loads.parts]]\n[[loads.parts.parts]]\n{TIP}")
    assert told
    assert told[0].startswith(("6: loads[0].parts[0]", "7: loads[0].parts[0]"))


# ---------------------------------------------------------------- where numbers end


@pytest.mark.parametrize(
    ("text", "key", "allowed", "forbidden"),
    [
        (FORCE, "force_n = 40.0", ["1e-6", "100000"], ["9e-7", "100001", "-40", "inf", "nan"]),
        (FORCE, "contact_length_mm = 12.0", ["1e-9", "1000"], ["1001", "-0.0"]),
        (FORCE + "direction_deg = 0\n", "direction_deg = 0", ["-180", "180"], ["-181", "180.001"]),
        (FACE, "pressure_mpa = 40.0", ["1e-6", "20000"], ["9e-7", "20001"]),
        (FACE, "from_mm = 0.1", ["0", "0.49"], ["-1e-9", "1001"]),
        (FACE + "friction = 0\n", "friction = 0", ["2", "0.0"], ["2.01", "-0.1"]),
        (TIP, "axial_n_per_mm = 3.0", ["-100000", "1e-9"], ["100001", "9e-10", "-1e-10"]),
        (MEDIUM, "depth_in_cut_mm = 0.5", ["1e-6", "19.9"], ["0", "20"]),
    ],
)
def test_the_ends_of_a_number(
    text: str,
    key: str,
    allowed: list[str],
    forbidden: list[str],
    refused_case: Refused,
    tmp_path: Path,
) -> None:
    name = key.partition(" = ")[0]
    for value in allowed:
        (tmp_path / "case.toml").write_text(HEAD + text.replace(key, f"{name} = {value}"))
        (read,) = read_case(tmp_path / "case.toml").loads
        assert getattr(read, name) == float(value)
    for value in forbidden:
        (told,) = refused_case(HEAD + text.replace(key, f"{name} = {value}"))
        line = (HEAD + text).partition(key)[0].count("\n") + 1
        assert told.startswith(f"{line}: loads[0].{name} is ")
