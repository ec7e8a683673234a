"""The outline against hand geometry and against the area of a polygon drawn around it."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from math import cos, pi, radians, sin, tan

import numpy as np
import pytest

from simedge.errors import BadInput
from simedge.inputs.curves import Curve
from simedge.section.outline import SIDES, Outline, Stretch, turn_less_sine

Edge = Callable[..., Outline]

#: Sides of the polygon that stands for the arc: its area is short of the circle's by (1/n)^2.
ARC_SIDES = 20_000

SHAPES = {
    "rope knife": {},
    "to the spine": {"clamp_mm": None},
    "one bevel cut through by the clamp": {"clamp_mm": 0.5},
    "chisel": {"bevels": ((0.0, 25.0, 2.0),)},
    "unequal sides": {"bevels": ((20.0, 12.0, 0.05), (10.0, 12.0, 1.0)), "left_fraction": 0.3},
    "land": {"land_um": 20.0},
    "land on one side": {"land_um": 20.0, "bevels": ((0.0, 20.0, 0.5),)},
    "sharp": {"sharp": True},
    "ground flat to a blunt apex": {"bevels": (), "radius_um": 900.0},
    "parallel body": {"bevels": (), "dps": 45.0, "height_mm": 2.0, "clamp_mm": 1.9},
}  # fmt: skip


def polygon_area_mm2(outline: Outline) -> float:
    tip_x, tip_y = outline.tip.point(np.linspace(0.0, 1.0, ARC_SIDES + 1))
    right = [run.end_mm for run in outline.right]
    left = [run.end_mm for run in reversed(outline.left)]
    x = np.concatenate([tip_x, [p[0] for p in right], [p[0] for p in left]])
    y = np.concatenate([tip_y, [p[1] for p in right], [p[1] for p in left]])
    return float(0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


@pytest.mark.parametrize("name", SHAPES)
def test_area_is_that_of_a_polygon_around_it(name: str, edge: Edge) -> None:
    outline = edge(**SHAPES[name])
    # the chords of n sides cut off less than R^2 (opening)^3 / (12 n^2)
    cut_off = outline.tip.radius_mm**2 * pi**3 / (12 * ARC_SIDES**2)
    assert polygon_area_mm2(outline) == pytest.approx(
        outline.area_mm2, rel=1e-12, abs=1.01 * cut_off
    )


def test_area_of_a_sharp_wedge_by_hand(edge: Edge) -> None:
    outline = edge((), sharp=True, dps=10.0, height_mm=20.0, clamp_mm=8.0)
    assert outline.area_mm2 == pytest.approx(64 * tan(radians(10)), rel=1e-12)


def test_area_of_a_rounded_wedge_by_hand(edge: Edge) -> None:
    a, radius, depth = radians(10), 0.3, 8.0
    outline = edge((), radius_um=300.0, dps=10.0, height_mm=20.0, clamp_mm=depth)
    # two kites (centre, tangent point, virtual apex) less two sectors go from the sharp wedge
    virtual = depth + radius / sin(a) - radius
    lost = radius**2 * (1 / tan(a) - (pi / 2 - a))
    assert outline.area_mm2 == pytest.approx(virtual**2 * tan(a) - lost, rel=1e-12)


def test_tip_of_a_rounded_edge_by_hand(edge: Edge) -> None:
    tip = edge().tip
    assert tip.kind == "rounded"
    assert tip.width_mm == pytest.approx(2 * 0.0015 * cos(radians(15)), rel=1e-12)
    assert tip.length_mm == pytest.approx(0.0015 * radians(150), rel=1e-12)
    assert tip.point(0.5) == pytest.approx((0.0, 0.0), abs=1e-18)
    assert tip.point(0.0) == pytest.approx(tip.left_mm, rel=1e-12)
    assert tip.point(1.0) == pytest.approx(tip.right_mm, rel=1e-12)


def test_tip_of_a_chisel_by_hand(edge: Edge) -> None:
    tip = edge(((0.0, 25.0, 2.0),), radius_um=10.0).tip
    assert tip.left_mm == pytest.approx((0.01, 0.01), rel=1e-12)
    assert tip.length_mm == pytest.approx(0.01 * radians(155), rel=1e-12)
    # from the left the foremost point lies 90 of 155 degrees along the arc
    assert tip.along(np.array([0.0]), np.array([0.0])) == pytest.approx([90 / 155], rel=1e-12)


def test_tip_of_a_land(edge: Edge) -> None:
    tip = edge(land_um=8.0).tip
    assert (tip.kind, tip.radius_mm) == ("land", 0.0)
    assert (tip.width_mm, tip.length_mm) == (0.008, 0.008)
    assert tip.point(0.25) == pytest.approx((0.0, 0.002), abs=1e-18)


def test_a_sharp_tip_has_no_width(edge: Edge) -> None:
    tip = edge(sharp=True).tip
    assert (tip.kind, tip.width_mm, tip.length_mm) == ("sharp", 0.0, 0.0)


@pytest.mark.parametrize("name", ["rope knife", "chisel", "unequal sides", "land"])
def test_along_undoes_point(name: str, edge: Edge) -> None:
    tip = edge(**SHAPES[name]).tip
    fraction = np.linspace(0.0, 1.0, 41)
    assert tip.along(*tip.point(fraction)) == pytest.approx(fraction, abs=1e-12)


@pytest.mark.parametrize("name", SHAPES)
def test_faces_meet_tip_and_shoulders(name: str, edge: Edge) -> None:
    outline = edge(**SHAPES[name])
    for side, corner in zip(SIDES, (outline.tip.left_mm, outline.tip.right_mm), strict=True):
        runs = outline.face(side)
        assert runs[0].begin_mm == corner
        assert outline.face_begins_mm(side) == corner[0]
        assert runs[-1].end_mm[0] == outline.depth_mm
        for before, after in pairwise(runs):
            assert before.end_mm == after.begin_mm
        for run in runs:
            rise, length = np.subtract(run.end_mm, run.begin_mm)[::-1]
            outward = 1.0 if side == "left" else -1.0
            slope = tan(run.curve.chord_angle_rad)
            assert outward * rise == pytest.approx(length * slope, abs=1e-12)
            middle = 0.5 * (run.begin_mm[0] + run.end_mm[0])
            assert outline.face_y_mm(side, middle) == pytest.approx(
                0.5 * (run.begin_mm[1] + run.end_mm[1]), rel=1e-12
            )


def test_thickness_through_tip_and_body(edge: Edge) -> None:
    outline = edge(((0.0, 25.0, 2.0),), radius_um=10.0)
    # in the circle, half of R in: 2 sqrt(R^2 - (R/2)^2) until the right face leaves it
    assert outline.thickness_mm(0.005) == pytest.approx(0.01 * 3**0.5, rel=1e-12)
    right_begins = 0.01 * (1 - sin(radians(25)))
    right_y = -0.01 * cos(radians(25)) - (0.009 - right_begins) * tan(radians(25))
    left_y = (0.01**2 - 0.001**2) ** 0.5  # still on the arc: the left face begins at R
    assert outline.thickness_mm(0.009) == pytest.approx(left_y - right_y, rel=1e-12)
    assert outline.thickness_mm([0.0, 1.0]).shape == (2,)
    assert outline.thickness_mm(0.0) == pytest.approx(0.0, abs=1e-15)


def test_the_clamp_cuts_off_what_lies_behind(edge: Edge) -> None:
    whole, cut = edge(clamp_mm=None), edge(clamp_mm=0.5)
    assert whole.depth_mm == 28.0
    assert len(whole.shoulders_mm) == 2
    assert (len(cut.left), cut.depth_mm) == (2, 0.5)
    assert cut.shoulders_mm == (0.08,)
    depths = np.linspace(0.0, 0.5, 50)
    for side in SIDES:
        assert cut.face_y_mm(side, depths) == pytest.approx(
            whole.face_y_mm(side, depths), abs=1e-15
        )
    # a clamp at the shoulder itself leaves no stretch behind it
    assert len(edge(clamp_mm=0.08).left) == 1


@pytest.mark.parametrize("clamp_mm", [0.001, 0.0, -3.0, 28.001, float("nan")])
def test_a_clamp_outside_the_blade_is_refused(clamp_mm: float, edge: Edge) -> None:
    with pytest.raises(BadInput, match=r"clamp_depth_mm is .* behind the apex"):
        edge(clamp_mm=clamp_mm)


@pytest.mark.parametrize(
    ("name", "even"),
    [("rope knife", True), ("sharp", True), ("chisel", False), ("unequal sides", False)],
)
def test_even_edges_are_told(name: str, even: bool, edge: Edge) -> None:
    assert edge(**SHAPES[name]).is_even is even


def test_a_shared_primary_makes_an_edge_uneven_unless_it_is_cut_off(edge: Edge) -> None:
    assert not edge(left_fraction=0.3).is_even
    assert edge(left_fraction=0.3, clamp_mm=0.5).is_even


# ---------------------------------------------------------------- arcs

Ground = Callable[..., Outline]
#: Lines that stand for an arc in the polygon: its area is short by a share of about (turn / n)^2.
LINES = 20_000


def finely_drawn(outline: Outline) -> tuple[np.ndarray, np.ndarray]:
    """Give the corners of a polygon around a section, arcs by many points, counter-clockwise."""
    tip = np.stack(outline.tip.point(np.linspace(0.0, 1.0, ARC_SIDES + 1)))
    shares = np.linspace(0.0, 1.0, LINES + 1)
    faces = []
    for side in SIDES:
        runs = [
            np.array([run.begin_mm, run.end_mm]).T if run.is_straight else run.point(shares)
            for run in outline.face(side)
        ]
        faces.append(np.concatenate(runs, axis=1))
    left, right = faces
    return tuple(np.concatenate([tip, right, left[:, ::-1]], axis=1))


@pytest.mark.parametrize("held", [1.0, 0.4])
def test_area_of_a_grind_is_that_of_a_fine_polygon(grind: str, held: float, ground: Ground) -> None:
    outline = ground(grind, held)
    x, y = finely_drawn(outline)
    polygon = 0.5 * float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    assert polygon == pytest.approx(outline.area_mm2, rel=4e-9)


def test_faces_of_a_grind_meet_and_stay_on_their_circles(grind: str, ground: Ground) -> None:
    outline = ground(grind)
    for side in SIDES:
        for before, after in pairwise(outline.face(side)):
            assert before.end_mm == after.begin_mm
        for run in outline.face(side):
            x = np.linspace(run.begin_mm[0], run.end_mm[0], 33)
            y = run.y_mm(x)
            assert (y[0], y[-1]) == (run.begin_mm[1], run.end_mm[1])
            assert y.tolist() == [run.outward * run.curve.out_at(depth) for depth in x]
            if run.is_straight:
                continue
            away = np.hypot(x - run.centre_mm[0], y - run.centre_mm[1])
            assert away == pytest.approx(run.curve.radius_mm, rel=1e-12)
            # square to the radius, and the blade widens with the angle
            angle = run.angle_rad(x)
            along = (x - run.centre_mm[0]) * np.cos(angle)
            along += run.outward * (y - run.centre_mm[1]) * np.sin(angle)
            assert np.abs(along).max() <= 1e-9 * run.curve.radius_mm
            assert angle[0] == pytest.approx(run.curve.begin_angle_rad, abs=1e-7)
            assert angle[-1] == pytest.approx(run.curve.end_angle_rad, abs=1e-7)


def test_shares_of_an_arc_are_shares_of_its_length(grind: str, ground: Ground) -> None:
    outline = ground(grind)
    for run in (*outline.left, *outline.right):
        if run.is_straight:
            continue
        share = np.linspace(0.0, 1.0, 65)
        points = run.point(share)
        assert points[:, 0] == pytest.approx(run.begin_mm, rel=1e-15)
        assert points[:, -1] == pytest.approx(run.end_mm, rel=1e-12)
        steps = np.hypot(*np.diff(points, axis=1))
        assert steps == pytest.approx(steps[0], rel=1e-9)
        assert steps.sum() == pytest.approx(run.length_mm, rel=1e-3)  # chords of 64 pieces
        assert run.share_at(points[0]) == pytest.approx(share, abs=1e-7)
        assert run.y_mm(points[0]) == pytest.approx(points[1], rel=1e-7)


def test_segment_between_arc_and_chord_by_hand() -> None:
    # a quarter of a circle of radius 1: pi / 4 - 1 / 2
    quarter = Curve(begin_mm=(0.0, 0.0), end_mm=(1.0, 1.0), bulge_mm=1 - 0.5**0.5)
    for side in SIDES:
        run = Stretch(name="", side=side, curve=quarter)
        assert run.segment_area_mm2 == pytest.approx(pi / 4 - 0.5, rel=1e-14)
        assert run.length_mm == pytest.approx(pi / 2, rel=1e-14)


@pytest.mark.parametrize("turn", [1e-9, 1e-3, 0.0999999, 0.1, 1.0, -0.5])
def test_turn_less_its_sine_where_the_difference_would_be_nothing(turn: float) -> None:
    # by its series, in exact numbers
    exact, term = Fraction(0), Fraction(turn)
    for power in range(3, 40, 2):
        term *= -(Fraction(turn) ** 2) / (power * (power - 1))
        exact -= term
    assert float(turn_less_sine(turn)) == pytest.approx(float(exact), rel=1e-12)


@pytest.mark.parametrize("held", [1.0, 0.3])
def test_lines_between_the_knots_of_a_face_are_the_face(
    grind: str, held: float, ground: Ground
) -> None:
    outline = ground(grind, held)
    for side in SIDES:
        begin, end = 0.4 * outline.depth_mm, 0.9 * outline.depth_mm
        knots = outline.face_knots_mm(side, begin, end)
        assert (knots[0], knots[-1]) == (begin, end)
        assert sorted(set(knots)) == list(knots)
        x = np.linspace(begin, end, 1001)
        lines = np.interp(x, knots, outline.face_y_mm(side, knots))
        # a line of width w over a radius r is off by w^2 / (8 r): less than anyone can see
        assert np.abs(lines - outline.face_y_mm(side, x)).max() < 2e-4 * (end - begin)


def test_a_rounded_apex_runs_into_an_arc_without_a_kink(ground: Ground) -> None:
    for name in ("convex to the apex", "convex to a blunt apex", "nearly half a circle"):
        outline = ground(name)
        radius = outline.tip.radius_mm
        for side in SIDES:
            run = outline.face(side)[0]
            x, y = run.begin_mm
            assert np.hypot(x - radius, y) == pytest.approx(radius, rel=1e-12)
            angle = run.curve.begin_angle_rad
            assert ((radius - x) / radius, abs(y) / radius) == pytest.approx(
                (sin(angle), cos(angle)), abs=1e-9
            )
