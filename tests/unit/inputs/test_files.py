"""Finding and reading files: by path, beside the case, or by name in the library."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge import read_case, read_profile
from simedge.errors import BadInput, Problem
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
        ("5", "profile is 5, but must be the name or file of a profile in quotes, or one table"),
        ("true", "profile is true, but must be the name"),
        ('["rope-knife"]', "profile is a list of 1, but must be the name"),
        ('""', 'profile is "", but must be the name'),
        ('"."', "that is a folder; name a file"),
        ('"~/knife.toml"', "~ is not understood here"),
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


def test_every_slip_of_both_files_is_told_at_its_own_line(
    tmp_path: Path, refused_case: Refused
) -> None:
    (tmp_path / "knife.toml").write_text(
        KNIFE.replace("28.0", '"28"').replace("1.5", "-1.5").replace("[primary", "colour = 1\n[pri")
    )
    rest = REST.replace("60", "6").replace("axial_n_per_mm", "axial_n_per_m")
    told = refused_case(f'schema = "1"\nprofile = "knife.toml"\n{rest}')
    knife, case = f"{tmp_path}/knife.toml:", ""
    for start in (
        f'{knife}1: height_mm is "28", but must be a plain number (mm)',
        f"{knife}4: apex.radius_um is -1.5 µm, but must lie in ",
        f"{knife}5: apex.colour is not a key of [apex]",
        f"{case}1: schema is ",
        f"{case}5: steel.hardness_hrc is 6 HRC",
        f"{case}7: loads[0].axial_n_per_m is not a key",
    ):
        assert [message.startswith(start) for message in told].count(True) == 1, start


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "is empty"),
        (b"\0\1\2\3" * 99, "binary"),
        (KNIFE.encode("utf-16"), "UTF-16"),
        (b"name = 'M\xfcller'\n", "not UTF-8"),
        (b"height_mm = 28 mm\n", "without unit"),
        (b"height_mm = 28\nheight_mm = 29\n", "given twice, first in line 1"),
        (b"# " + b"x" * 1_000_001, "at most 1 MB"),
    ],
)
def test_a_file_that_is_no_text_of_ours_is_one_line_wherever_it_is_named(
    raw: bytes, said: str, tmp_path: Path, refused_case: Refused
) -> None:
    (tmp_path / "odd.toml").write_bytes(raw)
    for read in (read_case, read_profile):
        with pytest.raises(BadInput) as caught:
            read(tmp_path / "odd.toml")
        (problem,) = caught.value.problems
        assert problem.where.startswith(f"{tmp_path}/odd.toml")
        assert said in problem.message
    (told,) = refused_case(f'profile = "odd.toml"\n{REST}')
    assert told.startswith(f"{tmp_path}/odd.toml")
    assert said in told


NAMED = f'profile = "rope-knife"\n{REST}'
ODD_TEXT = {
    "profile file": f'profile = "{{}}.toml"\n{REST}',
    "profile": f'profile = "{{}}"\n{REST}',
    "grade": NAMED.replace("52100", "{}"),
    "medium": NAMED + 'medium = "{}"\n',
    "spread": NAMED + 'spread = "{}"\n',
    "name beside a slip": NAMED + 'name = "{}"\nlevl = 1\n',
    "key": NAMED + '"{}" = 1\n',
}


@pytest.mark.parametrize("place", ODD_TEXT)
@pytest.mark.parametrize(
    "odd", ["two\\nlines", "\\u001b[31mred", "long" * 300], ids=["two lines", "colour", "long"]
)
def test_odd_text_is_told_in_one_printable_line(
    place: str, odd: str, refused_case: Refused
) -> None:
    # What stands in a file may not break the message up, nor colour or clear the terminal.
    for told in refused_case(ODD_TEXT[place].replace("{}", odd)):
        assert told.isprintable()
        assert len(told) < 1000


# ---------------------------------------------------------------- whatever a file holds

#: Nothing that a person writes may take longer to read than this.
PATIENCE_MS = 2000
WHOLE_CASE = (
    REST
    + """\
