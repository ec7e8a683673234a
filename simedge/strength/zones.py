"""Where peaks are looked for: the section, apart from where the load itself sits.

Stress right under a load depends on how the load is spread, which nobody knows well;
it is reported apart from the section's. At the clamp the corners are singular.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from simedge.section.outline import SIDES, Floats, Outline, Side, Tip
from simedge.section.tractions import Tractions

#: Share of the local thickness around each end of a stretch with friction, where the
#: stress of an abrupt end grows without bound.
PATCH_END_SHARE = 0.1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PatchZone:
    """The neighbourhood of where a load sits.

    Attributes
    ----------
    tip : Tip or None
        Loaded tip: within half its width of its line.
    discs : tuple of (x, y, radius)
        Around the ends of stretches with friction, mm.
    bounded : bool
        Stress on the tip has a peak: not where a shear ends abruptly on a round, or where
        a rigid patch ends, as it has none in any of the discs.
    """

    tip: Tip | None
    discs: tuple[tuple[float, float, float], ...]
    bounded: bool = True

    @property
    def is_empty(self) -> bool:
        """Whether nothing is set apart."""
        return self.tip is None and not self.discs

    def distance_mm(self, x_mm: ArrayLike, y_mm: ArrayLike) -> Floats:
        """Give the distance of places from the zone, negative inside."""
        x, y = np.asarray(x_mm, dtype=float), np.asarray(y_mm, dtype=float)
        from_tip = np.full(np.broadcast(x, y).shape, np.inf)
        if self.tip is not None:
            from_tip = distance_from_tip_mm(self.tip, x, y) - 0.5 * self.tip.width_mm
        return np.asarray(np.minimum(from_tip, self.distance_from_discs_mm(x, y)))

    def distance_from_discs_mm(self, x_mm: ArrayLike, y_mm: ArrayLike) -> Floats:
        """Give the distance of places from the discs alone, negative inside."""
        x, y = np.asarray(x_mm, dtype=float), np.asarray(y_mm, dtype=float)
        nearest = np.full(np.broadcast(x, y).shape, np.inf)
        for centre_x, centre_y, radius in self.discs:
            nearest = np.minimum(nearest, np.hypot(x - centre_x, y - centre_y) - radius)
        return nearest


#: Places on the edge of each part of a zone, and along a face where it is looked for.
EDGE_PLACES, FACE_PLACES = 129, 257
BISECTIONS, CLOSE_ENOUGH = 50, 1e-12


def edge_places_mm(zone: PatchZone, outline: Outline, trusted_depth_mm: float) -> Floats:
    """Give places on the edge of a zone, inside the section and on its faces.

    Parameters
    ----------
    zone : PatchZone
    outline : Outline
    trusted_depth_mm : float
        Nothing behind it is given.

    Returns
    -------
    ndarray, shape (2, n)
    """
    circles = list(zone.discs)
    straight = np.zeros((2, 0))
    if zone.tip is not None:
        reach = 0.5 * zone.tip.width_mm
        circles += [(*zone.tip.left_mm, reach), (*zone.tip.right_mm, reach)]
        if zone.tip.kind == "rounded":
            circles.append((zone.tip.radius_mm, 0.0, zone.tip.radius_mm - reach))
        else:
            across = np.linspace(-reach, reach, EDGE_PLACES)
            straight = np.stack([np.full_like(across, reach), across])
    angle = np.linspace(0.0, 2.0 * np.pi, EDGE_PLACES)
    around = [
        np.stack([x + radius * np.cos(angle), y + radius * np.sin(angle)])
        for x, y, radius in circles
    ]
    places = np.concatenate([straight, *around], axis=1)
    x, y = places
    within = (x > 0) & (x <= trusted_depth_mm)
    inner = np.where(within, x, 0.0)
    if not places.size:
        return places
    within &= (y < outline.face_y_mm("left", inner)) & (y > outline.face_y_mm("right", inner))
    scale = max((radius for _, _, radius in circles), default=0.0)
    within &= np.abs(zone.distance_mm(x, y)) <= 1e-9 * scale
    on_faces = [_on_face(zone, outline, side, trusted_depth_mm) for side in SIDES]
    return np.concatenate([places[:, within], *on_faces], axis=1)


def _on_face(zone: PatchZone, outline: Outline, side: Side, trusted_depth_mm: float) -> Floats:
    """Find where a zone's edge meets a face, by bisection from a graded search."""
    begin = outline.face_begins_mm(side)
    step = 1e-3 * max(outline.tip.width_mm, 1e-6 * outline.depth_mm)
    x = begin + np.concatenate([[0.0], np.geomspace(step, trusted_depth_mm - begin, FACE_PLACES)])
    marks = [centre + sign * radius for centre, _, radius in zone.discs for sign in (-1, 0, 1)]
    x = np.unique(np.concatenate([x, [m for m in marks if begin < m < trusted_depth_mm]]))
    distance = zone.distance_mm(x, outline.face_y_mm(side, x))
    crosses = (distance[:-1] < 0) != (distance[1:] < 0)
    low, high = x[:-1][crosses], x[1:][crosses]
    low_inside = distance[:-1][crosses] < 0
    for _ in range(BISECTIONS):
        if np.all(high - low <= CLOSE_ENOUGH * high):
            break
        middle = 0.5 * (low + high)
        inside = zone.distance_mm(middle, outline.face_y_mm(side, middle)) < 0
        goes_low = inside == low_inside
        low, high = np.where(goes_low, middle, low), np.where(goes_low, high, middle)
    return np.stack([high, outline.face_y_mm(side, high)])


