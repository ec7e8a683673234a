"""A comparison as picture, table and files."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from io import StringIO

import pytest
from matplotlib.figure import Figure

from simedge import read_case, read_profile
from simedge.output.compare_files import compare_csv, compare_text
from simedge.output.compare_plot import draw_compare
from simedge.output.compare_table import print_compare
from simedge.output.frame_plans import MOST_ALIKE_IN, plan_frames_alike
from simedge.output.stress_scale import shared_scale
from simedge.output.terminal import console
from simedge.output.window_choice import shared_depths
from simedge.studies.compare import Comparison, compare_knives


@pytest.fixture(scope="module")
def study() -> Comparison:
    """Compare the rack's rope knife with one much thicker, one much slimmer and a trace."""
    case = replace(read_case("rope-knife-in-a-knot"), accuracy_percent=10.0)
    case = replace(case, loads=case.loads[1:3], support=replace(case.support, clamp_depth_mm=9.0))
    names = ("axe", "kitchen-knife", "worn-kitchen-knife")
    return compare_knives(case, [read_profile(name) for name in names])


@pytest.fixture(scope="module")
def figure(study: Comparison) -> Figure:
    return draw_compare(study)


def _words(figure: Figure) -> list[str]:
    return [text.get_text() for axes in figure.axes for text in axes.texts]


def test_rows_share_magnification_apexes_and_scale(study: Comparison) -> None:
    answers = [knife.run.loads[0] for knife in study.knives]
    held = [knife.run.outline for knife in study.knives]
    depths = shared_depths(list(zip(answers, held, strict=True)))
    assert max(a.yield_depth_mm for a in answers) <= depths.bevels_mm <= 9.0
    plans = plan_frames_alike(list(zip(answers, held, strict=True)), depths)
    for frames in zip(*plans, strict=True):
        assert len({frame.inches_per_mm for frame in frames}) == 1
        assert len({frame.in_front_in for frame in frames}) == 1
        assert len({frame.width_in for frame in frames}) == 1
        for frame, outline in zip(frames, held, strict=True):
            assert frame.inches_per_mm is not None
            thick = frame.inches_per_mm * outline.thickness_mm(frame.depth_mm)
            assert thick + frame.above_in + frame.below_in <= frame.height_in + 1e-9
            assert frame.in_front_in + frame.inches_per_mm * depths.bevels_mm <= frame.width_in + (
                1e-9
            )
            assert frame.height_in <= MOST_ALIKE_IN


def test_the_scale_is_that_of_the_hardest_worked(study: Comparison) -> None:
    answers = [knife.run.loads[0] for knife in study.knives]
    strength = study.first.run.steel.yield_strength_mpa
    assert shared_scale(answers, strength).yields
    calm = [a for a in answers if (a.section_peak_von_mises_mpa or 0.0) < strength]
    assert calm
    assert not shared_scale(calm, strength).yields


def test_each_row_has_its_knife_and_its_verdict(study: Comparison, figure: Figure) -> None:
    words = " ".join(_words(figure)).replace("\u202f", " ")
    number = study.told_load
    for knife in study.knives:
        assert f"· {knife.name}" in words
        assert knife.run.loads[number].sentence.split(";")[0].split(" behind")[0][:40] in words
    assert "4 knives compared" in words
    assert "is harder on it" not in words


def test_the_picture_in_words_holds_the_numbers(study: Comparison, figure: Figure) -> None:
    words = str(figure.get_label())
    for knife in study.knives:
        assert f": {knife.name}, held from" in words
        assert knife.run.loads[study.told_load].sentence in words
    assert "von Mises stress from 0 to" in words


def test_any_load_may_be_pictured(study: Comparison, figure: Figure) -> None:
    other = 1 - study.told_load
    name = study.first.run.loads[other].name
    words = " ".join(_words(draw_compare(study, other)))
    assert f'under "{name}"' in words
    assert "is harder on it" in words  # the verdict that sets the margin is another load's
    assert f'under "{name}"' not in " ".join(_words(figure))


def test_files_agree(study: Comparison) -> None:
    document = json.loads(compare_text(study), parse_constant=pytest.fail)
    rows = list(csv.DictReader(StringIO(compare_csv(study))))
    assert [row["knife"] for row in rows] == [k["knife"] for k in document["knives"]]
    for row, knife, solved in zip(rows, document["knives"], study.knives, strict=True):
        assert float(row["margin"]) == pytest.approx(knife["margin"], rel=1e-8)
        margins = [load["margin"] for load in knife["loads"]]
        assert knife["margin"] == pytest.approx(min(margins), rel=1e-8)
        assert row["comes_through"] == str(solved.run.comes_through).lower()
        assert (row["damage_depth_mm"] == "") == solved.run.comes_through
    trace = next(row for row in rows if row["knife"] == "worn kitchen knife")
    assert trace["thickness_behind_edge_mm"] == ""
    assert "5 % of a roll" in document["assumptions"]


def test_the_table_tells_all_knives(study: Comparison, capsys: pytest.CaptureFixture[str]) -> None:
    print_compare(study, console())
    said = capsys.readouterr().out
    assert said.index("Of 4 knives") == 0
    for column in ("place", "knife", "× this work", "stiffness", "damage"):
        assert column in said
    assert "…" not in said
    assert max(map(len, said.splitlines())) <= 100
