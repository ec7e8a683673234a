"""Weighted loads put together, and the mixture asked again of an edge cut back."""

from __future__ import annotations

import numpy as np
import pytest

from simedge.inputs.load import Load, MediumLoad, TipLineLoad
from simedge.section.asked_again import Work
from simedge.section.mixed import mixed
from simedge.section.outline import Outline
from simedge.section.tractions import Tractions, resultant_up_to

DEPTHS_MM = np.array([0.05, 0.3, 2.0])


def wood(side: str) -> MediumLoad:
    return MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side=side)  # type: ignore[arg-type]


def forces(load: Tractions, outline: Outline) -> np.ndarray:
    acts = resultant_up_to(load, outline, DEPTHS_MM)
    return np.array([acts.axial_n_per_mm, acts.lateral_n_per_mm, acts.moment_n])


def test_one_load_once_is_itself(edge) -> None:
    alone = Work.mixed(((1.0, wood("left")),), "work", edge()).tractions
    assert mixed([(1.0, alone), (0.0, alone)]) is alone


def test_halves_of_one_load_are_that_load(edge) -> None:
    outline = edge()
    whole = Work.mixed(((1.0, wood("left")),), "work", outline)
    halves = Work.mixed(((0.5, wood("left")), (0.5, wood("left"))), "work", outline)
    for cut_mm in (0.0, 0.02):
        (left, one), (other_left, two) = whole.again(cut_mm), halves.again(cut_mm)
        np.testing.assert_allclose(forces(two, other_left), forces(one, left), rtol=1e-12)
        assert one.tip_axial_n_per_mm == pytest.approx(two.tip_axial_n_per_mm, rel=1e-12)
        assert one.contact_length_mm == two.contact_length_mm


def test_a_mixture_is_asked_again_part_by_part(edge) -> None:
    outline = edge()
    shares: tuple[tuple[float, Load], ...] = (
        (0.7, wood("both")),
        (0.3, wood("right")),
        (2.0, TipLineLoad(axial_n_per_mm=1.0, lateral_n_per_mm=0.5)),
    )
    work = Work.mixed(shares, "work", outline)
    left, asked = work.again(0.03)
    parts = [Work.mixed(((1.0, load),), "work", outline).again(0.03)[1] for _, load in shares]
    wanted = sum(w * forces(part, left) for (w, _), part in zip(shares, parts, strict=True))
    np.testing.assert_allclose(forces(asked, left), wanted, rtol=1e-12)
    assert asked.tip_lateral_n_per_mm == pytest.approx(1.0)
    assert {part.from_mm for part in asked.faces} == {0.0}  # they count from the new front
