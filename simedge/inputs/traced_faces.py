"""From the points of a trace to its apex and faces: the whole way on one page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import degrees

from simedge.inputs.curves import Curve
from simedge.inputs.faces import Faces
from simedge.inputs.grinds import Apex
from simedge.inputs.paired_faces import out_at, paired
from simedge.inputs.polygon_checks import TracePoint, check_polygon, distinct, refuse_points
from simedge.inputs.trace_apex import leave_circle, put_apex
from simedge.inputs.trace_noise import ByLeastSquares, best_breaks, laid_through, scatter_mm
from simedge.inputs.trace_orientation import close_gap, oriented
from simedge.inputs.trace_stretches import ByPoints, as_curves, find_runs
from simedge.inputs.trace_tip import read_tip
from simedge.inputs.trace_walk import LARGEST_LOSS, Walk, going_on, walk_around

Places = Sequence[tuple[float, float]]

#: Points may lie off their stretch by so many roundings: their own and those of its ends.
ROUNDINGS = 2.0
#: Coarse digits do not make coarse points: a sketch in whole millimetres is meant as it stands.
#: What is allowed is at most this share of the height.
COARSEST_SHARE = 1e-4
#: Scatter counts where its deviation is larger than this share of that: rounding alone gives 0.3.
SCATTER_SHARE = 1.0
#: Scattered points may lie off their stretch by so many standard deviations.
DEVIATIONS = 4.0
#: Nothing is told apart below this share of the height.
FINEST_SHARE = 1e-9
#: Depths at which it is told what smoothing changes, mm.
TOLD_DEPTHS_MM = (0.1, 1.0, 10.0)
#: A far end that is this straight is not spoken of, in heights.
NEARLY_STRAIGHT_SHARE = 1e-3
#: A spine thinner than this share of the blade is none.
THINNEST_SPINE_SHARE = 0.1
#: A face that turns inward by more than this is said to, degrees.
RE_ENTRANT_DEG = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedSection:
    """A traced section as the rest of the program knows sections.

    Attributes
    ----------
    apex : Apex
        The one given, or what the foremost points make.
    faces : Faces
    """

    apex: Apex
    faces: Faces


@lru_cache(maxsize=16)
def traced_section(
    points_mm: tuple[tuple[float, float], ...], rounding_mm: float, given_apex: Apex | None
) -> TracedSection:
    """Work out apex and faces of a traced section.

    Parameters
    ----------
    points_mm : tuple of (float, float)
        The outline as it was written.
    rounding_mm : float
        Half of the last digit that it was written with.
    given_apex : Apex or None
        Put on the trace in place of its own tip.

    Returns
    -------
    TracedSection

    Raises
    ------
    FieldProblems
        With the path ``("points_mm", number)`` or ``("apex", key)``.
    """
    points, closed = distinct([TracePoint(x, y, at) for at, (x, y) in enumerate(points_mm)])
    check_polygon(points)
    points, remarks = oriented(points)
    if not closed:
        remarks += close_gap(points, max(point.number for point in points))
    walk = walk_around(points)
    tip = read_tip(walk.points, walk.foremost)
    if tip.apex is None and given_apex is None:
        raise refuse_points(
            "is the foremost of a tip that is neither round (5 points or more on a circle), nor a "
            "land, nor a point; say what stands there with [profile.apex]: radius_um, land_um or "
            "sharp",
            walk.points[walk.foremost].number,
        )
    skipped = 0 if tip.circle is None else 1  # the ends of the tip's arc are on the tip
    faces = (
        walk.points[: tip.left_from + 1 - skipped][::-1],
        walk.points[tip.right_from + skipped :],
    )
    if min(map(len, faces)) < 2 - skipped:
        raise refuse_points("are all at the tip; trace both faces up to the spine")
    curves, said = _both_faces(faces, walk, rounding_mm)
    remarks += said
    left, right = curves
    if tip.circle is not None:
        starts = [(face[0].x, side * face[0].y) for face, side in zip(faces, (1, -1), strict=True)]
        left = leave_circle(tip.circle, 1.0, starts[0], left)
        right = leave_circle(tip.circle, -1.0, starts[1], right)
        origin = (tip.circle.x - tip.circle.radius, tip.circle.y)
    own_front = walk.points[walk.foremost].x
    apex = given_apex or tip.apex
    assert apex is not None
    if given_apex is not None or tip.circle is None:
        placed = put_apex(apex, left[0], right[0])
        left, right = [placed.left, *left[1:]], [placed.right, *right[1:]]
        origin = placed.origin_mm
    if given_apex is not None:
        remarks.append(_replaced(tip.apex, 1000.0 * (own_front - origin[0])))
    left, right = _shifted(left, origin[0], -origin[1]), _shifted(right, origin[0], origin[1])
    left, right, told = _same_height(left, right, walk.back_mm - origin[0])
    remarks += told
    return TracedSection(apex=apex, faces=_faces(left, right, remarks))


def _both_faces(
    faces: tuple[Sequence[TracePoint], Sequence[TracePoint]],
    walk: Walk,
    rounding_mm: float,
) -> tuple[tuple[list[Curve], list[Curve]], list[str]]:
    """Find the stretches of both faces, through scatter where there is more than rounding."""
    height = walk.back_mm - walk.points[walk.foremost].x
    finest = min(max(ROUNDINGS * rounding_mm, FINEST_SHARE * height), COARSEST_SHARE * height)
    raw = [[(p.x, side * p.y) for p in face] for face, side in zip(faces, (1.0, -1.0), strict=True)]
    scatter = max(map(scatter_mm, raw))
    noisy = scatter > SCATTER_SHARE * finest
    tolerance = DEVIATIONS * scatter if noisy else finest
    places = [
        going_on(face, side, tolerance) for face, side in zip(faces, (1.0, -1.0), strict=True)
    ]
    if not noisy:
        left, right = (
            as_curves(face, find_runs(ByPoints(face, tolerance), len(face))) for face in places
        )
        return (left, right), []
    smooth = []
    for face in places:
        runs = best_breaks(face, find_runs(ByLeastSquares(face, tolerance), len(face)))
        smooth.append(laid_through(face, runs))
    return (smooth[0], smooth[1]), [_smoothed(places, smooth, scatter, walk)]


def _smoothed(
    places: Sequence[Places], smooth: Sequence[Sequence[Curve]], scatter: float, walk: Walk
) -> str:
    largest = max(
        abs(out - out_at(curves, x))
        for face, curves in zip(places, smooth, strict=True)
        for x, out in face
    )
    front = walk.points[walk.foremost].x
    begins = max(face[0][0] for face in places)
    ends = min(face[-1][0] for face in places)
    told = [
        f"{sum(out_at(curves, front + depth) for curves in smooth):.4f} for "
        f"{sum(_between(face, front + depth) for face in places):.4f} mm at {depth:g} mm"
        for depth in TOLD_DEPTHS_MM
        if begins <= front + depth <= ends
    ]
    thickness = f"; thickness, smoothed for as traced: {', '.join(told)}" if told else ""
    return (
        f"the points scatter by about {1000.0 * scatter:.2g} µm, so that straight stretches and "
        f"arcs were laid through them by least squares: no point is more than "
        f"{1000.0 * largest:.2g} µm off{thickness}"
    )


def _between(face: Places, x_mm: float) -> float:
    """Give how far out a face's points are at a depth, straight from one to the next."""
    at = next((k for k in range(1, len(face)) if face[k][0] >= x_mm), len(face) - 1)
    (x0, out0), (x1, out1) = face[at - 1], face[at]
    return out0 + (out1 - out0) * (x_mm - x0) / (x1 - x0)


