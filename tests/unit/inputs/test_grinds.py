"""Apex, bevel and primary grind on their own: which keys settle them, and where they end."""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from math import inf, nan, nextafter
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.inputs.door import validated_arguments
from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind


def refused(cls: type, **keys: Any) -> list[str]:
    """Give what is said of keys that make no such record, each with the option named."""
    with pytest.raises(BadInput) as caught:
        validated_arguments(cls, keys)
    return [str(problem) for problem in caught.value.problems]


def given_keys(**values: float) -> st.SearchStrategy[dict[str, float]]:
    """Give every choice of these keys, none and all included."""
    return st.sets(st.sampled_from(sorted(values))).map(
        lambda keys: {key: values[key] for key in keys}
    )


# ---------------------------------------------------------------- which keys settle it


@given(given_keys(radius_um=1.5, land_um=8.0, sharp=True))
def test_an_apex_is_told_by_one_key_and_only_one(keys: dict[str, Any]) -> None:
    if len(keys) == 1:
        apex = validated_arguments(Apex, keys)
        told = {key: getattr(apex, key) for key in ("radius_um", "land_um", "sharp")}
        assert told == {"radius_um": None, "land_um": None, "sharp": False, **keys}
        return
    (said,) = refused(Apex, **keys)
    assert "needs exactly one of radius_um, land_um and sharp, got" in said
    for key in ("radius_um", "land_um", "sharp"):
        assert (key in said.partition("got ")[2]) == (key in keys)
    assert ("none of them" in said) == (not keys)


def test_an_apex_that_is_said_not_to_be_sharp_still_needs_its_size() -> None:
    assert "got none of them" in refused(Apex, sharp=False)[0]
    assert Apex(radius_um=1.0, sharp=False) == Apex(radius_um=1.0)


@given(
    given_keys(dps=11.0, left_dps=12.0, right_dps=13.0),
    given_keys(height_mm=0.1, ends_at_thickness_mm=0.4),
)
def test_a_bevel_is_told_by_one_kind_of_angle_and_one_extent(
    angle: dict[str, float], extent: dict[str, float]
) -> None:
    sides = {("dps",): (11.0, 11.0), ("left_dps", "right_dps"): (12.0, 13.0)}.get(
        tuple(sorted(angle))
    )
    if sides and len(extent) == 1:
        bevel = Bevel(**angle, **extent)
        assert bevel.sides_deg == sides
        assert {"height_mm": bevel.height_mm, "ends_at_thickness_mm": bevel.ends_at_thickness_mm}[
            next(iter(extent))
        ] == next(iter(extent.values()))
        return
    # what is wrong with the angle and with the extent is told in one go
    said = refused(Bevel, **angle, **extent)
    assert len(said) == (sides is None) + (len(extent) != 1)
    assert any("one of the two" in each for each in said) == (len(extent) != 1)
    if sides is None and "dps" in angle:
        assert "--dps is given beside left_dps or right_dps; give one kind" in said[0]
    elif sides is None and angle:
        given_key = next(iter(angle))
        other = {"left_dps": "--right-dps", "right_dps": "--left-dps"}[given_key]
        assert said[0] == f"{other} is missing beside {given_key}; it may be 0"
    elif sides is None:
        assert said[0] == "--dps is missing; give dps, or left_dps and right_dps"


@given(given_keys(dps=2.0, left_dps=1.5, right_dps=2.5, left_fraction=0.25))
def test_a_primary_grind_has_its_angles_or_a_share_or_neither(keys: dict[str, float]) -> None:
    angle = tuple(sorted(key for key in keys if key != "left_fraction"))
    sides = {("dps",): (2.0, 2.0), ("left_dps", "right_dps"): (1.5, 2.5), (): None}
    if angle in sides and not (angle and "left_fraction" in keys):
        grind = PrimaryGrind(**keys)  # type: ignore[arg-type]
        assert grind.sides_deg == sides[angle]
        assert grind.left_fraction == keys.get("left_fraction")
        return
    said = refused(PrimaryGrind, **keys)
    if angle in sides:
        assert said == ["--left-fraction is given beside the grind's angles; give one of the two"]
    else:
        assert "give one kind" in said[0] or "it may be 0" in said[0]


