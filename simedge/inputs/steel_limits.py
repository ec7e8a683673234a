"""What may be given of a steel: bounds of each figure, and the unit that a slip was meant in."""

from __future__ import annotations

from simedge.inputs import library_data as library
from simedge.inputs.hardness import Curve, hardness_curve
from simedge.inputs.problems import FieldProblem

#: Nearer to 0.5 a solution may no longer balance its load: stiffness against changing volume
#: grows as 1 / (1 - 2 nu). At 0.4999 one knife of the rack's eight misses the billionth of
#: the load that is asked for (1.1 to 2.0 billionths, measured); at 0.499 none comes near it.
LARGEST_POISSONS_RATIO = 0.4995


def value_problems(
    field: str, value: float, path: tuple[str | int, ...] = ()
) -> list[FieldProblem]:
    """Check that a given property is possible for a steel, in the unit of its name.

    Parameters
    ----------
    field : str
        Such as ``youngs_modulus_gpa``; what ``steels.toml`` sets no bounds for may be anything.
    value : float
    path : tuple of str or int
        Of the problem, where there is one.
    """
    if field == "poissons_ratio":
        return _ratio_problems(value, path)
    allowed = library.read_data("steels.toml")["allowed"].get(field)
    if allowed is None or allowed["low"] <= value <= allowed["high"]:
        return []
    low, high = allowed["low"], allowed["high"]
    unit = f" {allowed['unit']}" if allowed["unit"] else ""
    meant = (
        f"did you mean {float(f'{value * factor:.3g}'):g}{unit}? that looks like {typed}"
        for typed, factor in allowed["slips"].items()
        if low <= value * factor <= high
    )
    rule = f"must lie in [{low}, {high}]{unit}; {next(meant, allowed['usual'])}"
    return [FieldProblem(path, f"is {value:.6g}{unit}, but {rule}")]


def _ratio_problems(value: float, path: tuple[str | int, ...]) -> list[FieldProblem]:
    usual = library.every_steel()["poissons_ratio"]
    hint = f"steels have {usual.low:.2f} to {usual.high:.2f}"
    if not -1 < value < 0.5:
        if 20 <= value < 50:  # typed in percent, as people say "point three" and mean it
            hint = f"did you mean {value / 100:g}?"
        message = f"is {value:.6g}, but must lie above -1 and below 0.5; {hint}"
        return [FieldProblem(path, message)]
    if value > LARGEST_POISSONS_RATIO:
        message = (
            f"is {value:.12g}, but so close to 0.5 the solution does not balance its load; "
            f"{LARGEST_POISSONS_RATIO} is the most that can be simulated, and {hint}"
        )
        return [FieldProblem(path, message)]
    return []


def hardness_problems(
    hardness_hrc: float, table: Curve, named: str, path: tuple[str | int, ...] = ()
) -> list[FieldProblem]:
    """Check a hardness against the table that is read at it.

    Parameters
    ----------
    hardness_hrc : float
    table : Curve
        Over HRC.
    named : str
        The table as the subject of a sentence, verb included: "the hardness table runs".
    path : tuple of str or int
        Of the problem, where there is one.
    """
    if table.covers(hardness_hrc):
        return []
    message = (
        f"is {hardness_hrc:.6g} HRC, but {named} from {table.first:g} to {table.last:g} HRC "
        "and nothing is extrapolated; "
    )
    hint = "choose a hardness in that range, or leave it out and give yield_strength_mpa"
    return [FieldProblem(path, message + (meant_in_hv(hardness_hrc) or hint))]


def meant_in_hv(hardness_hrc: float) -> str:
    """Say what a hardness is in HRC if it can only be HV; empty where it cannot.

    Examples
    --------
    >>> meant_in_hv(700), meant_in_hv(72)
    ('did you mean 60.1 HRC? that looks like HV', '')
    """
    vickers = hardness_curve("vickers_hardness").swapped()
    if not vickers.covers(hardness_hrc):
        return ""
    return f"did you mean {vickers.at(hardness_hrc):.3g} HRC? that looks like HV"
