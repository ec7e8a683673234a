"""One load from straight to crooked: what the edge takes in each direction."""

from __future__ import annotations

from dataclasses import dataclass

from simedge.strength.load_factors import Kind, LoadFactors


@dataclass(frozen=True, slots=True, kw_only=True)
class Ray:
    """A load at one crookedness: a direction in the plane of straight and sideways force.

    Attributes
    ----------
    crookedness : float
        0 straight, 1 as crooked as it can be.
    straight_n_per_mm, sideways_n_per_mm : float
        What the work then puts on the edge in all, N per mm of edge; sideways is positive to
        where the crooked work pushes.
    factors : LoadFactors
        Times that work, of the edge cut back by the tolerated damage.
    first_yield : float
        Times that work until the section first yields, elastically; inf where it never does.
    """

    crookedness: float
    straight_n_per_mm: float
    sideways_n_per_mm: float
    factors: LoadFactors
    first_yield: float

    @property
    def margin(self) -> float:
        """Times that work until the first kind."""
        return self.factors.smallest

    @property
    def kind(self) -> Kind:
        """The kind that comes first."""
        judged = self.factors.judged
        return min(judged, key=lambda kind: judged[kind].value)

    @property
    def low(self) -> float:
        """Times that work in the weak end of what is known of such a steel."""
        return min(factor.low for factor in self.factors.possible.values())

    @property
    def high(self) -> float:
        """The same in the strong end."""
        return min(factor.high for factor in self.factors.judged.values())

    def at_limit(self, factor: float) -> tuple[float, float]:
        """Give straight and sideways force at so many times the work."""
        return factor * self.straight_n_per_mm, factor * self.sideways_n_per_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadSteered:
    """One load of the case, straighter and more crooked.

    Attributes
    ----------
    name : str
    by_angle : bool
        Crookedness is an angle off straight over 90 degrees; else the share of one face alone.
    own : Ray
        As it is in the case.
    straight, crooked : Ray
        The ends.
    eased : Ray
        Half as crooked as it is; a little crooked where it is straight.
    rays : tuple of Ray
        Straight to crooked, with the above.
    holds_up_to : float or None
        Crookedness up to which the edge comes through, where that ends between the ends.
    """

    name: str
    by_angle: bool
    own: Ray
    straight: Ray
    crooked: Ray
    eased: Ray
    rays: tuple[Ray, ...]
    holds_up_to: float | None

    @property
    def is_straight(self) -> bool:
        """Whether the case's own work is straight."""
        return self.own.crookedness == 0.0
