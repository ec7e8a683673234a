"""Meshes: they cover the section, their boundaries are its own, and any blade gets one.

The area is taken apart from the code's own check: by quadrature of the Jacobian of each six-node
triangle, which is exact for its four-cornered sum of quadratics.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.inputs.door import validated_arguments
from simedge.inputs.profile import Profile
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import SIDES, Outline, build_outline

Edge = Callable[..., Outline]
USUAL = Resolution.for_accuracy(1.0)

SHAPES: dict[str, dict[str, Any]] = {
    "rope knife": {},
    "keen razor": {"radius_um": 0.02, "bevels": ((8.0, 8.0, 1.0),), "clamp_mm": 6.0},
    "axe": {
        "radius_um": 20.0,
        "bevels": ((17.5, 17.5, 0.8), (12.0, 12.0, 9.0)),
        "height_mm": 60.0,
        "spine_thickness_mm": 20.0,
        "clamp_mm": 45.0,
    },
    "keen axe": {
        "radius_um": 0.02,
        "bevels": ((17.5, 17.5, 0.8), (12.0, 12.0, 9.0)),
        "height_mm": 60.0,
        "spine_thickness_mm": 20.0,
        "clamp_mm": None,
    },
    "chisel": {"bevels": ((0.0, 25.0, 2.0),)},
    "unequal sides": {"bevels": ((20.0, 12.0, 0.05), (10.0, 12.0, 1.0)), "left_fraction": 0.3},
    "land": {"land_um": 8.0},
    "land on one side": {"land_um": 20.0, "bevels": ((0.0, 20.0, 0.5),)},
    "blunt": {"bevels": (), "radius_um": 900.0},
    "square": {"bevels": (), "dps": 45.0, "height_mm": 2.0, "clamp_mm": 1.9},
}


def meshed(
    outline: Outline, accuracy_percent: float = 1.0, **patch_ends: tuple[float, ...]
) -> SectionMesh:
    return mesh_outline(outline, patch_ends, Resolution.for_accuracy(accuracy_percent))  # type: ignore[arg-type]


def jacobians(mesh: SectionMesh) -> tuple[np.ndarray, np.ndarray]:
    """Give the Jacobian's determinant at quadrature points, shape (points, triangles); weights."""
    # a rule of six points, exact to fourth order; the determinant is quadratic
    corner, middle = 0.091576213509771, 0.445948490915965
    places = [
        (corner, corner), (1 - 2 * corner, corner), (corner, 1 - 2 * corner),
        (middle, middle), (1 - 2 * middle, middle), (middle, 1 - 2 * middle),
    ]  # fmt: skip
    weights = np.array([0.109951743655322] * 3 + [0.223381589678011] * 3) / 2
    values = []
    for r, s in places:
        t = 1 - r - s
        by_r = np.array([1 - 4 * t, 4 * r - 1, 0, 4 * (t - r), 4 * s, -4 * s])
        by_s = np.array([1 - 4 * t, 0, 4 * s - 1, -4 * r, 4 * r, 4 * (t - s)])
        nodes = mesh.points_mm[:, mesh.triangles]
        (xr, yr), (xs, ys) = (
            np.einsum("ckn,k->cn", nodes, by_r),
            np.einsum("ckn,k->cn", nodes, by_s),
        )
        values.append(xr * ys - xs * yr)
    return np.array(values), weights


@pytest.mark.parametrize("name", SHAPES)
def test_mesh_covers_the_section_once(name: str, edge: Edge) -> None:
    outline = edge(**SHAPES[name])
    mesh = meshed(outline)
    determinant, weights = jacobians(mesh)
    assert determinant.min() > 0
    assert weights @ determinant.sum(axis=1) == pytest.approx(outline.area_mm2, rel=1e-6)
    # corners first, every point used once and none twice
    assert sorted(np.unique(mesh.triangles[:3])) == list(range(mesh.corners))
    assert np.unique(mesh.triangles).size == mesh.points_mm.shape[1]
    assert np.unique(mesh.points_mm.T, axis=0).shape[0] == mesh.points_mm.shape[1]
    # V - E + F = 1 for a surface without holes, the middles being the edges
    edges = mesh.points_mm.shape[1] - mesh.corners
    assert mesh.corners - edges + mesh.triangles.shape[1] == 1
    assert not mesh.points_mm.flags.writeable
    assert not mesh.triangles.flags.writeable


