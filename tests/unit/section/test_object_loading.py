"""A hard object entered at a slant: its force is q = p w along the slant, whatever the faces."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simedge.inputs.load import ObjectLoad
from simedge.section.loading import tractions_of
from simedge.section.outline import Outline
from simedge.section.tractions import Tractions, resultant_up_to

Edge = Callable[..., Outline]
STEEL_MPA = 650.0  # mild steel of the data file, over 1.5 mm of edge
SHAPES: dict[str, dict[str, Any]] = {
    "rope knife": {},
    "wedge": {"bevels": (), "dps": 15.0, "height_mm": 20.0, "spine_thickness_mm": None},
    "chisel": {"bevels": ((0.0, 25.0, 2.0),)},
    "unequal": {"bevels": ((20.0, 12.0, 0.05), (10.0, 12.0, 1.0))},
    "land": {"land_um": 8.0},
    "sharp": {"sharp": True},
}


def entered(outline: Outline, **changes: Any) -> Tractions:
    load = ObjectLoad(**{"object": "mild steel", "entry_mm": 0.03, **changes})
    return tractions_of(load, "trial", outline)


def total(load: Tractions, outline: Outline) -> tuple[float, float]:
    found = resultant_up_to(load, outline, outline.depth_mm)
    return float(found.axial_n_per_mm[0]), float(found.lateral_n_per_mm[0])


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("slant", [0.0, 10.0, -10.0, 60.0, 85.0, -90.0])
@pytest.mark.parametrize("entry", [0.03, 0.5, 0.0005])
def test_the_force_is_pressure_times_width_along_the_slant(
    shape: str, slant: float, entry: float, edge: Edge
) -> None:
    outline = edge(**SHAPES[shape])
    load = entered(outline, slant_deg=slant, entry_mm=entry)
    force = 2 * STEEL_MPA * float(outline.thickness_mm(entry))
    expected = (force * cos(radians(slant)), force * sin(radians(slant)))
    assert total(load, outline) == pytest.approx(expected, rel=1e-10, abs=1e-10 * force)
    assert all(face.pressure_mpa > 0 for face in load.faces)
    assert load.object_pressure_mpa == 2 * STEEL_MPA
    assert load.contact_length_mm == 1.5


def test_an_even_wedge_by_hand(edge: Edge) -> None:
    # pressures p (cos s -+ tan(alpha) sin s); q = p (2 d tan(alpha) + 2 R) to R / d
    outline = edge(**SHAPES["wedge"])
    load = entered(outline, slant_deg=10.0, entry_mm=0.5)
    pressures = {face.side: face.pressure_mpa for face in load.faces}
    even, odd = 1300 * cos(radians(10)), 1300 * tan(radians(15)) * sin(radians(10))
    assert pressures == {
        "left": pytest.approx(even - odd, rel=1e-12),  # the right face is pushed to the left
        "right": pytest.approx(even + odd, rel=1e-12),
    }
    axial, lateral = total(load, outline)
    rough = 1300 * (2 * 0.5 * tan(radians(15)) + 2 * 0.0015)
    assert np.hypot(axial, lateral) == pytest.approx(rough, rel=0.0015 / 0.5)


def test_too_steep_for_both_faces_one_is_rubbed(edge: Edge) -> None:
    outline = edge(**SHAPES["wedge"])
    (face,) = entered(outline, slant_deg=90.0).faces
    # all of it sideways: friction towards the apex, as much as the face leans
    assert face.side == "right"
    assert face.friction == pytest.approx(-tan(radians(15)), rel=1e-9)
    remarks = entered(outline, slant_deg=90.0).remarks
    assert any("leaves one face and rubs the right one" in said for said in remarks)
    both = entered(outline, slant_deg=70.0)
    assert [face.friction for face in both.faces] == [0.0, 0.0]


def test_an_entry_no_deeper_than_the_tip_is_the_tips(edge: Edge) -> None:
    outline = edge()
    load = entered(outline, entry_mm=0.0008)
    assert load.faces == ()
    assert load.tip[0].spread == "uniform"


def test_what_it_takes_is_said(edge: Edge) -> None:
    outline = edge()
    (said,) = entered(outline).remarks
    force = 2 * STEEL_MPA * float(outline.thickness_mm(0.03)) * 1.5
    assert f"takes {force:.3g} N over 1.5 mm of edge" in said
    assert "presses with 1300 MPa, 2 times its strength" in said


@given(factor=st.floats(1.2, 3.0), slant=st.floats(-90.0, 90.0))
def test_mirrored_slants_are_mirrored(factor: float, slant: float, edge: Edge) -> None:
    outline = edge()
    one = entered(outline, slant_deg=slant, pressure_over_strength=factor)
    other = entered(outline, slant_deg=-slant, pressure_over_strength=factor)
    ours, theirs = total(one, outline), total(other, outline)
    assert theirs == pytest.approx((ours[0], -ours[1]), rel=1e-9, abs=1e-9 * abs(sum(ours)))
