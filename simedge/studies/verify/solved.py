"""A section in a person's words through the real pipeline, its stages kept for checks to read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simedge.fem.elastic import Displacement, HeldSection, displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.lookup import interpolate
from simedge.fem.nodal_forces import nodal_forces
from simedge.fem.stress import recover_stress
from simedge.fem.stress_field import StressField
from simedge.inputs.load import Load
from simedge.inputs.profile import Profile
from simedge.section.element_sizes import Resolution
from simedge.section.loading import tractions_of
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import Floats, Outline, build_outline
from simedge.section.tractions import Tractions, patch_ends_mm

#: The steel of all checks, in round numbers that can be followed by hand.
YOUNGS_MODULUS_MPA, POISSONS_RATIO = 210e3, 0.3
#: E / (1 - 0.3^2), written out: not to be taken from what is checked.
PLANE_STRAIN_MODULUS_MPA = 210e3 / 0.91
STEEL = Elasticity(youngs_modulus_mpa=YOUNGS_MODULUS_MPA, poissons_ratio=POISSONS_RATIO)
#: What a person asks for by default.
ACCURACY_PERCENT = 1.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SolvedSection:
    """A held section under its loads.

    Attributes
    ----------
    outline : Outline
    mesh : SectionMesh
    held : HeldSection
    tractions : tuple of Tractions
    forces : tuple of ndarray, shape (2, points)
        N per mm of edge on the mesh's points, of each load.
    displacement : Displacement
    fields : tuple of StressField
    """

    outline: Outline
    mesh: SectionMesh
    held: HeldSection
    tractions: tuple[Tractions, ...]
    forces: tuple[Floats, ...]
    displacement: Displacement
    fields: tuple[StressField, ...]

    def moved_mm(self, load: int, x_mm: Floats, y_mm: Floats) -> Floats:
        """Give the movement of places under one load, shape (2, n)."""
        places = np.stack(np.broadcast_arrays(x_mm, y_mm)).reshape(2, -1)
        return interpolate(self.mesh, self.displacement.at_points_mm[load], places)


def solve_section(
    profile: Profile,
    loads: tuple[Load, ...],
    *,
    clamp_depth_mm: float | None = None,
    accuracy_percent: float = ACCURACY_PERCENT,
    elasticity: Elasticity = STEEL,
    mesh: SectionMesh | None = None,
) -> SolvedSection:
    """Take a section from a person's words to its stress.

    Parameters
    ----------
    profile : Profile
    loads : tuple of Load
        None of them an imposed movement.
    clamp_depth_mm : float or None
        None stands for the spine.
    accuracy_percent : float
    elasticity : Elasticity
    mesh : SectionMesh or None
        One made elsewhere, for checks that need the very same; None makes one.
    """
    outline = build_outline(profile.apex, profile.faces, clamp_depth_mm)
    tractions = tuple(
        tractions_of(load, f"load {number}", outline) for number, load in enumerate(loads, start=1)
    )
    if mesh is None:
        resolution = Resolution.for_accuracy(accuracy_percent)
        mesh = mesh_outline(outline, patch_ends_mm(tractions), resolution)
    held = hold_section(mesh, elasticity)
    forces = tuple(nodal_forces(mesh, outline, load) for load in tractions)
    displacement = displace(held, forces)
    return SolvedSection(
        outline=outline,
        mesh=mesh,
        held=held,
        tractions=tractions,
        forces=forces,
        displacement=displacement,
        fields=recover_stress(displacement, outline, tractions),
    )
