"""The picture: words apart from each other and readable to all, files the same each time."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import replace
from hashlib import sha256
from itertools import combinations
from xml.etree import ElementTree

import numpy as np
import pytest
from matplotlib.text import Text
from PIL import Image

from simedge.output.alt_text import MOST_LETTERS, alt_text, plain_text
from simedge.output.frame_marks import LEADER
from simedge.output.palette import LIGHT, SMALL_PT, drawing_style
from simedge.output.picture_files import TALLEST_PNG, save_png, save_svg
from simedge.output.shown_errors import stress_with_error, with_thin_spaces
from simedge.output.stress_plot import draw_stress
from simedge.output.stress_scale import choose_scale, stress_text
from simedge.runs.answer import LoadAnswer

SVG = "{http://www.w3.org/2000/svg}"
#: Of a picture of four loads, as a file to send.
MOST_SVG_BYTES, MOST_PNG_BYTES = 400_000, 600_000


def texts(figure) -> list[tuple[str, np.ndarray]]:
    """Give each text of a figure with its corners (left, bottom), (right, top) in pixels."""
    with drawing_style(LIGHT):
        figure.canvas.draw()
    found = [t for t in figure.findobj(Text) if t.get_visible() and t.get_text().strip()]
    return [(t.get_text(), t.get_window_extent().get_points()) for t in found]


def crosses(line: np.ndarray, box: np.ndarray) -> bool:
    """Tell whether a straight line of two points passes through a box."""
    points = line[0] + np.linspace(0.0, 1.0, 400)[:, None] * (line[1] - line[0])
    return bool(np.all((points > box[0]) & (points < box[1]), axis=1).any())


def assert_well_laid(figure) -> None:
    """No words on others, none struck through, none beyond the paper, none too small."""
    placed = texts(figure)
    width, height = figure.canvas.get_width_height()
    for words, box in placed:
        assert np.all(box >= 0.0), words
        assert np.all(box <= (width, height)), words
    for (one, a), (other, b) in combinations(placed, 2):
        # a box holds room for accents and descenders: a pixel of it may be shared
        shared = np.minimum(a[1], b[1]) - np.maximum(a[0], b[0])
        assert np.any(shared <= 1.0), f"{one!r} lies over {other!r}"
    for axes in figure.axes:
        for line in axes.lines:
            if line.get_label() == LEADER:
                ends = axes.transData.transform(line.get_xydata())
                struck = [words for words, box in placed if crosses(ends, box)]
                assert not struck
    assert min(t.get_fontsize() for t in figure.findobj(Text)) >= SMALL_PT


def renamed(run, title="", knife="", load=""):
    """Give a run as if its case had been given other names."""
    case = replace(run.case, title=title, profile=replace(run.case.profile, name=knife))
    return replace(run, case=case, loads=tuple(replace(a, name=load) for a in run.loads[:1]))


@pytest.fixture(scope="module")
def four_loads(rope_knife):
    assert len(rope_knife.loads) == 4
    return draw_stress(rope_knife)


def peak_text(answer: LoadAnswer) -> str:
    """Write a section's peak as pictures do: with its error, thin spaces before the unit."""
    value, error = answer.section_peak_von_mises_mpa, answer.errors.section_peak_von_mises_mpa
    assert value is not None
    assert error is not None
    return with_thin_spaces(stress_with_error(value, error))


def test_words_are_apart_and_inside(sample):
    assert_well_laid(draw_stress(sample))


@pytest.mark.parametrize(
    "name",
    [
        "",
        "\n",
        "two\nlines\tand a tab",
        "words " * 33,
        "W" * 200,
        "x" * 5000,
        'Cut <&"\' ]]> & "quotes"',
        "$x^2$ \\alpha {braces",
        "control\x07\x00 and \ud800",
        "漢字 🔪 עברית",
    ],
)
def test_any_name_is_drawn(rope_knife, tmp_path, name):
    figure = draw_stress(renamed(rope_knife, name, name, name))
    assert_well_laid(figure)
    save_png(figure, tmp_path / "stress.png")
    save_svg(figure, tmp_path / "stress.svg")
    root = ElementTree.parse(tmp_path / "stress.svg").getroot()
    assert root.find(f"{SVG}title").text == (plain_text(name) or "Stress in an edge")
    assert plain_text(name) in root.find(f"{SVG}desc").text
    with Image.open(tmp_path / "stress.png") as image:
        assert image.text["Description"] == alt_text(renamed(rope_knife, name, name, name))


def test_long_names_are_cut():
    assert plain_text("x" * 200) == "x" * 200
    assert plain_text("x" * 5000) == "x" * MOST_LETTERS + "…"


def test_files_are_small_and_carry_their_words(four_loads, rope_knife, tmp_path):
    save_png(four_loads, tmp_path / "stress.png")
    save_svg(four_loads, tmp_path / "stress.svg")
    assert (tmp_path / "stress.svg").stat().st_size < MOST_SVG_BYTES
    assert (tmp_path / "stress.png").stat().st_size < MOST_PNG_BYTES
    words = alt_text(rope_knife)
    with Image.open(tmp_path / "stress.png") as image:
        assert image.text["Description"] == words
        assert image.text["Title"] == rope_knife.case.title
        assert image.width == 1200
    root = ElementTree.parse(tmp_path / "stress.svg").getroot()
    assert root.get("role") == "img"
    named = {child.get("id"): child for child in root if child.get("id")}
    assert [named[name].tag for name in root.get("aria-labelledby").split()] == [
        f"{SVG}title",
        f"{SVG}desc",
    ]
    assert f"{root.find(f'{SVG}title').text}\n{root.find(f'{SVG}desc').text}" == words
    # letters are shapes: it looks the same where our type is not installed
    assert not list(root.iter(f"{SVG}text"))
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))


