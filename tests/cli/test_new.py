"""``simedge new``: five answers make a file that runs, and asks again where it must."""

from __future__ import annotations

import tomllib

import pytest

from simedge.cli.new import case_text, parse_angles, parse_manner, parse_work
from simedge.inputs.door import validated_arguments
from simedge.inputs.files import library_files, read_profile
from simedge.inputs.profile import Profile


def test_enter_five_times_writes_a_case_and_runs_it(simedge, tmp_path):
    done = simedge("new", typed="\n" * 5)
    assert done.returncode == 0, done.stderr
    (path,) = tmp_path.glob("*.toml")
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert data["steel"] == {"grade": "52100", "hardness_hrc": 60}
    assert [load["side"] for load in data["loads"]] == ["both", "left"]
    assert "#" in path.read_text(encoding="utf-8")
    assert (tmp_path / "simedge-out" / path.stem / "result.json").exists()


def test_own_answers_are_taken_and_wrong_ones_asked_again(simedge, tmp_path):
    typed = "\n".join(
        ["no-such-knife", "kitchen-knife", "9,5", "18 x 0.05, 9", "52100", "O1 61", "porridge 3",
         "bone 0.2", "gently", "crooked hard"]
    )  # fmt: skip
    done = simedge("new", typed=typed + "\n")
    assert done.returncode == 0, done.stderr + done.stdout
    assert "no such medium is known" in done.stdout
    (path,) = tmp_path.glob("*.toml")
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert [(b["dps"], b.get("height_mm")) for b in data["profile"]["bevels"]] == [
        (18, 0.05),
        (9, None),
    ]
    assert data["profile"]["bevels"][1]["ends_at_thickness_mm"] == 0.2
    assert data["steel"]["grade"] == "O1"
    assert [(load["medium"], load["level"], load["side"]) for load in data["loads"]] == [
        ("bone", "high", "left")
    ]


def test_an_existing_file_is_never_overwritten(simedge, tmp_path):
    for _ in range(2):
        assert simedge("new", typed="\n" * 5).returncode == 0
    assert len(list(tmp_path.glob("*.toml"))) == 2


def test_input_that_ends_early_leaves_nothing_behind(simedge, tmp_path):
    done = simedge("new", typed="\n")
    assert done.returncode == 130
    assert "Traceback" not in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("text", ["", "x", "15 0.08", "15 x, 11", "15, 11", "-3", "1e400 x 2 x 3"])
def test_angles_that_cannot_be_read_are_refused(text):
    with pytest.raises(ValueError, match=r"bevel|height"):
        parse_angles(text)


def test_a_one_sided_edge_can_be_typed():
    assert parse_angles("0/25") == ((0.0, 25.0, None),)


def test_work_and_manner_are_read_in_plain_words():
    assert parse_work("soft wood 1.5 mm") == {"medium": "soft wood", "depth_in_cut_mm": 1.5}
    assert parse_manner("hard, straight") == {"level": "high", "sides": ("both",)}


def test_names_and_numbers_of_a_profile_survive_the_file(simedge, tmp_path):
    (tmp_path / "old.toml").write_text(
        'schema = 1\nname = "the \\"old\\" knife"\nheight_mm = 28.123456\n'
        "spine_thickness_mm = 3.0\n[apex]\nradius_um = 1.0\n[[bevels]]\ndps = 15.0\n"
        'ends_at_thickness_mm = 0.4\n[primary_grind]\nkind = "flat"\n',
        encoding="utf-8",
    )
    done = simedge("new", typed="old.toml\n" + "\n" * 4)
    assert done.returncode == 0, done.stderr
    (path,) = tmp_path.glob("old-in-*.toml")
    data = tomllib.loads(path.read_text(encoding="utf-8"))["profile"]
    assert data["name"] == 'the "old" knife'
    assert data["height_mm"] == 28.123456


def written_profile(profile: Profile, angles=None) -> Profile:
    """Give the profile that a case file for it holds."""
    answers = {"grade": "52100", "hardness_hrc": 60.0, "medium": "hard wood"}
    text = case_text(
        {**answers, **parse_manner("usual"), "depth_in_cut_mm": 0.5, "profile": profile,
         "angles": angles}
    )  # fmt: skip
    return validated_arguments(Profile, tomllib.loads(text)["profile"])


#: Those of the rack that were ground, not traced.
GROUND = [name for name in library_files("profiles") if isinstance(read_profile(name), Profile)]


@pytest.mark.parametrize("name", GROUND)
def test_every_knife_of_the_rack_survives_the_file(name):
    assert written_profile(read_profile(name)) == read_profile(name)


@pytest.mark.parametrize(
    "fields",
    [
        {"apex": {"land_um": 1 / 3}},
        {"apex": {"sharp": True}, "bevels": []},
        {"primary_grind": {"kind": "hollow", "wheel_radius_mm": 700 / 3, "left_fraction": 1 / 3}},
        {"primary_grind": {"kind": "part-height", "grind_height_mm": 50 / 3}},
        {"primary_grind": {"kind": "convex", "bulge_mm": 0.1 / 3}},
        {
            "spine_thickness_mm": None,
            "primary_grind": {"kind": "flat", "left_dps": 0.0, "right_dps": 20 / 3},
        },
        {"bevels": [{"dps": 12.0, "height_mm": 0.4, "kind": "convex", "bulge_um": 4 / 3}]},
    ],
)
def test_every_kind_of_grind_survives_the_file(fields):
    whole = {
        "height_mm": 28.0,
        "spine_thickness_mm": 3.0,
        "apex": {"radius_um": 2 / 3},
        "bevels": [{"left_dps": 12.0, "right_dps": 14.0, "ends_at_thickness_mm": 0.4}],
        "primary_grind": {"kind": "flat"},
        **fields,
    }
    given = {key: value for key, value in whole.items() if value is not None}
    profile = validated_arguments(Profile, given)
    assert written_profile(profile) == profile


def test_asked_angles_make_flat_bevels_in_front_of_the_same_grind():
    axe = read_profile("splitting-axe")
    made = written_profile(axe, parse_angles("22/20 x 0.3, 17"))
    assert made.primary_grind == axe.primary_grind
    assert [(bevel.sides_deg, bevel.height_mm) for bevel in made.bevels] == [
        ((22.0, 20.0), 0.3),
        ((17.0, 17.0), None),
    ]
    assert made.bevels[1].ends_at_thickness_mm == 2.5
    assert {bevel.kind for bevel in made.bevels} == {"flat"}
