"""From a load in a person's words to tractions on the outline.

What media and hard objects press with is worked out in `simedge.section.media_loading`
and `simedge.section.object_loading`; here the parts of a load are put together.
"""

from __future__ import annotations

from math import cos, radians, sin

from simedge.inputs.load import (
    FaceLoad,
    LayeredLoad,
    Load,
    MediumLoad,
    ObjectLoad,
    Part,
    TipForce,
    TipLineLoad,
    parts_of,
)
from simedge.inputs.load import TipMovement as MovementLoad
from simedge.section.acting import Acting
from simedge.section.media_loading import media_acting
from simedge.section.object_loading import object_acting
from simedge.section.outline import Outline, Side
from simedge.section.tractions import FaceTraction, TipMovement, TipTraction, Tractions

PULLS = "the load pulls on the edge: nothing that is cut does that"


def _from_face(load: FaceLoad, outline: Outline) -> Acting:
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
    return Acting(faces=(traction,), remarks=remarks)


def _on_tip(axial: float, lateral: float, load: TipForce | TipLineLoad) -> Acting:
    remarks: tuple[str, ...] = ()
    if axial < 0:
        remarks = (PULLS,)
    tip = TipTraction(axial_n_per_mm=axial, lateral_n_per_mm=lateral, spread=load.spread)
    length = load.contact_length_mm if isinstance(load, TipForce) else None
    return Acting(tip=(tip,), contact_length_mm=length, remarks=remarks)


def _carried(load: MovementLoad) -> Acting:
    remarks: tuple[str, ...] = ()
    if load.apex_axial_mm is not None and load.apex_axial_mm < 0:
        remarks = (PULLS.replace("load", "movement"),)
    return Acting(
        movement=TipMovement(axial_mm=load.apex_axial_mm, lateral_mm=load.apex_lateral_mm),
        contact_length_mm=load.contact_length_mm,
        remarks=remarks,
    )


def _acting(part: Part, outline: Outline) -> Acting:
    if isinstance(part, MediumLoad | LayeredLoad):
        return media_acting(part, outline)
    if isinstance(part, ObjectLoad):
        return object_acting(part, outline)
    if isinstance(part, FaceLoad):
        return _from_face(part, outline)
    if isinstance(part, MovementLoad):
        return _carried(part)
    if isinstance(part, TipForce):
        line_load = part.force_n / part.contact_length_mm
        angle = radians(part.direction_deg)
        return _on_tip(line_load * cos(angle), line_load * sin(angle), part)
    return _on_tip(part.axial_n_per_mm, part.lateral_n_per_mm, part)


def _one_medium_on_tip(acting: list[Acting]) -> tuple[tuple[TipTraction, ...], tuple[str, ...]]:
    """Give all that bears on the tip; of several media only the hardest does."""
    media = [a.tip[0] for a in acting if a.medium_on_tip]
    hardest = max(media, key=lambda part: part.axial_n_per_mm, default=None)
    others = [part for a in acting if not a.medium_on_tip for part in a.tip]
    if hardest is None:
        return tuple(others), ()
    remarks: tuple[str, ...] = ()
    if len(media) > 1:
        name = "" if hardest.medium is None else f", {hardest.medium}"
        remarks = (
            f"{len(media)} parts of this load press with a medium: the tip is pressed once, by "
            f"the hardest{name}; each part has a hand of its own (several media under one hand "
            "are layers of one load)",
        )
    return (hardest, *others), remarks


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
        ``limited_by`` is that of the first part that has one; the shortest contact
        length and the hardest object count. Where several parts press with a medium,
        the tip is pressed by the hardest of them alone.
    """
    acting = [_acting(part, outline) for part in parts_of(load)]
    lengths = [a.contact_length_mm for a in acting if a.contact_length_mm is not None]
    limits = [a.limited_by for a in acting if a.limited_by is not None]
    objects = [a.object_pressure_mpa for a in acting if a.object_pressure_mpa is not None]
    tip, remarks = _one_medium_on_tip(acting)
    return Tractions(
        name=name,
        tip=tip,
        faces=tuple(part for a in acting for part in a.faces),
        movement=next((a.movement for a in acting if a.movement is not None), None),
        limited_by=limits[0] if limits else None,
        contact_length_mm=min(lengths) if lengths else None,
        object_pressure_mpa=max(objects, default=None),
        remarks=(*remarks, *(remark for a in acting for remark in a.remarks)),
    )
