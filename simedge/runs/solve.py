"""A held section under its loads, solved on one mesh, with what that mesh leaves open."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from simedge.fem.elastic import (
    Displacement,
    HeldSection,
    displace,
    displace_roughly,
    hold_section,
)
from simedge.fem.elasticity import Elasticity
from simedge.fem.error_estimate import MovementErrors, movement_errors
from simedge.fem.nodal_forces import nodal_forces
from simedge.fem.rigid_tip import settle_tip, without_rounding
from simedge.fem.stress import recover_stress
from simedge.fem.stress_field import StressField
from simedge.inputs.steel_properties import SteelProperties
from simedge.section.element_sizes import Resolution
from simedge.section.meshing import make_mesh
from simedge.section.outline import Outline
from simedge.section.tractions import TipTraction, Tractions, patch_ends_mm

#: Loads whose work is the apex's own movement: axial, lateral.
APEX_PUSHES = (
    Tractions(name="axial", tip=(TipTraction(axial_n_per_mm=1.0, lateral_n_per_mm=0.0),)),
    Tractions(name="lateral", tip=(TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=1.0),)),
)


def elasticity_of(steel: SteelProperties) -> Elasticity:
    """Give how a steel bends."""
    return Elasticity(
        youngs_modulus_mpa=steel.youngs_modulus_mpa, poissons_ratio=steel.poissons_ratio
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """What is to be solved.

    Attributes
    ----------
    outline : Outline
        Down to where the blade is held.
    tractions : tuple of Tractions
    elasticity : Elasticity
    traced : bool
        The outline follows points that a person measured.
    """

    outline: Outline
    tractions: tuple[Tractions, ...]
    elasticity: Elasticity
    traced: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solution:
    """A problem solved on one mesh.

    Attributes
    ----------
    section : HeldSection
    displacement : Displacement
    tractions : tuple of Tractions
        With the load that makes it in place of each imposed movement.
    fields : tuple of StressField
    movement_errors : MovementErrors
        Of the apex: axial, lateral.
    """

    section: HeldSection
    displacement: Displacement
    tractions: tuple[Tractions, ...]
    fields: tuple[StressField, ...]
    movement_errors: MovementErrors


def solve(problem: Problem, resolution: Resolution, triangles: int) -> Solution:
    """Mesh, factorise once, and solve for all loads.

    Parameters
    ----------
    problem : Problem
    resolution : Resolution
    triangles : int
        About how many that makes.

    Raises
    ------
    NumericsFailed
        The mesher or the solver gave nothing that may be shown.
    SystemLibraryMissing
        gmsh's shared libraries are not installed.
    """
    outline = problem.outline
    mesh = make_mesh(
        outline,
        patch_ends_mm(problem.tractions),
        resolution,
        triangles=triangles,
        traced=problem.traced,
    )
    section = hold_section(mesh, problem.elasticity)
    settled = [
        without_rounding(settle_tip(section, load, nodal_forces(mesh, outline, load)))
        for load in problem.tractions
    ]
    displacement = displace(section, [load.forces for load in settled])
    tractions = tuple(load.tractions for load in settled)
    pushed = displace_roughly(section, [nodal_forces(mesh, outline, push) for push in APEX_PUSHES])
    together = replace(
        displacement, at_points_mm=np.concatenate([displacement.at_points_mm, pushed])
    )
    fields = recover_stress(together, outline, (*tractions, *APEX_PUSHES))
    return Solution(
        section=section,
        displacement=displacement,
        tractions=tractions,
        fields=fields[: len(tractions)],
        movement_errors=movement_errors(together, fields, len(APEX_PUSHES)),
    )
