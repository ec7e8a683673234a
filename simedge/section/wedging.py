"""What slimness is for: how hard an edge is to push into what it parts, in closed form."""

from __future__ import annotations

from simedge.section.outline import SIDES, Outline
from simedge.section.tractions import FaceTraction, face_resultant


def wedge_resistance_mm(outline: Outline, depth_mm: float, friction: float) -> float:
    """Give the axial force of a straight cut, N per mm of edge for each MPa of the medium.

    Parameters
    ----------
    outline : Outline
    depth_mm : float
        Depth in the cut; both faces are pressed evenly down to there.
    friction : float
        Shear over pressure.

    Returns
    -------
    float
        Pressure on the faces' width and on the tip's, and friction along the faces; on an even
        wedge 2 d (tan(a) + friction), d the depth (statics).

    Examples
    --------
    >>> from simedge.inputs.profile import Apex, PrimaryGrind, Profile
    >>> from simedge.section.outline import build_outline
    >>> wedge = Profile(
    ...     apex=Apex(sharp=True), height_mm=20.0, primary_grind=PrimaryGrind(dps=15.0)
    ... )
    >>> sharp = build_outline(wedge.apex, wedge.faces)
    >>> round(wedge_resistance_mm(sharp, 1.0, 0.3), 4)  # 2 (0.26795 + 0.3)
    1.1359
    """
    total = outline.tip.width_mm
    for side in SIDES:
        part = FaceTraction(
            side=side,
            from_mm=outline.face_begins_mm(side),
            to_mm=depth_mm,
            pressure_mpa=1.0,
            friction=friction,
        )
        total += float(face_resultant(part, outline, depth_mm).axial_n_per_mm[0])
    return total
