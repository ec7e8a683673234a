"""The sheet that a picture is laid out on: its width, its lines of text, axes in inches."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simedge.output.palette import type_face

PNG_DOTS_PER_INCH = 160
WIDTH_IN, MARGIN_IN = 7.5, 0.3
TITLE_LINE_IN, NAME_LINE_IN, TEXT_LINE_IN, SMALL_LINE_IN = 0.26, 0.21, 0.17, 0.15


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


def write_lines(
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
