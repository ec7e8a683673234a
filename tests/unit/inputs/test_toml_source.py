"""Reading TOML: refusals in one line, and the line of every key."""

import codecs
import os
import tomllib
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.inputs.key_paths import KeyPath, dotted
from simedge.inputs.shown_values import one_line
from simedge.inputs.text_file import LARGEST_FILE_BYTES
from simedge.inputs.toml_lines import DEEPEST_NESTING
from simedge.inputs.toml_source import TomlDocument, parse_toml, read_toml


def refusal(text: str) -> str:
    with pytest.raises(BadInput) as caught:
        parse_toml(text, "f.toml")
    return one_line_of(caught.value)


def file_refusal(path: str | Path) -> str:
    with pytest.raises(BadInput) as caught:
        read_toml(path)
    return one_line_of(caught.value)


def one_line_of(error: BadInput) -> str:
    assert len(error.problems) == 1
    assert "\n" not in str(error)
    assert error.__cause__ is None
    return str(error)


# -- files ----------------------------------------------------------------------------


def test_reads_a_file_and_names_it_as_given(tmp_path, monkeypatch):
    (tmp_path / "knife.toml").write_text("[apex]\nradius_um = 1.5\n")
    monkeypatch.chdir(tmp_path)
    document = read_toml("knife.toml")
    assert document.data == {"apex": {"radius_um": 1.5}}
    assert document.path == Path("knife.toml")
    assert document.place_of(("apex", "radius_um")) == "knife.toml:2"


def test_missing_file_names_its_nearest_neighbours(tmp_path):
    (tmp_path / "rope-knife.toml").touch()
    (tmp_path / "axe.toml").touch()
    path = tmp_path / "ropeknife.toml"
    assert file_refusal(path) == f"{path}: there is no such file; did you mean rope-knife.toml?"
    assert file_refusal(tmp_path / "axe").endswith("did you mean axe.toml?")
    assert file_refusal(tmp_path / "quite another").endswith("has a name like it")


def test_missing_folder_is_named(tmp_path):
    assert f"nor is there a folder {tmp_path / 'no'}" in file_refusal(tmp_path / "no" / "a.toml")
    (tmp_path / "file").touch()
    assert "there is no such file" in file_refusal(tmp_path / "file" / "a.toml")


def test_folder_is_refused_with_what_it_holds(tmp_path):
    (tmp_path / "a.toml").touch()
    assert file_refusal(tmp_path).endswith("is a folder, but must be a file; it holds a.toml")


def test_unreadable_file(tmp_path, monkeypatch):
    path = tmp_path / "a.toml"
    path.write_text("a = 1")

    def denied(*_args, **_kwargs):  # root, who runs the tests in containers, is never denied
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", denied)
    assert "cannot be read (Permission denied)" in file_refusal(path)


def test_huge_file_is_refused_before_it_is_opened(tmp_path, monkeypatch):
    path = tmp_path / "huge.toml"
    with path.open("wb") as file:
        file.truncate(200_000_000)
    monkeypatch.setattr(Path, "open", lambda *_: pytest.fail("opened"))
    assert "is 200 MB, but must be at most 1 MB" in file_refusal(path)


def test_largest_allowed_file_is_read(tmp_path):
    path = tmp_path / "a.toml"
    path.write_text("a = 1\n#" + "x" * (LARGEST_FILE_BYTES - 7))
    assert path.stat().st_size == LARGEST_FILE_BYTES
    assert read_toml(path).data == {"a": 1}


def test_pipe_is_refused_instead_of_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    assert "is a pipe or device" in file_refusal(tmp_path / "pipe")


