"""What a steadier hand buys: each load of a case from straight to as crooked as it can be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from math import isfinite, tan

import numpy as np
from scipy.optimize import brentq

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.steel_properties import SteelProperties, steel_properties
from simedge.runs.quick import quick_first_yield, quick_tractions
from simedge.section.outline import SIDES, Outline, build_outline
from simedge.section.tractions import Tractions, resultant_up_to
from simedge.strength.load_factors import Judge
from simedge.strength.verdict import tolerated_cut_mm
from simedge.strength.zones import trusted_depth_mm
from simedge.studies.crookedness import QUARTER_TURN_DEG, Steered, steered
from simedge.studies.designs import Progress
from simedge.studies.steered_load import LoadSteered, Ray

#: Directions from straight to crooked, evenly over the curve as it is seen.
RAYS = 24
#: And evenly from straight to crooked.
STEPS = 9
#: A limit beyond so many times the other end's says no more than that nothing gives there.
MOST_APART = 100.0
#: As crooked as straight work soon is: what a tenth of one face alone, or so many degrees, do.
A_LITTLE, A_LITTLE_DEG = 0.1, 10.0
#: How near the crookedness is found up to which an edge comes through.
CLOSE = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SteadyHandStudy:
    """What a steadier hand buys.

    Attributes
    ----------
    case : Case
    steel : SteelProperties
    loads : tuple of LoadSteered
        At least one.
    remarks : tuple of str
        What was left out, and why.
    """

    case: Case
    steel: SteelProperties
    loads: tuple[LoadSteered, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SteadyHandPlan:
    """What can be asked of a case.

    Attributes
    ----------
    outline : Outline
    steel : SteelProperties
    ways : tuple of tuple of Steered
        A load each; two where straight work may become crooked to either side.
    remarks : tuple of str
    """

    outline: Outline
    steel: SteelProperties
    ways: tuple[tuple[Steered, ...], ...]
    remarks: tuple[str, ...]


def plan_steady_hand(case: Case, load: str | None = None) -> SteadyHandPlan:
    """See what can be asked; parameters and errors as of `steady_hand`."""
    outline = build_outline(case.profile.apex, case.profile.faces, case.support.clamp_depth_mm)
    steel = steel_properties(case.steel)
    found, remarks = [], []
    for index in _chosen(case, load):
        acting = quick_tractions(case, index, outline, steel)
        tried = [steered(case.loads[index], acting, outline, side) for side in SIDES]
        ways = [way for way in tried if isinstance(way, Steered)]
        if _cancels(acting, outline):
            remarks.append(f"{case.load_name(index)} is left out: its parts cancel")
        elif ways:
            found.append(tuple(ways if ways[0].own == 0.0 else ways[:1]))
        else:
            reason = next(way for way in tried if isinstance(way, str))
            remarks.append(f"{case.load_name(index)} is left out: {reason}")
    if not found:
        raise BadInput(Problem("loads", f"nothing here can be steered; {'; '.join(remarks)}"))
    return SteadyHandPlan(outline=outline, steel=steel, ways=tuple(found), remarks=tuple(remarks))


def steady_hand(
    case: Case, load: str | None = None, progress: Progress | None = None
) -> SteadyHandStudy:
    """Ask a case's work again, straighter and more crooked.

    Parameters
    ----------
    case : Case
    load : str or None
        Name of the one load to ask about; all where None.
    progress : callable or None

    Returns
    -------
    SteadyHandStudy

    Raises
    ------
    BadInput
        No load of that name, none that can be steered, or the section cannot be built.

    Notes
    -----
    Judged without a mesh (`simedge.runs.quick`); the tractions of straight and of crooked work
    are mixed, and asked again of the edge cut back.
    """
    plan = plan_steady_hand(case, load)
    found = []
    for done, ways in enumerate(plan.ways, start=1):
        found.append(_load(case, plan, ways))
        if progress is not None:
            progress(done, len(plan.ways))
    return SteadyHandStudy(case=case, steel=plan.steel, loads=tuple(found), remarks=plan.remarks)


def _chosen(case: Case, name: str | None) -> tuple[int, ...]:
    """Give the numbers of the loads that are asked about."""
    names = [case.load_name(index) for index in range(len(case.loads))]
    if name is None:
        return tuple(range(len(names)))
    if name not in names:
        known = ", ".join(f'"{each}"' for each in names)
        raise BadInput(
            Problem("--load", f'is "{name}", but this case has no such load; it has {known}')
        )
    return (names.index(name),)


def _load(case: Case, plan: SteadyHandPlan, ways: tuple[Steered, ...]) -> LoadSteered:
    steel, outline = plan.steel, plan.outline
    trusted = trusted_depth_mm(outline)

    def ask(way: Steered, crookedness: float) -> Ray:
        by = Judge.of(way.work(crookedness), steel, trusted, None)
        force = resultant_up_to(by.work.tractions, outline, trusted)
        return Ray(
            crookedness=crookedness,
            straight_n_per_mm=float(force.axial_n_per_mm[0]),
            sideways_n_per_mm=float(force.lateral_n_per_mm[0]),
            factors=by.load_factors(tolerated_cut_mm(by, case.tolerated_damage_um)),
            first_yield=quick_first_yield(by, steel),
        )

    # straight work may become crooked to either side: the worse one counts
    way = min(ways, key=lambda each: _rounded(ask(each, 1.0).margin))
    ends = ask(way, 0.0), ask(way, 1.0)
    a_little = A_LITTLE_DEG / QUARTER_TURN_DEG if way.by_angle else A_LITTLE
    eased = 0.5 * way.own or a_little
    asked = sorted({*_spread(ends), way.own, eased})
    rays = [ask(way, crookedness) for crookedness in asked]
    side = -1.0 if rays[-1].sideways_n_per_mm < 0.0 else 1.0
    seen = {ray.crookedness: _towards(ray, side) for ray in rays}
    return LoadSteered(
        name=way.name,
        by_angle=way.by_angle,
        own=seen[way.own],
        straight=seen[0.0],
        crooked=seen[1.0],
        eased=seen[eased],
        rays=tuple(seen.values()),
        holds_up_to=_holds_up_to(lambda c: ask(way, c).margin, tuple(seen.values())),
    )


def _rounded(margin: float) -> float:
    """Drop what rounding makes of two sides that are the same."""
    return float(f"{margin:.6g}")


def _cancels(acting: Tractions, outline: Outline) -> bool:
    force = resultant_up_to(acting, outline, outline.depth_mm)
    some = [force.axial_n_per_mm[0], force.lateral_n_per_mm[0], force.moment_n[0]]
    return not any(some)


def _towards(ray: Ray, side: float) -> Ray:
    """Count the sideways force as positive to where crooked work pushes."""
    return replace(ray, sideways_n_per_mm=side * ray.sideways_n_per_mm)


def _spread(ends: tuple[Ray, Ray]) -> list[float]:
    """Choose crookednesses whose limits lie evenly over the curve, seen from corner to corner."""
    straight, crooked = (ray.margin for ray in ends)
    apart = straight / crooked if isfinite(straight) and isfinite(crooked) else MOST_APART
    apart = min(max(apart, 1.0 / MOST_APART), MOST_APART)
    inner = np.linspace(0.0, 0.5 * np.pi, RAYS)[1:-1]
    slopes = [tan(angle) / apart for angle in inner]
    return [*(slope / (1.0 + slope) for slope in slopes), *np.linspace(0.0, 1.0, STEPS)]


def _holds_up_to(margin: Callable[[float], float], rays: tuple[Ray, ...]) -> float | None:
    """Find the first crookedness from straight at which the edge no longer comes through."""
    for before, behind in pairwise(rays):
        if before.margin >= 1.0 > behind.margin:
            return float(
                brentq(
                    lambda c: min(margin(c), MOST_APART) - 1.0,
                    before.crookedness,
                    behind.crookedness,
                    xtol=CLOSE,
                )
            )
    return None
