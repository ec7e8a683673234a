"""What a person should know before trusting a number of this run."""

from __future__ import annotations

from math import radians

from simedge.inputs.case import Case
from simedge.inputs.load import LayeredLoad, MediumLoad, parts_of
from simedge.inputs.steel_properties import SteelProperties
from simedge.runs.answer import LoadAnswer
from simedge.runs.errors import mesh_error_share
from simedge.runs.refine import Refined
from simedge.runs.shown_words import shown_length
from simedge.section.media_loading import medium_tip_load_n_per_mm
from simedge.section.outline import Outline
from simedge.strength.zones import resolved_from_mm, trusted_depth_mm

#: Plane strain needs the contact to be several times longer than the depth of damage.
SMALLEST_CONTACT_RATIO = 4.0
#: Pressure over yield strength at which a slim tip is crushed: what steel that flows in plane
#: strain carries at most, 2 / sqrt(3) (derived).
CRUSHING = 1.15
#: A tenth of a radian: beyond it what small movements leave out is about 1 % (its square).
LARGEST_TURN_DEG = 6.0
#: A section that carries less than this share of a short contact's forces is told.
SPREAD_TOLD = 0.95
#: A peak that changes by less where the blade is held a tenth nearer does not depend on it.
CLAMP_FELT = 0.01


def case_warnings(case: Case, outline: Outline) -> list[str]:
    """Warn about the section and the way it is held."""
    found = []
    thickness = float(outline.thickness_mm(outline.depth_mm))
    if trusted_depth_mm(outline) > outline.depth_mm - thickness + 1e-12:
        found.append(
            f"the blade is held {outline.depth_mm:.3g} mm behind the edge, where it is "
            f"{thickness:.3g} mm thick: stress is only judged down to "
            f"{trusted_depth_mm(outline):.3g} mm, and the clamp may still be felt there"
        )
    if case.profile.apex.sharp:
        found.append(
            "the tip is perfectly sharp: of peaks and depths its first "
            f"{shown_length(resolved_from_mm(outline))} are left out"
        )
    return found


def short_of_accuracy(accuracy_percent: float, refined: Refined) -> str:
    """Say that the mesh could not be made as fine as was asked."""
    worst = 100.0 * max(mesh_error_share(reading) for reading in refined.readings)
    triangles = refined.solution.displacement.mesh.triangles.shape[1]
    return (
        f"accuracy_percent = {accuracy_percent:g} was asked but not reached: mesh "
        f"{refined.rounds}, of {triangles:,} triangles, still leaves {worst:.1g} % of an answer "
        "open (stress has no single value beside the abrupt end of a pressure); the errors "
        "beside the numbers say how far each may be off"
    )


def load_warnings(
    case: Case, outline: Outline, steel: SteelProperties, answer: LoadAnswer
) -> list[str]:
    """Warn about one load and its answer."""
    found = list(answer.tractions.remarks)
    ratio = answer.contact_ratio
    if ratio is not None and ratio < SMALLEST_CONTACT_RATIO:
        found.append(
            f"the edge is in contact over {answer.contact_length_mm:g} mm, only {ratio:.2g} times "
            f"the yield depth: loads are taken as uniform along the edge, which needs about "
            f"{SMALLEST_CONTACT_RATIO:g} times; the true depth is smaller"
        )
    found += _tip_overload(case, outline, answer)
    found += _singular_words(answer) + _clamp_words(answer) + _verdict_words(answer)
    pressure = answer.tractions.object_pressure_mpa
    if pressure is not None and pressure > CRUSHING * steel.yield_strength_mpa:
        limit = CRUSHING * steel.yield_strength_mpa
        found.append(
            f"the object presses with {pressure:.0f} MPa, but this steel's tip is crushed at about "
            f"{limit:.0f} MPa ({CRUSHING:g} times its yield strength, derived): it would blunt "
            "before it enters that deep"
        )
    turn_deg = answer.edge_turn_deg
    if turn_deg is not None and turn_deg > LARGEST_TURN_DEG:
        found.append(
            f"the edge turns by {turn_deg:.2g} degrees: stress and movement are worked out for "
            f"small movements, turns of up to about {LARGEST_TURN_DEG:g} degrees; beyond, all "
            f"numbers of this load are rough (by about the square of the turn, here "
            f"{float(f'{100.0 * radians(turn_deg) ** 2:.1g}'):g} %)"
            f"{_held_by_neighbours(answer, outline)}"
        )
    axial = [part.axial_n_per_mm for part in answer.parts]
    lateral = [part.lateral_n_per_mm for part in answer.parts]
    size = sum(map(abs, axial)) + sum(map(abs, lateral))
    if len(answer.parts) > 1 and abs(sum(axial)) + abs(sum(lateral)) < 1e-6 * size:
        found.append("the parts of this load cancel: nothing is left behind them")
    if answer.section_peak_at_zone_edge:
        found.append(
            "the section's peak sits at the edge of the zone where the load is put on: it shows "
            "where that edge is drawn rather than a weak spot of the section"
        )
    return found


