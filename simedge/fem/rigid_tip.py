"""A tip whose patch moves as one, as a hard object carries it: by a force, or by a distance.

The patch may turn as it moves: the object pushes at the foremost point and does not twist
it. Its nodal forces follow from the section's flexibility, by the factorisation that
every other load uses, so that no second one is needed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from threadpoolctl import threadpool_limits

from simedge.fem.elastic import HeldSection
from simedge.section.mesh import Integers
from simedge.section.outline import Floats
from simedge.section.tractions import TipMovement, TipTraction, Tractions


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SettledLoad:
    """A load whose forces are all known.

    Attributes
    ----------
    tractions : Tractions
        An imposed movement has become the rigid load that makes it.
    forces : ndarray, shape (2, points)
        N per mm of edge on the mesh's points.
    """

    tractions: Tractions
    forces: Floats


def settle_tip(section: HeldSection, tractions: Tractions, forces: Floats) -> SettledLoad:
    """Work out the forces on a tip that moves as one.

    Parameters
    ----------
    section : HeldSection
    tractions : Tractions
    forces : ndarray, shape (2, points)
        Of all other parts, from `simedge.fem.nodal_forces.nodal_forces`.

    Returns
    -------
    SettledLoad
        Loads without a rigid part or a movement as they came.
    """
    rigid = [part for part in tractions.tip if part.spread == "rigid"]
    if not rigid and tractions.movement is None:
        return SettledLoad(tractions=tractions, forces=forces)
    tip = _tip_points(section)
    flexibility, moved = _flexibility(section, tip, forces)
    load = np.array(
        [
            sum(part.axial_n_per_mm for part in rigid),
            sum(part.lateral_n_per_mm for part in rigid),
        ]
    )
    settled, reaction = _carry(section, tip, flexibility, moved, load, tractions.movement)
    total = forces.copy()
    total[:, tip] += settled.reshape(-1, 2).T
    if tractions.movement is not None:
        imposed = (tractions.movement.axial_mm, tractions.movement.lateral_mm)
        axial, lateral = (
            0.0 if moved_mm is None else float(size)  # what moves freely takes no force
            for moved_mm, size in zip(imposed, reaction - load, strict=True)
        )
        made = TipTraction(axial_n_per_mm=axial, lateral_n_per_mm=lateral, spread="rigid")
        tractions = replace(
            tractions, movement=None, carried=tractions.movement, tip=(*tractions.tip, made)
        )
    return SettledLoad(tractions=tractions, forces=total)


#: Of all that acts: nodal forces below it are what rounding leaves of parts that cancel.
ROUNDING = 1e-12


def without_rounding(load: SettledLoad) -> SettledLoad:
    """Give a load whose parts cancel everywhere no forces at all, instead of their rounding."""
    tips = [abs(p.axial_n_per_mm) + abs(p.lateral_n_per_mm) for p in load.tractions.tip]
    faces = [p.pressure_mpa * (p.to_mm - p.from_mm) for p in load.tractions.faces]
    if float(np.abs(load.forces).max()) > ROUNDING * (sum(tips) + sum(faces)):
        return load
    return replace(load, forces=np.zeros_like(load.forces))


def _tip_points(section: HeldSection) -> Integers:
    points = np.unique(section.mesh.boundary["tip"])
    return points if points.size else np.array([section.mesh.foremost])


def _flexibility(section: HeldSection, tip: Integers, forces: Floats) -> tuple[Floats, Floats]:
    """Give what unit forces on the tip's points move there, and what the other forces do."""
    position = np.full(section.stiffness.shape[0], -1)
    position[section.free] = np.arange(section.free.size)
    rows = position[(2 * tip[:, None] + np.arange(2)).ravel()]
    loads = np.zeros((section.free.size, rows.size + 1))
    loads[rows, np.arange(rows.size)] = 1.0
    loads[:, -1] = forces.T.ravel()[section.free]
    with threadpool_limits(limits=1):
        moved = section.solve(loads)[rows]
    return moved[:, :-1], moved[:, -1]


def _carry(
    section: HeldSection,
    tip: Integers,
    flexibility: Floats,
    moved: Floats,
    load: Floats,
    movement: TipMovement | None,
) -> tuple[Floats, Floats]:
    """Solve for the tip's nodal forces and their sum: the points move as one rigid line."""
    offset = section.mesh.points_mm[:, tip] - section.mesh.points_mm[:, [section.mesh.foremost]]
    size = max(float(np.abs(offset).max()), np.finfo(float).tiny)
    turns = tip.size > 1
    motion = np.zeros((2 * tip.size, 3 if turns else 2))
    motion[0::2, 0] = motion[1::2, 1] = 1.0
    if turns:
        motion[0::2, 2], motion[1::2, 2] = -offset[1] / size, offset[0] / size
    points, ways = motion.shape
    # unknown: nodal forces, the rigid motion, and the resultant where a movement is imposed
    wanted = (None, None) if movement is None else (movement.axial_mm, movement.lateral_mm)
    imposed = [index for index, value in enumerate(wanted) if value is not None]
    count = points + ways + len(imposed)
    system, right = np.zeros((count, count)), np.zeros(count)
    scale = float(np.abs(flexibility).max())
    system[:points, :points] = flexibility / scale
    system[:points, points : points + ways] = -motion
    right[:points] = -moved / scale
    system[points : points + ways, :points] = motion.T
    right[points : points + 2] = load
    for column, index in enumerate(imposed):
        system[points + index, points + ways + column] = -1.0
        system[points + ways + column, points + index] = 1.0
        right[points + ways + column] = float(wanted[index] or 0.0) / scale
    solution = np.linalg.solve(system, right)
    nodal: Floats = np.asarray(solution[:points], dtype=float)
    return nodal, np.asarray(motion[:, :2].T @ nodal)
