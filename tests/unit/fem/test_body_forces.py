"""Forces per volume on nodes, and the rule that sums them: polynomials by hand."""

from __future__ import annotations

from math import factorial, pi

import numpy as np
import pytest

from simedge.fem.nodal_forces import body_forces
from simedge.fem.triangle_rule import triangle_rule
from simedge.section.mesh import SectionMesh
from simedge.section.outline import Floats
from simedge.studies.verify.mapped_mesh import mapped_mesh


def rectangle(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    return 3.0 * u, 2.0 * v


def quarter_ring(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    radius, angle = 1.0 + u, 0.5 * pi * v
    return radius * np.cos(angle), radius * np.sin(angle)


@pytest.fixture
def plate() -> SectionMesh:
    return mapped_mesh(rectangle, cells=(4, 3), boundary={})


@pytest.mark.parametrize("count", [1, 2, 4, 6])
def test_polynomials_up_to_the_rules_degree_are_summed_exactly(count: int) -> None:
    (x, y), weights = triangle_rule(count)
    degree = 2 * count - 1
    for i in range(degree + 1):
        for j in range(degree + 1 - i):
            # over the triangle (0, 0), (1, 0), (0, 1): i! j! / (i + j + 2)!
            exact = factorial(i) * factorial(j) / factorial(i + j + 2)
            assert float(weights @ (x**i * y**j)) == pytest.approx(exact, rel=1e-13)


def test_the_rule_ends_at_its_degree() -> None:
    (x, _), weights = triangle_rule(2)
    # x^4: 4! / 6! = 1 / 30, one degree beyond what two points a direction can
    assert abs(float(weights @ x**4) - 1.0 / 30.0) > 1e-4


def test_an_even_force_adds_up_to_its_size_times_the_area(plate: SectionMesh) -> None:
    forces = body_forces(plate, lambda x, y: np.stack([7.0 + 0.0 * x, -2.0 + 0.0 * y]))
    assert forces.sum(axis=1) == pytest.approx([42.0, -12.0], rel=1e-13)


def test_middles_carry_an_even_force_alone(plate: SectionMesh) -> None:
    # of a straight six-node triangle each middle a third, each corner nothing
    forces = body_forces(plate, lambda x, y: np.stack([1.0 + 0.0 * x, 0.0 * y]))
    assert np.abs(forces[0, : plate.corners]).max() <= 1e-15
    assert np.abs(forces[1]).max() == 0.0
    area = 6.0 / plate.triangles.shape[1]
    uses = np.bincount(plate.triangles[3:].ravel(), minlength=plate.points_mm.shape[1])
    assert forces[0] == pytest.approx(uses * area / 3.0, abs=1e-14)


def test_its_work_on_a_movement_of_second_degree_is_exact(plate: SectionMesh) -> None:
    # force (x^3 y^2, y) on the movement (x^2, x y) over 3 by 2: the integrals of x^5 y^2
    # (3^6 / 6 times 8 / 3) and of x y^2 (9 / 2 times 8 / 3)
    forces = body_forces(plate, lambda x, y: np.stack([x**3 * y**2, y]))
    x, y = plate.points_mm
    found = float((forces * np.stack([x**2, x * y])).sum())
    assert found == pytest.approx(3.0**6 / 6.0 * 8.0 / 3.0 + 9.0 / 2.0 * 8.0 / 3.0, rel=1e-13)


def test_curved_triangles_take_a_curved_area() -> None:
    # a quarter ring from 1 to 2: 3 pi / 4; parabolas miss a circle by the fourth power of a turn
    missed = []
    for cells in (4, 8):
        ring = mapped_mesh(quarter_ring, cells=(2, cells), boundary={})
        forces = body_forces(ring, lambda x, y: np.stack([1.0 + 0.0 * x, 0.0 * y]))
        missed.append(float(forces[0].sum()) / (0.75 * pi) - 1.0)
    assert abs(missed[1]) <= 1e-5
    assert missed[0] / missed[1] == pytest.approx(16.0, rel=0.05)