def _replaced(own: Apex | None, forward_um: float) -> str:
    kind = "its facets"
    if own is not None:
        kind = "its point" if own.sharp else f"its land of {own.land_um or 0:.3g} µm"
        if own.radius_um is not None:
            kind = f"its radius of {own.radius_um:.3g} µm"
    if abs(forward_um) < 0.1:
        return f"the apex given stands in place of the trace's own tip ({kind}), as far forward"
    where = "in front of" if forward_um > 0 else "behind"
    return (
        f"the apex given stands {abs(forward_um):.3g} µm {where} the trace's own tip ({kind}); "
        "depths count from it"
    )


def _shifted(face: Sequence[Curve], x_mm: float, out_mm: float) -> list[Curve]:
    return [
        replace(
            curve,
            begin_mm=(curve.begin_mm[0] - x_mm, curve.begin_mm[1] + out_mm),
            end_mm=(curve.end_mm[0] - x_mm, curve.end_mm[1] + out_mm),
        )
        for curve in face
    ]


def _same_height(
    left: list[Curve], right: list[Curve], back_mm: float
) -> tuple[list[Curve], list[Curve], list[str]]:
    """Cut both faces off at the depth where the first of them ends."""
    height = min(left[-1].end_mm[0], right[-1].end_mm[0])
    if height < LARGEST_LOSS * back_mm:
        raise refuse_points(
            f"end on one face {height:.4g} mm behind the edge and on the other at {back_mm:.4g} "
            "mm; trace both up to the spine"
        )
    remarks = []
    if height < back_mm * (1.0 - NEARLY_STRAIGHT_SHARE):
        remarks.append(
            f"the far end of the trace, {back_mm:.4g} mm behind the edge, is not straight across: "
            f"the blade is taken to end at {height:.4g} mm, where both faces still go on"
        )
    cut = [
        [curve.cut_at(height) for curve in face if curve.begin_mm[0] < height]
        for face in (left, right)
    ]
    return cut[0], cut[1], remarks


