"""What a steeper angle at the tip can gain at most at the same apex radius.

A lateral load whose line of action crosses the bisector at x0 behind the virtual apex makes a
peak face stress of (Q / x0) pk(alpha), pk = sin(a) m / (16 cos(a) A_Q^2) (from Carothers 1912,
peak derived here; see `wedge_stress`). A rounded tip of radius R has its virtual apex
R / sin(alpha) - R in front of its foremost point: the steeper the angle the nearer, and the less
a micro-bevel gains than on the same land. Where the load sits on the arc moves x0 further.
"""

from __future__ import annotations

import math

from simedge.strength.closed_form.wedge_constants import wedge_constants


def peak_constant(half_angle_rad: float) -> float:
    """Give pk: peak face stress times x0 over the lateral load.

    >>> round(peak_constant(math.radians(15)), 6)
    5.599312
    """
    wedge = wedge_constants(half_angle_rad)
    sine, cosine = math.sin(half_angle_rad), math.cos(half_angle_rad)
    return sine * wedge.moment / (16.0 * cosine * wedge.lateral**2)


def smooth_load_distance(half_angle_rad: float) -> float:
    """Give how far behind the virtual apex a smoothly spread tip load acts, over the radius.

    The load falls as cos^2 to both tangent points, phi_m = pi/2 - alpha from the foremost
    point: the mean of cos(phi) over it is (sin(phi_m) / phi_m) k^2 / (k^2 - 1), k = pi / phi_m
    (derived here), and x0 / R = 1 / sin(alpha) - that mean.

    >>> round(smooth_load_distance(math.radians(15)), 4)
    2.9708
    """
    reach = 0.5 * math.pi - half_angle_rad
    k = math.pi / reach
    mean = math.sin(reach) / reach * k**2 / (k**2 - 1.0)
    return 1.0 / math.sin(half_angle_rad) - mean


def foremost_load_distance(half_angle_rad: float) -> float:
    """Give the same for a load that sat at the foremost point: 1 / sin(alpha) - 1."""
    return 1.0 / math.sin(half_angle_rad) - 1.0


def gain_cap_same_radius(
    micro_half_angle_rad: float, edge_half_angle_rad: float, *, at_foremost: bool = False
) -> float:
    """Give the most that a micro-bevel of any height gains in first-yield load.

    Parameters
    ----------
    micro_half_angle_rad, edge_half_angle_rad : float
    at_foremost : bool
        The load sits at the foremost point instead of being spread smoothly.

    Examples
    --------
    >>> at = [math.radians(angle) for angle in (10, 15, 20)]
    >>> pairs = ((at[1], at[0]), (at[2], at[0]), (at[2], at[1]))
    >>> [round(gain_cap_same_radius(*pair, at_foremost=True), 3) for pair in pairs]
    [1.337, 1.567, 1.173]
    >>> [round(gain_cap_same_radius(*pair), 3) for pair in pairs]
    [1.352, 1.603, 1.185]
    """
    distance = foremost_load_distance if at_foremost else smooth_load_distance
    micro, edge = (
        peak_constant(angle) / distance(angle)
        for angle in (micro_half_angle_rad, edge_half_angle_rad)
    )
    return edge / micro
