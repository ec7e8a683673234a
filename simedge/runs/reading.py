"""One load read off a solution: peaks, yielded region, movement, and the error of each."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from simedge.fem.elasticity import Elasticity
from simedge.fem.stress_field import StressField
from simedge.runs.solve import Problem, Solution
from simedge.section.outline import Outline
from simedge.section.tractions import Tractions
from simedge.strength.peaks import NO_PEAKS, Peak, Peaks, find_peaks
from simedge.strength.yielding import NOTHING_YIELDED, YieldedRegion, find_yielded
from simedge.strength.zones import PatchZone, patch_zone, resolved_from_mm, trusted_depth_mm

#: An error is stated so many times as large as the estimate; chosen on random sections so
#: that the true one lies within it in 95 % of all answers (tests/verification/stated_errors.py).
STRESS_SAFETY, MOVEMENT_SAFETY, DEPTH_SAFETY = 1.2, 2.25, 2.5
#: Of movements across the load errors cancel, but not wholly.
NOT_CANCELLED = 0.2
#: Of the movement's error, as a share, so much is every stress's: what the clamp's corners,
#: too sharp for any mesh, leave to the rest.
POLLUTION = 0.15


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Reading:
    """What one load does to the section, on one mesh.

    Attributes
    ----------
    tractions : Tractions
    field : StressField
    outline : Outline
    elasticity : Elasticity
    zone : PatchZone
        Set apart around where the load sits.
    something : bool
        The parts of the load do not cancel everywhere.
    peaks : Peaks
    yielded : YieldedRegion
    yield_strength_mpa : float
    movement_mm : tuple of (float, float) or None
        Axial, lateral, of the foremost point; None where it has no bound.
    movement_error_mm : tuple of (float, float)
    depth_errors_mm : tuple of (float, float or None)
        The mesh's part of the error of the yield depth, and of that through the thickness.
    """

    tractions: Tractions
    field: StressField
    outline: Outline
    elasticity: Elasticity
    zone: PatchZone
    something: bool
    peaks: Peaks
    yielded: YieldedRegion
    yield_strength_mpa: float
    movement_mm: tuple[float, float] | None
    movement_error_mm: tuple[float, float]
    depth_errors_mm: tuple[float, float | None] = (0.0, None)

    @property
    def shared_error(self) -> float:
        """What every stress of this load has of the movement's error, as a share.

        All of it where the movement is imposed: its force is wrong by as much.
        """
        if self.movement_mm is None:
            return 0.0
        size = float(np.hypot(*self.movement_mm))
        share = float(np.hypot(*self.movement_error_mm)) / size if size > 0.0 else 0.0
        return share if self.tractions.carried is not None else POLLUTION * share

    def peak_error_mpa(self, peak: Peak) -> float:
        """Give the mesh's part of the error of a peak."""
        return STRESS_SAFETY * peak.doubt_mpa + self.shared_error * abs(peak.value_mpa)

    @property
    def yield_doubt_mpa(self) -> float:
        """The mesh's part of the error of von Mises where the yielded region ends.

        Where nothing yields, at the highest place.
        """
        if self.yielded.depth_y_mm is not None:
            doubt = self.yielded.doubt_mpa
            error = STRESS_SAFETY * doubt + self.shared_error * self.yield_strength_mpa
            return DEPTH_SAFETY * error
        peaks = [peak for peak in (self.peaks.section, self.peaks.patch) if peak is not None]
        highest = max(peaks, key=lambda peak: peak.value_mpa, default=None)
        return 0.0 if highest is None else self.peak_error_mpa(highest)

    def depth_errors_with(self, doubt_mpa: float) -> tuple[float, float | None]:
        """Give by how much the yield depths change where von Mises is higher or lower by a doubt.

        Of the depth, and of that through the whole thickness, None where there is none.
        """
        depth, through = self.yielded.depth_mm, self.yielded.through_depth_mm
        if not self.something:
            return 0.0, None
        if not doubt_mpa < self.yield_strength_mpa:
            return depth, through
        trusted, resolved = trusted_depth_mm(self.outline), resolved_from_mm(self.outline)
        more, less = (
            find_yielded(self.field, self.yield_strength_mpa + sign * doubt_mpa, trusted, resolved)
            for sign in (-1.0, 1.0)
        )
        error = max(more.depth_mm - depth, depth - less.depth_mm)
        if through is None:
            return error, None
        deepest, nearest = more.through_depth_mm or through, less.through_depth_mm or 0.0
        return error, max(abs(deepest - through), abs(through - nearest))


def read_load(
    problem: Problem, solution: Solution, index: int, yield_strength_mpa: float
) -> Reading:
    """Read one load off a solution.

    Parameters
    ----------
    problem : Problem
    solution : Solution
    index : int
        Of the load.
    yield_strength_mpa : float
        Of the steel.
    """
    outline, field = problem.outline, solution.fields[index]
    tractions = solution.tractions[index]
    moved = solution.displacement.at_points_mm[index]
    trusted, zone = trusted_depth_mm(outline), patch_zone(tractions, outline)
    something = bool(np.any(moved))
    foremost = moved[:, solution.displacement.mesh.foremost]
    movement: tuple[float, float] | None = (float(foremost[0]), float(foremost[1]))
    if something and zone.tip is not None and zone.tip.kind == "sharp":
        movement = None  # a point under a force moves without bound, the finer the mesh the more
    errors = solution.movement_errors
    axial, lateral = (
        MOVEMENT_SAFETY * abs(float(expected)) + NOT_CANCELLED * float(largest)
        for expected, largest in zip(
            errors.expected_mm[:, index], errors.largest_mm[:, index], strict=True
        )
    )
    reading = Reading(
        tractions=tractions,
        field=field,
        outline=outline,
        elasticity=problem.elasticity,
        zone=zone,
        something=something,
        peaks=find_peaks(field, zone, outline, trusted) if something else NO_PEAKS,
        yielded=(
            find_yielded(field, yield_strength_mpa, trusted, resolved_from_mm(outline))
            if something
            else NOTHING_YIELDED
        ),
        yield_strength_mpa=yield_strength_mpa,
        movement_mm=movement,
        movement_error_mm=(axial, lateral),
    )
    return replace(reading, depth_errors_mm=reading.depth_errors_with(reading.yield_doubt_mpa))
