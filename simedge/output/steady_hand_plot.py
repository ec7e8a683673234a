"""The chart of straight against sideways work: what an edge takes, and where the case's work is."""

from __future__ import annotations

from math import isfinite

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simedge.output.alt_text import about_words, plain_text
from simedge.output.chart import Panel, chart_sheet, label_beside
from simedge.output.palette import LIGHT, drawing_style
from simedge.runs.shown_words import shown_factor
from simedge.section.outline import Floats
from simedge.studies.steady_hand import SteadyHandStudy
from simedge.studies.steady_hand_sentence import (
    crooked_words,
    shown_force,
    steady_hand_sentences,
)
from simedge.studies.steered_load import LoadSteered

#: The plane ends at so many times the largest sideways limit, or work: what is straight goes on.
WIDEST = 5.0
#: Room beyond what is shown.
AIR = 1.12
#: Places nearer than this share of the chart have room for one name only.
ROOM_X, ROOM_Y = 0.13, 0.085
BAND = "#8A8471"


def draw_steady_hand(study: SteadyHandStudy) -> Figure:
    """Draw the chart of a study, a panel a load."""
    with drawing_style(LIGHT):
        return chart_sheet(
            f"{plain_text(study.case.title)}: a steadier hand",
            "\n".join(steady_hand_sentences(study)),
            [_panel(load) for load in study.loads],
            f"{about_words(study)}. Full line: what the edge takes, cut back by the tolerated "
            f"{study.case.tolerated_damage_um:g} µm, in the direction of each kind of work from "
            "straight to as crooked as it can be; shaded from the weak to the strong end of such "
            "a steel. Dashed: where the section first yields, elastically, under work that is "
            "uniform along the edge. Red: the work; along the red line it goes from straight to "
            "crooked with the same pressure or force. Judged without a mesh. No result is a "
            "safety certificate.",
            steady_hand_words(study),
        )


def _places(load: LoadSteered, factors: list[float]) -> Floats:
    """Give the places of limits in the plane, shape (2, rays); NaN where there is none."""
    return np.array(
        [
            ray.at_limit(factor) if isfinite(factor) else (np.nan, np.nan)
            for ray, factor in zip(load.rays, factors, strict=True)
        ]
    ).T


def _panel(load: LoadSteered) -> Panel:
    limit = _places(load, [ray.margin for ray in load.rays])
    low = _places(load, [ray.low for ray in load.rays])
    high = _places(load, [ray.high for ray in load.rays])
    yields = _places(load, [ray.first_yield for ray in load.rays])
    work = np.array([ray.at_limit(1.0) for ray in load.rays]).T
    every = np.concatenate([limit, high, yields, work], axis=1)
    top = AIR * float(np.nanmax(every[1]))
    most = float(np.nanmax(every[0]))
    right = min(AIR * most, max(WIDEST * top, AIR * float(np.max(work[0]))))
    bottom = min(0.0, AIR * float(np.nanmin(every[1])))
    left = min(0.0, AIR * float(np.nanmin(every[0])))

    def draw(axes: Axes) -> None:
        axes.set_xlim(left, right)
        axes.set_ylim(bottom, top)
        axes.set_xlabel("straight into the edge, N per mm of edge")
        axes.set_ylabel("sideways, N per mm")
        both = np.concatenate([low, high[:, ::-1]], axis=1)
        both = both[:, np.isfinite(both[0])]
        axes.fill(*both, color=BAND, alpha=0.30, linewidth=0.0, zorder=2)
        axes.plot(*limit, color=LIGHT.ink, linewidth=1.4, zorder=4)
        axes.plot(*yields, color=LIGHT.ink, linewidth=1.0, linestyle=(0, (6, 2)), zorder=3)
        _draw_work(axes, load)
        _name_lines(axes, limit, yields, right)

    beyond = ""
    if most > right and isfinite(load.straight.margin):
        taken = load.straight.at_limit(load.straight.margin)[0]
        beyond = f"; straight it goes on to {shown_force(taken)} N per mm"
    return Panel(
        name=plain_text(load.name),
        words="how much straight and sideways force the edge takes, and what this work puts on "
        f"it{beyond}",
        height_in=2.3,
        draw=draw,
        right_in=0.3,
    )


def _draw_work(axes: Axes, load: LoadSteered) -> None:
    """Draw the work, its way from straight to crooked, and what it is called where there is room.

    The case's own work is a full dot and has the first right to a name.
    """
    path = np.array([ray.at_limit(1.0) for ray in load.rays]).T
    axes.plot(*path, color=LIGHT.work, linewidth=0.9, zorder=5)
    halves = "a little crooked" if load.is_straight else "half as crooked"
    marks = [(load.own, "this work"), (load.straight, "straight"), (load.crooked, "crooked")]
    marks.append((load.eased, halves))
    limit = load.own.at_limit(load.own.margin)
    if isfinite(load.own.margin):
        axes.plot(
            [0.0, limit[0]], [0.0, limit[1]], color=LIGHT.work, linewidth=0.8, linestyle=(0, (1, 2))
        )
    x_span, y_span = np.ptp(axes.get_xlim()), np.ptp(axes.get_ylim())
    named: list[tuple[float, float]] = []
    for ray, name in marks:
        x, y = ray.at_limit(1.0)
        own = ray is load.own
        if named and own:
            continue
        axes.plot(
            [x],
            [y],
            marker="o",
            markersize=6.0 if own else 4.5,
            color=LIGHT.work,
            markerfacecolor=LIGHT.work if own else LIGHT.paper,
            linestyle="none",
            zorder=7,
            clip_on=False,
        )
        if all(abs(x - a) > ROOM_X * x_span or abs(y - b) > ROOM_Y * y_span for a, b in named):
            named.append((x, y))
            label_beside(axes, x, y, name, bold=own, above=True)


def _name_lines(axes: Axes, limit: Floats, yields: Floats, right: float) -> None:
    """Write above each curve what it is."""
    top = axes.get_ylim()[1]
    for places, name, along in ((limit, "takes", 0.7), (yields, "first yields", 0.85)):
        inside = np.flatnonzero(np.isfinite(places[0]) & (places[0] < 0.8 * right))
        if inside.size == 0:
            continue
        aim = along * float(np.max(places[0][inside]))
        at = int(inside[np.argmin(np.abs(places[0][inside] - aim))])
        label_beside(
            axes, float(places[0][at]), min(float(places[1][at]), 0.95 * top), name, above=True
        )


def steady_hand_words(study: SteadyHandStudy) -> str:
    """Tell the chart in words, with its numbers."""
    lines = [
        "What an edge takes of straight and of sideways force, in N per mm of edge, with the work "
        f"of the case in it, a chart a load. {about_words(study)}.",
        *steady_hand_sentences(study),
    ]
    for load in study.loads:
        told = []
        for ray in (load.straight, load.crooked):
            x, y = ray.at_limit(1.0)
            told.append(
                f"{crooked_words(load, ray)}: {shown_force(x)} straight and {shown_force(y)} "
                f"sideways, taken "
                f"{shown_factor(ray.margin)} times, first yield at {shown_factor(ray.first_yield)}"
            )
        lines.append(f"{plain_text(load.name)}, {'; '.join(told)}.")
    return "\n".join(lines)