@pytest.mark.parametrize("cls", [Bevel, PrimaryGrind])
@pytest.mark.parametrize("kind", ["left", "right"])
def test_one_side_may_be_straight_but_not_both(cls: type, kind: str) -> None:
    extent = {"height_mm": 0.1} if cls is Bevel else {}
    angles = {"left_dps": 0.0, "right_dps": 0.0}
    (said,) = refused(cls, **extent, **angles)
    assert said == "--left-dps is 0 deg like right_dps, but that is not a wedge"
    record = cls(**extent, **{**angles, f"{kind}_dps": 20.0})
    assert record.sides_deg == ((20.0, 0.0) if kind == "left" else (0.0, 20.0))


# ---------------------------------------------------------------- where it ends


def just_above(value: float) -> float:
    return nextafter(value, inf)


def just_below(value: float) -> float:
    return nextafter(value, -inf)


SMALLEST = 5e-324
# Each row: the record, the other keys that it needs, the key, what it may just be, what not.
ENDS: list[tuple[type, dict[str, Any], str, list[float], list[float]]] = [
    (Bevel, {"height_mm": 0.1}, "dps", [SMALLEST, 45.0], [0.0, -SMALLEST, just_above(45.0), 90.0]),
    (
        Bevel,
        {"height_mm": 0.1, "right_dps": 10.0},
        "left_dps",
        [0.0, -0.0, 45.0],
        [-SMALLEST, just_above(45.0)],
    ),
    (Bevel, {"dps": 9.0}, "height_mm", [0.0, 1000.0], [-SMALLEST, just_above(1000.0)]),
    (Bevel, {"dps": 9.0}, "ends_at_thickness_mm", [SMALLEST, 1000.0], [0.0, just_above(1000.0)]),
    # atoms: bad-inputs.md refuses radii below 0.005 µm, and a land is no better
    (Apex, {}, "radius_um", [0.005, 5000.0], [0.0, just_below(0.005), just_above(5000.0)]),
    (Apex, {}, "land_um", [0.005, 20000.0], [0.0, -1.0, just_below(0.005), just_above(20000.0)]),
    (
        Bevel,
        {"dps": 9.0, "height_mm": 0.1, "kind": "convex"},
        "bulge_um",
        [SMALLEST, 5000.0],
        [0.0, just_above(5000.0)],
    ),
    (
        PrimaryGrind,
        {"kind": "hollow"},
        "wheel_radius_mm",
        [SMALLEST, 5000.0],
        [0.0, -1.0, just_above(5000.0)],
    ),
    (PrimaryGrind, {"kind": "convex"}, "bulge_mm", [SMALLEST, 100.0], [0.0, just_above(100.0)]),
    (
        PrimaryGrind,
        {"kind": "part-height"},
        "grind_height_mm",
        [SMALLEST, 1000.0],
        [0.0, just_above(1000.0)],
    ),
    (PrimaryGrind, {}, "dps", [SMALLEST, 45.0], [0.0, just_above(45.0)]),
    (PrimaryGrind, {}, "left_fraction", [0.0, 1.0], [-SMALLEST, just_above(1.0)]),
]


@pytest.mark.parametrize(
    ("cls", "others", "key", "allowed", "forbidden"),
    ENDS,
    ids=[f"{row[0].__name__}-{row[2]}" for row in ENDS],
)
def test_the_ends_of_a_number(
    cls: type, others: dict[str, Any], key: str, allowed: list[float], forbidden: list[float]
) -> None:
    for value in allowed:
        assert getattr(validated_arguments(cls, {**others, key: value}), key) == value
    option = f"--{key.replace('_', '-')} is "
    for value in (*forbidden, nan, inf, -inf, 10**400):
        (said,) = refused(cls, **others, **{key: value})
        assert said.startswith(option)


