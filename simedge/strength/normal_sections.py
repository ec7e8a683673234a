"""Sections square to the blade's local bisector, and the forces that each has to carry.

By statics from the tractions: what acts in front of a section, about its centroid. A short
contact is spread along the edge behind where it presses.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simedge.section.outline import SIDES, Floats, Outline, Side
from simedge.section.tractions import Tractions, face_resultant, tip_resultant
from simedge.strength.zones import resolved_from_mm

#: Sections from the tip to the trusted depth, besides those at shoulders and patch ends. They
#: stand a ninth of the depth apart: the weakest is missed by a thousandth of its load factor.
SECTIONS = 128


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NormalSections:
    """Every array has shape (sections,), apex first.

    Attributes
    ----------
    x_mm : ndarray
        Depth of the centroid.
    face_x_mm : dict of ndarray
        Depth where the section meets the left and the right face.
    thickness_mm : ndarray
    half_angle_rad, tilt_rad : ndarray
        Half of the angle between the faces there, and that of the bisector from the mid-plane.
    moment_n : ndarray
        N mm per mm of edge, turning x to y.
    shear_n_per_mm : ndarray
        Along the section, towards the left face.
    axial_n_per_mm, axial_of_faces_n_per_mm : ndarray
        Square to it, into the blade: of all that acts, and of what acts on the faces or pulls
        on the tip.
    spread : ndarray
        Share of the forces that the section carries, 1 where the contact is not short.
    """

    x_mm: Floats
    face_x_mm: dict[Side, Floats]
    thickness_mm: Floats
    half_angle_rad: Floats
    tilt_rad: Floats
    moment_n: Floats
    shear_n_per_mm: Floats
    axial_n_per_mm: Floats
    axial_of_faces_n_per_mm: Floats
    spread: Floats


def spread_along_edge(x_mm: Floats, load: Tractions) -> Floats:
    """Give the share of a load that sections at depths carry, the rest going to their neighbours.

    L / (L + 2 (x - d)) behind the depth d where the work ends, L the length of edge in contact:
    common practice, no source.
    """
    length = load.contact_length_mm
    if length is None:
        return np.ones_like(x_mm)
    patch_end = max((part.to_mm for part in load.faces), default=0.0)
    return np.asarray(length / (length + 2.0 * np.clip(x_mm - patch_end, 0.0, None)))


def section_depths_mm(outline: Outline, load: Tractions, trusted_depth_mm: float) -> Floats:
    """Choose depths: close at the tip, and at every shoulder and patch end."""
    begin = max(*(outline.face_begins_mm(side) for side in SIDES), resolved_from_mm(outline))
    step = max(0.1 * outline.tip.width_mm, 1e-6 * outline.depth_mm)
    graded = begin + np.geomspace(step, trusted_depth_mm - begin, SECTIONS)
    marks = [begin]
    marks += [run.end_mm[0] for side in SIDES for run in outline.face(side)]
    marks += [x for part in load.faces for x in (part.from_mm, part.to_mm)]
    x = np.unique(np.concatenate([graded, marks]))
    kept = (x >= begin) & (x <= trusted_depth_mm)
    return np.asarray(x[kept & (outline.thickness_mm(x) > 0.0)])


def normal_sections(outline: Outline, load: Tractions, trusted_depth_mm: float) -> NormalSections:
    """Cut a section square to its bisector at many depths, and find what each cut carries.

    Parameters
    ----------
    outline : Outline
    load : Tractions
        All forces known.
    trusted_depth_mm : float
        Nothing behind it is cut.

    Returns
    -------
    NormalSections
        At the very front of a one-sided edge cuts are turned as far as the tip lets them.
    """
    x = section_depths_mm(outline, load, trusted_depth_mm)
    angle = {side: outline.face_angle_rad(side, x) for side in SIDES}
    half = 0.5 * (angle["left"] + angle["right"])
    tilt = 0.5 * (angle["left"] - angle["right"])
    # half the section on either side, each face taken as straight: T cos(face) / (2 cos(half))
    reach = 0.5 * outline.thickness_mm(x) * np.sin(tilt) / np.cos(half)
    face_x = {
        "left": np.clip(
            x - reach * np.cos(angle["left"]), outline.face_begins_mm("left"), outline.depth_mm
        ),
        "right": np.clip(
            x + reach * np.cos(angle["right"]), outline.face_begins_mm("right"), outline.depth_mm
        ),
    }
    face_y = {side: outline.face_y_mm(side, face_x[side]) for side in SIDES}
    across_x, across_y = face_x["left"] - face_x["right"], face_y["left"] - face_y["right"]
    thickness = np.hypot(across_x, across_y)
    across_x, across_y = across_x / thickness, across_y / thickness
    centre_x = 0.5 * (face_x["left"] + face_x["right"])
    centre_y = 0.5 * (face_y["left"] + face_y["right"])
    force_x, force_y, moment = (np.zeros_like(x) for _ in range(3))
    for part in load.faces:
        acts = face_resultant(part, outline, face_x[part.side])
        force_x += acts.axial_n_per_mm
        force_y += acts.lateral_n_per_mm
        moment += acts.moment_n
    of_faces = force_x * across_y - force_y * across_x
    of_faces = of_faces + min(load.tip_axial_n_per_mm, 0.0) * across_y  # a pull crushes no tip
    for tip in load.tip:
        axial, lateral, about_origin = tip_resultant(tip, outline)
        force_x, force_y = force_x + axial, force_y + lateral
        moment = moment + about_origin
    moment = moment - centre_x * force_y + centre_y * force_x
    spread = spread_along_edge(centre_x, load)
    return NormalSections(
        x_mm=centre_x,
        face_x_mm={"left": face_x["left"], "right": face_x["right"]},
        thickness_mm=thickness,
        half_angle_rad=half,
        tilt_rad=tilt,
        moment_n=spread * moment,
        shear_n_per_mm=spread * (force_x * across_x + force_y * across_y),
        axial_n_per_mm=spread * (force_x * across_y - force_y * across_x),
        axial_of_faces_n_per_mm=spread * of_faces,
        spread=spread,
    )
