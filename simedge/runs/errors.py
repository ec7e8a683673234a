"""The errors that go with one load's answers."""

from __future__ import annotations

from math import hypot

from simedge.runs.answer import AnswerErrors
from simedge.runs.clamp import ClampEffect
from simedge.runs.reading import Reading
from simedge.strength.peaks import Peak

#: A clamp that changes the stress by less than this share of what the mesh leaves open.
NOT_FELT = 0.01


def answer_errors(
    reading: Reading,
    clamp: ClampEffect | None,
    *,
    edge_turn_deg: float | None,
    contact_ratio: float | None,
) -> AnswerErrors:
    """State the errors of one load's answers.

    Parameters
    ----------
    reading : Reading
    clamp : ClampEffect or None
    edge_turn_deg, contact_ratio : float or None
        Answers that follow from others.
    """
    held = clamp.section_peak_change_mpa if clamp is not None else None
    peaks, strength = reading.peaks, reading.yield_strength_mpa
    section = _of_peak(reading, peaks.section, held or 0.0)
    share = section / peaks.section.value_mpa if peaks.section and section is not None else None
    factor = strength / peaks.section.value_mpa if peaks.section else None
    factor_error = factor * share if factor is not None and share is not None else None
    imposed, reaction = reading.tractions.carried, reading.tractions.reaction
    depth, through = _depth_errors(reading, clamp)
    moved = reading.movement_mm
    axial, lateral = reading.movement_error_mm if moved is not None else (None, None)
    depth_mm = reading.yielded.depth_mm
    turn = None
    if edge_turn_deg is not None and moved is not None and lateral is not None:
        turn = edge_turn_deg * lateral / abs(moved[1]) if moved[1] else 0.0
    patch = _of_peak(reading, peaks.patch)
    return AnswerErrors(
        section_peak_von_mises_mpa=section,
        patch_peak_von_mises_mpa=patch,
        largest_principal_mpa=_of_peak(reading, peaks.section_principal, held or 0.0),
        patch_largest_principal_mpa=_of_peak(reading, peaks.patch_principal),
        apex_lateral_mm=_unless_imposed(lateral, imposed.lateral_mm if imposed else None),
        apex_axial_mm=_unless_imposed(axial, imposed.axial_mm if imposed else None),
        reaction_lateral_n_per_mm=(
            reading.shared_error * abs(reaction.lateral_n_per_mm) if reaction else None
        ),
        reaction_axial_n_per_mm=(
            reading.shared_error * abs(reaction.axial_n_per_mm) if reaction else None
        ),
        first_yield_lateral_mm=_times(imposed.lateral_mm if imposed else None, factor_error),
        first_yield_axial_mm=_times(imposed.axial_mm if imposed else None, factor_error),
        edge_turn_deg=turn,
        first_yield_load_factor=factor_error,
        patch_first_yield_load_factor=(
            strength / peaks.patch.value_mpa * patch / peaks.patch.value_mpa
            if peaks.patch is not None and patch is not None
            else None
        ),
        yield_depth_mm=depth,
        through_yield_depth_mm=through,
        contact_ratio=contact_ratio * depth / depth_mm if contact_ratio and depth_mm else None,
    )


def mesh_error_share(reading: Reading) -> float:
    """Give the largest of one load's errors that the mesh leaves, each as a share of its answer.

    Of its section peak, its movement and its yield depth: of what the accuracy is asked for.
    """
    shares = [0.0]
    peak = reading.peaks.section
    if peak is not None and peak.value_mpa > 0.0:
        shares.append(reading.peak_error_mpa(peak) / peak.value_mpa)
    if reading.movement_mm is not None and any(reading.movement_mm):
        shares.append(hypot(*reading.movement_error_mm) / hypot(*reading.movement_mm))
    depth = reading.yielded.depth_mm
    if depth > 0.0 and not reading.yielded.reaches_clamp:
        shares.append(reading.depth_errors_mm[0] / depth)
    return max(shares)


def _of_peak(reading: Reading, peak: Peak | None, held_mpa: float = 0.0) -> float | None:
    return None if peak is None else reading.peak_error_mpa(peak) + held_mpa


def _unless_imposed(error_mm: float | None, imposed_mm: float | None) -> float | None:
    return error_mm if imposed_mm is None else 0.0


def _times(movement_mm: float | None, error: float | None) -> float | None:
    return None if movement_mm is None or error is None else abs(movement_mm) * error


def _depth_errors(reading: Reading, clamp: ClampEffect | None) -> tuple[float, float | None]:
    """Give the errors of the yield depths, looked for anew only where the clamp is felt there."""
    doubt, held = reading.yield_doubt_mpa, clamp.yield_change_mpa if clamp is not None else 0.0
    if held <= NOT_FELT * doubt:
        return reading.depth_errors_mm
    return reading.depth_errors_with(doubt + held)
