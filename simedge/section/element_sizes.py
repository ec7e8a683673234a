"""How fine a mesh is: element sizes from the section's own features, and what they cost."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

import numpy as np
from numpy.typing import ArrayLike

from simedge.errors import BadInput, Problem
from simedge.section.outline import SIDES, Floats, Outline, Side, Stretch

#: More take minutes.
MOST_TRIANGLES = 150_000
#: gmsh's triangles over the area of equilateral ones of the asked size: 1.2 to 1.6 on the
#: rack's knives at accuracies of 5 to 0.1 %.
TRIANGLES_OVER_IDEAL = 1.35
#: A sharp tip has no length of its own: elements begin well below any real apex radius.
SHARP_TIP_SIZE_MM = 1e-4
#: Vertices along a face stand this many elements apart: gmsh grades between them.
ELEMENTS_PER_RUN = 4.0
#: Share of the section's area that the parabolas over a rounded tip may miss.
TIP_AREA_SHARE = 2e-7
#: An element turns no more than this along an arc: a parabola is that close to it.
RADIANS_PER_ELEMENT = 0.05
#: Two shoulders or patch ends closer than this share of an element are one: slivers between
#: them would spoil the solution, and nobody grinds or presses that exactly.
SAME_KNOT_SHARE = 1e-3
#: Depths around each feature at which the estimate reads element sizes.
PLACES = 60
#: No first mesh is made for a finer accuracy.
FINEST_FIRST_PERCENT = 1.0
#: Accuracies to offer where one is too fine, percent.
COARSER = (0.1, 0.2, 0.3, 0.5, 0.7, 1.0, 1.5, 2.0, 3.0, 5.0, 7.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolution:
    """How fine a mesh is, in terms of the section itself.

    Attributes
    ----------
    across_tip : float
        Elements over a tip radius, or over half the width of a land.
    growth : float
        Gain in element size per distance from a feature.
    across_thickness : float
        Least number of elements through the thickness.
    at_shoulder, at_patch_end : float
        Elements through the local thickness at a shoulder and at a patch's end.
    spots : tuple of (float, float, float)
        Places that ask for more: x, y and element size, mm.
    """

    across_tip: float
    growth: float
    across_thickness: float
    at_shoulder: float
    at_patch_end: float
    spots: tuple[tuple[float, float, float], ...] = ()

    @classmethod
    def for_accuracy(cls, accuracy_percent: float) -> Resolution:
        """Choose the resolution for an accuracy of the section's stresses.

        Parameters
        ----------
        accuracy_percent : float
            Error of peak stresses that is aimed at.
        """
        finer = accuracy_percent ** (-1.0 / 3.0)
        return cls(
            across_tip=max(5.0 * finer, 4.0),  # an arc of fewer is no arc
            growth=0.07 / finer,
            across_thickness=3.0 * finer,
            at_shoulder=10.0 * finer,
            at_patch_end=20.0 * finer,
        )

    @classmethod
    def first_for(cls, accuracy_percent: float) -> Resolution:
        """Choose the resolution of a first mesh, which finer ones follow where one is wanted.

        Parameters
        ----------
        accuracy_percent : float
            Of the answers; below 1 % the first mesh is that for 1 %, whose errors are mostly
            far smaller.
        """
        return cls.for_accuracy(max(accuracy_percent, FINEST_FIRST_PERCENT))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ElementSizes:
    """Element sizes all over an outline: small at its features, growing away from them.

    Attributes
    ----------
    outline : Outline
    resolution : Resolution
    features : ndarray, shape (3, n)
        x, y and element size, mm, of the places that ask for small elements.
    bends : ndarray, shape (3, n)
        Depths of beginning and end, and largest element size, of the arcs of the faces.
    at_tip_mm : float
        Size at the tip.
    smallest_mm : float
        No element is smaller: a sharp tip has no thickness to go by.
    """

    outline: Outline
    resolution: Resolution
    features: Floats
    bends: Floats
    at_tip_mm: float
    smallest_mm: float

    @property
    def at_foremost_mm(self) -> float:
        """Size in the middle of the tip's line: as all along it, but for spots near it."""
        x, y = (float(place) for place in self.outline.tip.point(0.5))
        growth = self.resolution.growth
        spots = [size + growth * hypot(x - a, y - b) for a, b, size in self.resolution.spots]
        return min(self.at_tip_mm, *spots) if spots else self.at_tip_mm

    def at(self, x_mm: ArrayLike, y_mm: ArrayLike) -> Floats:
        """Give the size at places, mm."""
        x, y = np.asarray(x_mm, dtype=float), np.asarray(y_mm, dtype=float)
        distance = np.hypot(
            self.features[0] - x[..., np.newaxis], self.features[1] - y[..., np.newaxis]
        )
        wanted = (self.features[2] + self.resolution.growth * distance).min(axis=-1)
        slim = self.outline.thickness_mm(x) / self.resolution.across_thickness
        for begin, end, size in self.bends.T:
            wanted = np.where((x >= begin) & (x <= end), np.minimum(wanted, size), wanted)
        return np.asarray(np.maximum(np.minimum(wanted, slim), self.smallest_mm))


