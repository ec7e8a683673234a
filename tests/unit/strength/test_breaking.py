"""Chips and crumbs by hand: a crack of the steel's flaw, and particles cracked across.

The diagram and the crack factors have their own sources and tests (`test_edge_crack`); here it
is held that the right stress, thickness and roll limit go into them.
"""

from __future__ import annotations

from dataclasses import replace
from math import inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judged import judge_of, plain, sections_of

from simedge.inputs.load import FaceLoad, MediumLoad, TipLineLoad
from simedge.inputs.steel import Steel
from simedge.inputs.steel_properties import steel_properties
from simedge.section.outline import Floats, Side
from simedge.section.tractions import FaceTraction, Tractions
from simedge.strength.chip import first_chip
from simedge.strength.closed_form.edge_crack import bending_factor
from simedge.strength.crumble import first_crumbling
from simedge.strength.normal_sections import NormalSections
from simedge.strength.resistance import Resistance, particle_strength_mpa, resistance_band
from simedge.strength.weakest import NEVER

BRITTLE = Resistance(
    yield_strength_mpa=2000.0,
    collapse_cut_off=1.1,
    assessment_exponent=0.6,
    toughness_mpa_sqrt_mm=500.0,
    flaw_mm=0.01,
    particle_mm=None,
    particle_strength_mpa=None,
)
COARSE = replace(BRITTLE, particle_mm=0.03, particle_strength_mpa=690.0)
FACES = (FaceTraction(side="left", from_mm=0.0, to_mm=0.5, pressure_mpa=30.0, friction=0.0),)


def cut() -> NormalSections:
    return sections_of(plain(10.0), Tractions(name="pressed", faces=FACES))


def bent(sections: NormalSections, mpa: float, at: int, side: Side = "left") -> dict[Side, Floats]:
    """Give a stress that bends one section alone."""
    near = np.zeros_like(sections.x_mm)
    near[at] = mpa
    return {"left": near, "right": -near} if side == "left" else {"left": -near, "right": near}


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_chip_of_a_steel_that_does_not_yield_by_hand(side: Side) -> None:
    sections = cut()
    at = int(np.searchsorted(sections.thickness_mm, 0.1))
    never = np.full_like(sections.x_mm, inf)
    found = first_chip(sections, bent(sections, 100.0, at, side), never, BRITTLE)
    # K = F(a / t) sigma sqrt(pi a) = K_IC
    share = 0.01 / sections.thickness_mm[at]
    factor = 500.0 / (float(bending_factor(share)) * 100.0 * sqrt(pi * 0.01))
    assert found.factor == pytest.approx(factor, rel=1e-9)
    assert found.side == side
    assert found.x_mm == pytest.approx(sections.face_x_mm[side][at])
    assert not found.by_collapse


def test_a_flaw_is_no_deeper_than_the_crack_picture_goes() -> None:
    sections = cut()
    at = int(np.searchsorted(sections.thickness_mm, 0.004))  # thinner than the flaw
    never = np.full_like(sections.x_mm, inf)
    found = first_chip(sections, bent(sections, 100.0, at), never, BRITTLE)
    crack = 0.6 * float(sections.thickness_mm[at])
    factor = 500.0 / (float(bending_factor(0.6)) * 100.0 * sqrt(pi * crack))
    assert found.factor == pytest.approx(factor, rel=1e-9)


def test_at_the_roll_limit_the_line_has_fallen_to_056() -> None:
    # issue 5: K_r = 0.56 at L_r = 1; a section that rolls at 2 and would crack at 2 / 0.56 without
    sections = cut()
    at = int(np.searchsorted(sections.thickness_mm, 0.1))
    rolls = np.full_like(sections.x_mm, 2.0)
    share = 0.01 / sections.thickness_mm[at]
    line = (0.3 + 0.7 * np.exp(-0.6)) / sqrt(1.5)
    stress = line * 500.0 / (2.0 * float(bending_factor(share)) * sqrt(pi * 0.01))
    found = first_chip(sections, bent(sections, stress, at), rolls, BRITTLE)
    assert found.factor == pytest.approx(2.0, rel=1e-8)
    # under a little more stress it breaks before it folds, under a little less it folds first
    for share_of_it, folds in ((1.05, False), (0.95, True)):
        near = first_chip(sections, bent(sections, share_of_it * stress, at), rolls, BRITTLE)
        assert near.by_collapse is folds


