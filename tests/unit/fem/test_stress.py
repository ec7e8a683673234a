"""Stress from displacements: exact where it must be, and looked up anywhere in the section."""

from __future__ import annotations

from collections.abc import Callable
from math import radians, sqrt
from typing import Any

import numpy as np
import pytest

from simedge.fem.elastic import Elasticity, displace, hold_section, nodal_forces
from simedge.fem.recovery import recover_gradients
from simedge.fem.stress import StressField, largest_principal, recover_stress, von_mises
from simedge.runs.run import Run
from simedge.section.mesh import Resolution, SectionMesh, mesh_outline
from simedge.section.outline import SIDES, Outline
from simedge.section.tractions import FaceTraction, TipTraction, Tractions

Edge = Callable[..., Outline]

SHAPES: dict[str, dict[str, Any]] = {
    "rope knife": {},
    "keen": {"radius_um": 0.02},
    "chisel": {"bevels": ((0.0, 25.0, 2.0),), "radius_um": 5.0},
    "land": {"land_um": 8.0},
}


def meshed(outline: Outline) -> SectionMesh:
    return mesh_outline(outline, {"left": (0.02, 1.5)}, Resolution.for_accuracy(1.0))


# ---------------------------------------------------------------- gradients


@pytest.mark.parametrize("name", SHAPES)
def test_gradients_of_cubics_are_exact(name: str, edge: Edge) -> None:
    mesh = meshed(edge(**SHAPES[name]))
    x, y = mesh.points_mm / 10.0  # of order 1, so that no term drowns the others
    values = np.stack([1 + x**3 - 2 * x**2 * y + x * y - 4 * y, y**3 + x * y**2 - x**2 + 3 * x])
    expected = np.array(
        [
            [3 * x**2 - 4 * x * y + y, y**2 - 2 * x + 3],
            [-2 * x**2 + x - 4, 3 * y**2 + 2 * x * y],
        ]
    )
    found = 10.0 * recover_gradients(mesh, values)
    # differences of values of order 1 over the smallest patches, some tip widths across
    patch = 0.1 * mesh_spacing(mesh)
    assert np.abs(found - expected).max() <= max(1e-9, 100 * np.finfo(float).eps / patch)


def mesh_spacing(mesh: SectionMesh) -> float:
    """Give the shortest edge of the mesh, mm."""
    begin, end = (mesh.points_mm[:, mesh.triangles[k]] for k in (0, 1))
    return float(np.hypot(*(end - begin)).min())


def test_gradients_of_cubics_about_the_tip_are_exact_there(edge: Edge) -> None:
    # The same in the tip's own scale: all of its patches, curved edges included, to 1e-9.
    outline = edge()
    mesh = meshed(outline)
    x, y = mesh.points_mm / outline.tip.radius_mm
    near = x < 10
    found = outline.tip.radius_mm * recover_gradients(mesh, np.stack([x**3 - x * y**2 + y]))
    expected = np.stack([3 * x**2 - y**2, 1 - 2 * x * y])
    scale = np.abs(expected[:, near]).max()
    assert np.abs(found[:, 0, near] - expected[:, near]).max() <= 1e-9 * scale


def test_a_shift_has_no_gradient(edge: Edge) -> None:
    mesh = meshed(edge())
    assert np.abs(recover_gradients(mesh, np.full((1, mesh.points_mm.shape[1]), 7.0))).max() == 0.0


# ---------------------------------------------------------------- one number for a stress


@pytest.mark.parametrize(
    ("stress", "mises", "principal"),
    [
        ((100.0, 0.0, 0.0, 0.0), 100.0, 100.0),
        ((-100.0, 0.0, 0.0, 0.0), 100.0, 0.0),
        ((0.0, 0.0, 100.0, 0.0), 100 * sqrt(3), 100.0),
        ((70.0, 70.0, 0.0, 70.0), 0.0, 70.0),
        # 3, 4, 0 and a shear of 12: squares 1 + 16 + 9 = 26, half 13, and 3 x 144
        ((3.0, 4.0, 12.0, 0.0), sqrt(445), 3.5 + sqrt(0.25 + 144)),
        # plane strain under uniaxial stress: sqrt(1 - nu + nu^2), nu = 0.3
        ((100.0, 0.0, 0.0, 30.0), 100 * sqrt(0.79), 100.0),
    ],
)
def test_von_mises_and_principal_by_hand(
    stress: tuple[float, ...], mises: float, principal: float
) -> None:
    column = np.array(stress)[:, None]
    assert von_mises(column) == pytest.approx([mises], abs=1e-12)
    assert largest_principal(column) == pytest.approx([principal], abs=1e-12)


