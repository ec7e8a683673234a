"""Williams' exponents, seen in what the solver gives: at a clamp's corners and at shoulders."""

from __future__ import annotations

from math import log2, radians, tan

import numpy as np

from simedge.fem.elastic import displace, hold_section
from simedge.fem.lookup import interpolate
from simedge.fem.nodal_forces import nodal_forces, traction_forces
from simedge.inputs.curves import Curve
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import mesh_outline
from simedge.section.outline import Floats, Outline, Side, Stretch, Tip
from simedge.section.tractions import TipTraction, Tractions
from simedge.strength.closed_form.wedge_stress import apex_force_stress, cartesian_stress
from simedge.strength.singular import reentrant_corners
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.mapped_mesh import mapped_mesh
from simedge.studies.verify.raw_stress import raw_stress_mpa
from simedge.studies.verify.solved import STEEL

WILLIAMS = "M. L. Williams, J. Appl. Mech. 19 (1952) 526-528 (from memory)"

#: Half angle of the clamped wedge, and where it is cut off and clamped.
CLAMPED_RAD = radians(10.0)
CUT_MM, CLAMP_MM = 1.0, 1.5
#: Cells along and across it, each finer than the one before by two.
CELLS = (16, 32, 64)
#: Twice lambda of a corner of 80 degrees, one face held, at Poisson's ratio 0.3.
CLAMP_ORDER = 2.0 * 0.76782452

#: Half a land, then two bevels: heights and their angles from the mid-plane, which give steel
#: of so many degrees at the shoulder, and its lambda.
HALF_LAND_MM, BEVEL_MM, BEHIND_MM = 0.1, 1.0, 0.6
SHOULDERS = (
    (10.0, 20.0, 190, 0.90004381),
    (10.0, 40.0, 210, 0.75197455),
    (5.0, 65.0, 240, 0.61573106),
)
#: Element size in the corner; between these distances stress is read.
CORNER_MM, NEAREST_MM, FARTHEST_MM = 1e-6, 1e-5, 1e-3