def element_sizes(
    outline: Outline, patch_ends: Mapping[Side, Iterable[float]], resolution: Resolution
) -> ElementSizes:
    """Find the places of a section that ask for small elements.

    Parameters
    ----------
    outline : Outline
    patch_ends : mapping of side to depths x
        Where pressed stretches begin or end.
    resolution : Resolution
    """
    tip = outline.tip
    if tip.kind == "rounded":
        # a parabola over a turn d of an arc misses r^2 d^5 / 960 of area (its Taylor series):
        # over half a turn in all less than the mesh's own check allows, with gmsh's margin
        missed = np.pi * tip.radius_mm**2 / (960.0 * TIP_AREA_SHARE * outline.area_mm2)
        size = tip.radius_mm / max(resolution.across_tip, missed**0.25)
    elif tip.kind == "land":
        size = 0.5 * tip.width_mm / resolution.across_tip
    else:
        size = SHARP_TIP_SIZE_MM / resolution.across_tip
    middle_x, middle_y = tip.point(0.5)
    found = [(*tip.left_mm, size), (*tip.right_mm, size), (float(middle_x), float(middle_y), size)]
    for side in SIDES:
        for run in outline.face(side):
            x, y = run.end_mm
            found.append((x, y, float(outline.thickness_mm(x)) / resolution.at_shoulder))
        for x in patch_ends.get(side, ()):
            there = float(outline.thickness_mm(x)) / resolution.at_patch_end
            found.append((x, float(outline.face_y_mm(side, x)), max(there, size)))
    found += resolution.spots
    arcs = [run for side in SIDES for run in outline.face(side) if not run.is_straight]
    bends = [
        (run.begin_mm[0], run.end_mm[0], RADIANS_PER_ELEMENT * run.curve.radius_mm) for run in arcs
    ]
    smallest = [entry[2] for entry in (*found, *bends)]
    for run in arcs:
        if run.curve.bulge_mm < 0.0:  # a hollow may be slimmest in its midst
            places = np.linspace(run.begin_mm[0], run.end_mm[0], PLACES)[1:]
            waist = float(outline.thickness_mm(places).min())
            smallest.append(waist / resolution.across_thickness)
    return ElementSizes(
        outline=outline,
        resolution=resolution,
        features=np.array(found).T,
        bends=np.array(bends).reshape(-1, 3).T,
        at_tip_mm=size,
        smallest_mm=min(smallest),
    )


