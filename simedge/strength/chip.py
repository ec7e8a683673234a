"""Chipping: a flaw in the tension face runs, in steel that may also yield.

A failure assessment diagram (`simedge.strength.closed_form.assessment_diagram`): L_r from the
roll limit of the very section, K_r from an edge crack of the steel's flaw under the stress of
that face and its fall through the thickness (`simedge.strength.closed_form.edge_crack`). Good
to a factor of about 2, as flaws and toughness are known. Where a section reaches its roll limit
(L_r = 1) before the diagram's line it folds: that is a roll, and no chip.
"""

from __future__ import annotations

from math import isinf

import numpy as np

from simedge.section.outline import SIDES, Floats, Side
from simedge.strength.closed_form.assessment_diagram import first_to_fail
from simedge.strength.closed_form.edge_crack import DEEPEST_SHARE, stress_intensity_mpa_sqrt_mm
from simedge.strength.normal_sections import NormalSections
from simedge.strength.resistance import Resistance
from simedge.strength.weakest import NEVER, Weakest, crossings


def first_chip(
    sections: NormalSections,
    faces_mpa: dict[Side, Floats],
    roll_factors: Floats,
    resistance: Resistance,
) -> Weakest:
    """Find the section and face from which a crack runs first.

    Parameters
    ----------
    sections : NormalSections
    faces_mpa : dict of ndarray, shape (sections,)
        Stress along each face.
    roll_factors : ndarray, shape (sections,)
        From `simedge.strength.roll.roll_factors`.
    resistance : Resistance
        One end of what is known of the steel, its toughness known.

    Returns
    -------
    Weakest
        Never where no face is pulled in sections thick enough for a crack picture.
    """
    if resistance.toughness_mpa_sqrt_mm is None:
        raise ValueError("the toughness of this steel is not known")
    limit = resistance.cracks_judged_from_mm
    judged = sections.thickness_mm > limit
    if not judged.any():
        return NEVER
    ends = crossings(sections.thickness_mm, limit)
    judged = np.concatenate([judged, np.ones_like(ends.before, dtype=bool)])
    thickness = ends.added_to(sections.thickness_mm)[judged]
    collapse = ends.added_to(1.0 / roll_factors)[judged]
    crack = np.minimum(resistance.flaw_mm, DEEPEST_SHARE * thickness)
    stress = {side: ends.added_to(faces_mpa[side])[judged] for side in SIDES}
    intensity = [
        stress_intensity_mpa_sqrt_mm(
            crack, thickness, at_crack_mpa=stress[side], at_far_face_mpa=stress[far]
        )
        for side, far in zip(SIDES, reversed(SIDES), strict=True)
    ]
    used = np.maximum(np.concatenate(intensity), 0.0) / resistance.toughness_mpa_sqrt_mm
    cut_off, exponent = resistance.collapse_cut_off, resistance.assessment_exponent
    factor, at = first_to_fail(used, np.tile(collapse, 2), exponent=exponent, cut_off=cut_off)
    if isinf(factor):
        return NEVER
    side = SIDES[at // thickness.size]
    section = at % thickness.size
    folds = factor * collapse[section] >= 1.0
    return Weakest(
        factor=factor,
        x_mm=float(ends.added_to(sections.face_x_mm[side])[judged][section]),
        side=side,
        by_collapse=bool(folds),
    )
