"""The picture of stiffness: each blade, and how the same push on its apex bends it.

Blades are stacked with their apexes aligned on the left, in one scale and one magnification;
the unloaded outline stands as a hairline behind the deflected one.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log10

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from simedge.output.alt_text import plain_text
from simedge.output.drawing_frame import Frame, length_text, unit_for
from simedge.output.label_places import Room, wrap_text
from simedge.output.palette import (
    LIGHT,
    NAME_PT,
    SMALL_PT,
    TEXT_PT,
    TITLE_PT,
    Theme,
    drawing_style,
    type_face,
)
from simedge.output.sheet import (
    MARGIN_IN,
    NAME_LINE_IN,
    PNG_DOTS_PER_INCH,
    SMALL_LINE_IN,
    TEXT_LINE_IN,
    TITLE_LINE_IN,
    WIDTH_IN,
    paper_axes,
    write_lines,
)
from simedge.output.shown_errors import THIN_SPACE, shown_with_error, with_thin_spaces
from simedge.output.stiffness_table import held_sentence
from simedge.section.outline import Floats
from simedge.studies.stiffness import BladeStiffness, StiffnessStudy
from simedge.studies.stiffness_sentence import stiffness_sentences, told_place_mm

INSIDE_IN = WIDTH_IN - 2.0 * MARGIN_IN
#: In front of the apex, for half of the arrow's head; and behind where the blade is held.
BEFORE_IN, BEHIND_IN = 0.12, 0.16
#: The largest movement is drawn at most so far.
LARGEST_MOVE_IN = 0.9
ARROW_IN, HEAD_IN, HEAD_HALF_IN = 0.34, 0.085, 0.032
#: Between an arrow's point and the face, and around a row.
GAP_IN, ROW_GAP_IN = 0.015, 0.16
RULER_IN = 0.55
TITLE = "How stiff these blades are"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scale:
    """What all rows share."""

    inches_per_mm: float
    magnification: float
    theme: Theme


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One blade on the paper; heights in inches."""

    blade: BladeStiffness
    words: tuple[str, ...]
    above_in: float
    below_in: float

    @property
    def height_in(self) -> float:
        written = NAME_LINE_IN + SMALL_LINE_IN * len(self.words)
        return written + self.above_in + self.below_in + ROW_GAP_IN


def round_magnification(largest: float) -> float:
    """Give the largest of 1, 1.5, 2, 3, 5 or 7 times a power of ten that is not above a value.

    >>> round_magnification(43.0), round_magnification(0.18)
    (30.0, 0.15)
    """
    power = 10.0 ** floor(log10(largest) + 1e-12)
    steps = (1.0, 1.5, 2.0, 3.0, 5.0, 7.0)
    return float(f"{max(s for s in steps if s * power <= largest * (1 + 1e-9)) * power:.2g}")


def draw_deflection(study: StiffnessStudy, theme: Theme = LIGHT) -> Figure:
    """Draw how 1 N on each mm of the apex bends every blade of a study.

    Parameters
    ----------
    study : StiffnessStudy
        Made for 1 to 8 blades; with more the picture grows downwards.
    theme : Theme

    Returns
    -------
    matplotlib.figure.Figure
        7.5 inches wide, no text smaller than 8 points. Its label is the picture in words.
    """
    with drawing_style(theme):
        scale = _shared_scale(study, theme)
        told = (told_place_mm(study) or 0.0,)
        rows = [_plan_row(blade, told, scale) for blade in study.blades]
        text, small = type_face(TEXT_PT), type_face(SMALL_PT)
        sentence = wrap_text(with_thin_spaces(stiffness_sentences(study)), text, INSIDE_IN)
        about = wrap_text(with_thin_spaces(_about_words(study, scale)), small, INSIDE_IN)
        head = 0.34 + TITLE_LINE_IN + TEXT_LINE_IN * len(sentence) + SMALL_LINE_IN * len(about)
        height = head + sum(row.height_in for row in rows) + RULER_IN
        figure = Figure(figsize=(WIDTH_IN, height), dpi=PNG_DOTS_PER_INCH)
        FigureCanvasAgg(figure)
        figure.set_label(deflection_words(study, scale.magnification))
        sheet = paper_axes(figure, MARGIN_IN, 0.0, INSIDE_IN, height)
        top = height - 0.22
        write_lines(sheet, top, (TITLE,), TITLE_PT, theme.ink, 0.0, bold=True)
        top -= TITLE_LINE_IN + 0.02
        write_lines(sheet, top, sentence, TEXT_PT, theme.ink, TEXT_LINE_IN)
        top -= TEXT_LINE_IN * len(sentence) + 0.03
        write_lines(sheet, top, about, SMALL_PT, theme.quiet_ink, SMALL_LINE_IN)
        top = height - head
        for number, row in enumerate(rows):
            last = number == len(rows) - 1
            _draw_row(figure, sheet, top, row, scale, arrow_words=number == 0, ruler=last)
            top -= row.height_in
    return figure


