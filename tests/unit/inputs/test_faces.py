"""Faces from a profile's numbers, against geometry done by hand, and from any numbers at all.

Hand geometry: a face at angle a leaves an apex circle of radius R, centred at (R, 0), at
(R (1 - sin a), R cos a); along a face y gains tan(a) per x.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, isfinite, radians, sin, tan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.inputs.door import validated_arguments
from simedge.inputs.faces import Faces
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile

#: Hand values are worked out with as many figures; the code may round in another order.
ROUNDING = 1e-12


def near(*point: float) -> Any:
    return pytest.approx(point, rel=ROUNDING, abs=1e-15)


def rope_knife(**changes: Any) -> Profile:
    fields: dict[str, Any] = {
        "height_mm": 28.0,
        "spine_thickness_mm": 3.2,
        "apex": Apex(radius_um=1.5),
        "bevels": (
            Bevel(name="micro-bevel", dps=15.0, height_mm=0.08),
            Bevel(name="edge bevel", dps=11.0, ends_at_thickness_mm=0.45),
        ),
        "primary_grind": PrimaryGrind(),
    }
    return Profile(**{**fields, **changes})


# ---------------------------------------------------------------- by hand


def test_tangent_points_of_the_rope_knife() -> None:
    faces = rope_knife().faces
    # 0.0015 (1 - sin 15) and 0.0015 cos 15, to seven figures
    assert faces.left_mm[0] == pytest.approx((0.001111771, 0.001448889), rel=1e-6)
    assert faces.right_mm[0] == (faces.left_mm[0][0], -faces.left_mm[0][1])


def test_shoulder_by_height_and_by_thickness() -> None:
    faces = rope_knife().faces
    # 0.001448889 + (0.08 - 0.001111771) tan 15
    first_y = 0.0015 * cos(radians(15)) + (0.08 - 0.0015 * (1 - sin(radians(15)))) * tan(
        radians(15)
    )
    assert first_y == pytest.approx(0.02258693, rel=1e-6)
    assert faces.left_mm[1] == near(0.08, first_y)
    # where half of 0.45 mm is reached at 11 degrees: 0.08 + (0.225 - 0.02258693) / 0.1943803
    second_x = 0.08 + (0.225 - first_y) / tan(radians(11))
    assert second_x == pytest.approx(1.121325, rel=1e-6)
    assert faces.left_mm[2] == near(second_x, 0.225)
    assert faces.right_mm[2] == near(second_x, -0.225)


def test_primary_derived_from_height_and_spine() -> None:
    faces = rope_knife().faces
    slope = (1.6 - 0.225) / (28.0 - faces.left_mm[2][0])
    for angle in faces.sides_deg[-1]:
        assert tan(radians(angle)) == pytest.approx(slope, rel=ROUNDING)
    assert faces.sides_deg[-1][0] == pytest.approx(2.92844, rel=1e-5)
    assert faces.left_mm[-1] == near(28.0, 1.6)
    assert (faces.height_mm, faces.spine_thickness_mm) == near(28.0, 3.2)
    assert faces.names == ("micro-bevel", "edge bevel", "primary grind")
    assert faces.fields == (("bevels", 0), ("bevels", 1), ("primary_grind",))
    assert faces.remarks == ()


def test_edge_ground_flat_to_a_rounded_apex_is_tangent() -> None:
    radius = 0.5
    faces = rope_knife(bevels=(), apex=Apex(radius_um=500.0)).faces
    ((angle, _),) = faces.sides_deg
    # the line through (28, 1.6) at that angle passes the circle's centre (R, 0) at distance R
    away = 1.6 * cos(radians(angle)) - (28.0 - radius) * sin(radians(angle))
    assert away == pytest.approx(radius, rel=1e-12)
    assert faces.left_mm == (
        near(radius * (1 - sin(radians(angle))), radius * cos(radians(angle))),
        near(28.0, 1.6),
    )


def test_sharp_edge_by_its_angle_derives_height_or_spine() -> None:
    sharp, grind = Apex(sharp=True), PrimaryGrind(dps=10.0)
    from_spine = Profile(spine_thickness_mm=3.0, apex=sharp, primary_grind=grind).faces
    assert from_spine.height_mm == pytest.approx(1.5 / tan(radians(10)), rel=ROUNDING)
    assert from_spine.height_mm == pytest.approx(8.506923, rel=1e-6)
    assert from_spine.left_mm[0] == (0.0, 0.0)
    from_height = Profile(height_mm=20.0, apex=sharp, primary_grind=PrimaryGrind(dps=5.0)).faces
    assert from_height.spine_thickness_mm == pytest.approx(40 * tan(radians(5)), rel=ROUNDING)
    assert from_height.spine_thickness_mm == pytest.approx(3.499547, rel=1e-6)


def test_derived_height_counts_from_the_foremost_point_of_a_rounded_apex() -> None:
    # half of 3 mm is reached (1.5 - R cos a) / tan a behind the tangent point
    faces = Profile(
        spine_thickness_mm=3.0, apex=Apex(radius_um=100.0), primary_grind=PrimaryGrind(dps=10.0)
    ).faces
    begins = 0.1 * (1 - sin(radians(10)))
    height = begins + (1.5 - 0.1 * cos(radians(10))) / tan(radians(10))
    assert faces.height_mm == pytest.approx(height, rel=ROUNDING)


def test_land_begins_at_its_half_width() -> None:
    faces = rope_knife(apex=Apex(land_um=8.0)).faces
    assert (faces.left_mm[0], faces.right_mm[0]) == ((0.0, 0.004), (0.0, -0.004))
    assert faces.left_mm[1] == near(0.08, 0.004 + 0.08 * tan(radians(15)))


def test_chisel_edge_keeps_its_flat_side_straight() -> None:
    bevel = Bevel(left_dps=0.0, right_dps=25.0, ends_at_thickness_mm=2.0)
    faces = rope_knife(bevels=(bevel,)).faces
    radius = 0.0015
    assert faces.left_mm[0] == near(radius, radius)
    assert faces.right_mm[0] == near(radius * (1 - sin(radians(25))), -radius * cos(radians(25)))
    # the default: a side of 0 degrees stays straight, the other takes all that is left
    assert [y for _, y in faces.left_mm] == [radius] * 3
    assert faces.right_mm[-1] == near(28.0, radius - 3.2)
    # the thickness of 2 mm is reached on the right alone
    right_y = radius - 2.0
    right_x = faces.right_mm[0][0] + (-radius * cos(radians(25)) - right_y) / tan(radians(25))
    assert faces.right_mm[1] == near(right_x, right_y)
    assert faces.sides_deg[-1][0] == 0.0


@pytest.mark.parametrize("share", [0.0, 0.25, 0.5, 1.0])
def test_left_share_of_what_is_still_to_be_gained(share: float) -> None:
    faces = rope_knife(primary_grind=PrimaryGrind(left_fraction=share)).faces
    assert faces.left_mm[-1] == near(28.0, 0.225 + share * 2.75)
    assert faces.right_mm[-1] == near(28.0, -0.225 - (1 - share) * 2.75)
    assert (faces.sides_deg[-1][0] == 0.0) == (share == 0.0)
    assert (faces.sides_deg[-1][1] == 0.0) == (share == 1.0)


@pytest.mark.parametrize(("share", "straight"), [(0.0, 0), (1.0, 1)])
def test_left_share_without_bevels_leaves_one_face_straight(share: float, straight: int) -> None:
    faces = rope_knife(bevels=(), primary_grind=PrimaryGrind(left_fraction=share)).faces
    sides = (faces.left_mm, faces.right_mm)
    assert [abs(y) for _, y in sides[straight]] == near(0.0015, 0.0015)
    assert faces.spine_thickness_mm == pytest.approx(3.2, rel=ROUNDING)
    assert faces.sides_deg[0][straight] == 0.0


@pytest.mark.parametrize("mirror", [False, True])
def test_default_share_follows_the_side_that_is_ground(mirror: bool) -> None:
    sides = (20.0, 0.0) if mirror else (0.0, 20.0)
    bevel = Bevel(left_dps=sides[0], right_dps=sides[1], height_mm=1.0)
    derived = rope_knife(bevels=(bevel,)).faces
    told = rope_knife(
        bevels=(bevel,), primary_grind=PrimaryGrind(left_fraction=1.0 if mirror else 0.0)
    ).faces
    assert derived == told


@pytest.mark.parametrize("kind", ["sharp", "land", "rounded"])
def test_mirrored_sides_give_the_mirrored_faces_to_the_bit(kind: str) -> None:
    apex = {
        "sharp": Apex(sharp=True), "land": Apex(land_um=5.0), "rounded": Apex(radius_um=5.0),
    }[kind]  # fmt: skip

    def faces(left: float, right: float, share: float) -> Faces:
        bevel = Bevel(left_dps=left, right_dps=right, height_mm=1.0)
        grind = PrimaryGrind(left_fraction=share)
        return rope_knife(apex=apex, bevels=(bevel,), primary_grind=grind).faces

    one, other = faces(18.0, 9.0, 0.25), faces(9.0, 18.0, 0.75)
    assert other.right_mm == tuple((x, -y) for x, y in one.left_mm)
    assert other.left_mm == tuple((x, -y) for x, y in one.right_mm)


@pytest.mark.parametrize("thickness_mm", [0.3, 0.45, 2.2, 3.0])
def test_body_with_parallel_faces(thickness_mm: float) -> None:
    bevel = Bevel(dps=11.0, ends_at_thickness_mm=thickness_mm)
    faces = rope_knife(bevels=(bevel,), spine_thickness_mm=thickness_mm).faces
    assert faces.sides_deg[-1] == pytest.approx((0.0, 0.0), abs=1e-9)


@pytest.mark.parametrize("thickness_mm", [0.3, 0.45, 2.2, 3.0])
def test_chisel_with_a_parallel_body(thickness_mm: float) -> None:
    # Thickness is met to rounding, and 2.9999999999999996 mm is no thinner spine than 3 mm.
    bevel = Bevel(left_dps=0.0, right_dps=25.0, ends_at_thickness_mm=thickness_mm)
    apex = Apex(radius_um=1.0)
    faces = rope_knife(apex=apex, bevels=(bevel,), spine_thickness_mm=thickness_mm).faces
    assert faces.sides_deg[-1] == pytest.approx((0.0, 0.0), abs=1e-9)


# ---------------------------------------------------------------- other grinds by hand


def test_part_height_is_flat_to_there_and_parallel_behind() -> None:
    grind = PrimaryGrind(kind="part-height", grind_height_mm=12.0)
    faces = rope_knife(primary_grind=grind).faces
    assert faces.names[2:] == ("primary grind", "above the grind")
    assert faces.fields[2:] == (("primary_grind",), ("primary_grind",))
    slope = (1.6 - 0.225) / (12.0 - faces.left_mm[2][0])
    assert tan(radians(faces.sides_deg[2][0])) == pytest.approx(slope, rel=ROUNDING)
    assert faces.sides_deg[3] == (0.0, 0.0)
    assert faces.left_mm[3:] == (near(12.0, 1.6), near(28.0, 1.6))
    assert faces.height_mm == 28.0


def test_part_height_by_its_angle_tells_the_spine() -> None:
    grind = PrimaryGrind(kind="part-height", dps=4.0, grind_height_mm=12.0)
    faces = rope_knife(spine_thickness_mm=None, primary_grind=grind).faces
    x, y = faces.left_mm[2]
    assert faces.spine_thickness_mm == pytest.approx(
        2 * (y + (12.0 - x) * tan(radians(4.0))), rel=ROUNDING
    )


@pytest.mark.parametrize("kind", ["part-height", "hollow"])
def test_a_grind_to_the_spine_has_nothing_above_it(kind: str) -> None:
    wheel = {"wheel_radius_mm": 400.0} if kind == "hollow" else {}
    whole = PrimaryGrind(kind=kind, grind_height_mm=28.0, **wheel)
    faces = rope_knife(primary_grind=whole).faces
    assert faces.names[-1] == "primary grind"
    if kind == "hollow":  # the default is the blade's height
        plain = PrimaryGrind(kind=kind, **wheel)
        assert rope_knife(primary_grind=plain).faces == faces


def test_a_parallel_body_has_nothing_above_its_grind() -> None:
    bevel = Bevel(dps=11.0, ends_at_thickness_mm=3.2)
    grind = PrimaryGrind(kind="part-height", grind_height_mm=20.0)
    faces = rope_knife(bevels=(bevel,), primary_grind=grind).faces
    assert faces.sides_deg[-1] == (0.0, 0.0)
    assert faces.names == ("bevel", "primary grind")
    assert faces.height_mm == 28.0


@pytest.mark.parametrize("kind", ["hollow", "convex"])
def test_a_side_of_0_degrees_was_not_ground(kind: str) -> None:
    bevel = Bevel(left_dps=0.0, right_dps=20.0, ends_at_thickness_mm=0.5)
    grind = {
        "hollow": PrimaryGrind(kind="hollow", wheel_radius_mm=300.0),
        "convex": PrimaryGrind(kind="convex", bulge_mm=0.1),
    }[kind]
    faces = rope_knife(bevels=(bevel,), primary_grind=grind).faces
    assert [curve.is_straight for curve in faces.left] == [True, True]
    assert [curve.is_straight for curve in faces.right] == [True, False]
    assert {out for _, out in faces.left_mm} == {0.0015}


@pytest.mark.parametrize("kind", ["hollow", "convex"])
def test_mirrored_arcs_to_the_bit(kind: str) -> None:
    def faces(left: float, right: float, share: float) -> Faces:
        bevel = Bevel(left_dps=left, right_dps=right, height_mm=1.0, kind="convex", bulge_um=4.0)
        more = {"wheel_radius_mm": 300.0} if kind == "hollow" else {"bulge_mm": 0.1}
        grind = PrimaryGrind(kind=kind, left_fraction=share, **more)
        return rope_knife(apex=Apex(radius_um=5.0), bevels=(bevel,), primary_grind=grind).faces

    one, other = faces(18.0, 9.0, 0.25), faces(9.0, 18.0, 0.75)
    assert (other.left, other.right) == (one.right, one.left)


def test_arcs_are_judged_by_their_ends() -> None:
    # 16 against 15 degrees; 20 µm of bulge over 1 mm turn the left face by 4.6 from its chord
    front = Bevel(name="front", left_dps=16.0, right_dps=24.0, height_mm=1.0, kind="convex",
                  bulge_um=20.0)  # fmt: skip
    behind = Bevel(name="behind", dps=15.0, height_mm=1.0)
    (remark,) = rope_knife(bevels=(front, behind), spine_thickness_mm=3.2).faces.remarks
    assert "left face turns inward" in remark
    assert "front (11.6 deg)" in remark or "front (11.5" in remark


def test_a_blade_shorter_than_its_apex_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        validated_arguments(
            Profile,
            {
                "height_mm": 0.02,
                "apex": {"land_um": 20.0},
                "primary_grind": {"dps": 10.0},
            },
        )
    (said,) = map(str, caught.value.problems)
    assert said.startswith("--height-mm is 0.02 mm, but the apex alone takes 0.03 mm")


def test_a_bevel_of_atoms_is_refused() -> None:
    said = []
    for bevel in ({"dps": 15.0, "height_mm": 4e-6}, {"dps": 1e-8, "height_mm": 0.1}):
        fields = {
            "height_mm": 28.0,
            "apex": {"sharp": True},
            "bevels": [bevel],
            "primary_grind": {"dps": 1e-9},
        }
        with pytest.raises(BadInput) as caught:
            validated_arguments(Profile, fields)
        said += map(str, caught.value.problems)
    assert all("only a few atoms" in each for each in said)
    assert len(said) == 2


# ---------------------------------------------------------------- odd, but a blade


def test_bevel_with_the_angle_behind_it_changes_nothing_and_is_said() -> None:
    twin = Bevel(name="touch-up", dps=11.0, height_mm=0.3)
    plain = rope_knife(bevels=(rope_knife().bevels[1],)).faces
    faces = rope_knife(bevels=(twin, rope_knife().bevels[1])).faces
    assert faces.names == plain.names
    assert (faces.left, faces.right) == (plain.left, plain.right)  # not by a rounding
    assert faces.fields == (("bevels", 1), ("primary_grind",))
    assert len(faces.remarks) == 1
    assert "touch-up" in faces.remarks[0]
    assert "no effect" in faces.remarks[0]


def test_included_angle_typed_as_half_is_asked_about() -> None:
    bevel = Bevel(name="edge bevel", dps=40.0, height_mm=0.3)
    (remark,) = rope_knife(bevels=(bevel,)).faces.remarks
    assert "80 deg" in remark
    assert "did you mean 20 per side?" in remark
    assert rope_knife(bevels=(Bevel(dps=30.0, height_mm=0.3),)).faces.remarks == ()


def test_one_face_that_turns_inward_is_named() -> None:
    front = Bevel(name="micro-bevel", left_dps=8.0, right_dps=22.0, height_mm=0.1)
    behind = Bevel(name="edge bevel", dps=11.0, height_mm=1.0)
    (remark,) = rope_knife(bevels=(front, behind)).faces.remarks
    assert "left face turns inward" in remark
    assert "micro-bevel (8 deg)" in remark
    assert "edge bevel (11 deg)" in remark
    assert "re-entrant" in remark


# ---------------------------------------------------------------- any numbers


def angles(lowest: float = 0.0) -> st.SearchStrategy[float]:
    return st.floats(lowest, 45.0)


def sizes() -> st.SearchStrategy[float | None]:
    return st.none() | st.floats(-1.0, 60.0) | st.floats(0.0, 1e-6)


def grinds() -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries(
        {},
        optional={
            "dps": angles(-1.0),
            "left_dps": angles(),
            "right_dps": angles(),
            "left_fraction": st.floats(0.0, 1.0),
        },
    )


def bevels() -> st.SearchStrategy[dict[str, Any]]:
    extent = {"height_mm": st.floats(0.0, 3.0), "ends_at_thickness_mm": st.floats(0.0, 3.0)}
    by_side = {"left_dps": angles(), "right_dps": angles()}
    return st.one_of(
        *(
            st.fixed_dictionaries({**sides, key: value})
            for sides in ({"dps": angles()}, by_side)
            for key, value in extent.items()
        )
    )


def wild() -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries(
        {
            "height_mm": sizes(),
            "spine_thickness_mm": sizes(),
            "apex": st.one_of(
                st.fixed_dictionaries({"radius_um": st.floats(0.0, 5000.0)}),
                st.fixed_dictionaries({"land_um": st.floats(0.0, 20000.0)}),
                st.just({"sharp": True}),
            ),
            "bevels": st.lists(bevels(), max_size=3),
            "primary_grind": grinds(),
        }
    )


def sharpened() -> st.SearchStrategy[list[dict[str, float]]]:
    """Give bevels whose included angles fall off from the apex on."""
    angle, height = st.floats(8.0, 45.0), st.floats(0.02, 1.5)
    return st.lists(st.tuples(angle, angle, height), max_size=3).map(
        lambda rows: [
            {"left_dps": left, "right_dps": right, "height_mm": own}
            for left, right, own in sorted(rows, key=lambda row: -row[0] - row[1])
        ]
    )


def blades() -> st.SearchStrategy[dict[str, Any]]:
    """Give numbers all of which are blades: a tip that fits, angles that fall off, a tall body.

    Three bevels end 4.5 mm behind the apex at most, and the body is slimmer than each of them.
    """
    tips = st.one_of(
        st.fixed_dictionaries({"radius_um": st.floats(0.005, 15.0)}),
        st.fixed_dictionaries({"land_um": st.floats(0.01, 50.0)}),
        st.just({"sharp": True}),
    )
    return st.fixed_dictionaries(
        {
            "height_mm": st.floats(6.0, 1000.0),
            "apex": tips,
            "bevels": sharpened(),
            "primary_grind": st.fixed_dictionaries({"dps": st.floats(0.1, 7.9)}),
        }
    )


def sensible() -> st.SearchStrategy[dict[str, Any]]:
    """Give numbers most of which are blades, the body's angles left to height and spine."""
    share = st.fixed_dictionaries({}, optional={"left_fraction": st.floats(0.0, 1.0)})
    sizes = {"spine_thickness_mm": st.floats(1.5, 8.0), "primary_grind": share}
    return st.tuples(blades(), st.fixed_dictionaries(sizes)).map(lambda both: both[0] | both[1])


