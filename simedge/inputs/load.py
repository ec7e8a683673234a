"""What acts on the edge: one load, or several parts at once.

Loads of the work itself are in `simedge.inputs.work_loads`, those on the tip alone in
`simedge.inputs.tip_loads`.
"""

from __future__ import annotations

from difflib import get_close_matches
from typing import Annotated, Any, Literal, Self

from pydantic import Discriminator, Tag, model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import (
    RECORD,
    DepthMm,
    FrictionCoefficient,
    LengthMm,
    Occasional,
    PressureMpa,
)
from simedge.inputs.tip_loads import Spread, TipForce, TipLineLoad, TipMovement
from simedge.inputs.work_loads import LayeredLoad, MediumLoad, ObjectLoad

__all__ = [
    "CombinedLoad",
    "FaceLoad",
    "LayeredLoad",
    "Load",
    "MediumLoad",
    "ObjectLoad",
    "Part",
    "Spread",
    "TipForce",
    "TipLineLoad",
    "TipMovement",
    "depth_in_cut_mm",
    "parts_of",
]


@dataclass(frozen=True, kw_only=True, config=RECORD)
class FaceLoad:
    """Uniform pressure on a stretch of one face.

    Attributes
    ----------
    name : str
    occasional : bool
        Comes now and then, not with every cut.
    at : {"left face", "right face"}
    from_mm, to_mm : float
        Depths x where the stretch begins and ends.
    pressure_mpa : float
    friction : float
        Shear over pressure, towards the spine.
    """

    name: str = ""
    occasional: Occasional = False
    at: Literal["left face", "right face"]
    from_mm: DepthMm
    to_mm: LengthMm
    pressure_mpa: PressureMpa
    friction: FrictionCoefficient = 0.0

    @model_validator(mode="after")
    def _has_length(self) -> Self:
        if self.to_mm <= self.from_mm:
            raise FieldProblems(
                FieldProblem(
                    ("to_mm",),
                    f"is {self.to_mm:g} mm, but must be larger than from_mm = {self.from_mm:g} mm; "
                    "both count from the apex",
                )
            )
        return self


#: What makes a kind of load: the keys that only it has. The first that fits counts.
TELLING_KEYS = (
    ("layers", {"layers"}),
    ("medium", {"medium", "medium_strength_mpa", "depth_in_cut_mm"}),
    (
        "object",
        {"object", "object_strength_mpa", "entry_mm", "slant_deg", "pressure_over_strength"},
    ),
    ("face", {"at", "pressure_mpa", "from_mm", "to_mm"}),
    ("force", {"force_n", "direction_deg"}),
    ("tip", {"axial_n_per_mm", "lateral_n_per_mm"}),
    ("movement", {"apex_axial_mm", "apex_lateral_mm"}),
)


def _kind_of_part(value: Any) -> str | None:
    """Tell the kind of a load from the keys that only it has."""
    keys = set(value) if isinstance(value, dict) else set(getattr(value, "__dict__", ()))
    if not keys and not isinstance(value, dict):
        return None
    if "parts" in keys:
        return "parts"
    for kind, telling in TELLING_KEYS:
        if keys & telling:
            return kind
    # a misspelt telling key is told as what it was meant to be
    written = [key.lower() for key in keys if isinstance(key, str)]
    for kind, telling in TELLING_KEYS:
        if any(get_close_matches(key, telling, n=1, cutoff=0.8) for key in written):
            return kind
    return "medium"


Part = Annotated[
    Annotated[MediumLoad, Tag("medium")]
    | Annotated[LayeredLoad, Tag("layers")]
    | Annotated[ObjectLoad, Tag("object")]
    | Annotated[FaceLoad, Tag("face")]
    | Annotated[TipForce, Tag("force")]
    | Annotated[TipLineLoad, Tag("tip")]
    | Annotated[TipMovement, Tag("movement")],
    Discriminator(_kind_of_part),
]


@dataclass(frozen=True, kw_only=True, config=RECORD)
class CombinedLoad:
    """Several loads that act at once.

    Attributes
    ----------
    name : str
    occasional : bool
        Comes now and then, not with every cut.
    parts : tuple
        At least one; at most one of them a movement.
    """

    name: str = ""
    occasional: Occasional = False
    parts: tuple[Part, ...]

    @model_validator(mode="after")
    def _some_parts(self) -> Self:
        if not self.parts:
            raise FieldProblems(FieldProblem(("parts",), "is empty, but something must act"))
        moved = [n for n, part in enumerate(self.parts) if isinstance(part, TipMovement)]
        if len(moved) > 1:
            raise FieldProblems(
                FieldProblem(
                    ("parts", moved[1]),
                    f"carries the apex, but parts[{moved[0]}] does so already, and the apex can "
                    "only be in one place; put both components into one part",
                )
            )
        return self


Load = Annotated[
    Annotated[CombinedLoad, Tag("parts")]
    | Annotated[MediumLoad, Tag("medium")]
    | Annotated[LayeredLoad, Tag("layers")]
    | Annotated[ObjectLoad, Tag("object")]
    | Annotated[FaceLoad, Tag("face")]
    | Annotated[TipForce, Tag("force")]
    | Annotated[TipLineLoad, Tag("tip")]
    | Annotated[TipMovement, Tag("movement")],
    Discriminator(_kind_of_part),
]


def parts_of(load: Load) -> tuple[Part, ...]:
    """Give what acts at once in a load case, itself where it has no parts."""
    return load.parts if isinstance(load, CombinedLoad) else (load,)


def depth_in_cut_mm(load: Load) -> float:
    """Give how deep a load goes into what is cut; 0 where it only bears on the tip."""
    return max((_depth_mm(part) for part in parts_of(load)), default=0.0)


def _depth_mm(part: Part) -> float:
    if isinstance(part, MediumLoad):
        return part.depth_in_cut_mm
    if isinstance(part, LayeredLoad):
        return max(layer.to_mm for layer in part.layers)
    if isinstance(part, FaceLoad):
        return part.to_mm
    return part.entry_mm if isinstance(part, ObjectLoad) else 0.0