@pytest.mark.parametrize("name", SHAPES)
def test_boundaries_lie_where_the_outline_is(name: str, edge: Edge) -> None:
    outline = edge(**SHAPES[name])
    mesh = meshed(outline)
    x, y = mesh.points_mm
    slack = 1e-12 * outline.depth_mm
    for side in SIDES:
        points = np.unique(mesh.boundary[side])
        assert np.abs(y[points] - outline.face_y_mm(side, x[points])).max() <= slack
        for run in outline.face(side):  # shoulders are corners of triangles
            assert np.hypot(*(mesh.points_mm[:, : mesh.corners].T - run.end_mm).T).min() <= slack
    assert np.abs(x[np.unique(mesh.boundary["base"])] - outline.depth_mm).max() <= slack
    tip = np.unique(mesh.boundary["tip"])
    if outline.tip.kind == "rounded":
        away = np.hypot(x[tip] - outline.tip.radius_mm, y[tip])
        assert np.abs(away / outline.tip.radius_mm - 1).max() <= 1e-9
    else:
        assert np.abs(x[tip]).max() == 0.0
    assert np.hypot(x[mesh.foremost], y[mesh.foremost]) <= slack


@pytest.mark.parametrize("name", SHAPES)
def test_boundaries_close_into_one_loop(name: str, edge: Edge) -> None:
    mesh = meshed(edge(**SHAPES[name]))
    assert set(mesh.boundary) == {"tip", "left", "right", "base"}
    edges = np.concatenate(list(mesh.boundary.values()), axis=1)
    ends, counts = np.unique(edges[:2], return_counts=True)
    assert set(counts) == {2}
    assert np.unique(edges[2]).size == edges.shape[1] == ends.size
    # they are edges of triangles, and no other edge belongs to one triangle only
    middles, owners = np.unique(mesh.triangles[3:], return_counts=True)
    assert set(middles[owners == 1]) == set(edges[2])
    lone = {frozenset(pair) for pair in edges[:2].T.tolist()}
    sides = np.concatenate(
        [mesh.triangles[[a, b, m]] for a, b, m in ((0, 1, 3), (1, 2, 4), (2, 0, 5))], axis=1
    )
    outer = sides[:, np.isin(sides[2], edges[2])]
    assert {frozenset(pair) for pair in outer[:2].T.tolist()} == lone


@pytest.mark.parametrize("name", ["rope knife", "land", "keen axe", "blunt"])
def test_an_even_section_is_divided_evenly_along_its_boundary(name: str, edge: Edge) -> None:
    mesh = meshed(edge(**SHAPES[name]))
    mirrored = {}
    for side in SIDES:
        points = mesh.points_mm[:, np.unique(mesh.boundary[side])] * [
            [1.0],
            [1.0 if side == "left" else -1.0],
        ]
        mirrored[side] = points[:, np.argsort(points[0])]
    assert mirrored["left"] == pytest.approx(mirrored["right"], rel=1e-12, abs=1e-15)


def test_edges_inside_are_straight(edge: Edge) -> None:
    mesh = meshed(edge())
    points = mesh.points_mm
    curved = set(mesh.boundary["tip"][2].tolist())
    for a, b, middle in ((0, 1, 3), (1, 2, 4), (2, 0, 5)):
        straight = np.array([m not in curved for m in mesh.triangles[middle]])
        begin, end, half = (points[:, mesh.triangles[k][straight]] for k in (a, b, middle))
        length = np.hypot(*(end - begin))
        assert (np.hypot(*(half - 0.5 * (begin + end))) / length).max() <= 1e-9


@pytest.mark.parametrize("name", SHAPES)
def test_no_slivers(name: str, edge: Edge) -> None:
    mesh = meshed(edge(**SHAPES[name]))
    a, b, c = (mesh.points_mm[:, mesh.triangles[k]] for k in range(3))
    sides = [np.hypot(*(p - q)) for p, q in ((b, c), (c, a), (a, b))]
    largest_cosine = max(
        ((sides[j] ** 2 + sides[k] ** 2 - sides[i] ** 2) / (2 * sides[j] * sides[k])).max()
        for i, j, k in ((0, 1, 2), (1, 2, 0), (2, 0, 1))
    )
    # 15 degrees: a triangle twice as slim as that of a square cut in four
    assert np.degrees(np.arccos(largest_cosine)) > 15.0


def test_nodes_stand_at_the_ends_of_what_is_pressed(edge: Edge) -> None:
    outline = edge()
    ends = {"left": (0.02, 0.1234567, 1.5), "right": (0.3, 11.9)}
    mesh = meshed(outline, **ends)
    for side, depths in ends.items():
        points = mesh.points_mm[:, np.unique(mesh.boundary[side][:2])]
        for depth in depths:
            y = float(outline.face_y_mm(side, depth))  # type: ignore[arg-type]
            assert np.hypot(points[0] - depth, points[1] - y).min() <= 1e-12


