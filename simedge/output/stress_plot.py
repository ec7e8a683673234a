"""The picture of a run: the edge drawn true, the work pressing on it, a sentence about it.

One row a load: the bevels large, the whole section small, and the tip once more where
all happens there. All rows share one scale of stress and one of pressure.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import escape
from io import BytesIO
from pathlib import Path

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from simedge.output.alt_text import about_words, alt_text, plain_text, with_thin_spaces
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
from simedge.output.stress_scale import choose_scale
from simedge.output.window_choice import choose_depths
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run
from simedge.section.outline import build_outline

PNG_DOTS_PER_INCH = 160
WIDTH_IN, MARGIN_IN = 7.5, 0.3
TITLE_LINE_IN, NAME_LINE_IN, TEXT_LINE_IN, SMALL_LINE_IN = 0.26, 0.21, 0.17, 0.15
#: Many loads make a tall picture; beyond this, in pixels, it loses sharpness instead.
TALLEST_PNG = 30_000
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


def paper_axes(figure: Figure, left: float, bottom: float, width: float, height: float) -> Axes:
    """Lay bare axes over a rectangle of the figure, in inches both inside and out."""
    total_width, total_height = figure.get_size_inches()
    axes = figure.add_axes(
        (left / total_width, bottom / total_height, width / total_width, height / total_height)
    )
    axes.set_axis_off()
    axes.set_xlim(0.0, width)
    axes.set_ylim(0.0, height)
    return axes


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
        _write(sheet, height - 0.22, title, TITLE_PT, theme.ink, TITLE_LINE_IN, bold=True)
        under_title = height - 0.2 - TITLE_LINE_IN * len(title)
        _write(sheet, under_title, about, SMALL_PT, theme.quiet_ink, SMALL_LINE_IN)
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
    _write(sheet, top, row.name, NAME_PT, theme.ink, NAME_LINE_IN, bold=True)
    below = top - NAME_LINE_IN * len(row.name)
    _write(sheet, below, row.sentence, TEXT_PT, theme.ink, TEXT_LINE_IN)
    width, height = SECTION_IN
    left = WIDTH_IN - MARGIN_IN - width
    section = paper_axes(figure, left, top - height, width, height)
    draw_section(section, row.frames[0], answer, shared)
    bottom = top - row.head_in - CAPTION_IN - row.frames[0].height_in

    def lay(left: float, low: float, width: float, height: float) -> Axes:
        return paper_axes(figure, MARGIN_IN + left, bottom + low, width, height)

    draw_row(lay, answer, row.frames, shared)


def _write(
    sheet: Axes,
    top: float,
    lines: tuple[str, ...],
    points: float,
    colour: str,
    line_in: float = 0.0,
    *,
    bold: bool = False,
) -> None:
    """Write lines from the left margin, the first hanging from a height."""
    for number, line in enumerate(lines):
        sheet.text(
            0.0,
            top - number * line_in,
            line,
            fontproperties=type_face(points, bold=bold),
            color=colour,
            verticalalignment="top",
            parse_math=False,
        )


def save_png(figure: Figure, path: Path | str) -> None:
    """Save a picture as PNG at up to 160 dots per inch, its alternative text inside.

    Parameters
    ----------
    figure : Figure
        From `draw_stress`.
    path : Path or str
        The same figure gives the same bytes.
    """
    words = str(figure.get_label())
    with drawing_style(LIGHT):
        figure.savefig(
            path,
            format="png",
            dpi=min(PNG_DOTS_PER_INCH, TALLEST_PNG / figure.get_size_inches()[1]),
            facecolor=figure.get_facecolor(),
            metadata={
                "Title": words.partition("\n")[0],
                "Description": words,
                "Software": "simedge",
            },
        )


def save_svg(figure: Figure, path: Path | str) -> None:
    """Save a picture as SVG, its alternative text as title and description.

    Parameters
    ----------
    figure : Figure
        From `draw_stress`.
    path : Path or str
        The same figure gives the same bytes.
    """
    words = str(figure.get_label())
    buffer = BytesIO()
    with drawing_style(LIGHT):
        figure.savefig(
            buffer,
            format="svg",
            facecolor=figure.get_facecolor(),
            metadata={"Date": None, "Creator": "simedge"},
        )
    drawing = _with_fewer_digits(buffer.getvalue().decode("utf-8"))
    title, _, description = words.partition("\n")
    opening = re.search(r"<svg\b[^>]*", drawing)
    assert opening is not None
    head = (
        f'{opening.group()} role="img" aria-labelledby="title description">\n'
        f' <title id="title">{escape(title)}</title>\n'
        f' <desc id="description">{escape(description)}</desc>'
    )
    Path(path).write_text(
        drawing[: opening.start()] + head + drawing[opening.end() + 1 :], encoding="utf-8"
    )


def _with_fewer_digits(drawing: str) -> str:
    """Cut coordinates of paths to a hundredth of a point: no screen or printer shows more."""

    def cut(path: re.Match[str]) -> str:
        return re.sub(r"(\.\d\d)\d+", r"\1", path.group())

    return re.sub(r' d="[^"]*"', cut, drawing)
