"""Tractions on tip and faces: their spread, their direction, their resultants by quadrature."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin

import numpy as np
import pytest
from scipy.integrate import quad

from simedge.section.outline import SIDES, Outline
from simedge.section.tractions import (
    FaceTraction,
    TipTraction,
    Tractions,
    face_resultant,
    resultant_up_to,
    tip_resultant,
)

Edge = Callable[..., Outline]

UNEVEN = {"bevels": ((20.0, 12.0, 0.05), (10.0, 12.0, 1.0)), "left_fraction": 0.3}


def press(
    side: str, begin: float = 0.02, end: float = 1.5, pressure: float = 40.0, friction: float = 0.3
) -> FaceTraction:
    return FaceTraction(
        side=side,  # type: ignore[arg-type]
        from_mm=begin,
        to_mm=end,
        pressure_mpa=pressure,
        friction=friction,
    )


@pytest.mark.parametrize("spread", ["smooth", "uniform"])
def test_the_mean_of_a_spread_is_one(spread: str) -> None:
    part = TipTraction(axial_n_per_mm=1.0, lateral_n_per_mm=0.0, spread=spread)  # type: ignore[arg-type]
    assert quad(part.weight, 0.0, 1.0)[0] == pytest.approx(1.0, rel=1e-12)


def test_the_smooth_spread_falls_as_cos_squared_to_both_ends() -> None:
    part = TipTraction(axial_n_per_mm=1.0, lateral_n_per_mm=0.0)
    fraction = np.linspace(0.0, 1.0, 21)
    # measured from the middle, where it is largest
    expected = 2 * np.cos(np.pi * (fraction - 0.5)) ** 2
    assert part.weight(fraction) == pytest.approx(expected, abs=1e-15)
    assert part.weight([0.0, 0.5, 1.0]) == pytest.approx([0.0, 2.0, 0.0], abs=1e-15)


def test_pressure_and_friction_by_hand() -> None:
    # At 45 degrees and 10 MPa: into the left face is (+, -) 10 / sqrt 2, towards the spine along
    # it (+, +); half of that is the friction.
    component = 10 / 2**0.5
    left, right = (
        press("left", pressure=10.0, friction=0.5),
        press("right", pressure=10.0, friction=0.5),
    )
    assert left.traction(radians(45)) == pytest.approx((1.5 * component, -0.5 * component))
    assert right.traction(radians(45)) == pytest.approx((1.5 * component, 0.5 * component))
    # on a straight face pressure is all lateral, friction all axial
    assert press("left", pressure=10.0, friction=0.2).traction(0.0) == pytest.approx((2.0, -10.0))


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("begin", [0.02, 0.05, 0.3])
def test_face_resultant_is_the_integral_of_its_traction(
    side: str, begin: float, edge: Edge
) -> None:
    outline = edge(**UNEVEN)
    part = press(side, begin=begin)
    runs = outline.face(side)  # type: ignore[arg-type]
    knots = [run.end_mm[0] for run in runs]

    def integral(weight: Callable[[float, float, tuple[float, float]], float], to: float) -> float:
        """Integrate over the arc length ds = dx / cos of every run."""
        total = 0.0
        for run in runs:
            low, high = max(begin, run.begin_mm[0]), min(to, run.end_mm[0], part.to_mm)
            if high > low:
                force = part.traction(run.curve.chord_angle_rad)
                total += quad(
                    lambda x, f=force: weight(x, float(outline.face_y_mm(side, x)), f),  # type: ignore[arg-type,misc]
                    low,
                    high,
                )[0] / cos(run.curve.chord_angle_rad)
        return total

    depths = np.array([0.03, *knots[:2], 0.7, 1.5, 5.0])
    found = face_resultant(part, outline, depths)
    for index, depth in enumerate(depths):
        expected = (
            integral(lambda x, y, f: f[0], depth),
            integral(lambda x, y, f: f[1], depth),
            integral(lambda x, y, f: x * f[1] - y * f[0], depth),
        )
        got = (found.axial_n_per_mm[index], found.lateral_n_per_mm[index], found.moment_n[index])
        assert got == pytest.approx(expected, rel=1e-12, abs=1e-15)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("span", [(0.0, 1.0), (0.05, 0.6)])
def test_face_resultant_on_arcs_is_the_integral_of_its_traction(
    side: str, span: tuple[float, float], grind: str, ground: Callable[..., Outline]
) -> None:
    outline = ground(grind)
    begins = outline.face_begins_mm(side)  # type: ignore[arg-type]
    low, high = (begins + share * (outline.depth_mm - begins) for share in span)
    part = press(side, begin=low, end=high)
    outward = 1.0 if side == "left" else -1.0
    places, weights = np.polynomial.legendre.leggauss(40)
    depths = np.array([begins + share * (outline.depth_mm - begins) for share in (0.1, 0.5, 1.0)])
    expected = np.zeros((3, depths.size))
    for run in outline.face(side):  # type: ignore[arg-type]
        for column, depth in enumerate(depths):
            begin, end = max(low, run.begin_mm[0]), min(high, depth, run.end_mm[0])
            if end <= begin:
                continue
            # along the arc by its length, which is as even where it stands upright
            if run.is_straight:
                x = begin + (end - begin) * 0.5 * (places + 1.0)
                y, angle = run.y_mm(x), run.curve.chord_angle_rad
                length = (end - begin) / cos(angle) * weights / 2
            else:
                first, last = run.share_at([begin, end])
                x, y = run.point(first + (last - first) * 0.5 * (places + 1.0))
                angle = np.arctan2(x - run.centre_mm[0], outward * (y - run.centre_mm[1]))
                angle = -angle if run.curve.bulge_mm > 0 else np.pi - angle
                length = (last - first) * run.length_mm * weights / 2
            force_x, force_y = part.traction(angle)
            expected[:, column] += [
                np.sum(force_x * length),
                np.sum(force_y * length),
                np.sum((x * force_y - y * force_x) * length),
            ]
    found = face_resultant(part, outline, depths)
    got = np.stack([found.axial_n_per_mm, found.lateral_n_per_mm, found.moment_n])
    # shares of a wide arc come from differences of rounded places
    size = part.pressure_mpa * outline.depth_mm
    assert got[:2] == pytest.approx(expected[:2], abs=1e-9 * size)
    assert got[2] == pytest.approx(expected[2], abs=1e-9 * size * outline.depth_mm)


@pytest.mark.parametrize("spread", ["smooth", "uniform"])
@pytest.mark.parametrize("shape", [{}, UNEVEN, {"land_um": 8.0}, {"bevels": ((0.0, 25.0, 2.0),)}])
def test_tip_resultant_is_the_integral_of_its_spread(
    spread: str, shape: dict[str, object], edge: Edge
) -> None:
    outline = edge(**shape)
    part = TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=-2.0, spread=spread)  # type: ignore[arg-type]

    def turning(fraction: float) -> float:
        x, y = outline.tip.point(fraction)
        return float(part.weight(fraction) * (-2.0 * x - 3.0 * y))

    axial, lateral, moment = tip_resultant(part, outline)
    assert (axial, lateral) == (3.0, -2.0)
    # the midpoint rule of 256 points: exact for cos^2 on an arc but for 1e-8, (1/256)^2 for uniform
    assert moment == pytest.approx(quad(turning, 0.0, 1.0)[0], rel=2e-5, abs=1e-18)


def test_line_of_action_of_a_lateral_tip_load_by_hand(edge: Edge) -> None:
    # Spread evenly over the arc of 150 degrees its centroid lies sin(75) / 75 deg of R before the
    # circle's centre.
    outline = edge()
    part = TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=1.0, spread="uniform")
    half = radians(75)
    assert tip_resultant(part, outline)[2] == pytest.approx(
        0.0015 * (1 - sin(half) / half), rel=2e-5
    )


def test_moment_about_another_point_by_hand(edge: Edge) -> None:
    outline = edge(land_um=8.0)
    tip = TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=2.0)
    found = resultant_up_to(Tractions(name="", tip=(tip,)), outline, [1.0, 2.0])
    # 2 N/mm towards +y act at x = 0: about (5, 1) that turns by -5 x 2, and the axial by +1 x 3
    assert found.moment_about_n(5.0, 1.0) == pytest.approx([-7.0, -7.0], rel=1e-12)


def test_all_parts_add_up_and_the_tip_counts_everywhere(edge: Edge) -> None:
    outline = edge(**UNEVEN)
    tip = TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=1.0)
    left, right = press("left"), press("right", begin=0.1, end=0.6, pressure=25.0)
    depths = np.array([0.001, 0.05, 0.4, 3.0])
    both = resultant_up_to(Tractions(name="", tip=(tip, tip), faces=(left, right)), outline, depths)
    one, other = face_resultant(left, outline, depths), face_resultant(right, outline, depths)
    assert both.axial_n_per_mm == pytest.approx(6.0 + one.axial_n_per_mm + other.axial_n_per_mm)
    assert both.lateral_n_per_mm == pytest.approx(
        2.0 + one.lateral_n_per_mm + other.lateral_n_per_mm
    )
    assert both.axial_n_per_mm[0] == 6.0


def test_nothing_acts_where_nothing_is_put(edge: Edge) -> None:
    found = resultant_up_to(Tractions(name=""), edge(), [0.1, 1.0])
    for part in (found.axial_n_per_mm, found.lateral_n_per_mm, found.moment_n):
        assert part.tolist() == [0.0, 0.0]


def test_straight_loads_are_told() -> None:
    axial = TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=0.0)
    lateral = TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=1.0)
    both = (press("left"), press("right"))
    assert Tractions(name="", tip=(axial,), faces=both).is_straight
    assert Tractions(name="", tip=(axial,)).is_straight
    assert not Tractions(name="", tip=(lateral,)).is_straight
    assert not Tractions(name="", faces=both[:1]).is_straight
    assert not Tractions(name="", faces=(press("left"), press("right", friction=0.2))).is_straight
    total = Tractions(name="", tip=(axial, lateral, axial))
    assert (total.tip_axial_n_per_mm, total.tip_lateral_n_per_mm) == (6.0, 1.0)
