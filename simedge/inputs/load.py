"""What acts on the edge: from the work (a medium), by hand on a face, or on the tip."""

from __future__ import annotations

from difflib import get_close_matches
from typing import Annotated, Any, Literal, Self

from annotated_types import Ge, Le
from pydantic import AfterValidator, Discriminator, Tag, model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.medium import Medium, find_medium
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import (
    RECORD,
    DepthMm,
    ForceN,
    FrictionCoefficient,
    LengthMm,
    LineLoad,
    Movement,
    Number,
    PressureMpa,
)

#: Friction of a medium on steel where the load does not say (common practice, no source).
MEDIUM_FRICTION = 0.3
#: N/mm; less is no load.
SMALLEST_LINE_LOAD = 1e-9
Spread = Literal["smooth", "uniform", "rigid"]


def _known_medium(name: str) -> str:
    try:
        find_medium(name)
    except KeyError as error:
        raise FieldProblems(FieldProblem((), str(error.args[0]))) from None
    return name


KnownMedium = Annotated[str, AfterValidator(_known_medium)]


@dataclass(frozen=True, kw_only=True, config=RECORD)
class MediumLoad:
    """The work itself: a medium presses on the faces inside the cut, and on the tip.

    Attributes
    ----------
    name : str
    medium : str or None
        Of the library; or ``medium_strength_mpa``.
    depth_in_cut_mm : float
        From the foremost point of the apex.
    side : {"left", "right", "both"}
        The face that is pressed; both in a straight cut.
    level : {"low", "typical", "high"}
        Of the medium's strength.
    friction : float
        Shear over pressure on the faces, towards the spine.
    hand_force_n : float or None
        What the hand gives, straight or sideways; the data file's one hand.
    contact_length_mm : float or None
        Edge in contact; the medium's.
    """

    name: str = ""
    medium: KnownMedium | None = None
    medium_strength_mpa: PressureMpa | None = None
    depth_in_cut_mm: LengthMm
    side: Literal["left", "right", "both"]
    level: Literal["low", "typical", "high"] = "typical"
    friction: FrictionCoefficient = MEDIUM_FRICTION
    hand_force_n: ForceN | None = None
    contact_length_mm: LengthMm | None = None

    @model_validator(mode="after")
    def _complete(self) -> Self:
        problems = []
        if (self.medium is None) == (self.medium_strength_mpa is None):
            problems.append(
                FieldProblem(
                    ("medium",), "or medium_strength_mpa must be given, and only one of the two"
                )
            )
        if self.medium is None and self.contact_length_mm is None:
            problems.append(
                FieldProblem(
                    ("contact_length_mm",),
                    "is missing; a medium of your own needs the length of edge in contact",
                )
            )
        if problems:
            raise FieldProblems(*problems)
        return self

    @property
    def library_medium(self) -> Medium | None:
        """The library's entry, or None for a strength of one's own."""
        return None if self.medium is None else find_medium(self.medium)


@dataclass(frozen=True, kw_only=True, config=RECORD)
class FaceLoad:
    """Uniform pressure on a stretch of one face.

    Attributes
    ----------
    name : str
    at : {"left face", "right face"}
    from_mm, to_mm : float
        Depths x where the stretch begins and ends.
    pressure_mpa : float
    friction : float
        Shear over pressure, towards the spine.
    """

    name: str = ""
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


@dataclass(frozen=True, kw_only=True, config=RECORD)
class TipLineLoad:
    """A line load on the tip, by its components.

    Attributes
    ----------
    name : str
    axial_n_per_mm, lateral_n_per_mm : float
        Into the edge, and towards the left face (+y); not both 0.
    spread : {"smooth", "uniform", "rigid"}
        Over the tip's line: falling as cos^2 to its ends, constant, or so that the
        patch moves as one, as a hard object carries it.
    """

    name: str = ""
    axial_n_per_mm: LineLoad = 0.0
    lateral_n_per_mm: LineLoad = 0.0
    spread: Spread = "smooth"

    @model_validator(mode="after")
    def _not_nothing(self) -> Self:
        if max(abs(self.axial_n_per_mm), abs(self.lateral_n_per_mm)) < SMALLEST_LINE_LOAD:
            raise FieldProblems(
                FieldProblem(
                    ("axial_n_per_mm",),
                    f"is {self.axial_n_per_mm:g} N/mm and lateral_n_per_mm is "
                    f"{self.lateral_n_per_mm:g} N/mm, but without a load nothing can be said about "
                    "strength; give one of the two",
                )
            )
        return self


@dataclass(frozen=True, kw_only=True, config=RECORD)
class TipForce:
    """A force on the tip, spread evenly over a length of the edge.

    Attributes
    ----------
    name : str
    force_n : float
    contact_length_mm : float
        Length of edge that carries it.
    direction_deg : float
        0 straight into the edge, 90 towards +y (left), -90 towards the right.
    spread : {"smooth", "uniform", "rigid"}
    """

    name: str = ""
    force_n: ForceN
    contact_length_mm: LengthMm
    direction_deg: Annotated[Number, Ge(-180), Le(180)] = 0.0
    spread: Spread = "smooth"


@dataclass(frozen=True, kw_only=True, config=RECORD)
class TipMovement:
    """A distance by which something hard carries the tip; the force is the answer.

    Attributes
    ----------
    name : str
    apex_axial_mm, apex_lateral_mm : float or None
        Of the foremost point, or the land's middle: into the blade, towards the left
        face (+y). One that is not given moves freely; not both may be left out.
    contact_length_mm : float or None
        Length of edge that is carried, where known.
    """

    name: str = ""
    apex_axial_mm: Movement | None = None
    apex_lateral_mm: Movement | None = None
    contact_length_mm: LengthMm | None = None

    @model_validator(mode="after")
    def _moves(self) -> Self:
        if not self.apex_axial_mm and not self.apex_lateral_mm:
            raise FieldProblems(
                FieldProblem(
                    ("apex_lateral_mm",),
                    "is 0 mm or missing like apex_axial_mm, but without a movement nothing can be "
                    "said about strength; give one of the two",
                )
            )
        return self


TELLING_KEYS = (
    ("medium", {"medium", "medium_strength_mpa", "depth_in_cut_mm"}),
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
    parts : tuple
        At least one.
    """

    name: str = ""
    parts: tuple[Part, ...]

    @model_validator(mode="after")
    def _some_parts(self) -> Self:
        if not self.parts:
            raise FieldProblems(FieldProblem(("parts",), "is empty, but something must act"))
        return self


Load = Annotated[
    Annotated[CombinedLoad, Tag("parts")]
    | Annotated[MediumLoad, Tag("medium")]
    | Annotated[FaceLoad, Tag("face")]
    | Annotated[TipForce, Tag("force")]
    | Annotated[TipLineLoad, Tag("tip")]
    | Annotated[TipMovement, Tag("movement")],
    Discriminator(_kind_of_part),
]


def parts_of(load: Load) -> tuple[Part, ...]:
    """Give what acts at once in a load case, itself where it has no parts."""
    return load.parts if isinstance(load, CombinedLoad) else (load,)