@pytest.mark.parametrize("name", ["a\0b", "\udcff\n" + "x" * 300])
def test_impossible_names(name):
    file_refusal(name)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "is empty"),
        (b" \n\t\n", "is empty"),
        (codecs.BOM_UTF8, "is empty"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is a binary file"),
        (bytes(range(1, 32)) * 4, "is a binary file"),
        (b"\0" * 64, "is a binary file"),
        ("a = 1".encode("utf-16"), "is UTF-16 or UTF-32 text"),
        ("a = 1".encode("utf-16-le"), "is UTF-16 or UTF-32 text"),
        ("a = 1".encode("utf-16-be"), "is UTF-16 or UTF-32 text"),
        ("a = 1".encode("utf-32"), "is UTF-16 or UTF-32 text"),
        ("a = 1\nname = 'Säge'".encode("latin-1"), ":2: byte 0xe4 is not UTF-8"),
    ],
)
def test_other_encodings(tmp_path, raw, said):
    path = tmp_path / "a.toml"
    path.write_bytes(raw)
    assert said in file_refusal(path)


def test_byte_order_mark_and_crlf_are_accepted(tmp_path):
    path = tmp_path / "a.toml"
    path.write_bytes(codecs.BOM_UTF8 + b"a = 1\r\nb = '''\r\n'''\r\nc = 3\r\n")
    document = read_toml(path)
    assert document.data == {"a": 1, "b": "", "c": 3}
    assert document.line_of(("c",)) == 4


# -- syntax ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "column", "hint"),
    [
        ("name = “rope”", 8, "straight quotes"),
        ("“name” = 1", 1, "straight quotes"),
        ("dps = −3", 7, "plain minus"),
        ("dps\u00a0= 3", 4, "plain spaces"),
        ("radius_um = 0,15", 14, "with a point"),
        ("radius_um = .5", 13, "the 0 before the point"),
        ("radius_um = 5.", 14, "a digit after the point"),
        ("radius_um = 05", 14, "leading zeros"),
        ("height_mm = 28 mm", 16, "without unit"),
        ("height_mm = 28mm # high", 15, "without unit"),
        ("share = 30 %", 12, "without unit"),
        ("sharp = True", 9, "small letters"),
        ("kind = flat", 8, "text stands in quotes"),
        ('profile = "C:\\x"', 16, "single quotes"),
        ("dps =", 6, "a value is missing"),
        ("dps: 15", 4, "= instead of the colon"),
        ("dps", 4, "key = value"),
        ("dps 15", 5, "key = value"),
        ("dps == 15", 6, "a single ="),
        ("dps := 15", 5, "a single ="),
        ("// edge", 1, "a comment begins with #"),
        ("dps = 15 // edge", 10, "a comment begins with #"),
        ("; edge", 1, "a comment begins with #"),
        ("force_n = 1 000", 13, "without spaces"),
        ("dps = 15/2", 9, "a fraction as a decimal"),
        ("dps = ½", 7, "a fraction as a decimal"),
        ("dps = １５", 7, "the digits 0 to 9"),
        ("dps = ~15", 7, "write one number"),
        ("dps = 15±1", 9, "write one number"),
        ("dps = 14-16", 9, "write one number"),
        ("dps = none", 7, "leave the key out"),
        ("dps = null", 7, "leave the key out"),
        ("dps = 15°", 9, "without unit"),
        ("force_n = 4N", 12, "without unit"),
        ('profile = "rope', 16, "close the quotes"),
        ("[steel", 7, "close the brackets"),
        ("[[loads]", 8, "close the brackets"),
        ("steel {", 7, "begin a table"),
        ('{"dps": 15}', 1, "begin a table"),
        ("höhe_mm = 28", 2, "as the examples have them"),
        ("height mm = 28", 8, "no spaces"),
        ("x_mm,y_mm", 5, "the file that was meant"),
        ("<!DOCTYPE html>", 1, "the file that was meant"),
    ],
)
def test_syntax_error_has_place_line_and_hint(line, column, hint):
    said = refusal(f"schema = 1\n{line}\nlast = 1\n")
    assert said.startswith(f"f.toml:2:{column}: this is no TOML (")
    assert line.strip().replace("\u00a0", "\\xa0") in said
    assert hint in said.rpartition(";")[2]


def test_hint_is_not_about_another_statement():
    assert "quotes" not in refusal("a = 1 # “quoted”, 0,15\nb = [1,\n")


