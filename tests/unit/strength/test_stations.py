"""The section read off station by station: made-up fields, statics by hand, and both together."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin
from typing import Any

import numpy as np
import pytest

from simedge.fem.stress_field import StressField
from simedge.runs.run import Run
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import mesh_outline
from simedge.section.outline import Outline
from simedge.section.tractions import FaceTraction, TipTraction, Tractions
from simedge.strength.stations import Stations, read_stations, station_depths_mm
from simedge.strength.zones import trusted_depth_mm

Edge = Callable[..., Outline]

STRETCH = FaceTraction(side="left", from_mm=0.02, to_mm=1.5, pressure_mpa=40.0, friction=0.3)
TIP = TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=1.0)

SHAPES: dict[str, dict[str, Any]] = {
    "rope knife": {},
    "chisel": {"bevels": ((0.0, 25.0, 2.0),), "radius_um": 5.0},
    "land": {"land_um": 8.0},
    "sharp": {"sharp": True},
    "held close to the apex": {"clamp_mm": 0.006},
}


def of_uniform_stress(outline: Outline, *stress: float, load: Tractions) -> Stations:
    mesh = mesh_outline(outline, {"left": (0.02, 1.5)}, Resolution.for_accuracy(1.0))
    values = np.outer(stress, np.ones(mesh.points_mm.shape[1]))
    (read,) = read_stations(
        (StressField(mesh=mesh, stress_mpa=values, doubt_mpa=np.zeros_like(values[0])),),
        (load,),
        outline,
    )
    return read


@pytest.mark.parametrize("name", SHAPES)
def test_stations_run_from_the_faces_to_the_clamp(name: str, edge: Edge) -> None:
    outline = edge(**SHAPES[name])
    load = Tractions(name="", tip=(TIP,))
    x = station_depths_mm(outline, (load,))
    begins = max(outline.face_begins_mm("left"), outline.face_begins_mm("right"))
    assert (np.diff(x) > 0).all()
    assert x[0] == pytest.approx(begins, abs=1e-8 * outline.depth_mm)
    assert x[-1] == outline.depth_mm
    assert x.max() <= outline.depth_mm
    for shoulder in outline.shoulders_mm:
        assert np.abs(x - shoulder).min() <= 1e-9 * outline.depth_mm


def test_stations_stand_at_the_ends_of_what_any_load_presses(edge: Edge) -> None:
    other = FaceTraction(side="right", from_mm=0.3, to_mm=7.77, pressure_mpa=1.0, friction=0.0)
    x = station_depths_mm(
        edge(), (Tractions(name="", faces=(STRETCH,)), Tractions(name="", faces=(other,)))
    )
    for depth in (0.02, 1.5, 0.3, 7.77):
        assert depth in x


def test_stress_along_each_face_by_hand(edge: Edge) -> None:
    outline = edge(((0.0, 25.0, 2.0),), radius_um=5.0)
    read = of_uniform_stress(outline, 100.0, 20.0, 30.0, 5.0, load=Tractions(name=""))
    assert read.left_face_mpa == pytest.approx(np.full(read.x_mm.size, 100.0))  # straight
    # the right face leans by -25 degrees: xx cos^2 + yy sin^2 - 2 xy sin cos
    a = radians(25)
    leaning = 100 * cos(a) ** 2 + 20 * sin(a) ** 2 - 60 * sin(a) * cos(a)
    in_bevel = read.x_mm < 2.0
    assert read.right_face_mpa[in_bevel] == pytest.approx(np.full(in_bevel.sum(), leaning))
    assert read.axis_mpa == pytest.approx(np.full(read.x_mm.size, 100.0))
    assert read.thickness_mm == pytest.approx(outline.thickness_mm(read.x_mm))


def test_forces_of_a_tip_load_by_hand(edge: Edge) -> None:
    # On a land the load acts at the origin: its lateral part turns a section x behind it by -x.
    read = of_uniform_stress(edge(land_um=8.0), 0, 0, 0, 0, load=Tractions(name="", tip=(TIP,)))
    assert read.axial_n_per_mm == pytest.approx(np.full(read.x_mm.size, 3.0))
    assert read.shear_n_per_mm == pytest.approx(np.full(read.x_mm.size, 1.0))
    assert read.moment_n == pytest.approx(-read.x_mm, abs=1e-15)


def test_forces_of_a_chisel_are_about_its_own_middle(edge: Edge) -> None:
    outline = edge(((0.0, 25.0, 2.0),), land_um=8.0)
    axial = TipTraction(axial_n_per_mm=3.0, lateral_n_per_mm=0.0)
    read = of_uniform_stress(outline, 0, 0, 0, 0, load=Tractions(name="", tip=(axial,)))
    middle = 0.5 * (outline.face_y_mm("left", read.x_mm) + outline.face_y_mm("right", read.x_mm))
    assert middle[-1] < -0.5
    # 3 N/mm along +x at y = 0, seen from a middle at y < 0: turns by -(0 - y) x 3
    assert read.moment_n == pytest.approx(3.0 * middle, abs=1e-15)


def test_stress_across_a_section_balances_what_acts_in_front(rope_knife: Run) -> None:
    # Cut at x: the rest pulls with the integral of xx, xy and -(y - middle) xx over the thickness.
    outline = rope_knife.outline
    fields = tuple(answer.stress for answer in rope_knife.loads)
    loads = tuple(answer.tractions for answer in rope_knife.loads)
    nodes, weights = np.polynomial.legendre.leggauss(40)
    for field, read in zip(fields, read_stations(fields, loads, outline), strict=True):
        clear = (read.x_mm > 0.3) & (read.x_mm < trusted_depth_mm(outline))
        for index in np.flatnonzero(clear)[::6]:
            x, half = read.x_mm[index], 0.5 * read.thickness_mm[index]
            xx, _, xy, _ = field.at(x, half * nodes)
            found = half * np.array([weights @ xx, weights @ xy, -(weights * half * nodes) @ xx])
            expected = -np.array(
                [read.axial_n_per_mm[index], read.shear_n_per_mm[index], read.moment_n[index]]
            )
            # 1 % is the accuracy of peak stress asked of the mesh; forces are of both kinds
            scale = np.hypot(*expected[:2])
            assert np.abs(found[:2] - expected[:2]).max() <= 0.01 * scale
            assert abs(found[2] - expected[2]) <= 0.01 * max(abs(expected[2]), half * scale)


def test_stations_read_the_fields_own_stress(rope_knife: Run) -> None:
    fields = tuple(answer.stress for answer in rope_knife.loads)
    loads = tuple(answer.tractions for answer in rope_knife.loads)
    outline = rope_knife.outline
    for field, read in zip(fields, read_stations(fields, loads, outline), strict=True):
        assert read.axis_mpa == pytest.approx(field.at(read.x_mm, 0.0)[0])
        at = np.searchsorted(read.x_mm, 0.5)  # in the edge bevel of 11 degrees
        x = read.x_mm[at]
        xx, yy, xy, _ = field.at(x, outline.face_y_mm("right", x))[:, 0]
        a = radians(11)
        along = xx * cos(a) ** 2 + yy * sin(a) ** 2 - 2 * xy * sin(a) * cos(a)
        assert read.right_face_mpa[at] == pytest.approx(along)
        assert all(np.isfinite(getattr(read, key)).all() for key in Stations.__slots__)
