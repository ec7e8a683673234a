"""Plane-strain elasticity on a meshed section: one factorisation, any number of loads."""

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
from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import Floats, Outline
from simedge.section.tractions import FaceTraction, Tractions, face_resultant

Extended = NDArray[np.longdouble]
#: Gauss-Legendre points on (-1, 1) for tractions along an edge.
EDGE_POINTS, EDGE_WEIGHTS = np.polynomial.legendre.leggauss(5)
#: Solutions with one factorisation: the first, a correction for what it left unbalanced, and
#: more where a very slim blade asks for them.
FEWEST_SOLUTIONS, MOST_SOLUTIONS = 2, 8
#: Both a billionth of the load: what extended precision still leaves of a blade so slim that
#: its tip moves by centimetres, and a thousand times below any other error of the answer.
LARGEST_RESIDUAL = LARGEST_REACTION_ERROR = 1e-9
#: Share of a stretch's force that the merging of close nodes may move.
LARGEST_LOSS = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Elasticity:
    """An isotropic material.

    Attributes
    ----------
    youngs_modulus_mpa, poissons_ratio : float
    """

    youngs_modulus_mpa: float
    poissons_ratio: float

    @property
    def lame_mpa(self) -> tuple[float, float]:
        """Lamé's constants: of the volume strain, and the shear modulus."""
        ratio = self.poissons_ratio
        shear = self.youngs_modulus_mpa / (2.0 * (1.0 + ratio))
        return 2.0 * shear * ratio / (1.0 - 2.0 * ratio), shear


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
        Displacements that the clamp leaves free.
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
    def plane_strain(u, v, _):  # type: ignore[no-untyped-def]
        return volume * div(u) * div(v) + 2.0 * shear * ddot(sym_grad(u), grad(v))

    theirs = plane_strain.assemble(basis)
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


def hold_section(mesh: SectionMesh, elasticity: Elasticity) -> HeldSection:
    """Assemble the section's stiffness, fix its base, and factorise.

    Raises
    ------
    NumericsFailed
        The matrix is singular.
    """
    stiffness = _stiffness(mesh, elasticity)
    held = np.unique(mesh.boundary["base"])
    if held.size == 0:
        raise NumericsFailed("rigid body motion: nothing is held")
    fixed = np.zeros(stiffness.shape[0], dtype=bool)
    fixed[2 * held] = fixed[2 * held + 1] = True
    free = np.flatnonzero(~fixed)
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


def _edge_shapes() -> tuple[Floats, Floats]:
    """Give values and slopes of begin, end and middle of a quadratic edge at its points."""
    s = EDGE_POINTS
    values = np.array([0.5 * s * (s - 1.0), 0.5 * s * (s + 1.0), 1.0 - s**2])
    slopes = np.array([s - 0.5, s + 0.5, -2.0 * s])
    return values, slopes


def nodal_forces(mesh: SectionMesh, outline: Outline, tractions: Tractions) -> Floats:
    """Integrate the tractions of one load case to forces on the mesh's points.

    Parameters
    ----------
    mesh : SectionMesh
        Nodes stand at the ends of each pressed stretch.
    outline : Outline
    tractions : Tractions

    Returns
    -------
    ndarray, shape (2, points)
        N per mm of edge. The tip's forces sum to the line load exactly: its spread is
        normalised on the mesh.
    """
    forces = np.zeros_like(mesh.points_mm)
    values, slopes = _edge_shapes()
    for part in tractions.tip:
        if part.spread == "rigid":
            continue  # `simedge.fem.rigid_tip` works those out
        load = np.array([part.axial_n_per_mm, part.lateral_n_per_mm])
        if outline.tip.kind == "sharp":
            foremost = int(np.argmin(mesh.points_mm[0]))
            forces[:, foremost] += load
            continue
        edges = mesh.boundary["tip"]
        x, y = np.einsum("ckq,kp->cqp", mesh.points_mm[:, edges], values)
        tangent = np.einsum("ckq,kp->cqp", mesh.points_mm[:, edges], slopes)
        weight = part.weight(outline.tip.along(x, y)) * np.hypot(*tangent) * EDGE_WEIGHTS
        weight /= weight.sum()
        shares = np.einsum("qp,kp->kq", weight, values)
        for component in (0, 1):
            np.add.at(forces[component], edges, load[component] * shares)
    for face in tractions.faces:
        before = forces.sum(axis=1)
        edges = mesh.boundary[face.side]
        x = 0.5 * (mesh.points_mm[0, edges[0]] + mesh.points_mm[0, edges[1]])
        pressed = edges[:, (x > face.from_mm) & (x < face.to_mm)]
        along_x, along_y = np.einsum("ckq,kp->cqp", mesh.points_mm[:, pressed], slopes)
        outward = 1.0 if face.side == "left" else -1.0
        push = outward * face.pressure_mpa
        drag = face.friction * face.pressure_mpa
        traction = (push * along_y + drag * along_x, -push * along_x + drag * along_y)
        for component, size in enumerate(traction):
            shares = np.einsum("qp,kp->kq", size * EDGE_WEIGHTS, values)
            np.add.at(forces[component], pressed, shares)
        _check_carried(face, outline, forces.sum(axis=1) - before)
    return forces


def _check_carried(face: FaceTraction, outline: Outline, carried: Floats) -> None:
    """Refuse a stretch that fell between the mesh's nodes."""
    wanted = face_resultant(face, outline, face.to_mm)
    missing = np.hypot(
        carried[0] - wanted.axial_n_per_mm[0], carried[1] - wanted.lateral_n_per_mm[0]
    )
    size = np.hypot(wanted.axial_n_per_mm[0], wanted.lateral_n_per_mm[0])
    if not missing <= LARGEST_LOSS * size:
        raise NumericsFailed(
            f"the pressed stretch from {face.from_mm:.9g} to {face.to_mm:.9g} mm on the "
            f"{face.side} face is too short for the mesh to carry; make it longer"
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


def displace(section: HeldSection, forces: Sequence[Floats]) -> Displacement:
    """Solve for the displacements under each of several sets of nodal forces.

    Parameters
    ----------
    section : HeldSection
    forces : sequence of ndarray, shape (2, points)

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
    size = np.maximum(np.abs(loads).sum(axis=0), np.finfo(float).tiny)
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
