"""Where the frames of a row put the section: as large as fits, or alike in several rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from simedge.output.load_arrows import LONGEST_IN, TIP_ARROW_IN
from simedge.output.window_choice import Depths
from simedge.runs.answer import LoadAnswer
from simedge.section.outline import SIDES, Outline

#: Sizes, inches: the row, the gap between its frames.
ROW_IN, GAP_IN = 6.9, 0.28
#: Share of the row that the bevels' frame takes beside a close-up.
BEVELS_SHARE = 0.53
LEAST_HEIGHT_IN, MOST_HEIGHT_IN = 1.5, 2.5
#: Of rows of one magnification: the thickest section must not leave a slim one nothing.
MOST_ALIKE_IN = 3.6
#: Left free in a frame in front of the apex, and above and below the steel.
IN_FRONT_IN, AROUND_IN = 0.24, 0.2
#: For the words about pressure beyond its arrows, in the frame of the bevels.
LABEL_IN = 0.3
#: For the letter of the close-up, above a face flatter than this.
LETTER_IN, FLAT_RAD = 0.2, 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class FramePlan:
    """Where a frame puts the section.

    Attributes
    ----------
    width_in, height_in : float
    in_front_in, above_in, below_in : float
        Left free for the work.
    depth_mm : float
        What it must show.
    inches_per_mm : float or None
        Magnification that it shares with other rows; None for the largest that fits.
    """

    width_in: float
    height_in: float
    in_front_in: float
    above_in: float
    below_in: float
    depth_mm: float
    inches_per_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Free:
    """What a row leaves free around the steel for the work, inches; labels above and below."""

    in_front: float
    above: float
    below: float
    labels: tuple[float, float]

    def around(self, number: int) -> tuple[float, float]:
        """Give what is free above and below in a frame: only that of the bevels has words."""
        above, below = self.labels if number == 0 else (0.0, 0.0)
        return self.above + above, self.below + below


def _free(answer: LoadAnswer, outline: Outline) -> _Free:
    pressed = {part.at for part in answer.parts if part.pressure_mpa is not None}
    tipped = any(part.pressure_mpa is None for part in answer.parts)
    # where one face is pressed, words about the tip stand beyond the other
    beside = bool(pressed) and tipped
    labels = [LABEL_IN * (beside or side in pressed) for side in ("left face", "right face")]
    for number, side in enumerate(SIDES):
        # a face that does not fall away leaves no corner for the close-up's letter
        first = outline.face(side)[0]
        flat = float(first.angle_rad(first.begin_mm[0])) < FLAT_RAD
        if beside and flat and f"{side} face" not in pressed:
            labels[number] += LETTER_IN
    return _Free(
        in_front=IN_FRONT_IN + (TIP_ARROW_IN if tipped else 0.0),
        above=AROUND_IN + (LONGEST_IN if "left face" in pressed else 0.0),
        below=AROUND_IN + (LONGEST_IN if "right face" in pressed else 0.0),
        labels=(labels[0], labels[1]),
    )


def _widths(depths: Depths) -> list[tuple[float, float]]:
    """Give width and depth of each frame of a row."""
    if depths.close_up_mm is None:
        return [(ROW_IN, depths.bevels_mm)]
    bevels = BEVELS_SHARE * (ROW_IN - GAP_IN)
    return [(bevels, depths.bevels_mm), (ROW_IN - GAP_IN - bevels, depths.close_up_mm)]


def plan_frames(answer: LoadAnswer, depths: Depths, outline: Outline) -> tuple[FramePlan, ...]:
    """Plan the frames of a row: that of the bevels, and the close-up where there is one.

    Parameters
    ----------
    answer : LoadAnswer
    depths : Depths
    outline : Outline

    Returns
    -------
    tuple of FramePlan
        All of one height: as high as the section in them needs, within limits.
    """
    free, wanted = _free(answer, outline), _widths(depths)
    needed = [
        free.above
        + free.below
        + float(outline.thickness_mm(depth)) * (width - free.in_front) / depth
        for width, depth in wanted
    ]
    needed[0] += sum(free.labels)
    height = min(max(LEAST_HEIGHT_IN, *needed), MOST_HEIGHT_IN)
    return tuple(
        _plan(free, number, width, height, depth) for number, (width, depth) in enumerate(wanted)
    )


def plan_frames_alike(
    rows: Sequence[tuple[LoadAnswer, Outline]], depths: Depths
) -> list[tuple[FramePlan, ...]]:
    """Plan the frames of several rows with their apexes in line and of one magnification.

    Parameters
    ----------
    rows : sequence of (LoadAnswer, Outline)
        Outlines reach to the spine.
    depths : Depths
        What all of them must show, as far as they go.

    Returns
    -------
    list of tuple of FramePlan
        A row's frames are of one height; the thickest row's is the largest that there is.
    """
    room = [_free(answer, outline) for answer, outline in rows]
    in_front = max(free.in_front for free in room)
    widths = _widths(depths)
    thick = [
        [float(outline.thickness_mm(min(depth, outline.depth_mm))) for _, depth in widths]
        for _, outline in rows
    ]
    scales = [
        min(
            [(width - in_front) / depth]
            + [
                (MOST_ALIKE_IN - sum(free.around(number))) / row[number]
                for free, row in zip(room, thick, strict=True)
            ]
        )
        for number, (width, depth) in enumerate(widths)
    ]
    plans = []
    for free, row in zip(room, thick, strict=True):
        needed = [
            sum(free.around(number)) + thickness * scale
            for number, (thickness, scale) in enumerate(zip(row, scales, strict=True))
        ]
        height = min(max(LEAST_HEIGHT_IN, *needed), MOST_ALIKE_IN)
        plans.append(
            tuple(
                replace(
                    _plan(free, number, width, height, depth),
                    in_front_in=in_front,
                    inches_per_mm=scale,
                )
                for number, ((width, depth), scale) in enumerate(zip(widths, scales, strict=True))
            )
        )
    return plans


def _plan(free: _Free, number: int, width: float, height: float, depth: float) -> FramePlan:
    above, below = free.around(number)
    return FramePlan(
        width_in=width,
        height_in=height,
        in_front_in=free.in_front,
        above_in=above,
        below_in=below,
        depth_mm=depth,
    )
