"""What bears on the tip alone: a line load, a force, or a distance that it is carried."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from annotated_types import Ge, Le
from pydantic import model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import (
    RECORD,
    ForceN,
    LengthMm,
    LineLoad,
    Movement,
    Number,
    Occasional,
)

#: N/mm; less is no load.
SMALLEST_LINE_LOAD = 1e-9
Spread = Literal["smooth", "uniform", "rigid"]


@dataclass(frozen=True, kw_only=True, config=RECORD)
class TipLineLoad:
    """A line load on the tip, by its components.

    Attributes
    ----------
    name : str
    occasional : bool
        Comes now and then, not with every cut.
    axial_n_per_mm, lateral_n_per_mm : float
        Into the edge, and towards the left face (+y); not both 0.
    spread : {"smooth", "uniform", "rigid"}
        Over the tip's line: falling as cos^2 to its ends, constant, or so that the
        patch moves as one, as a hard object carries it.
    """

    name: str = ""
    occasional: Occasional = False
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
    occasional : bool
        Comes now and then, not with every cut.
    force_n : float
    contact_length_mm : float
        Length of edge that carries it.
    direction_deg : float
        0 straight into the edge, 90 towards +y (left), -90 towards the right.
    spread : {"smooth", "uniform", "rigid"}
    """

    name: str = ""
    occasional: Occasional = False
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
    occasional : bool
        Comes now and then, not with every cut.
    apex_axial_mm, apex_lateral_mm : float or None
        Of the foremost point, or the land's middle, in all: into the blade, towards the
        left face (+y). One that is not given moves freely; not both may be left out.
    contact_length_mm : float or None
        Length of edge that is carried, where known.
    """

    name: str = ""
    occasional: Occasional = False
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