def test_error_at_the_end_names_the_last_line_that_says_something():
    assert refusal("a = [1,\n2\n\n").startswith("f.toml:2:2: this is no TOML (unclosed array): 2")


def test_long_line_is_cut_about_the_place():
    said = refusal("a = [" + "1, " * 500 + "oops, " + "2, " * 500 + "]")
    assert "oops" in said
    assert len(said) < 250


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a = 1\nb = 2\na = 3", "f.toml:3: a is given twice, first in line 1"),
        ("[s]\nx = 1\n\n[s]\ny = 2", "f.toml:4: [s] is given twice, first in line 1"),
        ("s = 1\n[[s]]", "f.toml:2: [[s]] is given here, but s in line 1; keep one of them"),
        ("[s]\nx = 1\n[[s]]", "f.toml:3: [[s]] is given here, but [s] in line 1; write both as"),
        ("[[s]]\nx = 1\n[s]", "f.toml:3: [s] is given here, but [[s]] in line 1; write both as"),
        ("[[s.t]]\n[[s]]", "f.toml:2: [[s]] is given here, but [s] in line 1; write both as [[s"),
        ("[s.t]\n[[s]]", "f.toml:2: [[s]] is given here, but [s] in line 1; write both as [[s]]"),
        ("[[b]]\ndps = 1\n[[b]]\ndps = 1\ndps = '''\n'''", "f.toml:5: b[1].dps is given twice"),
        ("a = {\"b\" = 1, 'b' = 2}", "f.toml:1: a.b is given twice, first in line 1"),
        ('"a\\u0062" = 1\nab = 2', "f.toml:2: ab is given twice, first in line 1"),
    ],
)
def test_duplicate_key_names_both_lines(text, said):
    assert said in refusal(text)


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 5000,
        "a = " + "{a = " * 5000,
        ".".join(["a"] * 5000) + " = 1",
        "[" + ".".join(["a"] * 5000) + "]",
    ],
)
def test_deep_nesting_is_refused_at_once(text):
    assert f"f.toml:2: is nested more than {DEEPEST_NESTING} deep" in refusal("b = 1\n" + text)


def test_number_without_end_is_refused():
    # Python itself raises a plain ValueError beyond 4300 digits
    assert "f.toml:2: a value without quotes is too long" in refusal("a = 1\nb = " + "9" * 5000)
    assert parse_toml("a = 1e300", "f.toml").data == {"a": 1e300}


@pytest.mark.parametrize("path", [(), ("nothing",), ("b", 7, "x")])
def test_absent_key_gets_the_line_of_the_nearest_table(path):
    document = parse_toml("\na = 1\n[[b]]\nx = 1\n", "f.toml")
    assert document.line_of(path) == (3 if path[:1] == ("b",) else 1)


def test_table_that_follows_its_own_subtable():
    document = parse_toml("[a.b]\nx = 1\n[a]\ny = 2\n", "f.toml")
    assert [document.line_of(path) for path in (("a",), ("a", "b"), ("a", "y"))] == [3, 1, 4]


def test_dotted_and_one_line():
    assert dotted(("a b", 0, "c")) == '"a b"[0].c'
    assert one_line("a\x1b\ud800\n" + "x" * 100, 20) == "a\\x1b\\ud800\\nxxxx..."


# -- every document -------------------------------------------------------------------

#: Values over one or more lines, and the lines of what is inside, counted from their first.
VALUES: tuple[tuple[str, dict[KeyPath, int]], ...] = (
    ("-1.5e3 # = [", {}),
    ("1979-05-27 07:32:00", {}),
    ('"# [no] = \\" \\\\"', {}),
    ("'C:\\'", {}),
    ('"""\n[x]\nq = 1 \\"""\n""x"""""', {}),
    ("'''\nq = 1 ''\n''''", {}),
    ('""', {}),
    ("[]", {}),
    (
        "[\n1, # ]\n\n  [2,\n3],{u = '}'},\n]",
        {(0,): 1, (1,): 3, (1, 0): 3, (1, 1): 4, (2,): 4, (2, "u"): 4},
    ),
    (
        "{ p = [\n1 ], 'q r' . s = {} }",
        {("p",): 0, ("p", 0): 1, ("q r",): 1, ("q r", "s"): 1},
    ),
)
NUISANCE = st.sampled_from(["", "\n", "# a = 1\n", " \t\n\n", '# """\n'])


