"""The zone where a load sits, and the depth beyond which the clamp is felt: distances by hand."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, radians, sin
from typing import Any

import numpy as np
import pytest

from simedge.section.outline import SIDES, Outline
from simedge.section.tractions import FaceTraction, TipTraction, Tractions
from simedge.strength.zones import (
    PatchZone,
    distance_from_tip_mm,
    edge_places_mm,
    patch_zone,
    trusted_depth_mm,
)

Edge = Callable[..., Outline]

RADIUS_MM = 0.1
TIP = TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=1.0)


def press(begin: float, end: float, friction: float = 0.3, side: str = "left") -> FaceTraction:
    return FaceTraction(
        side=side,  # type: ignore[arg-type]
        from_mm=begin,
        to_mm=end,
        pressure_mpa=40.0,
        friction=friction,
    )


def blunt(edge: Edge) -> Outline:
    """Give a wedge of 15 degrees per side with a tip of 0.1 mm radius."""
    return edge((), radius_um=100.0, dps=15.0)


def test_distance_from_a_rounded_tip_by_hand(edge: Edge) -> None:
    tip = blunt(edge).tip
    corner = RADIUS_MM * (1 - sin(radians(15))), RADIUS_MM * cos(radians(15))
    for place, expected in [
        ((0.0, 0.0), 0.0),
        ((-0.05, 0.0), 0.05),
        ((0.03, 0.0), 0.03),
        # straight above the centre, 90 degrees from the axis, while the arc ends at 105
        ((0.1, 0.2), hypot(0.1 - corner[0], 0.2 - corner[1])),
        ((0.5, 0.0), hypot(0.5 - corner[0], corner[1])),
        ((0.5, corner[1]), 0.5 - corner[0]),
        ((corner[0], -corner[1]), 0.0),
    ]:
        found = distance_from_tip_mm(tip, *np.array(place)[:, None])
        assert found == pytest.approx([expected], abs=1e-15)


def test_distance_from_a_land_by_hand(edge: Edge) -> None:
    tip = edge(land_um=8.0).tip
    x = np.array([0.0, 0.003, -0.002, 0.003, 0.003])
    y = np.array([0.001, 0.004, 0.0, 0.008, -0.008])
    assert distance_from_tip_mm(tip, x, y) == pytest.approx(
        [0.0, 0.003, 0.002, 0.005, 0.005], abs=1e-15
    )


def test_zone_of_a_loaded_tip_reaches_half_its_width(edge: Edge) -> None:
    outline = blunt(edge)
    zone = patch_zone(Tractions(name="", tip=(TIP,)), outline)
    assert (zone.tip, zone.discs, zone.is_empty) == (outline.tip, (), False)
    reach = RADIUS_MM * cos(radians(15))
    assert zone.distance_mm([0.0, 0.02], [0.0, 0.0]) == pytest.approx([-reach, 0.02 - reach])


def test_discs_about_the_ends_of_a_stretch_with_friction(edge: Edge) -> None:
    outline = edge()
    zone = patch_zone(Tractions(name="", faces=(press(0.02, 1.5),)), outline)
    expected = [
        (x, float(outline.face_y_mm("left", x)), 0.1 * float(outline.thickness_mm(x)))
        for x in (0.02, 1.5)
    ]
    assert [each for disc in zone.discs for each in disc] == pytest.approx(
        [each for disc in expected for each in disc]
    )
    assert zone.tip is None
    x, y, radius = zone.discs[1]
    assert zone.distance_mm(x, y) == pytest.approx(-radius)
    assert zone.distance_mm(x, y - 0.3) == pytest.approx(0.3 - radius)
    # on the right the disc sits on the right face
    other = patch_zone(Tractions(name="", faces=(press(0.02, 1.5, side="right"),)), outline)
    assert [disc[1] for disc in other.discs] == pytest.approx([-disc[1] for disc in expected])


def test_nothing_is_set_apart_without_friction_or_tip_load(edge: Edge) -> None:
    outline = edge()
    nothing = TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=0.0)
    for load in (
        Tractions(name=""),
        Tractions(name="", tip=(nothing,)),
        Tractions(name="", faces=(press(0.02, 1.5, friction=0.0),)),
    ):
        zone = patch_zone(load, outline)
        assert zone.is_empty
        assert zone.distance_mm([0.0, 1.0], 0.0).tolist() == [np.inf, np.inf]
        assert edge_places_mm(zone, outline, 10.0).shape == (2, 0)


def test_parts_of_a_zone_are_joined(edge: Edge) -> None:
    outline = edge()
    both = patch_zone(Tractions(name="", tip=(TIP,), faces=(press(0.5, 1.5),)), outline)
    tip = PatchZone(tip=both.tip, discs=())
    discs = PatchZone(tip=None, discs=both.discs)
    x, y = np.meshgrid(np.linspace(0, 2, 40), np.linspace(-0.2, 0.2, 9))
    assert np.array_equal(
        both.distance_mm(x, y), np.minimum(tip.distance_mm(x, y), discs.distance_mm(x, y))
    )


SHAPES: dict[str, dict[str, Any]] = {
    "rope knife": {},
    "blunt": {"bevels": (), "radius_um": 100.0, "dps": 15.0},
    "chisel": {"bevels": ((0.0, 25.0, 2.0),), "radius_um": 5.0},
    "land": {"land_um": 8.0},
}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("faces", [(), (press(0.05, 1.5), press(0.3, 1.0, side="right"))])
def test_edge_places_lie_on_the_edge_and_in_the_section(
    name: str, faces: tuple[FaceTraction, ...], edge: Edge
) -> None:
    outline = edge(**SHAPES[name])
    zone = patch_zone(Tractions(name="", tip=(TIP,), faces=faces), outline)
    x, y = edge_places_mm(zone, outline, trusted_depth_mm(outline))
    reach = max([0.5 * outline.tip.width_mm, *(disc[2] for disc in zone.discs)])
    assert np.abs(zone.distance_mm(x, y)).max() <= 1e-9 * reach
    slack = 1e-12 * outline.depth_mm
    assert (y <= outline.face_y_mm("left", x) + slack).all()
    assert (y >= outline.face_y_mm("right", x) - slack).all()
    # where it meets a face it is found exactly: nowhere are peaks higher
    for side in SIDES:
        run = outline.face(side)[0]
        meets = [
            run.begin_mm[0]
            + 0.5 * outline.tip.width_mm * cos(float(run.angle_rad(run.begin_mm[0])))
        ]
        for part in (part for part in faces if part.side == side):
            end = next(r for r in outline.face(side) if part.to_mm < r.end_mm[0])
            radius = 0.1 * float(outline.thickness_mm(part.to_mm))
            meets = [
                part.to_mm + sign * radius * cos(float(end.angle_rad(part.to_mm)))
                for sign in (-1, 1)
            ]
        for depth in meets:
            miss = np.hypot(x - depth, y - outline.face_y_mm(side, depth))
            assert miss.min() <= 1e-9 * reach
    # and between them no gap wider than a tenth of the zone
    tip_only = PatchZone(tip=zone.tip, discs=())
    near = np.abs(tip_only.distance_mm(x, y)) <= 1e-9 * reach
    order = np.argsort(y[near])
    steps = np.hypot(np.diff(x[near][order]), np.diff(y[near][order]))
    assert steps.max() <= 0.1 * outline.tip.width_mm


def test_no_edge_is_read_behind_the_trusted_depth(edge: Edge) -> None:
    outline = edge()
    trusted = trusted_depth_mm(outline)
    zone = patch_zone(Tractions(name="", faces=(press(0.5, 11.9),)), outline)
    x, _ = edge_places_mm(zone, outline, trusted)
    assert x.size > 0
    assert x.max() < 0.7  # only about the disc at 0.5 mm


def test_one_thickness_before_the_clamp_is_left_out(edge: Edge) -> None:
    outline = edge()
    thickness = float(outline.thickness_mm(12.0))
    assert trusted_depth_mm(outline) == pytest.approx(12.0 - thickness, rel=1e-15)
    # but half of a depth that is shorter than the section is thick there
    wide = edge((), dps=45.0, height_mm=20.0)
    assert float(wide.thickness_mm(12.0)) > 12.0
    assert trusted_depth_mm(wide) == 6.0
