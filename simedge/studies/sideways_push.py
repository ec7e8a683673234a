"""A push from the side, spread so that the section bends and is not squeezed, and what it moves.

Every push is a line load of 1 N on each millimetre of edge, towards -y. At the apex the tip is
carried as one. At a depth half of it pushes on the left face and half pulls on the right
one, over about half a local thickness.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from simedge.fem.elastic import Displacement, displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.lookup import interpolate
from simedge.fem.nodal_forces import nodal_forces
from simedge.fem.rigid_tip import settle_tip
from simedge.section.element_sizes import Resolution, estimated_triangles
from simedge.section.meshing import make_mesh
from simedge.section.outline import SIDES, Floats, Outline, Side
from simedge.section.tractions import FaceTraction, TipTraction, Tractions, patch_ends_mm

#: Nearer to the apex than a micrometre a place is the apex.
LEAST_DEPTH_MM = 1e-3
#: A push reaches so far to both sides of its place, in local thicknesses, and at least so far.
REACH_SHARE, LEAST_REACH_SHARE = 0.25, 0.05
#: Places along each face, and around the tip, at which the deflected shape is told.
FACE_PLACES, TIP_PLACES = 81, 21


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DeflectedShape:
    """The outline, and how far it moves under 1 N on each mm of the apex, towards -y.

    From the left face's held end around the tip to the right face's. A sharp tip's own
    point, which moves without bound, is left out.

    Attributes
    ----------
    x_mm, y_mm : ndarray, shape (places,)
        Unloaded.
    moved_x_mm, moved_y_mm : ndarray, shape (places,)
        Per N/mm.
    """

    x_mm: Floats
    y_mm: Floats
    moved_x_mm: Floats
    moved_y_mm: Floats


def pushable_range_mm(outline: Outline) -> tuple[float, float]:
    """Give the least and the largest depth at which a push finds room on the faces."""
    begins = max(outline.face_begins_mm(side) for side in SIDES)
    room = LEAST_REACH_SHARE * float(outline.thickness_mm(begins))
    held = outline.depth_mm - LEAST_REACH_SHARE * float(outline.thickness_mm(outline.depth_mm))
    return max(begins + room, LEAST_DEPTH_MM), held


def sideways_push(outline: Outline, at_mm: float) -> Tractions:
    """Give the push of 1 N/mm towards -y at a depth: half pushed on the left, half pulled right.

    Parameters
    ----------
    outline : Outline
    at_mm : float
        Where its resultant acts, with room on both sides.

    Returns
    -------
    Tractions
        A stretch of each face, a quarter of the local thickness to both sides of the place.

    Notes
    -----
    A traction of pressure p and shear -p s, with s the slope of the stretch's chord, has no
    resultant along the blade, and p L (1 + s^2) across it over a stretch of length L along x.
    """
    begins = max(outline.face_begins_mm(side) for side in SIDES)
    thickness = float(outline.thickness_mm(at_mm))
    reach = min(REACH_SHARE * thickness, at_mm - begins, outline.depth_mm - at_mm)
    low, high = at_mm - reach, at_mm + reach
    faces = []
    for side, towards in zip(SIDES, (1.0, -1.0), strict=True):
        begin, end = outline.face_y_mm(side, [low, high])
        slope = towards * float(end - begin) / (high - low)
        pressure = towards * 0.5 / ((high - low) * (1.0 + slope**2))
        faces.append(
            FaceTraction(side=side, from_mm=low, to_mm=high, pressure_mpa=pressure, friction=-slope)
        )
    return Tractions(name=f"{at_mm:g} mm", faces=tuple(faces))


def apex_push(outline: Outline) -> Tractions:
    """Give the push of 1 N/mm towards -y on the tip, carried as one where it has a width."""
    sharp = outline.tip.kind == "sharp"
    push = TipTraction(
        axial_n_per_mm=0.0, lateral_n_per_mm=-1.0, spread="smooth" if sharp else "rigid"
    )
    return Tractions(name="apex", tip=(push,))


def middle_mm(outline: Outline, at_mm: float) -> tuple[float, float]:
    """Give the place at the middle of the section at a depth; at 0 the foremost point."""
    left, right = (float(outline.face_y_mm(side, at_mm)) for side in SIDES)
    return at_mm, 0.5 * (left + right) if at_mm > 0.0 else 0.0


def triangles_for(outline: Outline, pushes: Sequence[Tractions], accuracy_percent: float) -> int:
    """Estimate how many triangles the mesh for these pushes will have."""
    resolution = Resolution.for_accuracy(accuracy_percent)
    return estimated_triangles(outline, patch_ends_mm(pushes), resolution)


def push_all(
    outline: Outline,
    pushes: Sequence[Tractions],
    elasticity: Elasticity,
    accuracy_percent: float,
    *,
    traced: bool = False,
) -> Displacement:
    """Solve for all pushes on one mesh, with one factorisation."""
    mesh = make_mesh(
        outline,
        patch_ends_mm(pushes),
        Resolution.for_accuracy(accuracy_percent),
        triangles=triangles_for(outline, pushes, accuracy_percent),
        traced=traced,
    )
    section = hold_section(mesh, elasticity)
    forces = []
    for push in pushes:
        nodal = settle_tip(section, push, nodal_forces(mesh, outline, push)).forces
        # exactly 1 N/mm, also where an end of the push has become one with a shoulder
        forces.append(nodal / -nodal[1].sum())
    return displace(section, forces)


def movements_mm(displacement: Displacement, middles_mm: Floats) -> Floats:
    """Read how far each place gives way to the push on it."""
    moved = displacement.at_points_mm[:, 1]
    given_way = [-moved[0, displacement.mesh.foremost]]
    for index in range(1, len(moved)):
        place = middles_mm[:, [index]]
        given_way.append(-interpolate(displacement.mesh, moved[[index]], place)[0, 0])
    return np.array(given_way)


def deflected_shape(outline: Outline, displacement: Displacement) -> DeflectedShape:
    """Sample the deflected outline under the push on the apex."""
    runs: dict[Side, Floats] = {}
    for side in SIDES:
        begins = outline.face_begins_mm(side)
        length = outline.depth_mm - begins
        step = max(outline.tip.width_mm, LEAST_DEPTH_MM, 1e-4 * length)
        x = begins + np.geomspace(step, length, FACE_PLACES)
        x = np.unique(np.concatenate([x, outline.shoulders_mm]))
        runs[side] = np.stack([x, outline.face_y_mm(side, x)])
    tip = np.zeros((2, 0))
    if outline.tip.kind != "sharp":
        tip = np.stack(outline.tip.point(np.linspace(0.0, 1.0, TIP_PLACES)))
    places = np.concatenate([runs["left"][:, ::-1], tip, runs["right"]], axis=1)
    moved = interpolate(displacement.mesh, displacement.at_points_mm[0], places)
    for array in (places, moved):
        array.setflags(write=False)
    return DeflectedShape(x_mm=places[0], y_mm=places[1], moved_x_mm=moved[0], moved_y_mm=moved[1])
