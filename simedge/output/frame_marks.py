"""Marks and words in a frame: its caption, the next frame in it, the work, the peak."""

from __future__ import annotations

from itertools import permutations
from math import hypot

from matplotlib.patches import Circle, Rectangle
from matplotlib.patheffects import withStroke

from simedge.output.drawing_frame import Frame, unit_for
from simedge.output.label_places import Box, text_size_in, wrap_evenly
from simedge.output.load_arrows import DrawnPart
from simedge.output.palette import SMALL_PT, type_face
from simedge.output.shown_errors import stress_with_error, with_thin_spaces
from simedge.output.stress_scale import stress_text
from simedge.runs.answer import LoadAnswer

Point = tuple[float, float]

#: Labels of the work are broken to about this width, inches.
LABEL_WIDTH_IN = 1.75
#: Labels of more parts than this are placed in the order of the parts.
MOST_SHUFFLED = 3
#: A mark of a frame smaller than this is drawn as a ring, inches.
SMALLEST_MARK_IN = 0.09
PEAK_RADIUS_IN = 0.038
#: The peak's value may stand on the steel sooner than words about the work.
PEAK_ON_STEEL_COST = 0.005
#: A leader shorter than this says nothing.
SHORTEST_LEADER_IN = 0.07
#: What a leader is called in the figure.
LEADER = "_leader"
#: Between a leader and its words.
LEADER_GAP_IN = 0.025


def write_caption(frame: Frame, letter: str) -> None:
    """Write above a frame its letter and what its ruler counts."""
    face, bold = type_face(SMALL_PT), type_face(SMALL_PT, bold=True)
    words = f"depth behind the apex, {unit_for(frame.deepest_mm)}"
    top = frame.height_in + 0.05
    frame.axes.text(0.0, top, letter, fontproperties=bold, color=frame.theme.ink)
    frame.axes.text(0.14, top, words, fontproperties=face, color=frame.theme.quiet_ink)


def mark_frame(frame: Frame, inner: Frame, letter: str) -> None:
    """Mark in a frame what another one shows, with that one's letter.

    Parameters
    ----------
    frame, inner : Frame
    letter : str
        Of the inner frame.
    """
    ratio = frame.inches_per_mm / inner.inches_per_mm
    left, bottom = (frame.apex_in[i] - inner.apex_in[i] * ratio for i in (0, 1))
    width, height = inner.width_in * ratio, inner.height_in * ratio
    ink = frame.theme.ink
    if max(width, height) < SMALLEST_MARK_IN:
        radius = 0.5 * SMALLEST_MARK_IN
        centre = (left + 0.5 * width, bottom + 0.5 * height)
        frame.axes.add_patch(
            Circle(centre, radius, facecolor="none", edgecolor=ink, linewidth=0.8, zorder=10)
        )
        left, bottom = centre[0] - radius, centre[1] - radius
        width = height = 2.0 * radius
    else:
        # cut at the border of this frame, where there is nothing to see beyond
        right, top = min(left + width, frame.width_in + 0.02), bottom + height
        left, bottom = max(left, -0.02), max(bottom, -0.02)
        width, height = right - left, min(top, frame.height_in + 0.02) - bottom
        frame.axes.add_patch(
            Rectangle(
                (left, bottom),
                width,
                height,
                facecolor="none",
                edgecolor=ink,
                linewidth=0.8,
                zorder=10,
                clip_on=False,
            )
        )
    right, top = left + width, bottom + height
    for begin, end in (
        ((left, bottom), (right, bottom)),
        ((right, bottom), (right, top)),
        ((right, top), (left, top)),
        ((left, top), (left, bottom)),
    ):
        frame.room.take_line(begin, end)
    size = text_size_in((letter,), type_face(SMALL_PT, bold=True))
    box, _ = frame.room.place(size, (left + 0.5 * width, top))
    frame.write((letter,), box, bold=True)


