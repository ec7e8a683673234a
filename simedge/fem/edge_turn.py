"""How far the edge turns sideways as it is bent: what small movements leave out grows with it."""

from __future__ import annotations

from math import atan, degrees

import numpy as np

from simedge.fem.elastic import Displacement
from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import SIDES, Outline, Side

#: Tip widths behind the apex, and share of the free depth, from where on a turn is looked
#: for: nearer, the dent under the load is larger than the bending.
WIDTHS_BEHIND, SHARE_BEHIND = 3.0, 1e-3


def edge_turn_deg(displacement: Displacement, index: int, outline: Outline) -> float:
    """Give the largest turn of a line from the foremost point to the section's middle, degrees.

    Parameters
    ----------
    displacement : Displacement
    index : int
        Of the load.
    outline : Outline

    Returns
    -------
    float
        Not negative; of the elastic, small-movement solution.
    """
    mesh = displacement.mesh
    lateral = displacement.at_points_mm[index][1]
    left, right = (_by_depth(mesh, side) for side in SIDES)
    depth = mesh.points_mm[0, left]
    # the middle of the section: faces that bulge alike turn nothing
    middle = 0.5 * (lateral[left] + np.interp(depth, mesh.points_mm[0, right], lateral[right]))
    behind = depth > max(WIDTHS_BEHIND * outline.tip.width_mm, SHARE_BEHIND * outline.depth_mm)
    slopes = (lateral[mesh.foremost] - middle[behind]) / depth[behind]
    return degrees(atan(float(np.abs(slopes).max(initial=0.0))))


def _by_depth(mesh: SectionMesh, side: Side) -> Integers:
    points = np.unique(mesh.boundary[side])
    return np.asarray(points[np.argsort(mesh.points_mm[0, points], kind="stable")])
