"""What must not change the answer, or must change it in a known way, through the whole pipeline.

On one mesh the equations themselves say it: elasticity is linear, knows no left and right and no
length of its own, and forces balance. Two meshes of one edge may differ by their errors only.

Sources: by definition throughout (linearity, reflection, dimensional analysis, statics).
"""

from __future__ import annotations

from dataclasses import fields, replace
from functools import cache

import numpy as np
import pytest

from simedge import run_case
from simedge.fem.elastic import Displacement, displace, hold_section
from simedge.fem.nodal_forces import nodal_forces
from simedge.fem.stress import recover_stress
from simedge.fem.stress_field import StressField
from simedge.inputs.case import Case, Support
from simedge.inputs.load import CombinedLoad, FaceLoad, Load, TipLineLoad
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.answer import IN_MEMORY, LoadAnswer
from simedge.runs.run import Run
from simedge.section.loading import tractions_of
from simedge.section.mesh import SectionMesh
from simedge.section.outline import SIDES, Outline, build_outline
from simedge.section.tractions import Tractions
from simedge.strength.peaks import find_peaks
from simedge.strength.stations import read_stations
from simedge.strength.yielding import find_yielded
from simedge.strength.zones import patch_zone, trusted_depth_mm

#: The figure for one mesh: rounding, amplified by how much farther a slim tip moves than strains.
ROUNDING = 1e-9
#: The figure for two meshes of one edge.
REMESHED_PERCENT = 0.2
CLAMP_MM = 12.0
#: In the micro-bevel, on both sides of the edge bevel's shoulder, under and behind the pressure.
SECTIONS_MM = (0.05, 0.4, 0.95, 2.0, 4.0, 8.0)
STEEL = Steel(grade="52100", hardness_hrc=60.0)


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


@cache
def crooked_run() -> Run:
    """Run the crooked edge."""
    support = Support(clamp_depth_mm=CLAMP_MM)
    return run_case(
        Case(profile=crooked_profile(), steel=STEEL, support=support, loads=crooked_loads())
    )


def solve_on(
    mesh: SectionMesh, *, mirrored: bool = False, scale: float = 1.0
) -> tuple[Outline, tuple[Tractions, ...], Displacement, tuple[StressField, ...]]:
    """Solve the crooked edge, mirrored or scaled, on a mesh that is given."""
    profile = crooked_profile(mirrored=mirrored, scale=scale)
    outline = build_outline(profile.apex, profile.faces, scale * CLAMP_MM)
    tractions = tuple(
        tractions_of(load, "", outline) for load in crooked_loads(mirrored=mirrored, scale=scale)
    )
    section = hold_section(mesh, crooked_run().displacement.elasticity)
    displacement = displace(section, [nodal_forces(mesh, outline, load) for load in tractions])
    return outline, tractions, displacement, recover_stress(displacement, outline, tractions)


def largest_difference(found: np.ndarray, expected: np.ndarray) -> float:
    """Give the largest difference over the largest value."""
    return float(np.abs(found - expected).max() / np.abs(expected).max())


# ---------------------------------------------------------------- on one mesh


def linear_error() -> float:
    """Give how far twice the first load and three times the second miss the third."""
    run = crooked_run()
    first, second, both = (answer.stress.stress_mpa for answer in run.loads)
    moved = run.displacement.at_points_mm
    return max(
        largest_difference(2.0 * first + 3.0 * second, both),
        largest_difference(2.0 * moved[0] + 3.0 * moved[1], moved[2]),
    )


def mirrored_error() -> float:
    """Give how far the mirror image on the mirrored mesh misses: field, movement and peak."""
    run = crooked_run()
    mesh = run.mesh
    flip = np.array([[1.0], [-1.0]])
    mirrored = replace(
        mesh,
        points_mm=mesh.points_mm * flip,
        triangles=mesh.triangles[[0, 2, 1, 5, 4, 3]],  # keeps the corners counter-clockwise
        boundary={
            **mesh.boundary,
            "left": mesh.boundary["right"],
            "right": mesh.boundary["left"],
        },
    )
    outline, tractions, moved, found = solve_on(mirrored, mirrored=True)
    errors = [largest_difference(moved.at_points_mm * flip, run.displacement.at_points_mm)]
    signs = np.array([[1.0], [1.0], [-1.0], [1.0]])
    for answer, load, field in zip(run.loads, tractions, found, strict=True):
        errors.append(largest_difference(field.stress_mpa * signs, answer.stress.stress_mpa))
        peak = find_peaks(
            field, patch_zone(load, outline), outline, trusted_depth_mm(outline)
        ).section
        assert peak is not None
        read = np.array([peak.value_mpa, peak.x_mm, -peak.y_mm])
        expected = np.array(
            [
                answer.section_peak_von_mises_mpa,
                answer.section_peak_x_mm,
                answer.section_peak_y_mm,
            ]
        )
        errors.append(float(np.abs(read / expected - 1.0).max()))
    return max(errors)


