"""Stiffness in a terminal: the sentences first, then one table, place by place."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console

from simedge.output.shown_errors import shown_with_error
from simedge.output.terminal import plain_table, print_warnings
from simedge.runs.shown_words import shown_factor, shown_length
from simedge.studies.stiffness import BladeStiffness, PlaceStiffness, StiffnessStudy
from simedge.studies.stiffness_sentence import is_stiffer, listed, stiffness_sentences


def _shown_stiffness(place: PlaceStiffness) -> str:
    if place.stiffness_n_per_mm2 is None or place.error_n_per_mm2 is None:
        return "none"
    return shown_with_error(place.stiffness_n_per_mm2, place.error_n_per_mm2)


def _times(place: PlaceStiffness, first: PlaceStiffness | None) -> str:
    """Give how many times as stiff as the first blade it is; alike within the errors."""
    if first is None or place.stiffness_n_per_mm2 is None or first.stiffness_n_per_mm2 is None:
        return ""
    if not (is_stiffer(place, first) or is_stiffer(first, place)):
        return "alike"
    ratio = place.stiffness_n_per_mm2 / first.stiffness_n_per_mm2
    return f"{ratio:.3f}" if 0.95 < ratio < 1.05 else shown_factor(ratio)


def _closed_form(place: PlaceStiffness) -> str:
    if place.closed_form_n_per_mm2 is None or place.ratio is None:
        return ""
    star = "" if place.within_validity else "*"
    # as many figures as the computed value beside it
    value, _, _ = shown_with_error(place.closed_form_n_per_mm2, 0.0).partition(" ")
    return f"{value} ({place.ratio:.3f}){star}"


def print_stiffness(study: StiffnessStudy, steel_words: str, out: Console) -> None:
    """Print a study: sentences, the table, how each blade is held, and what was assumed.

    Parameters
    ----------
    study : StiffnessStudy
    steel_words : str
        Which steel it is, and where its elasticity comes from; a whole sentence.
    out : Console
    """
    out.print(stiffness_sentences(study))
    out.print(held_sentence(study))
    out.print()
    several = len(study.blades) > 1
    columns = ["pushed at", *(["knife"] if several else []), "thickness", "N/mm per mm of edge"]
    table = plain_table(*columns, *(["× the first"] if several else []), "textbook (ratio)")
    for number, at_mm in enumerate(study.places_mm):
        if number and several:
            table.add_row()
        where = "the apex" if at_mm == 0.0 else f"{at_mm:g} mm behind"
        answered = [(b, place) for b in study.blades if (place := b.at(at_mm)) is not None]
        for blade, place in answered:
            thickness = "" if at_mm == 0.0 else shown_length(place.thickness_mm)
            first = study.blades[0].at(at_mm)
            row = [where, *([blade.name] if several else []), thickness, _shown_stiffness(place)]
            if several:
                row.append("" if blade is study.blades[0] else _times(place, first))
            table.add_row(*row, _closed_form(place))
            where = ""
    out.print(table)
    print_warnings(_warnings(study), out)
    out.print()
    alike = "; blades closer than that are called alike" if several else ""
    out.print(
        "N/mm per mm of edge: the push on each mm of edge over how far that place gives way. "
        f"± is the computation's own error, from a second mesh{alike}. The textbook's answer, in "
        "brackets ours over it, is the integral of the tapered beam with the two-dimensional "
        "correction; starred where it does not quite hold: within two thicknesses of where the "
        "blade is held, or blunter than 20 degrees per side."
    )
    out.print(
        f"{steel_words} Elastic, and pushed alike all along the edge: a push on a short piece of "
        "a real edge moves it less, as its neighbours carry too."
    )


def held_sentence(study: StiffnessStudy) -> str:
    """Say how each blade is held."""
    blades = study.blades
    depths = {blade.held_at_mm for blade in blades}
    if len(blades) == 1 or (len(depths) == 1 and not all(b.held_at_spine for b in blades)):
        at_spine = ", its spine," if blades[0].held_at_spine and len(blades) == 1 else ""
        return f"Held from {blades[0].held_at_mm:.4g} mm behind the apex{at_spine} on."
    told = listed([f"{blade.name} {blade.held_at_mm:.4g} mm" for blade in blades])
    return f"Each is held at its own spine, behind the apex: {told}."


def _warnings(study: StiffnessStudy) -> Iterable[str]:
    """Tell what a person should mind of the blades and when comparing."""
    for blade in study.blades:
        yield from (f"{blade.name}: {remark}" for remark in blade.profile.faces.remarks)
    if len({blade.held_at_mm for blade in study.blades}) > 1:
        yield (
            "a blade that is held farther from its edge gives way more; to compare the grinds "
            "alone, hold all at one depth with --held-at-mm"
        )
    sharp = [blade.name for blade in study.blades if _is_sharp(blade)]
    if sharp:
        yield (
            f"{listed(sharp)}: a perfectly sharp apex gives way without bound; give it a radius "
            "to ask for its stiffness"
        )


def _is_sharp(blade: BladeStiffness) -> bool:
    return blade.places[0].stiffness_n_per_mm2 is None
