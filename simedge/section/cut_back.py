"""An edge cut back: what is left when its foremost part has gone.

The cut is a flat land, straight across, and depths count from it: the new front.
"""

from __future__ import annotations

from simedge.inputs.curves import Curve, hollow_bulge_mm
from simedge.section.outline import SIDES, Outline, Side, Stretch, Tip

#: A cut that takes less than this share of the depth takes nothing.
LEAST_SHARE = 1e-12


def cut_back(outline: Outline, depth_mm: float) -> Outline:
    """Give what is left of a section whose foremost part has gone.

    Parameters
    ----------
    outline : Outline
    depth_mm : float
        What has gone, 0 or more and less than the section's depth.

    Returns
    -------
    Outline
        Its tip is a land, unless nothing was cut. Within a rounded tip what is left of the
        round becomes the first stretch of each face.

    Raises
    ------
    ValueError
        The cut takes nothing or everything.
    """
    if not 0.0 <= depth_mm < outline.depth_mm:
        raise ValueError(f"a cut of {depth_mm:g} mm leaves nothing of {outline.depth_mm:g} mm")
    if depth_mm <= LEAST_SHARE * outline.depth_mm:
        return outline
    left, right = (_behind(outline, side, depth_mm) for side in SIDES)
    tip = Tip(kind="land", radius_mm=0.0, left_mm=left[0].begin_mm, right_mm=right[0].begin_mm)
    return Outline(tip=tip, left=left, right=right, depth_mm=outline.depth_mm - depth_mm)


def _behind(outline: Outline, side: Side, depth_mm: float) -> tuple[Stretch, ...]:
    runs = [run for run in outline.face(side) if run.end_mm[0] > depth_mm]
    round_left = _rest_of_round(outline, side, depth_mm)
    kept = ([round_left] if round_left is not None else []) + [
        Stretch(name=run.name, side=side, curve=run.curve.cut_from(depth_mm)) for run in runs
    ]
    return tuple(
        Stretch(name=run.name, side=side, curve=run.curve.from_new_front(depth_mm)) for run in kept
    )


def _rest_of_round(outline: Outline, side: Side, depth_mm: float) -> Stretch | None:
    """Give what a cut leaves of a rounded tip on one side; None where it leaves nothing."""
    begins, y_begins = outline.face(side)[0].begin_mm
    if depth_mm >= begins or outline.tip.kind != "rounded":
        return None
    outward = 1.0 if side == "left" else -1.0
    front = (depth_mm, outward * float(outline.face_y_mm(side, depth_mm)))
    end = (begins, outward * y_begins)
    chord = Curve(begin_mm=front, end_mm=end).chord_mm
    bulge = -hollow_bulge_mm(chord, outline.tip.radius_mm)
    return Stretch(name="apex", side=side, curve=Curve(begin_mm=front, end_mm=end, bulge_mm=bulge))
