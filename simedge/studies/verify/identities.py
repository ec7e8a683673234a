"""What must not change the answer, or must change it in a known way, through the real pipeline.

On one mesh the equations themselves say it: elasticity is linear, knows no left and right, no
direction in space and no length of its own. These need no source.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import cos, sin

import numpy as np

from simedge.fem.elastic import displace, hold_section
from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.load import CombinedLoad, FaceLoad, Load, TipLineLoad
from simedge.inputs.profile import Profile
from simedge.section.outline import Floats
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.solved import STEEL, SolvedSection, solve_section

IDENTITY = "identity, needs no source"
#: Rounding, amplified by how much farther a slim tip moves than it strains.
ROUNDING = 1e-9
ROUNDING_REASON = (
    "Only rounding: 1e-16, amplified a million times by how much farther a slim tip moves than it "
    "strains."
)
CLAMP_MM = 12.0
#: How far the section is turned as a whole, a direction like no other.
TURN_RAD = 0.7


def crooked_profile(*, mirrored: bool = False, scale: float = 1.0) -> Profile:
    """Give an edge with everything unequal: a micro-bevel, an edge bevel, a shared primary."""

    def bevel(name: str, left: float, right: float, height: float) -> Bevel:
        sides = (right, left) if mirrored else (left, right)
        return Bevel(name=name, left_dps=sides[0], right_dps=sides[1], height_mm=scale * height)

    return Profile(
        apex=Apex(radius_um=scale * 1.5),
        height_mm=scale * 28.0,
        spine_thickness_mm=scale * 3.2,
        bevels=(bevel("micro-bevel", 16.0, 13.0, 0.08), bevel("edge bevel", 9.0, 12.0, 0.9)),
        primary_grind=PrimaryGrind(left_fraction=0.6 if mirrored else 0.4),
    )


def crooked_loads(*, mirrored: bool = False, scale: float = 1.0) -> tuple[Load, ...]:
    """Give tip and face loads, and one that combines 2 of the first with 3 of the second."""
    turn = -1.0 if mirrored else 1.0

    def tip(times: float) -> TipLineLoad:
        return TipLineLoad(
            axial_n_per_mm=times * scale * 3.0, lateral_n_per_mm=times * scale * turn * 1.0
        )

    def face(times: float) -> FaceLoad:
        return FaceLoad(
            at="right face" if mirrored else "left face",
            from_mm=scale * 0.02,
            to_mm=scale * 1.5,
            pressure_mpa=times * 40.0,
            friction=0.3,
        )

    return tip(1.0), face(1.0), CombinedLoad(parts=(tip(2.0), face(3.0)))


@lru_cache(maxsize=1)
def crooked_section() -> SolvedSection:
    """Solve the crooked edge under its loads."""
    return solve_section(crooked_profile(), crooked_loads(), clamp_depth_mm=CLAMP_MM)


def mirrored_section() -> SolvedSection:
    """Solve the mirror image of the crooked edge on the mirrored mesh."""
    mesh = crooked_section().mesh
    boundary = {
        **mesh.boundary,
        "left": mesh.boundary["right"],
        "right": mesh.boundary["left"],
    }
    mirrored = replace(
        mesh,
        points_mm=mesh.points_mm * np.array([[1.0], [-1.0]]),
        triangles=mesh.triangles[[0, 2, 1, 5, 4, 3]],  # keeps the corners counter-clockwise
        boundary=boundary,
    )
    return solve_section(
        crooked_profile(mirrored=True),
        crooked_loads(mirrored=True),
        clamp_depth_mm=CLAMP_MM,
        mesh=mirrored,
    )


def scaled_section() -> SolvedSection:
    """Solve the crooked edge with all lengths, and so all line loads, ten times as large."""
    mesh = crooked_section().mesh
    return solve_section(
        crooked_profile(scale=10.0),
        crooked_loads(scale=10.0),
        clamp_depth_mm=10.0 * CLAMP_MM,
        mesh=replace(mesh, points_mm=10.0 * mesh.points_mm),
    )


def largest_difference(found: Floats, expected: Floats) -> float:
    """Give the largest difference over the largest value."""
    return float(np.abs(found - expected).max() / np.abs(expected).max())


def _nothing(what: str, share: float) -> Comparison:
    return Comparison(
        what=f"{what}: largest difference over the largest value",
        computed=share,
        reference=0.0,
        unit="",
        tolerance=ROUNDING,
        absolute=True,
    )


def _linear() -> tuple[Comparison, ...]:
    solved = crooked_section()
    first, second, both = (field.stress_mpa for field in solved.fields)
    moved = solved.displacement.at_points_mm
    return (
        _nothing("stress", largest_difference(2.0 * first + 3.0 * second, both)),
        _nothing("movement", largest_difference(2.0 * moved[0] + 3.0 * moved[1], moved[2])),
    )


def _mirrored() -> tuple[Comparison, ...]:
    solved, other = crooked_section(), mirrored_section()
    flip = np.array([[1.0], [-1.0]])
    signs = np.array([[1.0], [1.0], [-1.0], [1.0]])
    moved = other.displacement.at_points_mm * flip
    stress = [
        largest_difference(found.stress_mpa * signs, field.stress_mpa)
        for found, field in zip(other.fields, solved.fields, strict=True)
    ]
    return (
        _nothing("stress", max(stress)),
        _nothing("movement", largest_difference(moved, solved.displacement.at_points_mm)),
    )


def _scaled() -> tuple[Comparison, ...]:
    solved, other = crooked_section(), scaled_section()
    stress = [
        largest_difference(found.stress_mpa, field.stress_mpa)
        for found, field in zip(other.fields, solved.fields, strict=True)
    ]
    moved = other.displacement.at_points_mm / 10.0
    return (
        _nothing("stress", max(stress)),
        _nothing("movement over ten", largest_difference(moved, solved.displacement.at_points_mm)),
    )


def _turned() -> tuple[Comparison, ...]:
    solved = crooked_section()
    cosine, sine = cos(TURN_RAD), sin(TURN_RAD)
    turn = np.array([[cosine, -sine], [sine, cosine]])
    mesh = replace(solved.mesh, points_mm=turn @ solved.mesh.points_mm)
    moved = displace(hold_section(mesh, STEEL), [turn @ force for force in solved.forces])
    expected = turn @ solved.displacement.at_points_mm
    return (_nothing("movement", largest_difference(moved.at_points_mm, expected)),)


def _stiffer_steel() -> tuple[Comparison, ...]:
    solved = crooked_section()
    stiffer = replace(STEEL, youngs_modulus_mpa=2.0 * STEEL.youngs_modulus_mpa)
    other = solve_section(
        crooked_profile(),
        crooked_loads(),
        clamp_depth_mm=CLAMP_MM,
        elasticity=stiffer,
        mesh=solved.mesh,
    )
    stress = [
        largest_difference(found.stress_mpa, field.stress_mpa)
        for found, field in zip(other.fields, solved.fields, strict=True)
    ]
    moved = 2.0 * other.displacement.at_points_mm
    return (
        _nothing("stress", max(stress)),
        _nothing("twice the movement", largest_difference(moved, solved.displacement.at_points_mm)),
    )


CHECKS: tuple[Check, ...] = (
    Check(
        key="linear-in-load",
        title="Twice one load and three times another add up to both",
        source=IDENTITY,
        reason=ROUNDING_REASON,
        compare=_linear,
    ),
    Check(
        key="mirror-image",
        title="Left and right exchanged: what is odd across the blade changes its sign",
        source=IDENTITY,
        reason=ROUNDING_REASON,
        compare=_mirrored,
    ),
    Check(
        key="ten-times-larger",
        title="All lengths and line loads times ten: the same stress, ten times the movement",
        source=IDENTITY,
        reason=ROUNDING_REASON,
        compare=_scaled,
    ),
    Check(
        key="turned-section",
        title="The whole section and its loads turned by 0.7 rad: the movement turns with them",
        source=IDENTITY,
        reason=ROUNDING_REASON,
        compare=_turned,
    ),
    Check(
        key="stiffer-steel",
        title="Twice the Young's modulus: the same stress, half the movement",
        source=IDENTITY,
        reason=ROUNDING_REASON,
        compare=_stiffer_steel,
    ),
)
