"""The section read off station by station: stress on both faces and inside, and forces.

Section forces are by statics, from the tractions: what acts on the blade between the
apex and the section x = const, about that section's centroid.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simedge.fem.lookup import interpolate
from simedge.fem.stress_field import StressField
from simedge.section.outline import SIDES, Floats, Outline
from simedge.section.tractions import Tractions, resultant_up_to
from simedge.strength.along_faces import along_face_mpa

#: Stations between the tip and the clamp, besides shoulders and patch ends.
STATIONS = 96


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stations:
    """One load, station by station; every array has shape (stations,).

    Attributes
    ----------
    x_mm, thickness_mm : ndarray
    left_face_mpa, right_face_mpa : ndarray
        Stress along each face.
    axis_mpa : ndarray
        Component xx at mid-thickness.
    moment_n, shear_n_per_mm, axial_n_per_mm : ndarray
        Of what acts in front of the section, about its centroid: turning x to y,
        towards +y, and into the blade.
    """

    x_mm: Floats
    thickness_mm: Floats
    left_face_mpa: Floats
    right_face_mpa: Floats
    axis_mpa: Floats
    moment_n: Floats
    shear_n_per_mm: Floats
    axial_n_per_mm: Floats


def station_depths_mm(outline: Outline, loads: tuple[Tractions, ...]) -> Floats:
    """Choose the depths of the stations: close at the tip, and at every shoulder and patch end."""
    begin = max(outline.face_begins_mm(side) for side in SIDES)
    step = max(0.25 * outline.tip.width_mm, 1e-6 * outline.depth_mm)
    graded = begin + np.geomspace(step, outline.depth_mm - begin, STATIONS)
    marks = [begin, outline.depth_mm]
    marks += [run.end_mm[0] for side in SIDES for run in outline.face(side)]
    marks += [x for load in loads for part in load.faces for x in (part.from_mm, part.to_mm)]
    x = np.unique(np.concatenate([graded, [m for m in marks if m >= begin]]))
    return np.asarray(x[np.concatenate([np.diff(x) > 1e-9 * outline.depth_mm, [True]])])


def read_stations(
    fields: tuple[StressField, ...], loads: tuple[Tractions, ...], outline: Outline
) -> tuple[Stations, ...]:
    """Read every load's field off at the stations.

    Parameters
    ----------
    fields : tuple of StressField
        On one mesh.
    loads : tuple of Tractions
        In the same order.
    outline : Outline

    Returns
    -------
    tuple of Stations
    """
    x = station_depths_mm(outline, loads)
    left, right = outline.face_y_mm("left", x), outline.face_y_mm("right", x)
    middle = 0.5 * (left + right)
    places = np.stack([np.tile(x, 3), np.concatenate([left, right, middle])])
    stacked = np.concatenate([field.stress_mpa for field in fields])
    values = interpolate(fields[0].mesh, stacked, places).reshape(len(fields), 4, 3, x.size)
    read = []
    for load, stress in zip(loads, values, strict=True):
        along = []
        for row, side in enumerate(SIDES):
            along.append(along_face_mpa(stress[:, row], outline, side, x))
        forces = resultant_up_to(load, outline, x)
        read.append(
            Stations(
                x_mm=x,
                thickness_mm=left - right,
                left_face_mpa=along[0],
                right_face_mpa=along[1],
                axis_mpa=stress[0, 2],
                moment_n=forces.moment_about_n(x, middle),
                shear_n_per_mm=forces.lateral_n_per_mm,
                axial_n_per_mm=forces.axial_n_per_mm,
            )
        )
    return tuple(read)
