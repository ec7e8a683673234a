"""What acts on a section, as forces on the points of its mesh."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from simedge.errors import NumericsFailed
from simedge.fem.lookup import shape_functions, shape_slopes
from simedge.fem.triangle_rule import triangle_rule
from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import Floats, Outline
from simedge.section.tractions import FaceTraction, Tractions, face_resultant

#: Gauss-Legendre points on (-1, 1) for tractions along an edge.
EDGE_POINTS, EDGE_WEIGHTS = np.polynomial.legendre.leggauss(5)
#: Share of a stretch's force that the merging of close nodes may move.
LARGEST_LOSS = 1e-3
#: Points in each direction over a triangle, exact to the seventh degree.
BODY_POINTS = 4


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
        outward = 1.0 if face.side == "left" else -1.0
        push = outward * face.pressure_mpa
        drag = face.friction * face.pressure_mpa
        along_x, along_y = np.einsum("ckq,kp->cqp", mesh.points_mm[:, pressed], slopes)
        traction = np.stack([push * along_y + drag * along_x, -push * along_x + drag * along_y])
        _share_out(forces, pressed, traction)
        _check_carried(face, outline, forces.sum(axis=1) - before)
    return forces


def traction_forces(
    mesh: SectionMesh, edges: Integers, traction: Callable[[Floats, Floats], Floats]
) -> Floats:
    """Integrate a traction given by formula to forces on the mesh's points.

    Parameters
    ----------
    mesh : SectionMesh
    edges : ndarray, shape (3, k)
        Begin, end and middle of each edge that it acts on.
    traction : callable
        From x and y, mm, of one shape, to the traction on the section, MPa, of shape
        (2, that shape).

    Returns
    -------
    ndarray, shape (2, points)
    """
    forces = np.zeros_like(mesh.points_mm)
    values, slopes = _edge_shapes()
    x, y = np.einsum("ckq,kp->cqp", mesh.points_mm[:, edges], values)
    length = np.hypot(*np.einsum("ckq,kp->cqp", mesh.points_mm[:, edges], slopes))
    _share_out(forces, edges, np.asarray(traction(x, y)) * length)
    return forces


def body_forces(mesh: SectionMesh, force: Callable[[Floats, Floats], Floats]) -> Floats:
    """Integrate a force per volume given by formula to forces on the mesh's points.

    No edge has one worth its weight: published checks do.

    Parameters
    ----------
    mesh : SectionMesh
    force : callable
        From x and y, mm, of one shape, to the force per volume, N/mm³, of shape
        (2, that shape).

    Returns
    -------
    ndarray, shape (2, points)
        Exact where the force is a polynomial of fifth degree over triangles with straight
        edges, of first degree over curved ones.
    """
    forces = np.zeros_like(mesh.points_mm)
    corners = mesh.points_mm[:, mesh.triangles]
    places, weights = triangle_rule(BODY_POINTS)
    for local, weight in zip(places.T, weights, strict=True):
        shapes = shape_functions(local)
        (xr, yr), (xs, ys) = (corners.transpose(0, 2, 1) @ by for by in shape_slopes(local))
        x, y = corners.transpose(0, 2, 1) @ shapes
        size = weight * (xr * ys - yr * xs) * np.asarray(force(x, y))
        for component in (0, 1):
            np.add.at(forces[component], mesh.triangles, np.outer(shapes, size[component]))
    return forces


def _share_out(forces: Floats, edges: Integers, size: Floats) -> None:
    """Add to the forces on the points of edges what acts at their Gauss points."""
    values, _ = _edge_shapes()
    for component in (0, 1):
        shares = np.einsum("qp,kp->kq", size[component] * EDGE_WEIGHTS, values)
        np.add.at(forces[component], edges, shares)


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
