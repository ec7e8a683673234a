"""What another hardness would allow, in words."""

from __future__ import annotations

from math import isinf

from simedge.runs.shown_words import LARGEST_FACTOR, shown_factor
from simedge.runs.verdict_sentence import VERBS
from simedge.strength.load_factors import Kind, LoadFactors
from simedge.studies.over_hardness import HardnessStudy

#: Factors that differ by less are the same for anyone who grinds: the roll limit's own error.
ALIKE = 0.05


def first_kind(factors: LoadFactors) -> Kind:
    """Give the kind that gives first."""
    judged = factors.judged
    return min(judged, key=lambda kind: judged[kind].value)


def hardness_sentences(study: HardnessStudy) -> tuple[str, ...]:
    """Say for each load what gives first at which hardness, and which hardness takes most."""
    return tuple(
        f"{name}: {_sentence(study, number)}" for number, name in enumerate(study.load_names)
    )


def _sentence(study: HardnessStudy, number: int) -> str:
    found = [(point.hardness_hrc, point.factors[number]) for point in study.points]
    values = [factors.smallest for _, factors in found]
    own = next(f.smallest for hrc, f in found if hrc == study.own_hrc)
    best = max(range(len(values)), key=lambda i: values[i])
    through = [hrc for (hrc, _), value in zip(found, values, strict=True) if value >= 1.0]
    if isinf(max(values)):
        return "nothing fails here at any hardness."
    parts = [_through(through, [hrc for hrc, _ in found]), _firsts(found)]
    if max(values) <= (1.0 + ALIKE) * min(values) or own > LARGEST_FACTOR:
        parts.append(f"hardness hardly matters: {shown_factor(own)} times this load throughout")
    elif values[best] <= (1.0 + ALIKE) * own:
        parts.append(
            f"the {study.own_hrc:g} HRC of the case is as good as any, "
            f"{shown_factor(own)} times this load"
        )
    else:
        parts.append(
            f"it takes most at {found[best][0]:g} HRC, {shown_factor(values[best])} times this "
            f"load, against {shown_factor(own)} at the case's {study.own_hrc:g} HRC"
        )
    return "; ".join(parts) + "."


def _through(through: list[float], asked: list[float]) -> str:
    if not through:
        return f"comes through at no hardness from {asked[0]:g} to {asked[-1]:g} HRC"
    if len(through) == len(asked):
        return f"comes through at every hardness from {asked[0]:g} to {asked[-1]:g} HRC"
    first, last = asked.index(through[0]), asked.index(through[-1])
    if last - first + 1 > len(through):
        return f"comes through at {', '.join(f'{hrc:g}' for hrc in through)} HRC"
    if first == last:
        return f"comes through at {through[0]:g} HRC alone"
    return f"comes through from {through[0]:g} to {through[-1]:g} HRC"


def first_stretches(found: list[tuple[float, LoadFactors]]) -> list[tuple[Kind, float, float]]:
    """Give which kind gives first between which hardnesses, softest first."""
    stretches: list[tuple[Kind, float, float]] = []
    for hrc, factors in found:
        kind = first_kind(factors)
        if stretches and stretches[-1][0] == kind:
            stretches[-1] = (kind, stretches[-1][1], hrc)
        else:
            stretches.append((kind, hrc, hrc))
    return stretches


def _firsts(found: list[tuple[float, LoadFactors]]) -> str:
    """Say which kind gives first from which hardness on."""
    stretches = first_stretches(found)
    if len(stretches) == 1:
        return f"{VERBS[stretches[0][0]]} first at each"
    told = [f"{VERBS[stretches[0][0]]} first up to {stretches[0][2]:g} HRC"]
    told += [f"{VERBS[kind]} first from {low:g} HRC on" for kind, low, _ in stretches[1:]]
    return ", ".join(told)