def _faces(left: list[Curve], right: list[Curve], remarks: list[str]) -> Faces:
    for face in (left, right):
        if any(curve.begin_mm[0] >= curve.end_mm[0] for curve in face):
            raise refuse_points(
                "leave no room for the tip that they make; say what stands there with "
                "[profile.apex]"
            )
    both = paired(left, right)
    for ends in zip(*both, strict=True):
        if sum(curve.end_mm[1] for curve in ends) <= FINEST_SHARE * ends[0].end_mm[0]:
            raise refuse_points(
                f"make a section without thickness {ends[0].end_mm[0]:.4g} mm behind the edge"
            )
    thickest = max(sum(curve.end_mm[1] for curve in ends) for ends in zip(*both, strict=True))
    spine = sum(face[-1].end_mm[1] for face in both)
    if spine < THINNEST_SPINE_SHARE * thickest:
        raise refuse_points(
            f"end {spine:.4g} mm thick, but are {thickest:.4g} mm thick in between; a section goes "
            "from its edge to a spine: is a part of it missing?"
        )
    turned = _re_entrant(*both)
    return Faces(
        names=tuple(f"traced stretch {number + 1}" for number in range(len(both[0]))),
        fields=(("points_mm",),) * len(both[0]),
        sides_deg=tuple(
            (degrees(a.chord_angle_rad), degrees(b.chord_angle_rad))
            for a, b in zip(*both, strict=True)
        ),
        left=both[0],
        right=both[1],
        remarks=(*remarks, *turned),
    )


def _re_entrant(left: Sequence[Curve], right: Sequence[Curve]) -> list[str]:
    """Remark on the shoulder that turns inward most."""
    worst, said = RE_ENTRANT_DEG, list[str]()
    for label, face in (("left", left), ("right", right)):
        for front, behind in pairwise(face):
            turn = degrees(behind.begin_angle_rad - front.end_angle_rad)
            if turn > worst:
                worst = turn
                said = [
                    f"the {label} face turns inward by {turn:.3g} deg at "
                    f"{front.end_mm[0]:.4g} mm: stress is singular at that re-entrant shoulder"
                ]
    return said
