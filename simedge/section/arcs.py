"""Bends a mesh of straight lines to the arcs of its faces.

gmsh loses its way on an arc whose elements are a millionth of its radius: half a minute for a
convex blade down to a sharp tip. So the faces are drawn as lines from vertex to vertex, and the
points between are moved onto the arcs afterwards, by a tenth of an element at most.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from simedge.section.outline import SIDES, Floats, Outline, Side

Integers = NDArray[np.int64]
Vertices = Sequence[tuple[float, float, float]]


def bend_to_arcs(
    points_mm: Floats,
    triangles: Integers,
    boundary: Mapping[str, Integers],
    outline: Outline,
    vertices: Mapping[Side, Vertices],
) -> Floats:
    """Move the points of curved faces from the lines between vertices to the arcs.

    Parameters
    ----------
    points_mm : ndarray, shape (2, n)
        Of a mesh of the polygon through the vertices.
    triangles : ndarray, shape (6, m)
    boundary : mapping of name to edges, shape (3, k)
    outline : Outline
    vertices : mapping of side to (x, y, size)
        On the outline, apex first.

    Returns
    -------
    ndarray, shape (2, n)
        The same points where no face is curved. Edges inside the section are straight.
    """
    if all(run.is_straight for side in SIDES for run in outline.face(side)):
        return points_mm
    points = np.array(points_mm)
    for side in SIDES:
        nodes = np.unique(boundary[side])
        points[:, nodes] = _bent(points[:, nodes], outline, side, vertices[side])
    outer = np.zeros(points.shape[1], dtype=bool)
    outer[np.concatenate([edges[2] for edges in boundary.values()])] = True
    edges = np.concatenate(
        [triangles[[a, b, m]] for a, b, m in ((0, 1, 3), (1, 2, 4), (2, 0, 5))], axis=1
    )
    begin, end, middle = edges[:, ~outer[edges[2]]]
    points[:, middle] = 0.5 * (points[:, begin] + points[:, end])
    return points


def _bent(points: Floats, outline: Outline, side: Side, vertices: Vertices) -> Floats:
    corners = np.array(vertices).T[:2]
    line = np.clip(np.searchsorted(corners[0], points[0], side="right") - 1, 0, None)
    line = np.minimum(line, corners.shape[1] - 2)
    begin, end = corners[:, line], corners[:, line + 1]
    along = end - begin
    share = ((points - begin) * along).sum(axis=0) / (along**2).sum(axis=0)
    between = (share > 1e-9) & (share < 1.0 - 1e-9)  # vertices lie on the arc already
    middle = 0.5 * (begin[0] + end[0])
    bent = points.copy()
    for run in outline.face(side):
        here = between & (middle > run.begin_mm[0]) & (middle < run.end_mm[0])
        if run.is_straight or not here.any():
            continue
        first, last = run.share_at(begin[0, here]), run.share_at(end[0, here])
        bent[:, here] = run.point(first + share[here] * (last - first))
    return bent
