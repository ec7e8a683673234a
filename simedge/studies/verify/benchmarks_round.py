"""Round things with exact solutions: a hole in a stretched plate, a cylinder under pressure."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

import numpy as np

from simedge.fem.elastic import Displacement, displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.nodal_forces import traction_forces
from simedge.fem.stress_field import von_mises
from simedge.section.mesh import SectionMesh
from simedge.section.outline import Floats
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.mapped_mesh import graded, mapped_mesh, point_at, points_on
from simedge.studies.verify.raw_stress import raw_stress_mpa

STEEL = Elasticity(youngs_modulus_mpa=210e3, poissons_ratio=0.3)
#: Radius of the hole, and of the circle at which the endless plate is cut out.
HOLE_MM, CUT_MM = 1.0, 4.0
STRETCH_MPA = 100.0
#: Inner and outer radius of the cylinder.
BORE_MM, OUTSIDE_MM = 1.0, 2.0
PRESSURE_MPA = 100.0


def _quarter_ring(
    inner_mm: float, outer_mm: float, growth: float, cells: tuple[int, int]
) -> SectionMesh:
    """Mesh a quarter of a ring between the x and the y axis."""

    def place(u: Floats, v: Floats) -> tuple[Floats, Floats]:
        radius = inner_mm + (outer_mm - inner_mm) * graded(u, growth)
        angle = 0.5 * np.pi * v
        return radius * np.cos(angle), radius * np.sin(angle)

    return mapped_mesh(
        place,
        cells=cells,
        boundary={"u=0": "inner", "u=1": "outer", "v=0": "on x axis", "v=1": "on y axis"},
    )


def _pull_quarter(
    mesh: SectionMesh, loaded: str, traction: Callable[[Floats, Floats], Floats]
) -> Displacement:
    """Load one arc of a quarter whose straight sides mirror the rest."""
    held = np.zeros(mesh.points_mm.shape, dtype=bool)
    held[1, points_on(mesh, "on x axis")] = True
    held[0, points_on(mesh, "on y axis")] = True
    forces = traction_forces(mesh, mesh.boundary[loaded], traction)
    return displace(hold_section(mesh, STEEL, held), [forces])


def _kirsch_traction(x: Floats, y: Floats) -> Floats:
    """Give what the rest of the endless plate pulls with, where it is cut on a circle."""
    radius, angle = np.hypot(x, y), np.arctan2(y, x)
    near = (HOLE_MM / radius) ** 2
    # sigma_r = S/2 (1 - q) + S/2 (1 - 4q + 3q^2) cos 2t, q = (a/r)^2            [Kirsch]
    # tau_rt  = -S/2 (1 + 2q - 3q^2) sin 2t
    half = 0.5 * STRETCH_MPA
    radial = half * (1.0 - near + (1.0 - 4.0 * near + 3.0 * near**2) * np.cos(2.0 * angle))
    shear = -half * (1.0 + 2.0 * near - 3.0 * near**2) * np.sin(2.0 * angle)
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.stack([radial * cosine - shear * sine, radial * sine + shear * cosine])


def _kirschs_hole() -> tuple[Comparison, ...]:
    mesh = _quarter_ring(HOLE_MM, CUT_MM, growth=8.0, cells=(48, 64))
    stress = raw_stress_mpa(_pull_quarter(mesh, "outer", _kirsch_traction))[:, 0]
    side, front = point_at(mesh, 0.0, HOLE_MM), point_at(mesh, HOLE_MM, 0.0)
    return (
        Comparison(
            what="tension at the hole's edge across the pull, over the pull",
            computed=float(stress[0, side]) / STRETCH_MPA,
            reference=3.0,
            unit="",
            tolerance=3e-4,
        ),
        Comparison(
            what="pressure at the hole's edge in line with the pull, over the pull",
            computed=float(stress[1, front]) / STRETCH_MPA,
            reference=-1.0,
            unit="",
            tolerance=1e-3,
        ),
        Comparison(
            what="von Mises where the tension is largest, over the pull",
            computed=float(von_mises(stress[:, side])) / STRETCH_MPA,
            reference=2.6664583,
            unit="",
            tolerance=3e-4,
        ),
    )


def _pressed_bore(x: Floats, y: Floats) -> Floats:
    return np.asarray(PRESSURE_MPA * np.stack([x, y]) / np.hypot(x, y))


def _thick_cylinder() -> tuple[Comparison, ...]:
    mesh = _quarter_ring(BORE_MM, OUTSIDE_MM, growth=2.0, cells=(40, 60))
    moved = _pull_quarter(mesh, "inner", _pressed_bore)
    stress = raw_stress_mpa(moved)[:, 0]
    bore, outside = point_at(mesh, BORE_MM, 0.0), point_at(mesh, OUTSIDE_MM, 0.0)
    outward = float(moved.at_points_mm[0, 0, outside])
    radial, hoop = (float(part) for part in stress[:2, bore])
    # sigma_t(a) = p (b^2 + a^2) / (b^2 - a^2), of a = 1 and b = 2: 5/3 p        [Lamé]
    # u(b) = 2 (1 - nu^2) p a^2 b / (E (b^2 - a^2)): 4/3 (1 - nu^2) p / E
    widened = 4.0 / 3.0 * (1.0 - STEEL.poissons_ratio**2) * PRESSURE_MPA / STEEL.youngs_modulus_mpa
    return (
        Comparison(
            what="hoop tension at the bore, over the pressure",
            computed=hoop / PRESSURE_MPA,
            reference=5.0 / 3.0,
            unit="",
            tolerance=3e-4,
        ),
        Comparison(
            what="outward movement of the outside",
            computed=outward,
            reference=widened,
            unit="mm",
            tolerance=1e-5,
        ),
        Comparison(
            what="pressure at first yield by the largest shear, over the shear yield point",
            computed=2.0 * PRESSURE_MPA / (hoop - radial),
            reference=0.75,
            unit="",
            tolerance=3e-4,
        ),
        Comparison(
            what="pressure at first yield by von Mises, over the shear yield point",
            computed=sqrt(3.0) * PRESSURE_MPA / float(von_mises(stress[:, bore])),
            reference=0.74875,
            unit="",
            tolerance=3e-4,
        ),
    )


CHECKS: tuple[Check, ...] = (
    Check(
        key="kirsch-hole",
        title="Round hole in an endless plate under tension, in plane strain (Kirsch)",
        source="G. Kirsch, Z. VDI 42 (1898) 797-807 (from memory); von Mises follows by algebra",
        reason=(
            "Exact tractions act on the outer circle, so only the 64 elements around the quarter "
            "hole are left: 0.003 % where stress is largest, 0.05 % where it is a third."
        ),
        compare=_kirschs_hole,
    ),
    Check(
        key="thick-cylinder",
        title="Thick cylinder under internal pressure, elastic, in plane strain (Lamé)",
        source=(
            "G. Lamé 1852 (from memory); first yield: R. Hill, The Mathematical Theory of "
            "Plasticity, 1950, ch. V (chapter from memory)"
        ),
        reason=(
            "Stress at the bore is off by 0.01 % with 40 elements through the wall and 60 around, "
            "movement far less; von Mises' first yield is printed to five digits."
        ),
        compare=_thick_cylinder,
    ),
)
