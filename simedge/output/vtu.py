"""The whole field of a run as a VTU file, which ParaView and many others open."""

from __future__ import annotations

from pathlib import Path

import meshio
import numpy as np

from simedge.fem.stress_field import StressField
from simedge.runs.run import Run
from simedge.section.outline import Floats

COMPONENTS = ("xx", "yy", "xy", "zz")


def _smallest_principal(field: StressField) -> Floats:
    xx, yy, *_ = field.stress_mpa
    return np.asarray(xx + yy - field.largest_principal_mpa)


def point_data(run: Run) -> dict[str, Floats]:
    """Give every load's values at the points of the mesh.

    Returns
    -------
    dict of str to ndarray
        Keys begin with the load's number and name and end with the unit. Displacement
        has three components, for the benefit of programs that warp a mesh by it.
    """
    data: dict[str, Floats] = {}
    for index, answer in enumerate(run.loads):
        name = f"{index + 1} {answer.name}"
        moved = run.displacement.at_points_mm[index]
        data[f"{name}: displacement, mm"] = np.column_stack([*moved, np.zeros(moved.shape[1])])
        for component, values in zip(COMPONENTS, answer.stress.stress_mpa, strict=True):
            data[f"{name}: stress {component}, MPa"] = values
        data[f"{name}: von Mises, MPa"] = answer.stress.von_mises_mpa
        data[f"{name}: largest principal, MPa"] = answer.stress.largest_principal_mpa
        data[f"{name}: smallest principal, MPa"] = _smallest_principal(answer.stress)
    return data


def write_vtu(run: Run, path: Path) -> None:
    """Write the mesh and every load's field, millimetres and MPa.

    Parameters
    ----------
    run : Run
    path : Path
        Replaced if it is there.
    """
    points = np.column_stack([*run.mesh.points_mm, np.zeros(run.mesh.points_mm.shape[1])])
    mesh = meshio.Mesh(points, [("triangle6", run.mesh.triangles.T)], point_data=point_data(run))
    mesh.write(path, file_format="vtu")
