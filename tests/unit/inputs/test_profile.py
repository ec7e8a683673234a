"""A profile as a person writes it: what is taken, and what is refused in which words and line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import FrozenInstanceError, replace
from pathlib import Path

import pytest

from simedge import read_profile
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile

Refused = Callable[[str], list[str]]

KNIFE = """\
schema = 1
name = "trial knife"
height_mm = 28.0
spine_thickness_mm = 3.2
[apex]
radius_um = 1.5
[[bevels]]
name = "micro-bevel"
dps = 15.0
height_mm = 0.08
[[bevels]]
name = "edge bevel"
dps = 11.0
ends_at_thickness_mm = 0.45
[primary_grind]
kind = "flat"
"""


def knife(*edits: tuple[str, str]) -> str:
    """Give the trial knife with texts replaced; each must stand there exactly once."""
    text = KNIFE
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def test_the_trial_knife_is_taken_as_written(tmp_path: Path) -> None:
    (tmp_path / "knife.toml").write_text(KNIFE)
    read = read_profile(tmp_path / "knife.toml")
    assert read == Profile(
        name="trial knife",
        height_mm=28.0,
        spine_thickness_mm=3.2,
        apex=Apex(radius_um=1.5),
        bevels=(
            Bevel(name="micro-bevel", dps=15.0, height_mm=0.08),
            Bevel(name="edge bevel", dps=11.0, ends_at_thickness_mm=0.45),
        ),
        primary_grind=PrimaryGrind(),
    )
    assert read.source == "not said"
    assert hash(read) == hash(replace(read))
    with pytest.raises(FrozenInstanceError):
        read.height_mm = 30.0  # type: ignore[misc]


# Each row: what is edited, the line that must be named, and what the message must say.
ONE_SLIP = {
    "half-angle 0": (("dps = 15.0", "dps = 0"), 9, ["dps is 0 deg", "(0, 45]"]),
    "negative half-angle": (("dps = 15.0", "dps = -3.0"), 9, ["dps is -3 deg", "(0, 45]"]),
    "included angle of 180": (
        ("dps = 15.0", "dps = 90.0"),
        9,
        ["dps is 90 deg", "(0, 45]", "half of it per side"],
    ),
    "angle as text": (("dps = 15.0", 'dps = "15"'), 9, ['dps is "15"', "a plain number (deg)"]),
    "angle as truth": (("dps = 15.0", "dps = true"), 9, ["dps is true", "a plain number (deg)"]),
    "angle not a number": (("dps = 15.0", "dps = nan"), 9, ["dps is nan deg", "finite"]),
    "both kinds of angle": (
        ("dps = 15.0", "dps = 15.0\nleft_dps = 15.0"),
        9,
        ["dps is given beside left_dps or right_dps", "give one kind"],
    ),
    "one side only": (
        ("dps = 15.0", "left_dps = 15.0"),
        7,
        ["right_dps is missing beside left_dps", "may be 0"],
    ),
    "no angle": (("dps = 15.0", ""), 7, ["dps is missing", "left_dps and right_dps"]),
    "both sides 0": (
        ("dps = 15.0", "left_dps = 0\nright_dps = 0"),
        9,
        ["left_dps is 0 deg like right_dps", "not a wedge"],
    ),
    "one side beyond 45": (
        ("dps = 15.0", "left_dps = 0\nright_dps = 46.0"),
        10,
        ["right_dps is 46 deg", "[0, 45]", "half of it per side"],
    ),
    "negative micro height": (
        ("height_mm = 0.08", "height_mm = -0.1"),
        10,
        ["height_mm is -0.1 mm", "[0, 1000]"],
    ),
    "two extents of a bevel": (
        ("height_mm = 0.08", "height_mm = 0.08\nends_at_thickness_mm = 0.03"),
        10,
        ["height_mm or ends_at_thickness_mm must be given, one of the two"],
    ),
    "no extent of a bevel": (
        ("height_mm = 0.08\n", ""),
        7,
        ["height_mm or ends_at_thickness_mm must be given, one of the two"],
    ),
    "thickness 0 behind the edge": (
        ("ends_at_thickness_mm = 0.45", "ends_at_thickness_mm = 0"),
        14,
        ["ends_at_thickness_mm is 0 mm", "(0, 1000]"],
    ),
    "height 0": (("height_mm = 28.0", "height_mm = 0"), 3, ["height_mm is 0 mm", "(0, 1000]"]),
    "negative spine": (
        ("spine_thickness_mm = 3.2", "spine_thickness_mm = -3.2"),
        4,
        ["spine_thickness_mm is -3.2 mm", "(0, 1000]"],
    ),
    "apex radius 0": (
        ("radius_um = 1.5", "radius_um = 0"),
        6,
        ["radius_um is 0 µm", "no finite value", "sharp = true"],
    ),
    "land 0": (("radius_um = 1.5", "land_um = 0"), 6, ["land_um is 0 µm", "sharp = true"]),
    "negative radius": (("radius_um = 1.5", "radius_um = -1"), 6, ["radius_um is -1 µm"]),
    "radius and land": (
        ("radius_um = 1.5", "radius_um = 1.5\nland_um = 8.0"),
        5,
        ["exactly one of radius_um, land_um and sharp", "got radius_um and land_um"],
    ),
    "radius and sharp": (
        ("radius_um = 1.5", "radius_um = 1.5\nsharp = true"),
        5,
        ["exactly one of", "got radius_um and sharp"],
    ),
    "no apex at all": (("radius_um = 1.5", ""), 5, ["exactly one of", "got none of them"]),
    "sharp as a number": (("radius_um = 1.5", "sharp = 1"), 6, ["sharp is 1", "true or false"]),
    "hollow grind of no wheel": (
        ('kind = "flat"', 'kind = "hollow"'),
        15,
        ["wheel_radius_mm is missing", 'kind = "hollow" needs it'],
    ),
    "grind beside height and spine": (
        ('kind = "flat"', 'kind = "flat"\ndps = 3.0'),
        17,
        ["dps is given beside height_mm and spine_thickness_mm", "leave one out"],
    ),
    "no height": (("height_mm = 28.0\n", ""), 1, ["height_mm is missing", "needs its dps"]),
    "left share above 1": (
        ('kind = "flat"', 'kind = "flat"\nleft_fraction = 1.5'),
        17,
        ["left_fraction is 1.5", "[0, 1]"],
    ),
    "inches as a misspelt key": (
        ("radius_um = 1.5", "radius_mm = 1.5"),
        6,
        ["radius_mm is not a key of [apex]", "write radius_um, in µm"],
    ),
}


@pytest.mark.parametrize("slip", ONE_SLIP)
def test_one_slip_is_told_with_its_line(slip: str, refused_profile: Refused) -> None:
    edit, line, said = ONE_SLIP[slip]
    told = refused_profile(knife(edit))
    assert len(told) == 1
    assert told[0].startswith(f"{line}: ")
    unnamed = told[0].replace(" (micro-bevel)", "").replace(" (edge bevel)", "")
    for words in said:
        assert words in unnamed


def test_missing_both_sizes_are_two_problems(refused_profile: Refused) -> None:
    told = refused_profile(knife(("height_mm = 28.0\n", ""), ("spine_thickness_mm = 3.2\n", "")))
    assert [message.split(": ", 1)[1].split(" is ")[0] for message in told] == [
        "height_mm",
        "spine_thickness_mm",
    ]


def test_grind_angles_alone_do_not_settle_the_height(refused_profile: Refused) -> None:
    told = refused_profile(
        knife(
            ("height_mm = 28.0\n", ""),
            ("spine_thickness_mm = 3.2\n", ""),
            ('kind = "flat"', 'kind = "flat"\ndps = 3.0'),
        )
    )
    assert told == ["1: height_mm is missing; give it, or spine_thickness_mm"]


def test_left_share_beside_angles_is_refused(refused_profile: Refused) -> None:
    told = refused_profile(
        knife(
            ("height_mm = 28.0\n", ""),
            ('kind = "flat"', 'kind = "flat"\ndps = 3.0\nleft_fraction = 0.5'),
        )
    )
    assert len(told) == 1
    assert told[0].startswith("17: primary_grind.left_fraction is given beside the grind's angles")


def test_every_bad_key_in_one_go_in_the_order_of_lines(refused_profile: Refused) -> None:
    told = refused_profile(
        knife(
            ("height_mm = 28.0", "height_mm = -28.0"),
            ("radius_um = 1.5", "radius_um = 0"),
            ("dps = 15.0", "dps = 95.0"),
            ("ends_at_thickness_mm = 0.45", "ends_at_thickness_mm = 0"),
            ('kind = "flat"', 'kind = "concave"\ncolour = "grey"'),
        )
    )
    assert [message.split(":")[0] for message in told] == ["3", "6", "9", "14", "16", "17"]
    assert "bevels[0].dps (micro-bevel) is 95 deg" in told[2]
    assert "bevels[1].ends_at_thickness_mm (edge bevel) is 0 mm" in told[3]


@pytest.mark.parametrize("radius_um", [0.0049, 1e-6])
def test_radius_smaller_than_an_atom_or_so_is_refused(
    radius_um: float, refused_profile: Refused
) -> None:
    # bad-inputs.md: below 0.005 µm E
    told = refused_profile(knife(("radius_um = 1.5", f"radius_um = {radius_um}")))
    assert told[0].startswith("6: apex.radius_um is ")


@pytest.mark.parametrize(("radius_um", "odd"), [(0.005, True), (0.049, True), (0.05, False)])
def test_radius_at_the_end_of_a_continuum_is_remarked(
    radius_um: float, odd: bool, tmp_path: Path
) -> None:
    # bad-inputs.md: below 0.05 µm W (a continuum at its end)
    (tmp_path / "knife.toml").write_text(knife(("radius_um = 1.5", f"radius_um = {radius_um}")))
    remarks = read_profile(tmp_path / "knife.toml").faces.remarks
    assert [f"{radius_um:g} µm" in remark for remark in remarks] == [True] * odd


# ---------------------------------------------------------------- no blade


def toml(apex: str = "radius_um = 1.5", bevels: str = "", grind: str = "", size: str = "") -> str:
    size = size or "height_mm = 28.0\nspine_thickness_mm = 3.2"
    return f"{size}\n[apex]\n{apex}\n{bevels}\n[primary_grind]\n{grind}\n"


NO_BLADE = {
    "slimmer in front": (
        toml(bevels="[[bevels]]\ndps = 8.0\nheight_mm = 0.1\n[[bevels]]\ndps = 9.0\nheight_mm = 1"),
        "6",
        ["16 deg", "18 deg", "hollow there", "angles must grow towards the apex"],
    ),
    "micro-bevel higher than the blade": (
        toml(bevels="[[bevels]]\ndps = 8.0\nheight_mm = 30.0"),
        "7",
        ["height_mm is 30 mm", "28 mm high"],
    ),
    "thickness not reached within the blade": (
        toml(bevels="[[bevels]]\ndps = 2.0\nends_at_thickness_mm = 3.1"),
        "7",
        ["ends_at_thickness_mm is 3.1 mm", "end 44.3", "28 mm high"],
    ),
    "second bevel begins thicker than it ends": (
        toml(
            bevels="[[bevels]]\ndps = 20.0\nheight_mm = 1.0\n"
            "[[bevels]]\ndps = 15.0\nends_at_thickness_mm = 0.5"
        ),
        "10",
        ["ends_at_thickness_mm is 0.5 mm", "0.73 mm thick where this bevel begins"],
    ),
    # 0.45 / (2 cos 11): the circle would be as wide as the section at the shoulder
    "radius too wide for the thickness behind the edge": (
        toml("radius_um = 300.0", "[[bevels]]\ndps = 11.0\nends_at_thickness_mm = 0.45"),
        "4",
        ["radius_um is 300 µm", "below 229.2 µm it fits"],
    ),
    # 0.08 / (1 - sin 15)
    "radius too long for the micro-bevel": (
        toml("radius_um = 120.0", "[[bevels]]\ndps = 15.0\nheight_mm = 0.08"),
        "4",
        ["radius_um is 120 µm", "below 107.9 µm it fits"],
    ),
    "land wider than the bevel ends": (
        toml("land_um = 500.0", "[[bevels]]\ndps = 11.0\nends_at_thickness_mm = 0.45"),
        "4",
        ["land_um is 500 µm", "450 µm thick where it ends"],
    ),
    "radius higher than the blade": (
        toml("radius_um = 5000.0", grind="dps = 10.0", size="height_mm = 4.0"),
        "3",
        ["radius_um is 5000 µm", "below 4840 µm it fits"],  # 4 / (1 - sin 10)
    ),
    "spine thinner than the shoulder": (
        toml(
            bevels="[[bevels]]\ndps = 11.0\nends_at_thickness_mm = 0.45",
            size="height_mm = 28.0\nspine_thickness_mm = 0.4",
        ),
        "2",
        ["spine_thickness_mm is 0.4 mm", "0.45 mm thick at its last shoulder"],
    ),
    "spine thinner than the shoulder, by angle": (
        toml(
            bevels="[[bevels]]\ndps = 11.0\nends_at_thickness_mm = 0.45",
            grind="dps = 2.0",
            size="spine_thickness_mm = 0.4",
        ),
        "1",
        ["spine_thickness_mm is 0.4 mm", "0.45 mm thick where the primary grind begins"],
    ),
    "spine too thick for its height": (
        toml(size="height_mm = 2.0\nspine_thickness_mm = 30.0"),
        "2",
        ["spine_thickness_mm is 30 mm on a height of 2 mm", "45 deg"],
    ),
    "blade of more than a metre": (
        toml("sharp = true", grind="dps = 0.05", size="spine_thickness_mm = 3.0"),
        "6",
        ["blade of 1719 mm", "at most 1000 mm"],  # 1.5 / tan 0.05
    ),
    # half of 3.2 mm: the circle may not be wider than the spine
    "radius wider than the spine": (
        toml("radius_um = 2000.0"),
        "4",
        ["radius_um is 2000 µm", "below 1600 µm it fits"],
    ),
    # 3.2 / (2 cos 10)
    "radius wider than the spine, by angle": (
        toml("radius_um = 2000.0", grind="dps = 10.0", size="spine_thickness_mm = 3.2"),
        "3",
        ["radius_um is 2000 µm", "below 1624 µm it fits"],
    ),
}


@pytest.mark.parametrize("name", NO_BLADE)
def test_numbers_that_make_no_blade(name: str, refused_profile: Refused) -> None:
    text, line, said = NO_BLADE[name]
    (told,) = refused_profile(text)
    assert told.startswith(f"{line}: ")
    for words in said:
        assert words in told


def test_angle_too_small_for_its_radians_is_refused(refused_profile: Refused) -> None:
    # 5e-324 degrees is above 0, but not in radians: no division by zero may come of it.
    (told,) = refused_profile(
        toml("sharp = true", grind="dps = 5e-324", size="spine_thickness_mm = 3.0")
    )
    assert "primary_grind.dps gives a blade of inf mm" in told
