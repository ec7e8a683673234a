"""Six-node triangles over the image of a unit square: meshes for published benchmarks.

Their shapes are four-sided and known by formula, so that a grid, carried to its place
point by point, follows curved boundaries and grades its elements by the formula itself.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

import numpy as np

from simedge.section.mesh import Integers, SectionMesh
from simedge.section.outline import Floats

#: From u and v between 0 and 1, of one shape, to x and y.
Place = Callable[[Floats, Floats], tuple[Floats, Floats]]
SquareSide = Literal["u=0", "u=1", "v=0", "v=1"]


def graded(share: Floats, growth: float) -> Floats:
    """Carry shares of a length so that steps grow evenly along it.

    Parameters
    ----------
    share : ndarray
        Between 0 and 1.
    growth : float
        Step at the end over step at the beginning, for many steps; above 0 and not 1.

    Examples
    --------
    Half of the steps cover a third: (4^0.5 - 1) / (4 - 1).

    >>> round(float(graded(np.array(0.5), 4.0)), 6)
    0.333333
    """
    return np.asarray((growth**share - 1.0) / (growth - 1.0))


def mapped_mesh(
    place: Place, *, cells: tuple[int, int], boundary: Mapping[SquareSide, str]
) -> SectionMesh:
    """Mesh the image of the unit square.

    Parameters
    ----------
    place : callable
        From u and v to x and y, keeping the turn from u to v counter-clockwise. Corners
        and middles of edges all lie on the image itself, on curved boundaries too.
    cells : (int, int)
        Along u and along v; each is cut into two triangles.
    boundary : mapping
        Names for sides of the square.

    Returns
    -------
    SectionMesh
        With the sides that were named, each counter-clockwise about the section.

    Raises
    ------
    ValueError
        The formula turns a triangle over.
    """
    along_u, along_v = cells
    i, j = np.meshgrid(np.arange(2 * along_u + 1), np.arange(2 * along_v + 1), indexing="ij")
    is_corner = ((i % 2 == 0) & (j % 2 == 0)).ravel()
    number = np.empty(is_corner.size, dtype=np.int64)
    corners = int(is_corner.sum())
    number[is_corner] = np.arange(corners)
    number[~is_corner] = np.arange(corners, is_corner.size)
    at = number.reshape(i.shape)

    x, y = place(i / (2.0 * along_u), j / (2.0 * along_v))
    points = np.empty((2, is_corner.size))
    points[:, number] = np.stack([np.ravel(x), np.ravel(y)])

    def corner_grid(right: int, up: int) -> Integers:
        """Give for all cells their point so many half steps to the right and up."""
        return np.asarray(
            at[right : right + 2 * along_u - 1 : 2, up : up + 2 * along_v - 1 : 2].ravel()
        )

    lower = [(0, 0), (2, 0), (2, 2), (1, 0), (2, 1), (1, 1)]
    upper = [(0, 0), (2, 2), (0, 2), (1, 1), (1, 2), (0, 1)]
    triangles = np.concatenate(
        [np.stack([corner_grid(*step) for step in half]) for half in (lower, upper)], axis=1
    )
    a, b, c = points[:, triangles[:3]].transpose(1, 0, 2)
    if not ((b[0] - a[0]) * (c[1] - a[1]) > (b[1] - a[1]) * (c[0] - a[0])).all():
        raise ValueError("place turns a triangle over; let it keep the turn from u to v")
    lines: dict[SquareSide, Integers] = {
        "v=0": at[:, 0],
        "u=1": at[-1, :],
        "v=1": at[::-1, -1],
        "u=0": at[0, ::-1],
    }
    return SectionMesh(
        points_mm=points,
        corners=corners,
        triangles=triangles,
        boundary={
            name: np.stack([lines[side][:-1:2], lines[side][2::2], lines[side][1::2]])
            for side, name in boundary.items()
        },
    )


def point_at(mesh: SectionMesh, x_mm: float, y_mm: float) -> int:
    """Give the index of the mesh's point nearest to a place."""
    x, y = mesh.points_mm
    return int(np.argmin(np.hypot(x - x_mm, y - y_mm)))


def points_on(mesh: SectionMesh, name: str) -> Integers:
    """Give the points of a named boundary, each once."""
    return np.unique(mesh.boundary[name])