def face_vertices(
    sizes: ElementSizes, side: Side, fixed_x: Iterable[float]
) -> list[tuple[float, float, float]]:
    """Place vertices (x, y, element size) along a face so that sizes follow the features.

    Parameters
    ----------
    sizes : ElementSizes
    side : {"left", "right"}
    fixed_x : iterable of float
        Depths at which a vertex stands exactly, beside the ends of the stretches.
    """
    outline = sizes.outline
    runs = outline.face(side)
    wanted = sorted({*fixed_x, runs[0].begin_mm[0], *(run.end_mm[0] for run in runs)})
    knots = wanted[:1]
    for x in wanted[1:-1]:
        least = SAME_KNOT_SHARE * float(sizes.at(x, outline.face_y_mm(side, x)))
        if min(x - knots[-1], wanted[-1] - x) > least:
            knots.append(x)
    knots.append(wanted[-1])
    vertices: list[tuple[float, float, float]] = []
    for begin, end in pairwise(knots):
        x, y = begin, float(outline.face_y_mm(side, begin))
        middle = 0.5 * (begin + end)
        run = next(run for run in runs if middle <= run.end_mm[0])
        if not run.is_straight:
            vertices += _along_arc(sizes, run, begin, end)
            continue
        while True:
            size = float(sizes.at(x, y))
            vertices.append((x, y, size))
            step = ELEMENTS_PER_RUN * size
            if x + 1.5 * step >= end:
                break
            x += step
            y = float(outline.face_y_mm(side, x))
    y = float(outline.face_y_mm(side, knots[-1]))
    vertices.append((knots[-1], y, float(sizes.at(knots[-1], y))))
    return vertices


def _along_arc(
    sizes: ElementSizes, run: Stretch, begin_mm: float, end_mm: float
) -> list[tuple[float, float, float]]:
    """Place vertices along an arc, all but the last one: by its length, for it may be steep."""
    share, last = (
        float(run.share_at(np.clip(x, run.begin_mm[0], run.end_mm[0]))) for x in (begin_mm, end_mm)
    )
    x, y = begin_mm, float(sizes.outline.face_y_mm(run.side, begin_mm))
    vertices: list[tuple[float, float, float]] = []
    while True:
        size = float(sizes.at(x, y))
        vertices.append((x, y, size))
        step = ELEMENTS_PER_RUN * size / run.length_mm
        if share + 1.5 * step >= last:
            return vertices
        share += step
        x, y = (float(value) for value in run.point(share))


def estimated_triangles(
    outline: Outline, patch_ends: Mapping[Side, Iterable[float]], resolution: Resolution
) -> int:
    """Estimate how many triangles a mesh would have, without making it.

    Good to about 20 % on blades: the area over that of an element, strip by strip.
    """
    sizes = element_sizes(outline, patch_ends, resolution)
    reach = np.geomspace(sizes.at_tip_mm, outline.depth_mm, PLACES)
    places = sizes.features[0][:, np.newaxis] + np.concatenate([-reach, [0.0], reach])
    x = np.unique(np.clip(places, 0.0, outline.depth_mm))
    left, right = (sizes.at(x, outline.face_y_mm(side, x)) for side in SIDES)
    per_mm = outline.thickness_mm(x) / (0.25 * np.sqrt(3.0) * left * right)
    return int(TRIANGLES_OVER_IDEAL * np.trapezoid(per_mm, x))


def check_element_budget(
    outline: Outline, patch_ends: Mapping[Side, Iterable[float]], accuracy_percent: float
) -> int:
    """Refuse a mesh that would take too many triangles, before it is made.

    Returns
    -------
    int
        About how many it takes.

    Raises
    ------
    BadInput
        With the estimate, and the accuracy that fits where one does.
    """

    def estimate(percent: float) -> int:
        return estimated_triangles(outline, patch_ends, Resolution.first_for(percent))

    wanted = estimate(accuracy_percent)
    if wanted <= MOST_TRIANGLES:
        return wanted
    fits = next(
        (p for p in COARSER if p > accuracy_percent and estimate(p) <= MOST_TRIANGLES), None
    )
    advice = (
        f"accuracy_percent = {fits:g} fits"
        if fits is not None
        else "no accuracy makes that fit: the section is very long for its thickness; hold it "
        "nearer to the edge (support.clamp_depth_mm)"
    )
    raise BadInput(
        Problem(
            "accuracy_percent",
            f"is {accuracy_percent:g} %, but on this section that would take about "
            f"{wanted:,} triangles and at most {MOST_TRIANGLES:,} are made; {advice}",
        )
    )
