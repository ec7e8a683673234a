"""Meshes of mapped squares: their areas, boundaries and names, known by hand."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from simedge.section.mesh import SectionMesh
from simedge.section.mesh_quality import check_joined
from simedge.section.outline import Floats
from simedge.studies.verify.mapped_mesh import graded, mapped_mesh, point_at, points_on

SIDES = {"u=0": "front", "u=1": "back", "v=0": "below", "v=1": "above"}
CELLS = (6, 4)


def rectangle(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    return 3.0 * u, 2.0 * v


def quarter_ring(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    radius, angle = 1.0 + graded(u, 3.0), 0.5 * pi * v
    return radius * np.cos(angle), radius * np.sin(angle)


@pytest.fixture
def even() -> SectionMesh:
    return mapped_mesh(rectangle, cells=CELLS, boundary=SIDES)  # type: ignore[arg-type]


@pytest.fixture
def ring() -> SectionMesh:
    return mapped_mesh(quarter_ring, cells=CELLS, boundary=SIDES)  # type: ignore[arg-type]


def areas(mesh: SectionMesh) -> Floats:
    a, b, c = mesh.points_mm[:, mesh.triangles[:3]].transpose(1, 0, 2)
    return 0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def test_triangles_and_points_are_counted_by_hand(even: SectionMesh) -> None:
    # 6 x 4 cells: 48 triangles, 7 x 5 corners, 13 x 9 points in all
    assert even.triangles.shape == (6, 48)
    assert even.corners == 35
    assert even.points_mm.shape == (2, 117)


def test_equal_triangles_cover_the_rectangle(even: SectionMesh) -> None:
    assert areas(even) == pytest.approx(np.full(48, 6.0 / 48.0), rel=1e-13)


def test_triangles_have_corners_first_and_middles_between_them(even: SectionMesh) -> None:
    assert even.triangles[:3].max() == even.corners - 1
    assert even.triangles[3:].min() == even.corners
    for middle, (begin, end) in zip((3, 4, 5), ((0, 1), (1, 2), (2, 0)), strict=True):
        ends = even.points_mm[:, even.triangles[[begin, end]]].mean(axis=1)
        assert even.points_mm[:, even.triangles[middle]] == pytest.approx(ends, abs=1e-14)


def test_triangles_join_and_the_named_sides_are_the_whole_boundary(ring: SectionMesh) -> None:
    check_joined(ring.triangles, ring.boundary.values())


@pytest.mark.parametrize(
    ("name", "component", "place", "cells"),
    [("front", 0, 0.0, 4), ("back", 0, 3.0, 4), ("below", 1, 0.0, 6), ("above", 1, 2.0, 6)],
)
def test_names_stand_on_their_sides(
    even: SectionMesh, name: str, component: int, place: float, cells: int
) -> None:
    assert even.boundary[name].shape == (3, cells)
    on_it = points_on(even, name)
    assert on_it.size == 2 * cells + 1
    assert np.abs(even.points_mm[component, on_it] - place).max() <= 1e-14


def test_sides_turn_counter_clockwise(even: SectionMesh) -> None:
    for begin, end, middle in (edges for edges in even.boundary.values()):
        step = even.points_mm[:, end] - even.points_mm[:, begin]
        to_centre = np.array([[1.5], [1.0]]) - even.points_mm[:, middle]
        assert (step[0] * to_centre[1] - step[1] * to_centre[0] > 0.0).all()


def test_a_side_without_a_name_has_none() -> None:
    mesh = mapped_mesh(rectangle, cells=CELLS, boundary={"u=1": "base"})
    assert set(mesh.boundary) == {"base"}


def test_curved_boundaries_are_true_at_every_point(ring: SectionMesh) -> None:
    for name, radius in (("front", 1.0), ("back", 2.0)):
        found = np.hypot(*ring.points_mm[:, points_on(ring, name)])
        assert np.abs(found - radius).max() <= 1e-14


def test_steps_grow_as_asked(ring: SectionMesh) -> None:
    radius = np.sort(np.hypot(*ring.points_mm[:, points_on(ring, "below")]))
    steps = np.diff(radius)
    # 12 half steps: eleven times the twelfth root of three from the first to the last
    assert steps[1:] / steps[:-1] == pytest.approx(np.full(11, 3.0 ** (1 / 12)), rel=1e-12)


def test_the_nearest_point_is_found(even: SectionMesh) -> None:
    found = point_at(even, 1.02, 1.96)
    assert even.points_mm[:, found] == pytest.approx([1.0, 2.0], abs=1e-14)


def test_a_mapping_that_turns_triangles_over_is_refused() -> None:
    with pytest.raises(ValueError, match="turns a triangle over"):
        mapped_mesh(lambda u, v: (v, u), cells=CELLS, boundary={})
