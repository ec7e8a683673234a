"""One row of the picture: what one load does, at three scales of the same edge."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot

from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon, Rectangle
from matplotlib.patheffects import withStroke

from simedge.output.drawing_frame import Frame, length_text
from simedge.output.label_places import Box, Room, text_size_in, wrap_text
from simedge.output.load_arrows import LONGEST_IN, TIP_ARROW_IN, draw_work
from simedge.output.palette import SMALL_PT, Theme, type_face
from simedge.output.stress_bands import draw_stress_bands, draw_yield
from simedge.output.stress_scale import StressScale, stress_text
from simedge.output.window_choice import Depths
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run
from simedge.section.outline import Outline
from simedge.strength.zones import trusted_depth_mm

LayAxes = Callable[[float, float, float, float], Axes]
#: Work labels are broken to about this width, inches.
LABEL_WIDTH_IN = 1.75
#: A mark of a frame smaller than this is drawn as a ring, inches.
SMALLEST_MARK_IN = 0.09


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLayout:
    """Sizes of the frames of a row, inches; the right column holds section and close-up."""

    width_in: float = 6.9
    height_in: float = 2.35
    bevels_width_in: float = 3.95
    column_width_in: float = 2.65
    section_height_in: float = 0.5
    close_up_height_in: float = 1.36


def draw_row(
    lay: LayAxes,
    run: Run,
    answer: LoadAnswer,
    depths: Depths,
    whole: Outline,
    scale: StressScale,
    full_mpa: float,
    theme: Theme,
    layout: RowLayout,
) -> None:
    """Draw the frames of one load.

    Parameters
    ----------
    lay : callable
        Gives axes in inches over a rectangle (left, bottom, width, height) of the row.
    run : Run
    answer : LoadAnswer
    depths : Depths
    whole : Outline
        From the apex to the spine.
    scale : StressScale
    full_mpa : float
        Pressure of the longest arrow.
    theme : Theme
    layout : RowLayout
    """
    outline = run.outline
    size = (layout.bevels_width_in, layout.height_in)
    bevels = _zoom(lay(0.0, 0.0, *size), size, outline, answer, depths.bevels_mm, theme)
    left = layout.width_in - layout.column_width_in
    low = layout.height_in - layout.section_height_in
    section_size = (layout.column_width_in, layout.section_height_in)
    section = _section_frame(lay(left, low, *section_size), section_size, whole, theme)
    close = None
    if depths.close_up_mm is not None:
        size = (layout.column_width_in, layout.close_up_height_in)
        close = _zoom(lay(left, 0.0, *size), size, outline, answer, depths.close_up_mm, theme)

    _fill(section, run, answer, scale, outline)
    _draw_support(section, whole, outline)
    _caption(section, "whole section", None)
    section.draw_scale_bar(below=True)
    _mark_frame(section, bevels, "A")
    for frame, letter in ((bevels, "A"), (close, "B")):
        if frame is None:
            continue
        frame.draw_border()
        frame.draw_scale_bar()
        _fill(frame, run, answer, scale, whole)
        drawn = draw_work(frame, outline, answer.parts, full_mpa)
        frame.draw_ruler()
        _caption(frame, "depth behind the apex", letter)
        if frame is bevels:
            if close is not None:
                _mark_frame(bevels, close, "B")
            for part in drawn:
                _label(frame, part.words, part.anchor_in, theme.work)
    finest = next(f for f in (close, bevels, section) if f is not None and _has_peak(f, answer))
    _mark_peak(finest, answer)


def _zoom(
    axes: Axes,
    size_in: tuple[float, float],
    outline: Outline,
    answer: LoadAnswer,
    depth_mm: float,
    theme: Theme,
) -> Frame:
    """Lay a frame that shows the section down to a depth, the work in front of it included."""
    width, height = size_in
    pressed = {part.at for part in answer.parts if part.pressure_mpa is not None}
    tipped = any(part.pressure_mpa is None for part in answer.parts)
    in_front = 0.2 + (TIP_ARROW_IN if tipped else 0.12)
    above = 0.12 + (LONGEST_IN if "left face" in pressed else 0.0)
    below = 0.12 + (LONGEST_IN if "right face" in pressed else 0.0)
    top = float(outline.face_y_mm("left", min(depth_mm, outline.depth_mm)))
    bottom = float(outline.face_y_mm("right", min(depth_mm, outline.depth_mm)))
    inches_per_mm = min(
        (width - in_front) / depth_mm, (height - above - below) / max(top - bottom, 1e-12)
    )
    middle = 0.5 * (height - above - below) + below
    apex_y = middle - 0.5 * (top + bottom) * inches_per_mm
    return Frame(
        axes=axes,
        width_in=width,
        height_in=height,
        apex_in=(in_front, apex_y),
        inches_per_mm=inches_per_mm,
        room=Room(width, height),
        theme=theme,
    )


def _section_frame(axes: Axes, size_in: tuple[float, float], whole: Outline, theme: Theme) -> Frame:
    """Lay the frame that shows the whole section."""
    width, height = size_in
    top, bottom = whole.left[-1].end_mm[1], whole.right[-1].end_mm[1]
    in_front, behind = 0.12, 0.12
    inches_per_mm = min(
        (width - in_front - behind) / whole.depth_mm, (height - 0.2) / (top - bottom)
    )
    return Frame(
        axes=axes,
        width_in=width,
        height_in=height,
        apex_in=(in_front, 0.5 * height - 0.5 * (top + bottom) * inches_per_mm),
        inches_per_mm=inches_per_mm,
        room=Room(width, height),
        theme=theme,
    )


def _fill(frame: Frame, run: Run, answer: LoadAnswer, scale: StressScale, outline: Outline) -> None:
    """Draw outline, colours and the line of yield."""
    clip = frame.draw_outline(outline)
    draw_stress_bands(frame, answer.stress, scale, clip)
    trusted = trusted_depth_mm(run.outline)
    draw_yield(frame, answer.stress, run.steel.yield_strength_mpa, trusted, clip)


def _draw_support(frame: Frame, whole: Outline, outline: Outline) -> None:
    """Draw what holds the blade: hatched jaws from the clamp to the spine, or a wall."""
    theme = frame.theme
    begin, spine = (float(frame.place(x, 0.0)[0]) for x in (outline.depth_mm, whole.depth_mm))
    top, bottom = whole.left[-1].end_mm[1], whole.right[-1].end_mm[1]
    high, low = (float(frame.place(0.0, y)[1]) for y in (top, bottom))
    hatch = {"facecolor": "none", "edgecolor": theme.quiet_ink, "hatch": "//////", "zorder": 3}
    if spine - begin < 0.05:
        wall = Rectangle((spine, low - 0.06), 0.09, high - low + 0.12, linewidth=0.0, **hatch)
        frame.axes.add_patch(wall)
        return
    corners = [(outline.depth_mm, "left"), (whole.depth_mm, "left")]
    upper, lower = (
        [
            tuple(float(v) for v in frame.place(x, whole.face_y_mm(side, x)))
            for x in (outline.depth_mm, whole.depth_mm)
        ]
        for side in ("left", "right")
    )
    del corners
    held = Polygon([*upper, *lower[::-1]], facecolor=theme.held, edgecolor="none", zorder=2)
    frame.axes.add_patch(held)
    for (first, last), away in ((upper, 1.0), (lower, -1.0)):
        edge = (high if away > 0 else low) + 0.09 * away
        jaw = Polygon([first, last, (last[0], edge), (first[0], edge)], linewidth=0.5, **hatch)
        frame.axes.add_patch(jaw)


def _caption(frame: Frame, words: str, letter: str | None) -> None:
    """Write above a frame what it shows."""
    x = 0.0
    if letter is not None:
        frame.axes.text(
            x,
            frame.height_in + 0.05,
            letter,
            fontproperties=type_face(SMALL_PT, bold=True),
            color=frame.theme.ink,
        )
        x = 0.14
    frame.axes.text(
        x,
        frame.height_in + 0.05,
        words,
        fontproperties=type_face(SMALL_PT),
        color=frame.theme.quiet_ink,
    )


def _mark_frame(frame: Frame, inner: Frame, letter: str) -> None:
    """Mark in a frame what the next one shows, with its letter."""
    left, bottom = (
        frame.apex_in[i] - inner.apex_in[i] * frame.inches_per_mm / inner.inches_per_mm
        for i in (0, 1)
    )
    ratio = frame.inches_per_mm / inner.inches_per_mm
    width, height = inner.width_in * ratio, inner.height_in * ratio
    style = {"facecolor": "none", "edgecolor": frame.theme.ink, "linewidth": 0.8, "zorder": 10}
    if width < SMALLEST_MARK_IN:
        radius = 0.5 * SMALLEST_MARK_IN
        centre = (left + 0.5 * width, bottom + 0.5 * height)
        frame.axes.add_patch(Circle(centre, radius, clip_on=False, **style))
        left, bottom = centre[0] - radius, centre[1] - radius
        width = height = 2.0 * radius
    else:
        frame.axes.add_patch(Rectangle((left, bottom), width, height, clip_on=False, **style))
    for x0, y0, x1, y1 in (
        (left, bottom, left + width, bottom),
        (left, bottom + height, left + width, bottom + height),
        (left, bottom, left, bottom + height),
        (left + width, bottom, left + width, bottom + height),
    ):
        frame.room.take_line((x0, y0), (x1, y1))
    size = text_size_in((letter,), type_face(SMALL_PT, bold=True))
    box = frame.room.place(size, (left, bottom + height))
    frame.write((letter,), box, bold=True)


def _label(frame: Frame, words: str, anchor: tuple[float, float], colour: str) -> None:
    """Write a label where there is room, with a leader to what it tells about."""
    face = type_face(SMALL_PT)
    lines = wrap_text(words, face, LABEL_WIDTH_IN)
    anchor = (
        min(max(anchor[0], 0.02), frame.width_in - 0.02),
        min(max(anchor[1], 0.02), frame.height_in - 0.02),
    )
    box = frame.room.place(text_size_in(lines, face), anchor)
    frame.write(lines, box)
    _leader(frame, box, anchor, colour)


def _leader(frame: Frame, box: Box, anchor: tuple[float, float], colour: str) -> None:
    near = box.nearest(*anchor)
    if hypot(near[0] - anchor[0], near[1] - anchor[1]) < 0.07:
        return
    frame.axes.plot(
        [near[0], anchor[0]],
        [near[1], anchor[1]],
        color=colour,
        linewidth=0.6,
        zorder=11,
        path_effects=[withStroke(linewidth=1.8, foreground=frame.theme.paper)],
    )
    frame.room.take_line(near, anchor)


def _has_peak(frame: Frame, answer: LoadAnswer) -> bool:
    """Tell whether the section's peak lies in a frame; a singular one lies in any."""
    if answer.section_peak_x_mm is None or answer.section_peak_y_mm is None:
        return True
    return frame.shows(answer.section_peak_x_mm, answer.section_peak_y_mm)


