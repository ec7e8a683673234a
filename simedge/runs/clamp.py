"""Whether an answer depends on where the blade is held, and by how much."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from simedge.fem.held_nearer import change_if_held_at
from simedge.fem.lookup import gradients_within, interpolate
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
    mesh = reading.field.mesh
    moved = change_mm[:, mesh.foremost]
    peak, yielded = reading.peaks.section, reading.yielded
    at_yield = 0.0
    if yielded.depth_y_mm is not None and not yielded.reaches_clamp:
        place = np.array([[yielded.depth_mm], [yielded.depth_y_mm]])
        at_yield = _mises_change(reading, change_mm, place, held_at_mm)
    return ClampEffect(
        held_at_mm=held_at_mm,
        apex_axial_change_mm=None if reading.movement_mm is None else float(moved[0]),
        apex_lateral_change_mm=None if reading.movement_mm is None else float(moved[1]),
        section_peak_change_mpa=(
            None if peak is None else _peak_change(reading, peak, change_mm, held_at_mm)
        ),
        yield_change_mpa=at_yield,
    )


def _peak_change(reading: Reading, peak: Peak, change_mm: Floats, held_at_mm: float) -> float:
    """Give the change of the peak; of one behind the nearer depth what lies in front instead."""
    mesh, outline = reading.field.mesh, reading.outline
    thickness = float(outline.thickness_mm(held_at_mm))
    trusted = held_at_mm - min(thickness, 0.5 * held_at_mm)
    if peak.x_mm <= trusted:
        place = np.array([[peak.x_mm], [peak.y_mm]])
        return _mises_change(reading, change_mm, place, held_at_mm)
    in_front = (mesh.points_mm[0] <= trusted) & (reading.zone.distance_mm(*mesh.points_mm) >= 0)
    highest = float(reading.field.von_mises_mpa[in_front].max(initial=0.0))
    return abs(peak.value_mpa - highest)


def _mises_change(
    reading: Reading, change_mm: Floats, place_mm: Floats, held_at_mm: float
) -> float:
    if place_mm[0, 0] >= held_at_mm:
        return float(reading.yield_strength_mpa)
    mesh = reading.field.mesh
    stress = interpolate(mesh, reading.field.stress_mpa, place_mm)
    strain = strains_of(gradients_within(mesh, change_mm, place_mm))[:, 0]
    other = stress + reading.elasticity.stress_mpa(strain)
    before, after = (float(von_mises(tensor)[0]) for tensor in (stress, other))
    return abs(after - before) if abs(after - before) > ROUNDING * before else 0.0
