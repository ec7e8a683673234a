"""Rolling: a section that turns plastic folds, and the edge in front of it lies over.

Section by section, a rectangle of perfectly plastic steel in plane strain under moment, axial
force and shear: M / M_p + (N / N_p)^2 + (V / V_p)^4 = 1, with M_p = 2k t^2 / 4, N_p = 2k t and
V_p = k t, k = Y / sqrt(3). M and N: exact for a rectangle. The shear term: D.C. Drucker, J.
Appl. Mech. 23 (1956) 509-514 (from memory). V = k t alone is the tip shearing off.

The axial force that enters is that of the faces: what bears on the tip crushes it, which
`simedge.strength.blunting` judges. A push on a land lies inside the bounds of limit analysis
from 5 to 30 degrees per side (`simedge verify pushed-land-limit`). Beside elastic-plastic finite
elements the interaction was tried before this program: 5 % up to 20 degrees, 8 % at 30; that
trial is not replayed here.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Literal

import numpy as np

from simedge.section.outline import Floats
from simedge.strength.normal_sections import NormalSections

Direction = Literal["left", "right", "neither", "apart"]
#: Steps of Newton's method from above on a convex, rising polynomial: each halves the distance
#: at worst, and doubles the digits once near.
STEPS = 40
#: A moment, over thickness, or a shear of less than this share of all forces is rounding: work
#: straight into an even edge bends nothing.
ROUNDING = 1e-12
#: A moment with less than this share in the section's failure folds it to no side.
FOLDING_SHARE = 0.05


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlasticShares:
    """What a load asks of each section, as shares of what each could carry alone.

    Attributes
    ----------
    moment, axial, shear : ndarray, shape (sections,)
        Of the yield strength that they were asked at; axial and shear by size, the moment
        with its sign.
    """

    moment: Floats
    axial: Floats
    shear: Floats


def plastic_shares(sections: NormalSections, yield_strength_mpa: float) -> PlasticShares:
    """Compare section forces with what a plastic rectangle carries."""
    strip = 2.0 * yield_strength_mpa / sqrt(3.0)  # 2k, plane strain
    thickness, shear = sections.thickness_mm, np.abs(sections.shear_n_per_mm)
    least = ROUNDING * (np.abs(sections.axial_n_per_mm) + shear)
    moment = np.where(np.abs(sections.moment_n) > least * thickness, sections.moment_n, 0.0)
    return PlasticShares(
        moment=moment / (strip * thickness**2 / 4.0),
        axial=np.abs(sections.axial_of_faces_n_per_mm) / (strip * thickness),
        shear=np.where(shear > least, shear, 0.0) / (strip * thickness / 2.0),
    )


def roll_factors(sections: NormalSections, yield_strength_mpa: float) -> Floats:
    """Give how many times the load each section takes before it folds; inf under none.

    Examples
    --------
    >>> factor_of(np.array([0.5]), np.array([0.0]), np.array([0.0]))  # half its plastic moment
    array([2.])
    """
    shares = plastic_shares(sections, yield_strength_mpa)
    return factor_of(np.abs(shares.moment), shares.axial, shares.shear)


def factor_of(moment: Floats, axial: Floats, shear: Floats) -> Floats:
    """Solve m f + (n f)^2 + (v f)^4 = 1 for f, for many sections at once."""
    with np.errstate(divide="ignore"):
        factor = np.minimum(np.minimum(1.0 / moment, 1.0 / axial), 1.0 / shear)
    some = np.isfinite(factor)
    m, n2, v4, f = moment[some], axial[some] ** 2, shear[some] ** 4, factor[some]
    for _ in range(STEPS):
        over = m * f + n2 * f**2 + v4 * f**4 - 1.0
        step = over / (m + 2.0 * n2 * f + 4.0 * v4 * f**3)
        f = f - step
        if np.all(np.abs(step) <= 1e-14 * f):
            break
    factor[some] = f
    return np.asarray(factor)


def folds_towards(sections: NormalSections, factor: float, yield_mpa: float, at: int) -> Direction:
    """Say to which side the edge in front of a section lies over.

    Parameters
    ----------
    sections : NormalSections
    factor, yield_mpa : float
        Load factor at which that section fails, and the yield strength that it goes with.
    at : int
        Number of the section.

    Returns
    -------
    {"left", "right", "neither", "apart"}
        Neither where it is crushed or sheared rather than bent, apart where it is pulled.
    """
    share = float(plastic_shares(sections, yield_mpa).moment[at]) * factor
    if abs(share) < FOLDING_SHARE:
        return "apart" if sections.axial_of_faces_n_per_mm[at] < 0.0 else "neither"
    return "right" if share > 0.0 else "left"  # a push to the left on the tip turns it y to x