@pytest.mark.parametrize(
    "value", [True, "11", "11 deg", [11.0], {"deg": 11.0}], ids=lambda value: type(value).__name__
)
@pytest.mark.parametrize(
    ("cls", "others", "key"),
    [(row[0], row[1], row[2]) for row in ENDS],
    ids=[f"{row[0].__name__}-{row[2]}" for row in ENDS],
)
def test_nothing_is_turned_into_a_number(
    cls: type, others: dict[str, Any], key: str, value: Any
) -> None:
    (said,) = refused(cls, **others, **{key: value})
    assert said.startswith(f"--{key.replace('_', '-')} is ")
    assert "a plain number" in said


@pytest.mark.parametrize("value", [1, 0, "true", "yes"])
def test_sharp_is_true_or_false_and_nothing_like_it(value: Any) -> None:
    (said,) = refused(Apex, sharp=value)
    assert "--sharp is " in said
    assert "true or false" in said


@pytest.mark.parametrize("kind", ["concave", "Flat", "", 1, True])
def test_other_grinds_are_not_taken_for_flat(kind: Any) -> None:
    (said,) = refused(PrimaryGrind, kind=kind)
    assert said.startswith("--kind is ")
    assert '"flat"' in said


# ---------------------------------------------------------------- which key belongs to which kind

OF_KIND = {"wheel_radius_mm": 100.0, "bulge_mm": 0.2, "grind_height_mm": 20.0}
BELONGS = {
    "flat": (set(), set()),
    "hollow": ({"wheel_radius_mm"}, {"grind_height_mm"}),
    "convex": ({"bulge_mm"}, set()),
    "part-height": ({"grind_height_mm"}, set()),
}


@pytest.mark.parametrize("kind", BELONGS)
@given(given_keys(**OF_KIND))
def test_a_grind_has_the_keys_of_its_kind_and_no_others(kind: str, keys: dict[str, float]) -> None:
    needed, allowed = BELONGS[kind]
    if needed <= set(keys) <= needed | allowed:
        grind = validated_arguments(PrimaryGrind, {"kind": kind, **keys})
        assert {key: getattr(grind, key) for key in keys} == keys
        return
    said = "\n".join(refused(PrimaryGrind, kind=kind, **keys))
    for key in OF_KIND:
        option = f"--{key.replace('_', '-')} "
        foreign = key in keys and key not in needed | allowed
        assert (f"{option}is given, but belongs to kind = " in said) == foreign
        assert (f'{option}is missing; kind = "{kind}" needs it' in said) == (
            key in needed and key not in keys
        )


@pytest.mark.parametrize("bulge", [{}, {"bulge_um": 5.0}])
@pytest.mark.parametrize("kind", ["flat", "convex"])
def test_a_bevel_is_convex_by_its_bulge_and_only_then(kind: str, bulge: dict[str, float]) -> None:
    keys = {"dps": 9.0, "height_mm": 0.1, "kind": kind, **bulge}
    if (kind == "convex") == bool(bulge):
        assert validated_arguments(Bevel, keys).bulge_um == bulge.get("bulge_um")
        return
    (said,) = refused(Bevel, **keys)
    assert said.startswith("--bulge-um is missing" if kind == "convex" else "--bulge-um is given")


# ---------------------------------------------------------------- as records


def test_records_are_frozen_and_hash_by_what_they_say() -> None:
    assert hash(Bevel(dps=9, height_mm=1)) == hash(Bevel(dps=9.0, height_mm=1.0))
    assert Bevel(dps=9.0, height_mm=1.0) != Bevel(left_dps=9.0, right_dps=9.0, height_mm=1.0)
    with pytest.raises(FrozenInstanceError):
        Apex(sharp=True).sharp = False  # type: ignore[misc]


@pytest.mark.parametrize(("cls", "key"), [(Apex, "radius_mm"), (Bevel, "degrees"), (Bevel, "dsp")])
def test_keys_that_are_not_known_are_named(cls: type, key: str) -> None:
    known = {"sharp": True} if cls is Apex else {"dps": 9.0, "height_mm": 0.1}
    (said,) = refused(cls, **known, **{key: 1.0})
    assert f"--{key.replace('_', '-')} is not a key" in said