def test_von_mises_and_principal_do_not_change_when_axes_turn() -> None:
    xx, yy, xy, zz = 300.0, -120.0, 80.0, 50.0
    for angle in radians(1) * np.arange(0, 180, 7):
        c, s = np.cos(angle), np.sin(angle)
        turned = np.array(
            [
                xx * c * c + yy * s * s + 2 * xy * s * c,
                xx * s * s + yy * c * c - 2 * xy * s * c,
                (yy - xx) * s * c + xy * (c * c - s * s),
                zz,
            ]
        )
        original = np.array([xx, yy, xy, zz])
        assert von_mises(turned) == pytest.approx(von_mises(original), rel=1e-12)
        assert largest_principal(turned) == pytest.approx(largest_principal(original), rel=1e-12)


# ---------------------------------------------------------------- recovery of a solution


def test_stress_meets_the_traction_on_every_face(edge: Edge) -> None:
    outline = edge()
    mesh = meshed(outline)
    load = Tractions(
        name="",
        tip=(TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=1.0),),
        faces=(
            FaceTraction(side="left", from_mm=0.02, to_mm=1.5, pressure_mpa=40.0, friction=0.3),
        ),
    )
    section = hold_section(mesh, Elasticity(youngs_modulus_mpa=207e3, poissons_ratio=0.29))
    moved = displace(section, [nodal_forces(mesh, outline, load)])
    (field,) = recover_stress(moved, outline, [load])
    x = np.array([0.01, 0.05, 0.7, 1.2, 1.4, 1.6, 5.0, 9.0])
    for side in SIDES:
        sign = 1.0 if side == "left" else -1.0
        runs = outline.face(side)
        angle = np.array([next(r.angle_rad for r in runs if depth < r.end_mm[0]) for depth in x])
        xx, yy, xy, _ = field.at(x, outline.face_y_mm(side, x))
        normal = np.stack([-np.sin(angle), sign * np.cos(angle)])
        found = np.stack([xx * normal[0] + xy * normal[1], xy * normal[0] + yy * normal[1]])
        expected = np.zeros_like(found)
        if side == "left":
            pressed = (x > 0.02) & (x < 1.5)
            expected[:, pressed] = np.transpose(
                [load.faces[0].traction(float(a)) for a in angle[pressed]]
            )
        # the nodes of a face hold its traction exactly, and between them it is constant
        scale = np.abs(field.stress_mpa).max()
        assert np.abs(found - expected).max() <= 1e-9 * scale


def test_plane_strain_holds_at_every_point(rope_knife: Run) -> None:
    ratio = rope_knife.steel.poissons_ratio
    for answer in rope_knife.loads:
        xx, yy, _, zz = answer.stress.stress_mpa
        assert np.abs(zz - ratio * (xx + yy)).max() <= 1e-12 * np.abs(xx).max()


# ---------------------------------------------------------------- looking a stress up


def field_of(mesh: SectionMesh, *components: np.ndarray) -> StressField:
    return StressField(mesh=mesh, stress_mpa=np.stack(np.broadcast_arrays(*components)))


@pytest.mark.parametrize("name", SHAPES)
def test_at_gives_the_nodes_back(name: str, edge: Edge) -> None:
    mesh = meshed(edge(**SHAPES[name]))
    x, y = mesh.points_mm
    field = field_of(mesh, np.arange(x.size, dtype=float), x, y, x * y)
    found = field.at(x, y)
    scale = np.abs(field.stress_mpa).max(axis=1, keepdims=True)
    # a node is found in its triangle to rounding, and triangles shrink to a fifth of the radius
    slack = 1e3 * np.finfo(float).eps * np.abs(mesh.points_mm).max() / mesh_spacing(mesh)
    assert np.abs((found - field.stress_mpa) / scale).max() <= max(1e-12, slack)


