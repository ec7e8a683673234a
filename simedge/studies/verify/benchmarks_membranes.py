"""Membranes: thin sheets under load in their plane, the field's oldest measuring sticks."""

from __future__ import annotations

import numpy as np

from simedge.fem.elastic import displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.nodal_forces import traction_forces
from simedge.section.outline import Floats
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.mapped_mesh import graded, mapped_mesh, point_at, points_on
from simedge.studies.verify.raw_stress import raw_stress_mpa

#: Half axes along x and y of the elliptic membrane's two edges, m in the original.
INNER, OUTER = (2.0, 1.0), (3.25, 2.75)
OUTWARD_MPA = 10.0
#: Elements at the point asked for are so much smaller than at the far end.
GROWTH_AROUND, GROWTH_ACROSS = 10.0, 6.0
#: Of the panel's steps at its corners, which stress keeps to itself: 0 for all alike, below 1.
CROWDING = 0.9


def _elliptic_quarter(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    """Carry u outward and v around, from the x axis to the y axis."""
    out = graded(u, GROWTH_ACROSS)
    angle = 0.5 * np.pi * graded(v, GROWTH_AROUND)
    half_x, half_y = (
        (1.0 - out) * inner + out * outer for inner, outer in zip(INNER, OUTER, strict=True)
    )
    return half_x * np.cos(angle), half_y * np.sin(angle)


def _outward(x: Floats, y: Floats) -> Floats:
    normal = np.stack([x / OUTER[0] ** 2, y / OUTER[1] ** 2])
    return np.asarray(OUTWARD_MPA * normal / np.hypot(*normal))


def _elliptic_membrane() -> tuple[Comparison, ...]:
    mesh = mapped_mesh(
        _elliptic_quarter,
        cells=(48, 64),
        boundary={"u=1": "outer", "v=0": "on x axis", "v=1": "on y axis"},
    )
    held = np.zeros(mesh.points_mm.shape, dtype=bool)
    held[1, points_on(mesh, "on x axis")] = True
    held[0, points_on(mesh, "on y axis")] = True
    sheet = Elasticity(youngs_modulus_mpa=210e3, poissons_ratio=0.3, plane="stress")
    section = hold_section(mesh, sheet, held)
    moved = displace(section, [traction_forces(mesh, mesh.boundary["outer"], _outward)])
    stress = raw_stress_mpa(moved)[:, 0, point_at(mesh, 2.0, 0.0)]
    return (
        Comparison(
            what="stress along y where the inner ellipse meets the x axis (point D)",
            computed=float(stress[1]),
            reference=92.7,
            unit="MPa",
            tolerance=0.05,
            absolute=True,
        ),
    )


def _crowded(share: Floats) -> Floats:
    """Carry shares of a length so that steps are shorter at both of its ends."""
    return share - CROWDING * np.sin(2.0 * np.pi * share) / (2.0 * np.pi)


def _cooks_sheet(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    along, up = _crowded(u), _crowded(v)
    return 48.0 * along, 44.0 * along + up * (44.0 - 28.0 * along)


def _cooks_membrane() -> tuple[Comparison, ...]:
    mesh = mapped_mesh(_cooks_sheet, cells=(40, 40), boundary={"u=0": "base", "u=1": "end"})
    sheet = Elasticity(youngs_modulus_mpa=1.0, poissons_ratio=1.0 / 3.0, plane="stress")
    shear = 1.0 / 16.0  # a force of 1 over an edge of 16, thickness 1
    forces = traction_forces(
        mesh, mesh.boundary["end"], lambda x, y: np.stack([0.0 * x, shear + 0.0 * y])
    )
    ((_, upward),) = displace(hold_section(mesh, sheet), [forces]).at_points_mm
    return (
        Comparison(
            what="movement of the middle of the loaded edge, (48, 52), along y",
            computed=float(upward[point_at(mesh, 48.0, 52.0)]),
            reference=23.96,
            unit="",
            tolerance=1e-3,
        ),
        Comparison(
            what="movement of the upper corner, (48, 60), along y",
            computed=float(upward[point_at(mesh, 48.0, 60.0)]),
            reference=25.18,
            unit="",
            tolerance=1e-3,
        ),
    )


CHECKS: tuple[Check, ...] = (
    Check(
        key="nafems-le1",
        title="Elliptic membrane in plane stress pulled at its outer edge (NAFEMS LE1)",
        source="The Standard NAFEMS Benchmarks, TNSB Rev. 3, NAFEMS 1990, test LE1 (from memory)",
        reason=(
            "The target is printed to a tenth of a MPa, so half of one is allowed; finer meshes "
            "of ours settle at 92.66."
        ),
        compare=_elliptic_membrane,
    ),
    Check(
        key="cook-membrane",
        title="Tapered panel in plane stress, clamped and sheared at its end (Cook's membrane)",
        source=(
            "R. D. Cook, J. Struct. Div. ASCE 100 (1974) 1851-1863 (from memory); the corner's "
            "figure, which some pages confuse with the mid-edge's 23.96, from second-order "
            "quadrilaterals of our own, 128 a side"
        ),
        reason=(
            "The figures have four digits, and meshes near them slowly from a clamp corner without "
            "bound (finer ones give 23.968 and 25.19); the two points lie 5 % apart."
        ),
        compare=_cooks_membrane,
    ),
)
