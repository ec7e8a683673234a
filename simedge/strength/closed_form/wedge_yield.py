"""Where and when a wedge first yields, by its exact elastic fields.

Axes and signs are those of `wedge_stress`. A depth here is an *elastic* estimate: it must be well
above the size of the real tip, and the true plastic zone is larger. All of it is our own algebra
on the stress fields that `wedge_stress` cites (no publication known).
"""

from __future__ import annotations

import math

import numpy as np

from simedge.strength.closed_form.wedge_constants import (
    FloatArray,
    Values,
    place_in_wedge,
    refuse,
    uniaxial_mises_factor,
    wedge_constants,
)


def von_mises_plane_strain(in_plane_stress: FloatArray, poissons_ratio: float) -> FloatArray:
    """Give von Mises of two normal stresses and a shear, with sigma_z = nu (their sum) (MPa).

    Takes polar or Cartesian components, shape (3, ...); elastic states only.
    `BadInput` for Poisson's ratio outside [0, 1/2]. Source: definition.

    Examples
    --------
    >>> round(float(von_mises_plane_strain(np.array([1.0, 0.0, 0.0]), 0.3)), 8)
    0.88881944
    """
    uniaxial_mises_factor(poissons_ratio)  # refuses a ratio outside its range
    first, second, shear = in_plane_stress
    # 3 J2 as a sum of squares, so nothing cancels under nearly equal stresses
    spherical = (1.0 - 2.0 * poissons_ratio) ** 2 * (first + second) ** 2 / 4.0
    return np.asarray(np.sqrt(spherical + 0.75 * (first - second) ** 2 + 3.0 * shear**2))


def yield_depth_mm(
    theta_rad: Values,
    *,
    half_angle_rad: float,
    axial_n_per_mm: Values,
    lateral_n_per_mm: Values,
    yield_strength_mpa: float,
    poissons_ratio: float,
) -> FloatArray:
    """Give how far from the apex an apex force makes the blade yield along a direction (mm).

    Parameters
    ----------
    theta_rad : float or array
        Direction, between the faces; 0 is the bisector.
    half_angle_rad : float
        Half of the included angle, in (0, pi/2).
    axial_n_per_mm, lateral_n_per_mm : float or array
        Force at the apex along +x and +y (N/mm).
    yield_strength_mpa : float
        Uniaxial yield strength, above 0.
    poissons_ratio : float
        In [0, 1/2].

    Returns
    -------
    FloatArray
        Radius of the von Mises = yield strength contour; it is a circle through the apex.

    Raises
    ------
    BadInput
        An argument outside its range.

    Notes
    -----
    Along the bisector a lateral force counts for nothing; see `deepest_yield_direction_rad`.

    Examples
    --------
    >>> a = math.radians(15)
    >>> depth = yield_depth_mm(a, half_angle_rad=a, axial_n_per_mm=0.0, lateral_n_per_mm=10.0,
    ...     yield_strength_mpa=2000.0, poissons_ratio=0.3)
    >>> round(float(depth), 9)
    0.097481074
    """
    _, t = place_in_wedge(1.0, theta_rad, half_angle_rad)
    wedge = wedge_constants(half_angle_rad)
    scale = uniaxial_mises_factor(poissons_ratio) / _strength(yield_strength_mpa)
    # r_Y = (k_v / sigma_Y) |P cos t / A_P + Q sin t / A_Q|                              [ours]
    p = np.asarray(axial_n_per_mm, dtype=float) / wedge.axial
    q = np.asarray(lateral_n_per_mm, dtype=float) / wedge.lateral
    return np.asarray(scale * np.abs(p * np.cos(t) + q * np.sin(t)))


def deepest_yield_direction_rad(
    *, half_angle_rad: float, axial_n_per_mm: Values, lateral_n_per_mm: Values
) -> FloatArray:
    """Give the direction in which an apex force yields the blade deepest (rad).

    It is a face for all but nearly axial loads (`face_yield_inclination_rad`); for a purely lateral
    load both faces yield alike, and one of them is given. `BadInput` for a half angle outside
    (0, pi/2).

    Examples
    --------
    >>> a = math.radians(15)
    >>> float(deepest_yield_direction_rad(
    ...     half_angle_rad=a, axial_n_per_mm=1.0, lateral_n_per_mm=-1.0)) == -a
    True
    """
    wedge = wedge_constants(half_angle_rad)
    p = np.asarray(axial_n_per_mm, dtype=float) / wedge.axial
    q = np.asarray(lateral_n_per_mm, dtype=float) / wedge.lateral
    # |P cos t / A_P + Q sin t / A_Q| peaks at tan t* = (Q / P)(A_P / A_Q), modulo pi    [ours]
    peak = np.arctan2(np.where(p < 0, -q, q), np.abs(p))
    return np.asarray(np.clip(peak, -half_angle_rad, half_angle_rad))


