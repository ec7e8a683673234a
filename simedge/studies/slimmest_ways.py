"""The ways in which an edge can be made slimmer, each with its range."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from simedge.inputs.profile import Profile
from simedge.studies.reground import (
    edge_dps,
    thickness_behind_edge_mm,
    with_edge_dps,
    with_spine,
    with_thickness_behind_edge,
)

SLIMMEST_DPS, STOUTEST_DPS = 2.0, 44.0
#: Tip widths, at least, behind which an edge bevel ends.
TIP_WIDTHS = 4.0
#: Of the knife's own measure: how far up the search goes.
TIMES_OWN = 4.0
#: A primary grind that does not widen by this share is none.
LEAST_WIDENING = 1.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One measure of a knife that can be made smaller.

    Attributes
    ----------
    key : str
        Such as ``edge angle``.
    unit : str
        ``degrees per side`` or ``mm``.
    own : float
        The knife's own measure.
    low, high : float
        The range that is searched.
    step : float
        One step more or less, as a person would try it.
    make : callable
        Grinds the knife to a value; BadInput where that makes no blade.
    """

    key: str
    unit: str
    own: float
    low: float
    high: float
    step: float
    make: Callable[[float], Profile]


def ways_of(profile: Profile) -> tuple[Way, ...]:
    """Give the ways in which a knife without a micro-bevel can be made slimmer.

    A wedge from edge to spine has its angle alone.
    """
    ways = [
        Way(
            key="edge angle",
            unit="degrees per side",
            own=edge_dps(profile),
            low=SLIMMEST_DPS,
            high=STOUTEST_DPS,
            step=1.0,
            make=lambda dps: with_edge_dps(profile, dps),
        )
    ]
    behind = thickness_behind_edge_mm(profile)
    if behind is None:
        return tuple(ways)
    faces = profile.faces
    tip = faces.left_mm[0][1] - faces.right_mm[0][1]
    ways.append(
        Way(
            key="thickness behind the edge",
            unit="mm",
            own=behind,
            low=max(TIP_WIDTHS * tip, 0.1 * behind),
            high=min(TIMES_OWN * behind, 0.98 * faces.spine_thickness_mm),
            step=0.05,
            make=lambda thickness: with_thickness_behind_edge(profile, thickness),
        )
    )
    spine = faces.spine_thickness_mm
    if profile.primary_grind.kind == "flat" and spine > LEAST_WIDENING * behind:
        ways.append(
            Way(
                key="spine of the primary grind",
                unit="mm",
                own=spine,
                low=LEAST_WIDENING * behind,
                high=TIMES_OWN * spine,
                step=0.2,
                make=lambda thickness: with_spine(profile, thickness),
            )
        )
    return tuple(ways)