def test_elements_are_smallest_where_stress_changes_fastest(edge: Edge) -> None:
    outline = edge()
    plain, patched = meshed(outline), meshed(outline, left=(5.0,))
    x, y = plain.points_mm
    foremost = np.sort(np.hypot(x, y))[1:4].max()
    assert foremost < outline.tip.radius_mm / 2
    assert patched.triangles.shape[1] > plain.triangles.shape[1]


def test_a_finer_accuracy_has_more_elements(edge: Edge) -> None:
    counts = [meshed(edge(), accuracy).triangles.shape[1] for accuracy in (10.0, 1.0, 0.1)]
    # sizes go with the cube root: 100 times the accuracy is 4.6 times as fine, 21 times as many
    assert 10 * counts[0] < counts[2] < 40 * counts[0]
    assert counts[0] < counts[1] < counts[2]


def test_the_same_mesh_each_time_to_the_bit(edge: Edge) -> None:
    one, other = meshed(edge(), left=(0.5,)), meshed(edge(), left=(0.5,))
    assert np.array_equal(one.points_mm, other.points_mm)
    assert np.array_equal(one.triangles, other.triangles)


# ---------------------------------------------------------------- arcs


@pytest.mark.parametrize("accuracy_percent", [0.5, 5.0])
def test_a_mesh_of_arcs_covers_the_section(
    grind: str, accuracy_percent: float, ground: Callable[..., Outline]
) -> None:
    outline = ground(grind, 0.7)
    depth = 0.4 * outline.depth_mm
    mesh = meshed(outline, accuracy_percent, left=(depth,), right=(0.3 * depth,))
    determinant, weights = jacobians(mesh)
    assert determinant.min() > 0
    assert weights @ determinant.sum(axis=1) == pytest.approx(outline.area_mm2, rel=1e-6)


def test_nodes_lie_on_the_arcs_middles_too(grind: str, ground: Callable[..., Outline]) -> None:
    outline = ground(grind, 0.7)
    pressed = 0.37 * outline.depth_mm
    mesh = meshed(outline, 3.0, left=(pressed,))
    slack = 1e-12 * outline.depth_mm
    for side in SIDES:
        edges = mesh.boundary[side]
        points = mesh.points_mm[:, np.unique(edges)]
        for run in outline.face(side):
            low, high = run.begin_mm[0] - slack, run.end_mm[0] + slack
            mine = points[:, (points[0] >= low) & (points[0] <= high)]
            if run.is_straight:
                assert np.abs(mine[1] - run.y_mm(mine[0])).max() <= slack
            else:  # centres of wide arcs lie metres away: rounding goes with the radius
                away = np.hypot(*(mine - np.array(run.centre_mm)[:, None]))
                far = 1e-15 * run.curve.radius_mm
                assert np.abs(away - run.curve.radius_mm).max() <= slack + 4 * far
            assert np.hypot(*(points.T - run.end_mm).T).min() <= slack
        # a middle stands halfway along its piece of the arc: as far from one end as the other
        begin, end, middle = mesh.points_mm[:, edges].transpose(1, 0, 2)
        halves = [np.hypot(*(middle - at)) for at in (begin, end)]
        assert halves[0] == pytest.approx(halves[1], rel=1e-6)
    on_left = mesh.points_mm[:, np.unique(mesh.boundary["left"][:2])]
    assert np.abs(on_left[0] - pressed).min() <= slack


def test_boundaries_of_arcs_are_as_long_as_they(grind: str, ground: Callable[..., Outline]) -> None:
    outline = ground(grind)
    mesh = meshed(outline, 1.0)
    for side in SIDES:
        begin, end, middle = mesh.points_mm[:, mesh.boundary[side]].transpose(1, 0, 2)
        # parabolas, by Simpson's rule on their speed: good to a turn of 0.05 to the fourth
        speeds = [-3 * begin + 4 * middle - end, end - begin, begin - 4 * middle + 3 * end]
        pieces = sum(w * np.hypot(*v) for w, v in zip((1, 4, 1), speeds, strict=True)) / 6
        wanted = sum(run.length_mm for run in outline.face(side))
        assert pieces.sum() == pytest.approx(wanted, rel=1e-6)


def test_edges_inside_a_mesh_of_arcs_are_straight(
    grind: str, ground: Callable[..., Outline]
) -> None:
    mesh = meshed(ground(grind), 5.0)
    outer = {int(node) for edges in mesh.boundary.values() for node in edges[2]}
    for a, b, middle in ((0, 1, 3), (1, 2, 4), (2, 0, 5)):
        inner = np.array([int(m) not in outer for m in mesh.triangles[middle]])
        begin, end, half = (mesh.points_mm[:, mesh.triangles[k][inner]] for k in (a, b, middle))
        size = np.hypot(*(end - begin))
        assert (np.hypot(*(half - 0.5 * (begin + end))) / size).max() <= 1e-9


