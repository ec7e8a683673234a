"""Several knives in the same work, in words: who comes through, who takes most, who is alike."""

from __future__ import annotations

from collections.abc import Sequence
from math import isinf

from simedge.runs.shown_words import shown_factor
from simedge.studies.compare import ComparedKnife, Comparison
from simedge.studies.margin_band import alike
from simedge.studies.stiffness_sentence import listed

#: Margins that differ by more are not as good as each other, though the steel may hide it.
ALIKE = 1.25
#: More names in a row than this are not read; more groups that are alike neither.
MOST_NAMES, MOST_GROUPS = 3, 2


def compare_sentences(study: Comparison) -> str:
    """Say how many come through, which takes most, which are alike, and what limits them.

    Parameters
    ----------
    study : Comparison

    Returns
    -------
    str
        The first sentence is the answer. Knives that cannot be told apart are not ranked.
    """
    groups = alike(study.margins)
    top = _top(study, groups)
    others = [group for group in groups if not set(group) <= set(top)]
    parts = [f"{_through(study)}{_unsure(study.knives)}", _most(study, top)]
    few = others if len(others) <= MOST_GROUPS else others[:1]
    parts += [f"{_group(study, group)} {_tie(study, group)}" for group in few]
    if len(few) < len(others):
        parts[-1] += "; for other ties see the places below"
    said = f"{'; '.join(parts)}."
    for told in (_limits(study), _unsolved(study)):
        said += f" {told}" if told else ""
    return said


def shown_place(place: tuple[int, int]) -> str:
    """Write the places that a knife may have.

    >>> shown_place((2, 2)), shown_place((1, 3))
    ('2', '1 to 3')
    """
    best, worst = place
    return f"{best}" if best == worst else f"{best} to {worst}"


def _top(study: Comparison, groups: list[tuple[int, ...]]) -> tuple[int, ...]:
    """Give the knives that none is surely better than; they are all alike."""
    margins = study.margins
    best = tuple(
        number
        for number, band in enumerate(margins)
        if not any(other.is_above(band) for other in margins)
    )
    assert len(best) == 1 or best in groups
    return best


def _through(study: Comparison) -> str:
    count = len(study.knives) + len(study.unsolved)
    through = sum(knife.run.comes_through for knife in study.knives)
    if study.unsolved:
        return f"Of {count} knives {through or 'none'} {_come(through or 1)} through"
    if through == count:
        return "Both knives come through" if count == 2 else f"All {count} knives come through"
    if through == 0:
        return (
            "Neither knife comes through"
            if count == 2
            else f"None of the {count} knives comes through"
        )
    if count == 2:
        (knife,) = (knife for knife in study.knives if knife.run.comes_through)
        return f"Of 2 knives only the {knife.name} comes through"
    return f"Of {count} knives {through} {_come(through)} through"


def _come(number: int) -> str:
    return "comes" if number == 1 else "come"


def _unsure(knives: Sequence[ComparedKnife]) -> str:
    """Say for which knives the answer hangs on the piece of steel."""
    unsure = [knife.name for knife in knives if not knife.sure]
    if not unsure:
        return ""
    return f", though for {_names(unsure)} that hangs on the very piece of steel"


def _names(names: Sequence[str]) -> str:
    """Join names, a few of them.

    >>> _names(["axe", "rope knife"]), _names(["a", "b", "c", "d"])
    ('the axe and the rope knife', 'the a, the b and 2 more')
    """
    if len(names) <= MOST_NAMES:
        return listed([f"the {name}" for name in names])
    told = [f"the {name}" for name in names[: MOST_NAMES - 1]]
    return listed([*told, f"{len(names) - len(told)} more"])


def _group(study: Comparison, group: Sequence[int]) -> str:
    return _names([study.knives[number].name for number in group])


def _tie(study: Comparison, group: Sequence[int]) -> str:
    """Say of some knives that none of them is better: by their margins, or by what is known."""
    margins = [study.knives[number].margin.value for number in group]
    if all(isinf(margin) for margin in margins) or max(margins) <= ALIKE * min(margins):
        return "are as good as each other"
    return "cannot be told apart, as steels of one name differ"


def _times(margins: Sequence[float]) -> str:
    """Say how many times this work, from the largest to the smallest.

    >>> _times([6.21]), _times([0.62]), _times([6.2, 5.9])
    ('6.2 times this work', '0.62 of this work', '6.2 and 5.9 times this work')
    """
    shown = list(dict.fromkeys(shown_factor(margin) for margin in margins))
    work = "of this work" if margins[0] < 1.0 else "times this work"
    if len(shown) > 2:
        return f"from {shown[-1]} to {shown[0]} {work}"
    return f"{' and '.join(shown)} {work}"


def _most(study: Comparison, top: Sequence[int]) -> str:
    """Say which takes most, and how much."""
    margins = [study.knives[number].margin.value for number in top]
    best = margins[0]
    if len(top) == len(study.knives) > 1:
        if isinf(min(margins)):
            return "no more of this work would harm any of them"
        return f"as far as this can tell they {_tie(study, top)}: {_times(margins)}"
    name = _group(study, top)
    takes = "takes" if len(top) == 1 else "take"
    as_good = "" if len(top) == 1 else f" and {_tie(study, top)}"
    if isinf(best):
        return f"{name} {takes} most{as_good}: no more of this work would harm it"
    if best < 1.0:
        nearest = "comes nearest" if len(top) == 1 else "come nearest"
        return f"{name} {nearest}{as_good}, at {_times(margins)}"
    return f"{name} {takes} most{as_good}, {_times(margins)}"


def _limits(study: Comparison) -> str:
    """Say which work sets the margins, where there are several."""
    if len(study.case.loads) == 1:
        return ""
    numbers = limiting_loads(study)
    found = sorted(set(numbers), key=lambda number: (-numbers.count(number), number))
    if len(numbers) < len(study.knives):  # nothing is left of any load on some knife
        return ""
    if len(found) == 1:
        return f"Of all this work {_load(study, found[0])} is the hardest on each of them."
    told = []
    for number in found:
        on = [k.name for k, own in zip(study.knives, numbers, strict=True) if own == number]
        words = f"the {on[0]}" if len(on) == 1 else f"{len(on)} of them"
        told.append(f"{_load(study, number)} on {words}")
    return f"Hardest is {listed(told)}."


def limiting_loads(study: Comparison) -> list[int]:
    """Give the number of the load that sets each knife's margin."""
    return [
        knife.run.loads.index(knife.governing[0])
        for knife in study.knives
        if knife.governing is not None
    ]


def _load(study: Comparison, number: int) -> str:
    rare = ", which comes now and then," if study.case.loads[number].occasional else ""
    return f'"{study.first.run.loads[number].name}"{rare}'


def _unsolved(study: Comparison) -> str:
    if not study.unsolved:
        return ""
    return f"{_names([knife.name for knife in study.unsolved]).capitalize()} could not be solved."
