"""A sheet of charts: title, sentence, panels with axes, captions; one look for all studies."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke

from simedge.output.label_places import wrap_text
from simedge.output.palette import LIGHT, NAME_PT, SMALL_PT, TEXT_PT, TITLE_PT, Theme, type_face
from simedge.output.sheet import (
    MARGIN_IN,
    NAME_LINE_IN,
    SMALL_LINE_IN,
    TEXT_LINE_IN,
    TITLE_LINE_IN,
    WIDTH_IN,
    paper_axes,
    write_lines,
)
from simedge.output.shown_errors import with_thin_spaces

INSIDE_IN = WIDTH_IN - 2.0 * MARGIN_IN
#: Room left of a panel's axes for its numbers, below for numbers and the name, between panels.
LEFT_IN, BELOW_IN, GAP_IN = 0.62, 0.52, 0.14
#: Load factors beyond it are off the charts: nobody works a hundred times as hard.
MOST_TIMES = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One chart of a sheet.

    Attributes
    ----------
    name : str
        Stands above it; may be empty.
    words : str
        Stands below its name.
    height_in : float
        Of the axes alone.
    draw : callable
        Draws on the axes, whose type and colours are set.
    right_in, left_in : float
        Room right of the axes, for direct labels or a bar, and left, for their numbers or names.
    """

    name: str
    words: str
    height_in: float
    draw: Callable[[Axes], None]
    right_in: float = 0.9
    left_in: float = LEFT_IN


def chart_sheet(
    title: str, sentences: str, panels: Sequence[Panel], captions: str, words: str
) -> Figure:
    """Lay out a sheet of charts.

    Parameters
    ----------
    title, sentences : str
        The question, and the answer in words.
    panels : sequence of Panel
        From top to bottom.
    captions : str
        What the picture assumes, below the panels.
    words : str
        The picture in words, behind its title: the alternative text.

    Returns
    -------
    Figure
        In our light theme, with its alternative text as its label.
    """
    theme = LIGHT
    said = _wrapped(sentences, TEXT_PT)
    small = _wrapped(captions, SMALL_PT)
    heads = [
        (_wrapped(panel.name, NAME_PT, bold=True), _wrapped(panel.words, SMALL_PT))
        for panel in panels
    ]
    height = 2.0 * MARGIN_IN + TITLE_LINE_IN + TEXT_LINE_IN * len(said) + 0.08
    for panel, (name, below) in zip(panels, heads, strict=True):
        height += NAME_LINE_IN * len(name) + SMALL_LINE_IN * len(below)
        height += panel.height_in + BELOW_IN + GAP_IN
    height += SMALL_LINE_IN * len(small)
    figure = Figure(figsize=(WIDTH_IN, height), facecolor=theme.paper)
    FigureCanvasAgg(figure)
    sheet = paper_axes(figure, MARGIN_IN, 0.0, INSIDE_IN, height)
    top = height - MARGIN_IN
    write_lines(sheet, top, (title,), TITLE_PT, theme.ink, bold=True)
    top -= TITLE_LINE_IN
    write_lines(sheet, top, said, TEXT_PT, theme.ink, TEXT_LINE_IN)
    top -= TEXT_LINE_IN * len(said) + 0.08
    for panel, (name, below) in zip(panels, heads, strict=True):
        write_lines(sheet, top, name, NAME_PT, theme.ink, NAME_LINE_IN, bold=True)
        top -= NAME_LINE_IN * len(name)
        write_lines(sheet, top, below, SMALL_PT, theme.quiet_ink, SMALL_LINE_IN)
        top -= SMALL_LINE_IN * len(below) + 0.06
        _draw_panel(figure, panel, top - panel.height_in, theme)
        top -= panel.height_in + BELOW_IN + GAP_IN - 0.06
    write_lines(sheet, top, small, SMALL_PT, theme.quiet_ink, SMALL_LINE_IN)
    figure.set_label(f"{title}\n{words}")
    return figure


def _wrapped(text: str, points: float, *, bold: bool = False) -> tuple[str, ...]:
    if not text:
        return ()
    face = type_face(points, bold=bold)
    lines = [wrap_text(with_thin_spaces(part), face, INSIDE_IN) for part in text.split("\n")]
    return tuple(line for part in lines for line in part)


def _draw_panel(figure: Figure, panel: Panel, bottom: float, theme: Theme) -> None:
    width, height = figure.get_size_inches()
    axes = figure.add_axes(
        (
            (MARGIN_IN + panel.left_in) / width,
            bottom / height,
            (INSIDE_IN - panel.left_in - panel.right_in) / width,
            panel.height_in / height,
        )
    )
    axes.set_facecolor(theme.paper)
    for name, spine in axes.spines.items():
        spine.set_color(theme.hairline)
        spine.set_visible(name in ("left", "bottom"))
    panel.draw(axes)
    for axis in (axes.xaxis, axes.yaxis):
        axis.label.set_fontproperties(type_face(SMALL_PT))
        axis.label.set_color(theme.quiet_ink)
        for minor in (False, True):
            for label in axis.get_ticklabels(minor=minor):
                label.set_fontproperties(type_face(SMALL_PT))
                label.set_color(theme.quiet_ink)
    axes.tick_params(which="both", color=theme.hairline)


def factor_axis(axes: Axes, low: float, high: float) -> None:
    """Make the vertical axis one of load factors, by ratios, with the work as it is as a line."""
    theme = LIGHT
    low, high = min(low, 0.8), max(high, 1.25)
    axes.set_yscale("log")
    axes.set_ylim(low / 1.15, high * 1.15)
    steps = [s * 10.0**power for power in range(-4, 5) for s in (1, 2, 5)]
    shown = [step for step in steps if low / 1.15 <= step <= high * 1.15]
    axes.set_yticks(shown, [f"{step:g}" for step in shown])
    axes.set_yticks([], minor=True)
    axes.axhline(1.0, color=theme.work, linewidth=1.2, zorder=3)
    axes.set_ylabel("times this work")


def label_beside(
    axes: Axes, x: float, y: float, text: str, *, bold: bool = False, above: bool = False
) -> None:
    """Write a name to the right of a place, or above and to the right of it."""
    axes.annotate(
        text,
        (x, y),
        xytext=(5.0, 3.0 if above else 0.0),
        textcoords="offset points",
        verticalalignment="bottom" if above else "center",
        fontproperties=type_face(SMALL_PT, bold=bold),
        color=LIGHT.ink,
        annotation_clip=False,
        path_effects=[withStroke(linewidth=2.0, foreground=LIGHT.paper)],
        zorder=8,
    )


def spread_labels(places: Sequence[float], gap: float) -> list[float]:
    """Move label heights apart so that none is nearer to the next than a gap; order is kept.

    >>> spread_labels([1.0, 1.1, 3.0], 0.5)
    [0.8, 1.3, 3.0]
    """
    order = sorted(range(len(places)), key=lambda i: places[i])
    heights = [places[i] for i in order]
    for _ in range(50):
        moved = False
        for i in range(len(heights) - 1):
            short = gap - (heights[i + 1] - heights[i])
            if short > 1e-9:
                heights[i] -= 0.5 * short
                heights[i + 1] += 0.5 * short
                moved = True
        if not moved:
            break
    result = [0.0] * len(places)
    for i, height in zip(order, heights, strict=True):
        result[i] = round(height, 9)
    return result
