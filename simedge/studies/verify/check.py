"""One check: a number of ours beside one that others found, and how far apart they may be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf, isfinite


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """A computed number beside its reference.

    Attributes
    ----------
    what : str
        The quantity, in words a practitioner can follow.
    computed, reference : float
    unit : str
        Empty for a ratio or an order.
    tolerance : float
        Largest difference allowed, above 0: a share of the reference, or where ``absolute``
        is set in the quantity's own unit.
    absolute : bool

    Raises
    ------
    ValueError
        A tolerance of 0, or a share of a reference of 0: neither can be held.
    """

    what: str
    computed: float
    reference: float
    unit: str
    tolerance: float
    absolute: bool = False

    def __post_init__(self) -> None:
        if not self.tolerance > 0.0:
            raise ValueError(f"{self.what}: a tolerance is above 0, not {self.tolerance:g}")
        if self.reference == 0.0 and not self.absolute:
            raise ValueError(f"{self.what}: beside a reference of 0 a difference is absolute")

    @property
    def difference(self) -> float:
        """Computed less reference: as a share of the reference, unless absolute.

        >>> Comparison(what="depth", computed=1.02, reference=1.0, unit="mm",
        ...            tolerance=0.05).difference  # doctest: +ELLIPSIS
        0.02...
        """
        apart = self.computed - self.reference
        return apart if self.absolute else apart / abs(self.reference)

    @property
    def holds(self) -> bool:
        """Whether the difference is allowed; a number that is none never is."""
        return abs(self.difference) <= self.tolerance

    @property
    def used_share(self) -> float:
        """How much of the tolerance the difference takes: above 1 it is exceeded.

        >>> Comparison(what="depth", computed=1.02, reference=1.0, unit="mm",
        ...            tolerance=0.04).used_share  # doctest: +ELLIPSIS
        0.5...
        """
        share = abs(self.difference) / self.tolerance
        return share if isfinite(share) else inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A published case that anyone can replay.

    Attributes
    ----------
    key : str
        Short name in small letters with hyphens, to ask for it alone.
    title : str
        What it checks, in one line.
    source : str
        Who published it, and how sure the place in it is.
    reason : str
        Why the tolerances are what they are.
    compare : callable
        Runs the case and gives its comparisons, one or more.
    """

    key: str
    title: str
    source: str
    reason: str
    compare: Callable[[], tuple[Comparison, ...]]
