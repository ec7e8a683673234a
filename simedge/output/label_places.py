"""Where in a frame a label finds room: outside the steel, clear of arrows and other labels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf

import numpy as np
from matplotlib.font_manager import FontProperties
from matplotlib.path import Path as Shape
from matplotlib.textpath import TextToPath
from numpy.typing import NDArray

from simedge.section.outline import Floats

#: Side of a cell of the raster on which room is counted, inches.
CELL_IN = 0.035
#: What covering one cell costs, in inches of distance: steel may be covered if need be.
STEEL_COST, OUTLINE_COST, TAKEN_COST = 0.02, 0.3, 5.0
#: What a leader costs for each cell of steel, and of arrows, that it crosses.
CROSSED_STEEL_COST, CROSSED_COST = 0.3, 0.3
#: Words are never crossed if that can be helped.
CROSSED_WORDS_COST = 3.0
#: What it costs to stand on the wrong side of the edge.
MISPLACED_COST = 20.0
#: Of so many of the best places the leader is looked at too.
PLACES_WITH_LEADER = 400
#: Steps in which lines of a label are tried narrower, down to half the width.
NARROWINGS = 10
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


def _pieces(word: str, face: FontProperties, width_in: float) -> list[str]:
    """Cut a word into pieces of at most that width."""
    if text_width_in(word, face) <= width_in:
        return [word]
    pieces = [""]
    for letter in word:
        if pieces[-1] and text_width_in(pieces[-1] + letter, face) > width_in:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def wrap_text(text: str, face: FontProperties, width_in: float) -> tuple[str, ...]:
    """Break text at its spaces into lines of at most that width, by the type's own measure.

    A word that is wider than a line is broken where the line ends. No text, no lines.
    """
    lines: list[str] = []
    # only at plain spaces: thin ones hold numbers and their units together
    words = (word for word in text.split(" ") if word)
    for piece in (piece for word in words for piece in _pieces(word, face, width_in)):
        longer = f"{lines[-1]} {piece}" if lines else piece
        if lines and text_width_in(longer, face) <= width_in:
            lines[-1] = longer
        else:
            lines.append(piece)
    return tuple(lines)


def wrap_evenly(text: str, face: FontProperties, width_in: float) -> tuple[str, ...]:
    """Break text into as few lines as that width needs, none of them much longer than others."""
    lines = wrap_text(text, face, width_in)
    for narrower in range(1, NARROWINGS):
        other = wrap_text(text, face, width_in * (1.0 - narrower / (2.0 * NARROWINGS)))
        if len(other) > len(lines):
            break
        lines = other
    return lines


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
        self._steel = np.zeros(shape, dtype=bool)
        self._words = np.zeros(shape, dtype=bool)

    def copy(self) -> Room:
        """Give the same room once more, to try things out."""
        other = Room.__new__(Room)
        other._cost, other._steel, other._words = (
            array.copy() for array in (self._cost, self._steel, self._words)
        )
        return other

    def _centres(self) -> Floats:
        rows, columns = self._cost.shape
        y, x = np.mgrid[0:rows, 0:columns]
        return (np.stack([x.ravel(), y.ravel()], axis=1) + 0.5) * CELL_IN

    def add_steel(self, polygon_in: Floats) -> None:
        """Mark the inside of a polygon, shape (n, 2): text reads badly on colours."""
        inside = Shape(polygon_in).contains_points(self._centres())
        self._steel |= inside.reshape(self._cost.shape)
        for begin, end in pairwise(polygon_in):
            self._mark_line(begin, end, OUTLINE_COST)

    def is_clear(self, box: Box) -> bool:
        """Tell whether a box lies on the paper, clear of the steel."""
        rows, columns = self._cells(box)
        return not self._steel[rows, columns].any()

    def _cells(self, box: Box) -> tuple[slice, slice]:
        """Give the rows and columns that a box touches."""
        left, bottom = max(int(box.left / CELL_IN), 0), max(int(box.bottom / CELL_IN), 0)
        right = int(np.ceil((box.left + box.width) / CELL_IN))
        top = int(np.ceil((box.bottom + box.height) / CELL_IN))
        return slice(bottom, top), slice(left, right)

    def take_line(self, begin: tuple[float, float], end: tuple[float, float]) -> None:
        """Take the room under a line."""
        self._mark_line(begin, end, TAKEN_COST)

    def _mark_line(self, begin: Sequence[float], end: Sequence[float], cost: float) -> None:
        steps = int(np.hypot(end[0] - begin[0], end[1] - begin[1]) / (0.5 * CELL_IN)) + 2
        share = np.linspace(0.0, 1.0, steps)
        x = begin[0] + share * (end[0] - begin[0])
        y = begin[1] + share * (end[1] - begin[1])
        column, row = (x / CELL_IN).astype(int), (y / CELL_IN).astype(int)
        rows, columns = self._cost.shape
        kept = (column >= 0) & (column < columns) & (row >= 0) & (row < rows)
        cells = np.unique(np.stack([row[kept], column[kept]]), axis=1)
        self._cost[cells[0], cells[1]] += cost

    def take_box(self, box: Box) -> None:
        """Take the room of a box."""
        rows, columns = self._cells(box)
        self._cost[rows, columns] += TAKEN_COST

    def place(
        self,
        size_in: tuple[float, float],
        anchor: tuple[float, float],
        steel_cost: float = STEEL_COST,
        heights_in: tuple[float, float] = (0.0, inf),
    ) -> tuple[Box, float]:
        """Find the cheapest place for a label near what it tells about, and take it.

        Parameters
        ----------
        size_in : (float, float)
            Width and height of the text.
        anchor : (float, float)
            What it belongs to.
        steel_cost : float
            What covering a cell of steel costs.
        heights_in : (float, float)
            Where the middle of the label should lie, if there is any room at all.

        Returns
        -------
        Box
            Of the text; a cell of margin around it is taken too.
        float
            What it costs to stand there.
        """
        rows, columns = self._cost.shape
        wide = min(int(np.ceil(size_in[0] / CELL_IN)) + 2, columns)
        high = min(int(np.ceil(size_in[1] / CELL_IN)) + 2, rows)
        total = np.zeros((rows + 1, columns + 1))
        total[1:, 1:] = (self._cost + steel_cost * self._steel).cumsum(axis=0).cumsum(axis=1)
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
        middle = (row + 0.5 * high) * CELL_IN
        misplaced = (middle < heights_in[0]) | (middle > heights_in[1])
        cost = (covered + distance + MISPLACED_COST * misplaced).ravel()
        count = min(PLACES_WITH_LEADER, cost.size)
        best = np.argpartition(cost, count - 1)[:count]
        bottoms, lefts = np.unravel_index(best, covered.shape)
        # of equal places the lowest and leftmost, whatever the order of the search
        crossed = self._crossed(lefts, bottoms, wide, high, anchor)
        total_cost = np.round(cost[best] + crossed, 9)
        order = np.lexsort((lefts, bottoms, total_cost))
        bottom, left = int(bottoms[order[0]]), int(lefts[order[0]])
        self._cost[bottom : bottom + high, left : left + wide] += TAKEN_COST
        self._words[bottom : bottom + high, left : left + wide] = True
        box = Box(
            left=(left + 1) * CELL_IN,
            bottom=(bottom + 1) * CELL_IN,
            width=size_in[0],
            height=size_in[1],
        )
        return box, float(total_cost[order[0]])

    def _crossed(
        self,
        left: NDArray[np.intp],
        bottom: NDArray[np.intp],
        wide: int,
        high: int,
        anchor: tuple[float, float],
    ) -> Floats:
        """Give what leaders from boxes of cells to an anchor cost by what they cross."""
        x = np.clip(anchor[0], (left + 1) * CELL_IN, (left + wide - 1) * CELL_IN)
        y = np.clip(anchor[1], (bottom + 1) * CELL_IN, (bottom + high - 1) * CELL_IN)
        # close to the anchor lies the very thing that is labelled
        share = np.linspace(0.0, 1.0, 60)[:, None]
        reach = np.maximum(np.hypot(x - anchor[0], y - anchor[1]), 1e-9)
        near = np.minimum(2.5 * CELL_IN / reach, 1.0)
        share = near + share * (1.0 - near)
        rows, columns = self._cost.shape
        row = np.clip((anchor[1] + share * (y - anchor[1])) / CELL_IN, 0, rows - 1).astype(int)
        column = np.clip((anchor[0] + share * (x - anchor[0])) / CELL_IN, 0, columns - 1).astype(
            int
        )
        cells = reach * (1.0 - near) / CELL_IN
        taken = (self._cost[row, column] >= TAKEN_COST).mean(axis=0)
        steel = self._steel[row, column].mean(axis=0)
        words = self._words[row, column].mean(axis=0)
        return np.asarray(
            cells * (CROSSED_COST * taken + CROSSED_STEEL_COST * steel + CROSSED_WORDS_COST * words)
        )
