"""Peaks of stress, the load at first yield, and how deep the edge would yield.

First yield is not damage: a yielded skin on one face changes nothing that anyone sees.
The yield depth is that of the ELASTIC contour; the true plastic zone is larger.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simedge.fem.lookup import interpolate, shape_functions
from simedge.fem.stress_field import StressField, largest_principal, von_mises
from simedge.section.mesh import Integers
from simedge.section.outline import Floats, Outline
from simedge.strength.zones import PatchZone, edge_places_mm, resolved_from_mm

#: A six-node triangle as four, each with straight sides.
QUARTERS = np.array([[0, 3, 5], [3, 1, 4], [5, 4, 2], [3, 4, 5]])
#: Steps along the side of a triangle that holds yielded material: between them von Mises
#: is taken as linear, which it is not where bending changes sign within a thin elastic core.
STEPS = 8
#: Places across the last section that is looked at.
ACROSS = 65


@dataclass(frozen=True, slots=True, kw_only=True)
class Peak:
    """The largest value of a stress in a region.

    Attributes
    ----------
    value_mpa : float
    x_mm, y_mm : float
        Its place.
    """

    value_mpa: float
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Peaks:
    """Peaks of one load; None where a region is empty or the stress there is singular.

    Attributes
    ----------
    section, patch : Peak or None
        Von Mises outside and inside the patch zone.
    section_principal, patch_principal : Peak or None
        Largest principal stress likewise: tension that opens cracks.
    at_zone_edge : bool
        The section's peak sits at the edge of the patch zone.
    """

    section: Peak | None
    patch: Peak | None
    section_principal: Peak | None
    patch_principal: Peak | None
    at_zone_edge: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class YieldedRegion:
    """Where the elastic von Mises stress reaches yield.

    Attributes
    ----------
    depth_mm : float
        Deepest point, from the foremost point of the apex; 0 where nothing yields.
    depth_y_mm : float or None
    through_depth_mm : float or None
        Deepest x at which the whole thickness yields.
    stretches_mm : tuple of (float, float)
        Stretches along x with yielded material somewhere in the thickness.
    reaches_clamp : bool
        Cut off at the trusted depth: the true depth is larger.
    """

    depth_mm: float
    depth_y_mm: float | None
    through_depth_mm: float | None
    stretches_mm: tuple[tuple[float, float], ...]
    reaches_clamp: bool


NO_PEAKS = Peaks(
    section=None, patch=None, section_principal=None, patch_principal=None, at_zone_edge=False
)
NOTHING_YIELDED = YieldedRegion(
    depth_mm=0.0,
    depth_y_mm=None,
    through_depth_mm=None,
    stretches_mm=(),
    reaches_clamp=False,
)


def _highest(values: Floats, points: Floats) -> Peak | None:
    if values.size == 0:
        return None
    at = int(np.argmax(values))
    return Peak(value_mpa=float(values[at]), x_mm=float(points[0, at]), y_mm=float(points[1, at]))


def find_peaks(
    field: StressField, zone: PatchZone, outline: Outline, trusted_depth_mm: float
) -> Peaks:
    """Find the peaks of one load.

    Parameters
    ----------
    field : StressField
    zone : PatchZone
    outline : Outline
    trusted_depth_mm : float
        Nothing behind it is looked at.

    Returns
    -------
    Peaks
        None under a tip load on a sharp tip, where the stress has no finite peak.
    """
    if zone.tip is not None and zone.tip.kind == "sharp":
        return NO_PEAKS
    points, stress = field.mesh.points_mm, field.stress_mpa
    trusted = (points[0] <= trusted_depth_mm) & (points[0] >= resolved_from_mm(outline))
    inside = trusted & (zone.distance_mm(*points) < 0)
    outside = trusted & ~inside
    edge = edge_places_mm(zone, outline, trusted_depth_mm)
    between = np.concatenate([_last_section(zone, outline, trusted_depth_mm), edge], axis=1)
    places = np.concatenate([points[:, outside], between], axis=1)
    outer = np.concatenate([stress[:, outside], interpolate(field.mesh, stress, between)], axis=1)
    mises = von_mises(outer)
    if not np.any(mises > 0.0):
        return NO_PEAKS
    inner = stress[:, inside]
    return Peaks(
        section=_highest(mises, places),
        patch=_highest(von_mises(inner), points[:, inside]),
        section_principal=_highest(largest_principal(outer), places),
        patch_principal=_highest(largest_principal(inner), points[:, inside]),
        at_zone_edge=bool(np.argmax(mises) >= mises.size - edge.shape[1]),
    )


def _last_section(zone: PatchZone, outline: Outline, trusted_depth_mm: float) -> Floats:
    """Give places across the section at the trusted depth, where no node need stand."""
    right, left = (outline.face_y_mm(side, trusted_depth_mm) for side in ("right", "left"))
    y = np.linspace(float(right), float(left), ACROSS)
    x = np.full_like(y, trusted_depth_mm)
    return np.stack([x, y])[:, zone.distance_mm(x, y) >= 0]


def _lattice() -> tuple[Floats, Integers]:
    """Give the places of a triangle cut into equal small ones, and those small ones."""
    index: dict[tuple[int, int], int] = {}
    for row in range(STEPS + 1):
        for column in range(STEPS + 1 - row):
            index[row, column] = len(index)
    small = []
    for row, column in index:
        if row + column < STEPS:
            right, up = index[row, column + 1], index[row + 1, column]
            small.append((index[row, column], right, up))
            if row + column < STEPS - 1:
                small.append((right, index[row + 1, column + 1], up))
    places = np.array([(column, row) for row, column in index], dtype=float).T / STEPS
    return places, np.array(small).T


def _spans(level: Floats, triangles: Integers, points: Floats) -> tuple[Floats, Floats, Floats]:
    """Give begin, end and y of the end of {level >= 0} along x in each straight triangle."""
    corner = level[triangles]
    any_inside = (corner >= 0).any(axis=0)
    triangles, corner = triangles[:, any_inside], corner[:, any_inside]
    xs, ys = points[0][triangles], points[1][triangles]
    candidates_x = [np.where(corner >= 0, xs, np.nan)]
    candidates_y = [ys]
    for a, b in ((0, 1), (1, 2), (2, 0)):
        crosses = (corner[a] >= 0) != (corner[b] >= 0)
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.where(crosses, corner[a] / (corner[a] - corner[b]), 0.0)
        candidates_x.append(np.where(crosses, xs[a] + share * (xs[b] - xs[a]), np.nan)[None])
        candidates_y.append((ys[a] + share * (ys[b] - ys[a]))[None])
    places = np.concatenate(candidates_x)
    heights = np.concatenate(candidates_y)
    deepest = np.nanargmax(places, axis=0) if places.shape[1] else np.zeros(0, dtype=int)
    pick = np.arange(places.shape[1])
    return np.nanmin(places, axis=0), places[deepest, pick], heights[deepest, pick]


def _union(begin: Floats, end: Floats) -> tuple[tuple[float, float], ...]:
    """Merge overlapping spans."""
    if begin.size == 0:
        return ()
    order = np.argsort(begin, kind="stable")
    begin, reached = begin[order], np.maximum.accumulate(end[order])
    gap = begin[1:] > reached[:-1] * (1 + 1e-12)
    firsts = begin[np.concatenate([[True], gap])]
    lasts = reached[np.concatenate([gap, [True]])]
    return tuple((float(a), float(b)) for a, b in zip(firsts, lasts, strict=True))


def find_yielded(
    field: StressField,
    yield_strength_mpa: float,
    trusted_depth_mm: float,
    resolved_from_mm: float = 0.0,
) -> YieldedRegion:
    """Find where one load takes the section to yield, elastically.

    Parameters
    ----------
    field : StressField
    yield_strength_mpa : float
    trusted_depth_mm : float
        Nothing behind it is looked at.
    resolved_from_mm : float
        Nothing in front of it is: see `simedge.strength.zones.resolved_from_mm`.

    Returns
    -------
    YieldedRegion
    """
    mesh = field.mesh
    points = mesh.points_mm
    coarse = field.von_mises_mpa / yield_strength_mpa - 1.0
    corners = points[0][mesh.triangles[:3]]
    near = (corners.min(axis=0) < trusted_depth_mm) & (corners.max(axis=0) > resolved_from_mm)
    touched = near & (coarse[mesh.triangles] >= 0).any(axis=0)
    if not touched.any():
        return NOTHING_YIELDED
    level, small, fine = _refined(field, np.flatnonzero(touched), yield_strength_mpa)
    begin, end, height = _clipped(_spans(level, small, fine), trusted_depth_mm)
    if end.size == 0:  # it only begins behind the trusted depth
        return NOTHING_YIELDED
    whole = mesh.triangles[:, near & ~touched][QUARTERS.T].reshape(3, -1)
    untouched = _spans(-coarse, whole, points)
    elastic = [
        np.concatenate(pair)
        for pair in zip(
            _clipped(untouched, trusted_depth_mm),
            _clipped(_spans(-level, small, fine), trusted_depth_mm),
            strict=True,
        )
    ]
    deepest = int(np.argmax(end))
    edges = [
        resolved_from_mm,
        *(v for span in _union(elastic[0], elastic[1]) for v in span),
        trusted_depth_mm,
    ]
    least = 1e-9 * trusted_depth_mm
    through = [b for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a > least]
    return YieldedRegion(
        depth_mm=float(end[deepest]),
        depth_y_mm=float(height[deepest]),
        through_depth_mm=through[-1] if through else None,
        stretches_mm=_union(begin, end),
        reaches_clamp=bool(end[deepest] >= trusted_depth_mm * (1 - 1e-9)),
    )


def _refined(
    field: StressField, elements: Integers, yield_strength_mpa: float
) -> tuple[Floats, Integers, Floats]:
    """Give level, small triangles and places of some elements, cut fine.

    The components are interpolated and von Mises made of them: interpolated itself, it
    would lose the neutral line of bending between two points beyond yield.
    """
    places, small = _lattice()
    shapes = shape_functions(places)
    nodes = field.mesh.triangles[:, elements]
    stress = np.einsum("cke,kp->cep", field.stress_mpa[:, nodes], shapes).reshape(4, -1)
    points = np.einsum("cke,kp->cep", field.mesh.points_mm[:, nodes], shapes).reshape(2, -1)
    offset = np.arange(elements.size)[:, None] * places.shape[1]
    triangles = (small[:, None, :] + offset).reshape(3, -1)
    return von_mises(stress) / yield_strength_mpa - 1.0, triangles, points


def _clipped(
    spans: tuple[Floats, Floats, Floats], limit_mm: float
) -> tuple[Floats, Floats, Floats]:
    """Cut spans off at a depth."""
    begin, end, height = spans
    kept = begin < limit_mm
    return begin[kept], np.minimum(end[kept], limit_mm), height[kept]
