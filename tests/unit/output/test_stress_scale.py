"""Where the scale of stress ends."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simedge.output.palette import stress_colour_map
from simedge.output.stress_scale import MOST_BANDS, choose_scale


def test_reaches_just_beyond_yield_where_any_load_does(slim):
    scale = choose_scale(slim)
    strength = slim.steel.yield_strength_mpa
    assert slim.loads[0].section_peak_von_mises_mpa > strength
    assert slim.loads[1].section_peak_von_mises_mpa < 0.1 * strength
    assert strength + scale.step_mpa <= scale.end_mpa < strength + 2.0 * scale.step_mpa
    assert scale.yields
    assert scale.clipped


def test_ends_at_the_highest_section_peak_where_nothing_yields(slim):
    mild = replace(slim, loads=slim.loads[1:])
    scale = choose_scale(mild)
    (answer,) = mild.loads
    peak = answer.section_peak_von_mises_mpa
    assert peak <= scale.end_mpa < peak + scale.step_mpa
    assert not scale.yields
    assert scale.clipped == ((answer.patch_peak_von_mises_mpa or 0.0) > scale.end_mpa)


def test_a_patch_beyond_the_end_is_clipped_and_does_not_stretch_the_scale(slim):
    answer = slim.loads[1]
    calm = replace(slim, loads=(replace(answer, patch_peak_von_mises_mpa=None),))
    hot = replace(slim, loads=(replace(answer, patch_peak_von_mises_mpa=1e5),))
    assert not choose_scale(calm).clipped
    assert choose_scale(hot).clipped
    assert choose_scale(hot).end_mpa == choose_scale(calm).end_mpa


def test_without_a_finite_peak_it_reaches_yield(slim):
    sharp = replace(slim, loads=(replace(slim.loads[1], section_peak_von_mises_mpa=None),))
    scale = choose_scale(sharp)
    assert scale.yields
    assert scale.clipped
    assert scale.end_mpa > slim.steel.yield_strength_mpa


@pytest.mark.parametrize("peak_mpa", [1e-6, 0.2, 0.99, 1.0, 137.0, 1000.0, 2139.0])
def test_bands_are_few_enough_to_tell_apart_and_even(slim, peak_mpa):
    one = replace(slim.loads[1], section_peak_von_mises_mpa=peak_mpa)
    scale = choose_scale(replace(slim, loads=(one,)))
    # steps are rounded up, by 2.5 at most
    assert MOST_BANDS / 2.5 - 1 <= len(scale.colours) <= MOST_BANDS
    assert scale.end_mpa >= peak_mpa * (1 - 1e-9)
    assert len(set(scale.colours)) == len(scale.colours)
    assert len(scale.levels_mpa) == len(scale.colours) + 1
    assert scale.colours[0] == stress_colour_map()(0.5 / len(scale.colours))
