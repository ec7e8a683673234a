"""Bows that do not fit: refused with a figure that does, which is then really taken.

Each row asks for too much of one key; what the message tells to fit must be taken, and a little
more than that refused again: so the figures are neither too large nor needlessly small.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from simedge.errors import BadInput
from simedge.inputs.door import validated_arguments
from simedge.inputs.profile import Profile

EDGE = {"name": "edge bevel", "dps": 14.0, "ends_at_thickness_mm": 0.4}
ONE_SIDED = {"left_dps": 0.0, "right_dps": 20.0, "ends_at_thickness_mm": 0.4}
HAND = {"kind": "convex", "dps": 14.0, "ends_at_thickness_mm": 0.4}


def blade(**changes: Any) -> dict[str, Any]:
    fields = {
        "height_mm": 28.0,
        "spine_thickness_mm": 3.0,
        "apex": {"radius_um": 1.0},
        "bevels": [EDGE],
        "primary_grind": {"kind": "flat"},
        **changes,
    }
    return {key: value for key, value in fields.items() if value is not None}


def refusal(fields: dict[str, Any]) -> str:
    with pytest.raises(BadInput) as caught:
        validated_arguments(Profile, fields)
    (problem,) = caught.value.problems
    return str(problem)


def hollow(radius: float, **changes: Any) -> dict[str, Any]:
    grind = {"kind": "hollow", "wheel_radius_mm": radius, **changes.pop("grind", {})}
    return blade(primary_grind=grind, **changes)


HOLLOWS: dict[str, dict[str, Any]] = {
    "behind an edge bevel": {},
    "part of the height": {"grind": {"grind_height_mm": 18.0}},
    "on one side": {"bevels": [ONE_SIDED]},
    "shared unequally": {"grind": {"left_fraction": 0.3}},
    "down to a rounded apex": {"bevels": []},
    "down to a blunt apex": {"bevels": [], "apex": {"radius_um": 300.0}},
    "down to a land": {"bevels": [], "apex": {"land_um": 20.0}},
    "down to a sharp apex": {"bevels": [], "apex": {"sharp": True}},
    "by its angle": {"spine_thickness_mm": None, "grind": {"dps": 3.0}},
    "by its angle, down to the apex": {
        "spine_thickness_mm": None,
        "bevels": [],
        "grind": {"left_dps": 0.0, "right_dps": 6.0},
    },
    "over a stout edge": {
        "height_mm": 12.0,
        "spine_thickness_mm": 10.0,
        "bevels": [{"dps": 30.0, "ends_at_thickness_mm": 9.0}],
    },
}


@pytest.mark.parametrize("row", HOLLOWS)
@pytest.mark.parametrize("radius", [0.5, 2.0])
def test_the_smallest_wheel_that_is_told_fits(row: str, radius: float) -> None:
    said = refusal(hollow(radius, **HOLLOWS[row]))
    assert said.startswith(f"--wheel-radius-mm is {radius:g} mm, ")
    told = re.search(r"at most (\S+) mm deep fits, from a wheel of (\S+) mm radius or more", said)
    assert told is not None
    depth, least = float(told[1]), float(told[2])
    faces = validated_arguments(Profile, hollow(least, **HOLLOWS[row])).faces
    index = faces.fields.index(("primary_grind",))
    deepest = max(-curves[index].bulge_mm for curves in (faces.left, faces.right))
    # both were rounded to three figures, the radius up, the depth down
    assert deepest == pytest.approx(depth, rel=0.02)
    assert "radius or more" in refusal(hollow(0.985 * least, **HOLLOWS[row]))


def test_a_wheel_is_told_what_it_does() -> None:
    # chord 27.23 mm: half of it is more than 5 mm
    assert "a wheel that small does not reach over a grind 27.23 mm wide" in refusal(hollow(5.0))
    # chord^2 / (8 R) = 27.23^2 / 480 = 1.54 mm deep: more than half the thickness at mid-chord
    assert "each side 1.565 mm deep, but that bites through the centre line" in refusal(
        hollow(60.0)
    )
    assert "its side" in refusal(hollow(40.0, bevels=[ONE_SIDED]))
    assert "leaves nothing of the edge's included angle" in refusal(hollow(150.0, bevels=[]))
    assert "leaves only 0.0" in refusal(hollow(137.0))
    assert "less than a tenth of the 0.4 mm at its shoulder" in refusal(hollow(137.0))


def test_where_no_wheel_is_large_enough_flat_is_offered() -> None:
    said = refusal(
        hollow(
            2.0,
            grind={"dps": 0.001},
            height_mm=900.0,
            spine_thickness_mm=None,
            bevels=[],
            apex={"sharp": True},
        )
    )
    assert 'no wheel of up to 5000 mm is large enough; kind = "flat" fits' in said


CONVEX: dict[str, dict[str, Any]] = {
    "behind an edge bevel": {},
    "down to a rounded apex": {"bevels": []},
    "down to a blunt apex": {"bevels": [], "apex": {"radius_um": 200.0}},
    "down to a land": {"bevels": [], "apex": {"land_um": 20.0}},
    "on one side": {"bevels": [ONE_SIDED]},
    "by its angle": {"spine_thickness_mm": None, "grind": {"dps": 3.0}},
    "by its angle, unequal": {
        "spine_thickness_mm": None,
        "bevels": [],
        "grind": {"left_dps": 2.0, "right_dps": 6.0},
    },
}


def convex(bulge: float, **changes: Any) -> dict[str, Any]:
    grind = {"kind": "convex", "bulge_mm": bulge, **changes.pop("grind", {})}
    return blade(primary_grind=grind, **changes)


@pytest.mark.parametrize("row", CONVEX)
def test_the_largest_bulge_that_is_told_fits(row: str) -> None:
    said = refusal(convex(9.0, **CONVEX[row]))
    assert said.startswith("--bulge-mm is 9 mm, but its faces would bulge past the spine")
    told = re.search(r"at most (\S+) mm fits", said)
    assert told is not None
    validated_arguments(Profile, convex(float(told[1]), **CONVEX[row]))
    refusal(convex(1.015 * float(told[1]), **CONVEX[row]))


@pytest.mark.parametrize("radius_um", [1.0, 20.0, 100.0])
def test_the_largest_bulge_of_a_bevel_is_told_in_its_unit(radius_um: float) -> None:
    def hand(bulge: float) -> dict[str, Any]:
        bevel = {**HAND, "bulge_um": bulge}
        return blade(bevels=[bevel], apex={"radius_um": radius_um}, primary_grind={"dps": 0.1},
                     spine_thickness_mm=None)  # fmt: skip

    said = refusal(hand(400.0))
    assert said.startswith("--bulge-um is 400 µm, but its faces would bulge past")
    assert "past the shoulder" in said
    # first that the faces do not lean inward, then that 0.2 deg included behind it are less
    for _ in range(2):
        told = re.search(r"at most (\S+) µm fits", said)
        assert told is not None
        try:
            validated_arguments(Profile, hand(float(told[1])))
            break
        except BadInput as still:
            said = str(still)
    else:
        pytest.fail(said)
    refusal(hand(1.03 * float(told[1])))


def test_a_convex_grind_may_not_begin_steeper_than_its_edge() -> None:
    # chord 8.7 mm rising 3.9 mm: 24 deg, and the arc adds to that
    edge = {"name": "edge bevel", "dps": 26.0, "ends_at_thickness_mm": 0.4}
    fields = {"height_mm": 10.0, "spine_thickness_mm": 8.0, "bevels": [edge]}
    said = refusal(convex(0.6, **fields))
    assert said.startswith("--bulge-mm is 0.6 mm, so that the primary grind begins with an")
    assert "the edge bevel in front of it has only 52 deg" in said
    told = re.search(r"at most (\S+) mm fits", said)
    assert told is not None
    validated_arguments(Profile, convex(float(told[1]), **fields))
    assert "grow towards the apex" in refusal(convex(1.02 * float(told[1]), **fields))


def test_a_convex_bevel_may_not_end_slimmer_than_what_is_behind() -> None:
    def hand(bulge: float) -> dict[str, Any]:
        return blade(bevels=[{**HAND, "bulge_um": bulge}])

    # 28 deg of the chords, 5.47 behind: each face may turn 11.26 deg
    said = refusal(hand(45.0))
    assert said.startswith("--bulge-um is 45 µm, so that the bevel ends with an included")
    told = re.search(r"at most (\S+) µm fits", said)
    assert told is not None
    assert float(told[1]) == pytest.approx(40.5, rel=0.01)  # half the chord, 0.412 mm, x tan 5.63
    validated_arguments(Profile, hand(float(told[1])))


@pytest.mark.parametrize("kind", ["hollow", "convex"])
def test_nothing_can_be_ground_where_the_spine_is_no_thicker(kind: str) -> None:
    grind = {"hollow": {"wheel_radius_mm": 100.0}, "convex": {"bulge_mm": 0.1}}[kind]
    said = refusal(
        blade(
            bevels=[{**EDGE, "ends_at_thickness_mm": 3.0}],
            primary_grind={"kind": kind, **grind},
        )
    )
    assert said.startswith(f'--kind is "{kind}", but the blade is no thicker at its spine')


@pytest.mark.parametrize("radius_um", [250.0, 1000.0])
@pytest.mark.parametrize(
    "bevel",
    [
        {"height_mm": 0.15, "bulge_um": 2.0},
        {"ends_at_thickness_mm": 0.2, "bulge_um": 5.0},
        {"left_dps": 0.0, "right_dps": 25.0, "height_mm": 0.2, "bulge_um": 3.0},
    ],
)
def test_the_largest_radius_in_front_of_an_arc_is_told(
    bevel: dict[str, Any], radius_um: float
) -> None:
    def fields(radius: float) -> dict[str, Any]:
        angles = {} if "left_dps" in bevel else {"dps": 20.0}
        return blade(bevels=[{"kind": "convex", **angles, **bevel}], apex={"radius_um": radius})

    said = refusal(fields(radius_um))
    assert said.startswith(f"apex.radius_um is {radius_um:g} µm") or said.startswith("--radius-um")
    told = re.search(r"below (\S+) µm it fits", said)
    assert told is not None
    # there the arc just runs level where it ends: what stands behind it must be slimmer still
    said = ""
    try:
        validated_arguments(Profile, fields(0.999 * float(told[1])))
    except BadInput as other:
        said = str(other)
    assert "radius" not in said
    assert "lean inward" not in said
