"""What would change if the blade were held nearer to the edge: no second factorisation."""

from __future__ import annotations

import numpy as np
from threadpoolctl import threadpool_limits

from simedge.fem.elastic import Displacement, HeldSection
from simedge.section.outline import Floats

#: Ways of moving that are stopped there: each direction constant, linear, square and cubic
#: across the thickness. That is nearly all that a rigid jaw stops.
POWERS = 4
#: Ways that differ by less than this from the others are none of their own.
SAME_WAY = 1e-9


def change_if_held_at(section: HeldSection, displacement: Displacement, at_mm: float) -> Floats:
    """Give how displacements change where a cross-section in front of the clamp is held too.

    Parameters
    ----------
    section : HeldSection
    displacement : Displacement
        Of loads that act in front of that cross-section.
    at_mm : float
        Depth x; the triangles that lie across it are held, on average.

    Returns
    -------
    ndarray, shape (loads, 2, points)
        In front of that depth what a clamp there would change, behind it nothing of use.
    """
    mesh = section.mesh
    x = mesh.points_mm[0][mesh.triangles[:3]]
    across = (x.min(axis=0) <= at_mm) & (x.max(axis=0) >= at_mm)
    points = np.unique(mesh.triangles[:, across])
    y = mesh.points_mm[1, points]
    reach = max(float(np.ptp(y)), np.finfo(float).tiny)
    ways, size = np.linalg.qr(((y - y.mean()) / reach)[:, None] ** np.arange(POWERS))
    ways = ways[:, np.abs(np.diag(size)) > SAME_WAY]
    position = np.full(2 * mesh.points_mm.shape[1], -1)
    position[section.free] = np.arange(section.free.size)
    stopped = np.zeros((section.free.size, 2 * ways.shape[1]))
    for component in (0, 1):
        rows = position[2 * points + component]
        kept = rows >= 0
        columns = slice(component * ways.shape[1], (component + 1) * ways.shape[1])
        stopped[rows[kept], columns] = ways[kept]
    free = displacement.at_points_mm.transpose(0, 2, 1).reshape(-1, 2 * position.size // 2)
    with threadpool_limits(limits=1):
        answer = section.solve(stopped)
    force = np.linalg.solve(stopped.T @ answer, stopped.T @ free[:, section.free].T)
    change = np.zeros((len(free), position.size))
    change[:, section.free] = -(answer @ force).T
    return np.asarray(change.reshape(len(free), -1, 2).transpose(0, 2, 1))
