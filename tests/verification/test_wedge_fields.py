"""The exact wedge fields solve the equations of elasticity, and scale and mirror as they must.

Nothing here comes from a table: equilibrium, compatibility, Hooke's law, what faces and arcs carry,
brute-force maxima. The tables are in `test_wedge_formulas`.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from simedge.strength.closed_form.wedge_constants import (
    plane_strain_modulus_mpa,
    plane_strain_poissons_ratio,
)
from simedge.strength.closed_form.wedge_displacement import (
    apex_force_displacement,
    apex_moment_displacement,
)
from simedge.strength.closed_form.wedge_stress import (
    apex_force_stress,
    apex_moment_stress,
    cartesian_stress,
    face_pressure_stress,
    face_shear_stress,
)
from simedge.strength.closed_form.wedge_yield import (
    deepest_yield_direction_rad,
    first_yield_lateral_load_n_per_mm,
    peak_distance_factor,
    peak_stress_factor,
    von_mises_plane_strain,
    yield_depth_mm,
)

NU = 0.3
FIELDS = {
    "axial force": lambda r, t, a: apex_force_stress(r, t, half_angle_rad=a, axial_n_per_mm=1.0),
    "lateral force": lambda r, t, a: apex_force_stress(
        r, t, half_angle_rad=a, lateral_n_per_mm=1.0
    ),
    "moment": lambda r, t, a: apex_moment_stress(r, t, half_angle_rad=a, moment_n=1.0),
    "pressure left": lambda r, t, a: face_pressure_stress(r, t, half_angle_rad=a, pressure_mpa=1.0),
    "pressure right": lambda r, t, a: face_pressure_stress(
        r, t, half_angle_rad=a, pressure_mpa=1.0, loaded_face="right"
    ),
    "shear left": lambda r, t, a: face_shear_stress(r, t, half_angle_rad=a, shear_mpa=1.0),
    "shear right": lambda r, t, a: face_shear_stress(
        r, t, half_angle_rad=a, shear_mpa=1.0, loaded_face="right"
    ),
}
every_field = pytest.mark.parametrize("field", FIELDS.values(), ids=FIELDS.keys())
every_angle = pytest.mark.parametrize("degrees", [1.0, 5.0, 15.0, 40.0], ids=lambda d: f"{d:g}deg")
half_angles = st.floats(math.radians(0.5), math.radians(60.0))
fractions = st.floats(-1.0, 1.0)
radii = st.floats(1e-3, 1e2)
# In steps of 1e-6: the squares of anything near 1e-160 underflow, and nobody cuts with that.
loads = st.floats(-50.0, 50.0).map(lambda load: round(load, 6))
stresses = st.floats(-1e3, 1e3).map(lambda stress: round(stress, 6))
never_hurry = settings(deadline=None, max_examples=60)


def slope(function, at: float, step: float = 1e-3):
    """Fourth-order central difference; step^4 leaves about 1e-11 of the value."""
    return (
        function(at - 2 * step)
        - 8 * function(at - step)
        + 8 * function(at + step)
        - function(at + 2 * step)
    ) / (12 * step)


def curvature(function, at: float, step: float = 2e-3):
    """Fourth-order central second difference; step^4 and rounding leave about 1e-9."""
    return (
        -function(at - 2 * step)
        + 16 * function(at - step)
        - 30 * function(at)
        + 16 * function(at + step)
        - function(at + 2 * step)
    ) / (12 * step**2)


# ---------------------------------------------------------------- the fields are solutions


@every_angle
@every_field
def test_stress_is_in_equilibrium(field, degrees: float) -> None:
    """Definition: zero divergence in polar coordinates, by central differences (error 1e-10)."""
    a = math.radians(degrees)
    r = 1.3
    step = min(1e-3, 0.05 * a)
    for t in (-0.8 * a, -0.2 * a, 0.5 * a):
        radial, hoop, shear = field(r, t, a)
        d_r = slope(lambda r, t=t: field(r, t, a), r)
        d_t = slope(lambda t: field(r, t, a), t, step)
        scale = max(abs(d_r).max(), abs(d_t).max(), abs(field(r, t, a)).max())
        assert abs(d_r[0] + d_t[2] / r + (radial - hoop) / r) < 1e-9 * scale
        assert abs(d_r[2] + d_t[1] / r + 2 * shear / r) < 1e-9 * scale


@every_angle
@every_field
def test_stress_is_compatible(field, degrees: float) -> None:
    """Definition: without body forces sigma_r + sigma_theta is harmonic."""
    a = math.radians(degrees)
    r, t = 1.3, 0.4 * a

    def trace(r: float, t: float) -> float:
        return float(field(r, t, a)[:2].sum())

    across = curvature(lambda x: trace(r, x), t, min(2e-3, 0.1 * a))
    along = curvature(lambda x: trace(x, t), r) + slope(lambda x: trace(x, t), r) / r
    # rounding of a second difference over a thin wedge: 1e-16 / (0.1 a)^2
    rounding = 1e-16 / min(2e-3, 0.1 * a) ** 2
    scale = abs(field(r, [-a, t, a], a)).max()
    assert abs(along + across / r**2) < (1e-8 + 30 * rounding) * scale


@every_angle
@pytest.mark.parametrize(
    ("name", "left", "right"),
    [
        ("axial force", (0.0, 0.0), (0.0, 0.0)),
        ("lateral force", (0.0, 0.0), (0.0, 0.0)),
        ("moment", (0.0, 0.0), (0.0, 0.0)),
        ("pressure left", (-1.0, 0.0), (0.0, 0.0)),
        ("pressure right", (0.0, 0.0), (-1.0, 0.0)),
        ("shear left", (0.0, 1.0), (0.0, 0.0)),
        ("shear right", (0.0, 0.0), (0.0, -1.0)),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_faces_carry_what_they_should(name, left, right, degrees: float) -> None:
    """Definition: sigma_theta and tau on the two faces; rounding only."""
    a = math.radians(degrees)
    stress = FIELDS[name](1.3, np.array([a, -a]), a)
    assert stress[1:, 0] == pytest.approx(left, abs=1e-13)
    assert stress[1:, 1] == pytest.approx(right, abs=1e-13)


@every_angle
@pytest.mark.parametrize("radius", [1.0, 2.5])
def test_arcs_carry_the_resultants(degrees: float, radius: float) -> None:
    """Definition: an arc holds what acts on the piece in front of it (notes, sections 1 to 3)."""
    a = math.radians(degrees)
    nodes, weights = np.polynomial.legendre.leggauss(40)
    t, w = nodes * a, weights * a
    c, s = math.cos(a), math.sin(a)
    expected = {
        "axial force": (1.0, 0.0, 0.0),
        "lateral force": (0.0, 1.0, 0.0),
        "moment": (0.0, 0.0, 1.0),
        "pressure left": (radius * s, -radius * c, -(radius**2) / 2),
        "pressure right": (radius * s, radius * c, radius**2 / 2),
        "shear left": (radius * c, radius * s, 0.0),
        "shear right": (radius * c, -radius * s, 0.0),
    }
    for name, field in FIELDS.items():
        radial, _, shear = field(radius, t, a)
        x = -radius * np.sum(w * (radial * np.cos(t) - shear * np.sin(t)))
        y = -radius * np.sum(w * (radial * np.sin(t) + shear * np.cos(t)))
        moment = -(radius**2) * np.sum(w * shear)
        assert (x, y, moment) == pytest.approx(expected[name], rel=1e-12, abs=1e-12), name


@every_angle
@pytest.mark.parametrize("load", ["axial force", "lateral force", "moment"])
@pytest.mark.parametrize("poissons_ratio", [0.0, 0.3, 0.5])
def test_displacement_obeys_hookes_law(degrees: float, load: str, poissons_ratio: float) -> None:
    """Definition: strains of the displacement (by central differences) are those of the stress."""
    a = math.radians(degrees)
    steel = {
        "half_angle_rad": a,
        "youngs_modulus_mpa": 200.0,
        "poissons_ratio": poissons_ratio,
    }

    def move(r: float, t: float):
        if load == "moment":
            return apex_moment_displacement(r, t, moment_n=1.0, **steel)
        forces = {"axial_n_per_mm": 1.0} if load == "axial force" else {"lateral_n_per_mm": 1.0}
        return apex_force_displacement(r, t, **forces, **steel)

    modulus = plane_strain_modulus_mpa(200.0, poissons_ratio)
    ratio = plane_strain_poissons_ratio(poissons_ratio)
    r = 1.3
    for t in (-0.7 * a, 0.3 * a):
        d_r = slope(lambda x, t=t: move(x, t), r)
        d_t = slope(lambda x: move(r, x), t, min(1e-3, 0.1 * a))
        u_r, u_t = move(r, t)
        radial, hoop, shear = FIELDS[load](r, t, a)
        strain = [d_r[0], u_r / r + d_t[1] / r, d_t[0] / r + d_r[1] - u_t / r]
        hooke = [radial - ratio * hoop, hoop - ratio * radial, 2 * (1 + ratio) * shear]
        scale = max(abs(u_t), abs(u_r), *(abs(part) for part in hooke))
        assert strain == pytest.approx([part / modulus for part in hooke], abs=1e-9 * scale)


# ---------------------------------------------------------------- conversions


def test_cartesian_components_are_the_turned_tensor() -> None:
    """Definition: R S R^T."""
    radial, hoop, shear, t = 3.0, -2.0, 0.7, 0.4
    turn = np.array([[math.cos(t), -math.sin(t)], [math.sin(t), math.cos(t)]])
    tensor = turn @ np.array([[radial, shear], [shear, hoop]]) @ turn.T
    stress = cartesian_stress(np.array([radial, hoop, shear]), t)
    assert stress == pytest.approx([tensor[0, 0], tensor[1, 1], tensor[0, 1]], rel=1e-14)


@given(stresses, stresses, stresses, st.floats(0.0, 0.5))
@never_hurry
def test_von_mises_is_that_of_the_whole_tensor(x: float, y: float, xy: float, nu: float) -> None:
    """Definition: sqrt(3/2 s:s) of the three-dimensional deviator, sigma_z = nu (x + y)."""
    tensor = np.array([[x, xy, 0], [xy, y, 0], [0, 0, nu * (x + y)]])
    deviator = tensor - np.trace(tensor) / 3 * np.eye(3)
    expected = math.sqrt(1.5 * np.sum(deviator**2))
    computed = float(von_mises_plane_strain(np.array([x, y, xy]), nu))
    # the reference subtracts the mean stress: rounding of the largest stress remains
    assert computed == pytest.approx(expected, rel=1e-12, abs=1e-12 * (abs(x) + abs(y) + abs(xy)))


# ---------------------------------------------------------------- properties


@given(half_angles, fractions, radii, loads, loads, st.floats(0.1, 10.0))
@never_hurry
def test_fields_scale_with_the_radius(a, fraction, r, p, q, stretch) -> None:
    """A force falls as 1/r, a moment as 1/r^2 (dimensional analysis)."""
    t = fraction * a
    forces = {"half_angle_rad": a, "axial_n_per_mm": p, "lateral_n_per_mm": q}
    near, far = (apex_force_stress(x, t, **forces) for x in (r, r * stretch))
    assert near == pytest.approx(far * stretch, rel=1e-12)
    near, far = (apex_moment_stress(x, t, half_angle_rad=a, moment_n=q) for x in (r, r * stretch))
    assert near == pytest.approx(far * stretch**2, rel=1e-12)


@given(half_angles, fractions, radii, loads, loads)
@never_hurry
def test_mirrored_loads_give_mirrored_stress(a, fraction, r, p, q) -> None:
    """Mirror at the bisector: theta, lateral load, moment and shear stress change sign."""
    t = fraction * a
    sign = np.array([1.0, 1.0, -1.0])
    wedge = {"half_angle_rad": a}
    here = apex_force_stress(r, t, axial_n_per_mm=p, lateral_n_per_mm=q, **wedge)
    there = apex_force_stress(r, -t, axial_n_per_mm=p, lateral_n_per_mm=-q, **wedge)
    assert here == pytest.approx(there * sign, rel=1e-12)
    here = apex_moment_stress(r, t, moment_n=q, **wedge)
    there = apex_moment_stress(r, -t, moment_n=-q, **wedge)
    assert here == pytest.approx(there * sign, rel=1e-12)
    for field, load in ((face_pressure_stress, "pressure_mpa"), (face_shear_stress, "shear_mpa")):
        left = field(r, t, loaded_face="left", **{load: q}, **wedge)
        right = field(r, -t, loaded_face="right", **{load: q}, **wedge)
        assert left == pytest.approx(right * sign, rel=1e-12, abs=1e-12)


@given(half_angles, fractions, loads, loads)
@never_hurry
def test_yield_contour_is_where_von_mises_reaches_the_strength(a, fraction, p, q) -> None:
    """Definition of the contour, through the stress field itself."""
    t = fraction * a
    force = {"half_angle_rad": a, "axial_n_per_mm": p, "lateral_n_per_mm": q}
    depth = float(yield_depth_mm(t, yield_strength_mpa=2000.0, poissons_ratio=NU, **force))
    assume(depth > 1e-9)
    stress = von_mises_plane_strain(apex_force_stress(depth, t, **force), NU)
    assert float(stress) == pytest.approx(2000.0, rel=1e-12)


@given(half_angles, loads, loads)
@never_hurry
def test_no_direction_yields_deeper(a, p, q) -> None:
    """Brute force over 201 directions, for pushing and pulling forces."""
    force = {"half_angle_rad": a, "axial_n_per_mm": p, "lateral_n_per_mm": q}
    steel = {"yield_strength_mpa": 1.0, "poissons_ratio": NU}
    deepest = float(yield_depth_mm(deepest_yield_direction_rad(**force), **steel, **force))
    brute = float(yield_depth_mm(np.linspace(-a, a, 201), **steel, **force).max())
    assert deepest >= brute * (1 - 1e-12)
    # the grid misses a peak inside by at most 1 - cos(a / 200), 1.4e-5 at 60 degrees
    assert deepest <= brute * (1 + 2e-5)


@every_angle
def test_no_place_on_the_face_is_stressed_more_than_the_peak(degrees: float) -> None:
    """Brute force on the superposed fields of sections 1 and 2, load at x0 = 0.7; and its yield."""
    a, x0 = math.radians(degrees), 0.7
    load = float(
        first_yield_lateral_load_n_per_mm(
            x0, half_angle_rad=a, yield_strength_mpa=2000.0, poissons_ratio=NU
        )
    )
    r = np.linspace(0.7, 4.0, 100_001)
    stress = apex_force_stress(r, -a, half_angle_rad=a, lateral_n_per_mm=load)
    stress = stress + apex_moment_stress(r, -a, half_angle_rad=a, moment_n=load * x0)
    worst = int(np.argmax(stress[0]))
    assert r[worst] == pytest.approx(peak_distance_factor(a) * x0, abs=4e-5)  # grid: 3.3e-5
    assert stress[0, worst] == pytest.approx(peak_stress_factor(a) * load / x0, rel=1e-8)
    mises = von_mises_plane_strain(stress, NU)
    assert mises.max() == pytest.approx(2000.0, rel=1e-8)
