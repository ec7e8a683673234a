"""Is a micro-bevel worth adding, at what angle and height: what it gains against what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from math import floor, radians

import numpy as np
from scipy.optimize import brentq

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.profile import Profile
from simedge.runs.quick import QuickRun, quick_run
from simedge.runs.run import run_case
from simedge.runs.solve import elasticity_of
from simedge.section.outline import Outline, build_outline
from simedge.section.tractions import TipTraction, Tractions
from simedge.section.wedging import wedge_resistance_mm
from simedge.strength.closed_form.tip_gain import gain_cap_same_radius
from simedge.strength.closed_form.two_slope_cantilever import plane_strain_gain_cap
from simedge.strength.local_wedge import wedge_movement_mm
from simedge.studies.cut_depth import deepest_in_cut_mm, friction_in_cut
from simedge.studies.designs import Infeasible, Progress, judge_designs
from simedge.studies.micro_bevel_answer import (
    MicroBevelQuestion,
    MicroBevelStudy,
    MicroDesign,
    Slimness,
)
from simedge.studies.reground import (
    edge_dps,
    ground_profile,
    has_micro_bevel,
    with_micro_bevel,
    with_profile,
    without_micro_bevel,
)
from simedge.units import mm_from_um

#: The map, where nothing else is asked: so many degrees beyond the edge, so tall.
LEAST_MORE_DEG, MOST_MORE_DEG, STEEPEST_DPS = 1.0, 16.0, 45.0
LOWEST_MM, TALLEST_MM, MOST_GRID = 0.02, 0.3, 40


def micro_bevel_study(
    case: Case,
    question: MicroBevelQuestion | None = None,
    progress: Progress | None = None,
) -> MicroBevelStudy:
    """Sweep angle and height of a micro-bevel on a knife, and say whether one is worth adding.

    Parameters
    ----------
    case : Case
        Its knife's own micro-bevel is left off.
    question : MicroBevelQuestion or None
    progress : callable or None

    Returns
    -------
    MicroBevelStudy

    Raises
    ------
    BadInput
        The knife is traced, or an axis makes no sense.

    Notes
    -----
    Judged without a mesh (`simedge.runs.quick`); what the answer names is run as a whole.
    """
    asked = question or MicroBevelQuestion()
    asked_margin = asked.asked_margin
    angles, heights, depth = check_micro_bevel(case, asked)
    profile = ground_profile(case.profile)
    plain = without_micro_bevel(profile)
    base_case = with_profile(case, plain)
    friction = friction_in_cut(case)
    base = quick_run(base_case)

    def made(dps: float, height_mm: float) -> Case:
        return with_profile(base_case, with_micro_bevel(plain, dps, height_mm))

    makers = [partial(made, dps, height) for dps in angles for height in heights]
    judged = iter(judge_designs(makers, progress))

    def design(dps: float, height_mm: float, run: QuickRun) -> MicroDesign:
        shift, metal = _ground_away(base.outline, run.outline, height_mm)
        return MicroDesign(
            dps=dps,
            height_mm=height_mm,
            run=run,
            slimness=slimness_of(run, depth, friction),
            metal_mm2=metal,
            renewals=floor(shift / mm_from_um(case.tolerated_damage_um)),
        )

    designs = tuple(
        tuple(
            found if isinstance(found, Infeasible) else design(dps, height, found)
            for height in heights
            for found in (next(judged),)
        )
        for dps in angles
    )
    feasible = [d for row in designs for d in row if isinstance(d, MicroDesign)]
    best = max(feasible, key=lambda d: d.margin, default=None)
    chosen = None
    if base.margin < asked_margin:
        reached = [
            _smallest(row, asked_margin, partial(made, row_dps), partial(design, row_dps))
            for row_dps, row in zip(angles, designs, strict=True)
        ]
        through = [d for d in reached if d is not None]
        chosen = min(through, key=lambda d: d.slimness.thickness_in_cut_mm, default=None)
    named = chosen or best
    return MicroBevelStudy(
        case=base_case,
        left_off=_words_of(profile) if has_micro_bevel(profile) else None,
        base=base,
        base_slimness=slimness_of(base, depth, friction),
        angles_dps=angles,
        heights_mm=heights,
        designs=designs,
        asked_margin=asked_margin,
        depth_mm=depth,
        friction=friction,
        chosen=chosen,
        best=best,
        checked=run_case(named.run.case) if named is not None else None,
        caps=None if named is None else _caps(plain, named),
    )


def check_micro_bevel(
    case: Case, asked: MicroBevelQuestion
) -> tuple[tuple[float, ...], tuple[float, ...], float]:
    """Check a question before anything is judged; give the map's axes and the depth in the cut."""
    plain = without_micro_bevel(ground_profile(case.profile))
    angles, heights = _axes(edge_dps(plain), asked.angles_dps, asked.heights_mm, asked.grid)
    depth = deepest_in_cut_mm(case) if asked.at_mm is None else asked.at_mm
    _check_depth(depth, build_outline(plain.apex, plain.faces, case.support.clamp_depth_mm))
    return angles, heights, depth


