"""The foot of the picture: the colour bar, what it shows, and what the marks mean."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon, Rectangle

from simedge.output.label_places import text_width_in, wrap_text
from simedge.output.palette import BEYOND_STOPS, SMALL_PT, Theme, type_face
from simedge.output.stress_scale import StressScale, stress_text
from simedge.runs.answer import LoadAnswer

#: The bar, inches; its tip stands for what is beyond the scale.
BAR_IN, BAR_HEIGHT_IN, BAR_TIP_IN = 3.9, 0.15, 0.18
BAR_LEFT_IN, BAR_BOTTOM_IN = 0.04, 0.72
KEY_LEFT_IN, KEY_STEP_IN = 4.62, 0.2


def draw_key(axes: Axes, answers: Sequence[LoadAnswer], scale: StressScale, theme: Theme) -> None:
    """Draw the foot of the picture.

    Parameters
    ----------
    axes : Axes
        In inches; 6.9 by 1.
    answers : sequence of LoadAnswer
        What is drawn: only marks that the picture has are told.
    scale : StressScale
    theme : Theme
    """
    _draw_bar(axes, scale, theme)
    _label_bar(axes, scale, theme)
    lines = wrap_text(bar_words(scale), type_face(SMALL_PT), BAR_IN + 0.3)
    for number, line in enumerate(lines):
        _write(axes, 0.0, BAR_BOTTOM_IN - 0.28 - 0.15 * number, line, theme.quiet_ink)
    moved = any(part.carries for answer in answers for part in answer.parts)
    work = "the work, or what moves the tip" if moved else "the work"
    marks: list[tuple[str, Callable[[Axes, float, Theme], None]]] = [(work, _draw_work_mark)]
    if any(answer.section_peak_von_mises_mpa is not None for answer in answers):
        marks.append(("peak, the highest in the section", _draw_peak_mark))
    # also where only the patch under a load yields and the section does not
    if any(answer.yield_depth_mm > 0.0 for answer in answers):
        marks.append(("past yield", _draw_yield_mark))
    for number, (words, draw) in enumerate(marks):
        y = BAR_BOTTOM_IN + 0.5 * BAR_HEIGHT_IN - number * KEY_STEP_IN
        draw(axes, y, theme)
        _write(axes, KEY_LEFT_IN + 0.4, y + 0.065, words, theme.ink)


def bar_words(scale: StressScale) -> str:
    """Say what the bar shows, that it is no heat, and whether it is clipped."""
    clipped = f" Clipped at {stress_text(scale.end_mpa)}." if scale.clipped else ""
    return (
        "von Mises stress in MPa: one number for how hard the steel is worked. "
        f"Stress, not heat.{clipped}"
    )


def _write(axes: Axes, x: float, top: float, text: str, colour: str) -> None:
    axes.text(
        x,
        top,
        text,
        fontproperties=type_face(SMALL_PT),
        color=colour,
        verticalalignment="top",
    )


def _draw_bar(axes: Axes, scale: StressScale, theme: Theme) -> None:
    band, bottom, top = (
        BAR_IN / len(scale.colours),
        BAR_BOTTOM_IN,
        BAR_BOTTOM_IN + BAR_HEIGHT_IN,
    )
    for number, colour in enumerate(scale.colours):
        left = BAR_LEFT_IN + number * band
        # each band reaches under the next one, so that no viewer shows a seam
        reach = band if number == len(scale.colours) - 1 else 1.5 * band
        axes.add_patch(
            Rectangle((left, bottom), reach, BAR_HEIGHT_IN, facecolor=colour, edgecolor="none")
        )
    right = BAR_LEFT_IN + BAR_IN
    outline = [(BAR_LEFT_IN, bottom), (right, bottom), (right, top), (BAR_LEFT_IN, top)]
    if scale.clipped:
        tip = (right + BAR_TIP_IN, 0.5 * (bottom + top))
        axes.add_patch(
            Polygon([(right, bottom), tip, (right, top)], facecolor=BEYOND_STOPS, edgecolor="none")
        )
        outline.insert(2, tip)
    axes.add_patch(Polygon(outline, facecolor="none", edgecolor=theme.ink, linewidth=0.6))


def _label_bar(axes: Axes, scale: StressScale, theme: Theme) -> None:
    """Write the borders of bands below the bar, and mark yield above it."""
    face, bands = type_face(SMALL_PT), len(scale.colours)
    band, top = BAR_IN / bands, BAR_BOTTOM_IN + BAR_HEIGHT_IN
    widest = text_width_in(f"{scale.end_mpa:.12g}", face)
    every = next(n for n in (1, 2, 4, 5, 10, 25) if n * band > widest + 0.12)
    for number in range(0, bands + 1, every):
        x = BAR_LEFT_IN + number * band
        axes.plot([x, x], [BAR_BOTTOM_IN, BAR_BOTTOM_IN - 0.04], color=theme.ink, linewidth=0.6)
        axes.text(
            x,
            BAR_BOTTOM_IN - 0.06,
            f"{float(f'{number * scale.step_mpa:.6g}'):.12g}",
            fontproperties=face,
            color=theme.ink,
            horizontalalignment="center",
            verticalalignment="top",
        )
    text = f"yields at {stress_text(scale.yield_strength_mpa)}"
    right = BAR_LEFT_IN + BAR_IN
    at_yield = BAR_LEFT_IN + scale.yield_strength_mpa / scale.step_mpa * band
    if at_yield <= right:
        for colour, width in ((theme.paper, 2.6), (theme.ink, 1.1)):
            axes.plot(
                [at_yield, at_yield], [BAR_BOTTOM_IN, top + 0.07], color=colour, linewidth=width
            )
    else:
        text += ", beyond this scale"
    axes.text(
        min(at_yield, right),
        top + 0.09,
        text,
        fontproperties=face,
        color=theme.ink,
        horizontalalignment="right" if at_yield > right - 0.8 else "center",
        verticalalignment="bottom",
    )


def _draw_work_mark(axes: Axes, y: float, theme: Theme) -> None:
    left, right = KEY_LEFT_IN, KEY_LEFT_IN + 0.28
    axes.plot([left, right - 0.05], [y, y], color=theme.work, linewidth=0.9)
    head = [(right, y), (right - 0.075, y + 0.026), (right - 0.075, y - 0.026)]
    axes.add_patch(Polygon(head, facecolor=theme.work, edgecolor="none"))


def _draw_peak_mark(axes: Axes, y: float, theme: Theme) -> None:
    axes.add_patch(
        Circle(
            (KEY_LEFT_IN + 0.14, y),
            0.038,
            facecolor=theme.paper,
            edgecolor=theme.ink,
            linewidth=1.0,
        )
    )


def _draw_yield_mark(axes: Axes, y: float, theme: Theme) -> None:
    for face, edge, hatch, width in (
        (BEYOND_STOPS, theme.paper, "/////", 0.0),
        ("none", theme.ink, None, 0.9),
    ):
        axes.add_patch(
            Rectangle(
                (KEY_LEFT_IN, y - 0.06),
                0.28,
                0.12,
                facecolor=face,
                edgecolor=edge,
                hatch=hatch,
                linewidth=width,
            )
        )