def scaled_error() -> float:
    """Give how far lengths and line loads times ten miss: same stress, ten times the movement."""
    run = crooked_run()
    scaled = replace(run.mesh, points_mm=10.0 * run.mesh.points_mm)
    outline, _, moved, found = solve_on(scaled, scale=10.0)
    errors = [largest_difference(moved.at_points_mm / 10.0, run.displacement.at_points_mm)]
    for answer, field in zip(run.loads, found, strict=True):
        errors.append(largest_difference(field.stress_mpa, answer.stress.stress_mpa))
        assert answer.section_peak_von_mises_mpa is not None
        strength = 0.5 * answer.section_peak_von_mises_mpa
        depth = find_yielded(field, strength, trusted_depth_mm(outline)).depth_mm
        before = find_yielded(answer.stress, strength, trusted_depth_mm(run.outline)).depth_mm
        errors.append(abs(depth / (10.0 * before) - 1.0))
    return max(errors)


def test_linear_in_the_load() -> None:
    """By definition: twice the first load and three times the second add up to the third."""
    assert linear_error() < ROUNDING


def test_mirrored() -> None:
    """By definition: left and right exchanged, y and everything odd in it change sign."""
    assert mirrored_error() < ROUNDING


def test_all_lengths_times_ten() -> None:
    """By dimensions: line loads and lengths times ten leave stress as it is."""
    assert scaled_error() < ROUNDING


#: Apex radius in µm, degrees per side, height in mm: slim wedges under lateral loads are worst.
BALANCED = ((0.02, 15.0, 28.0), (1.0, 5.0, 30.0), (0.1, 1.5, 40.0), (10.0, 30.0, 60.0))


def run_balanced(radius_um: float, dps: float, height_mm: float) -> Run:
    """Run an edge ground flat to the apex, pressed and pushed in every way."""
    profile = Profile(
        apex=Apex(radius_um=radius_um), height_mm=height_mm, primary_grind=PrimaryGrind(dps=dps)
    )
    loads = (
        TipLineLoad(axial_n_per_mm=1.0),
        TipLineLoad(lateral_n_per_mm=1.0),
        FaceLoad(at="left face", from_mm=0.0, to_mm=0.5, pressure_mpa=10.0, friction=0.3),
    )
    return run_case(Case(profile=profile, steel=STEEL, loads=loads))


@pytest.mark.parametrize(
    ("radius_um", "dps", "height_mm"), BALANCED, ids=["keenest", "slim", "slimmest", "axe"]
)
def test_reactions_balance_the_load(radius_um: float, dps: float, height_mm: float) -> None:
    """By statics, from the keenest apex to an axe."""
    for answer in run_balanced(radius_um, dps, height_mm).loads:
        assert answer.reaction_error < ROUNDING
        assert answer.residual < ROUNDING


def section_force_differences_percent() -> np.ndarray:
    """Give how far resultants of the field over sections x = const miss statics, (loads, 6, 3).

    Axial force and shear over the size of the force; the moment about the section's middle over
    itself, or over the force times half the thickness where that is more.
    """
    run = crooked_run()
    nodes, weights = np.polynomial.legendre.leggauss(40)
    loads = tuple(answer.tractions for answer in run.loads)
    stresses = tuple(answer.stress for answer in run.loads)
    differences = []
    for field, stations in zip(stresses, read_stations(stresses, loads, run.outline), strict=True):
        for wanted in SECTIONS_MM:
            at = int(np.argmin(np.abs(stations.x_mm - wanted)))
            x = stations.x_mm[at]
            left, right = (float(run.outline.face_y_mm(side, x)) for side in SIDES)
            middle, half = 0.5 * (left + right), 0.5 * (left - right)
            xx, _, xy, _ = field.at(np.full(nodes.size, x), middle + half * nodes)
            # what acts in front of the section is held by the stress on its face, normal +x
            found = half * np.array([-weights @ xx, -weights @ xy, weights @ (xx * half * nodes)])
            axial, shear = stations.axial_n_per_mm[at], stations.shear_n_per_mm[at]
            moment = stations.moment_n[at]
            force = np.hypot(axial, shear)
            size = np.array([force, force, max(abs(moment), force * half)])
            differences.append(np.abs(found - np.array([axial, shear, moment])) / size)
    return 100.0 * np.array(differences).reshape(len(loads), len(SECTIONS_MM), 3)


