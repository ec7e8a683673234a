"""The closed forms read along a section: on a plain wedge they are the wedge's own.

Sources of the fields are those of `simedge.strength.closed_form`; here only that they are put
together rightly, with axes, apex, line of action and what acts in front.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import cos, radians, sin, tan

import numpy as np
import pytest

from simedge.fem.elasticity import Elasticity
from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.profile import Profile
from simedge.inputs.traced import TracedProfile
from simedge.section.outline import SIDES, Outline, build_outline
from simedge.section.tractions import FaceTraction, TipTraction, Tractions, tip_resultant
from simedge.strength.closed_form.tapered_cantilever import saint_venant_compliance
from simedge.strength.closed_form.wedge_constants import plane_strain_modulus_mpa
from simedge.strength.closed_form.wedge_stress import (
    apex_force_stress,
    apex_moment_stress,
    face_pressure_stress,
    face_shear_stress,
)
from simedge.strength.closed_form.wedge_yield import von_mises_plane_strain, yield_depth_mm
from simedge.strength.local_wedge import (
    local_wedges,
    read_local_wedges,
    wedge_movement_mm,
    wedge_peak_mpa,
    wedge_yield_depth_mm,
)
from simedge.strength.zones import PatchZone, patch_zone, trusted_depth_mm
from simedge.studies.sideways_push import sideways_push

Edge = Callable[..., Outline]

HALF = radians(15)
RATIO = 0.3


def plain(edge: Edge, **changes: object) -> Outline:
    """Give a wedge of 15 degrees per side, held 12 mm behind a tip of 1.5 µm."""
    return edge((), **{"dps": 15.0, **changes})


def tip_load(axial: float, lateral: float) -> Tractions:
    return Tractions(name="", tip=(TipTraction(axial_n_per_mm=axial, lateral_n_per_mm=lateral),))


def polar(x: np.ndarray, y: np.ndarray, apex_x: float) -> tuple[np.ndarray, np.ndarray]:
    return np.hypot(x - apex_x, y), np.clip(np.arctan2(y, x - apex_x), -HALF, HALF)


# ---------------------------------------------------------------- wedges


def test_wedge_of_a_rounded_edge_meets_in_front_of_it(edge: Edge) -> None:
    (wedge,) = local_wedges(plain(edge))
    # the faces meet R / sin a - R in front of the foremost point
    assert wedge.apex_mm == pytest.approx((0.0015 * (1 - 1 / sin(HALF)), 0.0), abs=1e-15)
    assert (wedge.half_angle_rad, wedge.tilt_rad) == pytest.approx((HALF, 0.0))
    assert (wedge.begin_mm, wedge.end_mm) == pytest.approx((0.0015 * (1 - sin(HALF)), 12.0))


def test_wedge_of_a_land_meets_in_front_of_it(edge: Edge) -> None:
    (wedge,) = local_wedges(plain(edge, land_um=8.0))
    assert wedge.apex_mm == pytest.approx((-0.004 / tan(HALF), 0.0), abs=1e-15)


def test_wedge_of_a_chisel_is_turned_to_its_bisector(edge: Edge) -> None:
    first, second = local_wedges(edge(((0.0, 25.0, 2.0),), land_um=8.0))
    assert first.tilt_rad == pytest.approx(-radians(12.5))
    assert first.half_angle_rad == pytest.approx(radians(12.5))
    # the straight face lies at y = 0.004; the other comes from (0, -0.004) at 25 degrees
    assert first.apex_mm == pytest.approx((-0.008 / tan(radians(25)), 0.004), abs=1e-15)
    assert first.end_mm == second.begin_mm == 2.0
    along, across = first.own_axes(np.array([cos(radians(12.5))]), np.array([-sin(radians(12.5))]))
    assert (along[0], across[0]) == pytest.approx((1.0, 0.0), abs=1e-15)


def test_each_bevel_has_its_own_wedge(edge: Edge) -> None:
    wedges = local_wedges(edge())
    assert [wedge.end_mm for wedge in wedges] == [0.08, pytest.approx(1.12), 12.0]
    assert np.degrees([w.half_angle_rad for w in wedges[:2]]) == pytest.approx([15.0, 11.0])
    for wedge, run in zip(wedges, edge().left, strict=True):
        # the face, drawn back, goes through the wedge's apex
        x, y = run.end_mm
        assert y / (x - wedge.apex_mm[0]) == pytest.approx(tan(run.curve.chord_angle_rad))


# ---------------------------------------------------------------- stress


@pytest.mark.parametrize(("axial", "lateral"), [(1.0, 0.0), (0.0, 1.0), (3.0, -2.0)])
@pytest.mark.parametrize("tip", ["rounded", "land"])
def test_tip_load_on_a_plain_wedge(tip: str, axial: float, lateral: float, edge: Edge) -> None:
    outline = plain(edge, **({"land_um": 8.0} if tip == "land" else {}))
    load = tip_load(axial, lateral)
    reading = read_local_wedges(outline, load, RATIO, trusted_depth_mm(outline))
    (wedge,) = local_wedges(outline)
    radius, theta = polar(reading.x_mm, reading.y_mm, wedge.apex_mm[0])
    # the load's line of action lies behind the virtual apex: force there, and its moment
    moment = tip_resultant(load.tip[0], outline)[2] - wedge.apex_mm[0] * lateral
    expected = von_mises_plane_strain(
        apex_force_stress(
            radius, theta, half_angle_rad=HALF, axial_n_per_mm=axial, lateral_n_per_mm=lateral
        )
        + apex_moment_stress(radius, theta, half_angle_rad=HALF, moment_n=moment),
        RATIO,
    )
    assert reading.von_mises_mpa == pytest.approx(expected, rel=1e-9)
    # face to face, from where the faces begin to the trusted depth
    assert reading.y_mm[:, 0] == pytest.approx(outline.face_y_mm("right", reading.x_mm[:, 0]))
    assert reading.y_mm[:, -1] == pytest.approx(outline.face_y_mm("left", reading.x_mm[:, -1]))
    assert reading.x_mm[-1, 0] == pytest.approx(trusted_depth_mm(outline))


@pytest.mark.parametrize("side", SIDES)
def test_a_whole_pressed_face_of_a_plain_wedge(side: str, edge: Edge) -> None:
    # On a land, so that the stretch begins 0.004 / tan a behind the virtual apex: the field of a
    # whole face, less the force and the moment of the stretch that carries nothing.
    outline = plain(edge, land_um=8.0)
    part = FaceTraction(side=side, from_mm=0.0, to_mm=11.99, pressure_mpa=10.0, friction=0.3)  # type: ignore[arg-type]
    reading = read_local_wedges(
        outline, Tractions(name="", faces=(part,)), RATIO, trusted_depth_mm(outline)
    )
    apex_x = -0.004 / tan(HALF)
    radius, theta = polar(reading.x_mm, reading.y_mm, apex_x)
    missing = -apex_x / cos(HALF)  # its length along the face
    force = -missing * np.array(part.traction(HALF))
    moment = (1 if side == "left" else -1) * 10.0 * missing**2 / 2
    face = {"half_angle_rad": HALF, "loaded_face": side}
    expected = von_mises_plane_strain(
        face_pressure_stress(radius, theta, pressure_mpa=10.0, **face)  # type: ignore[arg-type]
        + face_shear_stress(radius, theta, shear_mpa=3.0, **face)  # type: ignore[arg-type]
        + apex_force_stress(
            radius,
            theta,
            half_angle_rad=HALF,
            axial_n_per_mm=force[0],
            lateral_n_per_mm=force[1],
        )
        + apex_moment_stress(radius, theta, half_angle_rad=HALF, moment_n=moment),
        RATIO,
    )
    assert reading.von_mises_mpa == pytest.approx(expected, rel=1e-9)


def test_behind_a_short_stretch_only_its_force_and_moment_are_felt(edge: Edge) -> None:
    outline = plain(edge, land_um=8.0)
    part = FaceTraction(side="left", from_mm=1.0, to_mm=2.0, pressure_mpa=10.0, friction=0.0)
    load = Tractions(name="", faces=(part,))
    reading = read_local_wedges(outline, load, RATIO, trusted_depth_mm(outline))
    apex_x = -0.004 / tan(HALF)
    near, far = ((depth - apex_x) / cos(HALF) for depth in (1.0, 2.0))
    pressure = 10.0 * (far - near)
    radius, theta = polar(reading.x_mm, reading.y_mm, apex_x)
    expected = von_mises_plane_strain(
        apex_force_stress(
            radius,
            theta,
            half_angle_rad=HALF,
            axial_n_per_mm=pressure * sin(HALF),
            lateral_n_per_mm=-pressure * cos(HALF),
        )
        + apex_moment_stress(
            radius, theta, half_angle_rad=HALF, moment_n=-10.0 * (far**2 - near**2) / 2
        ),
        RATIO,
    )
    behind, ahead = reading.x_mm[:, 0] > 2.0, reading.x_mm[:, 0] < 1.0
    assert reading.von_mises_mpa[behind] == pytest.approx(expected[behind], rel=1e-9)
    assert reading.von_mises_mpa[ahead].max() <= 1e-9 * expected.max()


@pytest.mark.parametrize("load", ["tip", "face"])
def test_a_sharp_wedge_is_read_from_behind_its_apex(load: str, edge: Edge) -> None:
    outline = plain(edge, sharp=True)
    part = FaceTraction(side="left", from_mm=0.0, to_mm=1.0, pressure_mpa=10.0, friction=0.3)
    acting = tip_load(1.0, 1.0) if load == "tip" else Tractions(name="", faces=(part,))
    reading = read_local_wedges(outline, acting, RATIO, trusted_depth_mm(outline))
    assert np.isfinite(reading.von_mises_mpa).all()
    assert reading.x_mm.min() > 0


def test_parallel_faces_bend_as_a_beam(edge: Edge) -> None:
    # A parallel body 2 mm thick: stress at the face is 6 M / t^2, times k_v in plane strain.
    outline = edge(((45.0, 45.0, 0.99),), land_um=20.0, spine_thickness_mm=2.0, clamp_mm=25.0)
    assert outline.left[-1].curve.chord_angle_rad == pytest.approx(0.0, abs=1e-9)
    reading = read_local_wedges(outline, tip_load(0.0, 1.0), RATIO, trusted_depth_mm(outline))
    row = int(np.argmin(np.abs(reading.x_mm[:, 0] - 20.0)))
    depth = reading.x_mm[row, 0]
    expected = np.sqrt(1 - RATIO + RATIO**2) * 6 * depth / 2.0**2
    # the wedge that stands for it has widened by 2e-4 there; stress follows with its third power
    assert reading.von_mises_mpa[row, [0, -1]] == pytest.approx([expected] * 2, rel=1e-3)


# ---------------------------------------------------------------- answers


def test_peak_leaves_the_zone_out(edge: Edge) -> None:
    outline = plain(edge)
    load = tip_load(1.0, 0.0)
    reading = read_local_wedges(outline, load, RATIO, trusted_depth_mm(outline))
    zone = patch_zone(load, outline)
    inside = wedge_peak_mpa(reading, PatchZone(tip=None, discs=()))
    outside = wedge_peak_mpa(reading, zone)
    assert inside is not None
    assert outside is not None
    assert inside[0] == reading.von_mises_mpa.max() > outside[0]
    kept = zone.distance_mm(reading.x_mm, reading.y_mm) >= 0
    assert outside[0] == pytest.approx(reading.von_mises_mpa[kept].max())
    everywhere = PatchZone(tip=None, discs=((0.0, 0.0, 100.0),))
    assert wedge_peak_mpa(reading, everywhere) is None


@pytest.mark.parametrize(("axial", "lateral"), [(200.0, 0.0), (0.0, 20.0), (100.0, 10.0)])
def test_yield_depth_is_the_root_of_the_wedges_own_field(
    axial: float, lateral: float, edge: Edge
) -> None:
    # A tip of 0.02 µm: force at the apex, and a moment that is felt no deeper than 1e-4 of it.
    outline = plain(edge, radius_um=0.02)
    reading = read_local_wedges(outline, tip_load(axial, lateral), RATIO, trusted_depth_mm(outline))
    theta = np.linspace(-HALF, HALF, 9)  # among the places that are read: the axis, both faces
    radius = yield_depth_mm(
        theta,
        half_angle_rad=HALF,
        axial_n_per_mm=axial,
        lateral_n_per_mm=lateral,
        yield_strength_mpa=2000.0,
        poissons_ratio=RATIO,
    )
    found = wedge_yield_depth_mm(reading, 2000.0)
    # between depths 9 % apart 1 / r is taken as straight: (0.09 / 2)^2 / 2 = 1e-3 at most
    assert found == pytest.approx((radius * np.cos(theta)).max(), rel=2e-3)
    assert wedge_yield_depth_mm(reading, 1e12) is None


def test_tip_movement_of_a_truncated_wedge(edge: Edge) -> None:
    # A load across a land moves it by what the same energy gives in closed form.
    outline = edge((), dps=5.0, land_um=2000.0, spine_thickness_mm=None, clamp_mm=20.0)
    elasticity = Elasticity(youngs_modulus_mpa=207e3, poissons_ratio=RATIO)
    axial, lateral = wedge_movement_mm(outline, tip_load(0.0, 7.0), elasticity)
    ahead = 1.0 / tan(radians(5))
    compliance = saint_venant_compliance(
        (20 + ahead) / ahead, half_angle_rad=radians(5), poissons_ratio=RATIO
    )
    modulus = plane_strain_modulus_mpa(207e3, RATIO)
    assert lateral == pytest.approx(7.0 * float(compliance) / modulus, rel=1e-9)
    assert axial == pytest.approx(0.0, abs=1e-15)


def test_movement_is_linear_and_mirrored(edge: Edge) -> None:
    elasticity = Elasticity(youngs_modulus_mpa=207e3, poissons_ratio=RATIO)
    outline = edge()
    left, right = (
        wedge_movement_mm(
            outline,
            Tractions(
                name="",
                faces=(
                    FaceTraction(
                        side=side, from_mm=0.02, to_mm=1.5, pressure_mpa=40.0, friction=0.3
                    ),
                ),
            ),
            elasticity,
        )
        for side in SIDES
    )
    assert left[1] < 0 < right[1]  # pressed on the left, the apex goes to the right
    assert left == pytest.approx((right[0], -right[1]), rel=1e-9)
    one, three = (
        wedge_movement_mm(outline, tip_load(times, times), elasticity) for times in (1.0, 3.0)
    )
    assert three == pytest.approx((3 * one[0], 3 * one[1]), rel=1e-12)


@pytest.mark.parametrize("left_dps", [11.0, 0.0])
def test_a_load_moves_a_place_as_it_would_move_from_there(left_dps: float, edge: Edge) -> None:
    # Maxwell 1864: what a lateral load on the tip moves at a place, that load there moves at the
    # tip; pressed and pulled on both faces alike its line of action passes through the place
    elasticity = Elasticity(youngs_modulus_mpa=207e3, poissons_ratio=RATIO)
    outline = edge(((left_dps, 11.0, 1.04),), left_fraction=left_dps / 22.0)
    place = (4.0, float(0.5 * sum(outline.face_y_mm(side, 4.0) for side in SIDES)))
    there = wedge_movement_mm(outline, tip_load(0.0, -1.0), elasticity, place)
    assert there[1] < 0.0
    back = wedge_movement_mm(outline, sideways_push(outline, place[0]), elasticity)
    # the push is spread over half a thickness, a twentieth of the way to the clamp, and shears
    # the section in front of its middle too: found 4 parts in 10,000
    assert there[1] == pytest.approx(back[1], rel=1e-3)


def test_a_place_moves_less_the_nearer_it_is_to_the_clamp(edge: Edge) -> None:
    elasticity = Elasticity(youngs_modulus_mpa=207e3, poissons_ratio=RATIO)
    moved = [
        wedge_movement_mm(edge(), tip_load(0.0, 1.0), elasticity, (x, 0.0))[1]
        for x in (0.0, 0.05, 1.0, 5.0, 11.0)
    ]
    assert moved == sorted(moved, reverse=True)
    assert moved[-1] > 0.0
    whole = wedge_movement_mm(edge(), tip_load(0.0, 1.0), elasticity)
    assert moved[0] == whole[1]


def test_a_bent_section_turns_about_its_middle(edge: Edge) -> None:
    # a section that turns by t (x to y) takes places above its middle back by t times their height
    elasticity = Elasticity(youngs_modulus_mpa=207e3, poissons_ratio=RATIO)

    def moved(x: float, y: float) -> tuple[float, float]:
        return wedge_movement_mm(edge(), tip_load(0.0, 1.0), elasticity, (x, y))

    turned = (moved(4.01, 0.0)[1] - moved(3.99, 0.0)[1]) / 0.02
    above, below = moved(4.0, 0.2), moved(4.0, -0.2)
    assert turned < 0.0
    # shear slopes the middle line too, without turning the section: a per cent here
    assert above[0] - below[0] == pytest.approx(-turned * 0.4, rel=0.02)
    assert above[1] == pytest.approx(below[1], rel=1e-12)


@pytest.mark.parametrize(
    "grind",
    [
        PrimaryGrind(kind="hollow", wheel_radius_mm=160.0),
        PrimaryGrind(kind="convex", bulge_mm=0.2),
    ],
    ids=lambda grind: grind.kind,
)
def test_wedges_of_arcs_keep_the_thickness(grind: PrimaryGrind) -> None:
    profile = Profile(
        apex=Apex(radius_um=1.5),
        bevels=(Bevel(dps=12.0, ends_at_thickness_mm=0.4),),
        height_mm=25.0,
        spine_thickness_mm=3.0,
        primary_grind=grind,
    )
    outline = build_outline(profile.apex, profile.faces)
    wedges = local_wedges(outline)
    assert wedges[-1].end_mm == outline.depth_mm
    for before, after in pairwise(wedges):
        assert before.end_mm == after.begin_mm
    for wedge in wedges:
        x = np.linspace(wedge.begin_mm, wedge.end_mm, 101)
        thickness = 2.0 * np.abs(x - wedge.apex_mm[0]) * tan(wedge.half_angle_rad)
        # arcs leave their chords by a thousandth of the thickness where a piece begins, two
        # thirds of that in the mean
        assert thickness.mean() == pytest.approx(outline.thickness_mm(x).mean(), rel=1e-3)


def test_a_wedge_that_narrows_meets_behind() -> None:
    # from 1.6 mm at 6 mm to 0.6 mm at 12 mm: nothing is left after 6 x 1.6 = 9.6 mm, at 15.6
    points = ((12.0, 0.3), (6.0, 0.8), (0.0, 0.0), (6.0, -0.8), (12.0, -0.3))
    traced = TracedProfile(points_mm=points, given_apex=Apex(sharp=True))
    front, behind = local_wedges(build_outline(traced.apex, traced.faces))
    assert (front.narrows, behind.narrows) == (False, True)
    assert behind.apex_mm == pytest.approx((15.6, 0.0))
    assert tan(behind.half_angle_rad) == pytest.approx(0.5 / 6.0)
    assert behind.face_angle_rad("left") == pytest.approx(-behind.half_angle_rad)
    # at the left face theta is that of the right face of a wedge that is turned by half a turn
    radius, theta = behind.polar(np.array([12.0]), np.array([0.3]))
    assert (radius[0], theta[0]) == pytest.approx((np.hypot(3.6, 0.3), -behind.half_angle_rad))
