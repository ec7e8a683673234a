"""What a person should know before trusting a number of this run."""

from __future__ import annotations

from simedge.inputs.case import Case
from simedge.inputs.load import MediumLoad, parts_of
from simedge.runs.answer import LoadAnswer
from simedge.runs.sentence import shown_length
from simedge.section.loading import medium_strength_mpa, medium_tip_load_n_per_mm
from simedge.section.outline import Outline
from simedge.strength.zones import trusted_depth_mm

#: Plane strain needs the contact to be several times longer than the depth of damage.
SMALLEST_CONTACT_RATIO = 4.0


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
            "the tip is perfectly sharp: under a tip load its stress is singular, and no peak is "
            "reported"
        )
    return found


def load_warnings(case: Case, outline: Outline, answer: LoadAnswer) -> list[str]:
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
    media = [part for load in case.loads for part in parts_of(load) if isinstance(part, MediumLoad)]
    if not media or not answer.tractions.tip:
        return []
    strongest = max(media, key=lambda part: medium_strength_mpa(part, "high"))
    most = medium_tip_load_n_per_mm(medium_strength_mpa(strongest, "high"), outline)
    tip = answer.tractions
    load = (tip.tip_axial_n_per_mm**2 + tip.tip_lateral_n_per_mm**2) ** 0.5
    if load <= most * (1.0 + 1e-9):
        return []
    name = strongest.medium or "the medium given"
    return [
        f"{load:.3g} N/mm act on a tip {shown_length(outline.tip.width_mm)} wide, but the "
        f"strongest medium of this case ({name}) cannot press harder than {most:.2g} N/mm there"
    ]
