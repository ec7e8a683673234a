"""Where in a frame a label finds room: outside the steel, clear of arrows and other labels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from matplotlib.font_manager import FontProperties
from matplotlib.path import Path as Shape
from matplotlib.textpath import TextToPath
from numpy.typing import NDArray

from simedge.section.outline import Floats

#: Side of a cell of the raster on which room is counted, inches.
CELL_IN = 0.035
#: What covering one cell costs, in inches of distance: steel may be covered if need be.
STEEL_COST, TAKEN_COST = 0.02, 5.0
POINTS_PER_INCH = 72.0
LINE_SPACING = 1.25


def text_width_in(text: str, face: FontProperties) -> float:
    """Give the width of one line of text, inches."""
    width, _, _ = TextToPath().get_text_width_height_descent(text, face, ismath=False)
    return float(width) / POINTS_PER_INCH


def text_size_in(lines: tuple[str, ...], face: FontProperties) -> tuple[float, float]:
    """Give width and height of a block of text, inches."""
    width = max(text_width_in(line, face) for line in lines)
    return width, len(lines) * LINE_SPACING * face.get_size_in_points() / POINTS_PER_INCH


def wrap_text(text: str, face: FontProperties, width_in: float) -> tuple[str, ...]:
    """Break text at its spaces into lines of at most that width, by the type's own measure."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_in(longer, face) <= width_in:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A place on the paper, inches from the frame's lower left corner."""

    left: float
    bottom: float
    width: float
    height: float

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """Give the point of the box that is nearest to a point."""
        return (
            min(max(x, self.left), self.left + self.width),
            min(max(y, self.bottom), self.bottom + self.height),
        )


class Room:
    """What is still free in a frame; each label that is placed takes its room.

    Parameters
    ----------
    width_in, height_in : float
        Of the frame.
    """

    def __init__(self, width_in: float, height_in: float) -> None:
        shape = (max(int(height_in / CELL_IN), 1), max(int(width_in / CELL_IN), 1))
        self._cost: NDArray[np.float64] = np.zeros(shape)

    def _centres(self) -> Floats:
        rows, columns = self._cost.shape
        y, x = np.mgrid[0:rows, 0:columns]
        return (np.stack([x.ravel(), y.ravel()], axis=1) + 0.5) * CELL_IN

    def add_steel(self, polygon_in: Floats) -> None:
        """Mark the inside of a polygon, shape (n, 2): text reads badly on colours."""
        inside = Shape(polygon_in).contains_points(self._centres())
        self._cost[inside.reshape(self._cost.shape)] += STEEL_COST

    def take_line(self, begin: tuple[float, float], end: tuple[float, float]) -> None:
        """Take the room under a line."""
        steps = int(np.hypot(end[0] - begin[0], end[1] - begin[1]) / (0.5 * CELL_IN)) + 2
        share = np.linspace(0.0, 1.0, steps)
        x = begin[0] + share * (end[0] - begin[0])
        y = begin[1] + share * (end[1] - begin[1])
        column, row = (x / CELL_IN).astype(int), (y / CELL_IN).astype(int)
        rows, columns = self._cost.shape
        kept = (column >= 0) & (column < columns) & (row >= 0) & (row < rows)
        self._cost[row[kept], column[kept]] += TAKEN_COST

    def take_box(self, box: Box) -> None:
        """Take the room of a box."""
        left, bottom = max(int(box.left / CELL_IN), 0), max(int(box.bottom / CELL_IN), 0)
        right = int(np.ceil((box.left + box.width) / CELL_IN))
        top = int(np.ceil((box.bottom + box.height) / CELL_IN))
        self._cost[bottom:top, left:right] += TAKEN_COST

    def place(self, size_in: tuple[float, float], anchor: tuple[float, float]) -> Box:
        """Find the cheapest place for a label near what it tells about, and take it.

        Parameters
        ----------
        size_in : (float, float)
            Width and height of the text.
        anchor : (float, float)
            What it belongs to.

        Returns
        -------
        Box
            Of the text; a cell of margin around it is taken too.
        """
        rows, columns = self._cost.shape
        wide = min(int(np.ceil(size_in[0] / CELL_IN)) + 2, columns)
        high = min(int(np.ceil(size_in[1] / CELL_IN)) + 2, rows)
        total = np.zeros((rows + 1, columns + 1))
        total[1:, 1:] = self._cost.cumsum(axis=0).cumsum(axis=1)
        covered = (
            total[high:, wide:]
            - total[:-high, wide:]
            - total[high:, :-wide]
            + total[:-high, :-wide]
        )
        row, column = np.mgrid[0 : covered.shape[0], 0 : covered.shape[1]]
        gap_x = np.maximum(column * CELL_IN - anchor[0], anchor[0] - (column + wide) * CELL_IN)
        gap_y = np.maximum(row * CELL_IN - anchor[1], anchor[1] - (row + high) * CELL_IN)
        distance = np.hypot(np.maximum(gap_x, 0.0), np.maximum(gap_y, 0.0))
        best = np.unravel_index(int(np.argmin(covered + distance)), covered.shape)
        bottom, left = int(best[0]), int(best[1])
        self._cost[bottom : bottom + high, left : left + wide] += TAKEN_COST
        return Box(
            left=(left + 1) * CELL_IN,
            bottom=(bottom + 1) * CELL_IN,
            width=size_in[0],
            height=size_in[1],
        )
