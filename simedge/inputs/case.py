"""A complete run: a knife, its steel, how it is held, and the work."""

from __future__ import annotations

from typing import Annotated, Self

from annotated_types import Ge, Le
from pydantic import model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.faces import Faces, nearest_clamp_mm
from simedge.inputs.load import FaceLoad, Load, MediumLoad, Part, parts_of
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.profile import Profile
from simedge.inputs.quantities import RECORD, SCHEMA, LengthMm, Number, SchemaVersion
from simedge.inputs.steel import Steel


@dataclass(frozen=True, kw_only=True, config=RECORD)
class Support:
    """Where the blade is held.

    Attributes
    ----------
    clamp_depth_mm : float or None
        Fully fixed from this depth on; None stands for the spine.
    """

    clamp_depth_mm: LengthMm | None = None


@dataclass(frozen=True, kw_only=True, config=RECORD)
class Case:
    """One knife in one steel under one or more loads.

    Attributes
    ----------
    schema : int
        Version of the file's contract.
    title : str
    accuracy_percent : float
        Error of the section's peak stresses that is aimed at, 0.05 to 10.
    profile : Profile
    steel : Steel
    support : Support
    loads : tuple
        Each entry is a load case of its own.
    """

    schema: SchemaVersion = SCHEMA
    title: str = "untitled"
    accuracy_percent: Annotated[Number, Ge(0.05), Le(10)] = 1.0
    profile: Profile
    steel: Steel
    support: Support = Support()
    loads: tuple[Load, ...]

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        problems: list[FieldProblem] = []
        if not self.loads:
            problems.append(FieldProblem(("loads",), "is empty, but a run needs some work to do"))
        faces = self.profile.faces
        depth = self._support_depth(faces, problems)
        for index, load in enumerate(self.loads):
            nested = hasattr(load, "parts")
            for number, part in enumerate(parts_of(load)):
                path = ("loads", index, *(("parts", number) if nested else ()))
                problems += _misplaced(part, path, faces, depth)
        if problems:
            raise FieldProblems(*problems)
        return self

    def _support_depth(self, faces: Faces, problems: list[FieldProblem]) -> float:
        begins = nearest_clamp_mm(faces)
        depth = self.support.clamp_depth_mm
        if depth is None:
            return faces.height_mm
        if not begins <= depth <= faces.height_mm * (1.0 + 1e-12):
            problems.append(
                FieldProblem(
                    ("support", "clamp_depth_mm"),
                    f"is {depth:g} mm, but must lie behind the apex ({begins:.4g} mm or more) "
                    f"and not beyond the spine ({faces.height_mm:.4g} mm)",
                )
            )
        return depth

    def load_name(self, index: int) -> str:
        """Give a load's name, or its number where it has none."""
        return self.loads[index].name or f"load {index + 1}"


def _misplaced(
    part: Part,
    path: tuple[str | int, ...],
    faces: Faces,
    depth_mm: float,
) -> list[FieldProblem]:
    """Find a part that presses outside of the free blade."""
    sides: tuple[str, ...]
    if isinstance(part, MediumLoad):
        key, end = "depth_in_cut_mm", part.depth_in_cut_mm
        sides = ("left", "right") if part.side == "both" else (part.side,)
    elif isinstance(part, FaceLoad):
        key, end = "to_mm", part.to_mm
        sides = (part.at.split()[0],)
    else:
        return []
    begins = max((faces.left_mm if side == "left" else faces.right_mm)[0][0] for side in sides)
    if end <= begins:
        return [
            FieldProblem(
                (*path, key),
                f"is {end:g} mm, but the face only begins {begins:.4g} mm behind the apex; "
                "go deeper",
            )
        ]
    if end >= depth_mm:
        return [
            FieldProblem(
                (*path, key),
                f"is {end:g} mm, but the blade is held from {depth_mm:.4g} mm on; the work must "
                "stay in front of the clamp",
            )
        ]
    return []