@settings(max_examples=400)
@given(wild() | sensible())
def test_any_numbers_make_a_blade_or_are_refused(fields: dict[str, Any]) -> None:
    given_fields = {key: value for key, value in fields.items() if value is not None}
    try:
        faces = validated_arguments(Profile, given_fields).faces
    except BadInput:
        return
    for points, sign in ((faces.left_mm, 1.0), (faces.right_mm, -1.0)):
        assert len(points) == len(faces.sides_deg) + 1
        assert all(isfinite(x) and isfinite(y) for x, y in points)
        for (x1, y1), (x2, y2) in pairwise(points):
            assert x1 < x2
            assert sign * (y2 - y1) >= -1e-12 * hypot(x2, y2)
    for front, behind in pairwise(faces.sides_deg):
        assert sum(front) >= sum(behind) - 1e-9
    if "height_mm" in given_fields:
        assert faces.height_mm == given_fields["height_mm"]
    if "spine_thickness_mm" in given_fields:
        assert faces.spine_thickness_mm == pytest.approx(given_fields["spine_thickness_mm"])


@given(blades())
def test_a_blade_widens_from_its_tip_to_its_spine(fields: dict[str, Any]) -> None:
    profile = validated_arguments(Profile, fields)  # none of these may be refused
    faces, apex = profile.faces, profile.apex
    for points, sign, side in ((faces.left_mm, 1.0, 0), (faces.right_mm, -1.0, 1)):
        for pair, ((x1, y1), (x2, y2)) in zip(faces.sides_deg, pairwise(points), strict=True):
            assert x1 < x2
            assert sign * y1 < sign * y2
            # each stretch has its own angle; places are rounded to a unit of the larger one
            rise = (x2 - x1) * tan(radians(pair[side]))
            assert sign * (y2 - y1) == pytest.approx(rise, rel=1e-9, abs=1e-15 * max(x2, abs(y2)))
        if apex.radius_um is not None:
            # the first face is tangent: its foot on the circle, its normal through the centre
            radius, angle = apex.radius_um / 1000.0, radians(faces.sides_deg[0][side])
            (x, y) = points[0]
            assert hypot(x - radius, y) == pytest.approx(radius, rel=1e-12)
            along = (x - radius) * cos(angle) + sign * y * sin(angle)
            assert along == pytest.approx(0.0, abs=1e-12 * radius)
        else:
            assert points[0] == near(0.0, sign * (apex.land_um or 0.0) / 2000.0)
    assert faces.height_mm == fields["height_mm"]


