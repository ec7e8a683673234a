"""The picture of a run: the same bytes each time, its numbers in words, nothing too heavy."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest
from PIL import Image

from simedge import read_case, run_case
from simedge.output.alt_text import alt_text
from simedge.output.stress_plot import draw_stress, save_png, save_svg

#: A person opens it on a telephone.
LARGEST_SVG_BYTES = 450_000


@pytest.fixture(scope="module")
def run():
    return run_case(read_case("rope-knife-in-a-knot"))


def test_the_alt_text_has_the_numbers(run):
    told = alt_text(run)
    for answer in run.loads:
        assert answer.name in told
    assert "2140" in told.replace("\u202f", " ")


def test_bytes_are_the_same_each_time(run, tmp_path):
    for name in ("a", "b"):
        figure = draw_stress(run)
        save_png(figure, tmp_path / f"{name}.png")
        save_svg(figure, tmp_path / f"{name}.svg")
    for kind in ("png", "svg"):
        first, second = ((tmp_path / f"{name}.{kind}").read_bytes() for name in ("a", "b"))
        assert first == second


def test_the_svg_is_light_and_described(run, tmp_path):
    save_svg(draw_stress(run), tmp_path / "stress.svg")
    assert (tmp_path / "stress.svg").stat().st_size < LARGEST_SVG_BYTES
    words = "".join(ElementTree.parse(tmp_path / "stress.svg").getroot().itertext())
    assert "steering the cut" in words


def test_strange_names_are_drawn_and_do_not_break_the_svg(run, tmp_path):
    case = run.case
    strange = replace(case.loads[0], name='<&"' + "long " * 40 + "\nend")
    drawn = run_case(replace(case, title="t" * 200, loads=(strange,)))
    figure = draw_stress(drawn)
    save_svg(figure, tmp_path / "stress.svg")
    ElementTree.parse(tmp_path / "stress.svg")
    save_png(figure, tmp_path / "stress.png")
    with Image.open(tmp_path / "stress.png") as picture:
        assert picture.width > 600
        assert len(picture.convert("L").getcolors(256) or range(300)) > 20
