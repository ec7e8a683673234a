"""Where each blade is held and pushed, checked before anything is solved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from simedge.errors import BadInput, Problem
from simedge.inputs.cross_section import CrossSection
from simedge.inputs.faces import nearest_clamp_mm
from simedge.inputs.shown_values import one_line
from simedge.section.element_sizes import MOST_TRIANGLES
from simedge.section.outline import Outline, build_outline
from simedge.section.tractions import Tractions
from simedge.strength.zones import trusted_depth_mm
from simedge.studies.sideways_push import (
    apex_push,
    pushable_range_mm,
    sideways_push,
    triangles_for,
)

#: Depths that are asked about where nobody says, as far as the blade goes.
USUAL_DEPTHS_MM = (0.5, 1.0, 2.0, 5.0)
MOST_DEPTHS = 12
#: The finer mesh of the two that are solved on: stresses to about so many percent.
ACCURACY_PERCENT = 3.0
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class PushPlan:
    """Where one blade is pushed, as it is held.

    Attributes
    ----------
    name : str
    profile : Profile or TracedProfile
    outline : Outline
    pushes : tuple of Tractions
        On the apex, then at the depths.
    depths_mm : tuple of float
        Of the pushes, 0 for the apex.
    """

    name: str
    profile: CrossSection
    outline: Outline
    pushes: tuple[Tractions, ...]
    depths_mm: tuple[float, ...]


def plan_pushes(
    profiles: Sequence[CrossSection],
    held_at_mm: float | None = None,
    at_mm: Sequence[float] | None = None,
) -> tuple[PushPlan, ...]:
    """Check all that `stiffness_of` is asked, in milliseconds, and say what it will push.

    Raises
    ------
    BadInput
        As `stiffness_of` does.
    """
    outlines = _held_outlines(profiles, held_at_mm)
    names = distinct_names(profiles)
    if at_mm is not None:
        _check_depths(_in_order(at_mm), names, outlines)
    plans, problems = [], []
    for name, profile, outline in zip(names, profiles, outlines, strict=True):
        depths = _usual_depths_mm(outline) if at_mm is None else _in_order(at_mm)
        pushes = (apex_push(outline), *(sideways_push(outline, depth) for depth in depths))
        wanted = triangles_for(outline, pushes, ACCURACY_PERCENT)
        if wanted > MOST_TRIANGLES:
            message = (
                f"held_at_mm is {outline.depth_mm:.4g} mm, but so long and slim a section would "
                f"take about {wanted:,} triangles and at most {MOST_TRIANGLES:,} are made; hold it "
                "nearer to the edge"
            )
            problems.append(Problem(name, message))
        plans.append(
            PushPlan(
                name=name,
                profile=profile,
                outline=outline,
                pushes=pushes,
                depths_mm=(0.0, *depths),
            )
        )
    if problems:
        raise BadInput(*problems)
    return tuple(plans)


def distinct_names(profiles: Sequence[CrossSection]) -> tuple[str, ...]:
    """Give the profiles' names, numbered where several have the same."""
    names: list[str] = []
    for profile in profiles:
        name = one_line(profile.name, LONGEST_NAME) or "unnamed knife"
        same = sum(other.name == profile.name for other in profiles[: len(names)])
        names.append(f"{name} ({same + 1})" if same else name)
    return tuple(names)


def _held_outlines(profiles: Sequence[CrossSection], held_at_mm: float | None) -> list[Outline]:
    """Build the outlines, each down to where it is held."""
    if not profiles:
        raise BadInput(Problem("", "profiles is empty, but needs at least one; give a profile"))
    problems, outlines = [], []
    for name, profile in zip(distinct_names(profiles), profiles, strict=True):
        faces = profile.faces
        nearest, spine = nearest_clamp_mm(faces), faces.height_mm
        held = spine if held_at_mm is None else held_at_mm
        if nearest <= held <= spine * (1.0 + 1e-12):
            outlines.append(build_outline(profile.apex, faces, held))
            continue
        message = (
            f"held_at_mm is {held:g} mm, but must lie behind the apex ({nearest:.4g} mm or more) "
            f"and not beyond the spine ({spine:.4g} mm); choose a depth that all the blades have"
        )
        problems.append(Problem(name, message))
    if problems:
        raise BadInput(*problems)
    return outlines


def _in_order(depths_mm: Sequence[float]) -> tuple[float, ...]:
    """Give depths once each, the least first and what is no number last."""
    return tuple(sorted(set(depths_mm), key=lambda depth: (not isfinite(depth), depth)))


def _usual_depths_mm(outline: Outline) -> tuple[float, ...]:
    least, most = pushable_range_mm(outline)
    most = min(most, trusted_depth_mm(outline))
    return tuple(depth for depth in USUAL_DEPTHS_MM if least <= depth <= most)


def _check_depths(
    depths_mm: Sequence[float], names: Sequence[str], outlines: Sequence[Outline]
) -> None:
    """Refuse places that a blade does not have, and too many of them."""
    if len(depths_mm) > MOST_DEPTHS:
        message = f"at_mm has {len(depths_mm)} depths, but must have {MOST_DEPTHS} at most"
        raise BadInput(Problem("", f"{message}; ask again for the others"))
    problems = []
    for name, outline in zip(names, outlines, strict=True):
        least, most = pushable_range_mm(outline)
        for depth in depths_mm:
            if isfinite(depth) and least <= depth <= most:
                continue
            message = (
                f"at_mm is {depth:g} mm, but must lie between {least:.3g} mm, behind the apex, and "
                f"{most:.4g} mm, in front of where the blade is held ({outline.depth_mm:.4g} mm); "
                "choose a depth that all the blades have"
            )
            problems.append(Problem(name, message))
    if problems:
        raise BadInput(*problems)
