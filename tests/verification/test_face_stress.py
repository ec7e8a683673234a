"""Face stress by formula against the exact fields of one wedge, and against finite elements.

The fields: Levy, Michell, Carothers, as `simedge.strength.closed_form.wedge_stress` has them with
their sources. On a blade of several bevels the formula (each bevel as an endless wedge about its
own apex, ours) is held against the pipeline's own field, and section forces by statics against
that field's integral across the section.
"""

from __future__ import annotations

from functools import cache
from math import radians

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from judged import plain, sections_of

from simedge import read_case, run_case
from simedge.fem.lookup import interpolate
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run
from simedge.section.outline import SIDES, Floats, Side
from simedge.section.tractions import FaceTraction, TipTraction, Tractions
from simedge.strength.along_faces import along_face_mpa
from simedge.strength.closed_form.wedge_faces import WedgeFaces
from simedge.strength.closed_form.wedge_stress import (
    apex_force_stress,
    apex_moment_stress,
    face_pressure_stress,
    face_shear_stress,
)
from simedge.strength.face_stress import face_stresses, without_friction
from simedge.strength.field_share import read_field_share
from simedge.strength.normal_sections import NormalSections, normal_sections
from simedge.strength.zones import trusted_depth_mm

#: Cases of the rack: even, one-sided, slim, stout, with two bevels and with three.
CASES = (
    "rope-knife-in-a-knot",
    "chisel-in-end-grain",
    "kitchen-knife-on-carrots",
    "leather-knife-along-a-rule",
    "carving-knife-in-pine",
)
half_angles = st.floats(radians(1.0), radians(40.0))


# ----------------------------------------------------------------- one wedge, its exact fields


@given(half=half_angles, axial=st.floats(-9, 9), lateral=st.floats(-9, 9), moment=st.floats(-9, 9))
def test_an_apex_load_on_the_faces(
    half: float, axial: float, lateral: float, moment: float
) -> None:
    wedges = WedgeFaces(half_angle_rad=np.array([half]))
    loads = (np.array([value]) for value in (axial, lateral, moment))
    even, odd, by_radius = wedges.of_apex_load(*loads)
    r = 0.7
    for sign in (1.0, -1.0):
        exact = apex_force_stress(
            r, sign * half, half_angle_rad=half, axial_n_per_mm=axial, lateral_n_per_mm=lateral
        ) + apex_moment_stress(r, sign * half, half_angle_rad=half, moment_n=moment)
        ours = (even + sign * odd) / r + sign * by_radius / r**2
        # each part is good to 1e-11 at the slimmest; they may cancel
        size = abs(even[0]) + abs(odd[0]) + abs(by_radius[0])
        assert ours[0] == pytest.approx(float(exact[0]), rel=1e-9, abs=1e-10 * size)


@given(half=half_angles)
def test_pressed_and_dragged_faces(half: float) -> None:
    wedges = WedgeFaces(half_angle_rad=np.array([half]))
    for ours, field, name in (
        (wedges.of_pressure(), face_pressure_stress, "pressure_mpa"),
        (wedges.of_drag(), face_shear_stress, "shear_mpa"),
    ):
        for found, sign in zip(ours, (1.0, -1.0), strict=True):
            exact = field(1.0, sign * half, half_angle_rad=half, **{name: 1.0})
            assert found[0] == pytest.approx(float(exact[0]), rel=1e-9)


def exact_faces(
    cut: NormalSections, half: float, lean: float, load: FaceTraction | TipTraction, to_mm: float
) -> dict[Side, Floats]:
    """Give the stress along both faces of a sharp wedge that leans, under one load."""
    radius = cut.thickness_mm / (2.0 * np.sin(half))
    found: dict[Side, Floats] = {}
    for side in SIDES:
        sign = 1.0 if side == "left" else -1.0
        if isinstance(load, TipTraction):
            p, q = load.axial_n_per_mm, load.lateral_n_per_mm
            along = p * np.cos(lean) + q * np.sin(lean)
            across = q * np.cos(lean) - p * np.sin(lean)
            found[side] = apex_force_stress(
                radius, np.full_like(radius, sign * half), half_angle_rad=half,
                axial_n_per_mm=along, lateral_n_per_mm=across,
            )[0]  # fmt: skip
            continue
        drag, out = load.friction * load.pressure_mpa, 1.0 if load.side == "left" else -1.0
        theta = np.full_like(radius, sign * half)
        under = (
            face_pressure_stress(radius, theta, half_angle_rad=half,
                                 pressure_mpa=load.pressure_mpa, loaded_face=load.side)
            + face_shear_stress(radius, theta, half_angle_rad=half, shear_mpa=drag,
                                loaded_face=load.side)
        )[0]  # fmt: skip
        s = to_mm / np.cos(half + out * lean)  # length of face that is pressed
        along = s * (load.pressure_mpa * np.sin(half) + drag * np.cos(half))
        across = out * s * (-load.pressure_mpa * np.cos(half) + drag * np.sin(half))
        behind = (
            apex_force_stress(radius, theta, half_angle_rad=half, axial_n_per_mm=along,
                              lateral_n_per_mm=across)
            + apex_moment_stress(radius, theta, half_angle_rad=half,
                                 moment_n=-out * load.pressure_mpa * s**2 / 2.0)
        )[0]  # fmt: skip
        found[side] = np.where(cut.face_x_mm[load.side] < to_mm, under, behind)
    return found


