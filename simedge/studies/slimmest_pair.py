"""The best pair of a slim edge and a micro-bevel in front of it."""

from __future__ import annotations

from simedge.errors import BadInput
from simedge.inputs.case import Case
from simedge.inputs.profile import Profile
from simedge.runs.quick import QuickRun, quick_run
from simedge.runs.run import run_case
from simedge.studies.reground import with_edge_dps, with_micro_bevel, with_profile
from simedge.studies.slimmest_answer import SlimmestPair
from simedge.studies.slimmest_ways import SLIMMEST_DPS

#: Micro-bevels that are tried on each slimmer edge: degrees beyond it, and heights, mm.
MICRO_MORE_DEG, MICRO_HEIGHTS_MM = (2.0, 4.0, 6.0, 9.0, 12.0), (0.02, 0.3)
#: Edges that are tried in front of a micro-bevel, as shares of the slimmest plain one.
EDGE_SHARES = (0.5, 0.6, 0.7, 0.8, 0.9)


def best_pair(
    case: Case,
    plain: Profile,
    slimmest_dps: float,
    thinnest_mm: float,
    *,
    asked_margin: float,
    depth_mm: float,
) -> SlimmestPair | None:
    """Find the pair of edge and micro-bevel that comes through and is thinnest in the cut.

    Parameters
    ----------
    case : Case
    plain : Profile
        The knife without a micro-bevel.
    slimmest_dps, thinnest_mm : float
        Of the plain edge that comes through: its angle, and its thickness in the cut.
    asked_margin : float
    depth_mm : float
        Of the cut.

    Returns
    -------
    SlimmestPair or None
        None where no pair is thinner than the plain edge.
    """
    best: tuple[float, float, float, float] | None = None
    for share in EDGE_SHARES:
        dps = float(f"{share * slimmest_dps:.3g}")
        if dps < SLIMMEST_DPS:
            continue
        for more in MICRO_MORE_DEG:
            found = _lowest_micro(case, plain, dps, dps + more, asked_margin)
            if found is None:
                continue
            height, thickness = found[0], float(found[1].outline.thickness_mm(depth_mm))
            if best is None or thickness < best[0] * (1.0 - 1e-6):
                best = (thickness, dps, dps + more, height)
    if best is None or best[0] >= thinnest_mm:
        return None
    thickness, dps, micro, height = best
    made = with_profile(case, with_micro_bevel(with_edge_dps(plain, dps), micro, height))
    return SlimmestPair(
        edge_dps=dps,
        micro_dps=micro,
        micro_height_mm=height,
        quick=quick_run(made),
        run=run_case(made),
        thickness_in_cut_mm=thickness,
    )


def _lowest_micro(
    case: Case, plain: Profile, dps: float, micro_dps: float, asked_margin: float
) -> tuple[float, QuickRun] | None:
    """Find the lowest micro-bevel of an angle that lets an edge come through, or None."""

    def at(height_mm: float) -> QuickRun | None:
        try:
            ground = with_micro_bevel(with_edge_dps(plain, dps), micro_dps, height_mm)
            return quick_run(with_profile(case, ground))
        except BadInput:
            return None

    low, high = MICRO_HEIGHTS_MM
    tallest = at(high)
    while tallest is None and high > 2.0 * low:
        high *= 0.5
        tallest = at(high)
    if tallest is None or tallest.margin < asked_margin:
        return None
    lowest = at(low)
    if lowest is not None and lowest.margin >= asked_margin:
        return low, lowest
    for _ in range(7):  # to 2 % of the height: micro-bevels are not ground closer
        middle = (low * high) ** 0.5
        run = at(middle)
        if run is not None and run.margin >= asked_margin:
            high, tallest = middle, run
        else:
            low = middle
    return high, tallest
