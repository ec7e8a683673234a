"""A cross-section, however it was described: in the trade's words, or as a traced outline."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Discriminator, Tag

from simedge.inputs.profile import Profile
from simedge.inputs.traced import TracedProfile


def _kind(value: Any) -> str:
    traced = isinstance(value, TracedProfile) or (isinstance(value, dict) and "points_mm" in value)
    return "traced" if traced else "ground"


#: Whatever has a name, a source, an apex and faces.
CrossSection = Annotated[
    Annotated[Profile, Tag("ground")] | Annotated[TracedProfile, Tag("traced")],
    Discriminator(_kind),
]