def _tip_overload(case: Case, outline: Outline, answer: LoadAnswer) -> list[str]:
    """Warn of a line load on the tip beyond what the case's media could put there."""
    media = [
        layer
        for load in case.loads
        for part in parts_of(load)
        if isinstance(part, MediumLoad | LayeredLoad)
        for layer in part.layers_by_depth
    ]
    hard = answer.tractions.object_pressure_mpa is not None or answer.tractions.carried is not None
    if not media or not answer.tractions.tip or hard:
        return []
    strongest = max(media, key=lambda layer: layer.strength_mpa("high"))
    most = medium_tip_load_n_per_mm(strongest.strength_mpa("high"), outline)
    tip = answer.tractions
    load = (tip.tip_axial_n_per_mm**2 + tip.tip_lateral_n_per_mm**2) ** 0.5
    if load <= most * (1.0 + 1e-9):
        return []
    name = strongest.medium or "the medium given"
    return [
        f"{load:.3g} N/mm act on a tip {shown_length(outline.tip.width_mm)} wide, but the "
        f"strongest medium of this case ({name}) cannot press harder than {most:.2g} N/mm there: "
        "something harder would have to"
    ]


def _singular_words(answer: LoadAnswer) -> list[str]:
    """Say why the section's peak has no value."""
    singular = answer.singular
    if singular is None:
        return []
    expected = (
        f", {singular.exponent_expected:.3f} by theory"
        if singular.exponent_expected is not None
        else ""
    )
    return [
        f"the section's peak is singular, {singular.cause}: stress there grows without bound, "
        f"with the power {singular.exponent_seen:.3f} of the distance{expected}; no peak and no "
        "load factor are given, the depths are"
    ]


def _held_by_neighbours(answer: LoadAnswer, outline: Outline) -> str:
    """Say that a short contact bends a blade less than elastic numbers tell."""
    length = answer.contact_length_mm
    if length is None or length >= outline.depth_mm:
        return ""
    return (
        f"; they are for work all along the edge, and over {length:g} mm of it a blade bends far "
        "less: the verdict counts that, stress and movement do not"
    )


def _verdict_words(answer: LoadAnswer) -> list[str]:
    """Say what a verdict leaves out, and what it spreads along the edge."""
    verdict = answer.verdict
    if verdict is None:
        return []
    found = []
    share = verdict.factors.spread_at_fold
    if share < SPREAD_TOLD:
        found.append(
            f"the edge is in contact over {answer.contact_length_mm:g} mm only: behind the work "
            "its forces spread along the edge (common practice), and the section that would fold "
            f"carries {100.0 * share:.0f} % of them; first yield is for work that is uniform "
            "along the edge, without that"
        )
    if verdict.factors.chip is None:
        found.append("the toughness of this steel is not known: chips are not judged")
    return found


def _clamp_words(answer: LoadAnswer) -> list[str]:
    """Say that the section's peak depends on where the blade is held."""
    effect, peak = answer.clamp_effect, answer.section_peak_von_mises_mpa
    if effect is None or peak is None or effect.section_peak_change_mpa is None:
        return []
    share = effect.section_peak_change_mpa / peak
    if share <= CLAMP_FELT:
        return []
    return [
        f"the section's peak depends on where the blade is held: held from "
        f"{effect.held_at_mm:.3g} mm on it would differ by {100.0 * share:.2g} %, which its error "
        "contains"
    ]
