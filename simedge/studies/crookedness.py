"""The same work, done straighter or more crooked: from both faces alike to one face alone.

Crookedness runs from 0, straight, to 1, as crooked as it can be. A medium, or pressure on a
face: 0 presses both faces alike, 1 one face alone, each as far as the hand reaches, and between
them shares of both, so that the pressure on the first face stays. A force on the tip and a hard
object: the angle off the plane of the cut over 90 degrees, the force staying. What carries the
tip a distance counts as the force that it takes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import atan2, cos, degrees, hypot, radians, sin

from simedge.inputs.load import (
    FaceLoad,
    LayeredLoad,
    Load,
    MediumLoad,
    ObjectLoad,
    Part,
    TipForce,
    TipLineLoad,
    TipMovement,
    parts_of,
)
from simedge.section.asked_again import Work
from simedge.section.outline import Outline, Side
from simedge.section.tractions import Tractions, resultant_up_to

#: Degrees off straight at which a force on the tip, or a slant, is as crooked as it can be.
QUARTER_TURN_DEG = 90.0
#: Of the force: what differs by less is the same.
ALIKE = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSteered:
    """One part of a load, at any crookedness.

    Attributes
    ----------
    part : Part
        None that carries the tip a distance.
    side : {"left", "right"}
        The face that is pressed where it is crooked.
    own : float
        How crooked it is in the case.
    """

    part: Part
    side: Side
    own: float

    def at(self, crookedness: float) -> tuple[tuple[float, Load], ...]:
        """Give the weighted loads that it is then."""
        part, away = self.part, -1.0 if self.side == "left" else 1.0
        turned = away * QUARTER_TURN_DEG * crookedness
        if isinstance(part, TipForce):
            return ((1.0, replace(part, direction_deg=turned)),)
        if isinstance(part, ObjectLoad):
            return ((1.0, replace(part, slant_deg=turned)),)
        if isinstance(part, TipLineLoad):
            force, angle = hypot(part.axial_n_per_mm, part.lateral_n_per_mm), radians(turned)
            line = replace(
                part, axial_n_per_mm=force * cos(angle), lateral_n_per_mm=force * sin(angle)
            )
            return ((1.0, line),)
        if isinstance(part, MediumLoad | LayeredLoad):
            both, one = replace(part, side="both"), replace(part, side=self.side)
            return (1.0 - crookedness, both), (crookedness, one)
        assert isinstance(part, FaceLoad)
        other = replace(part, at="right face" if self.side == "left" else "left face")
        return (1.0, part), (1.0 - crookedness, other)


@dataclass(frozen=True, slots=True, kw_only=True)
class Steered:
    """A load at any crookedness.

    Attributes
    ----------
    name : str
    parts : tuple of PartSteered
        All become straighter together, in proportion.
    outline : Outline
    """

    name: str
    parts: tuple[PartSteered, ...]
    outline: Outline

    @property
    def own(self) -> float:
        """How crooked the load is in the case: its most crooked part."""
        return max(part.own for part in self.parts)

    @property
    def by_angle(self) -> bool:
        """Whether crookedness is an angle, not a share of one face."""
        return all(isinstance(p.part, TipForce | TipLineLoad | ObjectLoad) for p in self.parts)

    def work(self, crookedness: float) -> Work:
        """Give the work when it is so crooked."""
        own = self.own
        shares = [
            share
            for part in self.parts
            for share in part.at(crookedness * (part.own / own if own else 1.0))
        ]
        kept = tuple((weight, load) for weight, load in shares if weight > 0.0)
        return Work.mixed(kept, self.name, self.outline)


def steered(load: Load, acting: Tractions, outline: Outline, side: Side) -> Steered | str:
    """Take a load apart into what is straight and what is crooked of it.

    Parameters
    ----------
    load : Load
    acting : Tractions
        What it puts on the outline, all forces known.
    outline : Outline
    side : {"left", "right"}
        Face that is pressed where work that is straight becomes crooked.

    Returns
    -------
    Steered or str
        Or why it cannot be.
    """
    parts: list[PartSteered] = []
    for part in parts_of(load):
        found = _steered_part(_as_force(part, acting), side)
        if isinstance(found, str):
            return found
        if isinstance(found.part, FaceLoad):
            other: Side = "right" if found.side == "left" else "left"
            if outline.face_begins_mm(other) >= found.part.to_mm:
                return f"the {other} face begins behind the pressed stretch"
        parts.append(found)
    whole = Steered(name=acting.name, parts=tuple(parts), outline=outline)
    if not _same(whole.work(whole.own).tractions, acting, outline):
        return "its parts bear on the tip together, and cannot be mixed"
    return whole


def _as_force(part: Part, acting: Tractions) -> Part:
    """Take what carries the tip a distance as the force that it takes."""
    reaction = acting.reaction
    if not isinstance(part, TipMovement) or reaction is None:
        return part
    axial, lateral = reaction.axial_n_per_mm, reaction.lateral_n_per_mm
    if part.contact_length_mm is None:
        return TipLineLoad(axial_n_per_mm=axial, lateral_n_per_mm=lateral)
    return TipForce(
        force_n=hypot(axial, lateral) * part.contact_length_mm,
        contact_length_mm=part.contact_length_mm,
        direction_deg=degrees(atan2(lateral, axial)),
    )


def _steered_part(part: Part, side: Side) -> PartSteered | str:
    if isinstance(part, MediumLoad | LayeredLoad):
        if part.side == "both":
            return PartSteered(part=part, side=side, own=0.0)
        return PartSteered(part=part, side=part.side, own=1.0)
    if isinstance(part, FaceLoad):
        return PartSteered(part=part, side="left" if part.at == "left face" else "right", own=1.0)
    if isinstance(part, ObjectLoad):
        angle = part.slant_deg
    elif isinstance(part, TipForce):
        angle = part.direction_deg
    else:
        assert isinstance(part, TipLineLoad)
        angle = degrees(atan2(part.lateral_n_per_mm, part.axial_n_per_mm))
    own = abs(angle) / QUARTER_TURN_DEG
    if own > 1.0 + ALIKE:
        return "it pulls on the edge, which no hand steers straight"
    if angle:
        side = "right" if angle > 0.0 else "left"
    return PartSteered(part=part, side=side, own=min(own, 1.0))


def _same(made: Tractions, acting: Tractions, outline: Outline) -> bool:
    """Tell whether two loads put the same forces on an edge."""
    scale, off = 0.0, 0.0
    ends = [part.to_mm for part in (*made.faces, *acting.faces)]
    whole = [outline.face_begins_mm("left"), *ends, outline.depth_mm]
    for one, other in zip(
        _forces(made, outline, whole), _forces(acting, outline, whole), strict=True
    ):
        scale, off = max(scale, abs(one), abs(other)), max(off, abs(one - other))
    return off <= ALIKE * scale


def _forces(load: Tractions, outline: Outline, depths: list[float]) -> list[float]:
    sums = resultant_up_to(load, outline, depths)
    return [
        load.tip_axial_n_per_mm,
        load.tip_lateral_n_per_mm,
        *map(float, sums.axial_n_per_mm),
        *map(float, sums.lateral_n_per_mm),
    ]
