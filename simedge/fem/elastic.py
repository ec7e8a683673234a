"""Elasticity on a meshed section: one factorisation, any number of loads."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementTriP2, ElementVector, MeshTri1, MeshTri2
from skfem.helpers import ddot, div, grad, sym_grad
from threadpoolctl import threadpool_limits

from simedge.errors import NumericsFailed
from simedge.fem.elasticity import Elasticity
from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import Floats

Extended = NDArray[np.longdouble]
#: Solutions with one factorisation: the first, a correction for what it left unbalanced, and
#: more where a very slim blade asks for them.
FEWEST_SOLUTIONS, MOST_SOLUTIONS = 2, 8
#: Both a billionth of the load: what extended precision still leaves of a blade so slim that
#: its tip moves by centimetres, and a thousand times below any other error of the answer.
LARGEST_RESIDUAL = LARGEST_REACTION_ERROR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Displacement:
    """Displacement of every point of the mesh under each load.

    Attributes
    ----------
    mesh : SectionMesh
    elasticity : Elasticity
    at_points_mm : ndarray, shape (loads, 2, points)
    residual : ndarray, shape (loads,)
        Largest unbalanced nodal force over the largest applied one.
    reaction_error : ndarray, shape (loads,)
        Size of the sum of applied forces and clamp reactions over the applied forces.
    """

    mesh: SectionMesh
    elasticity: Elasticity
    at_points_mm: Floats
    residual: Floats
    reaction_error: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HeldSection:
    """A section with its stiffness factorised: what every load on it shares.

    Attributes
    ----------
    mesh : SectionMesh
    elasticity : Elasticity
    stiffness : csc_matrix
        Over all displacements, x and y of each point in turn.
    free : ndarray
        Displacements that the support leaves free.
    solve : callable
        Gives the free displacements of right-hand sides, shape (free, loads).
    """

    mesh: SectionMesh
    elasticity: Elasticity
    stiffness: csc_matrix
    free: Integers
    solve: Callable[[Floats], Floats]


def _stiffness(mesh: SectionMesh, elasticity: Elasticity) -> csc_matrix:
    """Assemble the stiffness with scikit-fem, numbered as our points are."""
    corners = np.ascontiguousarray(mesh.triangles[:3])
    vertices = np.ascontiguousarray(mesh.points_mm[:, : mesh.corners])
    straight = MeshTri1(vertices, corners, sort_t=False)
    ours = np.arange(mesh.points_mm.shape[1])
    ours[mesh.corners + straight.t2f] = mesh.triangles[3:]
    basis = Basis(
        MeshTri2(np.ascontiguousarray(mesh.points_mm[:, ours]), corners),
        ElementVector(ElementTriP2()),
        intorder=2,  # 2k - 2 keeps the order of isoparametric elements (Ciarlet & Raviart 1972)
    )
    volume, shear = elasticity.lame_mpa

    @BilinearForm
    def work(u, v, _):  # type: ignore[no-untyped-def]
        return volume * div(u) * div(v) + 2.0 * shear * ddot(sym_grad(u), grad(v))

    theirs = work.assemble(basis)
    # scikit-fem numbers the displacements corner by corner, then facet by facet
    dofs = np.empty((2, len(ours)), dtype=np.int64)
    dofs[:, : mesh.corners] = basis.nodal_dofs
    dofs[:, mesh.corners :] = basis.facet_dofs
    position = np.empty(2 * len(ours), dtype=np.int64)
    for component in (0, 1):
        position[dofs[component]] = 2 * ours + component
    entries = theirs.tocoo()
    return csc_matrix(
        (entries.data, (position[entries.row], position[entries.col])), shape=theirs.shape
    )


def base_points(mesh: SectionMesh) -> NDArray[np.bool_]:
    """Give which displacements a clamp at the base holds, shape (2, points)."""
    held = np.zeros(mesh.points_mm.shape, dtype=bool)
    held[:, np.unique(mesh.boundary["base"])] = True
    return held


def hold_section(
    mesh: SectionMesh, elasticity: Elasticity, held: NDArray[np.bool_] | None = None
) -> HeldSection:
    """Assemble the section's stiffness, fix what is held, and factorise.

    Parameters
    ----------
    mesh : SectionMesh
    elasticity : Elasticity
    held : ndarray of bool, shape (2, points), or None
        Which displacements are held; None stands for a clamp at the base.

    Raises
    ------
    NumericsFailed
        The matrix is singular.
    """
    stiffness = _stiffness(mesh, elasticity)
    held = base_points(mesh) if held is None else held
    if not held.any():
        raise NumericsFailed("rigid body motion: nothing is held")
    free = np.flatnonzero(~held.T.ravel())
    with threadpool_limits(limits=1):  # two threads make so small a factorisation far slower
        try:
            factors = splu(
                stiffness[free][:, free].tocsc(),
                permc_spec="MMD_AT_PLUS_A",
                diag_pivot_thresh=0.0,
                options={"SymmetricMode": True},
            )
        except RuntimeError as error:
            raise NumericsFailed(f"the stiffness could not be factorised: {error}") from error
    return HeldSection(
        mesh=mesh, elasticity=elasticity, stiffness=stiffness, free=free, solve=factors.solve
    )


def _exact_product(stiffness: csc_matrix) -> Callable[[Extended], Extended]:
    """Give the product with the stiffness, free of the rounding of its assembly.

    A stiffness adds up to nothing over all points: moving a section as a whole takes no
    force. Rounded to double precision it does, a little, times the movement of the tip.
    """
    exact = stiffness.astype(np.longdouble)
    components = np.tile(np.eye(2, dtype=np.longdouble), (stiffness.shape[0] // 2, 1))
    drift = (exact.T @ components).reshape(-1, 2, 2)  # per point: by component moved, of force

    def product(displacement: Extended) -> Extended:
        moved = displacement.reshape(-1, 2, displacement.shape[1])
        extra = np.einsum("ndc,ndl->ncl", drift, moved)
        return np.asarray(exact @ displacement - extra.reshape(displacement.shape))

    return product


def _is_balanced(residual: Floats, reaction_error: Floats, share: float) -> bool:
    """Tell whether all loads are balanced to a share of what is allowed."""
    return bool(
        (residual <= share * LARGEST_RESIDUAL).all()
        and (reaction_error <= share * LARGEST_REACTION_ERROR).all()
    )


def displace(
    section: HeldSection, forces: Sequence[Floats], carried_mm: Sequence[Floats] | None = None
) -> Displacement:
    """Solve for the displacements under each of several sets of nodal forces.

    Parameters
    ----------
    section : HeldSection
    forces : sequence of ndarray, shape (2, points)
    carried_mm : sequence of ndarray, shape (2, points), or None
        How far each load carries what is held; None where that stays where it is.

    Returns
    -------
    Displacement

    Raises
    ------
    NumericsFailed
        Forces and reactions do not balance; nothing of such a solution may be shown.
    """
    loads = np.stack([force.T.ravel() for force in forces], axis=1)
    solution = np.zeros(loads.shape, dtype=np.longdouble)
    # The tip of a slim blade moves a million times farther than it strains: residuals are
    # taken in extended precision, and what they leave is solved for again.
    forces_of = _exact_product(section.stiffness)
    unbalanced = loads.astype(np.longdouble)
    if carried_mm is not None:
        solution += np.stack([moved.T.ravel() for moved in carried_mm], axis=1)
        solution[section.free] = 0.0
        unbalanced -= forces_of(solution)
    size = np.abs(unbalanced).sum(axis=0).astype(np.float64)
    size = np.maximum(size, np.finfo(float).tiny)
    residual = reaction_error = np.full(loads.shape[1], np.inf)
    with threadpool_limits(limits=1):
        for step in range(MOST_SOLUTIONS):
            if step >= FEWEST_SOLUTIONS and _is_balanced(residual, reaction_error, 0.1):
                break
            solution[section.free] += section.solve(
                np.asarray(unbalanced[section.free], dtype=np.float64)
            )
            unbalanced = loads - forces_of(solution)
            free = np.abs(unbalanced[section.free]).max(axis=0)
            reactions = -unbalanced
            reactions[section.free] = 0.0
            missing = (reactions + loads).reshape(-1, 2, loads.shape[1]).sum(axis=0)
            residual = np.asarray(free / size, dtype=np.float64)
            reaction_error = np.asarray(np.hypot(*missing) / size, dtype=np.float64)
    if not (np.isfinite(solution).all() and _is_balanced(residual, reaction_error, 1.0)):
        raise NumericsFailed(
            f"the solution does not balance its load (residual {residual.max():.2g}, "
            f"reaction error {reaction_error.max():.2g}); no numbers are shown"
        )
    return Displacement(
        mesh=section.mesh,
        elasticity=section.elasticity,
        at_points_mm=np.asarray(solution.T, dtype=np.float64)
        .reshape(loads.shape[1], -1, 2)
        .transpose(0, 2, 1),
        residual=residual,
        reaction_error=reaction_error,
    )


def displace_roughly(section: HeldSection, forces: Sequence[Floats]) -> Floats:
    """Solve once, without balancing what rounding leaves: for what is not shown itself.

    Returns
    -------
    ndarray, shape (loads, 2, points)
    """
    loads = np.stack([force.T.ravel() for force in forces], axis=1)
    moved = np.zeros_like(loads)
    with threadpool_limits(limits=1):
        moved[section.free] = section.solve(loads[section.free])
    return moved.T.reshape(loads.shape[1], -1, 2).transpose(0, 2, 1)
