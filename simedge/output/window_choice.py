"""How deep each frame of the picture looks: the bevels, and the tip where all happens there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run
from simedge.section.outline import Outline

#: Room behind the deepest thing that a frame is for.
ROOM_BEHIND = 1.3
#: What is smaller than this share of the bevels' frame gets a frame of its own.
CLOSE_UP_BELOW = 1.0 / 8.0
#: A peak deeper than this many times the rest is left to the drawing of the whole section.
PEAK_FAR_BEHIND = 5.0
#: A close-up is never so close that the tip is wider than a third of it.
TIPS_ACROSS = 3.0
#: Rows whose frames would differ by less than this show the same depth.
SAME_DEPTH = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Depths:
    """Depths from the apex that the frames of one load must show.

    Attributes
    ----------
    bevels_mm : float
        Of the frame at the scale of the bevels.
    close_up_mm : float or None
        Of the frame at the scale of what the load does, where that is much smaller.
    """

    bevels_mm: float
    close_up_mm: float | None


def _telling_depths_mm(answer: LoadAnswer) -> list[float]:
    """Give how deep the load presses, and how deep it takes the steel to yield."""
    pressed = [part.to_mm for part in answer.parts if part.to_mm is not None]
    return [*pressed, answer.yield_depth_mm]


def _depths(answer: LoadAnswer, outline: Outline) -> Depths:
    tip_mm = TIPS_ACROSS * max(outline.tip.width_mm, 1e-5 * outline.depth_mm)
    telling = _telling_depths_mm(answer)
    peak = answer.section_peak_x_mm or 0.0
    reach = max([*outline.shoulders_mm, *telling, tip_mm])
    if peak <= PEAK_FAR_BEHIND * reach or not outline.shoulders_mm:
        reach = max(reach, peak)
    bevels = min(ROOM_BEHIND * reach, outline.depth_mm)
    small = [d for d in (*telling, peak) if 0.0 < d < CLOSE_UP_BELOW * bevels]
    close = max(ROOM_BEHIND * max(small), tip_mm) if small else None
    return Depths(
        bevels_mm=bevels,
        close_up_mm=close if close is not None and close < 0.5 * bevels else None,
    )


def choose_depths(run: Run) -> tuple[Depths, ...]:
    """Choose how deep the frames of each load look.

    Parameters
    ----------
    run : Run

    Returns
    -------
    tuple of Depths
        One a load. Loads that need about the same depth of the bevels' frame share it,
        so that their rows can be compared.
    """
    own = [_depths(answer, run.outline) for answer in run.loads]
    return tuple(
        Depths(
            bevels_mm=max(
                other.bevels_mm
                for other in own
                if depths.bevels_mm <= other.bevels_mm <= SAME_DEPTH * depths.bevels_mm
            ),
            close_up_mm=depths.close_up_mm,
        )
        for depths in own
    )


def shared_depths(rows: Sequence[tuple[LoadAnswer, Outline]]) -> Depths:
    """Choose how deep the frames of several sections look, one magnification for all.

    Parameters
    ----------
    rows : sequence of (LoadAnswer, Outline)
        One a section, at least one; outlines down to where each is held.

    Returns
    -------
    Depths
        All that the load does is shown; bevels as far as those of the middle section reach, as
        an axe's shoulder would leave a slim knife's edge nothing to be seen by.
    """
    own = [_depths(answer, outline) for answer, outline in rows]
    telling = [depth for answer, _ in rows for depth in _telling_depths_mm(answer)]
    held = max(outline.depth_mm for _, outline in rows)
    bevels = max(ROOM_BEHIND * max(telling), median(depths.bevels_mm for depths in own))
    bevels = min(bevels, held)
    small = [
        depths.close_up_mm
        for depths in own
        if depths.close_up_mm is not None and depths.close_up_mm < CLOSE_UP_BELOW * bevels
    ]
    return Depths(bevels_mm=bevels, close_up_mm=max(small, default=None))
