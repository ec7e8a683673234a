"""The map of micro-bevels: times the work over angle and height, and along height at one angle."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import LogNorm
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke

from simedge.output.alt_text import plain_text
from simedge.output.chart import (
    MOST_TIMES,
    Panel,
    chart_sheet,
    factor_axis,
    label_beside,
    spread_labels,
)
from simedge.output.palette import LIGHT, SMALL_PT, drawing_style, stress_colour_map, type_face
from simedge.runs.shown_words import shown_factor, shown_length
from simedge.section.outline import Floats
from simedge.studies.micro_bevel_answer import MicroBevelStudy, MicroDesign
from simedge.studies.micro_bevel_sentence import micro_bevel_remarks, micro_bevel_sentence

STYLES = ("-", (0, (6, 2)), (0, (1.2, 1.6)), (0, (6, 2, 1.2, 2)), (0, (3, 1)))


def draw_micro_bevel(study: MicroBevelStudy) -> Figure:
    """Draw the map of a study, and its margins over height at the angle that it names."""
    title = f"{plain_text(study.case.title)}: a micro-bevel?"
    with drawing_style(LIGHT):
        panels = []
        # a map of nothing but "never" would show its own rounding
        told = any(design.margin < MOST_TIMES for design in study.feasible)
        if len(study.angles_dps) > 1 and len(study.heights_mm) > 1 and told:
            panels.append(_map(study))
        if study.named is not None:
            panels.append(_over_height(study, study.named))
        return chart_sheet(
            title,
            micro_bevel_sentence(study),
            panels,
            "\n".join(
                (
                    *(f"{remark[0].upper()}{remark[1:]}." for remark in micro_bevel_remarks(study)),
                    f"{_about(study)} Judged by the margin of the verdict, the smallest of all "
                    f"loads; an edge cut back by the tolerated {study.case.tolerated_damage_um:g} "
                    "µm. No result is a safety certificate.",
                )
            ),
            micro_bevel_words(study),
        )


def _about(study: MicroBevelStudy) -> str:
    steel = study.case.steel
    grade = "a steel" if steel.grade is None else steel.grade
    hardness = "" if steel.hardness_hrc is None else f" at {steel.hardness_hrc:g} HRC"
    return f"{plain_text(study.case.profile.name)}, {grade}{hardness}."


def _grid(study: MicroBevelStudy) -> Floats:
    return np.array(
        [[d.margin if isinstance(d, MicroDesign) else np.nan for d in row] for row in study.designs]
    )


def _map(study: MicroBevelStudy) -> Panel:
    def draw(axes: Axes) -> None:
        values = np.minimum(_grid(study), MOST_TIMES)
        low, high = float(np.nanmin(values)), float(np.nanmax(values))
        if high < 1.02 * low:
            low, high = low / 1.1, high * 1.1
        norm = LogNorm(low, high)
        heights, angles = np.array(study.heights_mm), np.array(study.angles_dps)
        levels = np.geomspace(low, high, 12)
        drawn = axes.contourf(
            heights, angles, values, levels=levels, norm=norm, cmap=stress_colour_map().reversed()
        )
        axes.set_xscale("log")
        shown = [
            h for h in (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0) if heights[0] <= h <= heights[-1]
        ]
        axes.set_xticks(shown, [f"{h:g}" for h in shown])
        axes.set_xticks([], minor=True)
        axes.set_xlabel("height of the micro-bevel, mm")
        axes.set_ylabel("degrees per side")
        if low < study.asked_margin < high:
            line = axes.contour(
                heights,
                angles,
                values,
                levels=[study.asked_margin],
                colors=LIGHT.work,
                linewidths=1.8,
            )
            line.set(path_effects=[withStroke(linewidth=4.0, foreground=LIGHT.paper)])
            for text in axes.clabel(line, fmt=lambda level: f"{level:.3g} ×", fontsize=SMALL_PT):
                text.set_path_effects([withStroke(linewidth=2.5, foreground=LIGHT.paper)])
        named = study.named
        if named is not None:
            axes.plot(
                [named.height_mm],
                [named.dps],
                marker="o",
                markersize=7.0,
                color=LIGHT.paper,
                markeredgecolor=LIGHT.ink,
                markeredgewidth=1.6,
                clip_on=False,
                zorder=9,
            )
        bar = axes.figure.colorbar(drawn, ax=axes, fraction=0.06, pad=0.03)
        ticks = levels[::3]
        bar.set_ticks(list(ticks), labels=[shown_factor(float(t)) for t in ticks])
        bar.ax.minorticks_off()
        bar.outline.set_edgecolor(LIGHT.hairline)
        bar.set_label("times this work", fontproperties=type_face(SMALL_PT), color=LIGHT.quiet_ink)
        for label in bar.ax.get_yticklabels():
            label.set_fontproperties(type_face(SMALL_PT))
            label.set_color(LIGHT.quiet_ink)

    asked = f"red: {study.asked_margin:g} times this work; ring: what the answer names"
    if len(study.feasible) < len(study.angles_dps) * len(study.heights_mm):
        asked += "; blank: cannot be ground on this knife"
    return Panel(
        name="Angle by height",
        words=f"how many times this work the edge takes; {asked}",
        height_in=3.0,
        draw=draw,
        right_in=0.2,
    )


def _over_height(study: MicroBevelStudy, named: MicroDesign) -> Panel:
    row = [design for design in study.feasible if design.dps == named.dps]
    heights = np.array([0.0, *(design.height_mm for design in row)])

    def draw(axes: Axes) -> None:
        lines: list[tuple[str, Floats, float]] = []
        for index, load in enumerate(study.base.loads):
            values = np.array([load.margin, *(d.run.loads[index].margin for d in row)])
            if values.min() <= MOST_TIMES:
                lines.append((load.name, np.minimum(values, MOST_TIMES), 1.5))
        first = study.base.governing
        index = study.base.loads.index(first)
        yields = np.array([first.first_yield, *(d.run.loads[index].first_yield for d in row)])
        lines.append(("(its first yield)", np.minimum(yields, MOST_TIMES), 0.8))
        every = np.concatenate([values for _, values, _ in lines])
        factor_axis(axes, float(every.min()), float(every.max()))
        axes.set_xlim(0.0, heights[-1])
        axes.set_xlabel("height of the micro-bevel, mm (0: none)")
        for number, (_, values, width) in enumerate(lines):
            style = STYLES[number % len(STYLES)]
            axes.plot(heights, values, color=LIGHT.ink, linewidth=width, linestyle=style)
        low, high = axes.get_ylim()
        gap = np.log(high / low) * 0.085
        ends = spread_labels([float(np.log(values[-1])) for _, values, _ in lines], gap)
        for (name, _, _), end in zip(lines, ends, strict=True):
            label_beside(axes, float(heights[-1]), float(np.exp(end)), _short(plain_text(name)))

    return Panel(
        name=f"At {named.dps:.3g} degrees per side",
        words="how many times this work each load takes, over the micro-bevel's height; thin: "
        "first yield of the load that asks most",
        height_in=2.3,
        draw=draw,
        right_in=1.9,
    )


def _short(name: str) -> str:
    return name if len(name) <= 30 else f"{name[:29]}…"


def micro_bevel_words(study: MicroBevelStudy) -> str:
    """Tell the map in words, with its numbers."""
    lines = [
        micro_bevel_sentence(study),
        "A map of how many times this work the edge takes, over the micro-bevel's angle "
        f"({study.angles_dps[0]:.3g} to {study.angles_dps[-1]:.3g} degrees per side) and height "
        f"({shown_length(study.heights_mm[0])} to {shown_length(study.heights_mm[-1])}); below it "
        f"each load over height at one angle. {_about(study)}",
    ]
    for dps, row in zip(study.angles_dps, study.designs, strict=True):
        found = [design for design in row if isinstance(design, MicroDesign)]
        if found:
            told = ", ".join(
                f"{shown_factor(d.margin)} at {shown_length(d.height_mm)}"
                for d in (found[0], found[-1])
            )
            lines.append(f"{dps:.3g} per side: {told}.")
    return "\n".join([*lines, *micro_bevel_remarks(study)])
