"""Exact plane-strain displacement of an infinite wedge under a force or a moment at its apex.

Axes, signs, shapes and ranges are those of `wedge_stress`. Displacement arrays hold u_r, u_theta
along axis 0 (mm). Young's modulus lies above 0 and Poisson's ratio in [0, 1/2].
"""

from __future__ import annotations

import math

import numpy as np

from simedge.strength.closed_form.wedge_constants import (
    FloatArray,
    Values,
    place_in_wedge,
    plane_strain_modulus_mpa,
    plane_strain_poissons_ratio,
    wedge_constants,
)


def apex_force_displacement(
    radius_mm: Values,
    theta_rad: Values,
    *,
    half_angle_rad: float,
    youngs_modulus_mpa: float,
    poissons_ratio: float,
    axial_n_per_mm: Values = 0.0,
    lateral_n_per_mm: Values = 0.0,
) -> FloatArray:
    """Give the displacement of a line force at the apex (mm), up to a rigid movement.

    It grows as ln r (r in mm), so only differences between two places mean anything.

    Parameters
    ----------
    radius_mm, theta_rad, half_angle_rad, axial_n_per_mm, lateral_n_per_mm
        As in `apex_force_stress`.
    youngs_modulus_mpa, poissons_ratio : float
        Elastic constants.

    Returns
    -------
    FloatArray, shape (2, ...)
        u_r, u_theta.

    Raises
    ------
    BadInput
        Half angle, radius, theta or an elastic constant outside its range.

    Notes
    -----
    Source: Michell 1900 for the stress; displacement integrated from it (our algebra).

    Examples
    --------
    On the axis u_x differs by P ln(r2/r1) / (E' A_P):

    >>> near, far = apex_force_displacement(np.array([1.0, math.e]), 0.0,
    ...     half_angle_rad=math.radians(15), youngs_modulus_mpa=1.0, poissons_ratio=0.0,
    ...     axial_n_per_mm=1.0)[0]
    >>> round(float(near - far), 7)
    1.9538906
    """
    r, t = place_in_wedge(radius_mm, theta_rad, half_angle_rad)
    wedge = wedge_constants(half_angle_rad)
    modulus = plane_strain_modulus_mpa(youngs_modulus_mpa, poissons_ratio)
    ratio = plane_strain_poissons_ratio(poissons_ratio)
    # c = P/A_P, d = Q/A_Q, h = c cos t + d sin t, g = c sin t - d cos t        [Michell; ours]
    c = np.asarray(axial_n_per_mm, dtype=float) / wedge.axial
    d = np.asarray(lateral_n_per_mm, dtype=float) / wedge.lateral
    h, g = c * np.cos(t) + d * np.sin(t), c * np.sin(t) - d * np.cos(t)
    radial = -h * np.log(r) - 0.5 * (1 - ratio) * t * g
    hoop = (ratio + np.log(r)) * g + 0.5 * (1 - ratio) * (g - t * h)
    return np.stack([radial, hoop]) / modulus


def apex_moment_displacement(
    radius_mm: Values,
    theta_rad: Values,
    *,
    half_angle_rad: float,
    youngs_modulus_mpa: float,
    poissons_ratio: float,
    moment_n: Values,
) -> FloatArray:
    """Give the displacement of a moment at the apex (mm), which dies away as 1/r.

    Parameters
    ----------
    radius_mm, theta_rad, half_angle_rad, moment_n
        As in `apex_moment_stress`.
    youngs_modulus_mpa, poissons_ratio : float
        Elastic constants.

    Returns
    -------
    FloatArray, shape (2, ...)
        u_r, u_theta.

    Raises
    ------
    BadInput
        Half angle, radius, theta or an elastic constant outside its range.

    Notes
    -----
    Source: Carothers 1912 for the stress; displacement integrated from it (our algebra).

    Examples
    --------
    On the axis of an incompressible wedge, u_theta = -(1 + nu) M cos 2a / (E m r):

    >>> u = apex_moment_displacement(1.0, 0.0, half_angle_rad=math.radians(15),
    ...     youngs_modulus_mpa=1.0, poissons_ratio=0.5, moment_n=1.0)
    >>> round(float(u[1]), 4)  # -1.5 cos(30 deg) / 0.046550159
    -27.9062
    """
    r, t = place_in_wedge(radius_mm, theta_rad, half_angle_rad)
    m = wedge_constants(half_angle_rad).moment
    modulus = plane_strain_modulus_mpa(youngs_modulus_mpa, poissons_ratio)
    nu = poissons_ratio
    # u_r = -2 M sin 2t / (E' m r)                                              [Carothers; ours]
    # u_t = -(1 + nu) M ((1 - 2 nu) cos 2t + cos 2a) / (E m r)
    scale = -np.asarray(moment_n, dtype=float) / (m * r)
    radial = 2 * scale * np.sin(2 * t) / modulus
    hoop = scale * (1 + nu) * ((1 - 2 * nu) * np.cos(2 * t) + math.cos(2 * half_angle_rad))
    return np.stack([radial, hoop / youngs_modulus_mpa])
