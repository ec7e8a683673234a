"""What the mesh leaves open of an answer, from the recovered gradients of that very run.

Recovered gradients are more accurate than the elements' own; how far they differ measures
the error of the elements (O. C. Zienkiewicz and J. Z. Zhu, Int. J. Numer. Meth. Eng. 24
(1987) 337-357, from memory), and through a dual load that of one movement (R. Becker and
R. Rannacher, Acta Numerica 10 (2001) 1-102, from memory). Of the recovered stress itself
neighbouring fits say what they leave open: each is carried to the other's place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from simedge.fem.elastic import Displacement
from simedge.fem.elasticity import Elasticity
from simedge.fem.frames import Frames
from simedge.fem.lookup import shape_functions, shape_slopes
from simedge.fem.recovery import PatchFits
from simedge.fem.stress_field import StressField, strains_of, von_mises
from simedge.section.mesh import Integers
from simedge.section.outline import Floats

#: Inner points of a triangle at which a product of two linear fields is integrated exactly.
INNER_POINTS = np.array([[1 / 6, 2 / 3, 1 / 6], [1 / 6, 1 / 6, 2 / 3]])
#: Of the scatter between neighbouring fits this share goes into the doubt beside their mean.
SCATTER_SHARE = 0.2


def stress_doubt_mpa(fits: PatchFits, elasticity: Elasticity, boundary: Sequence[Frames]) -> Floats:
    """Give by how much neighbouring fits disagree about von Mises.

    Parameters
    ----------
    fits : PatchFits
        Of the displacements, x and y of each load in turn.
    elasticity : Elasticity
    boundary : sequence of Frames
        There only the stretch along the boundary comes from the fits.

    Returns
    -------
    ndarray, shape (loads, points)
        Von Mises of the mean difference from the neighbours, and a little of the scatter
        about it.
    """
    points = fits.mesh.points_mm.shape[1]
    tangent = np.zeros((2, points))
    for frames in boundary:
        tangent[:, frames.points] = frames.tangent
    begin, end, middle = fits.edges
    own = fits.own_gradients
    pairs = [
        (at, fits.gradients_at(other, at) - own[:, :, at])
        for at, other in ((begin, end), (end, begin))
    ]
    from_begin, from_end = (fits.gradients_at(corner, middle) for corner in (begin, end))
    pairs.append((middle, 0.5 * (from_begin - from_end)))
    loads = own.shape[1] // 2
    total, squares = np.zeros((4, loads, points)), np.zeros((loads, points))
    count = np.zeros(points)

    def gathered(at: Integers, values: Floats) -> Floats:
        return np.asarray(np.bincount(at, weights=values, minlength=points), dtype=np.float64)

    for at, difference in pairs:
        strain = strains_of(difference)
        x, y = tangent[:, at]
        along = strain[0] * x**2 + strain[1] * y**2 + 2.0 * strain[2] * x * y
        stress = elasticity.stress_mpa(strain)
        bounded = (x != 0.0) | (y != 0.0)
        stretched = elasticity.stretched_mpa(along[:, bounded], np.zeros(()))
        stress[:, :, bounded] = 0.0
        stress[0][:, bounded] = stretched
        stress[3][:, bounded] = elasticity.along_edge_mpa(stretched)
        for load, size in enumerate(von_mises(stress)):
            squares[load] += gathered(at, size**2)
            for component in range(4):
                total[component, load] += gathered(at, stress[component, load])
        count += np.bincount(at, minlength=points)
    return np.asarray(von_mises(total / count) + SCATTER_SHARE * np.sqrt(squares / count))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MovementErrors:
    """What the mesh leaves open of movements.

    Attributes
    ----------
    expected_mm : ndarray, shape (movements, loads)
        With its sign: as far as recovered stress tells, the exact movement less ours.
    largest_mm : ndarray, shape (movements, loads)
        Were nothing of it to cancel.
    shares_mm : ndarray, shape (movements, loads, elements)
        What each element adds to the latter.
    """

    expected_mm: Floats
    largest_mm: Floats
    shares_mm: Floats


def movement_errors(
    displacement: Displacement, fields: Sequence[StressField], duals: int
) -> MovementErrors:
    """Estimate the error of movements, each the work of a dual load.

    Parameters
    ----------
    displacement : Displacement
        Its last loads are the dual ones: unit loads whose work is the movement asked for.
    fields : sequence of StressField
        Recovered, of all loads.
    duals : int
        How many loads are dual.

    Notes
    -----
    Of each element the work of the stress error under the load on the strain error under
    the dual one. On random sections the lateral movement's is 0.7 to 1.0 of the true error.
    """
    mesh, elasticity = displacement.mesh, displacement.elasticity
    loads, _, points = displacement.at_points_mm.shape
    moved = displacement.at_points_mm.reshape(-1, points)[:, mesh.triangles]
    places = mesh.points_mm[:, mesh.triangles]
    better = np.stack([field.stress_mpa for field in fields], axis=1)[:, :, mesh.triangles]
    energy = np.zeros((loads, mesh.triangles.shape[1]))
    work = np.zeros((duals, loads - duals))
    for local in INNER_POINTS.T:
        by_r, by_s = shape_slopes(local)
        (xr, yr), (xs, ys) = (np.einsum("cke,k->ce", places, by) for by in (by_r, by_s))
        size = xr * ys - yr * xs
        of_r, of_s = (np.einsum("fke,k->fe", moved, by) for by in (by_r, by_s))
        own = strains_of(np.stack([of_r * ys - of_s * yr, of_s * xr - of_r * xs]) / size)
        recovered = np.einsum("clke,k->cle", better, shape_functions(local))
        apart = recovered - elasticity.stress_mpa(own)
        strain = elasticity.strain(apart)
        weight = size / 6.0
        energy += elasticity.work_mpa(apart, strain) * weight
        for dual in range(duals):
            shared = elasticity.work_mpa(
                apart[:, : loads - duals], strain[:, [loads - duals + dual]]
            )
            work[dual] += shared @ weight
    root = np.sqrt(energy)
    shares = root[loads - duals :, None] * root[None, : loads - duals]
    return MovementErrors(expected_mm=work, largest_mm=shares.sum(axis=2), shares_mm=shares)
