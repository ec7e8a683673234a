"""The chart of steels in one shape: what each takes by kind of damage, weak to strong end."""

from __future__ import annotations

from math import isfinite

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simedge.output.alt_text import about_words, plain_text
from simedge.output.chart import Panel, chart_sheet, label_beside
from simedge.output.palette import LIGHT, drawing_style
from simedge.runs.shown_words import shown_factor
from simedge.runs.verdict_sentence import VERBS
from simedge.strength.load_factors import KINDS, Kind
from simedge.studies.another_steel import AnotherSteelStudy, SteelAnswer
from simedge.studies.another_steel_sentence import (
    ANGLE,
    THICKNESS,
    another_steel_sentences,
    needed_cell,
)

#: Forms first, so that it reads in grey.
MARKS: dict[Kind, str] = {"roll": "o", "chip": "^", "crumble": "D", "blunt": "s"}
#: Height of a row, and what a chart needs besides, inches.
ROW_IN, BESIDES_IN = 0.26, 0.3
#: Load factors beyond so many times the largest that comes first are off the chart.
BEYOND = 6.0
#: Over so wide a range only whole decades are numbered.
MANY_DECADES = 300.0
BAND = "#8A8471"


def draw_another_steel(study: AnotherSteelStudy) -> Figure:
    """Draw the chart of a study, a row a steel."""
    with drawing_style(LIGHT):
        return chart_sheet(
            f"{plain_text(study.case.title)}: other steels",
            "\n".join(another_steel_sentences(study)),
            [_panel(study)],
            f"{about_words(study)}. An edge cut back by the tolerated "
            f"{study.case.tolerated_damage_um:g} µm. Bar: from the weak to the strong end of such "
            "a steel, for what comes first, in the load that is worst for it. Steels whose bars "
            "overlap are not ranked. The red line is this work as it is: right of it the edge "
            "comes through. Chips and crumbling are good to a factor of about 2. On the right, "
            "what the edge would need to take as much as in the case's own steel: the bevels "
            "steeper or slimmer, the thickness behind them kept; or that thickness changed. No "
            "result is a safety certificate.",
            another_steel_words(study),
        )


def _panel(study: AnotherSteelStudy) -> Panel:
    rows = study.ranked
    finite = [each.span for each in rows if isfinite(each.span.value)]
    top = max((span.value for span in finite), default=1.0)
    low = min([0.8, *(span.low for span in finite)])
    high = max(
        [1.25, *(min(span.high, BEYOND * top) for span in finite)],
    )

    def draw(axes: Axes) -> None:
        axes.set_xscale("log")
        axes.set_xlim(low / 1.2, high * 1.2)
        axes.set_ylim(len(rows) - 0.4, -0.6)
        between = (1, 2, 5) if high < MANY_DECADES * low else (1,)
        steps = [s * 10.0**power for power in range(-4, 12) for s in between]
        shown = [step for step in steps if low / 1.2 <= step <= high * 1.2]
        axes.set_xticks(shown, [f"{step:g}" for step in shown])
        axes.set_xticks([], minor=True)
        axes.set_xlabel("times this work")
        axes.set_yticks(range(len(rows)), [each.name for each in rows])
        axes.axvline(1.0, color=LIGHT.work, linewidth=1.2, zorder=3)
        for number, each in enumerate(rows):
            _draw_row(axes, number, each, own=each is study.own)

    return Panel(
        name="",
        words="how many times this work it takes before it rolls (dot), chips (triangle), "
        "crumbles (diamond) or blunts (square); full: what comes first",
        height_in=BESIDES_IN + ROW_IN * len(rows),
        draw=draw,
        right_in=1.75,
        left_in=1.5,
    )


def _draw_row(axes: Axes, number: int, each: SteelAnswer, *, own: bool) -> None:
    left, right = axes.get_xlim()
    span = each.span
    if isfinite(span.value):
        ends = [max(span.low, left), min(span.high, right)]
        axes.plot(ends, [number, number], color=BAND, alpha=0.45, linewidth=6.0, zorder=2)
    for kind in KINDS:
        factor = each.weakest(kind)
        if factor is None or not left < factor.value < right:
            continue
        first = kind == each.kind
        axes.plot(
            [factor.value],
            [number],
            marker=MARKS[kind],
            markersize=5.5 if first else 4.0,
            color=LIGHT.ink,
            markerfacecolor=LIGHT.ink if first else LIGHT.paper,
            linestyle="none",
            zorder=5,
        )
    label_beside(axes, right, number, _at_the_end(each, own=own), bold=own)


def _at_the_end(each: SteelAnswer, *, own: bool) -> str:
    if own:
        return "as it is"
    needs = [needed_cell(each.degrees, ANGLE), needed_cell(each.thickness, THICKNESS)]
    return "; ".join(need for need in needs if need)


def another_steel_words(study: AnotherSteelStudy) -> str:
    """Tell the chart in words, with its numbers."""
    lines = [
        "How many times the work an edge takes in other steels, a row a steel, the one that takes "
        f"most first. {about_words(study)}.",
        *another_steel_sentences(study),
    ]
    for each in study.ranked:
        needs = _at_the_end(each, own=each is study.own)
        lines.append(
            f"{each.name}: {VERBS[each.kind]} at {shown_factor(each.span.value)} "
            f"({shown_factor(each.span.low)} to {shown_factor(each.span.high)})"
            f"{f', {needs}' if needs else ''}."
        )
    return "\n".join(lines)