def _wedge(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    x = CUT_MM + (CLAMP_MM - CUT_MM) * u
    return x, x * tan(CLAMPED_RAD) * (2.0 * v - 1.0)


def _work_of(cells: int) -> Floats:
    """Give the work of an axial and of a lateral force at the apex of a clamped wedge.

    Nothing is singular at the cut: what acts there is the field that the apex would send.
    """
    mesh = mapped_mesh(_wedge, cells=(cells, cells), boundary={"u=0": "cut", "u=1": "base"})
    forces = []
    for axial, lateral in ((1.0, 0.0), (0.0, 1.0)):

        def traction(
            x: Floats, y: Floats, axial: float = axial, lateral: float = lateral
        ) -> Floats:
            angle = np.arctan2(y, x)
            polar = apex_force_stress(
                np.hypot(x, y),
                angle,
                half_angle_rad=CLAMPED_RAD,
                axial_n_per_mm=axial,
                lateral_n_per_mm=lateral,
            )
            along, _, shear = cartesian_stress(polar, angle)
            return np.stack([-along, -shear])

        forces.append(traction_forces(mesh, mesh.boundary["cut"], traction))
    moved = displace(hold_section(mesh, STEEL), forces).at_points_mm
    return np.array([(force * each).sum() for force, each in zip(forces, moved, strict=True)])


def _clamp_corner() -> tuple[Comparison, ...]:
    coarse, middle, fine = (_work_of(cells) for cells in CELLS)
    return tuple(
        Comparison(
            what=f"order at which the work of {name} force reaches its value",
            computed=log2(first / second),
            reference=CLAMP_ORDER,
            unit="",
            tolerance=0.03,
            absolute=True,
        )
        for name, first, second in zip(
            ("an axial", "a lateral"), middle - coarse, fine - middle, strict=True
        )
    )


def shouldered_outline(front_deg: float, behind_deg: float) -> Outline:
    """Give an even section of two bevels behind a land, the second of any angle.

    No grinder makes them so that the blade widens faster behind, and the profile says so.
    """
    shoulder = HALF_LAND_MM + BEVEL_MM * tan(radians(front_deg))
    end = shoulder + BEHIND_MM * tan(radians(behind_deg))
    curves = (
        Curve(begin_mm=(0.0, HALF_LAND_MM), end_mm=(BEVEL_MM, shoulder)),
        Curve(begin_mm=(BEVEL_MM, shoulder), end_mm=(BEVEL_MM + BEHIND_MM, end)),
    )

    def face(side: Side) -> tuple[Stretch, ...]:
        names = ("bevel", "behind it")
        return tuple(
            Stretch(name=name, side=side, curve=curve)
            for name, curve in zip(names, curves, strict=True)
        )

    return Outline(
        tip=Tip(
            kind="land",
            radius_mm=0.0,
            left_mm=(0.0, HALF_LAND_MM),
            right_mm=(0.0, -HALF_LAND_MM),
        ),
        left=face("left"),
        right=face("right"),
        depth_mm=BEVEL_MM + BEHIND_MM,
    )


def _growth_at_shoulder(front_deg: float, behind_deg: float) -> tuple[float, float]:
    """Give the angle of the steel at the shoulder, and the power of the distance of stress."""
    outline = shouldered_outline(front_deg, behind_deg)
    corner = reentrant_corners(outline)[0]
    corner_mm = np.array([corner.x_mm, corner.y_mm])
    resolution = Resolution(
        across_tip=3.0,
        growth=0.1,
        across_thickness=3.0,
        at_shoulder=10.0,
        at_patch_end=10.0,
        spots=((corner.x_mm, corner.y_mm, CORNER_MM),),
    )
    mesh = mesh_outline(outline, {}, resolution)
    bending = TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=1.0)
    forces = nodal_forces(mesh, outline, Tractions(name="", tip=(bending,), faces=()))
    stress = raw_stress_mpa(displace(hold_section(mesh, STEEL), [forces]))[:, 0]
    # into the steel along the corner's bisector, and the stress across that
    along = 0.5 * radians(front_deg + behind_deg)
    tangent, inward = (
        np.array([np.cos(along), np.sin(along)]),
        np.array([np.sin(along), -np.cos(along)]),
    )
    distance = np.geomspace(NEAREST_MM, FARTHEST_MM, 15)
    xx, yy, xy, _ = interpolate(mesh, stress, corner_mm[:, None] + inward[:, None] * distance)
    across = xx * tangent[0] ** 2 + yy * tangent[1] ** 2 + 2.0 * xy * tangent[0] * tangent[1]
    slope = np.polyfit(np.log(distance), np.log(np.abs(across)), 1)[0]
    return corner.angle_deg, float(slope)


def _shoulder_corners() -> tuple[Comparison, ...]:
    found = []
    for front, behind, degrees, exponent in SHOULDERS:
        angle, slope = _growth_at_shoulder(front, behind)
        found += [
            Comparison(
                what=f"angle of the steel where a bevel of {front:g} meets one of {behind:g} dps",
                computed=angle,
                reference=float(degrees),
                unit="deg",
                tolerance=1e-9,
            ),
            Comparison(
                what=f"power of the distance with which stress grows into {degrees} deg",
                computed=slope,
                reference=exponent - 1.0,
                unit="",
                tolerance=0.003,
                absolute=True,
            ),
        ]
    return tuple(found)


CHECKS: tuple[Check, ...] = (
    Check(
        key="clamp-corner",
        title="How fast the work of a clamped wedge's load settles: by its singular base corners",
        source=f"{WILLIAMS}; that energy settles with twice lambda: Strang and Fix 1973",
        reason=(
            "Three meshes of 16, 32 and 64 a side still show weaker terms beside the leading one: "
            "1.55 and 1.53 of 1.536, where smooth fields would show 4."
        ),
        compare=_clamp_corner,
    ),
    Check(
        key="reentrant-shoulder",
        title="How stress grows towards a shoulder behind which the blade widens faster",
        source=WILLIAMS,
        reason=(
            "Two decades of distance, from ten elements off the corner to a thousandth of the "
            "section, leave 0.002 of the slope to the next terms and to reading."
        ),
        compare=_shoulder_corners,
    ),
)