def distance_from_tip_mm(tip: Tip, x_mm: Floats, y_mm: Floats) -> Floats:
    """Give the distance of places from the tip's line: its arc, its land, or its point."""
    corners = np.minimum(
        np.hypot(x_mm - tip.left_mm[0], y_mm - tip.left_mm[1]),
        np.hypot(x_mm - tip.right_mm[0], y_mm - tip.right_mm[1]),
    )
    if tip.kind == "rounded":
        from_centre = np.hypot(x_mm - tip.radius_mm, y_mm)
        angle = np.mod(np.arctan2(y_mm, x_mm - tip.radius_mm), 2.0 * np.pi)
        first, last = tip.arc_rad
        facing = (angle >= first) & (angle <= last)
        return np.asarray(np.where(facing, np.abs(from_centre - tip.radius_mm), corners))
    facing = (y_mm <= tip.left_mm[1]) & (y_mm >= tip.right_mm[1])
    return np.asarray(np.where(facing, np.abs(x_mm), corners))


def patch_zone(tractions: Tractions, outline: Outline) -> PatchZone:
    """Give the zone that a load sets apart."""
    loaded = any(p.axial_n_per_mm or p.lateral_n_per_mm for p in tractions.tip)
    discs = []
    for part in tractions.faces:
        if part.friction == 0.0:
            continue
        for x in (part.from_mm, part.to_mm):
            radius = PATCH_END_SHARE * float(outline.thickness_mm(x))
            discs.append((x, float(outline.face_y_mm(part.side, x)), radius))
    spreads = {part.spread for part in tractions.tip}
    abrupt = "rigid" in spreads or ("uniform" in spreads and outline.tip.kind == "rounded")
    return PatchZone(
        tip=outline.tip if loaded else None, discs=tuple(discs), bounded=loaded and not abrupt
    )


#: Thickness of a sharp tip, mm, up to which there are too few elements across it to tell its
#: stress, which depends on the direction from the very point.
UNRESOLVED_MM = 2e-4


def resolved_from_mm(outline: Outline) -> float:
    """Give the depth in front of which a perfectly sharp tip is not resolved; 0 for others.

    Nothing is lost: under a load on the faces the stress along a ray from the tip is the
    same a little farther behind.
    """
    if outline.tip.kind != "sharp":
        return 0.0
    x = np.geomspace(UNRESOLVED_MM, 0.5 * outline.depth_mm, 400)
    return float(x[np.argmax(outline.thickness_mm(x) >= UNRESOLVED_MM)])


def trusted_depth_mm(outline: Outline) -> float:
    """Give the depth behind which the clamp's singular corners spoil the stress.

    One local thickness is left out, at most half of the free depth: a wide wedge held
    close to its edge would have nothing left.
    """
    depth = outline.depth_mm
    return depth - min(float(outline.thickness_mm(depth)), 0.5 * depth)
