"""One design judged without a mesh: fast enough for hundreds of them.

Verdicts rest on section forces, limit loads and the wedge formula for face stress; first yield
and stiffness on the same local wedges. Against a whole run of `simedge.runs.run` verdicts of slim
edges differ by less than 1 % where they roll or blunt, and by a few per cent where a chip starts
at a shoulder or where the work ends. Whoever chooses by this checks the choice by a run.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf

import numpy as np

from simedge.fem.elasticity import Elasticity
from simedge.inputs.case import Case
from simedge.inputs.steel_properties import SteelProperties, steel_properties
from simedge.runs.solve import elasticity_of
from simedge.runs.verdicts import judge_of
from simedge.section.loading import tractions_of
from simedge.section.outline import Outline, build_outline
from simedge.section.tractions import TipTraction, Tractions
from simedge.strength.load_factors import Judge, Kind, LoadFactors
from simedge.strength.local_wedge import (
    read_local_wedges,
    wedge_movement_mm,
    wedge_peak_mpa,
    wedge_yield_depth_mm,
)
from simedge.strength.verdict import tolerated_cut_mm
from simedge.strength.zones import patch_zone, trusted_depth_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickLoad:
    """One load on one design.

    Attributes
    ----------
    name : str
    factors : LoadFactors
        Of the edge cut back by the tolerated damage.
    margin : float
        Times the load until the first kind.
    governing_kind : {"blunt", "roll", "chip", "crumble"}
    first_yield : float
        Times the load until the section first yields, elastically.
    """

    name: str
    factors: LoadFactors
    margin: float
    governing_kind: Kind
    first_yield: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class QuickRun:
    """A design's answers.

    Attributes
    ----------
    case : Case
    outline : Outline
    steel : SteelProperties
    loads : tuple of QuickLoad
        In the order of the case.
    """

    case: Case
    outline: Outline
    steel: SteelProperties
    loads: tuple[QuickLoad, ...]

    @property
    def margin(self) -> float:
        """The smallest margin of any load."""
        return min(load.margin for load in self.loads)

    @property
    def governing(self) -> QuickLoad:
        """The load that has it."""
        return min(self.loads, key=lambda load: load.margin)


def quick_run(case: Case) -> QuickRun:
    """Judge a design without a mesh.

    Parameters
    ----------
    case : Case

    Returns
    -------
    QuickRun

    Raises
    ------
    BadInput
        The section cannot be built.
    """
    outline = build_outline(case.profile.apex, case.profile.faces, case.support.clamp_depth_mm)
    steel = steel_properties(case.steel)
    loads = tuple(_load(case, index, outline, steel) for index in range(len(case.loads)))
    return QuickRun(case=case, outline=outline, steel=steel, loads=loads)


def quick_tractions(case: Case, index: int, outline: Outline, steel: SteelProperties) -> Tractions:
    """Give what a load puts on an outline; an imposed movement as the force that it takes."""
    tractions = tractions_of(case.loads[index], case.load_name(index), outline)
    return _settled(tractions, outline, elasticity_of(steel))


def quick_judge(case: Case, index: int, outline: Outline, steel: SteelProperties) -> Judge:
    """Give the judge of one load, by the wedge formula."""
    acting = quick_tractions(case, index, outline, steel)
    return judge_of(case.loads[index], outline, acting, steel)


def quick_first_yield(by: Judge, steel: SteelProperties) -> float:
    """Give how many times the work the section takes until it yields, apart from under the load."""
    outline, acting = by.work.outline, by.work.tractions
    reading = read_local_wedges(outline, acting, steel.poissons_ratio, by.trusted_depth_mm)
    peak = wedge_peak_mpa(reading, patch_zone(acting, outline))
    return inf if peak is None or peak[0] <= 0.0 else steel.yield_strength_mpa / peak[0]


def quick_yield_depth_mm(run: QuickRun, index: int) -> float:
    """Give how deep a load makes the steel yield, elastically; 0 where it does not."""
    acting = quick_tractions(run.case, index, run.outline, run.steel)
    trusted = trusted_depth_mm(run.outline)
    reading = read_local_wedges(run.outline, acting, run.steel.poissons_ratio, trusted)
    return wedge_yield_depth_mm(reading, run.steel.yield_strength_mpa) or 0.0


def _load(case: Case, index: int, outline: Outline, steel: SteelProperties) -> QuickLoad:
    by = quick_judge(case, index, outline, steel)
    factors = by.load_factors(tolerated_cut_mm(by, case.tolerated_damage_um))
    judged = factors.judged
    kind = min(judged, key=lambda k: judged[k].value)
    return QuickLoad(
        name=case.load_name(index),
        factors=factors,
        margin=judged[kind].value,
        governing_kind=kind,
        first_yield=quick_first_yield(by, steel),
    )


def _settled(tractions: Tractions, outline: Outline, elasticity: Elasticity) -> Tractions:
    """Turn an imposed movement into the tip's load that makes it, by the wedges' compliance."""
    movement = tractions.movement
    if movement is None:
        return tractions
    units = [
        Tractions(name="unit", tip=(TipTraction(axial_n_per_mm=a, lateral_n_per_mm=1.0 - a),))
        for a in (1.0, 0.0)
    ]
    flexibility = np.array([wedge_movement_mm(outline, unit, elasticity) for unit in units]).T
    others = replace(tractions, movement=None)
    moved = np.array(wedge_movement_mm(outline, others, elasticity))
    asked = (movement.axial_mm, movement.lateral_mm)
    held = [i for i, value in enumerate(asked) if value is not None]
    wanted = np.array([float(asked[i] or 0.0) for i in held]) - moved[held]
    force = np.zeros(2)
    force[held] = np.linalg.solve(flexibility[np.ix_(held, held)], wanted)
    made = TipTraction(axial_n_per_mm=float(force[0]), lateral_n_per_mm=float(force[1]))
    return replace(others, carried=movement, tip=(*others.tip, made))
