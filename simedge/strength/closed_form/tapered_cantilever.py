"""Tapered cantilevers: a truncated wedge, by beam theory and by its exact energy.

A wedge cut off at its tip (distance a from the virtual apex, land 2 a tan(alpha) wide) is clamped
at distance b and bent by a lateral load Q at the tip; rho = b/a. Distances run from the virtual
apex (mm), loads are per unit length of edge (N/mm), plane strain throughout.

Ranges: half angle in (0, pi/2), 0 < a <= b, Poisson's ratio in [0, 1/2]; anything else raises
`BadInput`. Beam theory holds for slender wedges; its deflection is 6 % short at alpha = 10 degrees
and 15 % at 15. The Saint-Venant energy leaves out the layers at the tip and at the clamp: a finite
element run (rho = 10) gave 1.0006, 1.005, 1.013, 1.023 and 1.042 of it at 5, 10, 15, 20 and 30.

Sources: taper bending, Timoshenko, Strength of Materials (section from memory, not verified); shear
coefficient 5/6, G.R. Cowper, J. Appl. Mech. 33 (1966) 335-340; why prismatic shear is wrong in a
taper, G. Balduzzi et al., Int. J. Solids Struct. 90 (2016) 236-250. F, and the energy of the exact
fields that `wedge_stress` cites: derived here, checked symbolically and by quadrature.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from simedge.strength.closed_form.wedge_constants import (
    FloatArray,
    Values,
    plane_strain_modulus_mpa,
    plane_strain_poissons_ratio,
    refuse,
    uniaxial_mises_factor,
    wedge_constants,
)

_SHEAR_COEFFICIENT = 5.0 / 6.0
# F is a sum u^3/3 + u^4/4 + ... in u = 1 - 1/rho; below this the logarithm cancels against it.
_SERIES_BELOW = 0.25
_SERIES_POWERS = range(3, 31)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ComplianceDensities:
    """E' times the compliance of a wedge slice, per unit of radius, at each radius given.

    E' * movement = integral of (P p c_PP + Q q c_QQ + (Q m + M q) c_QM + M m c_MM) dr, with P, Q,
    M the real axial load, lateral load and moment about the slice's *own* virtual apex, and p, q,
    m those of a unit load at the place and in the direction of the movement asked for.

    Attributes
    ----------
    axial_per_mm : FloatArray
        c_PP = 1/(A_P r).
    lateral_per_mm : FloatArray
        c_QQ = 1/(A_Q r).
    lateral_moment_per_mm2 : FloatArray
        c_QM = -8 sin^3 a / (3 A_Q m r^2), negative.
    moment_per_mm3 : FloatArray
        c_MM = (4 I1 + 2 (1 + nu') I2) / (m^2 r^3).
    """

    axial_per_mm: FloatArray
    lateral_per_mm: FloatArray
    lateral_moment_per_mm2: FloatArray
    moment_per_mm3: FloatArray


def compliance_densities(
    radius_mm: Values, *, half_angle_rad: float, poissons_ratio: float
) -> ComplianceDensities:
    """Give the compliance per unit of radius of a wedge, from the energy of its exact fields.

    Parameters
    ----------
    radius_mm : float or array
        Distance from the slice's virtual apex, above 0.
    half_angle_rad, poissons_ratio : float
        Wedge and steel.

    Returns
    -------
    ComplianceDensities
        Arrays of the shape of `radius_mm`.

    Raises
    ------
    BadInput
        An argument outside its range.

    Notes
    -----
    For thin wedges bending is the small difference of the lateral terms: with M = Q x0 and r near
    x0 they cancel to about 1e-16 / a^2 of themselves, without harm above 0.1 degree.

    Examples
    --------
    >>> slice_ = compliance_densities(1.0, half_angle_rad=math.radians(15), poissons_ratio=0.3)
    >>> round(float(slice_.lateral_per_mm), 6)  # 1 / 0.011799388
    84.75016
    """
    radius = np.asarray(radius_mm, dtype=float)
    if not np.all((radius > 0) & (radius < np.inf)):
        raise refuse("a radius_mm is not above 0", "must be a distance", "start behind the apex")
    wedge = wedge_constants(half_angle_rad)
    ratio = plane_strain_poissons_ratio(poissons_ratio)
    # energy: integral over theta of (sigma_r^2 + 2 (1 + nu') tau^2) r                     [ours]
    coupling = -8.0 * math.sin(half_angle_rad) ** 3 / (3.0 * wedge.lateral * wedge.moment)
    moment = (
        4.0 * wedge.moment_normal_energy + 2.0 * (1.0 + ratio) * wedge.moment_shear_energy
    ) / (wedge.moment**2)
    return ComplianceDensities(
        axial_per_mm=1.0 / (wedge.axial * radius),
        lateral_per_mm=1.0 / (wedge.lateral * radius),
        lateral_moment_per_mm2=coupling / radius**2,
        moment_per_mm3=moment / radius**3,
    )


def saint_venant_compliance(
    length_ratio: Values, *, half_angle_rad: float, poissons_ratio: float
) -> FloatArray:
    """Give E' * tip movement / tip load of a truncated wedge, by the exact energy (dimensionless).

    Parameters
    ----------
    length_ratio : float or array
        rho = clamp distance / tip distance, at least 1.
    half_angle_rad, poissons_ratio : float
        Wedge and steel.

    Returns
    -------
    FloatArray
        The compliance; the movement is against the load's line at the tip, the clamp is an arc.

    Raises
    ------
    BadInput
        An argument outside its range.

    Examples
    --------
    >>> round(float(saint_venant_compliance(10.0, half_angle_rad=math.radians(15),
    ...     poissons_ratio=0.3)), 6)
    88.267672
    """
    rho = _length_ratio(length_ratio)
    unit = compliance_densities(1.0, half_angle_rad=half_angle_rad, poissons_ratio=poissons_ratio)
    # E' d/Q = ln rho / A_Q - 16 sin^3 a (1 - 1/rho) / (3 A_Q m) + (1 - 1/rho^2) c_MM / 2     [ours]
    return np.asarray(
        unit.lateral_per_mm * np.log(rho)
        + 2.0 * unit.lateral_moment_per_mm2 * (1.0 - 1.0 / rho)
        + 0.5 * unit.moment_per_mm3 * (1.0 - 1.0 / rho**2)
    )


def tapered_bending_integral(length_ratio: Values) -> FloatArray:
    """Give F(rho) = ln rho - 3/2 + 2/rho - 1/(2 rho^2), free of cancellation near rho = 1.

    It is the integral of (s - 1)^2 / s^3 from 1 to rho. `BadInput` where rho is below 1. Derived
    here; taper bending after Timoshenko (section from memory).

    Examples
    --------
    >>> round(float(tapered_bending_integral(10.0)), 8)
    0.99758509
    """
    u = 1.0 - 1.0 / _length_ratio(length_ratio)
    series = np.sum([u**power / power for power in _SERIES_POWERS], axis=0)
    return np.where(u < _SERIES_BELOW, series, -np.log1p(-u) - u - 0.5 * u**2)


def beam_compliance(length_ratio: Values, *, half_angle_rad: float) -> FloatArray:
    """Give E' * tip movement / tip load by Euler-Bernoulli theory: 3 F(rho) / (2 tan^3 a).

    Arguments and errors as `saint_venant_compliance`; dimensionless.

    Examples
    --------
    >>> round(float(beam_compliance(10.0, half_angle_rad=math.radians(15))), 5)
    77.78285
    """
    wedge_constants(half_angle_rad)
    bending = tapered_bending_integral(length_ratio)
    return np.asarray(1.5 * bending / math.tan(half_angle_rad) ** 3)


def prismatic_shear_compliance(
    length_ratio: Values, *, half_angle_rad: float, poissons_ratio: float
) -> FloatArray:
    """Give what shear adds to `beam_compliance` if each slice were prismatic (coefficient 5/6).

    E' * (Q ln rho / (2 kappa G tan a)) / Q. The shear profile of a prism is wrong in a wedge, so
    this is a comparison, not a correction to trust. Arguments and errors as
    `saint_venant_compliance`. Source: Cowper 1966 for kappa.

    Examples
    --------
    >>> round(float(prismatic_shear_compliance(10.0, half_angle_rad=math.radians(15),
    ...     poissons_ratio=0.3)), 6)
    14.731482
    """
    wedge_constants(half_angle_rad)
    ratio = plane_strain_poissons_ratio(poissons_ratio)
    # E' / G = 2 (1 + nu')
    slope = math.tan(half_angle_rad)
    return np.asarray(
        (1.0 + ratio) * np.log(_length_ratio(length_ratio)) / (_SHEAR_COEFFICIENT * slope)
    )


def deflection_mm(
    compliance: Values,
    *,
    lateral_n_per_mm: Values,
    youngs_modulus_mpa: float,
    poissons_ratio: float,
) -> FloatArray:
    """Give the movement under a load from one of the compliances of this room (mm).

    `BadInput` for elastic constants outside their ranges.

    Examples
    --------
    >>> round(float(deflection_mm(77.78285, lateral_n_per_mm=10.0, youngs_modulus_mpa=210e3,
    ...     poissons_ratio=0.3)), 7)
    0.0033706
    """
    modulus = plane_strain_modulus_mpa(youngs_modulus_mpa, poissons_ratio)
    return np.asarray(compliance * np.asarray(lateral_n_per_mm, dtype=float) / modulus)


def beam_face_stress_mpa(
    distance_mm: Values,
    *,
    half_angle_rad: float,
    lateral_n_per_mm: Values,
    load_distance_mm: Values,
) -> FloatArray:
    """Give the beam's fibre stress 3 Q (x - x0) / (2 x^2 tan^2 a) on the tension face (MPa).

    Parameters
    ----------
    distance_mm : float or array
        Station x from the virtual apex, at or behind the load.
    half_angle_rad : float
        Half of the included angle.
    lateral_n_per_mm : float or array
        Tip load Q.
    load_distance_mm : float or array
        Distance x0 of the load from the virtual apex, 0 or above.

    Returns
    -------
    FloatArray
        sigma_x of the outer fibre.

    Raises
    ------
    BadInput
        Half angle outside its range, or a station in front of the load or at the apex.

    Examples
    --------
    At x = 2 x0 it is 3 Q / (8 x0 tan^2 a):

    >>> round(float(beam_face_stress_mpa(2.0, half_angle_rad=math.radians(15),
    ...     lateral_n_per_mm=1.0, load_distance_mm=1.0)), 7)
    5.2230762
    """
    wedge_constants(half_angle_rad)
    x, x0 = np.asarray(distance_mm, dtype=float), np.asarray(load_distance_mm, dtype=float)
    if not (np.all(x > 0) and np.all(x0 >= 0) and np.all(x >= x0)):
        raise refuse(
            "a distance_mm is out of place", "must be above 0 and behind the load", "move it"
        )
    slope = math.tan(half_angle_rad)
    return np.asarray(1.5 * np.asarray(lateral_n_per_mm) * (x - x0) / (x**2 * slope**2))


def beam_peak_distance_mm(tip_distance_mm: Values, clamp_distance_mm: Values) -> FloatArray:
    """Give where the tip-loaded beam is stressed most: twice the tip distance, or the clamp (mm).

    The section there is twice as thick as the land. `BadInput` unless 0 < tip <= clamp.

    Examples
    --------
    >>> [float(beam_peak_distance_mm(0.1, clamp)) for clamp in (1.0, 0.15)]
    [0.2, 0.15]
    """
    a, b = np.asarray(tip_distance_mm, dtype=float), np.asarray(clamp_distance_mm, dtype=float)
    if not (np.all(a > 0) and np.all(b >= a)):
        raise refuse("a distance is out of order", "must have 0 < tip <= clamp", "swap them")
    return np.asarray(np.minimum(2.0 * a, b))


def beam_first_yield_load_n_per_mm(
    land_mm: Values, *, half_angle_rad: float, yield_strength_mpa: float, poissons_ratio: float
) -> FloatArray:
    """Give the tip load that first yields the beam: 4/3 (yield / k_v) land tan a (N/mm).

    Linear in the land and in the slope. For a clamp farther than two tip distances. `BadInput` for
    a land or a strength that is not above 0, or a half angle or ratio outside its range.

    Examples
    --------
    By hand: 4/3 * 2000 / 0.88881944 * 0.01 * tan 15 degrees.

    >>> round(float(beam_first_yield_load_n_per_mm(0.01, half_angle_rad=math.radians(15),
    ...     yield_strength_mpa=2000.0, poissons_ratio=0.3)), 4)
    8.0391
    """
    wedge_constants(half_angle_rad)
    land = np.asarray(land_mm, dtype=float)
    if not (np.all(land > 0) and yield_strength_mpa > 0):
        raise refuse("land_mm or yield_strength_mpa is not above 0", "both must be", "check them")
    stress = yield_strength_mpa / uniaxial_mises_factor(poissons_ratio)
    return np.asarray(4.0 / 3.0 * stress * land * math.tan(half_angle_rad))


def _length_ratio(length_ratio: Values) -> FloatArray:
    rho = np.asarray(length_ratio, dtype=float)
    if not np.all((rho >= 1) & (rho < np.inf)):
        raise refuse("a length_ratio is below 1", "must be clamp / tip distance", "swap them")
    return rho
