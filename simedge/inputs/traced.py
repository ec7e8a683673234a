"""A cross-section that was traced: photographed or measured, and written down as points."""

from __future__ import annotations

from typing import Annotated, Self

from annotated_types import Ge, Le
from pydantic import model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.faces import Faces
from simedge.inputs.grinds import Apex
from simedge.inputs.quantities import RECORD, Number
from simedge.inputs.traced_faces import traced_section


@dataclass(frozen=True, kw_only=True, config=RECORD)
class TracedProfile:
    """A blade's cross-section as the points of its outline.

    It serves wherever a `simedge.inputs.profile.Profile` does.

    Attributes
    ----------
    points_mm : tuple of (float, float)
        Around the section, either way, from any point; the last may repeat the first. Best
        with x from the edge into the blade and +y the left face; other drawings are turned.
    rounding_mm : float
        Half of the last digit that the points were written with: within it they lie on
        lines and arcs.
    given_apex : Apex or None
        Put on the trace in place of its own tip: calipers and photographs see no radius of
        1 µm.
    name, source : str
        What it is and where its points come from.
    reading : tuple of str
        How its file was read.

    Notes
    -----
    Five or more points on one circle in a row are taken as its arc; so are the points at
    the tip. Between others the face is straight.
    """

    points_mm: tuple[tuple[Number, Number], ...]
    rounding_mm: Annotated[Number, Ge(0), Le(1)] = 0.0
    given_apex: Apex | None = None
    name: str = "traced knife"
    source: str = "not said"
    reading: tuple[str, ...] = ()

    @model_validator(mode="after")
    def _determined(self) -> Self:
        _ = self.faces  # refuses points that make no blade
        return self

    @property
    def apex(self) -> Apex:
        """The one given, or what the foremost points make."""
        return traced_section(self.points_mm, self.rounding_mm, self.given_apex).apex

    @property
    def faces(self) -> Faces:
        """Both faces, apex to spine, read off the points."""
        section = traced_section(self.points_mm, self.rounding_mm, self.given_apex)
        if not self.reading:
            return section.faces
        return Faces(
            names=section.faces.names,
            fields=section.faces.fields,
            sides_deg=section.faces.sides_deg,
            left=section.faces.left,
            right=section.faces.right,
            remarks=(*self.reading, *section.faces.remarks),
        )