def slimness_of(run: QuickRun, depth_mm: float, friction: float) -> Slimness:
    """Tell what an edge costs in use, and how stiff it is."""
    outline = run.outline
    push = Tractions(name="push", tip=(TipTraction(axial_n_per_mm=0.0, lateral_n_per_mm=-1.0),))
    stiffness = None
    if outline.tip.kind != "sharp":
        stiffness = -1.0 / wedge_movement_mm(outline, push, elasticity_of(run.steel))[1]
    return Slimness(
        thickness_in_cut_mm=float(outline.thickness_mm(depth_mm)),
        wedge_resistance_mm=wedge_resistance_mm(outline, depth_mm, friction),
        stiffness_n_per_mm2=stiffness,
    )


def _axes(
    edge: float,
    angles_dps: Sequence[float] | None,
    heights_mm: Sequence[float] | None,
    grid: int,
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Choose the map's axes, and refuse what makes none."""
    if not 2 <= grid <= MOST_GRID:
        raise _refused(f"grid is {grid}, but must lie in [2, {MOST_GRID}]")
    highest = min(edge + MOST_MORE_DEG, STEEPEST_DPS)
    if angles_dps is None:
        angles = tuple(float(a) for a in np.linspace(edge + LEAST_MORE_DEG, highest, grid))
    else:
        angles = tuple(sorted(set(angles_dps)))
        for angle in angles:
            if not edge < angle <= STEEPEST_DPS:
                raise _refused(
                    f"angle {angle:g} must lie beyond the edge's {edge:g} degrees per side and "
                    f"up to {STEEPEST_DPS:g}; a micro-bevel is steeper than what lies behind it"
                )
    if heights_mm is None:
        heights = tuple(float(f"{h:.4g}") for h in np.geomspace(LOWEST_MM, TALLEST_MM, grid))
    else:
        heights = tuple(sorted(set(heights_mm)))
        for height in heights:
            if not 0.0 < height <= 10.0:
                raise _refused(f"height {height:g} mm must lie in (0, 10]")
    if not angles or not heights:
        raise _refused("the map needs at least one angle and one height")
    return angles, heights


def _refused(message: str) -> BadInput:
    return BadInput(Problem("", message))


def _check_depth(depth_mm: float, outline: Outline) -> None:
    if not 0.0 < depth_mm < outline.depth_mm:
        raise _refused(
            f"at-mm is {depth_mm:g} mm, but must lie between the apex and where the blade is "
            f"held, {outline.depth_mm:.4g} mm"
        )


def _ground_away(base: Outline, made: Outline, height_mm: float) -> tuple[float, float]:
    """Give how far the apex goes back when a micro-bevel is ground, and the area that goes.

    Both knives are the same steel behind the micro-bevel's shoulder.
    """
    shoulder = float(made.thickness_mm(height_mm))
    tip = max(base.face_begins_mm("left"), base.face_begins_mm("right"))
    if float(base.thickness_mm(tip)) >= shoulder:
        return 0.0, 0.0
    depth = float(
        brentq(lambda x: float(base.thickness_mm(x)) - shoulder, tip, base.depth_mm, xtol=1e-12)
    )
    return depth - height_mm, _area_to(base, depth) - _area_to(made, height_mm)


def _area_to(outline: Outline, depth_mm: float) -> float:
    """Give the section's area down to a depth, by the trapezoid rule on a fine graded grid."""
    x = depth_mm * (1.0 - np.cos(np.linspace(0.0, 0.5 * np.pi, 4001)))
    return float(np.trapezoid(outline.thickness_mm(x), x))


def _smallest(
    row: Sequence[MicroDesign | Infeasible],
    asked_margin: float,
    made: partial[Case],
    design: partial[MicroDesign],
) -> MicroDesign | None:
    """Find the lowest micro-bevel of one angle that takes the work, between the map's heights."""
    found = [d for d in row if isinstance(d, MicroDesign)]
    first = next((i for i, d in enumerate(found) if d.margin >= asked_margin), None)
    if first is None:
        return None
    if first == 0:
        return found[0]
    low, high = found[first - 1].height_mm, found[first].height_mm

    def short(height_mm: float) -> float:
        return quick_run(made(height_mm)).margin - asked_margin

    height = float(brentq(short, low, high, xtol=1e-3 * high))
    height = float(f"{height * 1.002:.3g}")  # to the safe side, and no digits beyond the error
    return design(height, quick_run(made(height)))


def _words_of(profile: Profile) -> str:
    micro = profile.bevels[0]
    height = profile.faces.left_mm[1][0]
    return f"{max(profile.faces.sides_deg[0]):.3g} per side, {height:.3g} mm high ({micro.name})"


def _caps(profile: Profile, named: MicroDesign) -> tuple[float, float] | None:
    """Give the most that the angle gains in first yield under a load on an even tip."""
    left, right = profile.faces.sides_deg[0]
    if left != right:
        return None
    pair = radians(named.dps), radians(edge_dps(profile))
    return float(plane_strain_gain_cap(*pair)), gain_cap_same_radius(*pair)