def _shared_scale(study: StiffnessStudy, theme: Theme) -> _Scale:
    """Choose the scale by the longest blade, the magnification by the largest movement."""
    longest = max(blade.held_at_mm for blade in study.blades)
    inches_per_mm = (INSIDE_IN - BEFORE_IN - BEHIND_IN) / longest
    largest = max(float(np.abs(blade.shape.moved_y_mm).max()) for blade in study.blades)
    return _Scale(
        inches_per_mm=inches_per_mm,
        magnification=round_magnification(LARGEST_MOVE_IN / (largest * inches_per_mm)),
        theme=theme,
    )


def _outlines_in(blade: BladeStiffness, scale: _Scale) -> tuple[Floats, Floats]:
    """Give the unloaded and the deflected outline from the apex, inches, shape (n, 2)."""
    shape = blade.shape
    still = np.stack([shape.x_mm, shape.y_mm], axis=1)
    moved = np.stack([shape.moved_x_mm, shape.moved_y_mm], axis=1)
    return scale.inches_per_mm * still, scale.inches_per_mm * (still + scale.magnification * moved)


def _plan_row(blade: BladeStiffness, told_mm: tuple[float, ...], scale: _Scale) -> _Row:
    still, bent = _outlines_in(blade, scale)
    said = with_thin_spaces(_blade_words(blade, told_mm))
    words = wrap_text(said, type_face(SMALL_PT), INSIDE_IN)
    return _Row(
        blade=blade,
        words=words,
        above_in=max(ARROW_IN + 2.0 * GAP_IN, float(still[:, 1].max()) + 0.05),
        below_in=max(-float(bent[:, 1].min()), -float(still[:, 1].min())) + 0.05,
    )


def _blade_words(blade: BladeStiffness, depths_mm: tuple[float, ...]) -> str:
    """Say how stiff a blade is: at the apex, and at those depths that it was asked about."""
    words = []
    for place in blade.places:
        if place.at_mm > 0.0 and place.at_mm not in depths_mm:
            continue
        if place.stiffness_n_per_mm2 is None or place.error_n_per_mm2 is None:
            words.append("a perfectly sharp apex gives way without bound")
            continue
        value = shown_with_error(place.stiffness_n_per_mm2, place.error_n_per_mm2)
        value = value.replace(" ", THIN_SPACE)
        if place.at_mm == 0.0:
            moved = length_text(1.0 / place.stiffness_n_per_mm2)
            words.append(f"apex moves {moved}: {value} N/mm per mm of edge")
        else:
            words.append(f"{length_text(place.at_mm)} behind it {value}")
    return "; ".join(words)


def _about_words(study: StiffnessStudy, scale: _Scale) -> str:
    elasticity = study.elasticity
    return (
        f"The same push on every apex; moved {scale.magnification:g} times what it really moves; "
        f"hairline: unloaded. {held_sentence(study)} Steel of "
        f"{elasticity.youngs_modulus_mpa / 1000.0:g}{THIN_SPACE}GPa, Poisson's ratio "
        f"{elasticity.poissons_ratio:g}."
    )


