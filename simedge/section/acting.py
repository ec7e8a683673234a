"""What one part of a load puts on the outline, before the parts are put together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from simedge.section.tractions import FaceTraction, TipMovement, TipTraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Acting:
    """What one part of a load puts on the outline.

    Attributes
    ----------
    tip, faces, movement, limited_by, contact_length_mm, remarks
        As of `simedge.section.tractions.Tractions`.
    medium_on_tip : bool
        The tip's load is that of a medium, of which a cut has only one there.
    object_pressure_mpa : float or None
        With what a hard object presses.
    """

    tip: tuple[TipTraction, ...] = ()
    faces: tuple[FaceTraction, ...] = ()
    movement: TipMovement | None = None
    limited_by: Literal["hand", "medium"] | None = None
    contact_length_mm: float | None = None
    remarks: tuple[str, ...] = ()
    medium_on_tip: bool = False
    object_pressure_mpa: float | None = None
