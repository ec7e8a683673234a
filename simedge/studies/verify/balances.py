"""Forces, moments and energies that must balance, through the real pipeline.

Laws of mechanics alone: they need no published figure.
"""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np

from simedge.section.outline import SIDES, Floats
from simedge.strength.stations import read_stations
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.face_loads import (
    FRICTION,
    HEIGHT_MM,
    PRESSED_SHARE,
    PRESSURE_MPA,
    RADIUS_MM,
    pressed_wedge,
)
from simedge.studies.verify.identities import (
    IDENTITY,
    ROUNDING,
    ROUNDING_REASON,
    crooked_section,
)
from simedge.studies.verify.solved import STEEL

#: In the micro-bevel, on both sides of the edge bevel's shoulder, under and behind the pressure.
SECTIONS_MM = (0.05, 0.4, 0.95, 2.0, 4.0, 8.0)


def _reciprocity() -> tuple[Comparison, ...]:
    solved = crooked_section()
    tip, face = solved.forces[:2]
    by_tip, by_face = solved.displacement.at_points_mm[:2]
    return (
        Comparison(
            what="work of the tip's load over what the face's load moves",
            computed=float((tip * by_face).sum()),
            reference=float((face * by_tip).sum()),
            unit="N mm per mm",
            tolerance=ROUNDING,
        ),
    )


def _energy() -> tuple[Comparison, ...]:
    solved = crooked_section()
    corners = solved.mesh.points_mm[:, solved.mesh.triangles[:3]]
    one, other = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = 0.5 * (one[0] * other[1] - one[1] * other[0])
    found = []
    for load, name in ((0, "load on the tip"), (1, "load on the face")):
        stress = solved.fields[load].stress_mpa
        density = 0.5 * STEEL.work_mpa(stress, STEEL.strain(stress))
        stored = float(area @ density[solved.mesh.triangles[3:]].mean(axis=0))
        work = 0.5 * (solved.forces[load] * solved.displacement.at_points_mm[load]).sum()
        found.append(
            Comparison(
                what=f"{name}: energy of the recovered stress beside half load times movement",
                computed=stored,
                reference=float(work),
                unit="N mm per mm",
                tolerance=1e-3,
            )
        )
    return tuple(found)


def _clamp_reactions() -> tuple[Comparison, ...]:
    solved, half = pressed_wedge(15.0, "left"), radians(15.0)
    # from the tangent point of the tip along the left face to 0.9 of the height, by hand
    x0, y0 = RADIUS_MM * (1.0 - sin(half)), RADIUS_MM * cos(half)
    length = (PRESSED_SHARE * HEIGHT_MM - x0) / cos(half)
    x, y = x0 + 0.5 * length * cos(half), y0 + 0.5 * length * sin(half)
    drag = FRICTION * PRESSURE_MPA
    force = length * np.array(
        [
            PRESSURE_MPA * sin(half) + drag * cos(half),
            -PRESSURE_MPA * cos(half) + drag * sin(half),
        ]
    )
    moved = solved.displacement.at_points_mm[1]
    carried = (solved.held.stiffness @ moved.T.ravel()).reshape(-1, 2).T - solved.forces[1]
    base = np.unique(solved.mesh.boundary["base"])
    at, held = solved.mesh.points_mm[:, base], carried[:, base]
    wanted = (-force[0], -force[1], -(x * force[1] - y * force[0]))
    found = (*held.sum(axis=1), (at[0] * held[1] - at[1] * held[0]).sum())
    names = ("force along the blade", "force across it", "moment about the apex")
    units = ("N/mm", "N/mm", "N mm per mm")
    return tuple(
        Comparison(
            what=f"what the clamp holds, {name}",
            computed=float(computed),
            reference=float(reference),
            unit=unit,
            tolerance=ROUNDING,
        )
        for name, computed, reference, unit in zip(names, found, wanted, units, strict=True)
    )


def section_force_differences_percent() -> Floats:
    """Give how far resultants of the field over sections x = const miss statics, (loads, 6, 3).

    Axial force and shear over the size of the force; the moment about the section's middle over
    itself, or over the force times half the thickness where that is more.
    """
    solved = crooked_section()
    nodes, weights = np.polynomial.legendre.leggauss(40)
    differences = []
    all_stations = read_stations(solved.fields, solved.tractions, solved.outline)
    for field, stations in zip(solved.fields, all_stations, strict=True):
        for wanted in SECTIONS_MM:
            at = int(np.argmin(np.abs(stations.x_mm - wanted)))
            x = stations.x_mm[at]
            left, right = (float(solved.outline.face_y_mm(side, x)) for side in SIDES)
            middle, half = 0.5 * (left + right), 0.5 * (left - right)
            xx, _, xy, _ = field.at(np.full(nodes.size, x), middle + half * nodes)
            # what acts in front of the section is held by the stress on its face, normal +x
            found = half * np.array([-weights @ xx, -weights @ xy, weights @ (xx * half * nodes)])
            axial, shear = stations.axial_n_per_mm[at], stations.shear_n_per_mm[at]
            moment = stations.moment_n[at]
            force = np.hypot(axial, shear)
            size = np.array([force, force, max(abs(moment), force * half)])
            differences.append(np.abs(found - np.array([axial, shear, moment])) / size)
    return 100.0 * np.array(differences).reshape(len(solved.fields), len(SECTIONS_MM), 3)


def _section_forces() -> tuple[Comparison, ...]:
    worst = section_force_differences_percent().max(axis=(1, 2))
    names = ("load on the tip", "load on the face", "both")
    return tuple(
        Comparison(
            what=f"{name}: largest difference of force or moment over six sections",
            computed=float(percent),
            reference=0.0,
            unit="%",
            tolerance=0.5,
            absolute=True,
        )
        for name, percent in zip(names, worst, strict=True)
    )


CHECKS: tuple[Check, ...] = (
    Check(
        key="reciprocity",
        title="Two loads do the same work over each other's movements",
        source=f"E. Betti 1872 (from memory); {IDENTITY}",
        reason=ROUNDING_REASON,
        compare=_reciprocity,
    ),
    Check(
        key="energy",
        title="The energy of the stress is half of load times movement",
        source=f"Clapeyron's theorem; {IDENTITY}",
        reason="Stress is recovered apart from the solution, and its energy integrated by three "
        "points a triangle: 0.01 % is found, and the clamp's singular corners may make more of it.",
        compare=_energy,
    ),
    Check(
        key="clamp-reactions",
        title="The clamp holds what pressure and friction on one face put on the blade",
        source=f"statics, by hand; {IDENTITY}",
        reason=ROUNDING_REASON,
        compare=_clamp_reactions,
    ),
    Check(
        key="section-forces",
        title="Stress over a section adds up to what acts in front of it",
        source=f"statics; {IDENTITY}",
        reason="Stress along a face is good to 0.3 % on this mesh, and so is what it adds up to.",
        compare=_section_forces,
    ),
)
