"""Peaks and yielded regions of stress fields that are made up, so that the answer is known.

Von Mises of xx alone is its size, so a field linear in x and y has its yield contour on a straight
line, which the mesh's own interpolation gives exactly.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from simedge.fem.stress_field import StressField
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import Outline
from simedge.section.tractions import FaceTraction, TipTraction, Tractions
from simedge.strength.peaks import find_peaks
from simedge.strength.yielding import find_yielded
from simedge.strength.zones import PatchZone, patch_zone, trusted_depth_mm

Edge = Callable[..., Outline]

YIELD_MPA = 1000.0
EXACT_MM = 1e-9
NO_ZONE = PatchZone(tip=None, discs=())


@pytest.fixture(scope="module")
def outline(edge: Edge) -> Outline:
    return edge()


@pytest.fixture(scope="module")
def mesh(outline: Outline) -> SectionMesh:
    return mesh_outline(outline, {}, Resolution.for_accuracy(1.0))


@pytest.fixture(scope="module")
def trusted(outline: Outline) -> float:
    return trusted_depth_mm(outline)


def along_x(mesh: SectionMesh, values: np.ndarray) -> StressField:
    """Give a field of xx alone."""
    stress = np.zeros((4, mesh.points_mm.shape[1]))
    stress[0] = values
    return StressField(mesh=mesh, stress_mpa=stress, doubt_mpa=np.zeros_like(stress[0]))


def face_crossing_mm(outline: Outline, line: Callable[[float], float], sign: float) -> float:
    """Find the depth at which y = line(x) meets a face, by bisection."""
    low, high = outline.face_begins_mm("left"), outline.depth_mm
    side = "left" if sign > 0 else "right"
    inside_low = sign * line(low) < sign * float(outline.face_y_mm(side, low))  # type: ignore[arg-type]
    for _ in range(80):
        middle = 0.5 * (low + high)
        inside = sign * line(middle) < sign * float(outline.face_y_mm(side, middle))  # type: ignore[arg-type]
        low, high = (middle, high) if inside == inside_low else (low, middle)
    return low


# ---------------------------------------------------------------- yielded regions


def test_yield_down_to_a_known_depth(mesh: SectionMesh, trusted: float) -> None:
    found = find_yielded(
        along_x(mesh, YIELD_MPA * (1.3 - mesh.points_mm[0] / 10)), YIELD_MPA, trusted
    )
    assert found.depth_mm == pytest.approx(3.0, abs=EXACT_MM)
    assert found.through_depth_mm == pytest.approx(3.0, abs=EXACT_MM)
    ((begin, end),) = found.stretches_mm
    assert (begin, end) == pytest.approx((0.0, 3.0), abs=EXACT_MM)
    assert not found.reaches_clamp


def test_yield_that_slants_across_the_thickness(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    # Yields above the line y = x / 10 - 0.3: on the left down to where it meets the left face, and
    # through the thickness only down to where it meets the right one.
    x, y = mesh.points_mm
    found = find_yielded(along_x(mesh, YIELD_MPA * (1 + y - 0.1 * x + 0.3)), YIELD_MPA, trusted)

    def line(depth: float) -> float:
        return 0.1 * depth - 0.3

    deepest, through = (face_crossing_mm(outline, line, sign) for sign in (1.0, -1.0))
    assert 0.5 < through < deepest < trusted
    assert found.depth_mm == pytest.approx(deepest, abs=EXACT_MM)
    assert found.depth_y_mm == pytest.approx(line(deepest), abs=EXACT_MM)
    assert found.through_depth_mm == pytest.approx(through, abs=EXACT_MM)
    assert not found.reaches_clamp


def test_a_skin_on_both_faces_is_not_through_yield(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    # Bending: yields where |y| > 0.2 mm, from where the half thickness is that on, to the clamp.
    found = find_yielded(along_x(mesh, 5 * YIELD_MPA * mesh.points_mm[1]), YIELD_MPA, trusted)
    begins = face_crossing_mm(outline, lambda _: 0.2, 1.0)
    ((begin, end),) = found.stretches_mm
    assert begin == pytest.approx(begins, abs=EXACT_MM)
    assert found.through_depth_mm is None
    # the skin goes on behind the trusted depth, and that must be said
    assert found.reaches_clamp
    assert found.depth_mm == end == pytest.approx(trusted, abs=EXACT_MM)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_a_skin_on_one_face_is_not_through_yield(
    sign: float, mesh: SectionMesh, trusted: float
) -> None:
    values = YIELD_MPA * (1 + sign * mesh.points_mm[1] - 0.3)
    found = find_yielded(along_x(mesh, values), YIELD_MPA, trusted)
    assert found.through_depth_mm is None
    assert found.depth_mm == pytest.approx(trusted, abs=EXACT_MM)
    assert found.depth_y_mm is not None
    assert sign * found.depth_y_mm > 0.29


def test_a_core_that_yields_is_not_through_yield(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    # Yields where |y| < 0.1 mm: through the thickness only where the whole blade is that thin.
    values = YIELD_MPA * (1.5 - 50 * mesh.points_mm[1] ** 2)
    found = find_yielded(along_x(mesh, values), YIELD_MPA, trusted)
    through = face_crossing_mm(outline, lambda _: 0.1, 1.0)
    # a parabola is followed to the square of an element, which is a third of the thickness
    assert found.through_depth_mm == pytest.approx(through, abs=0.05)
    assert found.reaches_clamp


def test_two_yielded_stretches_and_the_deeper_through_yield(
    mesh: SectionMesh, trusted: float
) -> None:
    # |1 - x / 6| falls below half between 3 and 9 mm; behind that all yields again.
    found = find_yielded(along_x(mesh, 2000 * (1 - mesh.points_mm[0] / 6)), YIELD_MPA, trusted)
    ends = [end for stretch in found.stretches_mm for end in stretch]
    assert ends == pytest.approx([0.0, 3.0, 9.0, trusted], abs=EXACT_MM)
    assert found.depth_mm == pytest.approx(trusted, abs=EXACT_MM)
    assert found.through_depth_mm == pytest.approx(trusted, abs=EXACT_MM)
    assert found.reaches_clamp


def test_through_yield_in_front_of_a_gap(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    # The same, leaning: behind the gap the left face yields from 8.5 mm on, the right one later.
    x, y = mesh.points_mm
    found = find_yielded(along_x(mesh, 2000 * (1 - x / 6 - y)), YIELD_MPA, trusted)
    ahead = face_crossing_mm(outline, lambda depth: 0.5 - depth / 6, 1.0)
    first = found.stretches_mm[0]
    assert first[0] == pytest.approx(0.0, abs=EXACT_MM)
    # in front: |1 - x/6 - y| >= 1/2 holds through the whole thickness down to the left face
    right_end = face_crossing_mm(outline, lambda depth: 0.5 - depth / 6, -1.0)
    assert first[1] == pytest.approx(max(ahead, right_end), abs=EXACT_MM)
    behind = face_crossing_mm(outline, lambda depth: 1.5 - depth / 6, 1.0)
    assert found.stretches_mm[1] == pytest.approx((behind, trusted), abs=EXACT_MM)


def test_nothing_yields(mesh: SectionMesh, trusted: float) -> None:
    found = find_yielded(along_x(mesh, np.full(mesh.points_mm.shape[1], 999.0)), YIELD_MPA, trusted)
    assert (found.depth_mm, found.depth_y_mm, found.through_depth_mm) == (0.0, None, None)
    assert (found.stretches_mm, found.reaches_clamp) == ((), False)


def test_yield_at_the_clamp_alone_is_not_looked_at(mesh: SectionMesh, trusted: float) -> None:
    values = YIELD_MPA * (0.9 + 0.15 * (mesh.points_mm[0] - trusted))
    assert values.max() > YIELD_MPA
    found = find_yielded(along_x(mesh, values), YIELD_MPA, trusted)
    assert (found.depth_mm, found.stretches_mm) == (0.0, ())


@pytest.mark.parametrize("behind_mm", [1e-6, 0.001, 0.01, 0.1])
def test_yield_that_begins_just_behind_the_trusted_depth_is_not_looked_at(
    behind_mm: float, mesh: SectionMesh, trusted: float
) -> None:
    # An element stands astride the margin; what of it yields lies behind.
    values = YIELD_MPA * (1 + 0.15 * (mesh.points_mm[0] - trusted - behind_mm))
    found = find_yielded(along_x(mesh, values), YIELD_MPA, trusted)
    assert (found.depth_mm, found.depth_y_mm, found.through_depth_mm) == (0.0, None, None)
    assert (found.stretches_mm, found.reaches_clamp) == ((), False)


@pytest.mark.parametrize("ahead_mm", [1e-6, 0.001, 0.01, 0.1])
def test_peak_and_yielded_region_agree_at_the_trusted_depth(
    ahead_mm: float, mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    # Yield begins a little in front of the margin, between it and the nodes in front of it: then
    # the section yields, whichever of the two is asked.
    values = YIELD_MPA * (1 + 0.15 * (mesh.points_mm[0] - trusted + ahead_mm))
    field = along_x(mesh, values)
    found = find_yielded(field, YIELD_MPA, trusted)
    assert found.depth_mm == pytest.approx(trusted, abs=EXACT_MM)
    assert found.through_depth_mm == pytest.approx(trusted, abs=EXACT_MM)
    peak = find_peaks(field, NO_ZONE, outline, trusted).section
    assert peak is not None
    assert peak.value_mpa >= YIELD_MPA


def test_yield_and_stress_scale_alike(mesh: SectionMesh, trusted: float) -> None:
    x, y = mesh.points_mm
    values = YIELD_MPA * (1 + y - 0.1 * x + 0.3)
    one = find_yielded(along_x(mesh, values), YIELD_MPA, trusted)
    other = find_yielded(along_x(mesh, 0.5 * values), 0.5 * YIELD_MPA, trusted)
    assert other == one


# ---------------------------------------------------------------- peaks


def test_without_a_zone_all_in_front_of_the_margin_is_section(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    x, y = mesh.points_mm
    found = find_peaks(along_x(mesh, x + y), NO_ZONE, outline, trusted)
    assert found.section is not None
    # it grows with depth and to the left: highest where the left face reaches the margin
    corner = float(outline.face_y_mm("left", trusted))
    assert (found.section.x_mm, found.section.y_mm) == pytest.approx((trusted, corner))
    assert found.section.value_mpa == pytest.approx(trusted + corner, rel=1e-9)
    assert found.section.value_mpa < (x + y).max()
    assert (found.patch, found.patch_principal, found.at_zone_edge) == (None, None, False)


def test_peaks_inside_and_outside_a_tip_zone(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    # Stress that falls with depth: inside it peaks at the foremost point, outside at the edge of
    # the zone in the middle, half a tip width behind the foremost point.
    zone = patch_zone(
        Tractions(name="", tip=(TipTraction(axial_n_per_mm=1.0, lateral_n_per_mm=0.0),)), outline
    )
    found = find_peaks(along_x(mesh, 12 - mesh.points_mm[0]), zone, outline, trusted)
    assert found.patch is not None
    assert found.section is not None
    assert (found.patch.value_mpa, found.patch.x_mm) == (12.0, 0.0)
    reach = 0.5 * outline.tip.width_mm
    # where the zone's edge is nearest to the front: half a width from the tip along each face
    assert 12 - found.section.value_mpa == pytest.approx(found.section.x_mm, abs=EXACT_MM)
    assert abs(float(zone.distance_mm(found.section.x_mm, found.section.y_mm))) <= 1e-9 * reach
    assert found.section.x_mm <= reach * (1 + 1e-9)
    assert found.at_zone_edge


def test_a_peak_away_from_the_zone_is_not_called_its_edge(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    zone = patch_zone(
        Tractions(name="", tip=(TipTraction(axial_n_per_mm=1.0, lateral_n_per_mm=0.0),)), outline
    )
    x = mesh.points_mm[0]
    node = x[np.argmin(np.abs(x - 5.0))]
    found = find_peaks(along_x(mesh, 10 - np.abs(x - node)), zone, outline, trusted)
    assert found.section is not None
    assert (found.section.value_mpa, found.section.x_mm) == (10.0, node)
    assert not found.at_zone_edge


def test_discs_of_a_pressed_stretch_are_left_out(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    stretch = FaceTraction(side="left", from_mm=0.5, to_mm=3.0, pressure_mpa=40.0, friction=0.3)
    zone = patch_zone(Tractions(name="", faces=(stretch,)), outline)
    (_, _, small), (x0, y0, radius) = zone.discs
    squared = (mesh.points_mm[0] - x0) ** 2 + (mesh.points_mm[1] - y0) ** 2
    found = find_peaks(along_x(mesh, 100 - squared), zone, outline, trusted)
    assert found.section is not None
    # where the friction ends stress has no bound: no peak is told
    assert found.patch is None
    # outside exactly a radius away: the mesh's own interpolation gives a parabola exactly
    assert found.section.value_mpa == pytest.approx(100 - radius**2, abs=EXACT_MM)
    assert found.at_zone_edge
    assert small < radius


def test_a_stretch_that_ends_at_the_clamp_brings_no_peak_from_there(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    stretch = FaceTraction(side="left", from_mm=0.5, to_mm=11.9, pressure_mpa=40.0, friction=0.3)
    zone = patch_zone(Tractions(name="", faces=(stretch,)), outline)
    found = find_peaks(along_x(mesh, mesh.points_mm[0]), zone, outline, trusted)
    assert found.section is not None
    assert found.section.x_mm <= trusted
    assert found.patch is None


def test_mises_and_principal_peak_in_their_own_places(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    # Compression that grows with depth, tension that grows towards the tip.
    x, _ = mesh.points_mm
    stress = np.zeros((4, x.size))
    stress[0] = -10 * x
    stress[1] = 3 - x
    found = find_peaks(
        StressField(mesh=mesh, stress_mpa=stress, doubt_mpa=np.zeros_like(stress[0])),
        NO_ZONE,
        outline,
        trusted,
    )
    assert found.section is not None
    assert found.section_principal is not None
    assert found.section_principal.value_mpa == 3.0
    assert found.section_principal.x_mm == 0.0
    assert found.section.x_mm == trusted


def test_a_loaded_sharp_tip_has_no_peak(
    mesh: SectionMesh, outline: Outline, trusted: float
) -> None:
    sharp = replace(outline.tip, kind="sharp", left_mm=(0.0, 0.0), right_mm=(0.0, 0.0))
    field = along_x(mesh, mesh.points_mm[0])
    found = find_peaks(field, PatchZone(tip=sharp, discs=()), outline, trusted)
    assert (found.section, found.patch, found.section_principal) == (None, None, None)