name = "tip"
[[loads]]
name = "steering"
medium = "hard wood"
depth_in_cut_mm = 0.5
side = "left"
[[loads]]
[[loads.parts]]
at = "right face"
from_mm = 0.0
to_mm = 1.5
pressure_mpa = 40.0
[[loads.parts]]
force_n = 4.0
contact_length_mm = 12.0
[support]
clamp_depth_in = 0.5
[profile]
height_mm = 28.0
spine_thickness_mm = 3.2
apex = { radius_um = 1.5 }
[[profile.bevels]]
left_dps = 15.0
right_dps = 0
height_mm = 0.08
[[profile.bevels]]
dps = 6.0
ends_at_thickness_mm = 0.45
[profile.primary_grind]
left_fraction = 0.25
"""
)
KEYS = sorted({line.split(" = ")[0] for line in WHOLE_CASE.splitlines() if " = " in line})
ODD_VALUES = [
    "0", "-0.0", "-1", "1e-320", "1e308", "-1e308", "1e999", "9" * 400, "nan", "-inf", "true",
    '""', '"1"', "[]", "[[]]", "{}", "[{}]", "{ parts = [] }", "1979-05-27", "45.0", "1000.0",
    "12.7", '"left"', '"rope-knife"', "0x10", "1_000", "'''\n'''", '"\\u0000"', "12,7", "28 mm",
]  # fmt: skip
LINES = st.one_of(
    st.sampled_from([*WHOLE_CASE.splitlines(), "", "]", "\ufeff", "\x00", "= =", "[", '"']),
    st.builds("{} = {}".format, st.sampled_from(KEYS), st.sampled_from(ODD_VALUES)),
    st.builds("{} = {!r}".format, st.sampled_from(KEYS), st.floats()),
    st.text(max_size=20),
)
Edit = tuple[str, int, int, str]
EDITS = st.lists(
    st.tuples(
        st.sampled_from(["delete", "double", "swap", "replace", "insert", "value", "cut"]),
        st.integers(0, len(WHOLE_CASE.splitlines()) - 1),
        st.integers(0, len(WHOLE_CASE.splitlines()) - 1),
        LINES,
    ),
    max_size=4,
)


def mutated(text: str, edits: list[Edit]) -> str:
    """Give a text with some lines deleted, doubled, exchanged, replaced or cut short."""
    lines = text.splitlines()
    for kind, first, second, line in edits:
        if not lines:
            break
        at, other = first % len(lines), second % len(lines)
        if kind == "delete":
            del lines[at]
        elif kind == "double":
            lines.insert(other, lines[at])
        elif kind == "swap":
            lines[at], lines[other] = lines[other], lines[at]
        elif kind == "insert":
            lines.insert(at, line)
        elif kind == "value":
            lines[at] = f"{lines[at].split(' = ')[0]} = {ODD_VALUES[second % len(ODD_VALUES)]}"
        else:
            lines[at] = line if kind == "replace" else lines[at][: second % 12]
    return "\n".join(lines)


def read_or_refused(read: Callable[[Path], object], path: Path) -> None:
    """Read a file; all that may come of it is a record, or problems with their places."""
    problems: tuple[Problem, ...] = ()
    try:
        read(path)
    except BadInput as error:
        problems = error.problems
    for problem in problems:
        assert problem.where
        assert problem.message


@settings(max_examples=400, deadline=PATIENCE_MS)
@given(EDITS)
def test_a_case_with_any_lines_changed_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, edits: list[Edit]
) -> None:
    path = tmp_path_factory.getbasetemp() / "mutated-case.toml"
    path.write_text(mutated(WHOLE_CASE, edits), encoding="utf-8", errors="replace")
    read_or_refused(read_case, path)


@settings(max_examples=200, deadline=PATIENCE_MS)
@given(EDITS)
def test_a_case_of_two_files_with_any_lines_changed_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, edits: list[Edit]
) -> None:
    folder = tmp_path_factory.getbasetemp()
    head = KNIFE + "[[bevels]]\ndps = 11.0\nheight_mm = 0.4\n"
    (folder / "mutated-knife.toml").write_text(
        mutated(head, edits), encoding="utf-8", errors="replace"
    )
    (folder / "its-case.toml").write_text(f'profile = "mutated-knife.toml"\n{REST}')
    read_or_refused(read_profile, folder / "mutated-knife.toml")
    read_or_refused(read_case, folder / "its-case.toml")


def numbers() -> st.SearchStrategy[float]:
    return st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.0, 60.0)


@settings(max_examples=300, deadline=PATIENCE_MS)
@given(
    st.dictionaries(st.sampled_from(["height_mm", "spine_thickness_mm", "height_in"]), numbers()),
    st.dictionaries(st.sampled_from(["radius_um", "land_um"]), numbers(), max_size=1),
    st.lists(
        st.dictionaries(
            st.sampled_from(["dps", "left_dps", "right_dps", "height_mm", "ends_at_thickness_mm"]),
            numbers(),
        ),
        max_size=3,
    ),
    st.dictionaries(st.sampled_from(["dps", "left_dps", "right_dps", "left_fraction"]), numbers()),
)
def test_a_profile_of_any_numbers_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory,
    sizes: dict[str, float],
    apex: dict[str, float],
    bevels: list[dict[str, float]],
    grind: dict[str, float],
) -> None:
    def written(heading: str, table: dict[str, float]) -> str:
        return "\n".join([heading, *(f"{key} = {value!r}" for key, value in table.items()), ""])

    text = "".join(
        [written("", sizes), written("[apex]", apex)]
        + [written("[[bevels]]", bevel) for bevel in bevels]
        + [written("[primary_grind]", grind)]
    )
    path = tmp_path_factory.getbasetemp() / "any-numbers.toml"
    path.write_text(text)
    read_or_refused(read_profile, path)


def test_the_case_that_is_mutated_is_a_whole_one(tmp_path: Path) -> None:
    # Else all that is tried with it would be refused for one and the same reason.
    (tmp_path / "whole.toml").write_text(mutated(WHOLE_CASE, []))
    assert len(read_case(tmp_path / "whole.toml").loads) == 3