def _draw_row(
    figure: Figure,
    sheet: Axes,
    top: float,
    row: _Row,
    scale: _Scale,
    *,
    arrow_words: bool,
    ruler: bool,
) -> None:
    """Draw one blade from its name down, with the ruler below the last one."""
    theme = scale.theme
    name = wrap_text(plain_text(row.blade.name), type_face(NAME_PT, bold=True), INSIDE_IN)
    write_lines(sheet, top, name[:1], NAME_PT, theme.ink, 0.0, bold=True)
    top -= NAME_LINE_IN
    write_lines(sheet, top, row.words, SMALL_PT, theme.quiet_ink, SMALL_LINE_IN)
    top -= SMALL_LINE_IN * len(row.words)
    height = row.above_in + row.below_in
    frame = Frame(
        axes=paper_axes(figure, MARGIN_IN, top - height, INSIDE_IN, height),
        width_in=INSIDE_IN,
        height_in=height,
        apex_in=(BEFORE_IN, row.below_in),
        inches_per_mm=scale.inches_per_mm,
        room=Room(INSIDE_IN, height),
        theme=theme,
    )
    still, bent = (outline + frame.apex_in for outline in _outlines_in(row.blade, scale))
    frame.axes.add_patch(
        Polygon(bent, facecolor=theme.held, edgecolor=theme.ink, linewidth=1.0, joinstyle="round")
    )
    frame.axes.add_patch(
        Polygon(still, closed=False, facecolor="none", edgecolor=theme.quiet_ink, linewidth=0.5)
    )
    _draw_support(frame, still)
    _draw_arrow(frame, words=arrow_words)
    if ruler:
        frame.draw_ruler()
        caption = f"depth behind the apex, {unit_for(frame.deepest_mm)}"
        frame.axes.text(
            frame.apex_in[0],
            -0.29,
            caption,
            fontproperties=type_face(SMALL_PT),
            color=theme.quiet_ink,
            verticalalignment="top",
        )


def _draw_support(frame: Frame, still: Floats) -> None:
    """Draw what holds the blade: a line with strokes behind it."""
    x, low, high = float(still[0, 0]), float(still[-1, 1]), float(still[0, 1])
    low, high = low - 0.04, high + 0.04
    count = max(round((high - low) / 0.06), 3)
    heights = np.linspace(low, high, count)
    strokes = [[(x, y), (x + 0.07, y + 0.05)] for y in heights]
    frame.axes.add_collection(
        LineCollection(
            [[(x, low), (x, high)], *strokes],
            colors=frame.theme.ink,
            linewidths=[1.2, *([0.6] * count)],
            clip_on=False,
        )
    )


def _draw_arrow(frame: Frame, *, words: bool) -> None:
    """Draw the push on the apex, and once what it is."""
    x, y = frame.apex_in
    colour, point = frame.theme.work, y + GAP_IN
    frame.axes.add_collection(
        LineCollection(
            [[(x, point + ARROW_IN), (x, point + HEAD_IN)]], colors=colour, linewidths=1.1, zorder=7
        )
    )
    head = [(x, point), (x - HEAD_HALF_IN, point + HEAD_IN), (x + HEAD_HALF_IN, point + HEAD_IN)]
    frame.axes.add_patch(Polygon(head, facecolor=colour, edgecolor="none", zorder=7))
    if words:
        frame.axes.text(
            x + 0.08,
            point + ARROW_IN,
            f"1{THIN_SPACE}N on each mm of edge",
            fontproperties=type_face(SMALL_PT),
            color=frame.theme.ink,
            verticalalignment="top",
        )


def deflection_words(study: StiffnessStudy, magnification: float) -> str:
    """Tell what the picture shows, with its numbers: a title, then a paragraph a blade."""
    picture = (
        "Cross-sections stacked with their apexes on the left, left face up, all in one scale. The "
        "same push of 1 N on each mm of edge bends each from above; movement is drawn "
        f"{magnification:g} times, the unloaded outline as a hairline. {held_sentence(study)}"
    )
    blades = [
        f"{plain_text(blade.name)}: {_blade_words(blade, study.places_mm)}."
        for blade in study.blades
    ]
    return "\n".join([TITLE, stiffness_sentences(study), picture, *blades])
