"""Stiffness for people: figures with their errors, and a picture that reads in grey."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.patches import Polygon
from matplotlib.text import Text
from PIL import Image

from simedge import read_profile, stiffness_of
from simedge.output.deflection_plot import draw_deflection, round_magnification
from simedge.output.palette import LIGHT, SMALL_PT, drawing_style
from simedge.output.picture_files import save_png, save_svg
from simedge.output.stiffness_files import stiffness_csv, stiffness_text
from simedge.output.stiffness_table import print_stiffness, shown_with_error
from simedge.output.terminal import console
from simedge.studies.stiffness import StiffnessStudy

KNIVES = ("kitchen-knife", "chisel", "axe")


@pytest.fixture(scope="module")
def study() -> StiffnessStudy:
    return stiffness_of([read_profile(name) for name in KNIVES], held_at_mm=20.0, at_mm=[1.0, 19.0])


@pytest.fixture(scope="module")
def picture(study: StiffnessStudy) -> Figure:
    return draw_deflection(study)


@pytest.mark.parametrize(
    ("value", "error", "shown"),
    [
        (1.45364, 0.00021, "1.454 ± 0.001"),  # four figures at most
        (1.45364, 0.021, "1.45 ± 0.03"),  # the error rounded up, the value to its place
        (1.45364, 0.0, "1.454 ± 0.001"),  # no measured difference is not no error
        (0.0123456, 0.00001, "0.01235 ± 0.00001"),
        (9.9996, 0.0095, "10.00 ± 0.01"),
        (12346.0, 3.0, "12350 ± 10"),
        (263.97, 0.96, "264 ± 1"),
        (1.46, 0.096, "1.5 ± 0.1"),
    ],
)
def test_value_with_its_error(value: float, error: float, shown: str):
    assert shown_with_error(value, error) == shown


@pytest.mark.parametrize("largest", [0.0123, 0.99, 1.0, 6.99, 34.0, 2345.0])
def test_magnification_is_round_and_not_too_large(largest: float):
    chosen = round_magnification(largest)
    assert 0.6 * largest < chosen <= largest
    assert chosen == float(f"{chosen:.2g}")


def test_table_has_a_row_a_blade_and_place(study: StiffnessStudy, capsys):
    print_stiffness(study, "Steel of any grade.", console())
    said = capsys.readouterr().out
    table = said[said.index("pushed at") : said.index("mind:") if "mind:" in said else None]
    for name in ("kitchen knife", "chisel", "axe"):
        assert sum(name in line for line in table.splitlines()) == len(study.places_mm)
    # 19 mm is within two thicknesses of where all are held: starred, each of them
    rows = said[said.index("19 mm behind") :].splitlines()[:3]
    assert all(row.rstrip().endswith("*") for row in rows)
    assert not any(
        line.rstrip().endswith("*")
        for line in said.split("19 mm behind")[0].splitlines()
        if "kitchen" in line
    )
    assert max(map(len, said.splitlines())) <= 100


def test_csv_and_json_have_every_place(study: StiffnessStudy):
    assert len(stiffness_csv(study).splitlines()) == 1 + len(KNIVES) * len(study.places_mm)
    text = stiffness_text(study)
    assert text.endswith("}\n")
    assert text.count('"at_mm"') == len(KNIVES) * len(study.places_mm)


def texts(figure: Figure) -> list[Text]:
    with drawing_style(LIGHT):
        figure.canvas.draw()
    return [t for t in figure.findobj(Text) if t.get_visible() and t.get_text().strip()]


def test_words_are_apart_and_readable(picture: Figure):
    placed = [(t.get_text(), t.get_window_extent().get_points()) for t in texts(picture)]
    width, height = picture.canvas.get_width_height()
    for words, box in placed:
        assert np.all(box >= 0.0), words
        assert np.all(box <= (width, height)), words
    for (one, a), (other, b) in combinations(placed, 2):
        shared = np.minimum(a[1], b[1]) - np.maximum(a[0], b[0])
        assert np.any(shared <= 1.0), f"{one!r} lies over {other!r}"
    assert min(t.get_fontsize() for t in texts(picture)) >= SMALL_PT


def shapes(figure: Figure) -> list[list[Polygon]]:
    """Give the deflected outline, the unloaded one and the arrow's head of each row."""
    rows = [axes.findobj(Polygon) for axes in figure.axes]
    return [row for row in rows if len(row) == 3]


def test_all_blades_share_scale_magnification_and_apex(picture: Figure, study: StiffnessStudy):
    rows = shapes(picture)
    assert len(rows) == len(study.blades)
    lengths, ratios, apexes = [], [], []
    for (bent, still, _), blade in zip(rows, study.blades, strict=True):
        outline, moved = still.get_xy(), bent.get_xy()[: len(still.get_xy())]
        foremost = int(np.argmin(outline[:, 0]))
        apexes.append(still.axes.transData.transform(outline[foremost])[0])
        lengths.append((outline[:, 0].max() - outline[:, 0].min()) / blade.held_at_mm)
        down = outline[foremost, 1] - moved[foremost, 1]
        ratios.append(down * blade.places[0].stiffness_n_per_mm2 / lengths[-1])
    assert np.ptp(apexes) < 0.5
    assert lengths == pytest.approx([lengths[0]] * len(lengths), rel=1e-6)
    (about,) = [
        t.get_text() for t in texts(picture) if "moved" in t.get_text() and "times" in t.get_text()
    ]
    told = float(about.split("moved ")[1].split(" times")[0])
    assert ratios == pytest.approx([told] * len(ratios), rel=1e-4)


def test_only_the_arrow_has_the_accent(picture: Figure):
    for bent, still, head in shapes(picture):
        assert head.get_facecolor()[:3] == pytest.approx(to_rgb(LIGHT.work))
        for other in (bent, still):
            assert other.get_facecolor()[:3] != pytest.approx(to_rgb(LIGHT.work))
            assert other.get_edgecolor()[:3] != pytest.approx(to_rgb(LIGHT.work))
        # lighter steel within a dark line, in front of a thin line: told apart without colour
        assert bent.get_linewidth() > 1.5 * still.get_linewidth()
        assert bent.get_zorder() >= still.get_zorder()


def test_words_of_the_picture_and_files(picture: Figure, study: StiffnessStudy, tmp_path: Path):
    words = str(picture.get_label())
    assert words.startswith("How stiff these blades are\n")
    assert "held" in words.lower()
    for blade in study.blades:
        assert f"{blade.name}: apex moves" in words
    for name, save in (("a.png", save_png), ("a.svg", save_svg)):
        save(picture, tmp_path / name)
    with Image.open(tmp_path / "a.png") as made:
        assert made.info["Description"] == words
    svg = (tmp_path / "a.svg").read_text(encoding="utf-8")
    assert "<desc" in svg
    first = (tmp_path / "a.svg").read_bytes()
    save_svg(draw_deflection(study), tmp_path / "a.svg")
    assert (tmp_path / "a.svg").read_bytes() == first