DRAW_TWICE = """
import sys
from hashlib import sha256
from pathlib import Path
from simedge import read_case, run_case
from simedge.output.picture_files import save_png, save_svg
from simedge.output.stress_plot import draw_stress
run = run_case(read_case("rope-knife-in-a-knot"))
for folder in sys.argv[1:]:
    figure = draw_stress(run)
    for save, name in ((save_png, "stress.png"), (save_svg, "stress.svg")):
        save(figure, Path(folder) / name)
        print(sha256((Path(folder) / name).read_bytes()).hexdigest())
"""


def test_bytes_are_the_same_in_every_run(rope_knife, tmp_path):
    (tmp_path / "one").mkdir()
    (tmp_path / "two").mkdir()
    done = subprocess.run(
        [sys.executable, "-c", DRAW_TWICE, str(tmp_path / "one"), str(tmp_path / "two")],
        capture_output=True,
        text=True,
        check=True,
    )
    figure = draw_stress(rope_knife)
    save_png(figure, tmp_path / "stress.png")
    save_svg(figure, tmp_path / "stress.svg")
    here = [
        sha256((tmp_path / name).read_bytes()).hexdigest() for name in ("stress.png", "stress.svg")
    ]
    assert done.stdout.split() == here * 2


def test_leaders_are_there_to_be_looked_at(four_loads):
    lines = [line for axes in four_loads.axes for line in axes.lines]
    assert sum(line.get_label() == LEADER for line in lines) >= 4


def test_one_load_and_many(rope_knife, four_loads, tmp_path):
    one = draw_stress(replace(rope_knife, loads=rope_knife.loads[:1]))
    assert one.get_size_inches()[0] == four_loads.get_size_inches()[0]
    assert one.get_size_inches()[1] < 0.5 * four_loads.get_size_inches()[1]
    drawn = [words for words, _ in texts(four_loads)]
    for answer in rope_knife.loads:
        assert answer.name in drawn
        assert f"peak {peak_text(answer)}" in drawn


def test_a_very_tall_picture_loses_sharpness_and_not_its_end(four_loads, tmp_path, monkeypatch):
    assert four_loads.get_size_inches()[1] * 160 < TALLEST_PNG
    monkeypatch.setattr("simedge.output.picture_files.TALLEST_PNG", 500)
    save_png(four_loads, tmp_path / "stress.png")
    with Image.open(tmp_path / "stress.png") as image:
        assert 495 <= image.height <= 500


def test_alternative_text_tells_the_numbers(sample):
    words = alt_text(sample)
    scale = choose_scale(sample)
    assert words.startswith(sample.case.title)
    assert stress_text(sample.steel.yield_strength_mpa) in words
    assert f"from 0 to {stress_text(scale.end_mpa)}" in words
    assert ("clipped" in words) == scale.clipped
    for answer in sample.loads:
        assert f"{answer.name}. {answer.sentence}" in words
        if answer.section_peak_von_mises_mpa is not None:
            assert peak_text(answer) in words
        if answer.patch_peak_von_mises_mpa is not None:
            assert stress_text(answer.patch_peak_von_mises_mpa) in words


def test_alternative_text_tells_of_both_sides_where_they_are_alike(slim):
    crooked, straight = alt_text(slim).split("\n")[2:]
    assert "the same on the other side" in straight
    assert "the same on the other side" not in crooked


def test_past_yield_is_marked_only_where_there_is_any(slim):
    both = [words for words, _ in texts(draw_stress(slim))]
    mild = [words for words, _ in texts(draw_stress(replace(slim, loads=slim.loads[1:])))]
    assert "past yield" in both
    assert "past yield" not in mild
    assert any(re.search(r"beyond this scale", words) for words in mild)


def test_past_yield_is_told_where_only_the_patch_yields(crushed_land):
    (answer,) = crushed_land.loads
    assert answer.yield_depth_mm > 0.0
    assert answer.first_yield_load_factor > 1.0
    assert "past yield" in [words for words, _ in texts(draw_stress(crushed_land))]


def test_a_peak_is_told_only_where_there_is_one(crushed_land):
    told = "peak, the highest in the section"
    none = replace(crushed_land.loads[0], section_peak_von_mises_mpa=None)
    assert told in [words for words, _ in texts(draw_stress(crushed_land))]
    assert told not in [w for w, _ in texts(draw_stress(replace(crushed_land, loads=(none,))))]


def test_a_persons_own_settings_change_nothing(rope_knife, tmp_path):
    import matplotlib

    one = replace(rope_knife, loads=rope_knife.loads[:1])
    save_png(draw_stress(one), tmp_path / "plain.png")
    with matplotlib.rc_context({"font.size": 30, "savefig.dpi": 20, "lines.linewidth": 9}):
        save_png(draw_stress(one), tmp_path / "odd.png")
        assert matplotlib.rcParams["font.size"] == 30
    assert (tmp_path / "plain.png").read_bytes() == (tmp_path / "odd.png").read_bytes()
