"""What a hard object puts on the edge that has entered it: a staple, a wire, a rim, a bone.

The object flows around the edge and presses with p, 1.2 to 3 times its strength, on the
section's thickness w where it is entered: q = p w per mm of edge (derived; w is
2 d tan(alpha) + 2 R behind a rounded tip, to R / d), at a slant s off the plane of the cut.

How that force sits on the contact is our choice. What flows presses evenly: each pressed
face gets one pressure from the tip to the depth of entry, the tip p times its own width,
evenly and along the slant, and the two pressures are such that all together is q at the
slant exactly, whatever the faces; on an even wedge they are p (cos s -+ tan(alpha) sin s).
A tip that moves as one, as something harder than the edge would carry it, would be
squeezed at its rims with a pressure that the object does not have. At a slant so steep
that the pressure on the trailing face would have to pull, that face is let go, and the
leading one is rubbed towards the apex by the friction that the slant asks for.
"""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np

from simedge.inputs.load import ObjectLoad
from simedge.section.acting import Acting
from simedge.section.outline import SIDES, Outline
from simedge.section.tractions import FaceTraction, TipTraction

#: Of the tip's width: a shorter stretch of face is left to the tip.
LEAST_STRETCH = 0.01
#: Less of the object's pressure, or of a friction, is rounding.
ROUNDING = 1e-9


def object_acting(load: ObjectLoad, outline: Outline) -> Acting:
    """Work out what a hard object presses with.

    Parameters
    ----------
    load : ObjectLoad
    outline : Outline

    Returns
    -------
    Acting
        Its resultant is q at the slant. Where the edge has entered no deeper than its
        tip, or its faces do not widen, all of it sits on the tip.
    """
    pressure, slant = load.pressure_mpa, radians(load.slant_deg)
    force = pressure * float(outline.thickness_mm(load.entry_mm))
    faces, on_faces = _on_faces(load, outline, slant)
    on_tip = force - on_faces
    tip: tuple[TipTraction, ...] = ()
    if on_tip > ROUNDING * force:
        tip = (
            TipTraction(
                axial_n_per_mm=on_tip * cos(slant),
                lateral_n_per_mm=on_tip * sin(slant),
                spread="uniform",
                medium=_name(load),
            ),
        )
    return Acting(
        tip=tip,
        faces=faces,
        contact_length_mm=load.contact_mm,
        remarks=_remarks(load, force, faces),
        object_pressure_mpa=pressure,
    )


def _name(load: ObjectLoad) -> str | None:
    medium = load.library_medium
    return None if medium is None else medium.name


def _on_faces(
    load: ObjectLoad, outline: Outline, slant_rad: float
) -> tuple[tuple[FaceTraction, ...], float]:
    """Give the pressed stretches of both faces, and the force per mm that sits on them."""
    begins = [outline.face_begins_mm(side) for side in SIDES]
    least = max(LEAST_STRETCH * outline.tip.width_mm, ROUNDING * load.entry_mm)
    if load.entry_mm - max(begins) <= least:
        return (), 0.0
    # uniform pressure and friction act on any face as on its chord
    run = [load.entry_mm - begin for begin in begins]
    rise = [
        outward * float(outline.face_y_mm(side, load.entry_mm) - outline.face_y_mm(side, begin))
        for side, begin, outward in zip(SIDES, begins, (1.0, -1.0), strict=True)
    ]
    force = load.pressure_mpa * sum(rise)
    if force <= ROUNDING * load.pressure_mpa * outline.tip.width_mm:
        return (), 0.0
    axial, lateral = force * cos(slant_rad), force * sin(slant_rad)
    pressures = np.linalg.solve([rise, [-run[0], run[1]]], [axial, lateral])
    frictions = np.zeros(2)
    if pressures.min() < -ROUNDING * load.pressure_mpa:
        trailing = int(np.argmin(pressures))
        leading = 1 - trailing
        towards = lateral if leading == 1 else -lateral
        width, depth = rise[leading], run[leading]
        pressures[trailing] = 0.0
        pressures[leading] = (axial * width + towards * depth) / (width**2 + depth**2)
        drag = (axial * depth - towards * width) / (width**2 + depth**2)
        frictions[leading] = drag / pressures[leading]
    return tuple(
        FaceTraction(
            side=side,
            from_mm=begin,
            to_mm=load.entry_mm,
            pressure_mpa=float(pressure),
            friction=float(friction),
            medium=_name(load),
        )
        for side, begin, pressure, friction in zip(SIDES, begins, pressures, frictions, strict=True)
        if pressure > ROUNDING * load.pressure_mpa
    ), force


def _remarks(
    load: ObjectLoad, force_n_per_mm: float, faces: tuple[FaceTraction, ...]
) -> tuple[str, ...]:
    """Tell what force that takes in all, and where it rubs."""
    force = force_n_per_mm * load.contact_mm
    size = f"{force:.0f}" if force >= 100.0 else f"{force:.3g}"
    told = [
        f"an entry of {load.entry_mm:g} mm takes {size} N over "
        f"{load.contact_mm:g} mm of edge, where the {load.words} presses with "
        f"{load.pressure_mpa:.4g} MPa, {load.pressure_over_strength:g} times its strength (2 is "
        "common practice, 1.2 to 3 is possible)"
    ]
    told += [
        f"so far off the plane of the cut the {load.words} leaves one face and rubs the "
        f"{face.side} one towards the apex, with friction {-face.friction:.2g}"
        for face in faces
        if face.friction < 0.0
    ]
    return tuple(told)
