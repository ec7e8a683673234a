"""Gradients recovered from values at the mesh's points: exact for every cubic, boundary too."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge.fem.recovery import CUBIC, fit_patches
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import Outline

Section = tuple[Outline, SectionMesh]
Spacing = Callable[[SectionMesh], float]
EPSILON = float(np.finfo(float).eps)


def cubic(coefficients: list[float], x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Give the value and both derivatives of a cubic, shape (3, n)."""
    value, by_x, by_y = (np.zeros_like(x) for _ in range(3))
    for c, (i, j) in zip(coefficients, CUBIC, strict=True):
        value += c * x**i * y**j
        by_x += c * i * x ** max(i - 1, 0) * y**j
        by_y += c * j * x**i * y ** max(j - 1, 0)
    return np.stack([value, by_x, by_y])


def slack(mesh: SectionMesh, spacing_mm: Spacing, scale_mm: float) -> float:
    """Give what rounding leaves of a gradient of values of order 1: eps over the patch's size."""
    return max(1e-9, 100 * EPSILON * scale_mm / spacing_mm(mesh))


def test_gradients_of_a_cubic_by_hand(section: Section, spacing_mm: Spacing) -> None:
    _, mesh = section
    x, y = mesh.points_mm / 10.0  # of order 1, so that no term drowns the others
    values = np.stack([1 + x**3 - 2 * x**2 * y + x * y - 4 * y, y**3 + x * y**2 - x**2 + 3 * x])
    expected = np.array(
        [
            [3 * x**2 - 4 * x * y + y, y**2 - 2 * x + 3],
            [-2 * x**2 + x - 4, 3 * y**2 + 2 * x * y],
        ]
    )
    found = 10.0 * fit_patches(mesh, values).gradients()
    assert np.abs(found - expected).max() <= slack(mesh, spacing_mm, 10.0)


@settings(max_examples=25)
@given(coefficients=st.lists(st.floats(-1, 1), min_size=len(CUBIC), max_size=len(CUBIC)))
def test_gradients_of_any_cubic(
    rope: Section, spacing_mm: Spacing, coefficients: list[float]
) -> None:
    _, mesh = rope
    value, by_x, by_y = cubic(coefficients, *mesh.points_mm / 10.0)
    found = 10.0 * fit_patches(mesh, value[None]).gradients()[:, 0]
    # 1e-8 of the largest coefficient, besides what 1.5 µm leave of the last digit
    assert np.abs(found - [by_x, by_y]).max() <= max(1e-8, slack(mesh, spacing_mm, 10.0))


def test_gradients_of_cubics_about_the_tip_in_its_own_scale(edge: Callable[..., Outline]) -> None:
    # All of its patches, curved edges included, to 1e-9: nothing here is lost to rounding.
    outline = edge()
    mesh = mesh_outline(outline, {}, Resolution.for_accuracy(1.0))
    radius = outline.tip.radius_mm
    x, y = mesh.points_mm / radius
    near = x < 10
    found = radius * fit_patches(mesh, np.stack([x**3 - x * y**2 + y])).gradients()[:, 0, near]
    expected = np.stack([3 * x**2 - y**2, 1 - 2 * x * y])[:, near]
    assert np.abs(found - expected).max() <= 1e-9 * np.abs(expected).max()


def test_a_shift_has_no_gradient_at_all(section: Section) -> None:
    _, mesh = section
    shifted = np.full((1, mesh.points_mm.shape[1]), 7.0)
    assert np.abs(fit_patches(mesh, shifted).gradients()).max() == 0.0


def test_a_large_shift_costs_only_its_last_digits(rope: Section) -> None:
    # The tip of a slim blade moves a million times farther than its first element strains.
    _, mesh = rope
    field = 1e-6 * np.sin(mesh.points_mm[:1] / 3.0)
    plain, shifted = (fit_patches(mesh, field + move).gradients() for move in (0.0, 1.0))
    rounding = 100 * EPSILON / (mesh.points_mm[0, mesh.points_mm[0] > 0].min())
    assert np.abs(shifted - plain).max() <= rounding


def test_fields_do_not_know_of_each_other(rope: Section) -> None:
    _, mesh = rope
    x, y = mesh.points_mm
    fields = np.stack([np.sin(x), x * y, np.cos(3 * y) - x])
    together = fit_patches(mesh, fields).gradients()
    assert together.shape == (2, 3, x.size)
    for index, field in enumerate(fields):
        alone = fit_patches(mesh, field[None]).gradients()[:, 0]
        assert np.abs(together[:, index] - alone).max() <= 1e-9 * np.abs(alone).max()


def test_a_smooth_field_is_recovered_with_the_third_order(edge: Callable[..., Outline]) -> None:
    # A cubic's slope errs with the cube of the element size; twice as fine is 8 times as good.
    outline = edge(radius_um=300.0, bevels=(), clamp_mm=3.0)
    errors, sizes = [], []
    for accuracy in (8.0, 1.0):  # sizes go with the cube root
        mesh = mesh_outline(outline, {}, Resolution.for_accuracy(accuracy))
        x, y = mesh.points_mm
        found = fit_patches(mesh, np.stack([np.sin(x + 2 * y)])).gradients()[:, 0]
        expected = np.stack([np.cos(x + 2 * y), 2 * np.cos(x + 2 * y)])
        errors.append(np.sqrt(((found - expected) ** 2).mean()))
        sizes.append(mesh.triangles.shape[1] ** -0.5)
    order = np.log(errors[0] / errors[1]) / np.log(sizes[0] / sizes[1])
    # measured on meshes that are refined only on the average: half an order is scatter
    assert order > 2.5, (errors, sizes)


@pytest.mark.parametrize("scale", [1e-3, 1e3])
def test_gradients_scale_with_the_section(
    scale: float, edge: Callable[..., Outline], rope: Section
) -> None:
    _, mesh = rope
    values = np.stack([np.sin(mesh.points_mm[0])])
    larger = replace(mesh, points_mm=scale * mesh.points_mm)
    plain = fit_patches(mesh, values).gradients()
    assert np.abs(scale * fit_patches(larger, values).gradients() - plain).max() <= (
        1e-9 * np.abs(plain).max()
    )
