"""What would change if the blade were held nearer to the edge: no second factorisation."""

from __future__ import annotations

import numpy as np
from threadpoolctl import threadpool_limits

from simedge.fem.elastic import Displacement, HeldSection
from simedge.fem.lookup import locate
from simedge.section.outline import Floats, Outline

#: Ways of moving that are stopped there: each direction constant, linear, square and cubic
#: across the thickness. That is nearly all that a rigid jaw stops.
POWERS = 4
#: Places across the thickness at which they are stopped, on average.
PLACES = 17


def change_if_held_at(
    section: HeldSection, displacement: Displacement, outline: Outline, at_mm: float
) -> Floats:
    """Give how displacements change where a cross-section in front of the clamp is held too.

    Parameters
    ----------
    section : HeldSection
    displacement : Displacement
        Of loads that act in front of that cross-section.
    outline : Outline
    at_mm : float
        Depth x.

    Returns
    -------
    ndarray, shape (loads, 2, points)
        In front of that depth what a clamp there would change, behind it nothing of use.
    """
    mesh = section.mesh
    right, left = (float(outline.face_y_mm(side, at_mm)) for side in ("right", "left"))
    y = np.linspace(right, left, PLACES)
    there = locate(mesh, np.stack([np.full_like(y, at_mm), y]))
    ways, _ = np.linalg.qr(np.linspace(-1.0, 1.0, PLACES)[:, None] ** np.arange(POWERS))
    count = 2 * mesh.points_mm.shape[1]
    stopped = np.zeros((count, 2 * POWERS))
    for component in (0, 1):
        columns = slice(component * POWERS, (component + 1) * POWERS)
        weights = there.shapes[:, :, None] * ways[None, :, :]
        np.add.at(stopped[component::2, columns], there.points, weights)
    stopped = stopped[section.free]
    free = displacement.at_points_mm.transpose(0, 2, 1).reshape(-1, count)
    with threadpool_limits(limits=1):
        answer = section.solve(stopped)
    force = np.linalg.solve(stopped.T @ answer, stopped.T @ free[:, section.free].T)
    change = np.zeros((len(free), count))
    change[:, section.free] = -(answer @ force).T
    return np.asarray(change.reshape(len(free), -1, 2).transpose(0, 2, 1))
