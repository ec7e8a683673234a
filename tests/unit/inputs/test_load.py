"""Loads as a person writes them: which kind is meant, what is filled in, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from pydantic import TypeAdapter

from simedge.inputs.load import (
    CombinedLoad,
    FaceLoad,
    Load,
    MediumLoad,
    TipForce,
    TipLineLoad,
    parts_of,
)

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
