"""Element sizes: small at the features, and their number told before anything is meshed."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from simedge.errors import BadInput
from simedge.section import element_sizes
from simedge.section.element_sizes import (
    MOST_TRIANGLES,
    Resolution,
    check_element_budget,
    estimated_triangles,
    face_vertices,
)
from simedge.section.element_sizes import element_sizes as sizes_of
from simedge.section.mesh import mesh_outline
from simedge.section.outline import SIDES, Outline, Side

Edge = Callable[..., Outline]
ENDS: dict[Side, tuple[float, ...]] = {"left": (0.1, 1.5)}
NEEDLE: dict[str, Any] = {
    "bevels": (),
    "radius_um": 0.3,
    "dps": 0.01,
    "height_mm": 60.0,
    "clamp_mm": None,
}


@pytest.mark.parametrize("percent", [5.0, 1.0, 0.3])
@pytest.mark.parametrize(
    "shape", [{}, {"bevels": ((0.0, 25.0, 2.0),)}, {"land_um": 8.0}, {"radius_um": 0.05}]
)
def test_the_estimate_is_good_to_a_quarter(
    percent: float, shape: dict[str, Any], edge: Edge
) -> None:
    # 0.87 to 1.19 of it on the rack's knives at 0.1 to 5 %
    outline = edge(**shape)
    resolution = Resolution.for_accuracy(percent)
    made = mesh_outline(outline, ENDS, resolution).triangles.shape[1]
    assert made == pytest.approx(estimated_triangles(outline, ENDS, resolution), rel=0.25)


def test_a_needle_is_refused_with_the_accuracy_that_fits(edge: Edge) -> None:
    outline = edge(**NEEDLE)
    with pytest.raises(BadInput) as caught:
        check_element_budget(outline, {}, 0.5)
    (problem,) = caught.value.problems
    assert problem.where == "accuracy_percent"
    told = re.search(
        r"is 0\.5 %.*about ([\d,]+) triangles.*accuracy_percent = ([\d.]+) fits", str(problem)
    )
    assert told is not None
    assert int(told[1].replace(",", "")) > MOST_TRIANGLES
    fits = check_element_budget(outline, {}, float(told[2]))  # and it does
    assert 0 < fits <= MOST_TRIANGLES
    finer = max(p for p in element_sizes.COARSER if p < float(told[2]))
    with pytest.raises(BadInput):
        check_element_budget(outline, {}, finer)


def test_where_nothing_fits_the_clamp_is_advised(
    edge: Edge, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(element_sizes, "MOST_TRIANGLES", 100)
    with pytest.raises(BadInput, match=r"no accuracy makes that fit.*support\.clamp_depth_mm"):
        check_element_budget(edge(), {}, 1.0)


def test_sizes_are_smallest_at_the_tip_and_grow_from_each_feature(edge: Edge) -> None:
    outline = edge()
    resolution = Resolution.for_accuracy(1.0)
    sizes = sizes_of(outline, ENDS, resolution)
    assert float(sizes.at(0.0, 0.0)) == pytest.approx(1.5e-3 / resolution.across_tip)
    for depth in (0.1, 1.5):  # the patch's ends
        there = float(sizes.at(depth, outline.face_y_mm("left", depth)))
        assert there <= float(outline.thickness_mm(depth)) / resolution.at_patch_end
    # nowhere do they grow faster than asked
    x = np.linspace(0.0, outline.depth_mm, 2000)
    y = outline.face_y_mm("left", x)
    gain = np.abs(np.diff(sizes.at(x, y))) / np.hypot(np.diff(x), np.diff(y))
    widening = np.abs(np.diff(outline.thickness_mm(x))) / np.hypot(np.diff(x), np.diff(y))
    allowed = np.maximum(resolution.growth, widening / resolution.across_thickness)
    assert (gain <= allowed * (1 + 1e-9)).all()


def test_vertices_stand_on_the_face_at_each_fixed_depth(edge: Edge) -> None:
    outline = edge()
    sizes = sizes_of(outline, ENDS, Resolution.for_accuracy(1.0))
    for side in SIDES:
        x, y, size = np.array(face_vertices(sizes, side, ENDS.get(side, ()))).T
        assert (np.diff(x) > 0).all()
        assert (size > 0).all()
        assert np.abs(y - outline.face_y_mm(side, x)).max() <= 1e-15
        ends = [run.end_mm[0] for run in outline.face(side)]
        assert {*ends, *ENDS.get(side, ()), outline.face_begins_mm(side)} <= set(x)


@pytest.mark.parametrize("tip", [{"radius_um": 50.0}, {"land_um": 80.0}])
def test_a_spot_on_the_tip_makes_its_middle_finer(edge: Edge, tip: dict[str, Any]) -> None:
    outline = edge(**tip, clamp_mm=1.0)
    plain = Resolution.for_accuracy(1.0)
    wanted = 0.001  # mm: a tenth of the tip's own elements
    shortest = []
    for spots in ((), ((0.0, 0.0, wanted),)):
        mesh = mesh_outline(outline, {}, dataclasses.replace(plain, spots=spots))
        begin, end, _ = mesh.boundary["tip"]
        length = np.hypot(*(mesh.points_mm[:, end] - mesh.points_mm[:, begin]))
        shortest.append(float(length[(begin == mesh.foremost) | (end == mesh.foremost)].max()))
    # gmsh divides a line so that it fits, and sizes grow along the first element too
    assert shortest[0] > 5.0 * wanted
    assert shortest[1] == pytest.approx(wanted, rel=0.25)


def test_a_spot_elsewhere_leaves_the_tip_alone(edge: Edge) -> None:
    outline = edge(radius_um=50.0)
    resolution = Resolution.for_accuracy(1.0)
    far = dataclasses.replace(resolution, spots=((1.0, 0.1, 1e-6),))
    assert sizes_of(outline, {}, far).at_foremost_mm == sizes_of(outline, {}, far).at_tip_mm
