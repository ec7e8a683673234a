"""The tip of a trace: what the foremost points make, and an apex put on in place of it."""

from __future__ import annotations

import math

import pytest

from simedge.inputs.curves import Curve
from simedge.inputs.grinds import Apex
from simedge.inputs.problems import FieldProblems
from simedge.inputs.traced import TracedProfile
from simedge.inputs.traced_faces import traced_section

Points = list[tuple[float, float]]

#: 15 and 11 per side, closed: a land of 4 µm, shoulders at 0.45 mm thickness, a flat spine.
KNIFE: Points = [
    (28.0, 1.6),
    (1.1, 0.225),
    (0.0, 0.002),
    (0.0, -0.002),
    (1.1, -0.225),
    (28.0, -1.6),
    (28.0, 1.6),
]


def refusal(points: Points, apex: Apex | None = None) -> tuple[tuple[str | int, ...], str]:
    """Give the path and the message of the one thing that is wrong."""
    with pytest.raises(FieldProblems) as caught:
        traced_section(tuple(points), 0.0, apex)
    (item,) = caught.value.items
    return item.path, item.message


# ---------------------------------------------------------------- tips


def arc(radius: float, count: int, half_turn_deg: float, centre_x: float) -> Points:
    """Give points on a circle from the left over the front to the right."""
    angles = [
        math.radians(180 - half_turn_deg + 2 * half_turn_deg * k / (count - 1))
        for k in range(count)
    ]
    return [(centre_x + radius * math.cos(a), radius * math.sin(a)) for a in angles]


def rounded_wedge(radius: float, dps: float, count: int) -> Points:
    """Give a wedge of 10 mm with a rounded tip: tangent points are 90 - dps off the front."""
    tip = arc(radius, count, 90.0 - dps, radius)
    x, y = tip[0]
    back = y + (10.0 - x) * math.tan(math.radians(dps))
    return [(10.0, back), *tip, (10.0, -back), (10.0, back)]


@pytest.mark.parametrize("count", [5, 6, 12, 40])
def test_five_points_on_a_circle_are_a_rounded_tip(count: int) -> None:
    profile = TracedProfile(points_mm=tuple(rounded_wedge(0.02, 12.0, count)))
    assert profile.apex.radius_um == pytest.approx(20.0, rel=1e-9)
    assert profile.faces.sides_deg == (pytest.approx((12.0, 12.0), rel=1e-9),)
    assert profile.faces.remarks == ()


def test_a_circle_off_by_more_than_a_hundredth_of_its_radius_is_none() -> None:
    points = rounded_wedge(0.02, 12.0, 7)
    bent = [(x, y) if k != 4 else (x + 0.001, y) for k, (x, y) in enumerate(points)]
    path, message = refusal(bent)
    assert path[0] == "points_mm"
    assert "[profile.apex]" in message


def test_three_steep_facets_ask_for_an_apex() -> None:
    facets = [(10.0, 1.5), (0.1, 0.3), (0.02, 0.2), (0.0, 0.05), (0.0, -0.05), (0.02, -0.2)]
    facets += [(0.1, -0.3), (10.0, -1.5)]
    path, message = refusal(facets)
    assert path == ("points_mm", 3)
    assert "neither round (5 points or more on a circle), nor a land, nor a point" in message
    assert traced_section(tuple(facets), 0.0, Apex(radius_um=5.0)).apex.radius_um == 5.0


def test_a_single_foremost_point_is_sharp() -> None:
    profile = TracedProfile(points_mm=((10.0, 1.0), (0.0, 0.0), (10.0, -1.0)))
    assert profile.apex.sharp
    assert profile.faces.left_mm == ((0.0, 0.0), (10.0, 1.0))


# ---------------------------------------------------------------- an apex put on the trace


def test_an_apex_stands_where_it_is_tangent_to_both_faces() -> None:
    # faces of 10 degrees meet 2 µm / tan 10 in front of the land; the circle's front lies
    # R / sin 10 - R behind that
    angle = math.radians(10.0)
    back = 0.002 + 20.0 * math.tan(angle)
    land = ((20.0, back), (0.0, 0.002), (0.0, -0.002), (20.0, -back), (20.0, back))
    profile = TracedProfile(points_mm=land, given_apex=Apex(radius_um=1.0))
    assert profile.apex == Apex(radius_um=1.0)
    forward = 0.002 / math.tan(angle) - 0.001 / math.sin(angle) + 0.001
    faces = profile.faces
    assert faces.height_mm == pytest.approx(20.0 + forward, rel=1e-12)
    begin = (0.001 * (1 - math.sin(angle)), 0.001 * math.cos(angle))
    assert faces.left_mm[0] == pytest.approx(begin, rel=1e-9)
    (remark,) = faces.remarks
    assert f"{1000 * forward:.3g} µm in front of the trace's own tip (its land of 4 µm)" in remark


def test_a_land_and_a_sharp_tip_are_put_on_likewise() -> None:
    wedge = ((10.0, 1.0), (0.0, 0.0), (10.0, -1.0), (10.0, 1.0))
    with_land = TracedProfile(points_mm=wedge, given_apex=Apex(land_um=20.0))
    # the wedge is 20 µm thick 0.1 mm behind its point
    assert with_land.faces.height_mm == pytest.approx(9.9, rel=1e-12)
    back_again = TracedProfile(
        points_mm=((10.0, 1.0), (0.1, 0.01), (0.1, -0.01), (10.0, -1.0)),
        given_apex=Apex(sharp=True),
    )
    assert back_again.faces.height_mm == pytest.approx(10.0, rel=1e-12)


@pytest.mark.parametrize("key", ["radius_um", "land_um"])
def test_an_apex_that_does_not_fit_is_told_the_largest_that_does(key: str) -> None:
    path, message = refusal(KNIFE, Apex(**{key: 600.0}))
    assert path == ("apex", key)
    largest = float(message.split("below ")[1].split(" µm")[0])
    traced_section(tuple(KNIFE), 0.0, Apex(**{key: 0.9999 * largest}))
    with pytest.raises(FieldProblems):
        traced_section(tuple(KNIFE), 0.0, Apex(**{key: 1.01 * largest}))


def test_an_apex_is_tangent_to_a_face_that_is_an_arc() -> None:
    # convex faces of 60 mm radius, 40 points each; where the apex's circle touches, both run alike
    curve = Curve(begin_mm=(0.0, 0.004), end_mm=(8.0, 1.2), bulge_mm=0.12)
    places = [(8.0 * k / 40, curve.out_at(8.0 * k / 40)) for k in range(41)]
    points = [*places[::-1], *[(x, -y) for x, y in places]]
    profile = TracedProfile(points_mm=tuple(points), given_apex=Apex(radius_um=3.0))
    (first, *_) = profile.faces.left
    assert first.radius_mm == pytest.approx(curve.radius_mm, rel=1e-6)
    angle = first.begin_angle_rad
    tangent = (0.003 * (1 - math.sin(angle)), 0.003 * math.cos(angle))
    assert first.begin_mm == pytest.approx(tangent, rel=1e-9)
