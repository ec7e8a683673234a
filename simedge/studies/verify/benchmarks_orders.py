"""What a solver must do whatever the shape: linear fields exactly, smooth ones at its order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import log2, radians, tan

import numpy as np

from simedge.fem.elastic import Displacement, displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.lookup import shape_functions, shape_slopes
from simedge.fem.nodal_forces import body_forces, traction_forces
from simedge.fem.triangle_rule import triangle_rule
from simedge.section.mesh import SectionMesh
from simedge.section.outline import Floats
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.mapped_mesh import mapped_mesh, points_on
from simedge.studies.verify.raw_stress import raw_stress_mpa

STEEL = Elasticity(youngs_modulus_mpa=210e3, poissons_ratio=0.3)
HALF_ANGLE_RAD = radians(15.0)
#: Where the wedge is cut off, and where it is held, behind its virtual apex.
CUT_MM, HELD_MM = 1.0, 3.0
#: How far points stray from an even grid, as a share of the section's size.
STRAYING = 0.04
#: Derivatives of displacement of the patch test, u_x,x u_x,y u_y,x u_y,y, and its name.
LINEAR_FIELDS = {
    "stretched along x": (1e-3, 0.0, 0.0, 0.0),
    "stretched along y": (0.0, 0.0, 0.0, 1e-3),
    "sheared": (0.0, 1e-3, 1e-3, 0.0),
    "turned and strained at once": (2e-3, -7e-3, 5e-3, -1e-3),
}
#: Cells along and across the coarsest wedge; it is solved with them four and eight times finer.
COARSEST = (8, 4)


def _irregular(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    """Carry a square to itself, its inside moved about and its edges bowed."""
    return (
        u + STRAYING * np.sin(5.0 * v + 3.0 * u),
        v + STRAYING * np.sin(7.0 * u - 2.0 * v),
    )


def _wedge(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    x = CUT_MM + (HELD_MM - CUT_MM) * u
    return x, x * tan(HALF_ANGLE_RAD) * (2.0 * v - 1.0)


def _patch_test() -> tuple[Comparison, ...]:
    mesh = mapped_mesh(
        _irregular, cells=(6, 5), boundary={"u=0": "a", "u=1": "b", "v=0": "c", "v=1": "d"}
    )
    held = np.zeros(mesh.points_mm.shape, dtype=bool)
    for name in mesh.boundary:
        held[:, points_on(mesh, name)] = True
    section = hold_section(mesh, STEEL, held)
    slopes = [np.reshape(each, (2, 2)) for each in LINEAR_FIELDS.values()]
    exact = [slope @ mesh.points_mm for slope in slopes]
    moved = displace(section, [np.zeros_like(mesh.points_mm) for _ in exact], exact)
    stress = raw_stress_mpa(moved)
    found = []
    for index, (name, slope) in enumerate(zip(LINEAR_FIELDS, slopes, strict=True)):
        missed = np.abs(moved.at_points_mm[index] - exact[index]).max() / np.abs(exact[index]).max()
        strain = np.array([slope[0, 0], slope[1, 1], 0.5 * (slope[0, 1] + slope[1, 0])])
        expected = STEEL.stress_mpa(strain)
        off = np.abs(stress[:, index] - expected[:, None]).max() / np.abs(expected).max()
        for what, error, allowed in (("movement", missed, 1e-13), ("stress", off, 1e-11)):
            found.append(
                Comparison(
                    what=f"{name}: largest error of {what} at any point, over its largest value",
                    computed=float(error),
                    reference=0.0,
                    unit="",
                    tolerance=allowed,
                    absolute=True,
                )
            )
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class WavyField:
    """A smooth displacement that elasticity does not know by itself, and what makes it.

    u_x = A sin(p x + e) cos(q y + g), u_y = B cos(p x + e) sin(q y + g).
    """

    along_mm: float = 1.0e-3
    across_mm: float = 0.6e-3
    waves: tuple[float, float] = (1.3, 2.1)
    phases: tuple[float, float] = (0.3, 0.7)

    def _angles(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        return self.waves[0] * x + self.phases[0], self.waves[1] * y + self.phases[1]

    def displacement(self, x: Floats, y: Floats) -> Floats:
        """Give the displacement, shape (2, ...)."""
        a, b = self._angles(x, y)
        return np.stack(
            [self.along_mm * np.sin(a) * np.cos(b), self.across_mm * np.cos(a) * np.sin(b)]
        )

    def gradient(self, x: Floats, y: Floats) -> Floats:
        """Give its derivatives, first by which coordinate, then of which component."""
        (a, b), (p, q) = self._angles(x, y), self.waves
        even, odd = np.cos(a) * np.cos(b), np.sin(a) * np.sin(b)
        return np.array(
            [
                [p * self.along_mm * even, -p * self.across_mm * odd],
                [-q * self.along_mm * odd, q * self.across_mm * even],
            ]
        )

    def stress(self, x: Floats, y: Floats) -> Floats:
        """Give the stress xx, yy, xy, zz in steel."""
        (xx, xy), (yx, yy) = self.gradient(x, y)
        return STEEL.stress_mpa(np.stack([xx, yy, 0.5 * (yx + xy)]))

    def body_force(self, x: Floats, y: Floats) -> Floats:
        """Give the force per volume that it takes: -(L + G) grad div u - G lap u   [Navier]."""
        (a, b), (p, q) = self._angles(x, y), self.waves
        area, shear = STEEL.lame_mpa
        widening = (area + shear) * (p * self.along_mm + q * self.across_mm)
        waves = shear * (p**2 + q**2)
        return np.stack(
            [
                (widening * p + waves * self.along_mm) * np.sin(a) * np.cos(b),
                (widening * q + waves * self.across_mm) * np.cos(a) * np.sin(b),
            ]
        )


WAVY = WavyField()


def _face_traction(sign: float) -> Callable[[Floats, Floats], Floats]:
    """Give the traction of the wavy field on the face at plus or minus the half angle."""
    normal = -np.sin(HALF_ANGLE_RAD), sign * np.cos(HALF_ANGLE_RAD)

    def traction(x: Floats, y: Floats) -> Floats:
        xx, yy, xy, _ = WAVY.stress(x, y)
        return np.stack([xx * normal[0] + xy * normal[1], xy * normal[0] + yy * normal[1]])

    return traction


def _front_traction(x: Floats, y: Floats) -> Floats:
    xx, _, xy, _ = WAVY.stress(x, y)
    return np.stack([-xx, -xy])


def wavy_errors(mesh: SectionMesh) -> tuple[float, float]:
    """Solve for the wavy field on a wedge, and give its errors.

    Returns
    -------
    displacement, gradient : float
        Root mean squares over the section, over those of the exact field.
    """
    held = np.zeros(mesh.points_mm.shape, dtype=bool)
    held[:, points_on(mesh, "base")] = True
    forces = body_forces(mesh, WAVY.body_force)
    forces += traction_forces(mesh, mesh.boundary["tip"], _front_traction)
    for name, sign in (("left", 1.0), ("right", -1.0)):
        forces += traction_forces(mesh, mesh.boundary[name], _face_traction(sign))
    exact = WAVY.displacement(*mesh.points_mm)
    return _errors(displace(hold_section(mesh, STEEL, held), [forces], [exact]))


def _errors(moved: Displacement) -> tuple[float, float]:
    mesh = moved.mesh
    corners = mesh.points_mm[:, mesh.triangles].transpose(0, 2, 1)
    values = moved.at_points_mm[0][:, mesh.triangles].transpose(0, 2, 1)
    sums = np.zeros(4)
    places, weights = triangle_rule(4)
    for local, weight in zip(places.T, weights, strict=True):
        by_r, by_s = shape_slopes(local)
        (xr, yr), (xs, ys) = corners @ by_r, corners @ by_s
        size = xr * ys - yr * xs
        x, y = corners @ shape_functions(local)
        of_r, of_s = values @ by_r, values @ by_s
        slopes = np.stack([of_r * ys - of_s * yr, of_s * xr - of_r * xs]) / size
        exact, exact_slopes = WAVY.displacement(x, y), WAVY.gradient(x, y)
        fields = (
            values @ shape_functions(local) - exact,
            exact,
            slopes - exact_slopes,
            exact_slopes,
        )
        sums += [weight * float((field**2 * size).sum()) for field in fields]
    return float(np.sqrt(sums[0] / sums[1])), float(np.sqrt(sums[2] / sums[3]))


def _manufactured() -> tuple[Comparison, ...]:
    errors = []
    for finer in (4, 8):
        along, across = COARSEST
        mesh = mapped_mesh(
            _wedge,
            cells=(along * finer, across * finer),
            boundary={"u=0": "tip", "u=1": "base", "v=0": "right", "v=1": "left"},
        )
        errors.append(wavy_errors(mesh))
    (moved, strained), (moved_finer, strained_finer) = errors
    return (
        Comparison(
            what="order at which the error of movements falls with the element size",
            computed=log2(moved / moved_finer),
            reference=3.0,
            unit="",
            tolerance=0.03,
            absolute=True,
        ),
        Comparison(
            what="order at which the error of their gradients falls",
            computed=log2(strained / strained_finer),
            reference=2.0,
            unit="",
            tolerance=0.03,
            absolute=True,
        ),
        Comparison(
            what="error of movements on the finer mesh, over the movements",
            computed=moved_finer,
            reference=0.0,
            unit="",
            tolerance=1e-5,
            absolute=True,
        ),
    )


CHECKS: tuple[Check, ...] = (
    Check(
        key="patch-test",
        title="Evenly strained patches of uneven, curved triangles (patch test)",
        source=(
            "G. P. Bazeley, Y. K. Cheung, B. M. Irons and O. C. Zienkiewicz 1965 (from memory); "
            "R. H. MacNeal and R. L. Harder, Finite Elem. Anal. Des. 1 (1985) 3-20"
        ),
        reason=(
            "Second-order elements hold linear fields exactly, whatever their shape: what is "
            "allowed is rounding, some hundred times that of one number, and of stress, a slope "
            "of fitted cubics, a hundred times more."
        ),
        compare=_patch_test,
    ),
    Check(
        key="manufactured-solution",
        title="A wavy movement of a truncated wedge, held behind and loaded everywhere else",
        source=(
            "P. J. Roache, J. Fluids Eng. 124 (2002) 4-10; orders of second-order elements: "
            "G. Strang and G. J. Fix 1973 (places from memory)"
        ),
        reason=(
            "Orders reach their values only as elements shrink: at 64 along the wedge the last "
            "halving shows 3.010 and 1.995, and neighbouring orders lie 1 apart."
        ),
        compare=_manufactured,
    ),
)
