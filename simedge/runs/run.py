"""One case through the whole pipeline: the way of the data on one page."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from simedge.fem.edge_turn import edge_turn_deg
from simedge.fem.elastic import Displacement
from simedge.inputs.case import Case
from simedge.inputs.steel_properties import SteelProperties, steel_properties
from simedge.inputs.traced import TracedProfile
from simedge.runs.answer import ActingPart, LoadAnswer
from simedge.runs.beside import closed_forms
from simedge.runs.clamp import ClampEffect, clamp_effects
from simedge.runs.elastic_sentence import Carried, sentence_for
from simedge.runs.errors import answer_errors
from simedge.runs.reading import Reading
from simedge.runs.refine import solve_to_accuracy
from simedge.runs.solve import Problem, elasticity_of
from simedge.runs.verdict_sentence import verdict_sentence
from simedge.runs.verdicts import verdict_on
from simedge.runs.warn import case_warnings, load_warnings, short_of_accuracy
from simedge.section.loading import tractions_of
from simedge.section.measures import Measures, measure
from simedge.section.mesh import SectionMesh
from simedge.section.outline import Outline, build_outline
from simedge.section.tractions import Tractions, face_resultant
from simedge.strength.peaks import without_section
from simedge.strength.singular import Singular


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Run:
    """A case and its answers.

    Attributes
    ----------
    case : Case
    steel : SteelProperties
    measures : Measures
        Of the whole section, apex to spine.
    outline : Outline
        Down to where the blade is held.
    mesh : SectionMesh
    displacement : Displacement
    rounds : int
        Meshes that were made until the answers were as accurate as asked.
    loads : tuple of LoadAnswer
        In the order of the case.
    warnings : tuple of str
    """

    case: Case
    steel: SteelProperties
    measures: Measures
    outline: Outline
    mesh: SectionMesh
    displacement: Displacement
    rounds: int
    loads: tuple[LoadAnswer, ...]
    warnings: tuple[str, ...]

    @property
    def comes_through(self) -> bool:
        """Whether the edge comes through every load."""
        return all(answer.comes_through for answer in self.loads)


def run_case(case: Case) -> Run:
    """Run a case: section, mesh, elastic solution, and what the stress means.

    Parameters
    ----------
    case : Case
        From `simedge.read_case`, or built in Python.

    Returns
    -------
    Run

    Raises
    ------
    NumericsFailed
        The mesher or the solver gave nothing that may be shown.
    SystemLibraryMissing
        gmsh's shared libraries are not installed.

    Notes
    -----
    Plane strain, linear elastic, loads taken as uniform along the edge.
    """
    faces = case.profile.faces
    outline = build_outline(case.profile.apex, faces, case.support.clamp_depth_mm)
    steel = steel_properties(case.steel)
    tractions = tuple(
        tractions_of(load, case.load_name(index), outline) for index, load in enumerate(case.loads)
    )
    elasticity = elasticity_of(steel)
    problem = Problem(
        outline=outline,
        tractions=tractions,
        elasticity=elasticity,
        traced=isinstance(case.profile, TracedProfile),
    )
    refined = solve_to_accuracy(problem, steel.yield_strength_mpa, case.accuracy_percent)
    effects = clamp_effects(refined.solution, refined.readings)
    displacement = refined.solution.displacement
    answers = tuple(
        _answer(index, reading, singular, effect, displacement, steel, case)
        for index, (reading, singular, effect) in enumerate(
            zip(refined.readings, refined.singular, effects, strict=True)
        )
    )
    whole = build_outline(case.profile.apex, faces)
    warnings = [*faces.remarks, *steel.remarks, *case_warnings(case, outline)]
    if refined.fell_short:
        warnings.append(short_of_accuracy(case.accuracy_percent, refined))
    for answer in answers:
        warnings += [
            f"{answer.name}: {text}" for text in load_warnings(case, outline, steel, answer)
        ]
    return Run(
        case=case,
        steel=steel,
        measures=measure(faces, whole),
        outline=outline,
        mesh=displacement.mesh,
        displacement=displacement,
        rounds=refined.rounds,
        loads=answers,
        warnings=tuple(warnings),
    )


def _answer(
    index: int,
    reading: Reading,
    singular: Singular | None,
    effect: ClampEffect | None,
    displacement: Displacement,
    steel: SteelProperties,
    case: Case,
) -> LoadAnswer:
    """Put one load's answer together."""
    load, outline, movement = reading.tractions, reading.outline, reading.movement_mm
    if singular is not None:  # what grows with every mesh has no value
        reading = replace(reading, peaks=without_section(reading.peaks))
    peaks, yielded, something = reading.peaks, reading.yielded, reading.something
    section, patch = peaks.section, peaks.patch
    tension, patch_tension = peaks.section_principal, peaks.patch_principal
    even = outline.is_even and load.is_straight
    factor = steel.yield_strength_mpa / section.value_mpa if section else None
    length, depth = load.contact_length_mm, yielded.depth_mm
    imposed, reaction = load.carried, load.reaction
    turn = edge_turn_deg(displacement, index, outline) if movement else None
    contact = length / depth if length is not None and depth > 0 else None
    verdict = verdict_on(case.loads[index], reading, steel, case.tolerated_damage_um)
    carried = _carried(load)
    carried_alone = carried is not None and carried.alone
    return LoadAnswer(
        name=load.name,
        sentence=verdict_sentence(verdict, "this movement" if carried_alone else "this load"),
        verdict=verdict,
        elastic_sentence=sentence_for(
            peaks,
            yielded,
            steel.yield_strength_mpa,
            steel.yield_low_mpa,
            even=even,
            nothing_left=not something,
            carried=carried,
        ),
        nothing_left=not something,
        even=even,
        section_peak_von_mises_mpa=section.value_mpa if section else None,
        section_peak_x_mm=section.x_mm if section else None,
        section_peak_y_mm=section.y_mm if section else None,
        section_peak_at_zone_edge=peaks.at_zone_edge,
        patch_peak_von_mises_mpa=patch.value_mpa if patch else None,
        patch_peak_x_mm=patch.x_mm if patch else None,
        patch_peak_y_mm=patch.y_mm if patch else None,
        largest_principal_mpa=tension.value_mpa if tension else None,
        largest_principal_x_mm=tension.x_mm if tension else None,
        largest_principal_y_mm=tension.y_mm if tension else None,
        patch_largest_principal_mpa=patch_tension.value_mpa if patch_tension else None,
        patch_largest_principal_x_mm=patch_tension.x_mm if patch_tension else None,
        patch_largest_principal_y_mm=patch_tension.y_mm if patch_tension else None,
        apex_lateral_mm=movement[1] if movement else None,
        apex_axial_mm=movement[0] if movement else None,
        imposed_lateral_mm=imposed.lateral_mm if imposed else None,
        imposed_axial_mm=imposed.axial_mm if imposed else None,
        reaction_lateral_n_per_mm=reaction.lateral_n_per_mm if reaction else None,
        reaction_axial_n_per_mm=reaction.axial_n_per_mm if reaction else None,
        first_yield_lateral_mm=_scaled(imposed.lateral_mm if imposed else None, factor),
        first_yield_axial_mm=_scaled(imposed.axial_mm if imposed else None, factor),
        edge_turn_deg=turn,
        first_yield_load_factor=factor,
        first_yield_x_mm=section.x_mm if section else None,
        first_yield_y_mm=section.y_mm if section else None,
        first_yield_load_factor_low=steel.yield_low_mpa / section.value_mpa if section else None,
        first_yield_load_factor_high=steel.yield_high_mpa / section.value_mpa if section else None,
        patch_first_yield_load_factor=(
            steel.yield_strength_mpa / patch.value_mpa if patch else None
        ),
        yield_depth_mm=depth,
        yield_depth_y_mm=yielded.depth_y_mm,
        through_yield_depth_mm=yielded.through_depth_mm,
        yielded_stretches_mm=yielded.stretches_mm,
        parts=_acting_parts(load, outline),
        limited_by=load.limited_by,
        contact_length_mm=length,
        contact_ratio=contact,
        closed_form=(closed_forms(reading, displacement.elasticity, steel) if something else ()),
        errors=answer_errors(reading, effect, edge_turn_deg=turn, contact_ratio=contact),
        clamp_effect=effect,
        singular=singular,
        residual=float(displacement.residual[index]),
        reaction_error=float(displacement.reaction_error[index]),
        stress=reading.field,
        tractions=load,
    )


