"""Peaks of stress: where, how high, and how far the mesh leaves them open."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from simedge.fem.lookup import interpolate
from simedge.fem.stress_field import StressField, largest_principal, von_mises
from simedge.section.outline import Floats, Outline
from simedge.strength.zones import PatchZone, edge_places_mm, resolved_from_mm

#: From stress components along the first axis to one number.
Measure = Callable[[Floats], Floats]
#: Places across the last section that is looked at.
ACROSS = 65


@dataclass(frozen=True, slots=True, kw_only=True)
class Peak:
    """The largest value of a stress in a region.

    Attributes
    ----------
    value_mpa : float
    x_mm, y_mm : float
        Its place.
    doubt_mpa : float
        What the mesh leaves open of it.
    """

    value_mpa: float
    x_mm: float
    y_mm: float
    doubt_mpa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Peaks:
    """Peaks of one load; None where a region is empty or the stress there is singular.

    Attributes
    ----------
    section, patch : Peak or None
        Von Mises outside and inside the patch zone, there only where it has a peak.
    section_principal, patch_principal : Peak or None
        Largest principal stress likewise: tension that opens cracks.
    at_zone_edge : bool
        The section's peak sits at the edge of the patch zone.
    """

    section: Peak | None
    patch: Peak | None
    section_principal: Peak | None
    patch_principal: Peak | None
    at_zone_edge: bool


NO_PEAKS = Peaks(
    section=None, patch=None, section_principal=None, patch_principal=None, at_zone_edge=False
)


def without_section(peaks: Peaks) -> Peaks:
    """Leave out the section's peaks, where they have no value."""
    return replace(peaks, section=None, section_principal=None, at_zone_edge=False)


@dataclass(frozen=True, slots=True, eq=False)
class _Candidates:
    """Places where a peak may be, with the stress there and what the mesh leaves open."""

    places_mm: Floats
    stress_mpa: Floats
    doubt_mpa: Floats


def find_peaks(
    field: StressField, zone: PatchZone, outline: Outline, trusted_depth_mm: float
) -> Peaks:
    """Find the peaks of one load.

    Parameters
    ----------
    field : StressField
    zone : PatchZone
    outline : Outline
    trusted_depth_mm : float
        Nothing behind it is looked at.

    Returns
    -------
    Peaks
        None under a tip load on a sharp tip, where the stress has no finite peak.
    """
    if zone.tip is not None and zone.tip.kind == "sharp":
        return NO_PEAKS
    points = field.mesh.points_mm
    trusted = (points[0] <= trusted_depth_mm) & (points[0] >= resolved_from_mm(outline))
    loaded = zone.distance_mm(*points) < 0
    inside = trusted & loaded & zone.bounded & (zone.distance_from_discs_mm(*points) >= 0)
    outside = trusted & ~loaded
    edge = edge_places_mm(zone, outline, trusted_depth_mm)
    between = np.concatenate([_last_section(zone, outline, trusted_depth_mm), edge], axis=1)
    outer, inner = _at_points(field, outside), _at_points(field, inside)
    if not np.any(von_mises(outer.stress_mpa) > 0.0):
        return NO_PEAKS
    looked_up = interpolate(
        field.mesh, np.concatenate([field.stress_mpa, field.doubt_mpa[None]]), between
    )
    between_nodes = _Candidates(between, looked_up[:4], np.abs(looked_up[4]))
    found = {}
    for name, measure in (("mises", von_mises), ("principal", largest_principal)):
        crests = _crests(field, outside, measure)
        found[name] = _highest(measure, (outer, crests, between_nodes))
        found[f"patch {name}"] = _highest(measure, (inner, _crests(field, inside, measure)))
    section = found["mises"]
    return Peaks(
        section=section,
        patch=found["patch mises"],
        section_principal=found["principal"],
        patch_principal=found["patch principal"],
        at_zone_edge=section is not None and _stands_among(section, edge),
    )


def _at_points(field: StressField, chosen: NDArray[np.bool_]) -> _Candidates:
    return _Candidates(
        field.mesh.points_mm[:, chosen], field.stress_mpa[:, chosen], field.doubt_mpa[chosen]
    )


def _crests(field: StressField, chosen: NDArray[np.bool_], measure: Measure) -> _Candidates:
    """Find where a measure is highest between the three points of an edge of the boundary.

    Parameters
    ----------
    chosen : ndarray of bool
        Points of the region that is looked at: all three of an edge's lie in it.
    """
    edges = np.concatenate(list(field.mesh.boundary.values()), axis=1)
    edges = edges[:, chosen[edges].all(axis=0)]
    begin, end, middle = measure(field.stress_mpa)[edges]
    bend = begin + end - 2.0 * middle
    with np.errstate(divide="ignore", invalid="ignore"):
        along = 0.5 * (begin - end) / bend  # of the parabola through the three, on (-1, 1)
    inner = (bend < 0.0) & (np.abs(along) < 1.0)
    edges, along = edges[:, inner], along[inner]
    shapes = np.stack([0.5 * along * (along - 1.0), 0.5 * along * (along + 1.0), 1.0 - along**2])

    def between(values: Floats) -> Floats:
        return np.asarray((values[..., edges] * shapes).sum(axis=-2))

    return _Candidates(
        between(field.mesh.points_mm),
        between(field.stress_mpa),
        np.abs(between(field.doubt_mpa)),
    )


def _highest(measure: Measure, groups: Sequence[_Candidates]) -> Peak | None:
    values = np.concatenate([measure(group.stress_mpa) for group in groups])
    if values.size == 0:
        return None
    at = int(np.argmax(values))
    places = np.concatenate([group.places_mm for group in groups], axis=1)
    doubt = np.concatenate([group.doubt_mpa for group in groups])
    return Peak(
        value_mpa=float(values[at]),
        x_mm=float(places[0, at]),
        y_mm=float(places[1, at]),
        doubt_mpa=float(doubt[at]),
    )


def _stands_among(peak: Peak, places_mm: Floats) -> bool:
    """Tell whether a peak is one of some places, to the last digit."""
    return bool(np.any((places_mm[0] == peak.x_mm) & (places_mm[1] == peak.y_mm)))


def _last_section(zone: PatchZone, outline: Outline, trusted_depth_mm: float) -> Floats:
    """Give places across the section at the trusted depth, where no node need stand."""
    right, left = (outline.face_y_mm(side, trusted_depth_mm) for side in ("right", "left"))
    y = np.linspace(float(right), float(left), ACROSS)
    x = np.full_like(y, trusted_depth_mm)
    return np.stack([x, y])[:, zone.distance_mm(x, y) >= 0]