def test_section_forces_are_what_the_stress_adds_up_to() -> None:
    """By statics, across both bevels and the primary, behind and under the pressed stretch.

    0.5 %: stress along a face is good to 0.3 %, and so is what it adds up to.
    """
    assert section_force_differences_percent().max() < 0.5


# ---------------------------------------------------------------- on another mesh, and again

APEXES = (Apex(radius_um=1.5), Apex(radius_um=0.3), Apex(land_um=8.0))
COMPARED = ("section_peak_von_mises_mpa", "apex_axial_mm", "apex_lateral_mm", "yield_depth_mm")


@cache
def run_afresh(apex: Apex, *, mirrored: bool = False, extra: bool = False) -> Run:
    """Run loads that yield the edge, on a mesh of its own."""
    turn = -1.0 if mirrored else 1.0
    pressed, free = ("right face", "left face") if mirrored else ("left face", "right face")
    loads: list[Load] = [
        TipLineLoad(lateral_n_per_mm=turn * 6.0),
        TipLineLoad(axial_n_per_mm=15.0, lateral_n_per_mm=turn * 0.5),
        FaceLoad(at=pressed, from_mm=0.0, to_mm=1.2, pressure_mpa=24.0, friction=0.2),
    ]
    if extra:
        loads.append(FaceLoad(at=free, from_mm=5.3, to_mm=6.1, pressure_mpa=1.0))
    profile = replace(crooked_profile(mirrored=mirrored), apex=apex)
    steel = Steel(grade="52100", hardness_hrc=60.0, yield_strength_mpa=900.0)
    support = Support(clamp_depth_mm=CLAMP_MM)
    return run_case(Case(profile=profile, steel=steel, support=support, loads=tuple(loads)))


def remeshed_differences_percent(
    apex: Apex, *, mirrored: bool = False, extra: bool = False
) -> np.ndarray:
    """Give how far another mesh's answers differ, shape (loads, compared)."""
    run, other = run_afresh(apex), run_afresh(apex, mirrored=mirrored, extra=extra)
    found, expected = (
        np.array([[getattr(answer, key) for key in COMPARED] for answer in one.loads[:3]])
        for one in (other, run)
    )
    if mirrored:
        found[:, COMPARED.index("apex_lateral_mm")] *= -1.0
    # a depth that the clamp cuts off would be no answer to compare
    assert expected[:, COMPARED.index("yield_depth_mm")].max() < 0.8 * CLAMP_MM
    return 100.0 * np.abs(found / expected - 1.0)


every_apex = pytest.mark.parametrize("apex", APEXES, ids=["1.5um", "0.3um", "land"])


@every_apex
def test_mirrored_and_meshed_anew(apex: Apex) -> None:
    """By definition: gmsh meshes the mirror image in its own way, the edge is the same."""
    found = remeshed_differences_percent(apex, mirrored=True)
    assert found.max() < REMESHED_PERCENT


@every_apex
def test_with_points_that_another_load_asks_for(apex: Apex) -> None:
    """By definition: another load case of the same run changes the mesh, not the answer."""
    counts = (run_afresh(apex, extra=extra).mesh.points_mm.shape for extra in (False, True))
    assert len(set(counts)) == 2
    found = remeshed_differences_percent(apex, extra=True)
    assert found.max() < REMESHED_PERCENT


def test_twice_in_one_process() -> None:
    """By definition: the same case gives the same arrays and answers, bit for bit."""
    first = run_case(run_afresh(APEXES[0]).case)
    again = run_case(first.case)
    np.testing.assert_array_equal(first.mesh.points_mm, again.mesh.points_mm)
    np.testing.assert_array_equal(first.mesh.triangles, again.mesh.triangles)
    np.testing.assert_array_equal(first.displacement.at_points_mm, again.displacement.at_points_mm)
    for one, other in zip(first.loads, again.loads, strict=True):
        np.testing.assert_array_equal(one.stress.stress_mpa, other.stress.stress_mpa)
        for field in fields(LoadAnswer):
            if field.name not in IN_MEMORY:
                assert getattr(one, field.name) == getattr(other, field.name), field.name
