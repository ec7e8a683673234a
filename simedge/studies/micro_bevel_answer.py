"""What is asked of a map of micro-bevels, and what is answered."""

from __future__ import annotations

from dataclasses import dataclass

from simedge.inputs.case import Case
from simedge.runs.quick import QuickRun
from simedge.runs.run import Run
from simedge.studies.designs import Infeasible

#: Angles and heights of a map, where nothing else is asked.
USUAL_GRID = 10
#: A margin within this share of the best of its angle gains no more by being taller.
SATURATED = 0.01
#: A micro-bevel that takes less than this share more is not worth it.
LEAST_GAIN = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Slimness:
    """What an edge costs in use, and what it gives in stiffness.

    Attributes
    ----------
    thickness_in_cut_mm : float
        At the depth in the cut.
    wedge_resistance_mm : float
        Axial force of a straight cut, N per mm of edge for each MPa of the medium.
    stiffness_n_per_mm2 : float or None
        N on each mm of edge for each mm that the apex gives way sideways, on local wedges;
        None at a perfectly sharp apex.
    """

    thickness_in_cut_mm: float
    wedge_resistance_mm: float
    stiffness_n_per_mm2: float | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MicroDesign:
    """One micro-bevel.

    Attributes
    ----------
    dps : float
        Of its steeper side.
    height_mm : float
    run : QuickRun
    slimness : Slimness
    metal_mm2 : float
        Of the section, to be ground away to make it: mm3 per mm of edge.
    renewals : int
        How often the tolerated damage can be ground out at that angle before the
        micro-bevel is twice as tall, and the edge bevel wants grinding (common practice).
    """

    dps: float
    height_mm: float
    run: QuickRun
    slimness: Slimness
    metal_mm2: float
    renewals: int

    @property
    def margin(self) -> float:
        """Times the work that it takes, of the load that asks most."""
        return self.run.margin


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MicroBevelStudy:
    """The map of micro-bevels on one knife, and what came of it.

    Attributes
    ----------
    case : Case
        With the knife's own micro-bevel left off.
    left_off : str or None
        Words for the micro-bevel that the knife had.
    base, base_slimness
        The knife without one.
    angles_dps, heights_mm : tuple of float
    designs : tuple of tuple of (MicroDesign or Infeasible)
        By angle, then height.
    asked_margin : float
    depth_mm, friction : float
        Of the cut by which slimness is told.
    chosen : MicroDesign or None
        The smallest that comes through with the asked margin, by thickness in the cut.
    best : MicroDesign or None
        The one that takes most.
    checked : Run or None
        The whole run of what the answer names.
    caps : tuple of (float, float) or None
        Of first yield under a load on the tip, at the angle that the answer names: the most
        that a micro-bevel of any height gains, at the same land and at the same radius.
    """

    case: Case
    left_off: str | None
    base: QuickRun
    base_slimness: Slimness
    angles_dps: tuple[float, ...]
    heights_mm: tuple[float, ...]
    designs: tuple[tuple[MicroDesign | Infeasible, ...], ...]
    asked_margin: float
    depth_mm: float
    friction: float
    chosen: MicroDesign | None
    best: MicroDesign | None
    checked: Run | None
    caps: tuple[float, float] | None

    @property
    def named(self) -> MicroDesign | None:
        """The design that the answer is about."""
        return self.chosen or self.best

    @property
    def feasible(self) -> tuple[MicroDesign, ...]:
        """All designs that could be built."""
        return tuple(d for row in self.designs for d in row if isinstance(d, MicroDesign))

    def saturates_at_mm(self, dps: float) -> float | None:
        """Give the height of the map from which more gains nothing; None where it still does."""
        row = next(
            row for angle, row in zip(self.angles_dps, self.designs, strict=True) if angle == dps
        )
        found = [design for design in row if isinstance(design, MicroDesign)]
        if len(found) < 2:
            return None
        most = max(design.margin for design in found)
        first = next(d for d in found if d.margin >= (1.0 - SATURATED) * most)
        return None if first is found[-1] else first.height_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class MicroBevelQuestion:
    """What is asked of a map.

    Attributes
    ----------
    angles_dps, heights_mm : tuple of float or None
        The map's axes; None stands for `grid` angles from 1 to 16 degrees beyond the edge's
        own, and `grid` heights from 0.02 to 0.3 mm, evenly in ratio.
    grid : int
        2 to 40.
    asked_margin : float
        How many times the work it has to take.
    at_mm : float or None
        Depth by which slimness is told; None stands for the deepest cut of the case.
    """

    angles_dps: tuple[float, ...] | None = None
    heights_mm: tuple[float, ...] | None = None
    grid: int = USUAL_GRID
    asked_margin: float = 1.0
    at_mm: float | None = None
