"""A profile's own numbers, as a person would check them with calipers."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees

from simedge.inputs.faces import Faces
from simedge.section.outline import Outline

#: Depths behind the apex at which thickness is told, as far as the blade goes.
TOLD_DEPTHS_MM = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundStretch:
    """One bevel or grind.

    Attributes
    ----------
    name : str
    left_dps, right_dps : float
        Angles of its faces from the mid-plane, degrees; of the chords where they are arcs.
    included_deg : float
        Their sum.
    begins_included_deg, ends_included_deg : float
        Angle between the faces themselves where they begin and end: other than
        ``included_deg`` where they are arcs.
    bulge_mm : float
        How far the faces stand out from the middle of their chords, the larger of both
        sides; negative where they are hollow.
    radius_mm : float or None
        Of the arc, the wheel's where it is hollow; None for straight faces.
    begins_mm, ends_mm : float
        Depths x behind the foremost point.
    ends_at_thickness_mm : float
    """

    name: str
    left_dps: float
    right_dps: float
    included_deg: float
    begins_included_deg: float
    ends_included_deg: float
    bulge_mm: float
    radius_mm: float | None
    begins_mm: float
    ends_mm: float
    ends_at_thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """Numbers of a whole section, apex to spine.

    Attributes
    ----------
    stretches : tuple of GroundStretch
        Apex first; shoulders lie where one ends and the next begins.
    thickness_behind_edge_mm : float or None
        Thickness at the shoulder between the edge bevel and the primary grind; None
        for an edge without bevels, and for a traced one.
    height_mm, spine_thickness_mm : float
    thickness_at_mm : tuple of (float, float)
        Depth x and thickness there.
    area_mm2 : float
    """

    stretches: tuple[GroundStretch, ...]
    thickness_behind_edge_mm: float | None
    height_mm: float
    spine_thickness_mm: float
    thickness_at_mm: tuple[tuple[float, float], ...]
    area_mm2: float


def measure(faces: Faces, outline: Outline) -> Measures:
    """Measure a section.

    Parameters
    ----------
    faces : Faces
    outline : Outline
        Of the whole blade, held at the spine.
    """
    stretches = []
    for index, (name, (left, right)) in enumerate(zip(faces.names, faces.sides_deg, strict=True)):
        begins = max(faces.left_mm[index][0], faces.right_mm[index][0])
        end_left, end_right = faces.left_mm[index + 1], faces.right_mm[index + 1]
        curves = (faces.left[index], faces.right[index])
        bent = max(curves, key=lambda curve: abs(curve.bulge_mm))
        stretches.append(
            GroundStretch(
                name=name,
                left_dps=left,
                right_dps=right,
                included_deg=left + right,
                begins_included_deg=degrees(sum(curve.begin_angle_rad for curve in curves)),
                ends_included_deg=degrees(sum(curve.end_angle_rad for curve in curves)),
                bulge_mm=bent.bulge_mm,
                radius_mm=None if bent.is_straight else bent.radius_mm,
                begins_mm=begins,
                ends_mm=end_left[0],
                ends_at_thickness_mm=end_left[1] - end_right[1],
            )
        )
    grind = ("primary_grind",)
    primary = faces.fields.index(grind) if grind in faces.fields else 0  # a trace names none
    return Measures(
        stretches=tuple(stretches),
        thickness_behind_edge_mm=stretches[primary - 1].ends_at_thickness_mm if primary else None,
        height_mm=faces.height_mm,
        spine_thickness_mm=faces.spine_thickness_mm,
        thickness_at_mm=tuple(
            (depth, float(outline.thickness_mm(depth)))
            for depth in TOLD_DEPTHS_MM
            if depth < faces.height_mm
        ),
        area_mm2=outline.area_mm2,
    )
