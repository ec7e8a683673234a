"""The slimmest edge that comes through: how far angle, thickness and primary grind may go down."""

from __future__ import annotations

from math import isinf, log

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.profile import Profile
from simedge.inputs.variants import varied
from simedge.runs.quick import QuickRun, quick_run, quick_yield_depth_mm
from simedge.runs.run import Run, run_case
from simedge.section.outline import build_outline
from simedge.studies.bracket import MOST, Bracketed, slimmest_value
from simedge.studies.cut_depth import deepest_in_cut_mm
from simedge.studies.designs import Progress
from simedge.studies.reground import (
    edge_dps,
    ground_profile,
    has_micro_bevel,
    with_profile,
    without_micro_bevel,
)
from simedge.studies.slimmest_answer import (
    Neighbour,
    SlimmestQuestion,
    SlimmestStudy,
    SlimmestWay,
)
from simedge.studies.slimmest_pair import best_pair
from simedge.studies.slimmest_ways import Way, ways_of

#: How near a value is found, as a share of it, before the mesh's own error counts.
CLOSE = 2e-4
#: Verdicts by statics have no mesh error; this much is left of their other approximations
#: between a whole run and the quick one that the search goes by.
LEAST_ERROR = 1e-3
#: A band narrower than this share of the value is none.
NO_BAND = 0.005


def check_slimmest(case: Case, question: SlimmestQuestion) -> Profile:
    """Check a question before anything is judged; give the knife that is varied."""
    plain = without_micro_bevel(ground_profile(case.profile))
    depth = question.tolerated_yield_depth_mm
    if question.measure == "yield depth" and not (depth is not None and 0.0 < depth < 100.0):
        raise BadInput(
            Problem(
                "",
                "judging by yield depth needs the depth that is tolerated, in mm and above 0",
            )
        )
    outline = build_outline(plain.apex, plain.faces, case.support.clamp_depth_mm)
    at_mm = question.at_mm
    if at_mm is not None and not 0.0 < at_mm < outline.depth_mm:
        raise BadInput(
            Problem(
                "",
                f"at-mm is {at_mm:g} mm, but must lie between the apex and where the blade is "
                f"held, {outline.depth_mm:.4g} mm",
            )
        )
    return plain


def slimmest_study(
    case: Case, question: SlimmestQuestion | None = None, progress: Progress | None = None
) -> SlimmestStudy:
    """Search for the slimmest edge that comes through, in each way of making it slimmer.

    Parameters
    ----------
    case : Case
        Its knife's own micro-bevel is left off; the best pair with one is searched besides.
    question : SlimmestQuestion or None
    progress : callable or None

    Returns
    -------
    SlimmestStudy

    Raises
    ------
    BadInput
        The knife is traced, or the question makes no sense.

    Notes
    -----
    The search goes without a mesh (`simedge.runs.quick`); its answer is run as a whole, the
    search repeated with what that differs by, and what still differs is the answer's error.
    """
    asked = question or SlimmestQuestion()
    plain = check_slimmest(case, asked)
    base = with_profile(case, plain)
    depth = deepest_in_cut_mm(case) if asked.at_mm is None else asked.at_mm
    ways = ways_of(plain)
    often = [load for load in case.loads if not load.occasional]
    some = len(often) < len(case.loads)
    without = varied(base, loads=tuple(often)) if some and often else None
    steps = len(ways) + 1
    found = []
    for number, way in enumerate(ways):
        answer = _search(base, way, asked, depth, without)
        if answer is not None:
            found.append(answer)
        if progress is not None:
            progress(number + 1, steps)
    pair = None
    if found and found[0].way.key == "edge angle" and asked.measure == "verdict":
        edge = found[0]
        pair = best_pair(
            base,
            plain,
            edge.value if edge.value is not None else edge_dps(plain),
            edge.thickness_in_cut_mm,
            asked_margin=asked.asked_margin,
            depth_mm=depth,
        )
    if progress is not None:
        progress(steps, steps)
    return SlimmestStudy(
        case=base,
        question=asked,
        depth_mm=depth,
        micro_left_off=has_micro_bevel(ground_profile(case.profile)),
        own=run_case(base),
        ways=tuple(found),
        pair=pair,
        occasional=tuple(
            case.load_name(index) for index, load in enumerate(case.loads) if load.occasional
        ),
    )


def quick_margin(run: QuickRun, asked: SlimmestQuestion) -> float:
    """Give a design's margin by the measure that was asked."""
    if asked.measure == "verdict":
        return run.margin
    if asked.measure == "first yield":
        return min(load.first_yield for load in run.loads)
    assert asked.tolerated_yield_depth_mm is not None
    deepest = max(quick_yield_depth_mm(run, index) for index in range(len(run.loads)))
    return asked.tolerated_yield_depth_mm / deepest if deepest > 0.0 else MOST


