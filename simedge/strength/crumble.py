"""Crumbling: where an edge is no thicker than its hard particles, they break or fall out.

The crack picture ends where a crack of a particle's size would be more than 0.6 of the
section. In front of that the particles are the section: it fails where the stress of its face
passes their own strength, each cracked across as a penny (`simedge.strength.resistance`). That
chips root about there is common practice, no source; the strength is derived.
"""

from __future__ import annotations

import numpy as np

from simedge.section.outline import SIDES, Floats, Side
from simedge.strength.normal_sections import NormalSections
from simedge.strength.resistance import Resistance
from simedge.strength.weakest import NEVER, Weakest, crossings


def first_crumbling(
    sections: NormalSections, faces_mpa: dict[Side, Floats], resistance: Resistance
) -> Weakest:
    """Find where hard particles give way first; never where the front is thicker than they are.

    Parameters and result as of `simedge.strength.chip.first_chip`.
    """
    if resistance.particle_strength_mpa is None:
        return NEVER
    limit = resistance.cracks_judged_from_mm
    filled = sections.thickness_mm <= limit
    if not filled.any():
        return NEVER
    ends = crossings(sections.thickness_mm, limit)
    filled = np.concatenate([filled, np.ones_like(ends.before, dtype=bool)])
    first = NEVER
    for side in SIDES:
        stress = np.where(filled, ends.added_to(faces_mpa[side]), 0.0)
        at = int(np.argmax(stress))
        if stress[at] <= 0.0:
            continue
        factor = resistance.particle_strength_mpa / float(stress[at])
        if factor < first.factor:
            place = float(ends.added_to(sections.face_x_mm[side])[at])
            first = Weakest(factor=factor, x_mm=place, side=side)
    return first
