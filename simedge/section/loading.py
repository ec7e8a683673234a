"""From a load in a person's words to tractions on the outline.

What a medium does (derived, common practice): it presses at its strength on the face,
from where the face leaves the tip to the depth in the cut, but no more than the hand
gives; on the tip it presses straight in with three times its strength.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin
from typing import Literal

from simedge.inputs.load import (
    FaceLoad,
    Load,
    MediumLoad,
    Part,
    TipForce,
    TipLineLoad,
    parts_of,
)
from simedge.inputs.load import TipMovement as MovementLoad
from simedge.inputs.medium import hands
from simedge.section.outline import SIDES, Outline, Side
from simedge.section.tractions import (
    FaceTraction,
    TipMovement,
    TipTraction,
    Tractions,
    face_resultant,
)

#: A medium cannot press on the tip harder than about this many times its strength.
TIP_PRESSURE_FACTOR = 3.0
#: A hand that the tip has used up presses no face: less of the cut than this is nothing.
LEAST_SHARE = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Acting:
    """What one part of a load puts on the outline."""

    tip: tuple[TipTraction, ...] = ()
    faces: tuple[FaceTraction, ...] = ()
    movement: TipMovement | None = None
    limited_by: Literal["hand", "medium"] | None = None
    contact_length_mm: float | None = None
    remarks: tuple[str, ...] = ()


def medium_strength_mpa(load: MediumLoad, level: str | None = None) -> float:
    """Give the pressure that the medium of a load can carry, MPa, at its own level or another."""
    medium = load.library_medium
    if medium is None:
        assert load.medium_strength_mpa is not None
        return load.medium_strength_mpa
    return {
        "low": medium.strength_low_mpa,
        "typical": medium.strength_mpa,
        "high": medium.strength_high_mpa,
    }[level or load.level]


def medium_tip_load_n_per_mm(strength_mpa: float, outline: Outline) -> float:
    """Give the line load that a medium of that strength can put on the tip, N/mm."""
    return TIP_PRESSURE_FACTOR * strength_mpa * outline.tip.width_mm


def _straight_depth_mm(load: MediumLoad, outline: Outline, face_axial_n_per_mm: float) -> float:
    """Give the depth at which both pressed faces take that axial force, at most the cut's."""
    strength = medium_strength_mpa(load)
    knots = sorted(
        {outline.face_begins_mm(side) for side in SIDES}
        | {run.end_mm[0] for side in SIDES for run in outline.face(side)}
        | {load.depth_in_cut_mm}
    )
    knots = [x for x in knots if x <= load.depth_in_cut_mm]
    reached = 0.0
    for begin, end in pairwise(knots):
        gain = sum(
            float(face_resultant(part, outline, end).axial_n_per_mm[0])
            for side in SIDES
            for part in [_pressed(side, begin, end, strength, load.friction)]
        )
        if reached + gain > face_axial_n_per_mm:
            return begin + (end - begin) * (face_axial_n_per_mm - reached) / gain
        reached += gain
    return load.depth_in_cut_mm


def _pressed(
    side: Side, from_mm: float, to_mm: float, pressure_mpa: float, friction: float
) -> FaceTraction:
    return FaceTraction(
        side=side, from_mm=from_mm, to_mm=to_mm, pressure_mpa=pressure_mpa, friction=friction
    )


