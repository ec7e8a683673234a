"""Mesh, solve, read, and again where the mesh leaves too much open: until the answers hold."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import hypot

import numpy as np

from simedge.fem.error_estimate import MovementErrors
from simedge.runs.errors import mesh_error_share
from simedge.runs.reading import Reading, read_load
from simedge.runs.singular_peaks import Growth, singular_tip, watch_peaks
from simedge.runs.solve import Problem, Solution, solve
from simedge.section.element_sizes import (
    MOST_TRIANGLES,
    ElementSizes,
    Resolution,
    check_element_budget,
    element_sizes,
    estimated_triangles,
)
from simedge.section.mesh import SectionMesh
from simedge.section.tractions import patch_ends_mm
from simedge.strength.peaks import Peak
from simedge.strength.singular import Singular

#: Meshes made at most.
MOST_ROUNDS = 6
#: Elements at a spot shrink at most so much from one mesh to the next, and at least so much:
#: with them the error of recovered stress, by about the third power.
SMALLEST_SHRINK, LARGEST_SHRINK = 0.25, 0.7
#: Where two finer meshes in a row leave more than this share of the error, more are of no use:
#: beside the abrupt end of a pressure stress is bounded but has no single value.
LEFT_IN_VAIN = 0.9
#: Of the elements that add most to a movement's error, so many are made smaller at a time.
MOST_ELEMENTS = 60

Spot = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Refined:
    """A problem solved as closely as was asked, or as could be.

    Attributes
    ----------
    solution : Solution
        On the last mesh.
    readings : tuple of Reading
    singular : tuple of (Singular or None)
        Of each load, where its peak has no bound.
    rounds : int
        Meshes that were made.
    fell_short : bool
        The element budget ended it, or the rounds did, or finer meshes were of no use.
    """

    solution: Solution
    readings: tuple[Reading, ...]
    singular: tuple[Singular | None, ...]
    rounds: int
    fell_short: bool


def solve_to_accuracy(
    problem: Problem, yield_strength_mpa: float, accuracy_percent: float
) -> Refined:
    """Solve until peaks, movements and yield depths are as accurate as asked.

    Parameters
    ----------
    problem : Problem
    yield_strength_mpa : float
    accuracy_percent : float
        Of each load's own section peak (and so of its load factor), movement, yield depth.

    Raises
    ------
    BadInput
        The very first mesh would take more elements than are made.
    NumericsFailed
        The mesher or the solver gave nothing that may be shown.
    """
    ends = patch_ends_mm(problem.tractions)
    triangles = check_element_budget(problem.outline, ends, accuracy_percent)
    resolution = Resolution.first_for(accuracy_percent)
    growths = tuple(Growth() for _ in problem.tractions)
    asked = accuracy_percent / 100.0
    worst: list[float] = []
    for rounds in range(1, MOST_ROUNDS + 1):
        solution = solve(problem, resolution, triangles)
        readings = tuple(
            read_load(problem, solution, index, yield_strength_mpa)
            for index in range(len(problem.tractions))
        )
        sizes = element_sizes(problem.outline, ends, resolution)
        growths = watch_peaks(growths, readings, sizes)
        spots = [
            spot
            for index, (reading, growth) in enumerate(zip(readings, growths, strict=True))
            for spot in _spots(reading, growth, solution, index, sizes, asked)
        ]
        worst.append(max(mesh_error_share(reading) for reading in readings))
        in_vain = len(worst) > 2 and worst[-1] > LEFT_IN_VAIN * worst[-3]
        waiting = any(growth.is_suspected for growth in growths)
        if not spots or rounds == MOST_ROUNDS or (in_vain and not waiting):
            break
        finer = replace(resolution, spots=(*resolution.spots, *spots))
        triangles = estimated_triangles(problem.outline, ends, finer)
        if triangles > MOST_TRIANGLES:
            break
        resolution = finer
    return Refined(
        solution=solution,
        readings=readings,
        singular=tuple(
            growth.singular or singular_tip(reading)
            for growth, reading in zip(growths, readings, strict=True)
        ),
        rounds=rounds,
        fell_short=bool(spots),
    )


def _spots(
    reading: Reading,
    growth: Growth,
    solution: Solution,
    index: int,
    sizes: ElementSizes,
    asked: float,
) -> list[Spot]:
    """Give where one load's answers ask for smaller elements."""
    spots = []
    peak = reading.peaks.section
    if peak is not None and growth.singular is None:
        if growth.is_suspected:
            spots.append(_spot(peak.x_mm, peak.y_mm, SMALLEST_SHRINK, sizes))
        else:
            spots += _spot_of_peak(peak, reading.peak_error_mpa(peak), asked, sizes)
    depth = reading.yielded
    if depth.depth_y_mm is not None and not depth.reaches_clamp:
        error, _ = reading.depth_errors_mm
        if error > asked * depth.depth_mm:
            shrink = _shrink(asked * depth.depth_mm, error)
            spots.append(_spot(depth.depth_mm, depth.depth_y_mm, shrink, sizes))
    if reading.movement_mm is not None:
        error, size = hypot(*reading.movement_error_mm), hypot(*reading.movement_mm)
        if error > asked * size:
            spots += _spots_of_movement(
                solution.displacement.mesh, solution.movement_errors, index, asked * size / error
            )
    return spots


def _shrink(wanted: float, found: float) -> float:
    return float(np.clip((wanted / found) ** (1.0 / 3.0), SMALLEST_SHRINK, LARGEST_SHRINK))


def _spot(x_mm: float, y_mm: float, shrink: float, sizes: ElementSizes) -> Spot:
    return x_mm, y_mm, shrink * float(sizes.at(x_mm, y_mm))


def _spot_of_peak(peak: Peak, error_mpa: float, asked: float, sizes: ElementSizes) -> list[Spot]:
    wanted = asked * abs(peak.value_mpa)
    if error_mpa <= wanted:
        return []
    return [_spot(peak.x_mm, peak.y_mm, _shrink(wanted, error_mpa), sizes)]


def _spots_of_movement(
    mesh: SectionMesh, errors: MovementErrors, index: int, wanted_share: float
) -> list[Spot]:
    """Give the elements that add most to a movement's error, each to be half as large."""
    shares = np.hypot(*errors.shares_mm[:, index])
    order = np.argsort(shares)[::-1]
    left = 1.0 - np.cumsum(shares[order]) / shares.sum()
    count = min(int(np.searchsorted(-left, -0.5 * wanted_share)) + 1, MOST_ELEMENTS)
    spots: list[Spot] = []
    for element in order[:count]:
        corners = mesh.points_mm[:, mesh.triangles[:3, element]]
        x, y = corners.mean(axis=1)
        size = float(np.hypot(*(corners - np.roll(corners, 1, axis=1))).mean())
        if all(hypot(x - a, y - b) > size for a, b, _ in spots):
            spots.append((float(x), float(y), 0.5 * size))
    return spots
