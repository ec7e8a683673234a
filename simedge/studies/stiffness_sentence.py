"""The first words about stiffness: which blade is the stiffest, and how far a push moves it."""

from __future__ import annotations

from collections.abc import Sequence
from math import log

from simedge.runs.shown_words import shown_factor, shown_length
from simedge.studies.stiffness import BladeStiffness, PlaceStiffness, StiffnessStudy

#: Grinds are told apart best about a millimetre behind the apex: in front of it stands the edge
#: bevel, and farther back all blades are thick.
TOLD_DEPTH_MM = 1.0
#: More movements than this are told by their smallest and largest.
MOST_MOVEMENTS = 3

Answered = tuple[BladeStiffness, PlaceStiffness]


def is_stiffer(one: PlaceStiffness, other: PlaceStiffness) -> bool:
    """Tell whether one is stiffer by more than the errors of both."""
    values = (one.stiffness_n_per_mm2, other.stiffness_n_per_mm2)
    errors = (one.error_n_per_mm2, other.error_n_per_mm2)
    if values[0] is None or values[1] is None or errors[0] is None or errors[1] is None:
        return False
    return values[0] - values[1] > errors[0] + errors[1]


def stiffness_sentences(study: StiffnessStudy) -> str:
    """Say which blade is the stiffest, and how far 1 N on each mm moves the apexes.

    Parameters
    ----------
    study : StiffnessStudy

    Returns
    -------
    str
        One or two sentences. Blades closer to each other than their errors are not ranked.
    """
    at_mm = told_place_mm(study)
    sentences = []
    if at_mm is not None and len(study.blades) > 1:
        sentences.append(_ranking(study, at_mm))
    elif at_mm:
        (blade,) = study.blades
        place = blade.at(at_mm)
        assert place is not None
        assert place.stiffness_n_per_mm2 is not None
        sentences.append(
            f"At {shown_length(at_mm)} behind the apex it takes "
            f"{shown_factor(place.stiffness_n_per_mm2)} N on each mm of edge to move the "
            f"{blade.name} by 1 mm."
        )
    sentences.append(_movements(study))
    return " ".join(filter(None, sentences))


def told_place_mm(study: StiffnessStudy) -> float | None:
    """Choose the depth to speak of: one that all blades have, the apex if there is no other."""
    shared = [
        at_mm
        for at_mm in study.places_mm
        if all(
            place is not None and place.stiffness_n_per_mm2 is not None
            for place in (blade.at(at_mm) for blade in study.blades)
        )
    ]
    depths = [at_mm for at_mm in shared if at_mm > 0.0]
    if depths:
        return min(depths, key=lambda depth: abs(log(depth / TOLD_DEPTH_MM)))
    return shared[0] if shared else None


def _ranked(study: StiffnessStudy, at_mm: float) -> list[Answered]:
    """Give the blades that have an answer at a place, the stiffest first."""
    answered = [(blade, place) for blade in study.blades if (place := blade.at(at_mm)) is not None]
    finite = [pair for pair in answered if pair[1].stiffness_n_per_mm2 is not None]
    return sorted(finite, key=lambda pair: -(pair[1].stiffness_n_per_mm2 or 0.0))


def listed(words: Sequence[str]) -> str:
    """Join words as a person would.

    >>> listed(["a", "b", "c"])
    'a, b and c'
    """
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def _ranking(study: StiffnessStudy, at_mm: float) -> str:
    """Say which blade is the stiffest at a place, and by how much."""
    ranked = _ranked(study, at_mm)
    where = f"At {shown_length(at_mm)} behind the apex" if at_mm > 0.0 else "At the apex"
    if len({blade.held_at_mm for blade in study.blades}) > 1:  # most of a difference may be that
        where += ", each held at its own spine,"
    best, worst = ranked[0], ranked[-1]
    alike = [blade.name for blade, place in ranked if not is_stiffer(best[1], place)]
    if len(alike) == len(ranked):
        return f"{where} the {listed(alike)} are equally stiff, as far as the computation can tell."
    softest = _ratio_words(best, worst)
    if len(alike) > 1:
        return (
            f"{where} the {listed(alike)} are the stiffest, alike as far as the computation can "
            f"tell: {softest}, the softest."
        )
    if len(ranked) == 2:
        return f"{where} the {best[0].name} is the stiffer: {softest}."
    return (
        f"{where} the {best[0].name} is the stiffest: {_ratio_words(best, ranked[1])}, the next, "
        f"and {softest}, the softest."
    )


def _ratio_words(one: Answered, other: Answered) -> str:
    """Say how much stiffer one is: in per cent where a factor would read 1.0."""
    values = (one[1].stiffness_n_per_mm2, other[1].stiffness_n_per_mm2)
    assert values[0] is not None
    assert values[1] is not None
    ratio = values[0] / values[1]
    if ratio < 1.095:
        return f"{100.0 * (ratio - 1.0):.2g} % stiffer than the {other[0].name}"
    return f"{shown_factor(ratio)} times as stiff as the {other[0].name}"


def _movements(study: StiffnessStudy) -> str:
    """Say how far the apexes move."""
    moved = [
        (blade.name, shown_length(1.0 / place.stiffness_n_per_mm2))
        for blade, place in _ranked(study, 0.0)
        if place.stiffness_n_per_mm2 is not None
    ]
    if not moved:
        return (
            "A perfectly sharp apex gives way to any push without bound; a real one has a radius."
        )
    told = "A push of 1 N on each mm of edge moves the apex"
    if len(moved) <= MOST_MOVEMENTS:
        return f"{told} of {listed([f'the {name} by {length}' for name, length in moved])}."
    (stiffest, least), (softest, most) = moved[0], moved[-1]
    return f"{told}es between {least} ({stiffest}) and {most} ({softest})."
