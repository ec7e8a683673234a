"""Exact plane-strain stress in an infinite wedge, to hold the simulation against.

Axes are the wedge's own: x from its (virtual) sharp apex into the blade along the bisector, +y
to the left; polar (r, theta), theta from +x towards +y; the faces lie at plus and minus the
*half* angle, left and right. Loads are per unit length of edge and act on the blade: axial
along +x, lateral along +y, moment from x to y about the apex. Tension is positive. Polar
stress arrays hold sigma_r, sigma_theta, tau_rtheta along axis 0 (MPa). Radii, angles and loads
may be arrays that broadcast; the half angle is one float.

Ranges: half angle in (0, pi/2), radius above 0, theta between the faces. Anything else raises
`BadInput`. Everything is linear and elastic; near a real tip the
fields hold a local thickness or more behind the tip and behind the load.

Sources: M. Levy, Comptes Rendus 126 (1898) 1235; J.H. Michell, Proc. London Math. Soc. 32
(1900) 35-61; S.D. Carothers, Proc. R. Soc. Edinburgh 33 (1912) 292-306; C.E. Inglis, Trans. Inst.
Naval Arch. 64 (1922); Timoshenko & Goodier, Theory of Elasticity, 3rd ed. 1970, Arts. 38, 39 and
45 (article numbers from memory, not checked against the book).
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from simedge.strength.closed_form.wedge_constants import (
    FloatArray,
    Values,
    angle_less_sine,
    place_in_wedge,
    refuse,
    sine_less_angle_cosine,
    wedge_constants,
)

Face = Literal["left", "right"]


def apex_force_stress(
    radius_mm: Values,
    theta_rad: Values,
    *,
    half_angle_rad: float,
    axial_n_per_mm: Values = 0.0,
    lateral_n_per_mm: Values = 0.0,
) -> FloatArray:
    """Give the stress of a line force at the apex (MPa): purely radial, as 1/r.

    Parameters
    ----------
    radius_mm, theta_rad : float or array
        Place, r above 0, theta between the faces.
    half_angle_rad : float
        Half of the included angle.
    axial_n_per_mm, lateral_n_per_mm : float or array
        Force along +x and along +y (N/mm).

    Returns
    -------
    FloatArray, shape (3, ...)
        sigma_r, sigma_theta (zero), tau_rtheta (zero).

    Raises
    ------
    BadInput
        Half angle, radius or theta outside its range.

    Notes
    -----
    A lateral force compresses the face that it pushes towards (theta = +alpha) and pulls the
    other. Source: Levy 1898; Michell 1900; Timoshenko & Goodier Art. 38 (from memory).

    Examples
    --------
    >>> stress = apex_force_stress(1.0, 0.0, half_angle_rad=math.radians(15), axial_n_per_mm=1.0)
    >>> [round(float(part), 7) for part in stress]
    [-1.9538906, 0.0, 0.0]
    """
    r, t = place_in_wedge(radius_mm, theta_rad, half_angle_rad)
    wedge = wedge_constants(half_angle_rad)
    # sigma_r = -(P cos t / A_P + Q sin t / A_Q) / r        [Levy, Michell]
    p, q = np.asarray(axial_n_per_mm, dtype=float), np.asarray(lateral_n_per_mm, dtype=float)
    radial = -(p * np.cos(t) / wedge.axial + q * np.sin(t) / wedge.lateral) / r
    return np.stack([radial, np.zeros_like(radial), np.zeros_like(radial)])


def apex_moment_stress(
    radius_mm: Values, theta_rad: Values, *, half_angle_rad: float, moment_n: Values
) -> FloatArray:
    """Give the stress of a moment at the apex (MPa), as 1/r^2.

    A lateral force at distance x0 is that force at the apex plus the moment force * x0.

    Parameters
    ----------
    radius_mm, theta_rad, half_angle_rad
        Place and wedge, as in `apex_force_stress`.
    moment_n : float or array
        Moment from x to y about the apex (N mm per mm of edge).

    Returns
    -------
    FloatArray, shape (3, ...)
        sigma_r, sigma_theta (zero), tau_rtheta.

    Raises
    ------
    BadInput
        Half angle, radius or theta outside its range.

    Notes
    -----
    Source: Carothers 1912; Inglis 1922; E. Sternberg & W.T. Koiter, J. Appl. Mech. 25 (1958)
    575-581; Timoshenko & Goodier Art. 39 (from memory).

    Examples
    --------
    >>> a = math.radians(15)
    >>> round(float(apex_moment_stress(1.0, a, half_angle_rad=a, moment_n=1.0)[0]), 6)
    21.482204
    """
    r, t = place_in_wedge(radius_mm, theta_rad, half_angle_rad)
    m = wedge_constants(half_angle_rad).moment
    # sigma_r = 2 M sin 2t / (m r^2), tau = M (cos 2a - cos 2t) / (m r^2)      [Carothers, Inglis]
    scale = np.asarray(moment_n, dtype=float) / (m * r**2)
    radial = 2.0 * scale * np.sin(2 * t)
    shear = scale * _cosine_difference(half_angle_rad, t)
    return np.stack([radial, np.zeros_like(radial), shear])


def face_pressure_stress(
    radius_mm: Values,
    theta_rad: Values,
    *,
    half_angle_rad: float,
    pressure_mpa: Values,
    loaded_face: Face = "left",
) -> FloatArray:
    """Give the stress of a uniform pressure on one face (MPa), the other face free.

    The loaded face is the one in tension along the face. The field does not depend on the radius.

    Parameters
    ----------
    radius_mm, theta_rad, half_angle_rad
        Place and wedge, as in `apex_force_stress`.
    pressure_mpa : float or array
        Pressure, positive into the face.
    loaded_face : {"left", "right"}
        Face at plus or at minus the half angle.

    Returns
    -------
    FloatArray, shape (3, ...)
        sigma_r, sigma_theta, tau_rtheta.

    Raises
    ------
    BadInput
        Half angle, radius, theta or face outside its range.

    Notes
    -----
    A patch that starts at the apex has this field for radii well below its length.
    Source: Levy 1898; Timoshenko & Goodier Art. 45 (from memory).

    Examples
    --------
    >>> a = math.radians(15)
    >>> round(float(face_pressure_stress(1.0, a, half_angle_rad=a, pressure_mpa=1.0)[0]), 7)
    9.7411019
    """
    side, r, t = _towards(loaded_face, radius_mm, theta_rad, half_angle_rad)
    a, m = half_angle_rad, wedge_constants(half_angle_rad).moment
    # sigma_r, sigma_t = -p/2 + p (2 t cos 2a +- sin 2t) / 2m, tau = -p (cos 2a - cos 2t) / 2m,
    # with sin 2t - 2t cos 2t in closed form so that thin wedges do not cancel   [Levy]
    k = _cosine_difference(a, t)
    along = (2 * t * math.cos(2 * a) + np.sin(2 * t)) / (2 * m)
    across = (2 * t * k - sine_less_angle_cosine(2 * t)) / (2 * m)
    p, ones = np.asarray(pressure_mpa, dtype=float), np.ones_like(r)
    return np.stack(
        [p * (along - 0.5 * ones), p * (across - 0.5 * ones), side * p * (-k * ones / (2 * m))]
    )


def face_shear_stress(
    radius_mm: Values,
    theta_rad: Values,
    *,
    half_angle_rad: float,
    shear_mpa: Values,
    loaded_face: Face = "left",
) -> FloatArray:
    """Give the stress of a uniform shear traction on one face (MPa), the other face free.

    Parameters
    ----------
    radius_mm, theta_rad, half_angle_rad, loaded_face
        As in `face_pressure_stress`; the field does not depend on the radius.
    shear_mpa : float or array
        Traction, positive where it drags the face away from the apex, towards the base.

    Returns
    -------
    FloatArray, shape (3, ...)
        sigma_r, sigma_theta, tau_rtheta.

    Raises
    ------
    BadInput
        Half angle, radius, theta or face outside its range.

    Notes
    -----
    Source: Levy 1898; Timoshenko & Goodier Art. 45 (from memory).

    Examples
    --------
    >>> a = math.radians(15)
    >>> round(float(face_shear_stress(1.0, a, half_angle_rad=a, shear_mpa=1.0)[0]), 7)
    -7.3560786
    """
    side, r, t = _towards(loaded_face, radius_mm, theta_rad, half_angle_rad)
    a, m = half_angle_rad, wedge_constants(half_angle_rad).moment
    sine = math.sin(2 * a)
    # sigma_r, sigma_t = 2A + 2B t -+ (2C cos 2t + 2D sin 2t), tau = -B + 2C sin 2t - 2D cos 2t,
    # A = -s cot 2a / 4, B = -s sin 2a / 2m, C = s / (4 sin 2a), D = s a / 2m; the differences
    # are grouped so that thin wedges do not cancel                              [Levy]
    k = _cosine_difference(a, t)
    along = -(math.cos(2 * a) + np.cos(2 * t)) / (2 * sine) - (t * sine + a * np.sin(2 * t)) / m
    bending = (t * angle_less_sine(2 * a) - a * angle_less_sine(2 * t)) / m
    shear = 0.5 + a * k / m + np.sin(2 * t) / (2 * sine)
    s, ones = np.asarray(shear_mpa, dtype=float), np.ones_like(r)
    return np.stack(
        [s * along * ones, s * (bending - k / (2 * sine)) * ones, side * s * shear * ones]
    )


def cartesian_stress(polar_stress: FloatArray, theta_rad: Values) -> FloatArray:
    """Turn sigma_r, sigma_theta, tau_rtheta into sigma_x, sigma_y, tau_xy (shape (3, ...)).

    Examples
    --------
    >>> turned = cartesian_stress(np.array([1.0, 0.0, 0.0]), math.radians(45))
    >>> [round(float(part), 12) for part in turned]
    [0.5, 0.5, 0.5]
    """
    radial, hoop, shear = polar_stress
    c, s = np.cos(theta_rad), np.sin(theta_rad)
    return np.stack(
        [
            radial * c**2 + hoop * s**2 - 2 * shear * s * c,
            radial * s**2 + hoop * c**2 + 2 * shear * s * c,
            (radial - hoop) * s * c + shear * (c**2 - s**2),
        ]
    )


def _cosine_difference(half_angle_rad: float, theta_rad: FloatArray) -> FloatArray:
    """Give cos(2a) - cos(2 theta) as a product: exactly zero on both faces."""
    return -2.0 * np.sin(half_angle_rad + theta_rad) * np.sin(half_angle_rad - theta_rad)


def _towards(
    loaded_face: Face, radius_mm: Values, theta_rad: Values, half_angle_rad: float
) -> tuple[float, FloatArray, FloatArray]:
    """Give the sign of the shear, and the place as the mirror image with the left face loaded."""
    if loaded_face not in ("left", "right"):
        raise refuse(
            f"loaded_face is {loaded_face!r}", 'must be "left" or "right"', "left is theta = +alpha"
        )
    side = 1.0 if loaded_face == "left" else -1.0
    r, t = place_in_wedge(radius_mm, theta_rad, half_angle_rad)
    return side, r, side * t
