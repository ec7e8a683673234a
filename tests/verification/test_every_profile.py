"""Any blade that a person may write down is meshed, solved and balanced, or refused in words.

By definition: the triangles cover the area that outline and integrals give, what acts is what the
clamp takes, and nothing that is shown is anything but a finite number. The blades are valid by
construction: angles grow towards the apex, arcs turn less than their chords allow.
"""

from __future__ import annotations

import time
from itertools import pairwise
from math import cos, degrees, isfinite, radians, sin, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge.errors import BadInput
from simedge.fem.elastic import displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.nodal_forces import nodal_forces
from simedge.fem.stress import recover_stress
from simedge.inputs.door import validated_arguments
from simedge.inputs.faces import nearest_clamp_mm
from simedge.inputs.profile import Profile
from simedge.section.element_sizes import Resolution, estimated_triangles
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import Outline, build_outline
from simedge.section.tractions import FaceTraction, TipTraction, Tractions, resultant_up_to
from simedge.strength.stations import read_stations
from simedge.strength.zones import trusted_depth_mm

STEEL = Elasticity(youngs_modulus_mpa=205e3, poissons_ratio=0.285)
#: A coarse mesh: what is looked for is whether there is an answer, not how good it is.
COARSE = Resolution.for_accuracy(8.0)
#: A refusal needs no mesh: it takes milliseconds; the issue allows 2 s.
LONGEST_REFUSAL_S = 2.0


# ---------------------------------------------------------------- blades that are valid


def _sides(included_deg: float, manner: str, share: float) -> tuple[float, float]:
    if manner == "even":
        return included_deg / 2, included_deg / 2
    if manner == "unequal":
        return share * included_deg, (1 - share) * included_deg
    return (0.0, included_deg) if manner == "left straight" else (included_deg, 0.0)


def _angle_keys(sides: tuple[float, float]) -> dict[str, float]:
    if sides[0] == sides[1]:
        return {"dps": sides[0]}
    return {"left_dps": sides[0], "right_dps": sides[1]}


def _turned(draw: st.DrawFn, sides: tuple[float, float]) -> float:
    """Draw by how much an arc turns from its chord to either end, radians."""
    slimmer = min(side for side in sides if side > 0)
    return radians(slimmer) * draw(st.floats(0.01, 0.3))


def _apex(draw: st.DrawFn) -> tuple[dict[str, Any], float]:
    """Draw an apex, and how much of the first bevel it may take, mm."""
    kind = draw(st.sampled_from(["radius_um", "radius_um", "land_um", "sharp"]))
    if kind == "sharp":
        return {"sharp": True}, 0.0
    size = 10.0 ** draw(st.floats(-1.3, 1.69))  # 0.05 to 49 µm
    return {kind: size}, size / 1000


@st.composite
def valid_blades(draw: st.DrawFn) -> dict[str, Any]:
    """Give a blade by the keys of its file, every number of it admissible.

    A stretch has at most 0.4 of the included angle of the one in front, shared by the sides
    alike, and an arc turns by at most 0.3 of its chord's angle: where it ends a front one keeps
    0.7 of its angle, and what begins behind it has at most 0.4 x 1.3 of that.
    """
    height = draw(st.floats(5.0, 60.0))
    count = draw(st.integers(0, 3))
    manner = draw(st.sampled_from(["even", "even", "unequal", "left straight", "right straight"]))
    share = draw(st.floats(0.3, 0.7))
    apex, tip = _apex(draw)
    widest = 44.0 if "straight" in manner else 62.0
    included = draw(st.floats(6.0 + 10.0 * count, min(24.0 + 20.0 * count, widest)))
    bevels: list[dict[str, Any]] = []
    # the first bevel is more than four tips high, all together less than half the blade
    own = 4.5 * tip + draw(st.floats(3e-4, 0.05)) * height
    for _ in range(count):
        sides = _sides(included, manner, share)
        bevel: dict[str, Any] = {**_angle_keys(sides), "height_mm": own}
        if draw(st.booleans()):
            half_chord = 0.5 * (own if bevels else own - 1.1 * tip)
            turn = _turned(draw, sides)
            bevel |= {"kind": "convex", "bulge_um": 1000 * half_chord * tan(turn / 2)}
        bevels.append(bevel)
        included *= draw(st.floats(0.3, 0.4))
        own = draw(st.floats(1e-3, 0.1)) * height
    begins = sum(bevel["height_mm"] for bevel in bevels)
    sides = _sides(included, manner, share)
    kind = draw(st.sampled_from(["flat", "hollow", "convex", "part-height"]))
    grind: dict[str, Any] = {"kind": kind, **_angle_keys(sides)}
    end = height
    if kind == "part-height" or (kind == "hollow" and draw(st.booleans())):
        end = grind["grind_height_mm"] = begins + (height - begins) * draw(st.floats(0.5, 1.0))
    half_chord, turn = 0.5 * (end - begins - 1.1 * tip), _turned(draw, sides)
    if kind == "hollow":
        grind["wheel_radius_mm"] = min(1.5 * half_chord / sin(turn), 5000.0)
    elif kind == "convex":
        grind["bulge_mm"] = half_chord * tan(turn / 2)
    return {"height_mm": height, "apex": apex, "bevels": bevels, "primary_grind": grind}


