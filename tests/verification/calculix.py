"""A section as an input deck of CalculiX (Debian's calculix-ccx), and its answers read back.

Beside the tests, not in the package: nobody needs it who wants an answer about an edge. The
format is that of the CalculiX CrunchiX User's Manual, version 2.20, keywords ``*NODE``,
``*ELEMENT`` (CPE6: the points of a six-node triangle in the order of `SectionMesh`), ``*CLOAD``,
``*NODE PRINT`` and ``*EL PRINT``.
"""

from __future__ import annotations

import subprocess
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from simedge.fem.elastic import base_points
from simedge.fem.elasticity import Elasticity
from simedge.fem.lookup import shape_functions
from simedge.section.mesh import SectionMesh
from simedge.section.outline import Floats

PROGRAM = "ccx"
#: Fields of the deck are read 20 characters wide: a sign, 14 digits behind the first, exponent.
DECK_NUMBER = ".13e"
#: Of a CPE6, which CalculiX sweeps to a wedge of 15 nodes, integration points in the mid-plane
#: are the fourth to the sixth of nine; here their local coordinates, (1, 0) at the second corner.
INTEGRATION_POINTS = np.array([[1.0, 4.0, 1.0], [1.0, 1.0, 4.0]]) / 6.0
IN_MID_PLANE = slice(3, 6)
POINTS_OF_WEDGE = 9
LIMIT_S = 300.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SecondOpinion:
    """What CalculiX says of one load.

    Attributes
    ----------
    at_points_mm : ndarray, shape (2, points)
        Displacement.
    places_mm : ndarray, shape (2, 3 * triangles)
        Integration points as it prints them, triangle by triangle.
    stress_mpa : ndarray, shape (4, 3 * triangles)
        Components xx, yy, xy, zz there.
    """

    at_points_mm: Floats
    places_mm: Floats
    stress_mpa: Floats


def integration_places_mm(mesh: SectionMesh) -> Floats:
    """Give the places of the integration points, shape (2, 3 * triangles), to all digits."""
    shapes = shape_functions(INTEGRATION_POINTS)
    return np.asarray(
        (mesh.points_mm[:, mesh.triangles].transpose(0, 2, 1) @ shapes).reshape(2, -1)
    )


def deck(mesh: SectionMesh, elasticity: Elasticity, forces: Floats) -> str:
    """Write the input deck: the mesh, the clamp at its base, forces in N on 1 mm of edge."""
    return "\n".join(_deck_lines(mesh, elasticity, forces)) + "\n"


def _deck_lines(mesh: SectionMesh, elasticity: Elasticity, forces: Floats) -> Iterator[str]:
    yield "*NODE, NSET=POINTS"
    for number, (x, y) in enumerate(mesh.points_mm.T, start=1):
        yield f"{number}, {x:{DECK_NUMBER}}, {y:{DECK_NUMBER}}"
    yield "*ELEMENT, TYPE=CPE6, ELSET=TRIANGLES"
    for number, points in enumerate(mesh.triangles.T + 1, start=1):
        yield ", ".join(str(int(entry)) for entry in (number, *points))
    yield "*MATERIAL, NAME=STEEL"
    yield "*ELASTIC"
    modulus, ratio = elasticity.youngs_modulus_mpa, elasticity.poissons_ratio
    yield f"{modulus:{DECK_NUMBER}}, {ratio:{DECK_NUMBER}}"
    yield "*SOLID SECTION, ELSET=TRIANGLES, MATERIAL=STEEL"
    yield "1."
    yield "*BOUNDARY"
    for component, point in np.argwhere(base_points(mesh)):
        yield f"{point + 1}, {component + 1}, {component + 1}"
    yield from ("*STEP", "*STATIC", "*CLOAD")
    for component, point in np.argwhere(forces != 0.0):
        yield f"{point + 1}, {component + 1}, {forces[component, point]:{DECK_NUMBER}}"
    yield from ("*NODE PRINT, NSET=POINTS", "U", "*EL PRINT, ELSET=TRIANGLES", "S, COORD")
    yield "*END STEP"


def ask_calculix(
    mesh: SectionMesh, elasticity: Elasticity, forces: Floats, folder: Path
) -> SecondOpinion:
    """Let CalculiX solve one load on a mesh held at its base.

    Parameters
    ----------
    mesh : SectionMesh
    elasticity : Elasticity
    forces : ndarray, shape (2, points)
        N per mm of edge.
    folder : Path
        Where it may leave its files.

    Raises
    ------
    RuntimeError
        It gave no answer, or one of another shape.
    """
    (folder / "section.inp").write_text(deck(mesh, elasticity, forces), encoding="ascii")
    done = subprocess.run(
        [PROGRAM, "section"], cwd=folder, capture_output=True, text=True, timeout=LIMIT_S
    )
    answer = folder / "section.dat"
    if done.returncode != 0 or not answer.is_file():
        raise RuntimeError(f"{PROGRAM} gave no answer: {done.stdout[-2000:]}{done.stderr[-500:]}")
    moved, stress, places = _tables(
        answer.read_text(encoding="ascii"),
        titles=("displacements", "stresses", "global coordinates"),
    )
    points, triangles = mesh.points_mm.shape[1], mesh.triangles.shape[1]
    if not np.array_equal(moved[:, 0], np.arange(1, points + 1)):
        raise RuntimeError(f"{PROGRAM} did not give the displacement of each point")
    xx, yy, zz, xy = _in_mid_plane(stress, triangles)[:4]
    return SecondOpinion(
        at_points_mm=moved[:, 1:3].T,
        places_mm=_in_mid_plane(places, triangles)[:2],
        stress_mpa=np.stack([xx, yy, xy, zz]),
    )


def _tables(text: str, titles: Sequence[str]) -> list[Floats]:
    """Split CalculiX's printed output into its tables, given in the order of the titles."""
    found: dict[str, list[str]] = {}
    rows: list[str] = []
    for line in text.splitlines():
        title = next((name for name in titles if line.strip().startswith(name)), None)
        if title is not None:
            rows = found[title] = []
        elif line.strip():
            rows.append(line)
    if set(found) != set(titles):
        raise RuntimeError(f"{PROGRAM} printed {sorted(found)} instead of {sorted(titles)}")
    return [np.loadtxt(found[title], ndmin=2) for title in titles]


def _in_mid_plane(table: Floats, triangles: int) -> Floats:
    """Give the columns of a table of integration points in the mid-plane, shape (columns, n)."""
    element, point = table[:, :2].reshape(-1, POINTS_OF_WEDGE, 2).transpose(2, 0, 1)
    if not (
        element.shape[0] == triangles
        and (element == np.arange(1, triangles + 1)[:, None]).all()
        and (point == np.arange(1, POINTS_OF_WEDGE + 1)).all()
    ):
        raise RuntimeError(f"{PROGRAM} did not give all integration points of each triangle")
    columns = table[:, 2:].reshape(triangles, POINTS_OF_WEDGE, -1)[:, IN_MID_PLANE]
    return np.asarray(columns.reshape(3 * triangles, -1).T)
