"""Stress from displacements, and the two numbers that stand for it: exact where they must be."""

from __future__ import annotations

from math import radians, sqrt

import numpy as np
import pytest

from simedge.fem.elastic import displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.nodal_forces import nodal_forces
from simedge.fem.stress import recover_stress
from simedge.fem.stress_field import largest_principal, von_mises
from simedge.runs.run import Run
from simedge.section.mesh import SectionMesh
from simedge.section.outline import SIDES, Outline
from simedge.section.tractions import FaceTraction, TipTraction, Tractions

Section = tuple[Outline, SectionMesh]


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


def test_stress_meets_the_traction_on_every_face(rope: Section) -> None:
    outline, mesh = rope
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
        run_at = [next(run for run in runs if depth < run.end_mm[0]) for depth in x]
        angle = np.array([run.curve.chord_angle_rad for run in run_at])
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


def test_a_field_tells_its_own_mises_and_principal(rope_knife: Run) -> None:
    field = rope_knife.loads[0].stress
    assert np.array_equal(field.von_mises_mpa, von_mises(field.stress_mpa))
    assert np.array_equal(field.largest_principal_mpa, largest_principal(field.stress_mpa))
    assert not field.stress_mpa.flags.writeable