@settings(max_examples=20)
@given(
    left=st.floats(0.0, 30.0),
    right=st.floats(0.0, 30.0),
    side=st.sampled_from(SIDES),
    friction=st.floats(-0.2, 0.5),
    lateral=st.floats(-5.0, 5.0),
)
def test_on_one_wedge_it_is_the_exact_field(
    left: float, right: float, side: Side, friction: float, lateral: float
) -> None:
    assume(left + right > 6.0)
    wedge = plain((left, right), held_mm=8.0)
    half, lean = radians(0.5 * (left + right)), radians(0.5 * (left - right))
    pressed = FaceTraction(side=side, from_mm=0.0, to_mm=0.6, pressure_mpa=20.0, friction=friction)
    tip = TipTraction(axial_n_per_mm=1.0, lateral_n_per_mm=lateral)
    load = Tractions(name="both", tip=(tip,), faces=(pressed,))
    cut = sections_of(wedge, load)
    ours = face_stresses(cut, wedge, load)
    parts = [exact_faces(cut, half, lean, part, 0.6) for part in (tip, pressed)]
    # at the patch's very end the mean of both sides is given: one section is left out
    inside = np.abs(cut.face_x_mm[side] - 0.6) > 1e-6
    for face in SIDES:
        exact = parts[0][face] + parts[1][face]
        size = np.abs(parts[0][face]) + np.abs(parts[1][face]) + 20.0
        assert np.all((np.abs(ours[face] - exact) <= 1e-9 * size)[inside])


def test_parallel_faces_are_a_beam() -> None:
    # below 0.015 rad: 6 M / t^2; a strip of 1 mm, 0.5 degrees per side, pushed on its end
    strip = plain(0.5, land_um=1000.0, held_mm=20.0)
    tip = TipTraction(axial_n_per_mm=2.0, lateral_n_per_mm=3.0)
    load = Tractions(name="end", tip=(tip,))
    cut = sections_of(strip, load)
    found = face_stresses(cut, strip, load)
    x, t = cut.x_mm, cut.thickness_mm
    assert found["right"] == pytest.approx(6 * 3 * x / t**2 - 2 / t, rel=1e-9)
    assert found["left"] == pytest.approx(-6 * 3 * x / t**2 - 2 / t, rel=1e-9)


def test_just_above_the_slimmest_wedge_it_joins_the_beam() -> None:
    load = Tractions(name="end", tip=(TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=3.0),))
    both = []
    for half in (0.01499, 0.01501):
        wedge = plain(float(np.degrees(half)), land_um=1000.0, held_mm=20.0)
        cut = sections_of(wedge, load)
        both.append(face_stresses(cut, wedge, load)["right"][-1])
    # a beam's stress is 0.02 % off there, and the angles differ by 0.13 %
    assert both[0] == pytest.approx(both[1], rel=1e-3)


def test_only_what_drags_to_the_spine_is_taken_away() -> None:
    faces = tuple(
        FaceTraction(side="left", from_mm=0.0, to_mm=1.0, pressure_mpa=5.0, friction=mu)
        for mu in (0.3, -0.2, 0.0)
    )
    free = without_friction(Tractions(name="trial", faces=faces))
    assert [part.friction for part in free.faces] == [0.0, -0.2, 0.0]


# ------------------------------------------------------------------- blades, by finite elements


@cache
def solved(case: str) -> Run:
    return run_case(read_case(case))


def marks_mm(run: Run, load: LoadAnswer) -> list[float]:
    """List where a formula of endless wedges must fail: the tip, shoulders, patch ends."""
    shoulders = [part.end_mm[0] for side in SIDES for part in run.outline.face(side)]
    ends = [x for part in load.tractions.faces for x in (part.from_mm, part.to_mm)]
    return [0.0, *shoulders, *ends]


def field_on_face(run: Run, load: LoadAnswer, cut: NormalSections, side: Side) -> Floats:
    x = cut.face_x_mm[side]
    stress = load.stress.at(x, run.outline.face_y_mm(side, x))
    return along_face_mpa(stress, run.outline, side, x) * cut.spread


