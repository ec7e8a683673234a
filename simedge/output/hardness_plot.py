"""The chart over hardness: how many times the work each kind takes, the steel's spread shaded."""

from __future__ import annotations

from math import exp, log

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke

from simedge.output.alt_text import about_words, plain_text
from simedge.output.chart import (
    MOST_TIMES,
    Panel,
    chart_sheet,
    factor_axis,
    label_beside,
    spread_labels,
)
from simedge.output.palette import LIGHT, SMALL_PT, drawing_style, type_face
from simedge.section.outline import Floats
from simedge.strength.load_factors import KINDS, Kind, KindFactor
from simedge.studies.hardness_sentence import first_stretches, hardness_sentences
from simedge.studies.over_hardness import HardnessStudy

#: Line styles first, so that it reads in grey; shades of ink, as the accent belongs to the work.
LINES: dict[Kind, object] = {
    "roll": "-",
    "chip": (0, (6, 2)),
    "crumble": (0, (1.2, 1.6)),
    "blunt": (0, (6, 2, 1.2, 2)),
}
NAMES: dict[Kind, str] = {
    "roll": "rolls",
    "chip": "chips",
    "crumble": "crumbles",
    "blunt": "blunts",
}
SHADES: dict[Kind, str] = {
    "roll": "#8A8471",
    "chip": "#D2944E",
    "crumble": "#7A3B5D",
    "blunt": "#A9A493",
}
#: A region narrower than this has no room for its name.
NARROWEST_TOLD_HRC = 1.2


def draw_hardness(study: HardnessStudy) -> Figure:
    """Draw the chart of a study, a panel a load."""
    with drawing_style(LIGHT):
        panels = [_panel(study, number) for number in range(len(study.load_names))]
        return chart_sheet(
            f"{plain_text(study.run.case.title)}: over hardness",
            "\n".join(hardness_sentences(study)),
            panels,
            f"{about_words(study.run)}. An edge cut back by the tolerated "
            f"{study.run.case.tolerated_damage_um:g} µm. Shaded: from the weak to the strong end "
            "of such a steel. The red line is this work as it is: above it the edge comes through. "
            "Toughness over hardness is derived from one grade; chips are good to a factor of "
            "about 2. No result is a safety certificate.",
            hardness_words(study),
        )


def _series(study: HardnessStudy, number: int, kind: Kind) -> list[KindFactor | None]:
    return [point.factors[number].of(kind) for point in study.points]


def _panel(study: HardnessStudy, number: int) -> Panel:
    hrc = np.array([point.hardness_hrc for point in study.points])
    bands: dict[Kind, Floats] = {}
    for kind in KINDS:
        found = _series(study, number, kind)
        rows = [
            (np.nan,) * 3
            if factor is None or factor.folds_first or not factor.value <= MOST_TIMES
            else (factor.low, factor.value, min(factor.high, MOST_TIMES))
            for factor in found
        ]
        band = np.array(rows).T
        if np.isfinite(band[1]).sum() > 1:
            bands[kind] = band

    def draw(axes: Axes) -> None:
        axes.set_xlim(hrc[0], hrc[-1])
        axes.set_xlabel("hardness, HRC")
        every = [band[np.isfinite(band)] for band in bands.values()]
        values = np.concatenate(every) if every else np.array([1.0])
        factor_axis(axes, float(values.min()), float(values.max()))
        if study.usual_hrc is not None:
            for edge in (study.usual_hrc.low, study.usual_hrc.high):
                axes.axvline(edge, color=LIGHT.hairline, linewidth=0.8, zorder=1)
        axes.axvline(study.own_hrc, color=LIGHT.ink, linewidth=0.8, linestyle=(0, (2, 2)))
        ends = {}
        for kind, (low, middle, high) in bands.items():
            axes.fill_between(
                hrc, low, high, color=SHADES[kind], alpha=0.30, linewidth=0.0, zorder=2
            )
            axes.plot(hrc, middle, color=LIGHT.ink, linewidth=1.4, linestyle=LINES[kind], zorder=4)
            last = int(np.flatnonzero(np.isfinite(middle))[-1])
            ends[kind] = (float(hrc[last]), float(middle[last]))
        found = [(point.hardness_hrc, point.factors[number]) for point in study.points]
        _draw_regions(axes, first_stretches(found))
        low, high = axes.get_ylim()
        gap = log(high / low) * 0.075
        heights = spread_labels([log(y) for _, y in ends.values()], gap)
        for (kind, (x, _)), height in zip(ends.items(), heights, strict=True):
            label_beside(axes, x, exp(height), NAMES[kind])

    own = f"dashed: the case's {study.own_hrc:g} HRC"
    usual = "; thin: the range usual for the grade" if study.usual_hrc is not None else ""
    return Panel(
        name=plain_text(study.load_names[number]),
        words=f"how many times this work each kind of damage takes; {own}{usual}",
        height_in=2.1,
        draw=draw,
    )


def _draw_regions(axes: Axes, stretches: list[tuple[Kind, float, float]]) -> None:
    """Write along the bottom which kind gives first, with a stroke where that changes."""
    bottom = axes.get_ylim()[0]
    begins = axes.get_xlim()[0]
    for index, (kind, _, last) in enumerate(stretches):
        following = stretches[index + 1][1] if index + 1 < len(stretches) else last
        ends = 0.5 * (last + following)
        if ends - begins >= NARROWEST_TOLD_HRC:
            axes.annotate(
                f"{NAMES[kind]} first",
                (0.5 * (begins + ends), bottom),
                xytext=(0.0, 4.0),
                textcoords="offset points",
                horizontalalignment="center",
                verticalalignment="bottom",
                fontproperties=type_face(SMALL_PT),
                color=LIGHT.quiet_ink,
                path_effects=[withStroke(linewidth=2.0, foreground=LIGHT.paper)],
                zorder=9,
            )
        if index + 1 < len(stretches):
            axes.plot([ends, ends], [bottom, bottom * 1.35], color=LIGHT.ink, linewidth=1.0)
        begins = ends


def hardness_words(study: HardnessStudy) -> str:
    """Tell the chart in words, with its numbers."""
    lines = [
        "How many times the work each kind of damage takes, over the hardness of the steel, a "
        f"chart a load. {about_words(study.run)}.",
        *hardness_sentences(study),
    ]
    ends = (study.points[0], study.points[-1])
    for number, name in enumerate(study.load_names):
        told = []
        for point in ends:
            kinds = [
                f"{NAMES[kind]} at {factor.value:.2g}"
                for kind, factor in point.factors[number].judged.items()
                if factor.value <= MOST_TIMES
            ]
            told.append(f"{point.hardness_hrc:g} HRC: {', '.join(kinds) or 'none below 100'}")
        lines.append(f"{plain_text(name)}, times this work, {'; '.join(told)}.")
    return "\n".join(lines)
