"""How deep the edge would yield.

First yield is not damage: a yielded skin on one face changes nothing that anyone sees.
The yield depth is that of the ELASTIC contour; the true plastic zone is larger.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from simedge.fem.lookup import shape_functions
from simedge.fem.stress_field import StressField, von_mises
from simedge.section.mesh import Integers
from simedge.section.outline import Floats

#: A six-node triangle as four, each with straight sides.
QUARTERS = np.array([[0, 3, 5], [3, 1, 4], [5, 4, 2], [3, 4, 5]])
#: Steps along the side of a triangle that holds yielded material: between them von Mises
#: is taken as linear, which it is not where bending changes sign within a thin elastic core.
STEPS = 8
#: The same in the triangles that hold the deepest point, and how many of them are looked at.
FINE_STEPS, DEEPEST_ELEMENTS = 64, 4


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
    doubt_mpa : float
        What the mesh leaves open of von Mises at the deepest point.
    reaches_clamp : bool
        Cut off at the trusted depth: the true depth is larger.
    """

    depth_mm: float
    depth_y_mm: float | None
    through_depth_mm: float | None
    stretches_mm: tuple[tuple[float, float], ...]
    doubt_mpa: float
    reaches_clamp: bool


NOTHING_YIELDED = YieldedRegion(
    depth_mm=0.0,
    depth_y_mm=None,
    through_depth_mm=None,
    stretches_mm=(),
    doubt_mpa=0.0,
    reaches_clamp=False,
)


@cache
def _lattice(steps: int) -> tuple[Floats, Integers]:
    """Give the places of a triangle cut into equal small ones, and those small ones."""
    index: dict[tuple[int, int], int] = {}
    for row in range(steps + 1):
        for column in range(steps + 1 - row):
            index[row, column] = len(index)
    small = []
    for row, column in index:
        if row + column < steps:
            right, up = index[row, column + 1], index[row + 1, column]
            small.append((index[row, column], right, up))
            if row + column < steps - 1:
                small.append((right, index[row + 1, column + 1], up))
    places = np.array([(column, row) for row, column in index], dtype=float).T / steps
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
    elements = np.flatnonzero(touched)
    level, small, fine = _refined(field, elements, yield_strength_mpa, STEPS)
    begin, end, _ = _clipped(_spans(level, small, fine), trusted_depth_mm)
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
    depth, depth_y, doubt = _deepest(
        field, elements, fine, level, yield_strength_mpa, trusted_depth_mm
    )
    stretches = _union(begin, end)
    edges = [
        resolved_from_mm,
        *(v for span in _union(elastic[0], elastic[1]) for v in span),
        trusted_depth_mm,
    ]
    least = 1e-9 * trusted_depth_mm
    through = [b for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a > least]
    return YieldedRegion(
        depth_mm=depth,
        depth_y_mm=depth_y,
        through_depth_mm=through[-1] if through else None,
        stretches_mm=(*stretches[:-1], (stretches[-1][0], depth)),
        doubt_mpa=doubt,
        reaches_clamp=bool(depth >= trusted_depth_mm * (1 - 1e-9)),
    )


def _deepest(
    field: StressField,
    elements: Integers,
    places: Floats,
    level: Floats,
    yield_strength_mpa: float,
    trusted_depth_mm: float,
) -> tuple[float, float, float]:
    """Give the deepest yielded point, looked for closely where it may be, and the doubt there."""
    reached = np.where(level >= 0.0, places[0], -np.inf).reshape(elements.size, -1).max(axis=1)
    last = elements[np.argsort(reached)[-DEEPEST_ELEMENTS:]]
    fine_level, small, fine = _refined(field, last, yield_strength_mpa, FINE_STEPS)
    _, end, height = _clipped(_spans(fine_level, small, fine), trusted_depth_mm)
    at = int(np.argmax(end))
    depth, depth_y = float(end[at]), float(height[at])
    shapes = shape_functions(_lattice(FINE_STEPS)[0])
    doubt = np.abs(field.doubt_mpa[field.mesh.triangles[:, last]].T @ shapes).ravel()
    nearest = int(np.argmin(np.hypot(fine[0] - depth, fine[1] - depth_y)))
    return depth, depth_y, float(doubt[nearest])


def _refined(
    field: StressField, elements: Integers, yield_strength_mpa: float, steps: int
) -> tuple[Floats, Integers, Floats]:
    """Give level, small triangles and places of some elements, cut fine.

    The components are interpolated and von Mises made of them: interpolated itself, it
    would lose the neutral line of bending between two points beyond yield.
    """
    places, small = _lattice(steps)
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
