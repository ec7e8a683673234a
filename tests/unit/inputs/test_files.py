"""Finding and reading files: by path, beside the case, or by name in the library."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from simedge import read_case, read_profile
from simedge.errors import BadInput
from simedge.inputs.files import find_file, library_files, library_folder, read_case_file

Refused = Callable[[str], list[str]]

KNIFE = """\
height_mm = 28.0
spine_thickness_mm = 3.2
[apex]
radius_um = 1.5
[primary_grind]
"""
REST = """\
[steel]
grade = "52100"
hardness_hrc = 60
[[loads]]
axial_n_per_mm = 1.0
"""


@pytest.mark.parametrize("name", library_files("cases"))
def test_every_case_of_the_library_is_read_by_its_name(name: str) -> None:
    read = read_case_file(name)
    assert read.name == name
    assert read.case.title != "untitled"
    assert read.case.profile.source != "not said"


@pytest.mark.parametrize("name", library_files("profiles"))
def test_every_profile_of_the_library_is_read_by_its_name(name: str) -> None:
    assert read_profile(name).source != "not said"


def test_library_by_name_and_by_path_is_the_same() -> None:
    name = "rope-knife-in-a-knot"
    assert read_case(name) == read_case(library_files("cases")[name])
    assert library_files("cases")[name].is_relative_to(library_folder("cases"))


def test_profile_counts_from_the_cases_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "knives").mkdir()
    (tmp_path / "work").mkdir()
    (tmp_path / "knives" / "mine.toml").write_text(KNIFE)
    (tmp_path / "work" / "case.toml").write_text(f'profile = "../knives/mine.toml"\n{REST}')
    monkeypatch.chdir(tmp_path)
    assert read_case("work/case.toml").profile == read_profile("knives/mine.toml")


def test_profile_by_name_and_in_a_table(tmp_path: Path) -> None:
    (tmp_path / "named.toml").write_text(f'profile = "rope-knife"\n{REST}')
    assert read_case(tmp_path / "named.toml").profile == read_profile("rope-knife")
    (tmp_path / "table.toml").write_text(
        REST
        + "[profile]\n"
        + KNIFE.replace("[apex]", "[profile.apex]").replace(
            "[primary_grind]", "[profile.primary_grind]"
        )
    )
    (tmp_path / "knife.toml").write_text(KNIFE)
    assert read_case(tmp_path / "table.toml").profile == read_profile(tmp_path / "knife.toml")


def test_a_file_of_that_name_comes_before_the_library(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "rope-knife").write_text(KNIFE)
    assert find_file("rope-knife", "profiles") == Path("rope-knife")
    assert read_profile("rope-knife").height_mm == 28.0
    assert read_profile("rope-knife").bevels == ()


def test_inches_are_read_and_echoed_in_case_and_profile(tmp_path: Path) -> None:
    (tmp_path / "knife.toml").write_text(KNIFE.replace("height_mm = 28.0", "height_in = 1.1"))
    (tmp_path / "case.toml").write_text(
        f'profile = "knife.toml"\n{REST}[support]\nclamp_depth_in = 0.5\n'
    )
    read = read_case_file(tmp_path / "case.toml")
    assert read.case.profile.height_mm == pytest.approx(27.94, rel=1e-15)
    assert read.case.support.clamp_depth_mm == 12.7
    assert read.echoes == (
        "support.clamp_depth_in = 0.5 read as 12.7 mm",
        "height_in = 1.1 read as 27.94 mm",
    )


def test_unknown_names_are_answered_with_the_nearest() -> None:
    with pytest.raises(BadInput, match="library's cases; did you mean rope-knife-in-a-knot"):
        read_case("rope-knife-in-a-not")
    with pytest.raises(BadInput, match="library's profiles; did you mean rope-knife"):
        read_profile("rope-knive")
    with pytest.raises(BadInput, match=r"library's profiles; there are .*rope-knife"):
        read_profile("zzzzzz")


@pytest.mark.parametrize(
    ("profile", "said"),
    [
        ('"rope-knive"', "did you mean rope-knife"),
        ('"nowhere.toml"', "there is no file"),
        ('"../nowhere/knife.toml"', "paths count from the case's folder"),
        ("5", "profile is 5, but must be a table"),
        ("true", "profile is true, but must be a table"),
        ('["rope-knife"]', "a table"),
    ],
)
def test_a_profile_that_is_not_found_is_told_at_its_line(
    profile: str, said: str, refused_case: Refused
) -> None:
    (told,) = refused_case(f"# a case\nprofile = {profile}\n{REST}")
    assert told.startswith("2: profile ")
    assert said in told


def test_a_broken_profile_file_is_told_by_its_own_name(
    tmp_path: Path, refused_case: Refused
) -> None:
    (tmp_path / "knife.toml").write_text("height_mm = = 3\n")
    (told,) = refused_case(f'profile = "knife.toml"\n{REST}')
    assert told.startswith(f"{tmp_path}/knife.toml:1:")
    assert "no TOML" in told


@pytest.mark.parametrize("name", ["", ".", "a\0b", "no/such/folder.toml"])
def test_names_that_are_no_file(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(BadInput):
        read_case(name)


@pytest.mark.parametrize("ending", ["", ".toml"])
def test_a_name_too_long_for_a_file_is_refused(ending: str, refused_case: Refused) -> None:
    # 255 bytes is the most that common file systems take.
    with pytest.raises(BadInput):
        read_case("a" * 300 + ending)
    assert refused_case(f'profile = "{"a" * 300}{ending}"\n{REST}')