def _mark_peak(frame: Frame, answer: LoadAnswer) -> None:
    """Mark the section's peak with its value."""
    value, x_mm, y_mm = (
        answer.section_peak_von_mises_mpa,
        answer.section_peak_x_mm,
        answer.section_peak_y_mm,
    )
    if value is None or x_mm is None or y_mm is None:
        return
    x, y = (float(v) for v in frame.place(x_mm, y_mm))
    for colour, width in ((frame.theme.paper, 2.6), (frame.theme.ink, 1.1)):
        frame.axes.add_patch(
            Circle((x, y), 0.045, facecolor="none", edgecolor=colour, lw=width, zorder=11)
        )
    frame.room.take_box(Box(left=x - 0.05, bottom=y - 0.05, width=0.1, height=0.1))
    face = type_face(SMALL_PT)
    text = (f"highest {stress_text(value)}",)
    box = frame.room.place(text_size_in(text, face), (x, y))
    frame.write(text, box)
    near = box.nearest(x, y)
    away = hypot(near[0] - x, near[1] - y)
    if away > 0.07:
        rim = (x + 0.045 * (near[0] - x) / away, y + 0.045 * (near[1] - y) / away)
        _leader(frame, box, rim, frame.theme.ink)


__all__ = ["RowLayout", "draw_row", "length_text"]
