"""The picture of a run: the edge drawn true, the work pressing on it, a sentence about it.

One row a load: the bevels large, the whole section small, and the tip once more where
all happens there. All rows share one scale of stress and one of pressure.
"""

from __future__ import annotations

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from simedge.output.alt_text import about_words, alt_text, plain_text
from simedge.output.label_places import wrap_text
from simedge.output.load_row import (
    SECTION_IN,
    FramePlan,
    Shared,
    draw_row,
    draw_section,
    plan_frames,
)
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
from simedge.output.picture_key import draw_key
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
from simedge.output.shown_errors import with_thin_spaces
from simedge.output.stress_scale import choose_scale
from simedge.output.window_choice import choose_depths
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run
from simedge.section.outline import build_outline

#: Above the first row without its title, above frames, below a row, and for the key.
HEAD_IN, CAPTION_IN, BELOW_ROW_IN, FOOT_IN = 0.58, 0.22, 0.52, 1.1


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """What one load takes on the paper; lengths in inches."""

    name: tuple[str, ...]
    sentence: tuple[str, ...]
    head_in: float
    frames: tuple[FramePlan, ...]

    @property
    def height_in(self) -> float:
        return self.head_in + CAPTION_IN + self.frames[0].height_in + BELOW_ROW_IN


def draw_stress(run: Run, theme: Theme = LIGHT) -> Figure:
    """Draw the stress of every load of a run.

    Parameters
    ----------
    run : Run
        Made for 1 to 4 loads; with more the picture grows downwards.
    theme : Theme

    Returns
    -------
    matplotlib.figure.Figure
        7.5 inches wide, no text smaller than 8 points. Its label is `alt_text`.

    Notes
    -----
    Linear elastic stress, also where it is beyond yield. The frames are drawn to scale,
    x and y alike; arrows of pressure are in scale to each other down to a shortest length.
    """
    with drawing_style(theme):
        rows = [
            _plan_row(answer, plan_frames(answer, depths, run.outline))
            for answer, depths in zip(run.loads, choose_depths(run), strict=True)
        ]
        inside = WIDTH_IN - 2.0 * MARGIN_IN
        title = wrap_text(plain_text(run.case.title), type_face(TITLE_PT, bold=True), inside)
        about = wrap_text(about_words(run), type_face(SMALL_PT), inside)
        head = HEAD_IN + TITLE_LINE_IN * len(title) + SMALL_LINE_IN * (len(about) - 1)
        height = head + sum(row.height_in for row in rows) + FOOT_IN
        figure = Figure(figsize=(WIDTH_IN, height), dpi=PNG_DOTS_PER_INCH)
        FigureCanvasAgg(figure)
        figure.set_label(alt_text(run))
        sheet = paper_axes(figure, MARGIN_IN, 0.0, inside, height)
        write_lines(sheet, height - 0.22, title, TITLE_PT, theme.ink, TITLE_LINE_IN, bold=True)
        under_title = height - 0.2 - TITLE_LINE_IN * len(title)
        write_lines(sheet, under_title, about, SMALL_PT, theme.quiet_ink, SMALL_LINE_IN)
        pressures = [p.pressure_mpa or 0.0 for answer in run.loads for p in answer.parts]
        shared = Shared(
            run=run,
            whole=build_outline(run.case.profile.apex, run.case.profile.faces),
            scale=choose_scale(run),
            full_mpa=max([*pressures, 1e-30]),
            theme=theme,
        )
        top = height - head
        for answer, row in zip(run.loads, rows, strict=True):
            _draw_load(figure, sheet, top, row, answer, shared)
            top -= row.height_in
        draw_key(paper_axes(figure, MARGIN_IN, 0.0, inside, FOOT_IN), run, shared.scale, theme)
    return figure


def _plan_row(answer: LoadAnswer, frames: tuple[FramePlan, ...]) -> _Row:
    words = WIDTH_IN - 2.0 * MARGIN_IN - SECTION_IN[0] - 0.3
    name = wrap_text(plain_text(answer.name), type_face(NAME_PT, bold=True), words)
    sentence = wrap_text(with_thin_spaces(answer.sentence), type_face(TEXT_PT), words)
    written = NAME_LINE_IN * len(name) + TEXT_LINE_IN * len(sentence)
    head = max(written, SECTION_IN[1] + 0.12) + 0.08
    return _Row(name=name, sentence=sentence, head_in=head, frames=frames)


def _draw_load(
    figure: Figure, sheet: Axes, top: float, row: _Row, answer: LoadAnswer, shared: Shared
) -> None:
    """Draw a row from its top down: words beside the whole section, then the frames."""
    theme = shared.theme
    write_lines(sheet, top, row.name, NAME_PT, theme.ink, NAME_LINE_IN, bold=True)
    below = top - NAME_LINE_IN * len(row.name)
    write_lines(sheet, below, row.sentence, TEXT_PT, theme.ink, TEXT_LINE_IN)
    width, height = SECTION_IN
    left = WIDTH_IN - MARGIN_IN - width
    section = paper_axes(figure, left, top - height, width, height)
    draw_section(section, row.frames[0], answer, shared)
    bottom = top - row.head_in - CAPTION_IN - row.frames[0].height_in

    def lay(left: float, low: float, width: float, height: float) -> Axes:
        return paper_axes(figure, MARGIN_IN + left, bottom + low, width, height)

    draw_row(lay, answer, row.frames, shared)