def by_spine(fields: dict[str, Any], profile: Profile) -> dict[str, Any]:
    """Give the same blade by its spine instead of the angles of its primary grind."""
    faces = profile.faces
    ends = [face[-1].end_mm[1] for face in (faces.left, faces.right)]
    grind = {key: value for key, value in fields["primary_grind"].items() if "dps" not in key}
    begins = [0.0, 0.0]
    if fields["bevels"]:
        at = faces.fields.index(("primary_grind",))
        begins = [face[at].begin_mm[1] for face in (faces.left, faces.right)]
    elif profile.apex.land_um is not None:
        begins = [profile.apex.land_um / 2000] * 2
    gained = [end - begin for end, begin in zip(ends, begins, strict=True)]
    grind["left_fraction"] = gained[0] / sum(gained)
    sides = faces.sides_deg[faces.fields.index(("primary_grind",))]
    if 0.0 in sides:
        grind["left_fraction"] = float(sides[1] == 0.0)
    return {**fields, "spine_thickness_mm": sum(ends), "primary_grind": grind}


def jacobians(mesh: SectionMesh) -> tuple[np.ndarray, float]:
    """Give the Jacobian's determinant at three inner points of each triangle, and the area."""
    values = []
    for r, s in ((1 / 6, 1 / 6), (2 / 3, 1 / 6), (1 / 6, 2 / 3)):  # exact for quadratics
        t = 1 - r - s
        by_r = np.array([1 - 4 * t, 4 * r - 1, 0, 4 * (t - r), 4 * s, -4 * s])
        by_s = np.array([1 - 4 * t, 0, 4 * s - 1, -4 * r, 4 * r, 4 * (t - s)])
        nodes = mesh.points_mm[:, mesh.triangles]
        (xr, yr), (xs, ys) = (np.einsum("ckn,k->cn", nodes, by) for by in (by_r, by_s))
        values.append(xr * ys - xs * yr)
    return np.array(values), float(np.sum(values) / 6)


def area_by_strips(outline: Outline) -> float:
    """Integrate the thickness over the depth, by Gauss between all places where a face turns."""
    places, weights = np.polynomial.legendre.leggauss(20)
    knots = {0.0, outline.depth_mm}
    for run in (*outline.left, *outline.right):
        knots |= {run.begin_mm[0], run.end_mm[0]}
    total, ends = 0.0, sorted(knots)
    for low, high in pairwise(ends):
        # graded towards both ends, where an arc may stand upright: t^2 (3 - 2 t)
        t = 0.5 * (places + 1)
        x = low + (high - low) * t**2 * (3 - 2 * t)
        total += float(weights @ (outline.thickness_mm(x) * 6 * t * (1 - t))) * (high - low) / 2
    return total


@settings(max_examples=300)
@given(valid_blades())
def test_angles_or_spine_tell_the_same_blade(fields: dict[str, Any]) -> None:
    profile = validated_arguments(Profile, fields)  # none of these may be refused
    again = validated_arguments(Profile, by_spine(fields, profile))
    for one, other in (
        (profile.faces.left, again.faces.left),
        (profile.faces.right, again.faces.right),
    ):
        for curve, twin in zip(one, other, strict=True):
            # the spine is a difference of rounded places: an angle of a few degrees loses digits
            assert twin.begin_mm == pytest.approx(curve.begin_mm, rel=1e-9, abs=1e-12)
            assert twin.end_mm == pytest.approx(curve.end_mm, rel=1e-9, abs=1e-12)
            assert twin.bulge_mm == pytest.approx(curve.bulge_mm, rel=1e-9, abs=1e-12)


