"""Peaks watched from mesh to mesh: one that keeps growing has no value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot, radians

from simedge.runs.reading import Reading
from simedge.section.element_sizes import ElementSizes
from simedge.section.outline import SIDES
from simedge.strength.closed_form.corner_exponent import free_corner_exponent
from simedge.strength.singular import (
    Corner,
    Singular,
    distance_exponent,
    growth_exponent,
    reentrant_corners,
)
from simedge.strength.zones import resolved_from_mm

#: A peak within so many elements of a corner may be the corner's own.
ELEMENTS_NEAR = 3.0
#: Where between the middle and a face the stress behind a sharp tip is read.
SHARE_ACROSS = 0.4
#: Meshes that a growth is told from; at a corner more, so that its power can be read far below
#: the thickness.
MESHES, MESHES_AT_CORNER = 3, 5
#: Between these multiples of an element, or of the depth from where a sharp tip is resolved,
#: a power is read off the stress.
NEAREST, FARTHEST = 2.0, 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Growth:
    """A section peak's values on the meshes so far.

    Attributes
    ----------
    peaks_mpa, sizes_mm : tuple of float
        Of the meshes on which it stood at about the same place, and the element size there.
    place_mm : tuple of (float, float) or None
    corner : Corner or None
        A re-entrant corner that the peak stands at.
    singular : Singular or None
        Once it is told to have no bound.
    """

    peaks_mpa: tuple[float, ...] = ()
    sizes_mm: tuple[float, ...] = ()
    place_mm: tuple[float, float] | None = None
    corner: Corner | None = None
    singular: Singular | None = None

    @property
    def is_suspected(self) -> bool:
        """Whether it stands at a corner and is not told yet."""
        return (
            self.corner is not None
            and self.singular is None
            and len(self.peaks_mpa) < MESHES_AT_CORNER
        )


def watch_peaks(
    growths: Sequence[Growth], readings: Sequence[Reading], sizes: ElementSizes
) -> tuple[Growth, ...]:
    """Take the peaks of one more mesh into account."""
    corners = reentrant_corners(sizes.outline)
    return tuple(
        _watch(growth, reading, sizes, corners)
        for growth, reading in zip(growths, readings, strict=True)
    )


def _watch(
    growth: Growth, reading: Reading, sizes: ElementSizes, corners: tuple[Corner, ...]
) -> Growth:
    peak = reading.peaks.section
    if peak is None or growth.singular is not None:
        return growth
    size = float(sizes.at(peak.x_mm, peak.y_mm))
    before = growth.place_mm
    if before is None or hypot(peak.x_mm - before[0], peak.y_mm - before[1]) > (
        ELEMENTS_NEAR * growth.sizes_mm[-1]
    ):
        growth = Growth()
    corner = next(
        (
            corner
            for corner in corners
            if hypot(peak.x_mm - corner.x_mm, peak.y_mm - corner.y_mm) < ELEMENTS_NEAR * size
        ),
        None,
    )
    growth = Growth(
        peaks_mpa=(*growth.peaks_mpa, peak.value_mpa),
        sizes_mm=(*growth.sizes_mm, size),
        place_mm=(peak.x_mm, peak.y_mm),
        corner=corner,
    )
    if len(growth.peaks_mpa) < (MESHES if corner is None else MESHES_AT_CORNER):
        return growth
    first, second, third = growth.peaks_mpa[-MESHES:]
    coarse, middle, fine = growth.sizes_mm[-MESHES:]
    exponent = growth_exponent((first, second, third), (coarse, middle, fine))
    if exponent is None:
        return growth
    if corner is not None:  # the mesh is fine enough now to read the power itself
        exponent = distance_exponent(
            reading.field,
            (corner.x_mm, corner.y_mm),
            corner.inward,
            NEAREST * fine,
            FARTHEST * fine,
        )
    return replace(growth, singular=_named(exponent, peak.x_mm, peak.y_mm, corner))


def _named(exponent: float, x_mm: float, y_mm: float, corner: Corner | None) -> Singular:
    if corner is None:
        return Singular(
            x_mm=x_mm,
            y_mm=y_mm,
            cause="the peak keeps growing as the mesh gets finer",
            exponent_seen=exponent,
            exponent_expected=None,
        )
    return Singular(
        x_mm=corner.x_mm,
        y_mm=corner.y_mm,
        cause=f"a shoulder that turns into the steel ({corner.angle_deg:.1f} degrees of steel)",
        exponent_seen=exponent,
        exponent_expected=free_corner_exponent(radians(corner.angle_deg)) - 1.0,
    )


def singular_tip(reading: Reading) -> Singular | None:
    """Give the sharp tip that a load on it makes singular, with the rate seen behind it."""
    tip, outline = reading.zone.tip, reading.outline
    if tip is None or tip.kind != "sharp" or not reading.something:
        return None
    resolved = resolved_from_mm(outline)
    wedge = min(face[0].end_mm[0] for face in (outline.left, outline.right))
    if wedge < FARTHEST * resolved:
        return None
    left, right = (float(outline.face_y_mm(side, wedge)) for side in SIDES)
    # off the middle and off the faces, either of which may be without stress
    across = 0.5 * (left + right) + SHARE_ACROSS * (left - right)
    return Singular(
        x_mm=0.0,
        y_mm=0.0,
        cause="a load on a perfectly sharp tip",
        exponent_seen=distance_exponent(
            reading.field, (0.0, 0.0), (wedge, across), NEAREST * resolved, FARTHEST * resolved
        ),
        exponent_expected=-1.0,
    )
