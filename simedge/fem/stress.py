"""Stress at every point of the mesh, recovered from the displacements.

On the boundary the traction is known, so only the stretch along the face is taken from
the recovered strain there; that is where it is most accurate.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from simedge.fem.elastic import Displacement
from simedge.fem.elasticity import Elasticity
from simedge.fem.error_estimate import stress_doubt_mpa
from simedge.fem.frames import Frames, boundary_frames, known_traction
from simedge.fem.recovery import fit_patches
from simedge.fem.stress_field import StressField, strains_of
from simedge.section.mesh import SectionMesh
from simedge.section.outline import Floats, Outline
from simedge.section.tractions import Tractions


def recover_stress(
    displacement: Displacement, outline: Outline, tractions: Sequence[Tractions]
) -> tuple[StressField, ...]:
    """Recover the stress field of every load.

    Parameters
    ----------
    displacement : Displacement
    outline : Outline
    tractions : sequence of Tractions
        The loads in the order of the displacements.

    Returns
    -------
    tuple of StressField
    """
    mesh, elasticity = displacement.mesh, displacement.elasticity
    _, _, points = displacement.at_points_mm.shape
    fits = fit_patches(mesh, displacement.at_points_mm.reshape(-1, points))
    strain = strains_of(fits.gradients())
    stress = elasticity.stress_mpa(strain)
    boundary = boundary_frames(mesh, outline)
    doubt = stress_doubt_mpa(fits, elasticity, list(boundary.values()))
    fields = []
    for index, load in enumerate(tractions):
        _impose_tractions(
            stress[:, index], strain[:, index], elasticity, mesh, outline, load, boundary
        )
        values = np.ascontiguousarray(stress[:, index])
        for array in (values, doubt[index]):
            array.setflags(write=False)
        fields.append(StressField(mesh=mesh, stress_mpa=values, doubt_mpa=doubt[index]))
    return tuple(fields)


def _impose_tractions(
    stress: Floats,
    strain: Floats,
    elasticity: Elasticity,
    mesh: SectionMesh,
    outline: Outline,
    load: Tractions,
    boundary: dict[str, Frames],
) -> None:
    """Replace the stress at free boundary points: known traction, and the stretch along it."""
    rigid = any(part.spread == "rigid" for part in load.tip)
    for name, frames in boundary.items():
        if name == "tip" and rigid:
            continue  # how a rigid patch presses is part of the answer
        at, (nx, ny) = frames.points, frames.normal
        tx, ty = -ny, nx
        force = known_traction(name, frames, mesh, outline, load)
        normal = force[0] * nx + force[1] * ny
        shear = force[0] * tx + force[1] * ty
        stretch = strain[0, at] * tx**2 + strain[1, at] * ty**2 + 2.0 * strain[2, at] * tx * ty
        tangential = elasticity.stretched_mpa(stretch, normal)
        stress[0, at] = normal * nx**2 + tangential * tx**2 + 2.0 * shear * nx * tx
        stress[1, at] = normal * ny**2 + tangential * ty**2 + 2.0 * shear * ny * ty
        stress[2, at] = normal * nx * ny + tangential * tx * ty + shear * (nx * ty + ny * tx)
        stress[3, at] = elasticity.along_edge_mpa(normal + tangential)
