"""How a section comes to its mesh: here at once, or in a process that can be stopped."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from simedge.section.element_sizes import Resolution
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.mesh_worker import mesh_in_worker
from simedge.section.outline import Outline, Side

#: More are meshed in a process of their own, which Ctrl-C and a deadline reach.
MANY_TRIANGLES = 30_000


def make_mesh(
    outline: Outline,
    patch_ends: Mapping[Side, Iterable[float]],
    resolution: Resolution,
    *,
    triangles: int,
    traced: bool,
) -> SectionMesh:
    """Mesh an outline, where the mesher may hang or be long in a process that is killed then.

    Parameters
    ----------
    outline : Outline
    patch_ends : mapping of side to depths x
    resolution : Resolution
    triangles : int
        About how many there will be.
    traced : bool
        The outline follows points that a person measured.

    Returns
    -------
    SectionMesh

    Raises
    ------
    NumericsFailed
        The mesher failed, died, or took too long.
    SystemLibraryMissing
        gmsh's shared libraries are not installed.
    """
    if traced or triangles > MANY_TRIANGLES:
        return mesh_in_worker(outline, patch_ends, resolution)
    return mesh_outline(outline, patch_ends, resolution)