def test_tough_steel_folds_at_the_cut_off() -> None:
    sections = cut()
    at = int(np.searchsorted(sections.thickness_mm, 0.1))
    rolls = np.full_like(sections.x_mm, 2.0)
    tough = replace(BRITTLE, toughness_mpa_sqrt_mm=1e6)
    found = first_chip(sections, bent(sections, 100.0, at), rolls, tough)
    assert found.factor == pytest.approx(2.0 * 1.1, rel=1e-8)
    assert found.by_collapse


def test_what_is_pressed_shut_does_not_crack() -> None:
    sections = cut()
    pressed = {
        "left": np.full_like(sections.x_mm, -50.0),
        "right": np.full_like(sections.x_mm, -300.0),
    }
    assert first_chip(sections, pressed, np.ones_like(sections.x_mm), BRITTLE) == NEVER
    assert first_crumbling(sections, pressed, COARSE) == NEVER


def test_unknown_toughness_is_refused() -> None:
    sections = cut()
    unknown = replace(BRITTLE, toughness_mpa_sqrt_mm=None)
    with pytest.raises(ValueError, match="toughness"):
        first_chip(sections, bent(sections, 1.0, 5), np.ones_like(sections.x_mm), unknown)


def test_particles_fill_what_is_no_thicker_than_they_are_over_06() -> None:
    # t <= dmax / 0.6 crumbles and is not judged by cracks; behind it is the reverse
    sections = cut()
    never = np.full_like(sections.x_mm, inf)
    limit = 0.03 / 0.6
    behind = int(np.searchsorted(sections.thickness_mm, limit, side="right"))
    # the limit itself lies between two sections, and has its share of what either carries
    for at, crumbles in ((behind - 2, True), (behind + 1, False)):
        stress = bent(sections, 100.0, at)
        crumb = first_crumbling(sections, stress, COARSE)
        assert crumb.factor == (pytest.approx(6.9) if crumbles else inf)
        assert (first_chip(sections, stress, never, COARSE) == NEVER) is crumbles
    crumb = first_crumbling(sections, bent(sections, 50.0, behind - 2, "right"), COARSE)
    assert (crumb.side, crumb.factor) == ("right", pytest.approx(13.8))


def test_the_limit_between_cracks_and_crumbs_needs_no_section() -> None:
    # a stress that rises with the thickness: the largest that crumbles is that at the limit, the
    # thinnest that is judged by cracks stands there too
    sections = cut()
    t, never = sections.thickness_mm, np.full_like(sections.x_mm, inf)
    crumb = first_crumbling(sections, {"left": 1000.0 * t, "right": -1000.0 * t}, COARSE)
    assert crumb.factor == pytest.approx(690.0 / (1000.0 * 0.05), rel=1e-9)
    falling = {"left": 1.0 / t, "right": -1.0 / t}
    chip = first_chip(sections, falling, never, COARSE)
    factor = 500.0 / (float(bending_factor(0.01 / 0.05)) / 0.05 * sqrt(pi * 0.01))
    # 1 / t, taken straight between sections a ninth of the depth apart, is 0.3 % too large
    assert chip.factor == pytest.approx(factor, rel=0.005)


def test_where_all_is_thicker_than_the_particles_nothing_crumbles() -> None:
    thick = sections_of(plain(10.0, land_um=60.0), Tractions(name="pressed", faces=FACES))
    assert first_crumbling(thick, bent(thick, 1e5, 3), COARSE) == NEVER
    assert first_crumbling(thick, bent(thick, 1e5, 3), BRITTLE) == NEVER


def test_a_particle_as_the_data_file_says() -> None:
    # steels-and-loads.md 2: 690 MPa at 30 um, 500 to 850 for K_c 2.2 to 3.7, told to two digits
    assert particle_strength_mpa(2.2, 0.03) == pytest.approx(500.0, abs=5.0)
    assert particle_strength_mpa(3.7, 0.03) == pytest.approx(850.0, abs=5.0)
    # (pi/2) K_c / sqrt(pi d / 2): a quarter of the size is twice as strong
    assert particle_strength_mpa(3.0, 0.01) == pytest.approx(2 * particle_strength_mpa(3.0, 0.04))


