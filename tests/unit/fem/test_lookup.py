"""Values between the mesh's points: exact for quadratics, on every boundary, nowhere outside."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge.fem.lookup import interpolate, shape_functions
from simedge.fem.stress_field import StressField
from simedge.runs.run import Run
from simedge.section.mesh import SectionMesh
from simedge.section.outline import SIDES, Outline

Section = tuple[Outline, SectionMesh]
Spacing = Callable[[SectionMesh], float]
EPSILON = float(np.finfo(float).eps)


def quadratics(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    return np.stack([x**2, x * y, y**2 - x, 1 + 2 * y, np.ones_like(x)])


def straight_sided(mesh: SectionMesh) -> np.ndarray:
    """Tell which triangles have straight sides: all but those at a rounded tip."""
    curved = mesh.boundary["tip"][2]
    return np.asarray(~np.isin(mesh.triangles[3:], curved).any(axis=0))


# ---------------------------------------------------------------- shape functions


def test_each_shape_function_is_one_at_its_own_node_alone() -> None:
    nodes = np.array([[0, 1, 0, 0.5, 0.5, 0], [0, 0, 1, 0, 0.5, 0.5]])
    assert shape_functions(nodes) == pytest.approx(np.eye(6))


@given(r=st.floats(0, 1), s=st.floats(0, 1))
def test_shape_functions_carry_every_quadratic(r: float, s: float) -> None:
    nodes = np.array([[0, 1, 0, 0.5, 0.5, 0], [0, 0, 1, 0, 0.5, 0.5]])
    shapes = shape_functions(np.array([[r], [s]]))[:, 0]
    assert shapes.sum() == pytest.approx(1.0, abs=1e-14)
    assert quadratics(*nodes) @ shapes == pytest.approx(
        quadratics(np.array([r]), np.array([s]))[:, 0], abs=1e-14
    )


# ---------------------------------------------------------------- inside


def test_nodes_are_given_back(section: Section, spacing_mm: Spacing) -> None:
    _, mesh = section
    x, y = mesh.points_mm
    values = np.stack([np.arange(x.size, dtype=float), x, y, x * y])
    found = interpolate(mesh, values, mesh.points_mm)
    scale = np.abs(values).max(axis=1, keepdims=True)
    # a node is found in its triangle to rounding, and triangles shrink to a fifth of the radius
    slack = 1e3 * EPSILON * np.abs(mesh.points_mm).max() / spacing_mm(mesh)
    assert np.abs((found - values) / scale).max() <= max(1e-12, slack)


def test_quadratics_are_exact_in_every_straight_triangle(section: Section) -> None:
    _, mesh = section
    a, b, c = (mesh.points_mm[:, mesh.triangles[k]] for k in range(3))
    for share in ((1 / 3, 1 / 3, 1 / 3), (0.1, 0.2, 0.7), (0.9, 0.05, 0.05)):
        places = (share[0] * a + share[1] * b + share[2] * c)[:, straight_sided(mesh)]
        found = interpolate(mesh, quadratics(*mesh.points_mm), places)
        # x reaches 12 mm, its square 144
        assert np.abs(found - quadratics(*places)).max() <= 1e-12 * 144


@settings(max_examples=50)
@given(share=st.floats(0, 1), across=st.floats(-1, 1))
def test_quadratics_are_exact_anywhere_behind_the_tip(
    rope: Section, share: float, across: float
) -> None:
    outline, mesh = rope
    x = np.array([outline.tip.width_mm + share * (outline.depth_mm - outline.tip.width_mm)])
    left, right = (outline.face_y_mm(side, x) for side in SIDES)
    y = 0.5 * (left + right) + 0.5 * across * (left - right)
    found = interpolate(mesh, quadratics(*mesh.points_mm), np.stack([x, y]))
    assert np.abs(found - quadratics(x, y)).max() <= 1e-12 * 144


def test_values_of_neighbours_meet_on_the_edge_between_them(rope: Section) -> None:
    # whichever triangle holds the place: a little to both sides of an edge is nearly the same
    _, mesh = rope
    inner = np.flatnonzero(straight_sided(mesh))[::50]
    begin, end = (mesh.points_mm[:, mesh.triangles[k][inner]] for k in (0, 1))
    across = np.stack([begin[1] - end[1], end[0] - begin[0]])
    middle = 0.3 * begin + 0.7 * end
    outer = np.isin(mesh.triangles[3][inner], np.concatenate([e[2] for e in _edges(mesh)]))
    values = np.sin(mesh.points_mm[:1] * 3) + mesh.points_mm[1:] ** 3
    one, other = (
        interpolate(mesh, values, (middle + sign * 1e-7 * across)[:, ~outer]) for sign in (-1, 1)
    )
    # slopes are at most 3, and the step 2e-7 of an edge shorter than 1 mm
    assert np.abs(one - other).max() <= 1e-6


def _edges(mesh: SectionMesh) -> list[np.ndarray]:
    return list(mesh.boundary.values())


# ---------------------------------------------------------------- on the boundary


def test_places_on_faces_and_base_belong_to_the_section(section: Section) -> None:
    outline, mesh = section
    depth = outline.depth_mm
    for side in SIDES:
        begin = outline.face_begins_mm(side)
        x = begin + np.concatenate([[0.0], np.geomspace(1e-6, depth - begin, 500)])
        x = np.minimum(x, depth)
        places = np.stack([x, outline.face_y_mm(side, x)])
        found = interpolate(mesh, mesh.points_mm, places)
        assert np.abs(found - places).max() <= 1e-9
    left, right = (float(outline.face_y_mm(side, depth)) for side in SIDES)
    y = np.linspace(left, right, 50)
    places = np.stack([np.full(50, depth), y])
    assert np.abs(interpolate(mesh, mesh.points_mm, places) - places).max() <= 1e-9


def test_every_place_on_the_tips_line_belongs_to_the_section(section: Section) -> None:
    # Quadratic edges pass the arc by 1e-5 of the radius; a person asks at the arc.
    outline, mesh = section
    x, y = outline.tip.point(np.linspace(0.0, 1.0, 1001))
    found = interpolate(mesh, mesh.points_mm, np.stack([x, y]))
    assert np.abs(found - [x, y]).max() <= 1e-4 * outline.tip.width_mm + 1e-15


# ---------------------------------------------------------------- outside


OUTSIDE = [
    (-1e-6, 0.0),
    (-5.0, 0.0),
    (12.001, 0.0),
    (6.0, 1.0),
    (6.0, -1.0),
    (0.0, 0.001),
    (1e6, 0.0),
    (1e100, 0.0),
    (1e300, 1e300),
]


@pytest.mark.parametrize(("x", "y"), OUTSIDE)
def test_a_place_outside_is_refused_by_name(x: float, y: float, rope: Section) -> None:
    _, mesh = rope
    with pytest.raises(ValueError, match="outside the section") as caught:
        interpolate(mesh, mesh.points_mm, np.array([[1.0, x, 2.0], [0.0, y, 0.0]]))
    assert f"x = {x:g} mm, y = {y:g} mm" in str(caught.value)


@settings(max_examples=50)
@given(share=st.floats(0, 1), beyond=st.floats(1e-3, 10))
def test_places_beyond_a_face_are_outside(rope: Section, share: float, beyond: float) -> None:
    outline, mesh = rope
    x = outline.face_begins_mm("left") + share * (outline.depth_mm - 0.01)
    x = min(x, outline.depth_mm)
    # the nearest element is at most a thickness across: 1e-4 of that is taken for the face
    y = float(outline.face_y_mm("left", x)) + beyond * float(outline.thickness_mm(x))
    for sign in (1.0, -1.0):
        with pytest.raises(ValueError, match="outside the section"):
            interpolate(mesh, mesh.points_mm, np.array([[x], [sign * y]]))


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -float("inf")])
@pytest.mark.parametrize("row", [0, 1])
def test_a_place_that_is_no_number_is_refused(bad: float, row: int, rope: Section) -> None:
    _, mesh = rope
    places = np.array([[1.0, 2.0], [0.0, 0.0]])
    places[row, 1] = bad
    with pytest.raises(ValueError, match="not a number"):
        interpolate(mesh, mesh.points_mm, places)


# ---------------------------------------------------------------- a field looks itself up


def test_a_field_takes_scalars_and_arrays_that_broadcast(rope_knife: Run) -> None:
    field = rope_knife.loads[0].stress
    assert field.at(1.0, 0.0).shape == (4, 1)
    assert field.at([1.0, 2.0, 3.0], 0.0).shape == (4, 3)
    assert field.at([], []).shape == (4, 0)
    assert field.at([1.0, 2.0], 0.0)[:, :1].tolist() == field.at(1.0, 0.0).tolist()


def test_a_field_gives_its_four_components_in_order(rope: Section) -> None:
    _, mesh = rope
    x, y = mesh.points_mm
    field = StressField(
        mesh=mesh, stress_mpa=np.stack([x, y, x * y, np.ones_like(x)]), doubt_mpa=np.zeros_like(x)
    )
    assert field.at(3.0, 0.1)[:, 0] == pytest.approx([3.0, 0.1, 0.3, 1.0], rel=1e-12)


def test_a_field_refuses_places_outside_and_no_numbers(rope_knife: Run) -> None:
    field = rope_knife.loads[0].stress
    with pytest.raises(ValueError, match="x = -1 mm, y = 0 mm lies outside"):
        field.at([1.0, -1.0], 0.0)
    with pytest.raises(ValueError, match="not a number"):
        field.at(float("nan"), 0.0)
