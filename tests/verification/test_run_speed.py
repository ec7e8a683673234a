"""A run costs little more than its mesh and one factorisation, which nothing can spare it.

Source: the figure that the work was ordered with; measured, not derived. Both clocks run in the
same call, so that a busy machine slows both alike.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from unittest import mock

import simedge.fem.elastic
import simedge.section.mesh
from simedge import run_case
from simedge.inputs.case import Case, Support
from simedge.inputs.load import MediumLoad, TipForce, TipLineLoad
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile
from simedge.inputs.steel import Steel

#: Three for the answers, and 1.3 times that with their errors: both as ordered.
LARGEST_RATIO = 3.0 * 1.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """Seconds of one run, and of its meshing and factorising."""

    run_s: float
    mesh_s: float
    factorise_s: float

    @property
    def ratio(self) -> float:
        """The run over the sum of the other two."""
        return self.run_s / (self.mesh_s + self.factorise_s)


def everyday_case() -> Case:
    """Give a knife with a micro-bevel under three loads: a cut, a force, a line load."""
    return Case(
        profile=Profile(
            apex=Apex(radius_um=1.5),
            height_mm=28.0,
            spine_thickness_mm=3.2,
            bevels=(
                Bevel(name="micro-bevel", dps=15.0, height_mm=0.08),
                Bevel(name="edge bevel", dps=11.0, ends_at_thickness_mm=0.45),
            ),
            primary_grind=PrimaryGrind(),
        ),
        steel=Steel(grade="52100", hardness_hrc=60.0),
        support=Support(clamp_depth_mm=12.0),
        loads=(
            MediumLoad(medium="hard wood", depth_in_cut_mm=0.5, side="left"),
            TipForce(force_n=40.0, contact_length_mm=12.0, direction_deg=30.0),
            TipLineLoad(axial_n_per_mm=3.0, lateral_n_per_mm=1.0),
        ),
    )


def time_run(case: Case) -> Timing:
    """Run a case once and time it, its meshing and its factorisation."""
    spent: dict[str, float] = {"mesh": 0.0, "factorise": 0.0}

    def timed(what: str, function: Callable[..., Any]) -> Callable[..., Any]:
        def wrapped(*args: Any, **kwargs: Any) -> Any:
            begin = time.perf_counter()
            try:
                return function(*args, **kwargs)
            finally:
                spent[what] += time.perf_counter() - begin

        return wrapped

    mesher = timed("mesh", simedge.section.mesh._run_gmsh)
    factoriser = timed("factorise", simedge.fem.elastic.splu)
    with (
        mock.patch.object(simedge.section.mesh, "_run_gmsh", mesher),
        mock.patch.object(simedge.fem.elastic, "splu", factoriser),
    ):
        begin = time.perf_counter()
        run_case(case)
        whole = time.perf_counter() - begin
    assert spent["mesh"] > 0.0
    assert spent["factorise"] > 0.0
    return Timing(run_s=whole, mesh_s=spent["mesh"], factorise_s=spent["factorise"])


def time_warm_runs(times: int) -> list[Timing]:
    """Time that many runs after one that loads the libraries."""
    case = everyday_case()
    run_case(case)
    return [time_run(case) for _ in range(times)]


def median_ratio(timings: list[Timing]) -> float:
    """Give the median of the ratios."""
    return statistics.median(timing.ratio for timing in timings)


def test_a_warm_run_costs_no_more_than_four_times_what_it_cannot_spare() -> None:
    """Measured: whole run over mesh and factorisation.

    The best of several: other work on the machine only ever makes a run slower, and may hit either
    clock. A run that always does too much is still caught. `tests/benchmark.py` prints the median.
    """
    best = min(timing.ratio for timing in time_warm_runs(7))
    assert best < LARGEST_RATIO