def _from_medium(load: MediumLoad, outline: Outline) -> _Acting:
    medium = load.library_medium
    length = load.contact_length_mm
    if length is None:
        assert medium is not None
        length = medium.contact_length_mm
    hand = hands()["one hand"].force_n if load.hand_force_n is None else load.hand_force_n
    strength, hand_n_per_mm = medium_strength_mpa(load), hand / length
    tip_wanted = medium_tip_load_n_per_mm(strength, outline)
    tip_axial = min(tip_wanted, hand_n_per_mm)
    sides: tuple[Side, ...] = SIDES if load.side == "both" else (load.side,)
    if load.side == "both":
        depth = _straight_depth_mm(load, outline, hand_n_per_mm - tip_axial)
    else:
        begins = outline.face_begins_mm(load.side)
        depth = min(load.depth_in_cut_mm, begins + hand_n_per_mm / strength)
    faces = tuple(
        _pressed(side, outline.face_begins_mm(side), depth, strength, load.friction)
        for side in sides
        if depth - outline.face_begins_mm(side) > LEAST_SHARE * load.depth_in_cut_mm
    )
    tip = (TipTraction(axial_n_per_mm=tip_axial, lateral_n_per_mm=0.0),) if tip_axial > 0 else ()
    by_hand = depth < load.depth_in_cut_mm or tip_axial < tip_wanted
    limited_by: Literal["hand", "medium"] = "hand" if by_hand else "medium"
    return _Acting(tip=tip, faces=faces, limited_by=limited_by, contact_length_mm=length)


def _from_face(load: FaceLoad, outline: Outline) -> _Acting:
    side: Side = "left" if load.at == "left face" else "right"
    begins = outline.face_begins_mm(side)
    remarks: tuple[str, ...] = ()
    if load.from_mm < begins:
        remarks = (
            f"the pressed stretch begins at {1000.0 * begins:.3g} µm, where the {side} face "
            f"leaves the tip, not at {1000.0 * load.from_mm:g} µm",
        )
    traction = FaceTraction(
        side=side,
        from_mm=max(load.from_mm, begins),
        to_mm=load.to_mm,
        pressure_mpa=load.pressure_mpa,
        friction=load.friction,
    )
    return _Acting(faces=(traction,), remarks=remarks)


def _on_tip(axial: float, lateral: float, load: TipForce | TipLineLoad) -> _Acting:
    remarks: tuple[str, ...] = ()
    if axial < 0:
        remarks = ("the load pulls on the edge: nothing that is cut does that",)
    tip = TipTraction(axial_n_per_mm=axial, lateral_n_per_mm=lateral, spread=load.spread)
    length = load.contact_length_mm if isinstance(load, TipForce) else None
    return _Acting(tip=(tip,), contact_length_mm=length, remarks=remarks)


def _acting(part: Part, outline: Outline) -> _Acting:
    if isinstance(part, MediumLoad):
        return _from_medium(part, outline)
    if isinstance(part, FaceLoad):
        return _from_face(part, outline)
    if isinstance(part, MovementLoad):
        return _Acting(
            movement=TipMovement(axial_mm=part.apex_axial_mm, lateral_mm=part.apex_lateral_mm),
            contact_length_mm=part.contact_length_mm,
        )
    if isinstance(part, TipForce):
        line_load = part.force_n / part.contact_length_mm
        angle = radians(part.direction_deg)
        return _on_tip(line_load * cos(angle), line_load * sin(angle), part)
    return _on_tip(part.axial_n_per_mm, part.lateral_n_per_mm, part)


def tractions_of(load: Load, name: str, outline: Outline) -> Tractions:
    """Work out what a load case puts on an outline.

    Parameters
    ----------
    load : Load
    name : str
        How the load case is called.
    outline : Outline

    Returns
    -------
    Tractions
        ``limited_by`` and the contact length are those of the first part that has them;
        the shortest contact length counts.
    """
    acting = [_acting(part, outline) for part in parts_of(load)]
    lengths = [a.contact_length_mm for a in acting if a.contact_length_mm is not None]
    limits = [a.limited_by for a in acting if a.limited_by is not None]
    return Tractions(
        name=name,
        tip=tuple(part for a in acting for part in a.tip),
        faces=tuple(part for a in acting for part in a.faces),
        movement=next((a.movement for a in acting if a.movement is not None), None),
        limited_by=limits[0] if limits else None,
        contact_length_mm=min(lengths) if lengths else None,
        remarks=tuple(remark for a in acting for remark in a.remarks),
    )