def label_parts(frame: Frame, parts: tuple[DrawnPart, ...]) -> None:
    """Say what each drawn part of the work is, where there is room for it.

    Parameters
    ----------
    frame : Frame
    parts : tuple of DrawnPart
        Labels are placed one after the other; of few parts, in the best of all orders.
    """
    face = type_face(SMALL_PT)
    labels = []
    for part in parts:
        lines = wrap_evenly(part.words, face, LABEL_WIDTH_IN)
        x, y = part.anchor_in
        anchor = (
            min(max(x, 0.02), frame.width_in - 0.02),
            min(max(y, 0.02), frame.height_in - 0.02),
        )
        heights = (0.0, frame.height_in)
        if part.side is not None:
            apex = frame.apex_in[1]
            heights = (apex, frame.height_in) if part.side == "left" else (0.0, apex)
        labels.append((lines, anchor, heights))
    orders = [tuple(labels)]
    if len(labels) <= MOST_SHUFFLED:
        orders = list(permutations(labels))
    costs = []
    for order in orders:
        trial, cost = frame.room.copy(), 0.0
        for lines, anchor, heights in order:
            size = text_size_in(lines, face)
            box, added = trial.place(size, anchor, heights_in=heights)
            trial.take_line(*_leader(box, anchor))
            cost += added
        costs.append(cost)
    for lines, anchor, heights in orders[costs.index(min(costs))]:
        box, _ = frame.room.place(text_size_in(lines, face), anchor, heights_in=heights)
        frame.write(lines, box)
        _draw_leader(frame, box, anchor)


def mark_peak(frame: Frame, answer: LoadAnswer) -> None:
    """Mark the section's peak with its value; an even load has it on both sides."""
    value, x_mm, y_mm = (
        answer.section_peak_von_mises_mpa,
        answer.section_peak_x_mm,
        answer.section_peak_y_mm,
    )
    if value is None or x_mm is None or y_mm is None:
        return
    for y_one_mm in (y_mm, -y_mm) if answer.even else (y_mm,):
        x, y = (float(v) for v in frame.place(x_mm, y_one_mm))
        frame.axes.add_patch(
            Circle(
                (x, y),
                PEAK_RADIUS_IN,
                facecolor=frame.theme.paper,
                edgecolor=frame.theme.ink,
                linewidth=1.0,
                zorder=11,
            )
        )
        side = 2.0 * PEAK_RADIUS_IN
        frame.room.take_box(
            Box(left=x - PEAK_RADIUS_IN, bottom=y - PEAK_RADIUS_IN, width=side, height=side)
        )
    x, y = (float(v) for v in frame.place(x_mm, y_mm))
    error = answer.errors.section_peak_von_mises_mpa
    shown = stress_with_error(value, error) if error is not None else stress_text(value)
    text = (f"peak {with_thin_spaces(shown)}",)
    size = text_size_in(text, type_face(SMALL_PT))
    box, _ = frame.room.place(size, (x, y), PEAK_ON_STEEL_COST)
    frame.write(text, box)
    near = box.nearest(x, y)
    away = hypot(near[0] - x, near[1] - y)
    if away > PEAK_RADIUS_IN:
        share = PEAK_RADIUS_IN / away
        rim = (x + share * (near[0] - x), y + share * (near[1] - y))
        _draw_leader(frame, box, rim)


def _leader(box: Box, anchor: Point) -> tuple[Point, Point]:
    """Give both ends of the line from a label to what it tells about."""
    near = box.nearest(*anchor)
    length = hypot(near[0] - anchor[0], near[1] - anchor[1])
    share = min(LEADER_GAP_IN / length, 1.0) if length > 0.0 else 1.0
    return (
        near[0] + share * (anchor[0] - near[0]),
        near[1] + share * (anchor[1] - near[1]),
    ), anchor


def _draw_leader(frame: Frame, box: Box, anchor: Point) -> None:
    """Draw that line, unless the label stands right there."""
    begin, end = _leader(box, anchor)
    if hypot(end[0] - begin[0], end[1] - begin[1]) < SHORTEST_LEADER_IN - LEADER_GAP_IN:
        return
    frame.axes.plot(
        [begin[0], end[0]],
        [begin[1], end[1]],
        color=frame.theme.quiet_ink,
        linewidth=0.6,
        zorder=11,
        label=LEADER,
        path_effects=[withStroke(linewidth=1.8, foreground=frame.theme.paper)],
    )
    frame.room.take_line(begin, end)