@pytest.mark.slow
@settings(max_examples=200)
@given(
    fields=valid_blades(),
    clamp=st.floats(0.2, 1.0),
    ends=st.tuples(st.floats(0.0, 0.9), st.floats(0.05, 0.9)),
    side=st.sampled_from(["left", "right"]),
    friction=st.floats(0.0, 0.5),
    direction_deg=st.floats(-90.0, 90.0),
    spread=st.sampled_from(["smooth", "uniform"]),
)
def test_every_valid_profile_is_answered(
    fields: dict[str, Any],
    clamp: float,
    ends: tuple[float, float],
    side: Any,
    friction: float,
    direction_deg: float,
    spread: Any,
) -> None:
    profile = validated_arguments(Profile, fields)  # none of these may be refused
    faces = profile.faces
    depth = max(clamp * faces.height_mm, 1.2 * nearest_clamp_mm(faces))
    outline = build_outline(profile.apex, faces, depth)
    begins = outline.face_begins_mm(side)
    low, high = sorted(begins + share * (0.95 * depth - begins) for share in ends)
    high = max(high, low + 0.02 * depth)
    angle = radians(direction_deg)
    tip = TipTraction(
        axial_n_per_mm=3.0 * cos(angle), lateral_n_per_mm=3.0 * sin(angle), spread=spread
    )
    face = FaceTraction(side=side, from_mm=low, to_mm=high, pressure_mpa=20.0, friction=friction)
    loads = (Tractions(name="tip", tip=(tip,)), Tractions(name="face", faces=(face,)))

    mesh = mesh_outline(outline, {side: (low, high)}, COARSE)
    determinant, area = jacobians(mesh)
    assert determinant.min() > 0
    assert area == pytest.approx(outline.area_mm2, rel=1e-6)
    # a rounded tip stands upright where it begins: Gauss gives that to a few parts in a million
    tip_area = outline.tip.width_mm * outline.tip.radius_mm
    assert area_by_strips(outline) == pytest.approx(outline.area_mm2, rel=1e-9, abs=1e-4 * tip_area)

    forces = [nodal_forces(mesh, outline, load) for load in loads]
    moved = displace(hold_section(mesh, STEEL), forces)  # refuses what does not balance to 1e-9
    assert np.isfinite(moved.at_points_mm).all()
    for load, force in zip(loads, forces, strict=True):
        wanted = resultant_up_to(load, outline, [depth])
        x, y = mesh.points_mm
        total = (*force.sum(axis=1), float((x * force[1] - y * force[0]).sum()))
        size = float(np.abs(force).sum())
        assert total[0] == pytest.approx(wanted.axial_n_per_mm[0], abs=1e-5 * size)
        assert total[1] == pytest.approx(wanted.lateral_n_per_mm[0], abs=1e-5 * size)
        assert total[2] == pytest.approx(wanted.moment_n[0], abs=1e-5 * size * depth)
    fields_of_stress = recover_stress(moved, outline, loads)
    for field in fields_of_stress:
        assert np.isfinite(field.stress_mpa).all()
    for station in read_stations(fields_of_stress, loads, outline):
        assert np.isfinite(station.left_face_mpa).all()
        assert np.isfinite(station.moment_n).all()
    assert 0 < trusted_depth_mm(outline) < depth


# ---------------------------------------------------------------- blades that are none


def _number(unit: str) -> st.SearchStrategy[Any]:
    usual = {"deg": 45.0, "mm": 60.0, "um": 200.0, "": 1.0}[unit]
    return st.one_of(
        st.floats(0.0, usual),
        st.floats(-usual, 20 * usual),
        st.floats(0.0, 1e-6),
        st.sampled_from([0.0, -1.0, 1e-300, 1e300, float("nan"), float("inf"), True, "3", None]),
    )


@st.composite
def spoiled_blades(draw: st.DrawFn) -> dict[str, Any]:
    """Give a valid blade with one to three of its numbers replaced by what people might type."""
    blade: dict[str, Any] = draw(valid_blades())
    for _ in range(draw(st.integers(1, 3))):
        table = draw(
            st.sampled_from([blade, blade["apex"], blade["primary_grind"], *blade["bevels"]])
        )
        keys = sorted(key for key, value in table.items() if isinstance(value, float | int))
        if table is blade:
            keys.append("spine_thickness_mm")
        if not keys:
            continue
        key = draw(st.sampled_from(keys))
        unit = "deg" if key.endswith("dps") else key.rpartition("_")[2]
        table[key] = draw(_number(unit if unit in ("mm", "um", "deg") else ""))
    return blade


@settings(max_examples=400)
@given(spoiled_blades())
def test_a_spoiled_profile_is_a_blade_or_refused_in_words(fields: dict[str, Any]) -> None:
    began, refused = time.perf_counter(), None
    try:
        profile = validated_arguments(Profile, fields)
        faces = profile.faces
    except BadInput as refusal:
        refused = refusal
    if refused is not None:
        assert time.perf_counter() - began < LONGEST_REFUSAL_S
        assert refused.exit_code == 2
        for problem in refused.problems:
            assert problem.message.strip()
            assert "\n" not in str(problem)
        return
    for curve in (*faces.left, *faces.right):
        assert curve.begin_mm[0] < curve.end_mm[0]
        for value in (*curve.begin_mm, *curve.end_mm, curve.bulge_mm, curve.begin_angle_rad):
            assert isfinite(value)
        assert abs(degrees(curve.begin_angle_rad)) <= 90.0 + 1e-9
        assert -1e-9 <= degrees(curve.end_angle_rad) <= 90.0
    outline = build_outline(profile.apex, faces)
    depths = np.linspace(1e-3, 1.0, 200) * outline.depth_mm
    assert (outline.thickness_mm(depths) > 0).all()


@pytest.mark.slow
@settings(max_examples=150)
@given(spoiled_blades())
def test_a_spoiled_profile_that_is_a_blade_is_meshed(fields: dict[str, Any]) -> None:
    try:
        profile = validated_arguments(Profile, fields)
    except BadInput:
        return
    outline = build_outline(profile.apex, profile.faces)
    if estimated_triangles(outline, {}, COARSE) > 20_000:
        return  # a foil thousands of times higher than thick: slow, or refused for that
    assert jacobians(mesh_outline(outline, {}, COARSE))[1] == pytest.approx(
        outline.area_mm2, rel=1e-6
    )