def _scaled(movement_mm: float | None, factor: float | None) -> float | None:
    return None if movement_mm is None or factor is None else movement_mm * factor


def _carried(load: Tractions) -> Carried | None:
    """Give how a load carries the tip, for its sentence."""
    if load.carried is None or load.reaction is None:
        return None
    return Carried(
        lateral_mm=load.carried.lateral_mm,
        axial_mm=load.carried.axial_mm,
        reaction_n_per_mm=float(
            np.hypot(load.reaction.axial_n_per_mm, load.reaction.lateral_n_per_mm)
        ),
        alone=len(load.tip) == 1 and not load.faces,
    )


def _acting_parts(load: Tractions, outline: Outline) -> tuple[ActingPart, ...]:
    """List what acts, with resultants."""
    carried = load.carried
    tips = tuple(
        ActingPart(
            at="tip",
            axial_n_per_mm=part.axial_n_per_mm,
            lateral_n_per_mm=part.lateral_n_per_mm,
            spread=part.spread,
            medium=part.medium,
            carried_axial_mm=carried.axial_mm if carried and part is load.reaction else None,
            carried_lateral_mm=carried.lateral_mm if carried and part is load.reaction else None,
        )
        for part in load.tip
    )
    faces = []
    for part in load.faces:
        total = face_resultant(part, outline, part.to_mm)
        faces.append(
            ActingPart(
                at=f"{part.side} face",
                axial_n_per_mm=float(total.axial_n_per_mm[0]),
                lateral_n_per_mm=float(total.lateral_n_per_mm[0]),
                from_mm=part.from_mm,
                to_mm=part.to_mm,
                pressure_mpa=part.pressure_mpa,
                friction=part.friction,
                medium=part.medium,
            )
        )
    return (*tips, *faces)