@pytest.mark.parametrize("case", CASES)
def test_away_from_shoulders_and_patch_ends_it_is_the_field(case: str) -> None:
    # 0.4 % (issue 5) from one and a half thicknesses on, where the other face has no more than
    # five times as much; measured 0.2 %, half of all places are within 0.04 %
    run = solved(case)
    for load in run.loads:
        cut = normal_sections(run.outline, load.tractions, trusted_depth_mm(run.outline))
        formula = face_stresses(cut, run.outline, load.tractions)
        size = np.maximum(*np.abs(list(formula.values())))
        away = cut.x_mm < trusted_depth_mm(run.outline) - cut.thickness_mm
        for mark in marks_mm(run, load):
            for side in SIDES:
                away &= np.abs(cut.face_x_mm[side] - mark) > 1.5 * cut.thickness_mm
        assert np.count_nonzero(away) >= 3
        for side in SIDES:
            told = away & (np.abs(formula[side]) > 0.2 * size)
            field = field_on_face(run, load, cut, side)
            assert field[told] == pytest.approx(formula[side][told], rel=0.004)


@pytest.mark.parametrize("case", CASES)
def test_the_fields_share_puts_it_right_everywhere(case: str) -> None:
    # by its own making on the whole edge: but for what it does not tell (a face with less than a
    # fifth of the other's stress, a share beyond 0.5 to 1.5)
    run = solved(case)
    for load in run.loads:
        trusted = trusted_depth_mm(run.outline)
        cut = normal_sections(run.outline, load.tractions, trusted)
        formula = face_stresses(cut, run.outline, load.tractions)
        share = read_field_share(load.stress, run.outline, load.tractions, trusted)
        size = np.maximum(*np.abs(list(formula.values())))
        for side in SIDES:
            field = field_on_face(run, load, cut, side)
            at = share.at(side, cut.face_x_mm[side], 0.0)
            told = (np.abs(formula[side]) > 0.21 * size) & (at > 0.5) & (at < 1.5)
            assert told.any()
            # read at the very depths that it was made at: rounding alone
            assert np.all(np.diff(share.x_mm[side]) >= 0.0)
            assert (at * formula[side])[told] == pytest.approx(field[told], rel=1e-6)


@pytest.mark.parametrize("case", CASES)
def test_section_forces_are_the_fields_integral(case: str) -> None:
    # issue 5: 0.5 %, of the largest stress resultant there (M / t, V or N), away from where the
    # field itself is singular: patch ends with friction, the loaded tip
    run = solved(case)
    at, weight = np.polynomial.legendre.leggauss(24)
    for load in run.loads:
        trusted = trusted_depth_mm(run.outline)
        cut = normal_sections(run.outline, load.tractions, trusted)
        chosen = np.flatnonzero(
            (cut.x_mm > 3.0 * run.outline.tip.width_mm) & (cut.x_mm < 0.8 * trusted)
        )[::8]
        for mark in marks_mm(run, load):
            near = np.abs(cut.x_mm[chosen] - mark) < 0.5 * cut.thickness_mm[chosen]
            chosen = chosen[~near]
        assert chosen.size >= 3
        for number in chosen:
            x = np.array([cut.face_x_mm[side][number] for side in SIDES])
            y = np.array(
                [float(run.outline.face_y_mm(s, v)) for s, v in zip(SIDES, x, strict=True)]
            )
            t = float(cut.thickness_mm[number])
            across = np.array([x[0] - x[1], y[0] - y[1]]) / t
            square = np.array([across[1], -across[0]])  # into the blade
            places = np.stack(
                [x.mean() + 0.5 * at * t * across[0], y.mean() + 0.5 * at * t * across[1]]
            )
            xx, yy, xy, _ = interpolate(load.stress.mesh, load.stress.stress_mpa, places)
            # what acts in front is taken up by the traction of what lies behind, reversed
            pull = -np.stack([xx * square[0] + xy * square[1], xy * square[0] + yy * square[1]])
            share = 0.5 * t * weight * float(cut.spread[number])
            axial = float(share @ (square @ pull))
            shear = float(share @ (across @ pull))
            # moment about the middle: arm along the section, force square to it, x to y
            turn = float(share @ (0.5 * at * t * (across[0] * pull[1] - across[1] * pull[0])))
            size = max(abs(axial), abs(shear), abs(turn) / t)
            found = (
                cut.axial_n_per_mm[number],
                cut.shear_n_per_mm[number],
                cut.moment_n[number] / t,
            )
            assert found == pytest.approx((axial, shear, turn / t), abs=0.005 * size)