@pytest.mark.usefixtures("deadline")
def test_a_wide_arc_down_to_a_sharp_apex_is_meshed_in_no_time(
    ground: Callable[..., Outline],
) -> None:
    # gmsh's own arcs took half a minute here, for elements a millionth of the radius
    assert meshed(ground("convex to a sharp apex"), 3.0).triangles.shape[1] < 10_000


@pytest.mark.parametrize("accuracy_percent", [1.0, 10.0])
def test_the_arc_of_a_tip_that_is_much_of_the_blade(accuracy_percent: float, edge: Edge) -> None:
    # its parabolas alone missed a millionth of the area at 8 % and more
    outline = edge((), radius_um=3559.0, dps=7.0, height_mm=13.9, clamp_mm=None)
    determinant, weights = jacobians(meshed(outline, accuracy_percent))
    assert weights @ determinant.sum(axis=1) == pytest.approx(outline.area_mm2, rel=1e-6)


# ---------------------------------------------------------------- what people type


@pytest.mark.usefixtures("deadline")
@pytest.mark.parametrize("patch_ends", [(), (0.0, 1.0)])
def test_a_sharp_tip_is_meshed(patch_ends: tuple[float, ...], edge: Edge) -> None:
    # Thickness is 0 there: sizes that are a share of it would end in no size at all.
    outline = edge(sharp=True)
    mesh = meshed(outline, left=patch_ends)
    determinant, weights = jacobians(mesh)
    assert weights @ determinant.sum(axis=1) == pytest.approx(outline.area_mm2, rel=1e-6)
    assert mesh.boundary["tip"].shape[1] == 0


@pytest.mark.parametrize("accuracy_percent", [0.5, 1.0, 3.0, 10.0])
@pytest.mark.parametrize("radius_um", [300.0, 1000.0, 1500.0])
def test_a_blunt_tip_is_meshed_at_any_accuracy(
    radius_um: float, accuracy_percent: float, edge: Edge
) -> None:
    outline = edge((), radius_um=radius_um, clamp_mm=None)
    determinant, weights = jacobians(meshed(outline, accuracy_percent))
    assert weights @ determinant.sum(axis=1) == pytest.approx(outline.area_mm2, rel=1e-6)


# ---------------------------------------------------------------- any blade


@st.composite
def blades(draw: st.DrawFn) -> dict[str, Any]:
    """Give blades of all sizes: angles that fall off towards the spine, the rest as it comes."""
    height = draw(st.floats(5.0, 80.0))
    count = draw(st.integers(0, 3))
    sides = sorted(
        ((draw(st.floats(0.0, 40.0)), draw(st.floats(3.0, 40.0))) for _ in range(count)),
        key=lambda pair: -sum(pair),
    )
    heights = [draw(st.floats(1e-3, 0.1)) * height for _ in range(count)]
    flip = draw(st.booleans())
    apex = draw(
        st.one_of(
            st.floats(-1.7, 2.0).map(lambda power: {"radius_um": 10**power}),
            st.floats(0.0, 2.5).map(lambda power: {"land_um": 10**power}),
        )
    )
    grind: dict[str, Any] = draw(
        st.fixed_dictionaries({}, optional={"left_fraction": st.floats(0.0, 1.0)})
    )
    return {
        "height_mm": height,
        "spine_thickness_mm": height * draw(st.floats(0.03, 0.5)),
        "apex": apex,
        "bevels": [
            {
                "left_dps": pair[flip],
                "right_dps": pair[not flip],
                "height_mm": extent,
            }
            for pair, extent in zip(sides, heights, strict=True)
        ],
        "primary_grind": grind,
    }


@settings(max_examples=60)
@given(fields=blades(), clamp=st.floats(0.2, 1.0), pressed=st.floats(0.01, 0.95))
def test_any_blade_is_meshed(fields: dict[str, Any], clamp: float, pressed: float) -> None:
    try:
        profile = validated_arguments(Profile, fields)
    except BadInput:
        assume(False)
    outline = build_outline(profile.apex, profile.faces, clamp * profile.faces.height_mm)
    mesh = meshed(outline, 5.0, left=(pressed * outline.depth_mm,))
    determinant, weights = jacobians(mesh)
    assert determinant.min() > 0
    assert weights @ determinant.sum(axis=1) == pytest.approx(outline.area_mm2, rel=1e-6)
