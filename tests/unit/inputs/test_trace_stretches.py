"""Faces between the points of a trace: lines, arcs, corners, and what scatter leaves of them."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest

from simedge.inputs.curves import Curve
from simedge.inputs.faces import Faces
from simedge.inputs.grinds import Apex
from simedge.inputs.trace_noise import best_breaks
from simedge.inputs.trace_stretches import Run
from simedge.inputs.traced import TracedProfile
from simedge.section.outline import build_outline

Points = list[tuple[float, float]]


def faces_of(points: Points, **more: Any) -> Faces:
    return TracedProfile(points_mm=tuple(points), **more).faces


# ---------------------------------------------------------------- faces between the points


def test_points_of_a_circle_give_the_circle_and_a_shoulder_stays_a_corner() -> None:
    hollow = Curve(begin_mm=(1.0, 0.2), end_mm=(20.0, 1.5), bulge_mm=-0.3)
    depths = [1.0 + 19.0 * k / 12 for k in range(13)]
    face = [(0.0, 0.002), *[(x, hollow.out_at(x)) for x in depths]]
    faces = faces_of([*face[::-1], *[(x, -y) for x, y in face]])
    bevel, grind = faces.left
    assert bevel.is_straight
    assert bevel.end_mm == (1.0, pytest.approx(0.2, rel=1e-12))
    assert grind.bulge_mm == pytest.approx(-0.3, rel=1e-9)
    assert grind.radius_mm == pytest.approx(hollow.radius_mm, rel=1e-9)
    assert any("re-entrant" in remark for remark in faces.remarks) == (
        math.degrees(grind.begin_angle_rad - bevel.end_angle_rad) > 2.0
    )


def test_four_points_of_a_circle_are_facets() -> None:
    convex = Curve(begin_mm=(0.0, 0.002), end_mm=(20.0, 1.5), bulge_mm=0.2)
    face = [(x, convex.out_at(x)) for x in (0.0, 6.0, 13.0, 20.0)]
    faces = faces_of([*face[::-1], *[(x, -y) for x, y in face]])
    assert len(faces.left) == 3
    assert all(curve.is_straight for curve in faces.left)


def test_shoulders_at_different_depths_are_shared_by_both_sides() -> None:
    faces = faces_of([(28.0, 1.6), (1.1, 0.225), (0.0, 0.0), (3.0, -0.5), (28.0, -1.6)])
    assert [x for x, _ in faces.left_mm] == [0.0, 1.1, 3.0, 28.0]
    assert [x for x, _ in faces.right_mm] == [0.0, 1.1, 3.0, 28.0]
    assert faces.right_mm[1][1] == pytest.approx(-0.5 * 1.1 / 3.0, rel=1e-12)


# ---------------------------------------------------------------- scatter


def scattered(deviation_mm: float, seed: int) -> Points:
    """Give the knife with 100 points a stretch, each off by a normal deviate in both directions."""
    made = random.Random(seed)
    face = [(1.1 * k / 100, 0.002 + 0.223 * k / 100) for k in range(100)]
    face += [(1.1 + 26.9 * k / 100, 0.225 + 1.375 * k / 100) for k in range(101)]
    sides = []
    for sign in (1.0, -1.0):
        rough = [
            (x + made.gauss(0, deviation_mm), sign * y + made.gauss(0, deviation_mm))
            for x, y in face[4:]
        ]
        sides.append([(face[0][0], sign * face[0][1]), *rough])
    return [*sides[0][::-1], *sides[1]]


@pytest.mark.parametrize("deviation_mm", [0.0002, 0.001, 0.002])
def test_scatter_is_measured_and_smoothed_and_what_that_changes_is_said(
    deviation_mm: float,
) -> None:
    faces = faces_of(scattered(deviation_mm, 3))
    told = next(remark for remark in faces.remarks if "scatter" in remark)
    said_um = float(told.split("about ")[1].split(" µm")[0])
    # the median of some 200 deviates is within a fifth of its mean, and two figures are told
    assert said_um == pytest.approx(1000 * deviation_mm, rel=0.25)
    assert "at 0.1 mm" in told
    assert "at 1 mm" in told
    outline = build_outline(Apex(land_um=4.0), faces)
    # a hundred points make each line about a tenth as uncertain as a point; a shoulder 1.1 mm
    # away turns that into no more
    for depth, thickness in ((0.5, 2 * (0.002 + 0.223 * 0.5 / 1.1)), (10.0, 2 * 0.6799219)):
        got = float(outline.thickness_mm(depth))
        assert got == pytest.approx(thickness, abs=deviation_mm + 1e-6)
    assert len(faces.left) <= 8


def test_runs_meet_where_both_sides_fit_best() -> None:
    # found within a tolerance, a run goes past its shoulder before it notices
    made = random.Random(2)
    places = [(0.01 * k, 0.002 * k if k < 50 else 0.1 + 0.0005 * (k - 50)) for k in range(101)]
    rough = [(x, out + made.gauss(0, 1e-4)) for x, out in places]
    first, second = best_breaks(rough, [Run(0, 63), Run(63, 100)])
    assert (first.first, second.last) == (0, 100)
    # a point next to the shoulder is 15 deviations off the wrong line: none is on it
    assert first.last == second.first == 50


def test_rounded_points_do_not_count_as_scattered() -> None:
    face = [(0.011 * k, 0.002 + 0.223 * k / 100) for k in range(101)]
    face += [(1.1 + 0.269 * k, 0.225 + 0.01375 * k) for k in range(1, 101)]
    points = [*face[::-1], *[(x, -y) for x, y in face]]
    rounded = [(round(x, 4), round(y, 4)) for x, y in points]
    faces = faces_of(rounded, rounding_mm=5e-5)
    assert not any("scatter" in remark for remark in faces.remarks)
    assert len(faces.left) <= 4


def test_a_sketch_in_whole_millimetres_is_meant_as_it_stands() -> None:
    # 0.5 mm of rounding would make one line of these: (10, 1) lies 0.14 off it
    sketch = [(28.0, 2.0), (10.0, 1.0), (0.0, 0.0), (10.0, -1.0), (28.0, -2.0)]
    faces = faces_of(sketch, rounding_mm=0.5)
    assert [x for x, _ in faces.left_mm] == [0.0, 10.0, 28.0]
