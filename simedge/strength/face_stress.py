"""Stress along both faces at many sections, by the wedge that each section's faces make.

The fast path: each bevel as an endless wedge about its own apex and bisector, under the force
and moment of all that acts in front, and the uniform field of a stretch that is pressed right
there (Levy, Michell, Carothers, as in `simedge.strength.closed_form.wedge_stress`; one wedge
behind the other is ours). Within 0.4 % of finite elements away from shoulders and patch ends,
1 to 5 % there, 24 % off just in front of a shoulder that turns by 17 degrees;
`simedge.strength.field_share` puts that right where a field is known.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from simedge.section.outline import SIDES, Floats, Outline, Side
from simedge.section.tractions import FaceTraction, Tractions
from simedge.strength.closed_form.wedge_faces import WedgeFaces
from simedge.strength.normal_sections import NormalSections

#: Below it (half of the included angle, rad) the faces are as good as parallel: a beam's stress
#: is then 0.02 % off, and the wedge's apex too far away to reckon with. Also where they narrow.
SLIMMEST_RAD = 0.015


def without_friction(load: Tractions) -> Tractions:
    """Give a load whose media slide freely; what rubs towards the apex is needed for balance."""
    return replace(
        load,
        faces=tuple(
            replace(part, friction=0.0) if part.friction > 0.0 else part for part in load.faces
        ),
    )


def face_stresses(
    sections: NormalSections, outline: Outline, load: Tractions
) -> dict[Side, Floats]:
    """Give the stress along each face where the sections meet it, MPa, tension positive.

    Parameters
    ----------
    sections : NormalSections
        Of that outline under that load.
    outline : Outline
    load : Tractions

    Returns
    -------
    dict of ndarray, shape (sections,)
        Their spread along the edge counted in. Right at a patch end the mean of both sides.
    """
    half, tilt = sections.half_angle_rad, sections.tilt_rad
    wide = half >= SLIMMEST_RAD
    beam = _beam(sections)
    if not wide.any():
        return beam
    wedges = WedgeFaces(half_angle_rad=np.where(wide, half, SLIMMEST_RAD))
    x, y = _face_places(sections, outline)
    apex_x, apex_y = _apexes(x, y, wedges.half_angle_rad, tilt)
    radius = {side: np.hypot(x[side] - apex_x, y[side] - apex_y) for side in SIDES}
    # unspread forces first: the spread is of what the section carries in all
    axial, lateral, moment = _about(sections, x, y, apex_x, apex_y)
    stress = {side: np.zeros_like(half) for side in SIDES}
    for part in load.faces:
        here = _covered(part, x[part.side])
        if not here.any():
            continue
        force_x, force_y, turn = _endless(part, tilt, wedges.half_angle_rad, radius[part.side])
        axial, lateral = axial - here * force_x, lateral - here * force_y
        moment = moment - here * turn
        (pressed, other), (dragged, opposite) = wedges.of_pressure(), wedges.of_drag()
        far: Side = "right" if part.side == "left" else "left"
        stress[part.side] += here * part.pressure_mpa * (pressed + part.friction * dragged)
        stress[far] += here * part.pressure_mpa * (other + part.friction * opposite)
    cosine, sine = np.cos(tilt), np.sin(tilt)
    along, across = axial * cosine + lateral * sine, lateral * cosine - axial * sine
    even, odd, by_radius = wedges.of_apex_load(along, across, moment)
    stress["left"] += (even + odd) / radius["left"] + by_radius / radius["left"] ** 2
    stress["right"] += (even - odd) / radius["right"] - by_radius / radius["right"] ** 2
    return {side: np.where(wide, sections.spread * stress[side], beam[side]) for side in SIDES}


def _beam(sections: NormalSections) -> dict[Side, Floats]:
    """Give the stress of a prismatic beam: tension on the left under a positive moment."""
    even = -sections.axial_n_per_mm / sections.thickness_mm
    bent = 6.0 * sections.moment_n / sections.thickness_mm**2
    return {"left": even + bent, "right": even - bent}


def _face_places(
    sections: NormalSections, outline: Outline
) -> tuple[dict[Side, Floats], dict[Side, Floats]]:
    x = sections.face_x_mm
    return x, {side: outline.face_y_mm(side, x[side]) for side in SIDES}


def _apexes(
    x: dict[Side, Floats], y: dict[Side, Floats], half: Floats, tilt: Floats
) -> tuple[Floats, Floats]:
    """Give where the two faces, taken straight, would meet in front of each section."""
    # along the left face from its place: the triangle of both places and the apex
    left, right = tilt + half, tilt - half
    across_x, across_y = x["left"] - x["right"], y["left"] - y["right"]
    back = (across_y * np.cos(right) - across_x * np.sin(right)) / np.sin(left - right)
    return x["left"] - back * np.cos(left), y["left"] - back * np.sin(left)


def _about(
    sections: NormalSections,
    x: dict[Side, Floats],
    y: dict[Side, Floats],
    apex_x: Floats,
    apex_y: Floats,
) -> tuple[Floats, Floats, Floats]:
    """Give the forces in front in blade axes, and their moment about each apex, unspread."""
    across_x, across_y = x["left"] - x["right"], y["left"] - y["right"]
    across_x, across_y = across_x / sections.thickness_mm, across_y / sections.thickness_mm
    axial, shear = sections.axial_n_per_mm, sections.shear_n_per_mm
    force_x = (axial * across_y + shear * across_x) / sections.spread
    force_y = (shear * across_y - axial * across_x) / sections.spread
    centre_x, centre_y = 0.5 * (x["left"] + x["right"]), 0.5 * (y["left"] + y["right"])
    arm_x, arm_y = centre_x - apex_x, centre_y - apex_y
    moment = sections.moment_n / sections.spread + arm_x * force_y - arm_y * force_x
    return force_x, force_y, moment


def _covered(part: FaceTraction, x: Floats) -> Floats:
    """Tell where a stretch is pressed: 1 inside it, a half right at its ends."""
    slack = 1e-9 * part.to_mm
    inside = (x > part.from_mm + slack) & (x < part.to_mm - slack)
    ends = (np.abs(x - part.from_mm) <= slack) | (np.abs(x - part.to_mm) <= slack)
    return np.asarray(inside + 0.5 * ends)


def _endless(
    part: FaceTraction, tilt: Floats, half: Floats, radius: Floats
) -> tuple[Floats, Floats, Floats]:
    """Give force and moment about the apex of a stretch that reaches from there to a section."""
    outward = 1.0 if part.side == "left" else -1.0
    force_x, force_y = part.traction(half + outward * tilt)
    return force_x * radius, force_y * radius, -outward * part.pressure_mpa * radius**2 / 2.0
