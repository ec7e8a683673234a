"""The points of an outline: what is read, and the line of each thing that cannot be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.inputs.outline_csv import MOST_POINTS, MOST_TOLD, parse_points

WEDGE = "x_mm,y_mm\n28,1.6\n0,0\n28,-1.6\n"
POINTS = ((28.0, 1.6), (0.0, 0.0), (28.0, -1.6))


def told(text: str) -> list[str]:
    with pytest.raises(BadInput) as caught:
        parse_points(text, "knife.csv")
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize(
    "text",
    [
        WEDGE,
        WEDGE.replace(",", ";"),
        WEDGE.replace(",", "\t"),
        "\ufeff" + WEDGE,
        WEDGE.replace("\n", "\r\n"),
        WEDGE.replace("\n", "\r"),
        "# traced on a Monday\n\n" + WEDGE.replace("0,0", "0 , 0  # the edge"),
        "Y_mm,X_mm\n1.6,28\n0,0\n-1.6,28\n",
        WEDGE.replace("28", "2.8e1").replace("0,0", "'+.0',\"-0.\""),
    ],
    ids=["plain", "semicolons", "tabs", "mark", "CRLF", "CR", "comments", "y first", "spellings"],
)
def test_ways_to_write_the_same_points(text: str) -> None:
    assert parse_points(text, "knife.csv").points_mm == POINTS


def test_each_point_knows_its_line_and_the_digits_that_it_was_written_with() -> None:
    read = parse_points("# name: worn knife\n#source = a shoebox\nx_mm,y_mm\n\n1.25,0\n2,3\n", "a")
    assert read.lines == (5, 6)
    assert read.rounding_mm == 0.005
    assert (read.name, read.source) == ("worn knife", "a shoebox")


# inches by definition 25.4 mm; a micrometre is a thousandth
@pytest.mark.parametrize(("unit", "scale", "word"), [("in", 25.4, "inches"), ("um", 1e-3, "micro")])
def test_other_units_are_converted_and_said(unit: str, scale: float, word: str) -> None:
    read = parse_points(f"x_{unit},y_{unit}\n0.5,0.25\n1.0,-2.0\n", "knife.csv")
    assert read.points_mm == ((0.5 * scale, 0.25 * scale), (1.0 * scale, -2.0 * scale))
    assert read.rounding_mm == pytest.approx(0.005 * scale, rel=1e-12)
    (said,) = read.remarks
    assert word in said
    assert f"y_{unit} = -2 read as {-2 * scale:g} mm" in said


SLIPS = {
    "blank cell": ("0,0", ",0", 3, ["x_mm is blank"]),
    "nan": ("0,0", "nan,0", 3, ["x_mm is nan, but must be finite"]),
    "infinite": ("0,0", "0,-inf", 3, ["y_mm is -inf, but must be finite"]),
    "beyond doubles": ("0,0", "0,1e999", 3, ["must be finite"]),
    "text": ("0,0", "0,tip", 3, ['y_mm is "tip"', "plain number"]),
    "unit": ("28,1.6", "28 mm,1.6", 2, ['"28 mm"', "without unit"]),
    "three columns": ("0,0", "0,0,0", 3, ['"0,0,0"', "two numbers"]),
    "one column": ("0,0", "0", 3, ["two numbers"]),
    "decimal commas": ("28,1.6", "28,0,1,6", 2, ["with a point: 28.0,1.6"]),
    "semicolon in one line": ("28,1.6", "28;1.6", 2, ["a comma in line 1", "a semicolon here"]),
    "underscores": ("28,1.6", "2_8,1.6", 2, ['"2_8"', "plain number"]),
    "no header": ("x_mm,y_mm\n", "", 1, ["must name the columns", "x_mm,y_mm"]),
    "two units": ("x_mm,y_mm", "x_mm,y_inch", 1, ["in two units", "x_mm,y_mm"]),
    "one axis": ("x_mm,y_mm", "x_mm,x_mm", 1, ["must be x_mm,y_mm"]),
    "unknown unit": ("x_mm,y_mm", "x_px,y_px", 1, ["must be x_mm,y_mm"]),
    "no unit": ("x_mm,y_mm", "x,y", 1, ["must be x_mm,y_mm"]),
    "spaces": ("x_mm,y_mm", "x_mm y_mm", 1, ["must be x_mm,y_mm"]),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_one_slip_is_told_at_its_line(slip: str) -> None:
    old, new, line, words = SLIPS[slip]
    assert WEDGE.count(old) == 1
    (said,) = told(WEDGE.replace(old, new))
    assert said.startswith(f"knife.csv:{line}: ")
    for word in words:
        assert word in said


def test_decimal_commas_between_semicolons() -> None:
    said = told("x_mm;y_mm\n0,5;1,2\n")
    assert said == [
        'knife.csv:2: x_mm is "0,5", but a decimal number is written with a point; write 0.5'
    ]
    (said_of_comma,) = told("x_mm,y_mm\n0,5;1,2\n")
    assert "by a semicolon here; and decimals have a point" in said_of_comma


def test_a_file_that_is_wrong_throughout_is_told_in_a_few_lines() -> None:
    said = told("x_mm,y_mm\n" + "a,b\n" * 500)
    assert len(said) == MOST_TOLD + 1
    assert said[-1] == f"knife.csv: and {500 - MOST_TOLD} more lines cannot be read"


def test_too_many_points_are_refused_with_how_many_to_keep() -> None:
    (said,) = told("x_mm,y_mm\n" + "1,2\n" * (2 * MOST_POINTS + 1))
    assert "holds 10001 points, but at most 5000" in said
    assert "one in 3" in said


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n"])
def test_an_empty_file_is_told_what_to_begin_with(text: str) -> None:
    assert told(text) == [
        "knife.csv: is empty, but must begin with a line x_mm,y_mm (or x_um,y_um, or x_in,y_in)"
    ]


@given(st.text(alphabet="xy_mm,;\t#\n\r.0159-+e\"'naµ"))
def test_whatever_a_file_holds_it_is_read_or_refused_in_printable_lines(text: str) -> None:
    for start in ("", "x_mm,y_mm\n"):
        read, said = None, []
        try:
            read = parse_points(start + text, "knife.csv")
        except BadInput as error:
            said = [str(problem) for problem in error.problems]
        assert all(line.isprintable() for line in said)
        assert bool(said) == (read is None)
