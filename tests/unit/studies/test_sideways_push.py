"""The push at a depth: exactly a unit force across the blade, through its place."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from simedge.fem.elastic import displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.lookup import interpolate
from simedge.fem.nodal_forces import nodal_forces
from simedge.inputs.grinds import Bevel, PrimaryGrind
from simedge.inputs.profile import Profile
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import mesh_outline
from simedge.section.outline import SIDES, Outline, build_outline
from simedge.section.tractions import resultant_up_to
from simedge.studies.sideways_push import (
    apex_push,
    middle_mm,
    movements_mm,
    push_all,
    pushable_range_mm,
    sideways_push,
)

Knife = Callable[..., Profile]
STEEL = Elasticity(youngs_modulus_mpa=207e3, poissons_ratio=0.29)
GRINDS: dict[str, dict[str, object]] = {
    "flat": {},
    "one-sided": {
        "bevels": (Bevel(left_dps=0.0, right_dps=20.0, ends_at_thickness_mm=0.3),),
        "primary_grind": PrimaryGrind(left_fraction=0.0),
    },
    "hollow": {"primary_grind": PrimaryGrind(kind="hollow", wheel_radius_mm=200.0)},
    "convex bevel": {
        "bevels": (Bevel(dps=12.0, ends_at_thickness_mm=0.3, kind="convex", bulge_um=10.0),)
    },
}
every_grind = pytest.mark.parametrize("grind", GRINDS)
#: In the edge bevel, across its shoulder (0.71 mm), in the primary grind, and near the spine.
DEPTHS_MM = (0.3, 0.7, 5.0, 19.8)


def held(knife: Knife, grind: str, depth_mm: float = 20.0) -> Outline:
    profile = knife(**GRINDS[grind])
    return build_outline(profile.apex, profile.faces, depth_mm)


@every_grind
@pytest.mark.parametrize("depth_mm", DEPTHS_MM)
def test_resultant_is_one_newton_across_the_blade(grind: str, depth_mm: float, knife: Knife):
    outline = held(knife, grind)
    forces = resultant_up_to(sideways_push(outline, depth_mm), outline, outline.depth_mm)
    assert forces.axial_n_per_mm[0] == pytest.approx(0.0, abs=1e-12)
    assert forces.lateral_n_per_mm[0] == pytest.approx(-1.0, rel=1e-12)


@every_grind
@pytest.mark.parametrize("depth_mm", DEPTHS_MM)
def test_resultant_acts_at_its_depth(grind: str, depth_mm: float, knife: Knife):
    outline = held(knife, grind)
    push = sideways_push(outline, depth_mm)
    (moment,) = resultant_up_to(push, outline, outline.depth_mm).moment_about_n(depth_mm, 0.0)
    # even along straight faces; across a shoulder or along an arc a push of half a thickness in
    # length shifts by the slope's own change, a few per cent of its length
    length = push.faces[0].to_mm - push.faces[0].from_mm
    straight = grind == "flat" and depth_mm != 0.7
    assert abs(moment) < (1e-12 if straight else 0.05 * length)


@every_grind
def test_forces_on_the_mesh_are_one_newton_too(grind: str, knife: Knife):
    outline = held(knife, grind)
    pushes = [apex_push(outline), *(sideways_push(outline, depth) for depth in DEPTHS_MM)]
    displacement = push_all(outline, pushes, STEEL, 30.0)
    # what the clamp gives back is what was put on: reactions from the mesh's own balance
    assert (displacement.reaction_error < 1e-9).all()
    mesh = displacement.mesh
    for push in pushes[1:]:
        sums = nodal_forces(mesh, outline, push).sum(axis=1)
        assert sums == pytest.approx((0.0, -1.0), abs=1e-9)


def test_a_push_finds_room_beside_the_apex_and_the_clamp(knife: Knife):
    outline = held(knife, "flat")
    least, most = pushable_range_mm(outline)
    for depth in (least, most):
        for part in sideways_push(outline, depth).faces:
            assert outline.face_begins_mm(part.side) <= part.from_mm < part.to_mm
            assert part.to_mm <= outline.depth_mm


def test_middle_of_a_one_sided_section(knife: Knife):
    outline = held(knife, "one-sided")
    x, y = middle_mm(outline, 5.0)
    left, right = (float(outline.face_y_mm(side, 5.0)) for side in SIDES)
    assert (x, 2.0 * y) == (5.0, left + right)
    assert middle_mm(outline, 0.0) == (0.0, 0.0)


@every_grind
def test_work_of_each_push_on_the_other_is_the_same(grind: str, knife: Knife):
    # Betti 1872: f1 . u2 = f2 . u1, whatever the mesh
    outline = held(knife, grind, 10.0)
    pushes = [sideways_push(outline, depth) for depth in (0.4, 1.0, 4.0)]
    ends = {
        side: sorted(
            {x for push in pushes for part in push.faces for x in (part.from_mm, part.to_mm)}
        )
        for side in SIDES
    }
    mesh = mesh_outline(outline, ends, Resolution.for_accuracy(30.0))
    forces = [nodal_forces(mesh, outline, push) for push in pushes]
    moved = displace(hold_section(mesh, STEEL), forces).at_points_mm
    work = np.einsum("acp,bcp->ab", np.array(forces), moved)
    assert work == pytest.approx(work.T, rel=1e-9)


@every_grind
def test_movement_is_read_where_the_push_works(grind: str, knife: Knife):
    # the push at the apex moves the middle at 2 mm as the push at 2 mm moves the apex; the
    # middle of the section and the faces that are pushed differ by a few parts in 10,000
    outline = held(knife, grind, 10.0)
    pushes = [apex_push(outline), sideways_push(outline, 2.0)]
    displacement = push_all(outline, pushes, STEEL, 3.0)
    at_depth = np.array([middle_mm(outline, 2.0)]).T
    moved = displacement.at_points_mm[:, 1]
    there = -interpolate(displacement.mesh, moved[[0]], at_depth)[0, 0]
    back = -moved[1, displacement.mesh.foremost]
    assert there == pytest.approx(back, rel=2e-3)
    own = movements_mm(displacement, np.hstack([np.zeros((2, 1)), at_depth]))
    assert own[0] > there > own[1]
