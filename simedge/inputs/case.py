"""A complete run: a knife, its steel, how it is held, and the work."""

from __future__ import annotations

from typing import Annotated, Self

from annotated_types import Ge, Le
from pydantic import model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.cross_section import CrossSection
from simedge.inputs.faces import Faces, nearest_clamp_mm
from simedge.inputs.grinds import Apex
from simedge.inputs.key_paths import KeyPath
from simedge.inputs.load import (
    FaceLoad,
    LayeredLoad,
    Load,
    MediumLoad,
    ObjectLoad,
    Part,
    TipMovement,
    parts_of,
)
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import RECORD, SCHEMA, LengthMm, Number, SchemaVersion
from simedge.inputs.shown_values import one_line
from simedge.inputs.steel import Steel
from simedge.inputs.tolerated_damage import USUAL_DAMAGE_UM, ToleratedDamage


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
    tolerated_damage_um : float
        Depth of damage that nobody minds, 0.1 to 1000, or words for it.
    profile : Profile or TracedProfile
    steel : Steel
    support : Support
    loads : tuple
        Each entry is a load case of its own.
    """

    schema: SchemaVersion = SCHEMA
    title: str = "untitled"
    accuracy_percent: Annotated[Number, Ge(0.05), Le(10)] = 1.0
    tolerated_damage_um: ToleratedDamage = USUAL_DAMAGE_UM
    profile: CrossSection
    steel: Steel
    support: Support = Support()
    loads: tuple[Load, ...]

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        problems: list[FieldProblem] = []
        if not self.loads:
            problems.append(FieldProblem(("loads",), "is empty, but a run needs some work to do"))
        problems += self._names_that_do_not_differ()
        faces = self.profile.faces
        depth = self._support_depth(faces, problems)
        behind: list[tuple[str, FieldProblem]] = []
        for index, load in enumerate(self.loads):
            nested = hasattr(load, "parts")
            for number, part in enumerate(parts_of(load)):
                path = ("loads", index, *(("parts", number) if nested else ()))
                problems += _within_apex(part, path, self.profile.apex, faces)
                for end_path, end_mm in _ends(part, path):
                    told = _held_in_front(end_path, end_mm, depth)
                    if end_mm >= faces.height_mm:  # beyond any clamp
                        problems.append(told)
                    elif end_mm >= depth:
                        behind.append((f"{self.load_name(index)} reaches {end_mm:g} mm", told))
        if len(behind) == 1:
            problems.append(behind[0][1])
        elif behind:  # then it is the clamp that is misplaced, and it is told once
            reached = list(dict.fromkeys(words for words, _ in behind))
            problems.append(
                FieldProblem(
                    ("support", "clamp_depth_mm"),
                    f"is {depth:g} mm, but the work must stay in front of the clamp: "
                    f"{_few(reached)}; hold the blade farther behind the edge",
                )
            )
        if problems:
            raise FieldProblems(*problems)
        return self

    def _names_that_do_not_differ(self) -> list[FieldProblem]:
        """Find loads that files and tables could not tell apart."""
        problems, seen = [], dict[str, int]()
        for index, load in enumerate(self.loads):
            name = " ".join(self.load_name(index).split())
            if name in seen:
                problems.append(
                    FieldProblem(
                        ("loads", index, "name") if load.name else ("loads", seen[name], "name"),
                        f'is "{one_line(name, 40)}", but so is that of another load '
                        f"(number {(seen[name] if load.name else index) + 1}); answers are told "
                        "apart by their names: give each its own",
                    )
                )
            seen.setdefault(name, index)
        return problems

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
            return faces.height_mm  # what such a clamp would hold is not told besides
        return depth

    def load_name(self, index: int) -> str:
        """Give a load's name as one line that any terminal takes, or its number without one."""
        shown = "".join(c if c.isprintable() else " " for c in self.loads[index].name)
        return " ".join(shown.split()) or f"load {index + 1}"


def _few(told: list[str]) -> str:
    """Join what is told, the first three of it."""
    more = f" and {len(told) - 3} more" if len(told) > 3 else ""
    return f"{', '.join(told[:3])}{more}"


def _held_in_front(path: KeyPath, end_mm: float, depth_mm: float) -> FieldProblem:
    return FieldProblem(
        path,
        f"is {end_mm:g} mm, but the blade is held from {depth_mm:.4g} mm on; the work must stay "
        "in front of the clamp",
    )


def _ends(part: Part, path: KeyPath) -> list[tuple[KeyPath, float]]:
    """Give how deep a part presses, with the field that says so."""
    if isinstance(part, MediumLoad):
        return [((*path, "depth_in_cut_mm"), part.depth_in_cut_mm)]
    if isinstance(part, LayeredLoad):
        return [
            ((*path, "layers", number, "to_mm"), layer.to_mm)
            for number, layer in enumerate(part.layers)
        ]
    if isinstance(part, FaceLoad):
        return [((*path, "to_mm"), part.to_mm)]
    if isinstance(part, ObjectLoad):
        return [((*path, "entry_mm"), part.entry_mm)]
    return []


def _within_apex(part: Part, path: KeyPath, apex: Apex, faces: Faces) -> list[FieldProblem]:
    """Find a part that ends before its face begins, or carries a tip that has no size."""
    if isinstance(part, TipMovement):
        if not apex.sharp:
            return []
        key = "apex_lateral_mm" if part.apex_lateral_mm is not None else "apex_axial_mm"
        return [
            FieldProblem(
                (*path, key),
                f"is {getattr(part, key):g} mm, but the apex is perfectly sharp: a point is "
                "carried any distance by no force at all; give the apex its radius_um or land_um",
            )
        ]
    sides: tuple[str, ...]
    if isinstance(part, MediumLoad | LayeredLoad):
        sides = ("left", "right") if part.side == "both" else (part.side,)
    elif isinstance(part, FaceLoad):
        sides = (part.at.split()[0],)
    else:  # an object may have entered no deeper than the tip
        return []
    begins = max((faces.left_mm if side == "left" else faces.right_mm)[0][0] for side in sides)
    return [
        FieldProblem(
            end_path,
            f"is {end_mm:g} mm, but the face only begins {begins:.4g} mm behind the apex; "
            "go deeper",
        )
        for end_path, end_mm in _ends(part, path)
        if end_mm <= begins
    ]
