"""The quality of triangles: one for equilateral ones, none for those without area."""

from __future__ import annotations

import numpy as np
import pytest

from simedge.errors import NumericsFailed
from simedge.section.mesh_quality import (
    LEAST_QUALITY,
    check_joined,
    check_quality,
    triangle_qualities,
)

ONE = np.arange(6)[:, np.newaxis]


def six_nodes(corners: list[tuple[float, float]]) -> np.ndarray:
    """Give the points of a straight triangle."""
    points = np.array(corners).T
    return np.hstack([points, 0.5 * (points + points[:, [1, 2, 0]])])


@pytest.mark.parametrize(
    ("corners", "quality"),
    [
        ([(0, 0), (1, 0), (0.5, np.sqrt(3) / 2)], 1.0),
        # angles of 20, 20 and 140 deg: 2 r / R = 8 sin 10 sin 10 sin 70
        ([(0, 0), (1, 0), (0.5, 0.5 * np.tan(np.radians(20)))], 0.2266816),
        # 3, 4, 5: r = 1, R = 2.5
        ([(0, 0), (3, 0), (0, 4)], 0.8),
        ([(0, 0), (1, 0), (2, 0)], -1.0),
        ([(0, 0), (0, 4), (3, 0)], -1.0),  # clockwise
        ([(1, 1), (1, 1), (1, 1)], -1.0),
        ([(0, 0), (1, 0), (np.nan, 1)], -1.0),
    ],
)
def test_quality_of_straight_triangles(corners, quality):
    # whatever its size and place; the tolerance is the rounding of a few products
    for size, place in ((1.0, 0.0), (1e-6, 30.0)):
        points = size * six_nodes(corners) + place
        rounding = 1e-6 if size == 1.0 else 1e-6 + 30 * 2.0**-52 / size * 20
        assert triangle_qualities(points, ONE)[0] == pytest.approx(quality, abs=rounding)


@pytest.mark.parametrize("edge", [0, 1, 2])
@pytest.mark.parametrize(
    ("inward", "share"),
    # how far the middle of an edge stands inward, of the height; a bulge takes nothing away
    [(0.0, 1.0), (-0.1, 1.0), (0.1, None), (0.6, None)],
)
def test_a_curved_edge_takes_away_what_it_takes_of_the_area(edge, inward, share):
    points = six_nodes([(0, 0), (1, 0), (0.5, np.sqrt(3) / 2)])
    centre = points[:, :3].mean(axis=1)
    towards = centre - points[:, 3 + edge]
    points[:, 3 + edge] += inward * np.sqrt(3) / 2 * towards / np.hypot(*towards)
    found = triangle_qualities(points, ONE)[0]
    # the determinant itself, at many places: the bound must not lie above the least of them
    least = min(
        determinant(points, second, third) / determinant(six_nodes(points[:, :3].T.tolist()), 0, 0)
        for second in np.linspace(0, 1, 41)
        for third in np.linspace(0, 1 - second, 41)
    )
    assert found <= min(least, 1.0) + 1e-12
    if share is not None:
        assert found == pytest.approx(share, abs=1e-12)
    else:  # and not far below: an edge bent by a tenth of the height is still a triangle
        assert (found > 0.5) == (inward == 0.1)
        assert (found < 0) == (inward == 0.6)


def test_no_place_of_a_bent_triangle_is_worse_than_it_is_said_to_be():
    # the worst place may lie on an edge, where neither of its corners tells
    chance, hidden = np.random.default_rng(1), 0
    straight = six_nodes([(0, 0), (1, 0), (0.5, np.sqrt(3) / 2)])
    area = determinant(straight, 0, 0)
    grid = [(b, c) for b in np.linspace(0, 1, 11) for c in np.linspace(0, 1, 11) if b + c <= 1]
    for _ in range(200):
        points = straight.copy()
        points[:, 3:] += chance.normal(scale=0.08, size=(2, 3))
        values = [determinant(points, b, c) / area for b, c in grid]
        at_corners = min(determinant(points, b, c) / area for b, c in ((0, 0), (1, 0), (0, 1)))
        assert triangle_qualities(points, ONE)[0] <= min(1.0, *values) + 1e-12
        hidden += min(values) < min(at_corners, 1.0) - 1e-3
    assert hidden > 0


def determinant(points: np.ndarray, second: float, third: float) -> float:
    """Give the determinant of the map, from differences of the map itself."""

    def place(b: float, c: float) -> np.ndarray:
        a = 1 - b - c
        shape = [a * (2 * a - 1), b * (2 * b - 1), c * (2 * c - 1), 4 * a * b, 4 * b * c, 4 * c * a]
        return points @ shape

    step = 0.25  # central differences of a quadratic are exact
    along = (place(second + step, third) - place(second - step, third)) / (2 * step)
    across = (place(second, third + step) - place(second, third - step)) / (2 * step)
    return float(along[0] * across[1] - along[1] * across[0])


def test_the_worst_triangle_is_named_with_its_place():
    good = six_nodes([(0, 0), (1, 0), (0.5, 1)])
    flat = six_nodes([(2.0, 0.0), (2.0 + 2e-5, 0.0), (2.0, 1.0)])  # 2 r / R = 2e-5, doubled
    check_quality(good, ONE)
    points = np.hstack([good, flat])
    triangles = np.hstack([ONE, ONE + 6])
    assert triangle_qualities(points, triangles)[1] == pytest.approx(4e-5, rel=1e-3)
    with pytest.raises(NumericsFailed, match=r"2.00001 mm behind the apex at y = 0.333333 mm"):
        check_quality(points, triangles)
    assert triangle_qualities(points, triangles)[1] < LEAST_QUALITY


def test_triangles_must_lie_side_by_side():
    # a square of two triangles: corners 0 to 3, middles 4 to 8, 8 on the diagonal
    square = np.array([[0, 1, 2, 4, 5, 8], [0, 2, 3, 8, 6, 7]]).T
    outline = [np.array([[0, 1, 4], [1, 2, 5]]).T, np.array([[2, 3, 6], [3, 0, 7]]).T]
    none = np.zeros((3, 0), dtype=np.int64)
    check_joined(square, [*outline, none])
    for triangles, edges in (
        (square[:, :1], outline),  # one is lost
        (square, outline[:1]),  # some of the outline is lost
        (square[:, [0, 1, 1]], outline),  # one is there twice
        (square, [*outline, np.array([[0, 2, 8]]).T]),  # an inner edge is called the outline's
    ):
        with pytest.raises(NumericsFailed, match="the mesh is torn"):
            check_joined(triangles, edges)
