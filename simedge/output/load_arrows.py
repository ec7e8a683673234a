"""The work drawn on the edge: even arrows for pressure, one at the tip, half arrows for drag."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, degrees, hypot, pi, sin

import numpy as np
from matplotlib.collections import LineCollection, PolyCollection

from simedge.output.drawing_frame import Frame, length_text
from simedge.output.shown_errors import THIN_SPACE
from simedge.output.stress_scale import stress_text
from simedge.runs.answer import ActingPart
from simedge.section.outline import SIDES, Outline, Side

#: Between arrows of pressure, and the length of the strongest and the weakest, inches.
SPACING_IN, LONGEST_IN, SHORTEST_IN = 0.15, 0.30, 0.09
TIP_ARROW_IN = 0.36
HEAD_IN, HEAD_HALF_IN = 0.075, 0.026
#: Half arrows lie this far off the face.
DRAG_OFF_IN = 0.035

Place = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPart:
    """One thing that acts, as drawn.

    Attributes
    ----------
    words : str
        What it is.
    anchor_in : (float, float)
        Where its label belongs.
    side : {"left", "right"} or None
        The pressed face; None on the tip.
    """

    words: str
    anchor_in: Place
    side: Side | None


def _number(value: float) -> str:
    return f"{float(f'{value:.3g}'):.12g}"


def part_words(part: ActingPart, at: str | None = None) -> str:
    r"""Say in plain words what acts; `at` is where, if in other words than the part's own.

    >>> part_words(ActingPart(at="tip", axial_n_per_mm=3.0, lateral_n_per_mm=0.0))
    '3\u202fN/mm on the tip, straight in'
    """
    if part.pressure_mpa is None or part.to_mm is None or part.from_mm is None:
        size = hypot(part.axial_n_per_mm, part.lateral_n_per_mm)
        force = f"{_number(size)}{THIN_SPACE}N/mm"
        if part.carries:
            took = f"by {force}, {_direction(part)}" if size else "by no force"
            return f"the tip carried {_carried(part)} {took}"
        return f"{force} on the tip, {_direction(part)}"
    # a stretch that begins at the tip's tangent point begins at the tip to any reader
    begins = part.from_mm > 0.05 * part.to_mm
    stretch = f"{length_text(part.from_mm)} to" if begins else "down to"
    words = f"{stress_text(part.pressure_mpa)} on {at or f'the {part.at}'} {stretch}"
    words = f"{words} {length_text(part.to_mm)}"
    if not part.friction:
        return words
    towards = " towards the apex" if part.friction < 0 else ""
    return f"{words}, friction {_number(abs(part.friction))}{towards}"


def _carried(part: ActingPart) -> str:
    told = [
        f"{length_text(abs(length))} {words[length < 0]}"
        for length, words in (
            (part.carried_lateral_mm, ("to the left", "to the right")),
            (part.carried_axial_mm, ("in", "out")),
        )
        if length
    ]
    return " and ".join(told)


def work_words(parts: Sequence[ActingPart]) -> tuple[str, ...]:
    """Say in plain words what each part is: once where it is the same on both faces.

    Parameters
    ----------
    parts : sequence of ActingPart

    Returns
    -------
    tuple of str
        One a part, in order; empty where an earlier part's words say it already. Where
        several media act each is named.
    """
    named = len({part.medium for part in parts if part.medium}) > 1

    def tell(part: ActingPart, at: str | None = None) -> str:
        name = f"{part.medium}: " if named and part.medium else ""
        return f"{name}{part_words(part, at)}"

    both = [tell(part, "both faces") for part in parts]
    words: list[str] = []
    for number, part in enumerate(parts):
        alike = [
            other
            for other in range(len(parts))
            if both[other] == both[number] and parts[other].at != part.at
        ]
        if part.pressure_mpa is None or not alike:
            words.append(tell(part))
        else:
            words.append(both[number] if both[number] not in words else "")
    return tuple(words)


def _direction(part: ActingPart) -> str:
    angle = degrees(atan2(part.lateral_n_per_mm, part.axial_n_per_mm))
    if abs(angle) < 0.05:
        return "straight in"
    if abs(angle) > 179.95:
        return "pulling straight out"
    side = "left" if angle > 0 else "right"
    if abs(abs(angle) - 90.0) < 0.05:
        return f"sideways to the {side}"
    return f"{abs(angle):.0f}° {side} of straight in"


class _Strokes:
    """Shafts and heads of one frame, drawn together."""

    def __init__(self, frame: Frame) -> None:
        self._frame = frame
        self._shafts: list[list[Place]] = []
        self._heads: list[list[Place]] = []

    def line(self, points: list[Place]) -> None:
        self._shafts.append(points)
        for begin, end in pairwise(points):
            self._frame.room.take_line(begin, end)

    def arrow(self, tail: Place, point: Place, *, half: float = 0.0) -> None:
        """Add an arrow; `half` is 1 or -1 for only the barb on its left or right."""
        length = hypot(point[0] - tail[0], point[1] - tail[1])
        along = ((point[0] - tail[0]) / length, (point[1] - tail[1]) / length)
        head = min(HEAD_IN, 0.7 * length)
        base = (point[0] - head * along[0], point[1] - head * along[1])
        across = (-along[1] * HEAD_HALF_IN, along[0] * HEAD_HALF_IN)
        if half:
            wide = 1.8 * half
            barb = (base[0] + wide * across[0], base[1] + wide * across[1])
            self._heads.append([point, barb, base])
            self.line([tail, point])
            return
        self._heads.append(
            [
                point,
                (base[0] + across[0], base[1] + across[1]),
                (base[0] - across[0], base[1] - across[1]),
            ]
        )
        self.line([tail, base])

    def draw(self) -> None:
        colour = self._frame.theme.work
        self._frame.axes.add_collection(
            LineCollection(self._shafts, colors=colour, linewidths=0.9, zorder=7, capstyle="butt")
        )
        self._frame.axes.add_collection(
            PolyCollection(self._heads, facecolors=colour, edgecolors="none", zorder=7)
        )


def _pressed_part(
    frame: Frame,
    strokes: _Strokes,
    outline: Outline,
    part: ActingPart,
    words: str,
    full_mpa: float,
) -> DrawnPart | None:
    """Draw pressure on a stretch of a face, as far as the frame shows it."""
    assert part.from_mm is not None
    assert part.to_mm is not None
    assert part.pressure_mpa is not None
    side: Side = SIDES[0] if part.at == "left face" else SIDES[1]
    outward = 1.0 if side == "left" else -1.0
    end = min(part.to_mm, frame.deepest_mm)
    if end <= part.from_mm:
        return None
    length = max(SHORTEST_IN, LONGEST_IN * part.pressure_mpa / full_mpa)
    visible_in = (end - part.from_mm) * frame.inches_per_mm
    count = max(round(visible_in / SPACING_IN) + 1, 1) if visible_in > 0.5 * SPACING_IN else 1
    depths = (
        np.linspace(part.from_mm, end, max(count, 2))
        if count > 1
        else np.array([0.5 * (part.from_mm + end)])
    )
    tails: list[Place] = []
    faces: list[tuple[Place, float]] = []
    for depth in depths:
        angle = float(outline.face_angle_rad(side, depth))
        x, y = frame.place(depth, outline.face_y_mm(side, depth))
        normal = (-sin(angle), outward * cos(angle))
        tails.append((float(x) + length * normal[0], float(y) + length * normal[1]))
        faces.append(((float(x) + 0.012 * normal[0], float(y) + 0.012 * normal[1]), angle))
    for tail, (face, _) in zip(tails, faces, strict=True):
        strokes.arrow(tail, face)
    if len(tails) > 1:
        strokes.line(tails)
    if part.friction and len(faces) > 1:
        _drag(strokes, faces, outward, towards=1.0 if part.friction > 0 else -1.0)
    return DrawnPart(words=words, anchor_in=tails[len(tails) // 2], side=side)


def _drag(
    strokes: _Strokes, faces: list[tuple[Place, float]], outward: float, *, towards: float
) -> None:
    """Draw half arrows between those of pressure, along the face; 1 is towards the spine."""
    for ((x0, y0), _), ((x1, y1), angle) in pairwise(faces):
        along = (cos(angle), outward * sin(angle))
        reach = towards * 0.36 * hypot(x1 - x0, y1 - y0)
        x = 0.5 * (x0 + x1) - DRAG_OFF_IN * sin(angle)
        y = 0.5 * (y0 + y1) + DRAG_OFF_IN * outward * cos(angle)
        strokes.arrow(
            (x - reach * along[0], y - reach * along[1]),
            (x + reach * along[0], y + reach * along[1]),
            half=towards * outward,
        )


def _tip_part(
    frame: Frame, strokes: _Strokes, outline: Outline, part: ActingPart, words: str
) -> DrawnPart:
    """Draw a line load on the tip as one arrow, where the tip faces it."""
    angle = atan2(part.lateral_n_per_mm, part.axial_n_per_mm)
    along = (cos(angle), sin(angle))
    tip = outline.tip
    contact = (0.0, 0.0)
    if tip.kind == "rounded":
        first, last = tip.arc_rad
        facing = float(np.clip((angle + pi) % (2.0 * pi), first, last))
        contact = (tip.radius_mm * (1.0 + cos(facing)), tip.radius_mm * sin(facing))
    x, y = (float(value) for value in frame.place(*contact))
    point = (x - 0.012 * along[0], y - 0.012 * along[1])
    tail = (point[0] - TIP_ARROW_IN * along[0], point[1] - TIP_ARROW_IN * along[1])
    if along[0] < -1e-9:  # it pulls: from the tip outwards
        point, tail = (x + TIP_ARROW_IN * along[0], y + TIP_ARROW_IN * along[1]), point
    elif tip.kind == "land" and abs(along[0]) < 0.1:  # along the land: just in front of it
        point, tail = (point[0] - 0.05, point[1]), (tail[0] - 0.05, tail[1])
    strokes.arrow(tail, point)
    middle = (0.7 * tail[0] + 0.3 * point[0], 0.7 * tail[1] + 0.3 * point[1])
    return DrawnPart(words=words, anchor_in=middle, side=None)


def draw_work(
    frame: Frame, outline: Outline, parts: tuple[ActingPart, ...], full_mpa: float
) -> tuple[DrawnPart, ...]:
    """Draw all that a load puts on the edge.

    Parameters
    ----------
    frame : Frame
    outline : Outline
    parts : tuple of ActingPart
    full_mpa : float
        Pressure of the longest arrow, the same in all rows of a picture.

    Returns
    -------
    tuple of DrawnPart
        What is in sight and has words, for labels.
    """
    strokes = _Strokes(frame)
    drawn: list[DrawnPart] = []
    for part, words in zip(parts, work_words(parts), strict=True):
        if part.pressure_mpa is not None:
            pressed = _pressed_part(frame, strokes, outline, part, words, full_mpa)
            drawn += [pressed] if pressed is not None else []
        elif part.axial_n_per_mm or part.lateral_n_per_mm:
            drawn.append(_tip_part(frame, strokes, outline, part, words))
    strokes.draw()
    return tuple(part for part in drawn if part.words)
