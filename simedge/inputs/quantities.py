"""Number types of the inputs: plain finite numbers, never coerced from text or booleans."""

from __future__ import annotations

from importlib import metadata
from typing import Annotated

from annotated_types import Ge, Gt, Le
from pydantic import AfterValidator, AllowInfNan, ConfigDict, Strict

from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.shown_values import shown_value

#: Frozen records that refuse keys they do not know.
RECORD = ConfigDict(extra="forbid")

Number = Annotated[float, Strict(), AllowInfNan(False)]

#: A whole blade is shorter than a metre from edge to spine.
LengthMm = Annotated[Number, Gt(0), Le(1000)]
DepthMm = Annotated[Number, Ge(0), Le(1000)]
#: Half of the included angle where both sides are equal, else the angle of one side.
DegreesPerSide = Annotated[Number, Gt(0), Le(45)]
OneSideDegrees = Annotated[Number, Ge(0), Le(45)]
Fraction = Annotated[Number, Ge(0), Le(1)]
FrictionCoefficient = Annotated[Number, Ge(0), Le(2)]
PressureMpa = Annotated[Number, Ge(1e-6), Le(20000)]
ForceN = Annotated[Number, Ge(1e-6), Le(100000)]
Movement = Annotated[Number, Ge(-100), Le(100)]
LineLoad = Annotated[Number, Ge(-100000), Le(100000)]

#: Whether a load comes now and then, not with every cut.
Occasional = Annotated[bool, Strict()]

#: Version of the contract of files that this simedge reads.
SCHEMA = 1


def _known_schema(version: int) -> int:
    if version > SCHEMA:
        ours = f"simedge {metadata.version('simedge')} reads schema {SCHEMA}"
        rule = f"{ours}; it needs a newer simedge, install one"
    else:  # there is no older one that could be brought up to date
        rule = f"the first schema is {SCHEMA}; write schema = {SCHEMA}"
    if version != SCHEMA:
        raise FieldProblems(FieldProblem((), f"is {shown_value(version)}, but {rule}"))
    return version


SchemaVersion = Annotated[int, Strict(), AfterValidator(_known_schema)]
