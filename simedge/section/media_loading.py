"""What media in a cut put on the edge, by the strength of each and by one hand.

A medium presses at its strength on the faces, from where they leave the tip or its
window begins to its end; the one at the tip presses straight in with three times its
strength (derived, common practice). The hand is used up from the tip backwards: on the
tip first, where the cut is straight, then window by window.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from scipy.optimize import brentq

from simedge.inputs.load import LayeredLoad, MediumLoad
from simedge.inputs.work_loads import Layer
from simedge.section.acting import Acting
from simedge.section.outline import SIDES, Floats, Outline, Side
from simedge.section.tractions import FaceTraction, TipTraction, face_resultant

#: A medium cannot press on the tip harder than about this many times its strength.
TIP_PRESSURE_FACTOR = 3.0
#: A hand that is used up presses no face: less of a window than this is nothing.
LEAST_SHARE = 1e-6


def medium_tip_load_n_per_mm(strength_mpa: float, outline: Outline) -> float:
    """Give the line load that a medium of that strength can put on the tip, N/mm."""
    return TIP_PRESSURE_FACTOR * strength_mpa * outline.tip.width_mm


def media_acting(load: MediumLoad | LayeredLoad, outline: Outline) -> Acting:
    """Work out what media press with, as far as the hand reaches.

    Parameters
    ----------
    load : MediumLoad or LayeredLoad
        One medium is a single window that begins at the foremost point.
    outline : Outline

    Returns
    -------
    Acting
        Limited by the hand where it leaves anything of the cut less than fully pressed.

    Notes
    -----
    Per mm of edge, straight: the axial force of tip and both faces is at most what the
    hand gives. Sideways: strength times pressed depth, summed over the windows, is;
    the tip, which is pressed along the cut, takes nothing of that.
    """
    sides: tuple[Side, ...] = SIDES if load.side == "both" else (load.side,)
    layers, hand = load.layers_by_depth, load.hand_n_per_mm
    front = layers[0]
    at_tip = front.from_mm <= min(outline.face_begins_mm(side) for side in SIDES)
    tip_wanted = medium_tip_load_n_per_mm(front.strength_mpa(), outline) if at_tip else 0.0
    tip_axial = min(tip_wanted, hand)
    left = hand - tip_axial if load.side == "both" else hand
    limited_by: Literal["hand", "medium"] = "hand" if tip_axial < tip_wanted else "medium"
    faces: list[FaceTraction] = []
    for layer in layers:
        reach, taken = _pressed_to_mm(layer, sides, load.friction, outline, left)
        faces += _pressed(layer, sides, load.friction, outline, reach)
        left -= taken
        if reach < layer.to_mm:
            limited_by = "hand"
            break
    reached = max((face.to_mm for face in faces), default=0.0)
    beyond = [layer for layer in layers if layer.from_mm >= reached]
    remarks = tuple(
        f"the hand does not reach the {layer.words} from {layer.from_mm:g} mm on: it is used up "
        "in front of it"
        for layer in beyond
        if limited_by == "hand" and layer is not front
    )
    tip = (
        TipTraction(axial_n_per_mm=tip_axial, lateral_n_per_mm=0.0, medium=_name(front)),
    ) * bool(tip_axial > 0)
    return Acting(
        tip=tip,
        faces=tuple(faces),
        limited_by=limited_by,
        contact_length_mm=load.contact_mm,
        remarks=remarks,
        medium_on_tip=bool(tip),
    )


def _name(layer: Layer) -> str | None:
    medium = layer.library_medium
    return None if medium is None else medium.name


def _pressed(
    layer: Layer, sides: tuple[Side, ...], friction: float, outline: Outline, to_mm: float
) -> list[FaceTraction]:
    """Give the pressed stretches of a layer down to a depth; none where nothing is left of it."""
    begins = [(side, max(layer.from_mm, outline.face_begins_mm(side))) for side in sides]
    return [
        FaceTraction(
            side=side,
            from_mm=begin,
            to_mm=to_mm,
            pressure_mpa=layer.strength_mpa(),
            friction=friction,
            medium=_name(layer),
        )
        for side, begin in begins
        if to_mm - begin > LEAST_SHARE * layer.to_mm
    ]


def _pressed_to_mm(
    layer: Layer, sides: tuple[Side, ...], friction: float, outline: Outline, hand_n_per_mm: float
) -> tuple[float, float]:
    """Give how deep the hand presses a layer, at most to its end, and what of it that takes."""
    faces = _pressed(layer, sides, friction, outline, layer.to_mm)
    if not faces:
        return layer.to_mm, 0.0
    begins = [face.from_mm for face in faces]
    ends = {run.end_mm[0] for side in SIDES for run in outline.face(side)}
    inner = {x for x in ends if min(begins) < x < layer.to_mm}
    knots = np.array(sorted({*begins, *inner, layer.to_mm}))

    def taken(x: Floats) -> Floats:
        if len(sides) == 1:  # sideways: on each depth the medium's strength, whatever the face
            return layer.strength_mpa() * (x - begins[0])
        axial = [face_resultant(face, outline, x).axial_n_per_mm for face in faces]
        return np.asarray(np.sum(axial, axis=0))

    beyond = np.flatnonzero(taken(knots) > hand_n_per_mm)
    if beyond.size == 0:
        return layer.to_mm, float(taken(knots[-1:])[0])
    behind = int(beyond[0])  # at the first knot nothing is taken yet
    if behind == 0:
        return float(knots[0]), 0.0
    depth = brentq(
        lambda x: float(taken(np.array([x]))[0]) - hand_n_per_mm,
        knots[behind - 1],
        knots[behind],
        xtol=1e-16 * layer.to_mm,
    )
    return float(depth), hand_n_per_mm
