"""A sheet of rows: one load on one section a row, all on one scale of stress and of pressure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from simedge.output.alt_text import plain_text
from simedge.output.frame_plans import FramePlan
from simedge.output.label_places import wrap_text
from simedge.output.load_row import SECTION_IN, Shared, draw_row, draw_section
from simedge.output.palette import NAME_PT, SMALL_PT, TEXT_PT, TITLE_PT, Theme, type_face
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
from simedge.runs.answer import LoadAnswer

#: Above the first row without its title, above frames, below a row, and for the key.
HEAD_IN, CAPTION_IN, BELOW_ROW_IN, FOOT_IN = 0.58, 0.22, 0.52, 1.1
INSIDE_IN = WIDTH_IN - 2.0 * MARGIN_IN


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRow:
    """What one load on one section takes on the paper; lengths in inches.

    Attributes
    ----------
    name, sentence : tuple of str
        Lines.
    head_in : float
        For them, and the whole section beside them.
    frames : tuple of FramePlan
    answer : LoadAnswer
    shared : Shared
        Its own run, and what it shares with the other rows.
    """

    name: tuple[str, ...]
    sentence: tuple[str, ...]
    head_in: float
    frames: tuple[FramePlan, ...]
    answer: LoadAnswer
    shared: Shared

    @property
    def height_in(self) -> float:
        """From the top of its name to that of the next row's."""
        return self.head_in + CAPTION_IN + self.frames[0].height_in + BELOW_ROW_IN


def plan_row(
    name: str, sentence: str, frames: tuple[FramePlan, ...], answer: LoadAnswer, shared: Shared
) -> SheetRow:
    """Plan a row: its words beside the whole section, its frames below them."""
    words = INSIDE_IN - SECTION_IN[0] - 0.3
    names = wrap_text(plain_text(name), type_face(NAME_PT, bold=True), words)
    said = wrap_text(with_thin_spaces(sentence), type_face(TEXT_PT), words)
    written = NAME_LINE_IN * len(names) + TEXT_LINE_IN * len(said)
    return SheetRow(
        name=names,
        sentence=said,
        head_in=max(written, SECTION_IN[1] + 0.12) + 0.08,
        frames=frames,
        answer=answer,
        shared=shared,
    )


def row_sheet(
    title: str,
    about: str,
    rows: Sequence[SheetRow],
    words: str,
    theme: Theme,
    sentences: str = "",
) -> Figure:
    """Lay out a sheet of rows under a title, with the key at its foot.

    Parameters
    ----------
    title, about : str
        What it is; in small letters of what.
    rows : sequence of SheetRow
        From top to bottom, at least one, all of one scale of stress.
    words : str
        The picture in words: the alternative text.
    theme : Theme
    sentences : str
        The answer in words, between title and small letters; may be empty.

    Returns
    -------
    matplotlib.figure.Figure
        7.5 inches wide, no text smaller than 8 points.
    """
    titles = wrap_text(plain_text(title), type_face(TITLE_PT, bold=True), INSIDE_IN)
    said = wrap_text(with_thin_spaces(sentences), type_face(TEXT_PT), INSIDE_IN)
    said = said if sentences else ()
    small = wrap_text(about, type_face(SMALL_PT), INSIDE_IN)
    said_in = TEXT_LINE_IN * len(said) + (0.05 if said else 0.0)
    head = HEAD_IN + TITLE_LINE_IN * len(titles) + said_in + SMALL_LINE_IN * (len(small) - 1)
    height = head + sum(row.height_in for row in rows) + FOOT_IN
    figure = Figure(figsize=(WIDTH_IN, height), dpi=PNG_DOTS_PER_INCH)
    FigureCanvasAgg(figure)
    figure.set_label(words)
    sheet = paper_axes(figure, MARGIN_IN, 0.0, INSIDE_IN, height)
    write_lines(sheet, height - 0.22, titles, TITLE_PT, theme.ink, TITLE_LINE_IN, bold=True)
    under_title = height - 0.2 - TITLE_LINE_IN * len(titles)
    write_lines(sheet, under_title, said, TEXT_PT, theme.ink, TEXT_LINE_IN)
    write_lines(sheet, under_title - said_in, small, SMALL_PT, theme.quiet_ink, SMALL_LINE_IN)
    top = height - head
    for row in rows:
        _draw(figure, sheet, top, row)
        top -= row.height_in
    key = paper_axes(figure, MARGIN_IN, 0.0, INSIDE_IN, FOOT_IN)
    draw_key(key, [row.answer for row in rows], rows[0].shared.scale, theme)
    return figure


def _draw(figure: Figure, sheet: Axes, top: float, row: SheetRow) -> None:
    """Draw a row from its top down: words beside the whole section, then the frames."""
    theme = row.shared.theme
    write_lines(sheet, top, row.name, NAME_PT, theme.ink, NAME_LINE_IN, bold=True)
    below = top - NAME_LINE_IN * len(row.name)
    write_lines(sheet, below, row.sentence, TEXT_PT, theme.ink, TEXT_LINE_IN)
    width, height = SECTION_IN
    left = WIDTH_IN - MARGIN_IN - width
    section = paper_axes(figure, left, top - height, width, height)
    draw_section(section, row.frames[0], row.answer, row.shared)
    bottom = top - row.head_in - CAPTION_IN - row.frames[0].height_in

    def lay(left: float, low: float, width: float, height: float) -> Axes:
        return paper_axes(figure, MARGIN_IN + left, bottom + low, width, height)

    draw_row(lay, row.answer, row.frames, row.shared)