@st.composite
def documents(draw: st.DrawFn) -> tuple[str, dict[KeyPath, int]]:
    """A valid document and the line of each of its keys."""
    text = draw(NUISANCE)
    lines: dict[KeyPath, int] = {}
    here = lambda: text.count("\n") + 1  # noqa: E731

    def pairs(table: KeyPath) -> None:
        nonlocal text
        for number in range(draw(st.integers(0, 3))):
            text += draw(NUISANCE) + draw(st.sampled_from(["", "  "]))
            bare, shown = draw(
                st.sampled_from(
                    (
                        ((f"k{number}",), f"k{number}"),
                        ((f"k {number}",), f'"k {number}"'),
                        ((f"d{number}", "e.f"), f"d{number} . 'e.f'"),
                    )
                )
            )
            for end in range(len(bare)):
                lines[(*table, *bare[: end + 1])] = here()
            value, inside = draw(st.sampled_from(VALUES))
            for path, below in inside.items():
                lines[(*table, *bare, *path)] = here() + below
            text += f"{shown} = {value}\n"

    pairs(())
    for number in range(draw(st.integers(0, 3))):
        name = f"t{number}"
        text += draw(NUISANCE)
        if draw(st.booleans()):
            lines[(name,)] = here()
            text += f"[{name}]\n"
            pairs((name,))
            continue
        for entry in range(draw(st.integers(1, 3))):
            lines.setdefault((name,), here())
            lines[(name, entry)] = here()
            text += f"[[ {name} ]]\n"
            pairs((name, entry))
            if draw(st.booleans()):
                text += draw(NUISANCE)
                lines[(name, entry, "sub")] = here()
                text += f"[{name}.sub]\n"
                pairs((name, entry, "sub"))
    return text, lines


@given(documents())
def test_every_key_has_its_line(drawn):
    text, lines = drawn
    if text.strip():
        assert parse_toml(text, "f.toml").lines == lines


def paths_of(data: object, path: KeyPath = ()) -> set[KeyPath]:
    inner = (
        data.items()
        if isinstance(data, dict)
        else enumerate(data)
        if isinstance(data, list)
        else ()
    )
    found = {path} if path else set()
    return found.union(*(paths_of(value, (*path, key)) for key, value in inner))


FRAGMENTS = st.lists(
    st.sampled_from(["a = 1\n", "[a]\n", "[[a]]\n", "b = [1,\n2]\n", "c = {d = 1}\n", "1979-05-27"])
    | st.sampled_from(["a", "b.c", "'d'", '"\\u0065"', "0x_", "inf", "1e400", "true", "'''", '"""'])
    | st.sampled_from([*"=[]{},.-1\\# \t\n\r“\0\ufeff", "[[", "]]"])
).map("".join)


@given(FRAGMENTS | st.text() | st.text(st.characters(exclude_categories=())))
@example("a\ud800 = 1")
@example("a = 1 # \r")
def test_any_text_ends_in_a_document_or_bad_input(text):
    said = ""
    try:
        document = parse_toml(text, "f.toml")
    except BadInput as error:
        said = one_line_of(error)
    if said:
        assert said.startswith("f.toml:")
        assert said.isprintable()
        return
    assert isinstance(document, TomlDocument)
    assert document.data == tomllib.loads(text.removeprefix("\ufeff")) or "nan" in text
    assert set(document.lines) == paths_of(document.data)
    assert all(1 <= line <= text.count("\n") + 1 for line in document.lines.values())


@given(raw=st.binary(max_size=64))
def test_any_bytes_end_in_a_document_or_bad_input(tmp_path_factory, raw):
    path = tmp_path_factory.getbasetemp() / "any-bytes.toml"
    path.write_bytes(raw)
    try:
        document = read_toml(path)
    except BadInput as error:
        one_line_of(error)
    else:
        assert document.path == path
