"""How far the edge turns sideways as it is bent: what small movements leave out grows with it."""

from __future__ import annotations

from math import atan, degrees

import numpy as np

from simedge.fem.elastic import Displacement
from simedge.section.outline import Outline

#: Tip widths behind the apex, and share of the free depth, from where on a turn is looked
#: for: nearer, the dent under the load is larger than the bending.
WIDTHS_BEHIND, SHARE_BEHIND = 3.0, 1e-3


def edge_turn_deg(displacement: Displacement, index: int, outline: Outline) -> float:
    """Give the largest turn of a line from the foremost point to a point of a face, degrees.

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
    faces = np.unique(np.concatenate([mesh.boundary["left"], mesh.boundary["right"]], axis=1))
    depth = mesh.points_mm[0, faces]
    behind = depth > max(WIDTHS_BEHIND * outline.tip.width_mm, SHARE_BEHIND * outline.depth_mm)
    slopes = (lateral[mesh.foremost] - lateral[faces[behind]]) / depth[behind]
    return degrees(atan(float(np.abs(slopes).max(initial=0.0))))
