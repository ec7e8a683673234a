"""A frame: a window on the section in true proportion, with ruler and scale bar.

Everything in a frame is drawn in inches on the paper, from its lower left corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log10

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.path import Path as Shape
from matplotlib.patheffects import AbstractPathEffect, withStroke
from numpy.typing import ArrayLike

from simedge.output.label_places import LINE_SPACING, POINTS_PER_INCH, Box, Room, text_width_in
from simedge.output.palette import SMALL_PT, Theme, type_face
from simedge.output.shown_errors import THIN_SPACE
from simedge.section.outline import Floats, Outline

#: Points on the arc of a rounded tip.
ARC_POINTS = 61


def round_down(value: float) -> float:
    """Give the largest of 1, 2 or 5 times a power of ten that is not above a value.

    >>> round_down(0.34), round_down(7.0)
    (0.2, 5.0)
    """
    power = 10.0 ** floor(log10(value))
    return float(f"{max(s for s in (1, 2, 5) if s * power <= value * (1 + 1e-9)) * power:.3g}")


def length_text(length_mm: float, unit: str | None = None) -> str:
    r"""Write a length: nanometres, micrometres or millimetres, whichever reads best.

    >>> length_text(0.05), length_text(0.2)
    ('50\u202fµm', '0.2\u202fmm')
    """
    unit = unit or unit_for(length_mm)
    factor = {"nm": 1e6, "µm": 1e3, "mm": 1.0}[unit]
    return f"{float(f'{length_mm * factor:.3g}'):g}{THIN_SPACE}{unit}"


def unit_for(length_mm: float) -> str:
    """Choose the unit in which a length reads best."""
    return "mm" if length_mm >= 0.0995 else "µm" if length_mm >= 0.99e-4 else "nm"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Frame:
    """A window on the section.

    Attributes
    ----------
    axes : Axes
        In inches from the lower left corner.
    width_in, height_in : float
    apex_in : (float, float)
        Where the foremost point of the apex lies.
    inches_per_mm : float
    room : Room
        What labels have left.
    theme : Theme
    """

    axes: Axes
    width_in: float
    height_in: float
    apex_in: tuple[float, float]
    inches_per_mm: float
    room: Room
    theme: Theme

    def place(self, x_mm: ArrayLike, y_mm: ArrayLike) -> tuple[Floats, Floats]:
        """Give where places of the section lie on the paper."""
        return (
            self.apex_in[0] + self.inches_per_mm * np.asarray(x_mm, dtype=float),
            self.apex_in[1] + self.inches_per_mm * np.asarray(y_mm, dtype=float),
        )

    @property
    def deepest_mm(self) -> float:
        """Depth x at the frame's right border."""
        return (self.width_in - self.apex_in[0]) / self.inches_per_mm

    def shows(self, x_mm: float, y_mm: float) -> bool:
        """Tell whether a place lies in the frame."""
        x, y = self.place(x_mm, y_mm)
        return bool(0.0 <= x <= self.width_in and 0.0 <= y <= self.height_in)

    def section_shape(self, outline: Outline) -> Floats:
        """Give the section's polygon on the paper, cut a little behind the frame, shape (n, 2)."""
        end = min(self.deepest_mm + 0.5 / self.inches_per_mm, outline.depth_mm)
        tip_x, tip_y = outline.tip.point(np.linspace(0.0, 1.0, ARC_POINTS))
        left, right = (
            [
                (x, float(outline.face_y_mm(side, x)))
                for x in outline.face_knots_mm(side, outline.face_begins_mm(side), end)
                if outline.face_begins_mm(side) < x <= end
            ]
            for side in ("left", "right")
        )
        corners = [*left[::-1], *zip(tip_x, tip_y, strict=True), *right]
        return np.stack(self.place(*np.array(corners).T), axis=1)

    def draw_outline(self, outline: Outline) -> PathPatch:
        """Draw the outline, true down to the arc of the tip, and mark its room as steel."""
        polygon = self.section_shape(outline)
        self.room.add_steel(polygon)
        patch = PathPatch(
            Shape(polygon),
            facecolor="none",
            edgecolor=self.theme.ink,
            linewidth=1.1,
            joinstyle="round",
            zorder=5,
        )
        self.axes.add_patch(patch)
        return patch

    def draw_border(self) -> None:
        """Draw the frame's own border."""
        self.axes.add_patch(
            Rectangle(
                (0.0, 0.0),
                self.width_in,
                self.height_in,
                facecolor="none",
                edgecolor=self.theme.hairline,
                linewidth=0.7,
                zorder=9,
                clip_on=False,
            )
        )

    def write(self, lines: tuple[str, ...], box: Box, *, bold: bool = False) -> None:
        """Write lines of small text into a box, kept readable on whatever lies below."""
        for number, line in enumerate(lines):
            self.axes.text(
                box.left,
                box.bottom + box.height - number * LINE_SPACING * SMALL_PT / POINTS_PER_INCH,
                line,
                fontproperties=type_face(SMALL_PT, bold=bold),
                color=self.theme.ink,
                horizontalalignment="left",
                verticalalignment="top",
                zorder=12,
                path_effects=self._halo(box),
            )

    def _halo(self, box: Box) -> list[AbstractPathEffect]:
        """Give text on the steel a rim of paper; on the paper it needs none."""
        if self.room.is_clear(box):
            return []
        return [withStroke(linewidth=2.4, foreground=self.theme.paper)]

    def draw_ruler(self) -> None:
        """Draw the ruler of depth behind the apex, below the frame; its caption has the unit."""
        step = round_down(self.deepest_mm / 3.2)
        per_step = 4 if f"{step:e}"[0] == "2" else 5
        count = floor(self.deepest_mm / step * per_step * (1 + 1e-9))
        unit, ink = unit_for(self.deepest_mm), self.theme.quiet_ink
        places = self.place(np.arange(count + 1) * step / per_step, 0.0)[0]
        lines = [[(float(places[0]), -0.05), (self.width_in, -0.05)]]
        for number, x in enumerate(places):
            main = number % per_step == 0
            lines.append([(float(x), -0.05), (float(x), -0.11 if main else -0.08)])
            if main:
                self.axes.text(
                    x,
                    -0.13,
                    length_text(number // per_step * step, unit).split(THIN_SPACE)[0],
                    fontproperties=type_face(SMALL_PT),
                    color=ink,
                    horizontalalignment="center",
                    verticalalignment="top",
                )
        self.axes.add_collection(
            LineCollection(lines, colors=ink, linewidths=0.7, clip_on=False, capstyle="butt")
        )

    def draw_scale_bar(self, *, below: bool = False) -> None:
        """Draw a bar of a round length with that length: where there is room, or below."""
        length = round_down(0.2 * self.width_in / self.inches_per_mm)
        bar, ink = length * self.inches_per_mm, self.theme.ink
        text, face = length_text(length), type_face(SMALL_PT)
        wide = text_width_in(text, face)
        if below:
            right, bottom = self.width_in - 0.1, -0.1
            text_at, align = (right - bar - 0.06, bottom), ("right", "center")
            halo: list[AbstractPathEffect] = []
        else:
            size = (max(bar, wide), 0.2)
            box, _ = self.room.place(size, (self.width_in - 0.05, 0.05))
            right, bottom = box.left + 0.5 * (size[0] + bar), box.bottom + 0.04
            text_at, align = (right - 0.5 * bar, bottom + 0.04), ("center", "bottom")
            halo = self._halo(box)
        left = right - bar
        self.axes.add_collection(
            LineCollection(
                [
                    [(left, bottom), (right, bottom)],
                    [(left, bottom - 0.03), (left, bottom + 0.03)],
                    [(right, bottom - 0.03), (right, bottom + 0.03)],
                ],
                colors=ink,
                linewidths=(1.4, 0.8, 0.8),
                capstyle="butt",
                clip_on=False,
                zorder=12,
                path_effects=[withStroke(linewidth=2.6, foreground=self.theme.paper)],
            )
        )
        self.axes.text(
            *text_at,
            text,
            fontproperties=face,
            color=ink,
            horizontalalignment=align[0],
            verticalalignment=align[1],
            zorder=12,
            path_effects=halo,
        )
