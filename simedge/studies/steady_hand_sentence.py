"""What a steadier hand buys, in words."""

from __future__ import annotations

from simedge.runs.shown_words import LARGEST_FACTOR, shown_factor
from simedge.runs.verdict_sentence import NOUNS, VERBS
from simedge.studies.crookedness import QUARTER_TURN_DEG
from simedge.studies.hardness_sentence import ALIKE
from simedge.studies.steady_hand import SteadyHandStudy
from simedge.studies.steered_load import LoadSteered, Ray


def steady_hand_sentences(study: SteadyHandStudy) -> tuple[str, ...]:
    """Say for each load what it would take straighter, and more crooked."""
    return tuple(f"{load.name}: {_sentence(load)}" for load in study.loads)


def crooked_words(load: LoadSteered, ray: Ray) -> str:
    """Say how crooked work is.

    Such as "straight", "20° off straight", "one face alone", "0.5 of one face alone".
    """
    if ray.crookedness == 0.0:
        return "straight"
    if load.by_angle:
        return f"{degrees_off(ray):.0f}° off straight"
    if ray.crookedness == 1.0:
        return "one face alone"
    return f"{ray.crookedness:.2g} of one face alone"


def degrees_off(ray: Ray) -> float:
    """Give the angle off straight of work that is steered by an angle."""
    return QUARTER_TURN_DEG * ray.crookedness


def shown_force(n_per_mm: float) -> str:
    """Write a force per mm with two figures; what rounding leaves of none is 0.

    >>> shown_force(1234.0), shown_force(0.4321), shown_force(1e-17)
    ('1200', '0.43', '0')
    """
    return "0" if abs(n_per_mm) < 1e-9 else f"{float(f'{n_per_mm:.2g}'):g}"


def _sentence(load: LoadSteered) -> str:
    if min(load.straight.margin, load.crooked.margin) > LARGEST_FACTOR:
        return "nothing fails here, however crooked."
    return _straight_as_it_is(load) if load.is_straight else _crooked_as_it_is(load)


def _crooked_as_it_is(load: LoadSteered) -> str:
    own, straight, half = load.own, load.straight, load.eased
    parts = [f"{_as_it_is(own)}."]
    softer = (
        f"at {degrees_off(half):.0f} instead of {degrees_off(own):.0f} degrees off straight"
        if load.by_angle
        else "with half the twist"
    )
    told = f"{softer}, {_times(half.margin)}"
    gain = straight.margin / own.margin
    if straight.margin > LARGEST_FACTOR:
        parts.append(f"Straight, nothing would harm it; {told}.")
    elif gain > 1.0 + ALIKE:
        parts.append(
            f"Straight it would take {_times(straight.margin)}, {shown_factor(gain)} times as "
            f"much; {told}."
        )
    elif gain < 1.0 / (1.0 + ALIKE):
        parts.append(
            f"Steadier buys nothing: straight it would take {_times(straight.margin)}, and "
            f"{NOUNS[straight.kind]} would come first."
        )
    else:
        parts.append(
            f"Steadier buys nothing: straight it takes as much, where {NOUNS[straight.kind]} "
            "comes first."
        )
    if own.margin < 1.0:
        parts.append(_holds(load))
    return " ".join(part for part in parts if part)


def _straight_as_it_is(load: LoadSteered) -> str:
    own, crooked, little = load.own, load.crooked, load.eased
    parts = [f"straight as it is, {_as_it_is(own, begins=False)}."]
    most = "All the way sideways" if load.by_angle else "With one face alone pressed"
    bit = (
        f"{degrees_off(little):.0f} degrees off straight"
        if load.by_angle
        else "a tenth of that twist"
    )
    if own.margin <= (1.0 + ALIKE) * crooked.margin:
        parts.append(
            f"{most} it would take {_times(crooked.margin)}, no less: a steady hand is not "
            "what matters here."
        )
        return " ".join(parts)
    loss = own.margin / crooked.margin
    less = "" if own.margin > LARGEST_FACTOR else f", {shown_factor(loss)} times less"
    leaves = "still takes" if own.margin <= (1.0 + ALIKE) * little.margin else "already leaves"
    parts.append(
        f"{most} it would take {_times(crooked.margin)}{less}; {bit} {leaves} "
        f"{_times(little.margin)}."
    )
    if own.margin >= 1.0 > crooked.margin:
        parts.append(_holds(load))
    return " ".join(part for part in parts if part)


def _as_it_is(own: Ray, *, begins: bool = True) -> str:
    """Say how the case's own work ends."""
    unsure = own.low < 1.0 <= own.high
    differ = ", though steels of one name differ" if unsure else ""
    if own.margin > LARGEST_FACTOR:
        told = "comes through: no more of this work would harm it"
    elif own.margin >= 1.0:
        told = f"comes through, at up to {_times(own.margin)} this work{differ}"
    else:
        told = f"{VERBS[own.kind]}: it would hold at {shown_factor(own.margin)} of this work"
        told += differ
    return told if begins else f"it {told}" if not told.startswith("it") else told


def _holds(load: LoadSteered) -> str:
    """Say how crooked it may be."""
    if load.straight.margin < 1.0:
        return "Straight it would not come through either."
    if load.holds_up_to is None:
        return ""
    if load.by_angle:
        return (
            f"It comes through up to {QUARTER_TURN_DEG * load.holds_up_to:.0f} degrees off "
            "straight."
        )
    share = load.holds_up_to / (load.own.crookedness or 1.0)
    return f"It comes through with up to {100.0 * share:.2g} % of the twist."


def _times(margin: float) -> str:
    return f"{shown_factor(margin)} times"
