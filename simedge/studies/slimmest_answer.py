"""What is asked about slimness, and what is answered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from simedge.inputs.case import Case
from simedge.runs.quick import QuickRun
from simedge.runs.run import Run
from simedge.strength.load_factors import Kind
from simedge.studies.bracket import Bracketed
from simedge.studies.slimmest_ways import Way

Measure = Literal["verdict", "first yield", "yield depth"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SlimmestQuestion:
    """What is asked.

    Attributes
    ----------
    asked_margin : float
        How many times the work it has to take.
    measure : {"verdict", "first yield", "yield depth"}
        By the verdict; by first yield; by how deep the steel yields, elastically.
    tolerated_yield_depth_mm : float or None
        For the last.
    at_mm : float or None
        Depth by which slimness is told; None stands for the deepest cut of the case.
    """

    asked_margin: float = 1.0
    measure: Measure = "verdict"
    tolerated_yield_depth_mm: float | None = None
    at_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Neighbour:
    """What one step more or less would do: a value, its margin, and what gives first there."""

    value: float
    margin: float
    kind: Kind
    load: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SlimmestWay:
    """One way, and how far it may go down.

    Attributes
    ----------
    way : Way
    found : Bracketed
    value, error : float or None
        The slimmest value and its error: what a whole run and the search differ by.
    quick : QuickRun
        That design, or the one that takes most where none takes the work.
    run : Run or None
        The same as a whole run.
    thickness_in_cut_mm : float
    band : tuple of float or None
        Between which values it lies as steels of one name differ; by the verdict only.
    less, more : Neighbour or None
    without_occasional : Bracketed or None
        What the search finds if the loads that come now and then are left out; None where
        there are none.
    """

    way: Way
    found: Bracketed
    value: float | None
    error: float | None
    quick: QuickRun
    run: Run | None
    thickness_in_cut_mm: float
    band: tuple[float, float] | None
    less: Neighbour | None
    more: Neighbour | None
    without_occasional: Bracketed | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SlimmestPair:
    """An edge with a micro-bevel that comes through, slimmer than the plain one."""

    edge_dps: float
    micro_dps: float
    micro_height_mm: float
    quick: QuickRun
    run: Run
    thickness_in_cut_mm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SlimmestStudy:
    """How slim a knife may be in the work of a case.

    Attributes
    ----------
    case : Case
        With the knife's own micro-bevel left off.
    question : SlimmestQuestion
    depth_mm : float
        At which slimness is told.
    micro_left_off : bool
    own : Run
        The knife as it is, without its micro-bevel.
    ways : tuple of SlimmestWay
    pair : SlimmestPair or None
        The best pair of edge and micro-bevel; None where none is slimmer than the plain edge.
    occasional : tuple of str
        Names of the loads that come now and then.
    """

    case: Case
    question: SlimmestQuestion
    depth_mm: float
    micro_left_off: bool
    own: Run
    ways: tuple[SlimmestWay, ...]
    pair: SlimmestPair | None
    occasional: tuple[str, ...]
