"""The door: what passes, what is placed where, and that nothing else comes out."""

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.inputs.door import inch_echoes, validated, validated_arguments
from simedge.inputs.toml_source import TomlDocument, parse_toml


def test_valid_document_becomes_its_record(toy):
    text = "count = 2\n[[facets]]\ndps = 15\n[[works]]\nforce_n = 3\n[grind]\nkind = 'flat'\n"
    assert validated(toy.Knife, parse_toml(text, "k.toml")) == toy.Knife(
        count=2,
        facets=(toy.Facet(dps=15.0),),
        works=(toy.Pushed(force_n=3.0),),
        grind=toy.FlatGrind(kind="flat"),
    )


def test_all_problems_at_once_in_the_order_of_the_lines(problems):
    said = problems("height_mm = -1\n[[facets]]\ndps = 95\nbogus = 1\n[metal]\nhardness_hrc = 90\n")
    assert [line.split(": ")[0] for line in said] == [f"k.toml:{n}" for n in (1, 3, 4, 6)]


# -- what validators say ----------------------------------------------------------------


def test_field_problems_are_placed_below_their_record(problems):
    assert problems("[[facets]]\nname = 'odd'\nheight_in = 1\ndps = 1") == [
        "k.toml:1: facets[0] (odd) is odd as a whole",
        "k.toml:3: facets[0].height_in (odd) is odd, but must be even",
    ]


def test_plain_value_error_is_passed_on(problems, toy):
    text = "[[facets]]\nname = 'rude'\ndps = 1"
    assert problems(text) == ["k.toml:1: facets[0] (rude): this facet is rude"]
    with pytest.raises(BadInput) as caught:
        validated(toy.Facet, parse_toml("name = 'rude'\ndps = 1", "f.toml"))
    assert str(caught.value) == "f.toml:1: this facet is rude"


def test_odd_names_stay_on_one_line(problems):
    said = problems('[[facets]]\nname = "a\\nb"\ndps = 95\n')
    assert said[0].startswith("k.toml:3: facets[0].dps (a\\nb) is 95 deg")


# -- one table of a file ------------------------------------------------------------------


def test_one_table_of_a_document(toy):
    document = parse_toml("a = 1\n[knife]\n[[knife.facets]]\ndps = 95\nx = 1\n[[t]]\n", "k.toml")
    with pytest.raises(BadInput) as caught:
        validated(toy.Knife, document, table=("knife",))
    assert str(caught.value).split("\n") == [
        "k.toml:4: knife.facets[0].dps is 95 deg, but must lie in (0, 45]; "
        "an included angle is written as half of it per side",
        "k.toml:5: knife.facets[0].x is not a key of [[knife.facets]]; "
        "its keys are name, dps, height_mm",
    ]
    with pytest.raises(BadInput, match=r"k.toml:1: steel is missing; begin it with \[steel\]"):
        validated(toy.Metal, document, table=("steel",))
    with pytest.raises(BadInput, match=r"k.toml:1: a is 1, but must be a table"):
        validated(toy.Metal, document, table=("a",))


# -- inches -------------------------------------------------------------------------------

INCHES = "height_in = 1.1\nplugged_in = true\n[[facets]]\ndps = 15\nheight_in = 0.01\n"


def test_inches_are_read_as_millimetres_and_echoed(toy):
    document = parse_toml(INCHES, "k.toml")
    knife = validated(toy.Knife, document)
    # 1 in is 25.4 mm exactly; the tolerance is that of one rounding of a product
    assert knife.height_mm == pytest.approx(27.94, rel=1e-15)
    assert knife.facets[0].height_mm == pytest.approx(0.254, rel=1e-15)
    assert knife.plugged_in is True
    assert document.data["height_in"] == 1.1
    echoes = ("height_in = 1.1 read as 27.94 mm", "facets[0].height_in = 0.01 read as 0.254 mm")
    assert inch_echoes(document) == inch_echoes(document, toy.Knife) == echoes


def test_inches_that_no_record_reads_are_not_echoed(problem, toy):
    document = parse_toml("screen_in = 3\n", "k.toml")
    assert inch_echoes(document, toy.Knife) == ()
    assert problem("screen_in = 3").startswith("screen_in is not a key at the top of the file")


def test_inches_beside_millimetres(problem):
    assert problem("height_in = 1\nheight_mm = 25.4") == (
        "height_in is given beside height_mm; keep one of the two"
    )


# -- arguments ------------------------------------------------------------------------------


@pytest.fixture
def argument_problems(toy):
    """Give all that is said about arguments."""

    def said(data: dict[str, Any], *where: Any) -> list[str]:
        with pytest.raises(BadInput) as caught:
            validated_arguments(toy.Knife, data, *where)
        return str(caught.value).split("\n")

    return said


def test_arguments_make_a_record(toy):
    knife = validated_arguments(toy.Knife, {"facets": [{"dps": 7}], "height_in": 1.0})
    assert knife == toy.Knife(facets=(toy.Facet(dps=7.0),), height_mm=25.4)


def test_arguments_name_their_options(argument_problems):
    said = argument_problems({"facets": ({"dps": 95.0},), "height_mm": 0.0})
    assert said == [
        "--height-mm is 0 mm, but must lie in (0, 1000]",
        "--dps is 95 deg, but must lie in (0, 45]; "
        "an included angle is written as half of it per side",
    ]


def test_arguments_with_a_map_of_their_options(argument_problems):
    where = {("facets", 0, "dps"): "--micro", ("metal",): "--steel"}
    data = {"facets": [{"dps": -1, "height_mm": -1}], "metal": {"hardness_hrc": 99}}
    assert argument_problems(data, where) == [
        "--micro is -1 deg, but must lie in (0, 45]",
        "facets[0].height_mm is -1 mm, but must lie in [0, 1000)",
        "--steel: hardness_hrc is 99 HRC, but must lie in [20, 70]",
    ]


# -- anything -------------------------------------------------------------------------------

KEYS = st.sampled_from(
    ["facets", "works", "grind", "metal", "handle", "pair", "limits", "title", "count", "name"] * 2
    + ["dps", "height_mm", "height_in", "pressed", "depth_in_cut_mm", "force_n", "side", "kind"]
)
LEAVES = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=5)
    | st.sampled_from(["flat", "hollow", "left", "odd", "rude", 10**400])
    | st.dates()
)
DATA = st.recursive(
    LEAVES,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(KEYS | st.text(max_size=5), inner, max_size=5)
    ),
    max_leaves=12,
)


@given(st.dictionaries(KEYS | st.text(max_size=5), DATA, max_size=5))
def test_any_data_end_in_a_record_or_bad_input(toy, data):
    document = TomlDocument(path=None, shown_name="k.toml", data=data, lines={})
    said: list[str] = []
    try:
        assert isinstance(validated(toy.Knife, document), toy.Knife)
    except BadInput as error:
        said = [str(one) for one in error.problems]
    for line in said:
        assert line.isprintable()
        assert line.startswith("k.toml:1: ")
        assert not re.search(r"kind_of_work|Input should|dataclass", line)
    assert len(said) == len(set(said))
