"""The same knife ground otherwise: another edge angle, thickness, primary grind, micro-bevel.

Angles are told as those of the steeper side; a one-sided edge stays one-sided.
"""

from __future__ import annotations

from dataclasses import replace

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.cross_section import CrossSection
from simedge.inputs.grinds import Bevel, PrimaryGrind
from simedge.inputs.profile import Profile
from simedge.inputs.variants import varied

#: What a micro-bevel is called, by us and by whoever writes a profile.
MICRO = "micro-bevel"
EDGE = "edge bevel"


def ground_profile(section: CrossSection) -> Profile:
    """Give a profile that can be ground otherwise; a traced outline has no angles to change."""
    if isinstance(section, Profile):
        return section
    raise BadInput(
        Problem(
            "profile",
            f"{section.name} is a traced outline, which has no angles to change; write it as "
            "bevels and a primary grind (simedge profile tells its numbers)",
        )
    )


def has_micro_bevel(profile: Profile) -> bool:
    """Tell whether the first of several bevels is called a micro-bevel."""
    return len(profile.bevels) > 1 and "micro" in profile.bevels[0].name.lower()


def without_micro_bevel(profile: Profile) -> Profile:
    """Leave a knife's own micro-bevel off, if it has one."""
    if not has_micro_bevel(profile):
        return profile
    return varied(_kept_behind_edge(profile), bevels=_kept_behind_edge(profile).bevels[1:])


def edge_sides_deg(profile: Profile) -> tuple[float, float]:
    """Give left and right angle of the edge: of the last bevel, or of a wedge without any."""
    return profile.faces.sides_deg[max(len(profile.bevels) - 1, 0)]


def edge_dps(profile: Profile) -> float:
    """Give the angle of the edge's steeper side, degrees."""
    return max(edge_sides_deg(profile))


def thickness_behind_edge_mm(profile: Profile) -> float | None:
    """Give the width at the edge bevel's shoulder; None where there is no bevel."""
    if not profile.bevels:
        return None
    faces, last = profile.faces, len(profile.bevels)
    return faces.left_mm[last][1] - faces.right_mm[last][1]


def with_micro_bevel(profile: Profile, dps: float, height_mm: float) -> Profile:
    """Put a micro-bevel in front of a knife that has none.

    Parameters
    ----------
    profile : Profile
    dps : float
        Degrees of the steeper side; a side that is not ground stays so.
    height_mm : float
        Along the blade, from the foremost point.
    """
    kept = _kept_behind_edge(profile)
    left, right = edge_sides_deg(profile)
    more = dps - max(left, right)
    sides = [side + more * (side > 0.0) for side in (left, right)]
    front = varied(Bevel(name=MICRO, dps=dps, height_mm=height_mm), **_angles(*sides))
    return varied(kept, bevels=(front, *kept.bevels))


def with_edge_dps(profile: Profile, dps: float) -> Profile:
    """Grind the edge to another angle, the thickness behind it kept."""
    left, right = edge_sides_deg(profile)
    share = dps / max(left, right)
    angles = _angles(left * share, right * share)
    kept = _kept_behind_edge(profile)
    if not kept.bevels:  # a wedge from edge to spine: its height is kept, its spine follows
        grind = varied(PrimaryGrind(), **angles)
        height = profile.faces.height_mm
        return varied(kept, primary_grind=grind, height_mm=height, spine_thickness_mm=None)
    *fronts, edge = kept.bevels
    return varied(kept, bevels=(*fronts, varied(edge, **angles)))


def with_thickness_behind_edge(profile: Profile, thickness_mm: float) -> Profile:
    """Grind the blade thinner or thicker behind the edge, the edge's angle kept."""
    *fronts, edge = profile.bevels
    changed = varied(edge, height_mm=None, ends_at_thickness_mm=thickness_mm)
    return varied(profile, bevels=(*fronts, changed))


def with_spine(profile: Profile, thickness_mm: float) -> Profile:
    """Grind the primary from a spine of another thickness, all in front of it kept."""
    kept = _kept_behind_edge(profile)
    grind = varied(kept.primary_grind, dps=None, left_dps=None, right_dps=None)
    return varied(
        kept,
        primary_grind=grind,
        height_mm=profile.faces.height_mm,
        spine_thickness_mm=thickness_mm,
    )


def with_profile(case: Case, profile: Profile) -> Case:
    """Ask the case of another knife."""
    return varied(case, profile=profile)


def _angles(left_dps: float, right_dps: float) -> dict[str, float | None]:
    """Give both sides' angles as a bevel's fields."""
    if left_dps == right_dps:
        return {"dps": left_dps, "left_dps": None, "right_dps": None}
    return {"dps": None, "left_dps": left_dps, "right_dps": right_dps}


def _kept_behind_edge(profile: Profile) -> Profile:
    """Write a knife so that its thickness behind the edge stays when something else changes."""
    thickness = thickness_behind_edge_mm(profile)
    if thickness is None or profile.bevels[-1].ends_at_thickness_mm is not None:
        return profile
    *fronts, edge = profile.bevels
    kept = replace(edge, height_mm=None, ends_at_thickness_mm=thickness)
    return varied(profile, bevels=(*fronts, kept))