def run_margin(run: Run, asked: SlimmestQuestion) -> float:
    """Give a whole run's margin by the measure that was asked."""
    if asked.measure == "verdict":
        return min((a.verdict.margin for a in run.loads if a.verdict is not None), default=MOST)
    if asked.measure == "first yield":
        factors = [a.first_yield_load_factor for a in run.loads]
        return min((f for f in factors if f is not None), default=MOST)
    assert asked.tolerated_yield_depth_mm is not None
    deepest = max(a.yield_depth_mm for a in run.loads)
    return asked.tolerated_yield_depth_mm / deepest if deepest > 0.0 else MOST


def _margin_at(
    case: Case, way: Way, asked: SlimmestQuestion, value: float
) -> tuple[float, QuickRun] | None:
    try:
        run = quick_run(with_profile(case, way.make(value)))
    except BadInput:
        return None
    return quick_margin(run, asked), run


def _search(
    case: Case, way: Way, asked: SlimmestQuestion, depth_mm: float, without: Case | None
) -> SlimmestWay | None:
    """Search one way; None where nothing of its range can be built."""

    def margin_of(asked_of: Case, value: float) -> float | None:
        found = _margin_at(asked_of, way, asked, value)
        return None if found is None else found[0]

    def bracketed(asked_of: Case, margin: float) -> Bracketed | None:
        return slimmest_value(
            lambda value: margin_of(asked_of, value),
            way.low,
            way.high,
            asked=margin,
            close=CLOSE * way.low,
        )

    found = bracketed(case, asked.asked_margin)
    if found is None:
        return None
    value, error, run = found.value, None, None
    if value is not None:
        run = run_case(with_profile(case, way.make(value)))
        if not found.by_bound:
            value, error, run = _checked(case, way, asked, value, run)
    at = value if value is not None else found.best
    there = _margin_at(case, way, asked, at)
    assert there is not None
    rare = bracketed(without, asked.asked_margin) if without is not None else None
    return SlimmestWay(
        way=way,
        found=found,
        value=value,
        error=error,
        quick=there[1],
        run=run,
        thickness_in_cut_mm=float(there[1].outline.thickness_mm(depth_mm)),
        band=_band(case, way, asked, value, there[1]) if error is not None else None,
        less=_neighbour(case, way, asked, at - way.step),
        more=_neighbour(case, way, asked, at + way.step),
        without_occasional=rare,
    )


def _checked(
    case: Case, way: Way, asked: SlimmestQuestion, value: float, run: Run
) -> tuple[float, float, Run]:
    """Move a value to where the whole run takes what is asked, and say how sure that is."""
    slope = _slope(case, way, asked, value)
    off = run_margin(run, asked) / asked.asked_margin - 1.0
    if abs(off) > LEAST_ERROR and slope > 0.0:
        moved = value - off / slope
        moved = min(max(moved, way.low), way.high)
        try:
            run = run_case(with_profile(case, way.make(moved)))
        except BadInput:
            return value, abs(moved - value), run
        value, off = moved, run_margin(run, asked) / asked.asked_margin - 1.0
    error = (abs(off) + LEAST_ERROR) / slope if slope > 0.0 else abs(off) * value
    return value, error, run


def _slope(case: Case, way: Way, asked: SlimmestQuestion, value: float) -> float:
    """Give by what share the margin rises for one more of the value."""
    near = [_margin_at(case, way, asked, value * share) for share in (0.99, 1.01)]
    if near[0] is None or near[1] is None or isinf(near[1][0]):
        return 0.0
    middle = 0.5 * (near[0][0] + near[1][0])
    return (near[1][0] - near[0][0]) / middle / (0.02 * value)


def _band(
    case: Case, way: Way, asked: SlimmestQuestion, value: float | None, run: QuickRun
) -> tuple[float, float] | None:
    """Give the values at which the weak and the strong end of such a steel take what is asked."""
    if asked.measure != "verdict" or value is None:
        return None
    slope = _slope(case, way, asked, value)
    if slope <= 0.0:
        return None
    weak = min(min(f.low for f in load.factors.possible.values()) for load in run.loads)
    strong = min(min(f.high for f in load.factors.judged.values()) for load in run.loads)
    shares = (strong / asked.asked_margin, weak / asked.asked_margin)
    low, high = (value - log(share) / slope for share in shares)
    if high - low <= NO_BAND * value:  # the case gives the strength outright
        return None
    return max(low, way.low), min(high, way.high)


def _neighbour(case: Case, way: Way, asked: SlimmestQuestion, value: float) -> Neighbour | None:
    if value <= 0.0:
        return None
    found = _margin_at(case, way, asked, value)
    if found is None:
        return None
    margin, run = found
    return Neighbour(
        value=value, margin=margin, kind=run.governing.governing_kind, load=run.governing.name
    )