def test_at_is_exact_for_quadratic_fields_between_the_nodes(edge: Edge) -> None:
    mesh = meshed(edge())
    x, y = mesh.points_mm
    field = field_of(mesh, x**2, x * y, y**2 - x, 1 + 2 * y)
    place_x = np.linspace(0.1, 11.9, 200)
    place_y = 0.04 * place_x * np.sin(50 * place_x)
    found = field.at(place_x, place_y)
    expected = [place_x**2, place_x * place_y, place_y**2 - place_x, 1 + 2 * place_y]
    assert np.abs(found - expected).max() <= 1e-9 * 144


def test_at_takes_scalars_and_arrays_that_broadcast(rope_knife: Run) -> None:
    field = rope_knife.loads[0].stress
    assert field.at(1.0, 0.0).shape == (4, 1)
    assert field.at([1.0, 2.0, 3.0], 0.0).shape == (4, 3)
    assert field.at([], []).shape == (4, 0)
    assert field.at([1.0, 2.0], 0.0)[:, :1].tolist() == field.at(1.0, 0.0).tolist()


@pytest.mark.parametrize("name", SHAPES)
def test_at_takes_places_on_faces_and_base(name: str, edge: Edge) -> None:
    outline = edge(**SHAPES[name])
    mesh = meshed(outline)
    field = field_of(mesh, *np.ones((4, 1)) * mesh.points_mm[0])
    for side in SIDES:
        begin = outline.face_begins_mm(side)
        x = begin + np.concatenate([[0.0], np.geomspace(1e-6, outline.depth_mm - begin, 500)])
        x = np.minimum(x, outline.depth_mm)
        assert field.at(x, outline.face_y_mm(side, x))[0] == pytest.approx(x, abs=1e-9)
    y = np.linspace(*(float(outline.face_y_mm(side, outline.depth_mm)) for side in SIDES), 50)
    assert field.at(outline.depth_mm, y)[0] == pytest.approx(np.full(50, outline.depth_mm))


@pytest.mark.parametrize("name", SHAPES)
def test_at_takes_places_on_the_tip(name: str, edge: Edge) -> None:
    # Every place of the arc belongs to the section, though quadratic edges pass it by 1e-5 R.
    outline = edge(**SHAPES[name])
    field = field_of(meshed(outline), *np.ones((4, 1)) * meshed(outline).points_mm[0])
    x, y = outline.tip.point(np.linspace(0.0, 1.0, 101))
    assert field.at(x, y)[0] == pytest.approx(x, abs=1e-3 * outline.tip.width_mm)


@pytest.mark.parametrize(
    ("x", "y"),
    [(-1e-6, 0.0), (-5.0, 0.0), (12.001, 0.0), (6.0, 1.0), (6.0, -1.0), (0.0, 0.001), (1e6, 0.0)],
)
def test_a_place_outside_the_section_raises(x: float, y: float, rope_knife: Run) -> None:
    with pytest.raises(ValueError, match="outside the section"):
        rope_knife.loads[0].stress.at([1.0, x], [0.0, y])


@pytest.mark.parametrize("x", [float("nan"), float("inf")])
def test_a_place_that_is_no_number_raises(x: float, rope_knife: Run) -> None:
    with pytest.raises(ValueError, match="not a number"):
        rope_knife.loads[0].stress.at(x, 0.0)


def test_a_field_tells_its_own_mises_and_principal(rope_knife: Run) -> None:
    field = rope_knife.loads[0].stress
    assert np.array_equal(field.von_mises_mpa, von_mises(field.stress_mpa))
    assert np.array_equal(field.largest_principal_mpa, largest_principal(field.stress_mpa))
    assert not field.stress_mpa.flags.writeable
