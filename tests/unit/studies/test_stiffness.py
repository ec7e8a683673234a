"""Stiffness of blades: what must hold whatever the numbers, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan

import numpy as np
import pytest

from simedge import BadInput, stiffness_of
from simedge.fem.elasticity import Elasticity
from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.profile import Profile
from simedge.studies import stiffness as study_module
from simedge.studies.stiffness import BladeStiffness, StiffnessStudy

Knife = Callable[..., Profile]
#: What two meshes of the same section may differ by: the errors that are told beside the values.
MESHES = 1e-3


def values(blade: BladeStiffness) -> list[float]:
    return [place.stiffness_n_per_mm2 for place in blade.places]


def one_sided(left_dps: float, right_dps: float, left_fraction: float) -> dict[str, object]:
    return {
        "bevels": (Bevel(left_dps=left_dps, right_dps=right_dps, ends_at_thickness_mm=0.3),),
        "primary_grind": PrimaryGrind(left_fraction=left_fraction),
    }


def test_a_mirrored_blade_is_as_stiff(knife: Knife):
    left, right = (
        stiffness_of([knife(**sides)], at_mm=[0.5, 5.0]).blades[0]
        for sides in (one_sided(2.0, 20.0, 0.2), one_sided(20.0, 2.0, 0.8))
    )
    assert values(left) == pytest.approx(values(right), rel=MESHES)


def test_ten_times_as_large_is_as_stiff(knife: Knife):
    # N/mm2 over E' is a pure number of the shape
    small = stiffness_of([knife()], at_mm=[0.5, 5.0]).blades[0]
    large = knife(
        height_mm=200.0,
        spine_thickness_mm=20.0,
        apex=Apex(radius_um=20.0),
        bevels=(Bevel(dps=12.0, ends_at_thickness_mm=3.0),),
    )
    assert values(stiffness_of([large], at_mm=[5.0, 50.0]).blades[0]) == pytest.approx(
        values(small), rel=MESHES
    )


def test_stiffness_follows_the_modulus(knife: Knife, solved: StiffnessStudy):
    steel = Elasticity(youngs_modulus_mpa=2 * 207e3, poissons_ratio=0.29)
    (doubled,) = stiffness_of([knife()], at_mm=[1.0], elasticity=steel).blades
    assert values(doubled) == pytest.approx([2.0 * v for v in values(solved.blades[0])], rel=1e-9)


@pytest.mark.parametrize("sides", [{}, one_sided(0.0, 20.0, 0.0)], ids=["even", "one-sided"])
def test_error_bounds_what_a_much_finer_mesh_changes(
    sides: dict[str, object], knife: Knife, monkeypatch: pytest.MonkeyPatch
):
    (usual,) = stiffness_of([knife(**sides)], at_mm=[0.5, 5.0]).blades
    monkeypatch.setattr(study_module, "ACCURACY_PERCENT", 0.3)
    (finer,) = stiffness_of([knife(**sides)], at_mm=[0.5, 5.0]).blades
    for place, better in zip(usual.places, finer.places, strict=True):
        change = abs(place.stiffness_n_per_mm2 - better.stiffness_n_per_mm2)
        assert 0.0 < change < place.error_n_per_mm2 < MESHES * place.stiffness_n_per_mm2


def test_deeper_and_nearer_held_is_stiffer(knife: Knife):
    far, near = (
        stiffness_of([knife()], held_at_mm=held, at_mm=[0.5, 2.0]).blades[0] for held in (None, 8.0)
    )
    assert values(far) == sorted(values(far))
    assert all(n > f for n, f in zip(values(near), values(far), strict=True))
    assert (far.held_at_spine, far.held_at_mm) == (True, 20.0)
    assert (near.held_at_spine, near.held_at_mm) == (False, 8.0)


def test_closed_form_stands_beside_each_place(knife: Knife):
    (blade,) = stiffness_of([knife()], at_mm=[1.0, 18.0]).blades
    apex, middle, near_spine = blade.places
    # 18 mm is one thickness in front of the spine: there the clamp keeps the section from warping
    assert (apex.within_validity, middle.within_validity) == (True, True)
    assert not near_spine.within_validity
    for place in (apex, middle):
        assert place.ratio == pytest.approx(1.0, abs=5e-3)
        assert place.ratio == place.stiffness_n_per_mm2 / place.closed_form_n_per_mm2


def test_a_sharp_apex_has_no_stiffness_but_its_blade_has(knife: Knife):
    (blade,) = stiffness_of([knife(apex=Apex(sharp=True))], at_mm=[0.5]).blades
    apex, behind = blade.places
    assert apex.stiffness_n_per_mm2 is apex.closed_form_n_per_mm2 is apex.ratio is None
    (rounded,) = stiffness_of([knife()], at_mm=[0.5]).blades
    # a radius of 2 µm cuts 7.6 µm off the wedge, which lays the same depth 0.5 mm farther back
    assert behind.stiffness_n_per_mm2 == pytest.approx(
        rounded.places[1].stiffness_n_per_mm2, rel=5e-3
    )
    assert np.isfinite(blade.shape.moved_y_mm).all()


def test_deflected_shape_goes_round_the_outline(solved: StiffnessStudy):
    (blade,) = solved.blades
    shape = blade.shape
    foremost = int(np.argmin(shape.x_mm))
    assert (shape.x_mm[foremost], shape.y_mm[foremost]) == pytest.approx((0.0, 0.0), abs=1e-12)
    assert -shape.moved_y_mm[foremost] == pytest.approx(1.0 / values(blade)[0], rel=1e-6)
    for end in (0, -1):  # held
        assert shape.x_mm[end] == 20.0
        assert shape.moved_y_mm[end] == pytest.approx(0.0, abs=1e-12)
    assert (shape.y_mm[0], shape.y_mm[-1]) == pytest.approx((1.0, -1.0), rel=1e-12)
    # left face up, the push comes from above
    assert shape.moved_y_mm.max() <= 0.0


def test_usual_depths_are_those_that_a_blade_has(knife: Knife):
    assert stiffness_of([knife()]).places_mm == (0.0, 0.5, 1.0, 2.0, 5.0)
    # held at 3 mm, where it is 0.54 mm thick, 2 mm still has a thickness behind it
    assert stiffness_of([knife()], held_at_mm=3.0).places_mm == (0.0, 0.5, 1.0, 2.0)


def test_same_names_are_told_apart(knife: Knife):
    blades = stiffness_of([knife(), knife(), knife(3.0)], held_at_mm=4.0, at_mm=[]).blades
    assert [blade.name for blade in blades] == ["2 mm knife", "2 mm knife (2)", "3 mm knife"]


def told(profiles: list[Profile], **question: object) -> list[str]:
    with pytest.raises(BadInput) as caught:
        stiffness_of(profiles, **question)
    return [str(problem) for problem in caught.value.problems]


def test_depths_that_a_blade_does_not_have_are_told_all_at_once(knife: Knife):
    said = told([knife(), knife(3.0, height_mm=30.0)], at_mm=[-1.0, 1.0, 25.0, nan, inf])
    assert len(said) == 7  # 25 mm is in front of the second one's spine
    assert said[0].startswith("2 mm knife: at_mm is -1 mm, but must lie between 0.00")
    assert any("25 mm" in line and "20 mm" in line for line in said)
    assert all("; choose a depth" in line for line in said)


@pytest.mark.parametrize("held_mm", [-1.0, 0.0, 1e-4, 20.1, nan, inf])
def test_where_a_blade_cannot_be_held(held_mm: float, knife: Knife):
    (said,) = told([knife()], held_at_mm=held_mm)
    assert said.startswith(
        f"2 mm knife: held_at_mm is {held_mm:g} mm, but must lie behind the apex"
    )
    assert "not beyond the spine (20 mm)" in said


def test_a_depth_behind_where_it_is_held(knife: Knife):
    (said,) = told([knife()], held_at_mm=3.0, at_mm=[1.0, 3.0])
    assert "at_mm is 3 mm" in said
    assert "held (3 mm)" in said


def test_nothing_and_too_much_are_refused(knife: Knife):
    assert told([]) == ["profiles is empty, but needs at least one; give a profile"]
    (said,) = told([knife()], at_mm=[0.1 * n for n in range(1, 21)])
    assert "at_mm has 20 depths, but must have 12 at most" in said


def test_a_blade_too_long_for_its_thickness_is_refused_before_it_is_meshed(knife: Knife):
    slim = knife(0.05, height_mm=1000.0, bevels=(), apex=Apex(radius_um=2.0))
    (said,) = told([slim], at_mm=[])
    assert said.startswith("0.05 mm knife: held_at_mm is 1000 mm, but so long and slim a section")
