"""Forces on nodes and the displacements that they make: sums, work, reciprocity, a bar by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import cos, radians

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge.errors import NumericsFailed
from simedge.fem.elastic import Displacement, HeldSection, displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.nodal_forces import nodal_forces
from simedge.inputs.curves import Curve
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import SIDES, Outline, Stretch, Tip
from simedge.section.tractions import (
    FaceTraction,
    TipTraction,
    Tractions,
    face_resultant,
    tip_resultant,
)

Edge = Callable[..., Outline]
Section = tuple[Outline, SectionMesh]

STEEL = Elasticity(youngs_modulus_mpa=207e3, poissons_ratio=0.29)
TIP = TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=-1.0)


def press(side: str, begin: float = 0.02, end: float = 1.5) -> FaceTraction:
    return FaceTraction(
        side=side,  # type: ignore[arg-type]
        from_mm=begin,
        to_mm=end,
        pressure_mpa=40.0,
        friction=0.3,
    )


def acting(*parts: TipTraction | FaceTraction) -> Tractions:
    return Tractions(
        name="",
        tip=tuple(p for p in parts if isinstance(p, TipTraction)),
        faces=tuple(p for p in parts if isinstance(p, FaceTraction)),
    )


def moment_n(mesh: SectionMesh, forces: np.ndarray) -> float:
    x, y = mesh.points_mm
    return float((x * forces[1] - y * forces[0]).sum())


@pytest.fixture(scope="module")
def held(rope: Section) -> HeldSection:
    return hold_section(rope[1], STEEL)


@pytest.fixture(scope="module")
def moved(rope: Section, held: HeldSection) -> tuple[list[np.ndarray], Displacement]:
    """Move the rope knife under a tip load, a pressed face, and both."""
    outline, mesh = rope
    loads = (acting(TIP), acting(press("left")), acting(TIP, press("left")))
    forces = [nodal_forces(mesh, outline, load) for load in loads]
    return forces, displace(held, forces)


# ---------------------------------------------------------------- the material


def test_lames_constants_by_hand() -> None:
    # E = 260, nu = 0.3: shear 260 / 2.6 = 100, volume 2 x 100 x 0.3 / 0.4 = 150
    found = Elasticity(youngs_modulus_mpa=260.0, poissons_ratio=0.3).lame_mpa
    assert found == pytest.approx((150.0, 100.0), rel=1e-14)
    assert Elasticity(youngs_modulus_mpa=200.0, poissons_ratio=0.0).lame_mpa == (0.0, 100.0)


# ---------------------------------------------------------------- stiffness


def test_moving_a_section_as_a_whole_takes_no_force(held: HeldSection) -> None:
    x, y = held.mesh.points_mm
    scale = np.abs(held.stiffness.diagonal()).max() * 12.0
    for movement in ((1 + 0 * x, 0 * x), (0 * x, 1 + 0 * x), (-y, x)):
        forces = held.stiffness @ np.stack(movement, axis=1).ravel()
        assert np.abs(forces).max() <= 1e-12 * scale


def test_stiffness_is_symmetric(held: HeldSection) -> None:
    difference = abs(held.stiffness - held.stiffness.T).max()
    assert difference <= 1e-14 * abs(held.stiffness).max()


@pytest.mark.parametrize("ratio", [0.0, 0.29, 0.45])
def test_energy_of_a_uniform_strain_by_hand(ratio: float, section: Section) -> None:
    # Over any section: its area times stress times strain, in plane strain.
    outline, mesh = section
    elasticity = Elasticity(youngs_modulus_mpa=1000.0, poissons_ratio=ratio)
    stiffness = hold_section(mesh, elasticity).stiffness
    volume, shear = elasticity.lame_mpa
    for by_x, by_y in (
        ((1.0, 0.0), (0.0, 0.0)),
        ((0.0, 0.0), (0.0, 1.0)),
        ((0.2, 3.0), (-1.0, 0.7)),
    ):
        movement = np.outer(mesh.points_mm[0], by_x) + np.outer(mesh.points_mm[1], by_y)
        xx, yy, xy = by_x[0], by_y[1], 0.5 * (by_x[1] + by_y[0])
        density = volume * (xx + yy) ** 2 + 2 * shear * (xx**2 + yy**2 + 2 * xy**2)
        found = movement.ravel() @ (stiffness @ movement.ravel())
        # the parabolas of a rounded tip enclose the section's area to 1e-6
        assert found == pytest.approx(density * outline.area_mm2, rel=1e-6)


def test_a_section_that_nothing_holds_is_refused(rope: Section) -> None:
    mesh = rope[1]
    loose = replace(mesh, boundary={**mesh.boundary, "base": np.zeros((3, 0), dtype=np.int64)})
    with pytest.raises(NumericsFailed, match="rigid body motion: nothing is held"):
        hold_section(loose, STEEL)


# ---------------------------------------------------------------- forces on nodes


@pytest.mark.parametrize("spread", ["smooth", "uniform"])
def test_forces_of_a_tip_load_add_up_to_it(spread: str, section: Section) -> None:
    outline, mesh = section
    part = replace(TIP, spread=spread)  # type: ignore[arg-type]
    forces = nodal_forces(mesh, outline, acting(part))
    assert forces.sum(axis=1) == pytest.approx([3.0, -1.0], rel=1e-13)
    # elsewhere there is none
    away = np.ones(mesh.points_mm.shape[1], dtype=bool)
    away[np.unique(mesh.boundary["tip"])] = False
    if outline.tip.kind == "sharp":
        away[mesh.foremost] = False
    assert np.abs(forces[:, away]).max() == 0.0
    # and its line of action is that of the spread: 8 elements carry cos^2 to a part in 1000
    wanted = tip_resultant(part, outline)[2]
    assert moment_n(mesh, forces) == pytest.approx(wanted, rel=1e-3, abs=1e-15)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(("begin", "end"), [(0.02, 1.5), (0.05, 0.06), (0.3, 11.0)])
def test_forces_of_a_pressed_stretch_are_its_resultant(
    side: str, begin: float, end: float, edge: Edge
) -> None:
    outline = edge(((20.0, 12.0, 0.05), (10.0, 12.0, 1.0)), left_fraction=0.3)
    ends = {side: (begin, end)}
    mesh = mesh_outline(outline, ends, Resolution.for_accuracy(5.0))  # type: ignore[arg-type]
    part = press(side, begin, end)
    forces = nodal_forces(mesh, outline, acting(part))
    wanted = face_resultant(part, outline, end)
    assert forces.sum(axis=1) == pytest.approx(
        [wanted.axial_n_per_mm[0], wanted.lateral_n_per_mm[0]], rel=1e-11
    )
    # constant traction on straight edges: the quadrature is exact for its moment too
    assert moment_n(mesh, forces) == pytest.approx(float(wanted.moment_n[0]), rel=1e-11)
    x = mesh.points_mm[0]
    outside = (x < begin - 1e-9) | (x > end + 1e-9)
    assert np.abs(forces[:, outside]).max() == 0.0


def test_forces_of_all_parts_add(rope: Section) -> None:
    outline, mesh = rope
    parts = (TIP, press("left"), press("right", 0.02, 1.5))
    together = nodal_forces(mesh, outline, acting(*parts[:2]))
    apart = sum(nodal_forces(mesh, outline, acting(part)) for part in parts[:2])
    assert np.abs(together - apart).max() <= 1e-15


def test_nothing_acts_where_nothing_is_put(rope: Section) -> None:
    outline, mesh = rope
    assert np.abs(nodal_forces(mesh, outline, acting())).max() == 0.0


def test_a_stretch_between_two_nodes_is_refused_not_lost(rope: Section) -> None:
    outline, mesh = rope
    x = np.sort(mesh.points_mm[0, np.unique(mesh.boundary["right"][:2])])
    gap = int(np.argmax(np.diff(x)))
    begin, end = x[gap] + 0.6 * (x[gap + 1] - x[gap]), x[gap] + 0.7 * (x[gap + 1] - x[gap])
    with pytest.raises(NumericsFailed, match="too short for the mesh to carry") as caught:
        nodal_forces(mesh, outline, acting(press("right", begin, end)))
    assert caught.value.exit_code == 3


# ---------------------------------------------------------------- displacements


def test_the_clamp_does_not_move_and_forces_balance(
    held: HeldSection, moved: tuple[list[np.ndarray], Displacement]
) -> None:
    forces, found = moved
    assert found.at_points_mm.shape == (3, 2, held.mesh.points_mm.shape[1])
    base = np.unique(held.mesh.boundary["base"])
    assert np.abs(found.at_points_mm[:, :, base]).max() == 0.0
    assert found.residual.max() <= 1e-9
    assert found.reaction_error.max() <= 1e-9
    for force, movement in zip(forces, found.at_points_mm, strict=True):
        carried = held.stiffness @ movement.T.ravel() - force.T.ravel()
        free = np.zeros(carried.size, dtype=bool)
        free[held.free] = True
        # in double precision the product itself is only good to eps k u
        rounding = 10 * np.finfo(float).eps * abs(held.stiffness).max() * np.abs(movement).max()
        assert np.abs(carried[free]).max() <= rounding
        reaction = carried.reshape(-1, 2).T[:, base].sum(axis=1)
        assert reaction == pytest.approx(-force.sum(axis=1), rel=1e-6)


def test_a_loads_own_work_is_positive_and_works_are_mutual(
    moved: tuple[list[np.ndarray], Displacement],
) -> None:
    forces, found = moved
    work = np.einsum("acn,bcn->ab", np.stack(forces), found.at_points_mm)
    assert (np.diag(work) > 0).all()
    assert np.abs(work - work.T).max() <= 1e-9 * np.abs(work).max()  # Betti


def test_displacements_add(moved: tuple[list[np.ndarray], Displacement]) -> None:
    one, other, both = moved[1].at_points_mm
    assert np.abs(both - one - other).max() <= 1e-9 * np.abs(both).max()


@settings(max_examples=15)
@given(times=st.floats(-1e6, 1e6).filter(lambda t: abs(t) > 1e-6))
def test_displacements_go_with_the_load(
    held: HeldSection, moved: tuple[list[np.ndarray], Displacement], times: float
) -> None:
    forces, found = moved
    scaled = displace(held, [times * forces[0]]).at_points_mm[0]
    plain = found.at_points_mm[0]
    assert np.abs(scaled / times - plain).max() <= 1e-9 * np.abs(plain).max()


def test_displacements_go_against_the_modulus(
    rope: Section, moved: tuple[list[np.ndarray], Displacement]
) -> None:
    softer = hold_section(rope[1], replace(STEEL, youngs_modulus_mpa=207e2))
    plain = moved[1].at_points_mm[0]
    found = displace(softer, [moved[0][0]]).at_points_mm[0]
    assert np.abs(found - 10 * plain).max() <= 1e-9 * np.abs(found).max()


def test_no_force_moves_nothing(held: HeldSection) -> None:
    found = displace(held, [np.zeros_like(held.mesh.points_mm)])
    assert np.abs(found.at_points_mm).max() == 0.0
    assert (found.residual[0], found.reaction_error[0]) == (0.0, 0.0)


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_a_solution_that_is_no_number_is_not_shown(bad: float, held: HeldSection) -> None:
    forces = np.zeros_like(held.mesh.points_mm)
    forces[0, held.mesh.foremost] = bad
    with pytest.raises(NumericsFailed, match="does not balance its load"):
        displace(held, [forces])


def test_a_solver_that_errs_is_found_out(held: HeldSection) -> None:
    # whatever the factorisation gives, forces must balance
    forces = np.zeros_like(held.mesh.points_mm)
    forces[1, held.mesh.foremost] = 1.0
    wrong = replace(held, solve=lambda right: 0.5 * held.solve(right) ** 2)
    with pytest.raises(NumericsFailed, match="residual"):
        displace(wrong, [forces])


def test_a_solver_that_errs_a_little_is_corrected(
    held: HeldSection, moved: tuple[list[np.ndarray], Displacement]
) -> None:
    # each correction leaves a hundredth of the error: the steps that are allowed are enough
    off = replace(held, solve=lambda right: 0.99 * held.solve(right))
    found = displace(off, [moved[0][0]]).at_points_mm[0]
    plain = moved[1].at_points_mm[0]
    assert np.abs(found - plain).max() <= 1e-9 * np.abs(plain).max()


STRAIGHT_BAR = Curve(begin_mm=(0.0, 1.0), end_mm=(10.0, 1.0))


def bar() -> Outline:
    """Give a bar 2 mm thick and 10 mm long; no blade has quite parallel faces from the tip on."""
    left, right = ((Stretch(name="bar", side=side, curve=STRAIGHT_BAR),) for side in SIDES)
    tip = Tip(kind="land", radius_mm=0.0, left_mm=(0.0, 1.0), right_mm=(0.0, -1.0))
    return Outline(tip=tip, left=left, right=right, depth_mm=10.0)


@pytest.mark.parametrize("ratio", [0.0, 0.29])
def test_a_bar_by_hand(ratio: float) -> None:
    # 6 N/mm on 2 mm press 3 MPa everywhere; that shortens 10 mm by 10 x 3 (1 - nu^2) / E.
    outline = bar()
    mesh = mesh_outline(outline, {}, Resolution.for_accuracy(5.0))
    elasticity = Elasticity(youngs_modulus_mpa=200e3, poissons_ratio=ratio)
    load = TipTraction(axial_n_per_mm=6.0, lateral_n_per_mm=0.0, spread="uniform")
    forces = nodal_forces(mesh, outline, acting(load))
    found = displace(hold_section(mesh, elasticity), [forces]).at_points_mm[0]
    strain = 3.0 * (1 - ratio**2) / 200e3
    if ratio == 0.0:  # nothing bulges, and the clamp holds nothing back
        assert found[0] == pytest.approx(strain * (10.0 - mesh.points_mm[0]), abs=1e-14)
        assert np.abs(found[1]).max() <= 1e-14
        return
    # the clamp keeps a thickness from bulging, which takes nu^2 / (1 - nu)^2 = 17 % of the strain
    # of some part of that thickness, in 10 mm at most 3 %
    assert 0.97 * 10.0 * strain < found[0, mesh.foremost] < 10.0 * strain
    # and four thicknesses off it bulges freely, by nu / (1 - nu) times the strain
    top = int(np.argmin(np.hypot(mesh.points_mm[0], mesh.points_mm[1] - 1.0)))
    assert found[1, top] == pytest.approx(strain * ratio / (1 - ratio), rel=1e-3)


def test_a_force_along_a_leaning_face_has_its_own_direction(edge: Edge) -> None:
    # 45 degrees: pressure is as much axial as lateral, per mm of depth p x 1
    outline = edge((), dps=45.0, height_mm=2.0, clamp_mm=1.9, radius_um=10.0)
    mesh = mesh_outline(outline, {"left": (0.5, 1.5)}, Resolution.for_accuracy(5.0))
    part = replace(press("left", 0.5, 1.5), friction=0.0)
    forces = nodal_forces(mesh, outline, acting(part)).sum(axis=1)
    assert forces == pytest.approx([40.0, -40.0], rel=1e-11)
    assert np.hypot(*forces) == pytest.approx(40.0 / cos(radians(45)), rel=1e-11)
