"""Stress as bands of colour, and the line where the steel yields."""

from __future__ import annotations

import numpy as np
from matplotlib.patches import Patch, PathPatch
from matplotlib.path import Path as Shape
from matplotlib.tri import Triangulation

from simedge.fem.stress_field import StressField
from simedge.output.drawing_frame import Frame
from simedge.output.palette import BEYOND_STOPS
from simedge.output.stress_scale import StressScale
from simedge.section.mesh import Integers
from simedge.section.outline import Floats
from simedge.strength.yielding import QUARTERS

#: Detail finer than this is not written to files, inches.
FINEST_IN = 0.0012
#: Rounds of thinning, each of which at most halves the points of a contour.
THINNINGS = 4


def _seen_triangles(frame: Frame, field: StressField) -> tuple[Triangulation, Floats] | None:
    """Give the quarter triangles in a frame, on the paper, with von Mises at their corners."""
    mesh = field.mesh
    quarters = mesh.triangles[QUARTERS.T].reshape(3, -1)
    x, y = frame.place(*mesh.points_mm)
    seen = (
        (x[quarters].max(axis=0) >= 0.0)
        & (x[quarters].min(axis=0) <= frame.width_in)
        & (y[quarters].max(axis=0) >= 0.0)
        & (y[quarters].min(axis=0) <= frame.height_in)
    )
    if not seen.any():
        return None
    used, renumbered = np.unique(quarters[:, seen], return_inverse=True)
    triangles = renumbered.reshape(3, -1).T
    return Triangulation(x[used], y[used], triangles), field.von_mises_mpa[used]


def _thinned_ring(points: Floats) -> Floats:
    """Drop points that lie on the line between their neighbours, every other one in turn."""
    moved = np.concatenate([[True], np.any(np.diff(points, axis=0) != 0.0, axis=1)])
    points = points[moved]
    for thinning in range(2 * THINNINGS):
        middle = np.arange(1 + thinning % 2, len(points) - 1, 2)
        if middle.size == 0:
            break
        chord = points[middle + 1] - points[middle - 1]
        offset = points[middle] - points[middle - 1]
        length = np.hypot(*chord.T)
        across = np.abs(chord[:, 0] * offset[:, 1] - chord[:, 1] * offset[:, 0])
        gone = np.where(length > 0.0, across, np.inf) <= FINEST_IN * length
        points = np.delete(points, middle[gone], axis=0)
    return points


def _thinned(shape: Shape) -> Shape | None:
    """Leave out of a shape what is too fine to be seen: files stay small. None if all is."""
    vertices: list[Floats] = []
    codes: list[Integers] = []
    for ring in shape.to_polygons(closed_only=False):
        points = _thinned_ring(np.asarray(ring))
        if len(points) < 2 or float(np.ptp(points, axis=0).max()) < 4.0 * FINEST_IN:
            continue
        vertices.append(points)
        codes.append(np.array([Shape.MOVETO, *[Shape.LINETO] * (len(points) - 1)]))
    if not vertices:
        return None
    return Shape(np.concatenate(vertices), np.concatenate(codes))


def draw_stress_bands(frame: Frame, field: StressField, scale: StressScale, clip: Patch) -> None:
    """Fill the section with the colours of its stress.

    Parameters
    ----------
    frame : Frame
    field : StressField
    scale : StressScale
    clip : Patch
        Outline of the section.
    """
    seen = _seen_triangles(frame, field)
    if seen is None:
        return
    triangulation, mises = seen
    levels = [*scale.levels_mpa, np.inf]
    levels[0] = -1.0
    bands = frame.axes.tricontourf(triangulation, mises, levels=levels[:-1], extend="max")
    shapes = bands.get_paths()
    bands.remove()
    for shape, colour in zip(shapes, (*scale.colours, BEYOND_STOPS), strict=True):
        thin = _thinned(shape)
        if thin is None:
            continue
        # an edge of its own colour hides the seams that viewers leave between neighbours
        patch = PathPatch(thin, facecolor=colour, edgecolor=colour, linewidth=0.35, zorder=2)
        frame.axes.add_patch(patch)
        patch.set_clip_path(clip)


def draw_yield(
    frame: Frame,
    field: StressField,
    yield_strength_mpa: float,
    trusted_depth_mm: float,
    clip: Patch,
) -> None:
    """Draw the contour where von Mises reaches yield, and a fine hatch beyond it.

    Parameters
    ----------
    frame : Frame
    field : StressField
    yield_strength_mpa : float
    trusted_depth_mm : float
        Nothing is marked behind it: the clamp's corners are singular.
    clip : Patch
    """
    seen = _seen_triangles(frame, field)
    if seen is None or float(seen[1].max()) <= yield_strength_mpa:
        return
    triangulation, mises = seen
    limit = float(frame.place(trusted_depth_mm, 0.0)[0])
    triangulation.set_mask(triangulation.x[triangulation.triangles].max(axis=1) > limit)
    if triangulation.mask is not None and triangulation.mask.all():
        return
    region = frame.axes.tricontourf(
        triangulation, mises, levels=[yield_strength_mpa, 1e3 * float(mises.max())]
    )
    line = frame.axes.tricontour(triangulation, mises, levels=[yield_strength_mpa])
    beyond, contour = _thinned(region.get_paths()[0]), _thinned(line.get_paths()[0])
    region.remove()
    line.remove()
    theme = frame.theme
    if beyond is not None:
        hatch = PathPatch(
            beyond, facecolor="none", edgecolor=theme.paper, linewidth=0.0, hatch="/////", zorder=3
        )
        frame.axes.add_patch(hatch)
        hatch.set_clip_path(clip)
    if contour is not None:
        for colour, width in ((theme.paper, 2.4), (theme.ink, 0.9)):
            drawn = PathPatch(
                contour, facecolor="none", edgecolor=colour, linewidth=width, zorder=4
            )
            frame.axes.add_patch(drawn)
            drawn.set_clip_path(clip)
