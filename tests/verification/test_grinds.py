"""Hollow, convex and part-height sections against their own integrals.

Source: elementary geometry. Written here without the code's words for it: the circle through two
points with a given radius, or with a given rise over its chord, as y(x) from its centre; the area
as the integral of left less right; and for even sections the trapezia under the chords with the
segments of the circles.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import acos, atan2, cos, hypot, pi, radians, sin, sqrt, tan
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from simedge.inputs.door import validated_arguments
from simedge.inputs.profile import Profile
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import Outline, build_outline

#: The issue's own figures: from the outline, and from the mesh.
FROM_OUTLINE, FROM_MESH = 1e-12, 1e-6
HEIGHT = 28.0

Point = tuple[float, float]
Face = Callable[[float], float]


def outline_of(**fields: Any) -> Outline:
    given = {"height_mm": HEIGHT, **fields}
    profile = validated_arguments(Profile, given)
    return build_outline(profile.apex, profile.faces)


def mesh_area(outline: Outline) -> float:
    """Integrate the Jacobian over the triangles, by a rule that is exact for it."""
    mesh: SectionMesh = mesh_outline(outline, {}, Resolution.for_accuracy(2.0))
    total = 0.0
    for r, s in ((1 / 6, 1 / 6), (2 / 3, 1 / 6), (1 / 6, 2 / 3)):
        t = 1 - r - s
        by_r = np.array([1 - 4 * t, 4 * r - 1, 0, 4 * (t - r), 4 * s, -4 * s])
        by_s = np.array([1 - 4 * t, 0, 4 * s - 1, -4 * r, 4 * r, 4 * (t - s)])
        nodes = mesh.points_mm[:, mesh.triangles]
        (xr, yr), (xs, ys) = (np.einsum("ckn,k->cn", nodes, by) for by in (by_r, by_s))
        total += float(np.sum(xr * ys - xs * yr)) / 6
    return total


def line(a: Point, b: Point) -> Face:
    return lambda x: a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])


def circle(a: Point, b: Point, radius: float, *, below: bool) -> Face:
    """Give the arc through two points; its centre lies below the chord, or above where hollow."""
    chord = hypot(b[0] - a[0], b[1] - a[1])
    normal = (-(b[1] - a[1]) / chord, (b[0] - a[0]) / chord)
    off = sqrt(radius**2 - chord**2 / 4) * (-1.0 if below else 1.0)
    x0 = 0.5 * (a[0] + b[0]) + off * normal[0]
    y0 = 0.5 * (a[1] + b[1]) + off * normal[1]
    side = 1.0 if below else -1.0
    return lambda x: y0 + side * sqrt(max(radius**2 - (x - x0) ** 2, 0.0))


def bulged(a: Point, b: Point, rise: float) -> Face:
    chord = hypot(b[0] - a[0], b[1] - a[1])
    return circle(a, b, rise / 2 + chord**2 / (8 * rise), below=True)


def segment(chord: float, radius: float) -> float:
    """Area between an arc and its chord."""
    opening = 2 * acos(sqrt(1 - (chord / (2 * radius)) ** 2))
    return radius**2 / 2 * (opening - sin(opening))


def trapezium(a: Point, b: Point) -> float:
    return 0.5 * (a[1] + b[1]) * (b[0] - a[0])


def check(outline: Outline, left: list[tuple[float, float, Face]], right: Any = None) -> None:
    """Compare thickness everywhere and area with two faces given piece by piece from a sharp tip.

    Each piece is (from, to, distance from the mid-plane); `right` mirrors `left` by default.
    """
    right = left if right is None else right

    def at(face: list[tuple[float, float, Face]], x: float) -> float:
        return next(out(x) for low, high, out in face if low <= x <= high)

    for x in np.linspace(0.0, outline.depth_mm, 301)[1:]:
        wanted = at(left, x) + at(right, x)
        assert float(outline.thickness_mm(x)) == pytest.approx(wanted, rel=1e-11, abs=1e-12)
        assert float(outline.face_y_mm("left", x)) == pytest.approx(at(left, x), abs=1e-12)
    area = sum(
        quad(out, low, high, epsabs=1e-13, epsrel=1e-13)[0]
        for face in (left, right)
        for low, high, out in face
    )
    assert outline.area_mm2 == pytest.approx(area, rel=FROM_OUTLINE)
    assert mesh_area(outline) == pytest.approx(area, rel=FROM_MESH)


SHARP = {"sharp": True}
#: An edge bevel of 14 degrees per side up to 0.4 mm, from a sharp tip.
EDGE = {"name": "edge bevel", "dps": 14.0, "ends_at_thickness_mm": 0.4}
EDGE_END = (0.2 / tan(radians(14)), 0.2)
MICRO = {"name": "micro-bevel", "dps": 18.0, "height_mm": 0.05}
MICRO_END = (0.05, 0.05 * tan(radians(18)))
BEHIND_MICRO = (0.05 + (0.2 - MICRO_END[1]) / tan(radians(14)), 0.2)
TIP = (0.0, 0.0)

#: The bevels in front of the grind, and the corners that they make on an even blade.
BEVELS: dict[str, tuple[list[dict[str, Any]], list[Point]]] = {
    "no bevel": ([], [TIP]),
    "edge bevel": ([EDGE], [TIP, EDGE_END]),
    "micro-bevel and edge bevel": ([MICRO, EDGE], [TIP, MICRO_END, BEHIND_MICRO]),
}


def fronts(corners: list[Point]) -> list[tuple[float, float, Face]]:
    return [(a[0], b[0], line(a, b)) for a, b in pairwise(corners)]


# ---------------------------------------------------------------- even


@pytest.mark.parametrize("bevels", BEVELS)
@pytest.mark.parametrize("grind_height", [None, 17.0])
def test_hollow(bevels: str, grind_height: float | None) -> None:
    records, corners = BEVELS[bevels]
    # a wheel that leaves the edge without bevels an angle, behind a bevel a smaller one
    radius = 400.0 if bevels == "no bevel" else 170.0
    grind = {"kind": "hollow", "wheel_radius_mm": radius}
    if grind_height is not None:
        grind["grind_height_mm"] = grind_height
    outline = outline_of(spine_thickness_mm=3.0, apex=SHARP, bevels=records, primary_grind=grind)
    begin, end = corners[-1], (grind_height or HEIGHT, 1.5)
    pieces = [*fronts(corners), (begin[0], end[0], circle(begin, end, radius, below=False))]
    if grind_height is not None:
        pieces.append((end[0], HEIGHT, lambda _: 1.5))
    check(outline, pieces)
    # the same by trapezia less the segment of the circle
    chord = hypot(end[0] - begin[0], end[1] - begin[1])
    half = sum(trapezium(a, b) for a, b in pairwise([*corners, end])) - segment(chord, radius)
    half += 1.5 * (HEIGHT - end[0])
    assert outline.area_mm2 == pytest.approx(2 * half, rel=1e-10)  # acos near 1 loses digits


@pytest.mark.parametrize("bevels", BEVELS)
def test_convex(bevels: str) -> None:
    records, corners = BEVELS[bevels]
    grind = {"kind": "convex", "bulge_mm": 0.3}
    outline = outline_of(spine_thickness_mm=3.0, apex=SHARP, bevels=records, primary_grind=grind)
    begin, end = corners[-1], (HEIGHT, 1.5)
    pieces = [*fronts(corners), (begin[0], end[0], bulged(begin, end, 0.3))]
    check(outline, pieces)
    chord = hypot(end[0] - begin[0], end[1] - begin[1])
    radius = 0.15 + chord**2 / 2.4
    half = sum(trapezium(a, b) for a, b in pairwise([*corners, end])) + segment(chord, radius)
    assert outline.area_mm2 == pytest.approx(2 * half, rel=1e-10)
    # the bulge stands on the middle of the chord, square to it
    middle = (0.5 * (begin[0] + end[0]), 0.5 * (begin[1] + end[1]))
    angle = atan2(end[1] - begin[1], end[0] - begin[0])
    x = middle[0] - 0.3 * sin(angle)
    assert float(outline.face_y_mm("left", x)) == pytest.approx(
        middle[1] + 0.3 * cos(angle), rel=1e-13
    )


@pytest.mark.parametrize("bevels", BEVELS)
def test_part_height(bevels: str) -> None:
    records, corners = BEVELS[bevels]
    grind = {"kind": "part-height", "grind_height_mm": 12.0}
    outline = outline_of(spine_thickness_mm=3.0, apex=SHARP, bevels=records, primary_grind=grind)
    check(outline, fronts([*corners, (12.0, 1.5), (HEIGHT, 1.5)]))


def test_convex_bevels_in_front_of_each_grind() -> None:
    micro = {**MICRO, "kind": "convex", "bulge_um": 0.25}
    edge = {**EDGE, "kind": "convex", "bulge_um": 9.0}
    for grind, piece in (
        (
            {"kind": "hollow", "wheel_radius_mm": 170.0},
            circle(BEHIND_MICRO, (HEIGHT, 1.5), 170.0, below=False),
        ),
        ({"kind": "convex", "bulge_mm": 0.2}, bulged(BEHIND_MICRO, (HEIGHT, 1.5), 0.2)),
        ({"kind": "flat"}, line(BEHIND_MICRO, (HEIGHT, 1.5))),
    ):
        outline = outline_of(
            spine_thickness_mm=3.0, apex=SHARP, bevels=[micro, edge], primary_grind=grind
        )
        check(
            outline,
            [
                (0.0, 0.05, bulged(TIP, MICRO_END, 0.00025)),
                (0.05, BEHIND_MICRO[0], bulged(MICRO_END, BEHIND_MICRO, 0.009)),
                (BEHIND_MICRO[0], HEIGHT, piece),
            ],
        )


# ---------------------------------------------------------------- one-sided and unequal

UNEQUAL: dict[str, tuple[float, float, float | None]] = {
    # degrees of the edge bevel, and the left share told
    "one-sided": (0.0, 20.0, None),
    "one-sided, mirrored": (20.0, 0.0, None),
    "unequal": (12.0, 17.0, 0.4),
    "even edge, unequal grind": (14.0, 14.0, 0.7),
}


@pytest.mark.parametrize("name", UNEQUAL)
@pytest.mark.parametrize("kind", ["hollow", "convex", "part-height"])
@pytest.mark.parametrize("micro", [False, True])
def test_unequal_sides(name: str, kind: str, micro: bool) -> None:
    left, right, share = UNEQUAL[name]
    sides = (left, right)
    records: list[dict[str, Any]] = []
    corners: list[list[Point]] = [[TIP], [TIP]]
    if micro:  # 1.3 times as steep as the edge behind it
        records.append({"left_dps": 1.3 * left, "right_dps": 1.3 * right, "height_mm": 0.05})
        for face, side in zip(corners, sides, strict=True):
            face.append((0.05, 0.05 * tan(radians(1.3 * side))))
    records.append({"left_dps": left, "right_dps": right, "ends_at_thickness_mm": 0.4})
    x, thick = corners[0][-1][0], corners[0][-1][1] + corners[1][-1][1]
    end = x + (0.4 - thick) / (tan(radians(left)) + tan(radians(right)))
    for face, side in zip(corners, sides, strict=True):
        face.append((end, face[-1][1] + (end - x) * tan(radians(side))))
    grind: dict[str, Any] = {
        "hollow": {"kind": kind, "wheel_radius_mm": 210.0, "grind_height_mm": 20.0},
        "convex": {"kind": kind, "bulge_mm": 0.1},
        "part-height": {"kind": kind, "grind_height_mm": 12.0},
    }[kind]
    if share is not None:
        grind["left_fraction"] = share
    outline = outline_of(spine_thickness_mm=3.0, apex=SHARP, bevels=records, primary_grind=grind)
    # what is still to be gained is shared as told, or goes all to the side that is ground
    part = share if share is not None else float(right == 0.0)
    stop = grind.get("grind_height_mm", HEIGHT)
    faces = []
    for face, gained in zip(corners, (part * 2.6, (1 - part) * 2.6), strict=True):
        far = (stop, face[-1][1] + gained)
        pieces = fronts(face)
        if gained == 0.0 or kind == "part-height":
            piece = line(face[-1], far)  # a side that is not ground stays straight
        elif kind == "hollow":
            piece = circle(face[-1], far, 210.0, below=False)
        else:
            piece = bulged(face[-1], far, 0.1)
        pieces.append((end, stop, piece))
        if stop < HEIGHT:
            pieces.append((stop, HEIGHT, lambda _, y=far[1]: y))
        faces.append(pieces)
    check(outline, *faces)


# ---------------------------------------------------------------- down to a rounded apex


@pytest.mark.parametrize("radius_mm", [1e-3, 0.2])
@pytest.mark.parametrize("kind", ["hollow", "convex"])
def test_a_rounded_apex_touches_the_arc(kind: str, radius_mm: float) -> None:
    """Both circles share a tangent, so that their centres and the touching point are in line."""
    grind = {
        "hollow": {"kind": "hollow", "wheel_radius_mm": 500.0},
        "convex": {"kind": "convex", "bulge_mm": 0.25},
    }[kind]
    outline = outline_of(
        spine_thickness_mm=3.0, apex={"radius_um": 1000 * radius_mm}, primary_grind=grind
    )
    end = (HEIGHT, 1.5)

    def corner(tangent: float) -> Point:
        return radius_mm * (1 - sin(tangent)), radius_mm * cos(tangent)

    def miss(tangent: float) -> float:
        """How far the arc from that corner to the spine departs from the tangent, radians."""
        begin = corner(tangent)
        chord = hypot(end[0] - begin[0], end[1] - begin[1])
        angle = atan2(end[1] - begin[1], end[0] - begin[0])
        if kind == "hollow":
            turn = -acos(sqrt(1 - (chord / 1000.0) ** 2))
        else:
            arc = 0.125 + chord**2 / 2.0
            turn = acos(sqrt(1 - (chord / (2 * arc)) ** 2))
        return angle + turn - tangent

    tangent = brentq(miss, -0.5, 0.5, xtol=1e-15)
    begin = corner(tangent)
    assert outline.tip.left_mm == pytest.approx(begin, rel=1e-10)
    below = kind == "convex"
    chord = hypot(end[0] - begin[0], end[1] - begin[1])
    arc = 500.0 if kind == "hollow" else 0.125 + chord**2 / 2.0
    area = 2 * quad(circle(begin, end, arc, below=below), begin[0], HEIGHT, epsabs=1e-13)[0]
    # of the apex: its sector less the triangle to its centre
    opening = 2 * pi - 2 * atan2(begin[1], begin[0] - radius_mm)
    area += 0.5 * radius_mm**2 * (opening - sin(opening))
    assert outline.area_mm2 == pytest.approx(area, rel=1e-11)
    assert mesh_area(outline) == pytest.approx(area, rel=FROM_MESH)


@pytest.mark.parametrize("kind", ["flat", "convex"])
@pytest.mark.parametrize("extent", [{"height_mm": 0.3}, {"ends_at_thickness_mm": 0.25}])
def test_the_angle_of_a_bevel_is_that_of_its_chord(kind: str, extent: dict[str, float]) -> None:
    """From where it leaves the apex, be it an arc that leaves it more steeply, to its shoulder."""
    bevel = {"kind": kind, "dps": 16.0, **extent}
    if kind == "convex":
        bevel["bulge_um"] = 8.0
    outline = outline_of(
        spine_thickness_mm=3.0,
        apex={"radius_um": 40.0},
        bevels=[bevel],
        primary_grind={"kind": "flat"},
    )
    run = outline.left[0]
    rise, length = run.end_mm[1] - run.begin_mm[1], run.end_mm[0] - run.begin_mm[0]
    assert rise / length == pytest.approx(tan(radians(16)), rel=1e-12)
    if kind == "convex":
        x, y = run.begin_mm
        steeper = atan2(0.04 - x, y)  # of the tangent at that point of the apex
        assert steeper > radians(16)
        chord = hypot(rise, length)
        assert steeper - radians(16) == pytest.approx(2 * atan2(0.016, chord), rel=1e-9)
    if "height_mm" in extent:
        assert run.end_mm[0] == 0.3
    else:
        assert 2 * run.end_mm[1] == pytest.approx(0.25, rel=1e-12)
