"""One row of the picture: what one load does, at three scales of the same edge."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from matplotlib.axes import Axes
from matplotlib.patches import Polygon, Rectangle

from simedge.output.drawing_frame import Frame, length_text
from simedge.output.frame_marks import label_parts, mark_frame, mark_peak, write_caption
from simedge.output.frame_plans import GAP_IN, FramePlan
from simedge.output.label_places import Box, Room
from simedge.output.load_arrows import draw_work
from simedge.output.palette import SMALL_PT, Theme, type_face
from simedge.output.stress_bands import draw_stress_bands, draw_yield
from simedge.output.stress_scale import StressScale
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run
from simedge.section.outline import SIDES, Outline
from simedge.strength.zones import trusted_depth_mm

LayAxes = Callable[[float, float, float, float], Axes]
#: The drawing of the whole section, inches.
SECTION_IN = (2.3, 0.62)
#: Thickness of the jaws that hold the blade.
JAW_IN = 0.09


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared:
    """What all rows of a picture have in common.

    Attributes
    ----------
    run : Run
    whole : Outline
        From the apex to the spine.
    scale : StressScale
    full_mpa : float
        Pressure of the longest arrow.
    theme : Theme
    """

    run: Run
    whole: Outline
    scale: StressScale
    full_mpa: float
    theme: Theme


def full_pressure_mpa(answers: Sequence[LoadAnswer]) -> float:
    """Give the pressure of the longest arrow: the largest of all that is drawn."""
    return max([*(p.pressure_mpa or 0.0 for answer in answers for p in answer.parts), 1e-30])


def draw_row(lay: LayAxes, answer: LoadAnswer, frames: tuple[FramePlan, ...], to: Shared) -> None:
    """Draw the frames of one load side by side.

    Parameters
    ----------
    lay : callable
        Gives axes in inches over a rectangle (left, bottom, width, height) of the row;
        its lower left corner is that of the first frame.
    answer : LoadAnswer
    frames : tuple of FramePlan
    to : Shared
        What the row shares with the others.
    """
    left, drawn = 0.0, []
    for plan, letter in zip(frames, "AB", strict=False):
        frame = _zoom(lay(left, 0.0, plan.width_in, plan.height_in), plan, to)
        frame.draw_border()
        _fill(frame, answer, to)
        _draw_spine(frame, to.whole)
        parts = draw_work(frame, to.run.outline, answer.parts, to.full_mpa)
        frame.draw_ruler()
        write_caption(frame, letter)
        drawn.append((frame, parts))
        left += plan.width_in + GAP_IN
    shown = [frame for frame, _ in drawn]
    bevels, parts = drawn[0]
    for outer, inner in pairwise(shown):
        mark_frame(outer, inner, "B")
    label_parts(bevels, parts)
    peak_frame = next((f for f in reversed(shown) if _has_peak(f, answer)), None)
    if peak_frame is not None:
        mark_peak(peak_frame, answer)
    for frame in shown:
        frame.draw_scale_bar()


def draw_section(axes: Axes, bevels: FramePlan, answer: LoadAnswer, to: Shared) -> None:
    """Draw the whole section, what holds it, and where the first frame of the row looks.

    Parameters
    ----------
    axes : Axes
        In inches, as large as `SECTION_IN`.
    bevels : FramePlan
    answer : LoadAnswer
    to : Shared
    """
    width, height = SECTION_IN
    whole = to.whole
    top, bottom = whole.left[-1].end_mm[1], whole.right[-1].end_mm[1]
    in_front, behind = 0.14, 0.12
    inches_per_mm = min(
        (width - in_front - behind) / whole.depth_mm, (height - 0.2) / (top - bottom)
    )
    frame = Frame(
        axes=axes,
        width_in=width,
        height_in=height,
        apex_in=(in_front, 0.5 * height - 0.5 * (top + bottom) * inches_per_mm),
        inches_per_mm=inches_per_mm,
        room=Room(width, height),
        theme=to.theme,
    )
    _fill(frame, answer, to)
    _draw_support(frame, whole, to.run.outline.depth_mm)
    frame.draw_scale_bar(below=True)
    axes.text(
        0.0,
        -0.1,
        held_words(to),
        fontproperties=type_face(SMALL_PT),
        color=to.theme.quiet_ink,
        verticalalignment="center",
    )
    mark_frame(frame, _zoom(axes, bevels, to), "A")
    if answer.section_peak_x_mm is not None and answer.section_peak_y_mm is not None:
        zoom = _zoom(axes, bevels, to)
        if not zoom.shows(answer.section_peak_x_mm, answer.section_peak_y_mm):
            mark_peak(frame, answer)


def _zoom(axes: Axes, plan: FramePlan, to: Shared) -> Frame:
    """Lay a frame that shows the section down to a depth, the work in front of it included."""
    outline = to.whole
    depth = min(plan.depth_mm, outline.depth_mm)
    top = float(outline.face_y_mm("left", depth))
    bottom = float(outline.face_y_mm("right", depth))
    free = plan.height_in - plan.above_in - plan.below_in
    inches_per_mm = plan.inches_per_mm or min(
        (plan.width_in - plan.in_front_in) / depth, free / (top - bottom)
    )
    middle = plan.below_in + 0.5 * free
    return Frame(
        axes=axes,
        width_in=plan.width_in,
        height_in=plan.height_in,
        apex_in=(plan.in_front_in, middle - 0.5 * (top + bottom) * inches_per_mm),
        inches_per_mm=inches_per_mm,
        room=Room(plan.width_in, plan.height_in),
        theme=to.theme,
    )


def _fill(frame: Frame, answer: LoadAnswer, to: Shared) -> None:
    """Draw outline, colours and the line of yield."""
    clip = frame.draw_outline(to.whole)
    draw_stress_bands(frame, answer.stress, to.scale, clip)
    trusted = trusted_depth_mm(to.run.outline)
    draw_yield(frame, answer.stress, to.run.steel.yield_strength_mpa, trusted, clip)


def _draw_spine(frame: Frame, whole: Outline) -> None:
    """Close the outline at the spine, where a frame looks as far."""
    spine = whole.depth_mm
    if frame.deepest_mm < spine:
        return
    ends = [float(whole.face_y_mm(side, spine)) for side in SIDES]
    x, y = frame.place([spine, spine], ends)
    frame.axes.plot(x, y, color=frame.theme.ink, linewidth=1.1, zorder=5)


def _draw_support(frame: Frame, whole: Outline, held_mm: float) -> None:
    """Draw what holds the blade: hatched jaws from the clamp to the spine, or a wall there."""
    theme = frame.theme
    begin, spine = (float(frame.place(x, 0.0)[0]) for x in (held_mm, whole.depth_mm))
    high, low = (
        float(frame.place(0.0, run.end_mm[1])[1]) for run in (whole.left[-1], whole.right[-1])
    )

    def jaw(corners: list[tuple[float, float]]) -> Polygon:
        (left, right), (under, over) = ((min(c), max(c)) for c in zip(*corners, strict=True))
        frame.room.take_box(Box(left=left, bottom=under, width=right - left, height=over - under))
        return Polygon(
            corners,
            facecolor=theme.paper,
            edgecolor=theme.quiet_ink,
            hatch="//////",
            linewidth=0.5,
            zorder=3,
        )

    if spine - begin < 0.05:
        right, over = spine + JAW_IN, 0.06
        frame.axes.add_patch(
            jaw(
                [
                    (spine, low - over),
                    (right, low - over),
                    (right, high + over),
                    (spine, high + over),
                ]
            )
        )
        return
    frame.axes.add_patch(
        Rectangle((begin, low), spine - begin, high - low, facecolor=theme.held, zorder=1)
    )
    for side, edge in (("left", high + JAW_IN), ("right", low - JAW_IN)):
        knots = whole.face_knots_mm(side, held_mm, whole.depth_mm)  # type: ignore[arg-type]
        x, y = frame.place(knots, whole.face_y_mm(side, knots))  # type: ignore[arg-type]
        corners = [*zip(map(float, x), map(float, y), strict=True), (spine, edge), (begin, edge)]
        frame.axes.add_patch(jaw(corners))


def _has_peak(frame: Frame, answer: LoadAnswer) -> bool:
    """Tell whether the section's peak lies in a frame."""
    if answer.section_peak_x_mm is None or answer.section_peak_y_mm is None:
        return False
    return frame.shows(answer.section_peak_x_mm, answer.section_peak_y_mm)


def held_words(to: Shared) -> str:
    """Say where the blade is held."""
    held_mm, spine_mm = to.run.outline.depth_mm, to.whole.depth_mm
    if held_mm > (1.0 - 1e-9) * spine_mm:
        return "held at the spine"
    return f"held from {length_text(held_mm)} on"
