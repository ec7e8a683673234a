"""How many times the work a knife takes over each measure that can be made smaller."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke

from simedge.output.alt_text import plain_text
from simedge.output.chart import MOST_TIMES, Panel, chart_sheet, factor_axis
from simedge.output.palette import LIGHT, SMALL_PT, drawing_style, type_face
from simedge.runs.shown_words import shown_factor
from simedge.studies.slimmest_answer import SlimmestStudy, SlimmestWay
from simedge.studies.slimmest_sentence import slimmest_remarks, slimmest_sentences


def draw_slimmest(study: SlimmestStudy) -> Figure:
    """Draw the curves of a study, a panel a way."""
    with drawing_style(LIGHT):
        return chart_sheet(
            f"{plain_text(study.case.title)}: how slim?",
            "\n".join(slimmest_sentences(study)),
            [_panel(study, way) for way in study.ways],
            "\n".join(
                (
                    *(f"{remark[0].upper()}{remark[1:]}." for remark in slimmest_remarks(study)),
                    "The other measures of the knife are kept. No result is a safety certificate.",
                )
            ),
            slimmest_words(study),
        )


def _panel(study: SlimmestStudy, way: SlimmestWay) -> Panel:
    values = np.array([value for value, _ in way.found.looked])
    margins = np.array([margin for _, margin in way.found.looked])
    if way.value is not None and not way.found.by_bound:
        order = np.argsort([*values, way.value])
        values = np.append(values, way.value)[order]
        margins = np.append(margins, study.question.asked_margin)[order]
    shown = np.minimum(margins, MOST_TIMES)

    def draw(axes: Axes) -> None:
        axes.set_xscale("log")
        axes.set_xlim(values[0], values[-1])
        steps = [s * 10.0**power for power in range(-3, 3) for s in (1, 1.5, 2, 3, 5, 7)]
        ticks = [step for step in steps if values[0] <= step <= values[-1]]
        axes.set_xticks(ticks, [f"{tick:g}" for tick in ticks])
        axes.set_xticks([], minor=True)
        axes.set_xlabel(f"{way.way.key}, {way.way.unit}")
        factor_axis(axes, float(shown.min()), float(shown.max()))
        if study.question.asked_margin != 1.0:
            axes.axhline(study.question.asked_margin, color=LIGHT.work, linestyle=(0, (4, 2)))
        axes.plot(values, shown, color=LIGHT.ink, linewidth=1.5, zorder=4)
        _mark(axes, way.way.own, "now", (0, (2, 2)), line=1)
        if way.value is not None:
            _mark(axes, way.value, "slimmest", "-", line=0)

    return Panel(
        name=way.way.key,
        words="how many times this work the knife takes, all else kept; red: what is asked",
        height_in=1.9,
        draw=draw,
        right_in=0.3,
    )


def _mark(axes: Axes, value: float, words: str, style: object, *, line: int) -> None:
    """Draw a line at a value, with its word at the top, in one line or the next."""
    low, high = axes.get_xlim()
    if not low <= value <= high:
        return
    axes.axvline(value, color=LIGHT.ink, linewidth=0.9, linestyle=style, zorder=3)
    axes.annotate(
        words,
        (value, axes.get_ylim()[1]),
        xytext=(3.0, -2.0 - 11.0 * line),
        textcoords="offset points",
        verticalalignment="top",
        fontproperties=type_face(SMALL_PT),
        color=LIGHT.ink,
        path_effects=[withStroke(linewidth=2.0, foreground=LIGHT.paper)],
    )


def slimmest_words(study: SlimmestStudy) -> str:
    """Tell the curves in words, with their numbers."""
    lines = [*slimmest_sentences(study)]
    for way in study.ways:
        told = ", ".join(
            f"{shown_factor(margin)} at {value:.3g}" for value, margin in way.found.looked[::3]
        )
        lines.append(f"Times this work over {way.way.key} in {way.way.unit}: {told}.")
    return "\n".join([*lines, *slimmest_remarks(study)])
