"""What is ground on a blade: its apex, its bevels and its primary grind."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from annotated_types import Ge, Gt, Le
from pydantic import Strict, model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import (
    RECORD,
    DegreesPerSide,
    DepthMm,
    Fraction,
    LengthMm,
    Number,
    OneSideDegrees,
)

#: Below this a radius, or a land, is a matter of single atoms.
SMALLEST_APEX_UM = 0.005
#: So is a bevel or a grind of less than this.
SHORTEST_MM = 5e-6
#: More is as good as flat.
LARGEST_WHEEL_MM = 5000.0


@dataclass(frozen=True, kw_only=True, config=RECORD)
class Apex:
    """The very tip of the edge; exactly one of the three is given.

    Attributes
    ----------
    radius_um : float or None
        Radius of a rounded apex, micrometres; both faces are tangent to it.
    land_um : float or None
        Width of a flat land, normal to the blade's mid-plane, micrometres.
    sharp : bool
        A mathematically sharp tip: its stress under a tip load is singular, so the
        peak is not reported.
    """

    radius_um: Annotated[Number, Ge(0), Le(5000)] | None = None
    land_um: Annotated[Number, Ge(0), Le(20000)] | None = None
    sharp: Annotated[bool, Strict()] = False

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = [key for key in ("radius_um", "land_um") if getattr(self, key) is not None]
        for key in given:
            if getattr(self, key) == 0.0:
                raise FieldProblems(
                    FieldProblem(
                        (key,),
                        "is 0 µm, but stress at a perfectly sharp tip has no finite value; "
                        "give a radius (a sharp knife has 0.3 to 0.5 µm), or sharp = true",
                    )
                )
            if getattr(self, key) < SMALLEST_APEX_UM:
                raise FieldProblems(
                    FieldProblem(
                        (key,),
                        f"is {getattr(self, key):g} µm, but below {SMALLEST_APEX_UM:g} µm there "
                        "are only a few atoms; sharp = true stands for a perfectly sharp tip",
                    )
                )
        if len(given) + self.sharp != 1:
            named = " and ".join([*given, *(["sharp"] if self.sharp else [])]) or "none of them"
            raise FieldProblems(
                FieldProblem((), f"needs exactly one of radius_um, land_um and sharp, got {named}")
            )
        return self


def _both_sides(record: Bevel | PrimaryGrind) -> tuple[float, float] | None:
    if record.dps is not None:
        return record.dps, record.dps
    if record.left_dps is not None and record.right_dps is not None:
        return record.left_dps, record.right_dps
    return None


def _angle_problems(record: Bevel | PrimaryGrind, required: bool) -> list[FieldProblem]:
    one_sided = [key for key in ("left_dps", "right_dps") if getattr(record, key) is not None]
    if record.dps is not None and one_sided:
        return [FieldProblem(("dps",), "is given beside left_dps or right_dps; give one kind")]
    if len(one_sided) == 1:
        other = "right_dps" if one_sided[0] == "left_dps" else "left_dps"
        return [FieldProblem((other,), f"is missing beside {one_sided[0]}; it may be 0")]
    if record.left_dps == 0.0 and record.right_dps == 0.0:
        return [FieldProblem(("left_dps",), "is 0 deg like right_dps, but that is not a wedge")]
    if required and record.dps is None and not one_sided:
        return [FieldProblem(("dps",), "is missing; give dps, or left_dps and right_dps")]
    return []


def _keys_of_kind(
    record: Bevel | PrimaryGrind,
    kinds_of_key: dict[str, tuple[str, ...]],
    needed: dict[str, str],
) -> list[FieldProblem]:
    """Find keys that do not belong to the kind of grind, and the one that is missing."""
    problems = [
        FieldProblem(
            (key,),
            f'is given, but belongs to kind = "{kinds[0]}", not to "{record.kind}"; leave it out '
            "or change the kind",
        )
        for key, kinds in kinds_of_key.items()
        if getattr(record, key) is not None and record.kind not in kinds
    ]
    key = needed.get(record.kind)
    if key is not None and getattr(record, key) is None:
        problems.append(FieldProblem((key,), f'is missing; kind = "{record.kind}" needs it'))
    return problems


@dataclass(frozen=True, kw_only=True, config=RECORD)
class Bevel:
    """A pair of faces ground towards the apex.

    Attributes
    ----------
    name : str
        How the person calls it: micro-bevel, edge bevel.
    dps : float or None
        Degrees per side, both sides equal, in (0, 45].
    left_dps, right_dps : float or None
        Degrees of each side instead, in [0, 45], not both 0.
    height_mm : float or None
        Its own extent along the blade; that of the first bevel counts from the
        foremost point of the apex. 0 is treated as no bevel.
    ends_at_thickness_mm : float or None
        Instead of the height: total thickness where it ends.
    kind : {"flat", "convex"}
        Hand sharpening rounds bevels. The angles are those of the chords.
    bulge_um : float or None
        Of a convex bevel: per side, distance of the arc from its chord, micrometres.
        A side of 0 degrees stays straight.
    """

    name: str = "bevel"
    dps: DegreesPerSide | None = None
    left_dps: OneSideDegrees | None = None
    right_dps: OneSideDegrees | None = None
    height_mm: DepthMm | None = None
    ends_at_thickness_mm: LengthMm | None = None
    kind: Literal["flat", "convex"] = "flat"
    bulge_um: Annotated[Number, Gt(0), Le(5000)] | None = None

    @model_validator(mode="after")
    def _complete(self) -> Self:
        problems = _angle_problems(self, required=True)
        problems += _keys_of_kind(self, {"bulge_um": ("convex",)}, {"convex": "bulge_um"})
        if (self.height_mm is None) == (self.ends_at_thickness_mm is None):
            problems.append(
                FieldProblem(
                    ("height_mm",), "or ends_at_thickness_mm must be given, one of the two"
                )
            )
        if problems:
            raise FieldProblems(*problems)
        return self

    @property
    def sides_deg(self) -> tuple[float, float]:
        """Angle of the left and of the right face from the mid-plane, degrees."""
        sides = _both_sides(self)
        assert sides is not None
        return sides


@dataclass(frozen=True, kw_only=True, config=RECORD)
class PrimaryGrind:
    """The grind from the last shoulder, or the apex, to the spine.

    Attributes
    ----------
    kind : {"flat", "hollow", "convex", "part-height"}
        Shape of its faces; part-height is flat up to the grind's height, with parallel
        sides behind it.
    dps, left_dps, right_dps : float or None
        Angles of its faces. With them one of the profile's ``height_mm`` and
        ``spine_thickness_mm`` is derived; without, they follow from those two.
    left_fraction : float or None
        Share of the left side in the thickness still to be gained between the last
        shoulder and the spine, 0 to 1; 0 leaves the left face straight.
    wheel_radius_mm : float or None
        Of a hollow grind: each face is an arc of that radius, hollow, through the last
        shoulder and the end of the grind. A side of 0 degrees stays straight.
    bulge_mm : float or None
        Of a convex grind: per side, distance of the arc from its chord, outward.
    grind_height_mm : float or None
        Of a hollow or part-height grind: where it ends, from the foremost point of the
        apex; the sides behind it are parallel, at spine thickness.
    """

    kind: Literal["flat", "hollow", "convex", "part-height"] = "flat"
    dps: DegreesPerSide | None = None
    left_dps: OneSideDegrees | None = None
    right_dps: OneSideDegrees | None = None
    left_fraction: Fraction | None = None
    wheel_radius_mm: Annotated[Number, Gt(0), Le(LARGEST_WHEEL_MM)] | None = None
    bulge_mm: Annotated[Number, Gt(0), Le(100)] | None = None
    grind_height_mm: LengthMm | None = None

    @model_validator(mode="after")
    def _complete(self) -> Self:
        problems = _angle_problems(self, required=False)
        problems += _keys_of_kind(
            self,
            {
                "wheel_radius_mm": ("hollow",),
                "bulge_mm": ("convex",),
                "grind_height_mm": ("hollow", "part-height"),
            },
            {
                "hollow": "wheel_radius_mm",
                "convex": "bulge_mm",
                "part-height": "grind_height_mm",
            },
        )
        if self.sides_deg is not None and self.left_fraction is not None:
            problems.append(
                FieldProblem(
                    ("left_fraction",), "is given beside the grind's angles; give one of the two"
                )
            )
        if problems:
            raise FieldProblems(*problems)
        return self

    @property
    def sides_deg(self) -> tuple[float, float] | None:
        """Angles of the left and right face, degrees, or None where they are derived."""
        return _both_sides(self)


@dataclass(frozen=True, kw_only=True, config=RECORD)
class BladeShape:
    """All that a profile says of its shape; see `simedge.inputs.profile.Profile`."""

    apex: Apex
    bevels: tuple[Bevel, ...]
    primary_grind: PrimaryGrind
    height_mm: LengthMm | None
    spine_thickness_mm: LengthMm | None
