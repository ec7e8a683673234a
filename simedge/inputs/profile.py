"""The cross-section of a blade, in the words of the trade."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.faces import Faces, derive_faces
from simedge.inputs.grinds import Apex, Bevel, BladeShape, PrimaryGrind
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import RECORD, SCHEMA, LengthMm, SchemaVersion


@dataclass(frozen=True, kw_only=True, config=RECORD)
class Profile:
    """A blade's cross-section as a person writes it down.

    Attributes
    ----------
    schema : int
        Version of the file's contract.
    name, source : str
        What it is and where its numbers come from.
    height_mm : float or None
        Foremost point of the apex to the spine.
    spine_thickness_mm : float or None
        Total thickness at the spine.
    apex : Apex
    bevels : tuple of Bevel
        From the apex towards the spine; may be empty.
    primary_grind : PrimaryGrind
    """

    schema: SchemaVersion = SCHEMA
    name: str = "unnamed knife"
    source: str = "not said"
    height_mm: LengthMm | None = None
    spine_thickness_mm: LengthMm | None = None
    apex: Apex
    bevels: tuple[Bevel, ...] = ()
    primary_grind: PrimaryGrind

    @model_validator(mode="after")
    def _determined(self) -> Self:
        sizes = [k for k in ("height_mm", "spine_thickness_mm") if getattr(self, k) is not None]
        if self.primary_grind.sides_deg is None:
            missing = [k for k in ("height_mm", "spine_thickness_mm") if k not in sizes]
            if missing:
                raise FieldProblems(
                    *(
                        FieldProblem((k,), "is missing; without it the grind needs its dps")
                        for k in missing
                    )
                )
        elif not sizes:
            raise FieldProblems(
                FieldProblem(("height_mm",), "is missing; give it, or spine_thickness_mm")
            )
        elif len(sizes) == 2:
            raise FieldProblems(
                FieldProblem(
                    ("primary_grind", "dps"),
                    "is given beside height_mm and spine_thickness_mm, but two of the three "
                    "settle the third; leave one out",
                )
            )
        _ = self.faces  # refuses numbers that make no blade
        return self

    @property
    def faces(self) -> Faces:
        """Both faces, apex to spine, worked out from the numbers."""
        return derive_faces(
            BladeShape(
                apex=self.apex,
                bevels=self.bevels,
                primary_grind=self.primary_grind,
                height_mm=self.height_mm,
                spine_thickness_mm=self.spine_thickness_mm,
            )
        )