@given(blades(), st.integers(0, 3))
def test_a_bevel_without_effect_changes_no_bit(fields: dict[str, Any], place: int) -> None:
    plain = validated_arguments(Profile, fields).faces
    bevels = list(fields["bevels"])
    bevels.insert(place, {"name": "touch-up", "dps": 45.0, "height_mm": 0.0})
    faces = validated_arguments(Profile, {**fields, "bevels": bevels}).faces
    assert (faces.left_mm, faces.right_mm) == (plain.left_mm, plain.right_mm)
    assert (faces.sides_deg, faces.names) == (plain.sides_deg, plain.names)
    # a message about what stands behind it still names the right table
    names = [fields["bevels"][key[1]] if key[1:] else None for key in plain.fields]
    assert [bevels[key[1]] if key[1:] else None for key in faces.fields] == names
    assert set(faces.remarks) - set(plain.remarks) == {
        "the touch-up has a height of 0 mm and is left out"
    }


@given(blades(), st.floats(0.01, 0.99))
def test_a_primary_cut_in_two_of_one_angle_is_one(fields: dict[str, Any], share: float) -> None:
    plain = validated_arguments(Profile, fields).faces
    begin, end = plain.left_mm[-2][0], plain.left_mm[-1][0]
    # the first bevel's height counts from the foremost point, others from the shoulder before
    first = not fields["bevels"]
    height = begin * first + share * (end - begin)
    twin = {"name": "twin", "dps": fields["primary_grind"]["dps"], "height_mm": height}
    faces = validated_arguments(Profile, {**fields, "bevels": [*fields["bevels"], twin]}).faces
    assert faces.sides_deg == plain.sides_deg
    # the shoulder that is gone was stepped over: one rounding more
    for point, expected in zip(
        (*faces.left_mm, *faces.right_mm), (*plain.left_mm, *plain.right_mm), strict=True
    ):
        assert point == near(*expected)
    assert faces.names == plain.names
    (said,) = set(faces.remarks) - set(plain.remarks)
    assert "twin" in said
    assert "no effect" in said
