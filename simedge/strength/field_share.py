"""How far the field of finite elements departs from the wedge formula along both faces.

Just in front of a shoulder, and where a pressed stretch ends, the formula of
`simedge.strength.face_stress` is some per cent off. The whole edge's field tells by how much,
and an edge that is cut back keeps that: shoulders stay where they are in the steel, the ends
of what is pressed keep their distance from the front.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simedge.fem.lookup import interpolate
from simedge.fem.stress_field import StressField
from simedge.section.outline import SIDES, Floats, Outline, Side
from simedge.section.tractions import Tractions
from simedge.strength.along_faces import along_face_mpa
from simedge.strength.face_stress import face_stresses
from simedge.strength.normal_sections import normal_sections

#: Of the larger of both faces' stress: where a face has less, a share of it says nothing.
TOLD_FROM = 0.2
#: A share beyond these is the neighbourhood of a singular patch end or of the tip itself.
SMALLEST, LARGEST = 0.5, 1.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FieldShare:
    """The field's stress along each face over the formula's, on the whole edge.

    Attributes
    ----------
    x_mm, share : dict of ndarray, shape (n,)
        Depths, rising, and the shares there.
    work_ends_mm : float
        Where the neighbourhood of what is pressed ends: behind it a share belongs to the steel.
    """

    x_mm: dict[Side, Floats]
    share: dict[Side, Floats]
    work_ends_mm: float

    def at(self, side: Side, from_front_mm: Floats, cut_mm: float) -> Floats:
        """Give the share at depths behind the new front of an edge that was cut back."""
        in_steel = from_front_mm + cut_mm
        place = np.where(from_front_mm <= self.work_ends_mm, from_front_mm, in_steel)
        return np.asarray(np.interp(place, self.x_mm[side], self.share[side]))


def read_field_share(
    field: StressField, outline: Outline, load: Tractions, trusted_depth_mm: float
) -> FieldShare:
    """Compare a field with the formula along both faces of the whole edge."""
    sections = normal_sections(outline, load, trusted_depth_mm)
    formula = face_stresses(sections, outline, load)
    faces = sections.face_x_mm
    y = {side: outline.face_y_mm(side, faces[side]) for side in SIDES}
    places = np.stack(
        [np.concatenate([faces[s] for s in SIDES]), np.concatenate([y[s] for s in SIDES])]
    )
    values = interpolate(field.mesh, field.stress_mpa, places).reshape(4, 2, -1)
    size = np.maximum(np.abs(formula["left"]), np.abs(formula["right"]))
    share, x = {}, {}
    for row, side in enumerate(SIDES):
        seen = along_face_mpa(values[:, row], outline, side, faces[side]) * sections.spread
        told = np.abs(formula[side]) > TOLD_FROM * size
        quotient = seen / np.where(told, formula[side], 1.0)
        # where the bisector turns at a shoulder, sections cross behind it
        rising = np.argsort(faces[side], kind="stable")
        x[side] = faces[side][rising]
        share[side] = np.where(told, np.clip(quotient, SMALLEST, LARGEST), 1.0)[rising]
    ends = max((part.to_mm for part in load.faces), default=0.0)
    return FieldShare(
        x_mm=x,
        share=share,
        work_ends_mm=ends + float(outline.thickness_mm(ends)),
    )
