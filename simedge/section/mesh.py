"""Triangles of second order over an outline, made by gmsh; gmsh is imported only here."""

from __future__ import annotations

import ctypes.util
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simedge.errors import NumericsFailed, SystemLibraryMissing
from simedge.section.arcs import bend_to_arcs
from simedge.section.element_sizes import (
    MOST_TRIANGLES,
    Resolution,
    element_sizes,
    face_vertices,
)
from simedge.section.mesh_quality import check_joined, check_quality
from simedge.section.outline import SIDES, Floats, Outline, Side

Integers = NDArray[np.int64]

#: Shared libraries that gmsh's wheel takes from the system, with their Debian packages.
SYSTEM_LIBRARIES = {
    "GLU": "libglu1-mesa",
    "GL": "libgl1",
    "Xcursor": "libxcursor1",
    "Xft": "libxft2",
    "Xinerama": "libxinerama1",
    "gomp": "libgomp1",
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SectionMesh:
    """Six-node triangles over a section.

    Attributes
    ----------
    points_mm : ndarray, shape (2, n)
        Corners first, then the middles of the edges.
    corners : int
        How many of the points are corners.
    triangles : ndarray, shape (6, m)
        Corners, then the middles of edges 0-1, 1-2, 2-0; counter-clockwise.
    boundary : mapping
        ``"tip"``, ``"left"``, ``"right"``, ``"base"`` to edges, shape (3, k): begin,
        end, middle.
    """

    points_mm: Floats
    corners: int
    triangles: Integers
    boundary: Mapping[str, Integers]

    @property
    def foremost(self) -> int:
        """Index of the point at the apex: the foremost, or the middle of the land."""
        return int(np.argmin(np.hypot(*self.points_mm)))


def _missing_libraries() -> list[str]:
    return [p for n, p in SYSTEM_LIBRARIES.items() if ctypes.util.find_library(n) is None]


def _gmsh() -> Any:
    try:
        import gmsh
    except OSError as error:
        packages = " ".join(_missing_libraries() or SYSTEM_LIBRARIES.values())
        raise SystemLibraryMissing(
            f"gmsh cannot start: {error}; install what it needs with: "
            f"apt-get install --yes {packages}"
        ) from error
    return gmsh


def mesh_outline(
    outline: Outline, patch_ends: Mapping[Side, Iterable[float]], resolution: Resolution
) -> SectionMesh:
    """Mesh an outline with second-order triangles.

    Parameters
    ----------
    outline : Outline
    patch_ends : mapping of side to depths x
        Where pressed stretches begin or end: nodes stand exactly there.
    resolution : Resolution

    Returns
    -------
    SectionMesh
        Its area is that of the outline (the arc of the tip to the mesh's own accuracy).

    Raises
    ------
    NumericsFailed
        gmsh gave no triangles, not the outline's area, or triangles of bad shape.
    SystemLibraryMissing
        gmsh's shared libraries are not installed.
    """
    sizes = element_sizes(outline, patch_ends, resolution)
    faces = {side: face_vertices(sizes, side, patch_ends.get(side, ())) for side in SIDES}
    points, triangles, boundary = _run_gmsh(outline, faces, sizes.at_tip_mm, sizes.at_foremost_mm)
    points = bend_to_arcs(points, triangles, boundary, outline, faces)
    mesh = _section_mesh(points, triangles, boundary)
    _check(mesh, outline)
    check_joined(mesh.triangles, mesh.boundary.values())
    check_quality(mesh.points_mm, mesh.triangles)
    return mesh


def _run_gmsh(
    outline: Outline,
    faces: Mapping[Side, list[tuple[float, float, float]]],
    tip_size: float,
    foremost_size: float,
) -> tuple[Floats, Integers, dict[str, Integers]]:
    gmsh = _gmsh()
    gmsh.initialize(interruptible=False)
    try:
        for option, value in (
            ("General.Terminal", 0),
            ("General.NumThreads", 1),
            ("Mesh.Algorithm", 6),
            ("Mesh.ElementOrder", 2),
            ("Mesh.SecondOrderLinear", 0),
            ("Mesh.MeshSizeFromPoints", 1),
            ("Mesh.MeshSizeExtendFromBoundary", 1),
            ("Geometry.Tolerance", 1e-12),
        ):
            gmsh.option.setNumber(option, value)
        curves = _draw(gmsh, outline, faces, tip_size, foremost_size)
        gmsh.model.mesh.generate(2)
        return _fetch(gmsh, curves)
    except NumericsFailed:
        raise
    except Exception as error:  # gmsh raises bare Exception for whatever goes wrong in it
        raise NumericsFailed(f"the mesher failed: {error}") from error
    finally:
        gmsh.finalize()


def _draw(
    gmsh: Any,
    outline: Outline,
    faces: Mapping[Side, list[tuple[float, float, float]]],
    tip_size: float,
    foremost_size: float,
) -> dict[str, list[int]]:
    """Draw the outline counter-clockwise from the left tip corner over the tip to the right."""
    geo = gmsh.model.geo
    corners: dict[Side, list[int]] = {}
    for side in SIDES:
        corners[side] = [geo.addPoint(x, y, 0.0, size) for x, y, size in faces[side]]
    if outline.tip.kind == "sharp":
        geo.remove([(0, corners["right"][0])])
        corners["right"][0] = corners["left"][0]
    curves: dict[str, list[int]] = {"tip": []}
    for side in SIDES:
        curves[side] = [geo.addLine(a, b) for a, b in pairwise(corners[side])]
    if outline.tip.kind == "rounded":
        centre = geo.addPoint(outline.tip.radius_mm, 0.0, 0.0, tip_size)
        foremost = geo.addPoint(0.0, 0.0, 0.0, foremost_size)
        curves["tip"] = [
            geo.addCircleArc(corners["left"][0], centre, foremost),
            geo.addCircleArc(foremost, centre, corners["right"][0]),
        ]
    elif outline.tip.kind == "land":
        middle = geo.addPoint(0.0, 0.0, 0.0, foremost_size)
        curves["tip"] = [
            geo.addLine(corners["left"][0], middle),
            geo.addLine(middle, corners["right"][0]),
        ]
    curves["base"] = [geo.addLine(corners["right"][-1], corners["left"][-1])]
    loop = curves["tip"] + curves["right"] + curves["base"] + [-c for c in reversed(curves["left"])]
    geo.addPlaneSurface([geo.addCurveLoop(loop)])
    geo.synchronize()
    return curves


def _fetch(
    gmsh: Any, curves: Mapping[str, list[int]]
) -> tuple[Floats, Integers, dict[str, Integers]]:
    """Take nodes, triangles and the edges of each named boundary out of gmsh's memory."""
    tags, coordinates, _ = gmsh.model.mesh.getNodes()
    types, _, nodes = gmsh.model.mesh.getElements(2)
    if len(types) != 1 or int(types[0]) != 9 or len(nodes[0]) == 0:
        raise NumericsFailed("the mesher produced nothing: no six-node triangles came back")
    triangles = np.asarray(nodes[0], dtype=np.int64).reshape(-1, 6).T
    if triangles.shape[1] > MOST_TRIANGLES:
        raise NumericsFailed(
            f"the mesh has {triangles.shape[1]} triangles, more than {MOST_TRIANGLES}; "
            "ask for a larger accuracy_percent"
        )
    boundary = {}
    for name, members in curves.items():
        found = [gmsh.model.mesh.getElements(1, curve)[2][0] for curve in members]
        edges = np.concatenate(found) if found else np.zeros(0)
        boundary[name] = np.asarray(edges, dtype=np.int64).reshape(-1, 3).T
    position = np.full(int(tags.max()) + 1, -1, dtype=np.int64)
    position[np.asarray(tags, dtype=np.int64)] = np.arange(len(tags))
    points = np.asarray(coordinates).reshape(-1, 3)[:, :2].T
    return (
        points,
        position[triangles],
        {name: position[edges] for name, edges in boundary.items()},
    )


def _section_mesh(
    points: Floats, triangles: Integers, boundary: dict[str, Integers]
) -> SectionMesh:
    """Renumber: corners first, unused nodes (the arc's centre) dropped."""
    corner_nodes = np.unique(triangles[:3])
    middle_nodes = np.unique(triangles[3:])
    order = np.concatenate([corner_nodes, middle_nodes])
    position = np.full(points.shape[1], -1, dtype=np.int64)
    position[order] = np.arange(len(order))
    renumbered = position[triangles]
    a, b, c = (points[:, order][:, renumbered[i]] for i in range(3))
    area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    flipped = area < 0
    renumbered[:, flipped] = renumbered[[0, 2, 1, 5, 4, 3]][:, flipped]
    mesh_points = np.ascontiguousarray(points[:, order])
    for array in (mesh_points, renumbered):
        array.setflags(write=False)
    return SectionMesh(
        points_mm=mesh_points,
        corners=len(corner_nodes),
        triangles=renumbered,
        boundary={name: position[edges] for name, edges in boundary.items()},
    )


def _check(mesh: SectionMesh, outline: Outline) -> None:
    """Refuse triangles that do not cover the outline, or a boundary of another length."""
    x, y = mesh.points_mm
    a, b, c = mesh.triangles[:3]
    area = 0.5 * float(np.sum((x[b] - x[a]) * (y[c] - y[a]) - (y[b] - y[a]) * (x[c] - x[a])))
    for name, sign in (("tip", 1.0), ("right", 1.0), ("left", -1.0)):
        begin, end, middle = mesh.boundary[name]
        # between the chord and the parabola of a curved edge lie two thirds of their rectangle
        sagitta = (x[middle] - 0.5 * (x[begin] + x[end])) * (y[end] - y[begin]) - (
            y[middle] - 0.5 * (y[begin] + y[end])
        ) * (x[end] - x[begin])
        area += sign * 2.0 / 3.0 * float(np.sum(sagitta))
    wanted = outline.area_mm2
    if not abs(area - wanted) <= 1e-6 * wanted:
        raise NumericsFailed(f"the mesh covers {area:.9g} mm² but the section has {wanted:.9g} mm²")
    lengths: dict[str, float] = {
        side: sum(run.length_mm for run in outline.face(side)) for side in SIDES
    }
    lengths["base"] = float(outline.thickness_mm(outline.depth_mm))
    for name, expected in lengths.items():
        length = _length(mesh, mesh.boundary[name])
        if not abs(length - expected) <= 1e-6 * expected:
            raise NumericsFailed(
                f"the mesh's {name} boundary is {length:.9g} mm long, not {expected:.9g} mm"
            )


def _length(mesh: SectionMesh, edges: Integers) -> float:
    """Give the length of edges, each the parabola through its three points."""
    begin, end, middle = mesh.points_mm[:, edges].transpose(1, 0, 2)
    places, weights = np.polynomial.legendre.leggauss(4)
    slopes = [(s - 0.5) * begin + (s + 0.5) * end - 2.0 * s * middle for s in places]
    return float(sum(w * np.hypot(*slope).sum() for w, slope in zip(weights, slopes, strict=True)))
