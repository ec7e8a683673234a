"""What must not change the answer, or must change it in a known way, through the whole pipeline.

On one mesh the equations themselves say it: elasticity is linear, knows no left and right and no
length of its own, and forces balance. Two meshes of one edge may differ by their errors only.

The checks of the field alone (`simedge.studies.verify.identities`) are run by `test_checks`; here
stand the answers that are read off it, and what needs whole runs.

Sources: by definition throughout (linearity, reflection, dimensional analysis, statics).
"""

from __future__ import annotations

from dataclasses import fields, replace
from functools import cache

import numpy as np
import pytest

from simedge import run_case
from simedge.inputs.case import Case, Support
from simedge.inputs.load import FaceLoad, Load, TipLineLoad
from simedge.inputs.profile import Apex, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.answer import IN_MEMORY, LoadAnswer
from simedge.runs.run import Run
from simedge.strength.peaks import find_peaks
from simedge.strength.yielding import find_yielded
from simedge.strength.zones import patch_zone, trusted_depth_mm
from simedge.studies.verify.identities import (
    CLAMP_MM,
    ROUNDING,
    crooked_profile,
    crooked_section,
    mirrored_section,
    scaled_section,
)
from simedge.studies.verify.suite import run_checks

#: The figure for two meshes of one edge.
REMESHED_PERCENT = 0.2
STEEL = Steel(grade="52100", hardness_hrc=60.0)


# ---------------------------------------------------------------- on one mesh


def error_of(key: str) -> float:
    """Give the largest error that a check finds."""
    (result,) = run_checks([key])
    return max(abs(each.difference) for each in result.comparisons)


def linear_error() -> float:
    """Give how far twice the first load and three times the second miss the third."""
    return error_of("linear-in-load")


def mirrored_error() -> float:
    """Give how far the mirror image on the mirrored mesh misses: field, movement and peak."""
    solved, mirrored = crooked_section(), mirrored_section()
    errors = [error_of("mirror-image")]
    for index in range(len(solved.tractions)):
        one, other = (
            find_peaks(
                each.fields[index],
                patch_zone(each.tractions[index], each.outline),
                each.outline,
                trusted_depth_mm(each.outline),
            ).section
            for each in (solved, mirrored)
        )
        assert one is not None
        assert other is not None
        read = np.array([other.value_mpa, other.x_mm, -other.y_mm])
        errors.append(float(np.abs(read / [one.value_mpa, one.x_mm, one.y_mm] - 1.0).max()))
    return max(errors)


def scaled_error() -> float:
    """Give how far lengths and line loads times ten miss: field, movement and yield depth."""
    solved, scaled = crooked_section(), scaled_section()
    errors = [error_of("ten-times-larger")]
    for load, before, after in zip(solved.tractions, solved.fields, scaled.fields, strict=True):
        peak = find_peaks(
            before,
            patch_zone(load, solved.outline),
            solved.outline,
            trusted_depth_mm(solved.outline),
        ).section
        assert peak is not None
        strength = 0.9 * peak.value_mpa  # so that no depth is cut off at the clamp
        depth, ten_times = (
            find_yielded(field, strength, trusted_depth_mm(each.outline)).depth_mm
            for field, each in ((before, solved), (after, scaled))
        )
        assert 0.0 < depth < 0.8 * CLAMP_MM
        errors.append(abs(ten_times / (10.0 * depth) - 1.0))
    return max(errors)


def test_mirrored() -> None:
    """By definition: left and right exchanged; the peak's y changes sign with the field."""
    assert mirrored_error() < ROUNDING


def test_all_lengths_times_ten() -> None:
    """By dimensions: the yield depth is ten times as large too."""
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
        assert one.verdict is not None
        assert other.verdict is not None
        assert one.verdict.damage == other.verdict.damage