def test_both_ends_of_a_band_by_hand() -> None:
    steel = steel_properties(Steel(grade="D2", hardness_hrc=60))
    band = resistance_band(steel)
    weak, strong = band.weak, band.strong
    # D2: K_IC 17 to 25 at 60, particles 20 to 50 um, flaws half of them to all, factor 0.5 to 0.8
    root = sqrt(1000.0)
    assert weak.toughness_mpa_sqrt_mm == pytest.approx(17 * 0.5 * root)
    assert strong.toughness_mpa_sqrt_mm == pytest.approx(25 * 0.8 * root)
    assert (weak.flaw_mm, strong.flaw_mm) == (pytest.approx(0.05), pytest.approx(0.01))
    assert (weak.particle_mm, strong.particle_mm) == (pytest.approx(0.05), pytest.approx(0.02))
    assert weak.cracks_judged_from_mm == pytest.approx(0.05 / 0.6)
    # the stricter line, R6, at the weak end; 0.001 E / Y at the other
    assert weak.assessment_exponent == 0.6
    flow = steel.yield_strength_mpa
    assert strong.assessment_exponent == pytest.approx(0.001 * 207000.0 / flow)
    assert weak.yield_strength_mpa == strong.yield_strength_mpa == flow


def test_friction_can_rescue_a_brittle_edge_and_the_worse_counts() -> None:
    steel = Steel(grade="M2", hardness_hrc=65)
    edge = plain(14.0, radius_um=1.0)

    def chip(friction: float) -> tuple[float, bool]:
        load = FaceLoad(
            at="left face", from_mm=0.0, to_mm=0.8, pressure_mpa=60.0, friction=friction
        )
        found = judge_of(edge, load, steel).load_factors(0.005).chip
        assert found is not None
        return found.low, found.frictionless

    free, rubbed = chip(0.0), chip(0.4)
    assert free == (pytest.approx(rubbed[0], rel=1e-9), False)  # the worse of both, and said so
    assert rubbed[1]


def test_a_steel_of_unknown_toughness_gets_no_chip() -> None:
    load = TipLineLoad(lateral_n_per_mm=1.0)
    unknown = Steel(yield_strength_mpa=2000.0)
    assert judge_of(plain(12.0), load, unknown).load_factors(0.005).chip is None


@settings(max_examples=20)
@given(factor=st.floats(0.1, 10.0), cut_mm=st.floats(0.002, 0.2))
def test_all_kinds_go_as_one_over_the_load(factor: float, cut_mm: float) -> None:
    steel = Steel(grade="A2", hardness_hrc=60)
    edge = plain(13.0, radius_um=1.0)

    def found(times: float) -> list[float]:
        load = FaceLoad(at="left face", from_mm=0.0, to_mm=0.3, pressure_mpa=40.0 * times)
        factors = judge_of(edge, load, steel).load_factors(cut_mm)
        assert factors.chip is not None
        kinds = (factors.roll, factors.chip, factors.crumble)
        return [value for kind in kinds for value in (kind.low, kind.value, kind.high)]

    # the diagram is solved to 1e-10
    once, more = np.array(found(1.0)), factor * np.array(found(factor))
    finite = np.isfinite(once)
    assert more[finite] == pytest.approx(once[finite], rel=1e-8)
    assert np.all(np.isinf(more[~finite]))


@settings(max_examples=20)
@given(tougher=st.floats(1.0, 4.0), toughness=st.floats(5.0, 45.0))
def test_a_tougher_steel_never_chips_sooner(tougher: float, toughness: float) -> None:
    edge = plain(11.0, radius_um=0.5)
    load = MediumLoad(medium="bone", depth_in_cut_mm=0.1, side="left")
    chips = [
        judge_of(
            edge,
            load,
            Steel(grade="52100", hardness_hrc=60, fracture_toughness_mpa_sqrt_m=k),
        )
        .load_factors(0.005)
        .chip
        for k in (toughness, toughness * tougher)
    ]
    assert chips[0] is not None
    assert chips[1] is not None
    for end in ("low", "high"):
        assert getattr(chips[1], end) >= getattr(chips[0], end) * (1.0 - 1e-8)


@settings(max_examples=20)
@given(deeper=st.floats(1.0, 20.0), flaw=st.floats(0.5, 10.0))
def test_a_deeper_flaw_never_helps(deeper: float, flaw: float) -> None:
    edge = plain(11.0, radius_um=0.5)
    load = MediumLoad(medium="bone", depth_in_cut_mm=0.1, side="left")
    chips = [
        judge_of(edge, load, Steel(grade="52100", hardness_hrc=60, flaw_um=um))
        .load_factors(0.005)
        .chip
        for um in (flaw, flaw * deeper)
    ]
    assert chips[0] is not None
    assert chips[1] is not None
    assert chips[1].low <= chips[0].low * (1.0 + 1e-8)