def face_yield_inclination_rad(half_angle_rad: float) -> float:
    """Give the inclination to the bisector above which an apex force yields a face deepest (rad).

    beta* = atan(tan(a) A_Q / A_P), about a^3/3. `BadInput` for a half angle outside (0, pi/2).

    Examples
    --------
    >>> round(math.degrees(face_yield_inclination_rad(math.radians(15))), 7)
    0.3539397
    """
    wedge = wedge_constants(half_angle_rad)
    return math.atan(math.tan(half_angle_rad) * wedge.lateral / wedge.axial)


def face_tension_inclination_rad(half_angle_rad: float) -> float:
    """Give the inclination to the bisector above which an apex force puts a face in tension (rad).

    beta_0 = atan(A_Q / (A_P tan a)), about a/3. `BadInput` for a half angle outside (0, pi/2).

    Examples
    --------
    >>> round(math.degrees(face_tension_inclination_rad(math.radians(15))), 7)
    4.9176952
    """
    wedge = wedge_constants(half_angle_rad)
    return math.atan(wedge.lateral / (wedge.axial * math.tan(half_angle_rad)))


def peak_distance_factor(half_angle_rad: float) -> float:
    """Give where a lateral load at x0 strains a face most: radius over x0 (dimensionless).

    r*/x0 = 8 cos(a) A_Q / m, towards 2 for thin wedges; the peak is on both faces, tension on the
    one that the load points away from. Holds to 0.01 % up to a = 20 degrees for a load on a flat
    tip; above that the peak lies within a thickness of the load (1 % at 30 degrees).
    `BadInput` for a half angle outside (0, pi/2).

    Examples
    --------
    >>> round(peak_distance_factor(math.radians(15)), 7)
    1.9587187
    """
    wedge = wedge_constants(half_angle_rad)
    return 8.0 * math.cos(half_angle_rad) * wedge.lateral / wedge.moment


def peak_stress_factor(half_angle_rad: float) -> float:
    """Give the face stress there: peak sigma_r over (lateral load / x0) (dimensionless).

    pk = sin(a) m / (16 cos(a) A_Q^2). A beam gives 3/(8 tan^2 a), which is sigma_x at that place
    to within 1 + 8a^4/175; the uniaxial stress along the face is 1/cos^2 a larger. Limits and
    errors as `peak_distance_factor`.

    Examples
    --------
    >>> round(peak_stress_factor(math.radians(15)), 7)
    5.5993123
    """
    wedge = wedge_constants(half_angle_rad)
    return math.tan(half_angle_rad) * wedge.moment / (16.0 * wedge.lateral**2)


def first_yield_lateral_load_n_per_mm(
    load_distance_mm: Values,
    *,
    half_angle_rad: float,
    yield_strength_mpa: float,
    poissons_ratio: float,
) -> FloatArray:
    """Give the lateral load at a distance from the virtual apex that first yields a face (N/mm).

    Parameters
    ----------
    load_distance_mm : float or array
        Distance x0 of the load's line of action from the virtual apex, above 0. A load on a tip
        of radius R acts R/sin(a) - R or more behind it.
    half_angle_rad, yield_strength_mpa, poissons_ratio : float
        As in `yield_depth_mm`.

    Returns
    -------
    FloatArray
        Q = (yield strength / k_v) x0 / pk. Yield under the load itself is not seen.

    Raises
    ------
    BadInput
        An argument outside its range.

    Examples
    --------
    By hand: 2000 / 0.88881944 * 0.01 / 5.5993123.

    >>> load = first_yield_lateral_load_n_per_mm(0.01, half_angle_rad=math.radians(15),
    ...     yield_strength_mpa=2000.0, poissons_ratio=0.3)
    >>> round(float(load), 5)
    4.01866
    """
    distance = np.asarray(load_distance_mm, dtype=float)
    if not np.all(distance > 0):
        raise refuse(
            "load_distance_mm is not above 0", "an apex load has no finite peak", "move it"
        )
    stress = _strength(yield_strength_mpa) / uniaxial_mises_factor(poissons_ratio)
    return np.asarray(stress * distance / peak_stress_factor(half_angle_rad))


def _strength(yield_strength_mpa: float) -> float:
    if not yield_strength_mpa > 0:
        raise refuse(
            f"yield_strength_mpa is {yield_strength_mpa:.6g} MPa",
            "must be above 0",
            "hardened blade steels have about 2000",
        )
    return yield_strength_mpa
