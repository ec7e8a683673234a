"""What people type: it is answered with numbers that agree, or refused, and never lost or NaN."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from pydantic import ValidationError

from simedge.errors import SimedgeError
from simedge.fem.nodal_forces import nodal_forces
from simedge.inputs.load import FaceLoad, MediumLoad, TipForce, TipLineLoad
from simedge.inputs.profile import Apex, Bevel
from simedge.runs.run import Run

Runner = Callable[..., Run]
Checker = Callable[[Run], None]

#: What may be raised on purpose: by the records themselves, or further on.
REFUSALS = (ValidationError, SimedgeError)
WEDGED = FaceLoad(at="left face", from_mm=0.02, to_mm=1.5, pressure_mpa=40.0, friction=0.2)
TIP = TipLineLoad(axial_n_per_mm=0.3, lateral_n_per_mm=0.1)


@pytest.mark.usefixtures("deadline")
def test_a_sharp_tip_under_a_tip_load_has_no_peak_and_says_so(
    run: Runner, check_consistent: Checker
) -> None:
    found = run(TIP, apex=Apex(sharp=True))
    (answer,) = found.loads
    assert answer.section_peak_von_mises_mpa is None
    assert answer.first_yield_load_factor is None
    assert answer.largest_principal_mpa is None
    assert "no finite peak" in answer.elastic_sentence
    assert any("perfectly sharp" in text and "singular" in text for text in found.warnings)
    check_consistent(found)


@pytest.mark.usefixtures("deadline")
@pytest.mark.parametrize("from_mm", [0.0, 0.1])
def test_a_sharp_edge_pressed_on_a_face_has_a_peak(
    from_mm: float, run: Runner, check_consistent: Checker
) -> None:
    found = run(replace(WEDGED, from_mm=from_mm), apex=Apex(sharp=True))
    check_consistent(found)
    assert found.loads[0].section_peak_von_mises_mpa is not None


@pytest.mark.usefixtures("deadline")
def test_a_medium_bears_on_no_tip_of_a_sharp_edge(run: Runner, check_consistent: Checker) -> None:
    wood = MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left")
    found = run(wood, apex=Apex(sharp=True))
    assert [part.at for part in found.loads[0].parts] == ["left face"]
    check_consistent(found)


STEPPED = (
    Bevel(name="first", dps=15.0, height_mm=0.1),
    Bevel(name="next", dps=11.0, height_mm=0.2),
)


@pytest.mark.parametrize("to_mm", [0.3, 0.1 + 0.2, 0.3 + 1e-12, 0.3 - 1e-9, 0.3000001])
def test_a_stretch_may_end_at_a_shoulder_or_next_to_it(
    to_mm: float, run: Runner, check_consistent: Checker
) -> None:
    # A person writes 0.3 mm, and the shoulder lies at 0.1 + 0.2 = 0.30000000000000004 mm.
    ending = replace(WEDGED, to_mm=to_mm)
    found, at_ease = run(ending, bevels=STEPPED), run(replace(WEDGED, to_mm=0.29), bevels=STEPPED)
    check_consistent(found)
    # 3 % more of the stretch moves the apex by a few per cent more
    assert found.loads[0].apex_lateral_mm == pytest.approx(
        at_ease.loads[0].apex_lateral_mm, rel=0.1
    )


@pytest.mark.parametrize("length_mm", [1e-12, 1e-7, 1e-4, 1e-2])
@pytest.mark.parametrize("from_mm", [0.02, 0.5])
def test_a_short_stretch_is_carried_or_refused_but_not_lost(
    from_mm: float, length_mm: float, run: Runner
) -> None:
    # What the answer says acts must be what the mesh was given: never an unmoved apex.
    try:
        found = run(replace(WEDGED, from_mm=from_mm, to_mm=from_mm + length_mm))
    except REFUSALS:
        return
    (answer,), outline = found.loads, found.outline
    carried = nodal_forces(found.mesh, outline, answer.tractions).sum(axis=1)
    told = (answer.parts[0].axial_n_per_mm, answer.parts[0].lateral_n_per_mm)
    # ends may be moved by what the mesh cannot resolve, which is little of what is pressed
    assert carried == pytest.approx(told, rel=1e-2)
    assert answer.apex_lateral_mm < 0


@pytest.mark.parametrize("shift", [1e-15, 1e-12, 1e-9, 1e-7])
def test_two_loads_may_end_next_to_each_other(
    shift: float, run: Runner, check_consistent: Checker
) -> None:
    found = run(WEDGED, replace(WEDGED, to_mm=1.5 + shift))
    check_consistent(found)
    one, other = found.loads
    assert one.apex_lateral_mm == pytest.approx(other.apex_lateral_mm, rel=1e-5)


@pytest.mark.parametrize("clamp_mm", [0.8, 0.7 + 0.1, 0.8 + 1e-12])
def test_the_clamp_may_stand_at_a_shoulder_or_next_to_it(
    clamp_mm: float, run: Runner, check_consistent: Checker
) -> None:
    # 0.7 + 0.1 = 0.7999999999999999, and a person writes 0.8
    bevels = (Bevel(dps=15.0, height_mm=0.7), Bevel(dps=11.0, height_mm=0.1))
    check_consistent(run(TIP, bevels=bevels, clamp_mm=clamp_mm))


@pytest.mark.parametrize("clamp_mm", [0.00112, 0.0015, 0.004, 0.0055, 0.006, 0.02])
@pytest.mark.parametrize("accuracy_percent", [0.3, 3.0])
def test_a_blade_held_at_its_apex_is_answered_or_refused(
    clamp_mm: float, accuracy_percent: float, run: Runner, check_consistent: Checker
) -> None:
    # The faces begin 0.001112 mm behind the apex; nobody holds a knife there.
    try:
        found = run(TIP, clamp_mm=clamp_mm, accuracy_percent=accuracy_percent)
    except REFUSALS:
        return
    check_consistent(found)


@pytest.mark.parametrize("clamp_mm", [1e-6, 1.0, 3.001, 4.0])
def test_a_wide_land_held_close_is_not_called_sharp(
    clamp_mm: float, run: Runner, check_consistent: Checker
) -> None:
    # Half a land's width is zone; here that is all that may be judged.
    wide = {"apex": Apex(land_um=2000.0), "bevels": ()}
    try:
        found = run(TipLineLoad(axial_n_per_mm=1.0), **wide, clamp_mm=clamp_mm)
    except REFUSALS:
        return
    check_consistent(found)
    assert "sharp" not in found.loads[0].elastic_sentence


@pytest.mark.parametrize("size", [1e-300, 1e-200, 1e-100, 1e-9, 1e5])
def test_loads_of_any_size_are_answered_or_refused(
    size: float, run: Runner, check_consistent: Checker
) -> None:
    try:
        found = run(TipLineLoad(axial_n_per_mm=size))
    except REFUSALS:
        return
    check_consistent(found)


def test_random_loads_are_answered_in_order(run: Runner, check_consistent: Checker) -> None:
    turns = np.linspace(-180, 180, 9)
    found = run(
        *(TipForce(force_n=1.0, contact_length_mm=2.0, direction_deg=float(t)) for t in turns)
    )
    check_consistent(found)
    expected = 0.5 * np.sin(np.radians(turns))
    assert [answer.parts[0].lateral_n_per_mm for answer in found.loads] == pytest.approx(
        expected, abs=1e-12
    )
    assert np.sign([round(answer.apex_lateral_mm, 9) for answer in found.loads]).tolist() == (
        np.sign(expected.round(9)).tolist()
    )
