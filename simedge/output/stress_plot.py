"""The picture of a run: the edge drawn true, the work pressing on it, a sentence about it.

One row a load: the bevels large, the whole section small, and the tip once more where
all happens there. All rows share one scale of stress and one of pressure.
"""

from __future__ import annotations

import re
from html import escape
from io import BytesIO
from pathlib import Path

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from simedge.output.alt_text import alt_text, steel_words
from simedge.output.drawing_frame import THIN_SPACE, length_text
from simedge.output.label_places import wrap_text
from simedge.output.load_row import RowLayout, draw_row
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
from simedge.output.stress_scale import bar_words, choose_scale, draw_bar
from simedge.output.window_choice import choose_depths
from simedge.runs.run import Run
from simedge.section.outline import build_outline

PNG_DOTS_PER_INCH = 160
WIDTH_IN, MARGIN_IN = 7.5, 0.3
LINE_IN = {TEXT_PT: 0.165, SMALL_PT: 0.15}
HEAD_IN, FOOT_IN = 0.78, 1.12
NAME_IN, CAPTION_IN, BELOW_ROW_IN = 0.2, 0.24, 0.42


def _spaced(text: str) -> str:
    """Put a thin space, which never breaks a line, between each number and its unit."""
    return re.sub(r"(?<=\d) (?=(?:nm|µm|mm|MPa|N/mm|HRC)\b)", THIN_SPACE, text)


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
        text = type_face(TEXT_PT)
        inside = WIDTH_IN - 2.0 * MARGIN_IN
        sentences = [wrap_text(_spaced(answer.sentence), text, inside) for answer in run.loads]
        heads = [NAME_IN + LINE_IN[TEXT_PT] * len(lines) for lines in sentences]
        layout = RowLayout()
        row_heights = [head + CAPTION_IN + layout.height_in + BELOW_ROW_IN for head in heads]
        height = HEAD_IN + sum(row_heights) + FOOT_IN
        figure = Figure(figsize=(WIDTH_IN, height))
        FigureCanvasAgg(figure)
        figure.set_label(alt_text(run))
        sheet = paper_axes(figure, MARGIN_IN, 0.0, inside, height)
        _write_head(sheet, run, theme, height)
        scale = choose_scale(run)
        whole = build_outline(run.case.profile.apex, run.case.profile.faces)
        pressures = [p.pressure_mpa or 0.0 for answer in run.loads for p in answer.parts]
        full_mpa = max([*pressures, 1e-30])
        top = height - HEAD_IN
        for answer, lines, depths, head, row_height in zip(
            run.loads, sentences, choose_depths(run), heads, row_heights, strict=True
        ):
            _write(sheet, 0.0, top, answer.name, NAME_PT, theme.ink, bold=True)
            for number, line in enumerate(lines):
                y = top - NAME_IN - number * LINE_IN[TEXT_PT]
                _write(sheet, 0.0, y, line, TEXT_PT, theme.ink)
            bottom = top - head - CAPTION_IN - layout.height_in

            def lay(
                left: float, low: float, width: float, high: float, bottom: float = bottom
            ) -> Axes:
                return paper_axes(figure, MARGIN_IN + left, bottom + low, width, high)

            draw_row(lay, run, answer, depths, whole, scale, full_mpa, theme, layout)
            top -= row_height
        bar = paper_axes(figure, MARGIN_IN + 0.1, 0.3, inside, 0.8)
        draw_bar(bar, 4.2, scale, theme)
        for number, line in enumerate(bar_words(scale)):
            _write(sheet, 0.0, 0.42 - 0.15 * number, line, SMALL_PT, theme.quiet_ink)
    return figure


def _write(
    sheet: Axes, x: float, y: float, text: str, points: float, colour: str, *, bold: bool = False
) -> None:
    sheet.text(
        x,
        y,
        text,
        fontproperties=type_face(points, bold=bold),
        color=colour,
        verticalalignment="top",
        parse_math=False,
    )


def _write_head(sheet: Axes, run: Run, theme: Theme, height: float) -> None:
    """Write what the picture is about."""
    top = height - 0.2
    _write(sheet, 0.0, top, run.case.title, TITLE_PT, theme.ink, bold=True)
    held = length_text(run.outline.depth_mm)
    words = f"{run.case.profile.name}, {steel_words(run)}; held {held} behind the apex"
    _write(sheet, 0.0, top - 0.27, words, SMALL_PT, theme.quiet_ink)


def save_png(figure: Figure, path: Path | str) -> None:
    """Save a picture as PNG at 160 dots per inch, its alternative text inside.

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
            dpi=PNG_DOTS_PER_INCH,
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
    drawing = buffer.getvalue().decode("utf-8")
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
