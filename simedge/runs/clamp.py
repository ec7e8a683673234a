"""Whether an answer depends on where the blade is held, and by how much."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from simedge.fem.held_nearer import change_if_held_at
from simedge.fem.lookup import locate
from simedge.fem.stress_field import strains_of, von_mises
from simedge.runs.reading import Reading
from simedge.runs.solve import Solution
from simedge.section.outline import Floats
from simedge.strength.peaks import Peak

#: Held nearer by this share of the depth.
NEARER_SHARE = 0.1
#: Changes below this share are what rounding leaves.
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class ClampEffect:
    """What would change were the blade held nearer to the edge.

    Attributes
    ----------
    held_at_mm : float
        Depth from which on it would be held.
    apex_axial_change_mm, apex_lateral_change_mm : float or None
        Of the movement; None where that has no bound.
    section_peak_change_mpa : float or None
        Size of the change of the section's peak; None where there is none.
    yield_change_mpa : float
        Size of the change of von Mises where the yielded region ends.
    """

    held_at_mm: float
    apex_axial_change_mm: float | None
    apex_lateral_change_mm: float | None
    section_peak_change_mpa: float | None
    yield_change_mpa: float


def clamp_effects(
    solution: Solution, readings: Sequence[Reading]
) -> tuple[ClampEffect | None, ...]:
    """Say of each load what holding the blade nearer would change.

    Parameters
    ----------
    solution : Solution
    readings : sequence of Reading

    Returns
    -------
    tuple of (ClampEffect or None)
        None for a load that reaches behind the nearer depth.
    """
    outline = readings[0].outline
    held_at = (1.0 - NEARER_SHARE) * outline.depth_mm
    change = change_if_held_at(solution.section, solution.displacement, outline, held_at)
    return tuple(
        _effect(reading, moved, held_at) if _reach_mm(reading) < held_at else None
        for reading, moved in zip(readings, change, strict=True)
    )


def _reach_mm(reading: Reading) -> float:
    return max((part.to_mm for part in reading.tractions.faces), default=0.0)


def _effect(reading: Reading, change_mm: Floats, held_at_mm: float) -> ClampEffect:
    moved = change_mm[:, reading.field.mesh.foremost]
    peak, yielded = reading.peaks.section, reading.yielded
    outline = reading.outline
    trusted = held_at_mm - min(float(outline.thickness_mm(held_at_mm)), 0.5 * held_at_mm)
    places = {}
    if peak is not None and peak.x_mm <= trusted:
        places["peak"] = (peak.x_mm, peak.y_mm)
    cut_off = yielded.reaches_clamp or yielded.depth_mm >= held_at_mm
    if yielded.depth_y_mm is not None and not cut_off:
        places["yield"] = (yielded.depth_mm, yielded.depth_y_mm)
    changes = dict(zip(places, _mises_changes(reading, change_mm, places.values()), strict=True))
    at_peak = changes.get("peak")
    if peak is not None and at_peak is None:
        at_peak = _in_front(reading, peak, trusted)
    return ClampEffect(
        held_at_mm=held_at_mm,
        apex_axial_change_mm=None if reading.movement_mm is None else float(moved[0]),
        apex_lateral_change_mm=None if reading.movement_mm is None else float(moved[1]),
        section_peak_change_mpa=at_peak,
        yield_change_mpa=changes.get("yield", 0.0),
    )


def _in_front(reading: Reading, peak: Peak, trusted_mm: float) -> float:
    """Give by how much the highest place that would be left in front is lower than the peak."""
    x, y = reading.field.mesh.points_mm
    in_front = (x <= trusted_mm) & (reading.zone.distance_mm(x, y) >= 0)
    return abs(peak.value_mpa - float(reading.field.von_mises_mpa[in_front].max(initial=0.0)))


def _mises_changes(
    reading: Reading, change_mm: Floats, places: Iterable[tuple[float, float]]
) -> list[float]:
    """Give the sizes of the changes of von Mises at some places."""
    there = locate(reading.field.mesh, np.array([*places]).reshape(-1, 2).T)
    stress = there.interpolated(reading.field.stress_mpa)
    strain = strains_of(there.own_gradients(change_mm))[:, 0]
    before = von_mises(stress)
    change = np.abs(von_mises(stress + reading.elasticity.stress_mpa(strain)) - before)
    return [float(size) for size in np.where(change > ROUNDING * before, change, 0.0)]
