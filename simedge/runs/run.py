"""One case through the whole pipeline: the way of the data on one page."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simedge.fem.edge_turn import edge_turn_deg
from simedge.fem.elastic import Displacement, displace, hold_section
from simedge.fem.elasticity import Elasticity
from simedge.fem.nodal_forces import nodal_forces
from simedge.fem.rigid_tip import settle_tip, without_rounding
from simedge.fem.stress import recover_stress
from simedge.fem.stress_field import StressField
from simedge.inputs.case import Case
from simedge.inputs.steel_properties import SteelProperties, steel_properties
from simedge.inputs.traced import TracedProfile
from simedge.runs.answer import ActingPart, LoadAnswer
from simedge.runs.beside import closed_forms
from simedge.runs.sentence import Carried, sentence_for
from simedge.runs.warn import case_warnings, load_warnings
from simedge.section.element_sizes import Resolution, check_element_budget
from simedge.section.loading import tractions_of
from simedge.section.measures import Measures, measure
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.mesh_worker import mesh_in_worker
from simedge.section.outline import SIDES, Outline, Side, build_outline
from simedge.section.tractions import Tractions, face_resultant
from simedge.strength.peaks import NO_PEAKS, find_peaks
from simedge.strength.yielding import NOTHING_YIELDED, find_yielded
from simedge.strength.zones import patch_zone, resolved_from_mm, trusted_depth_mm

#: More are meshed in a process of their own, which Ctrl-C and a deadline reach.
MANY_TRIANGLES = 30_000


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
    loads: tuple[LoadAnswer, ...]
    warnings: tuple[str, ...]


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
    ends = _patch_ends(tractions)
    triangles = check_element_budget(outline, ends, case.accuracy_percent)
    # a mesher may hang on a person's points, and is busy long with a needle: it can be stopped
    in_worker = triangles > MANY_TRIANGLES or isinstance(case.profile, TracedProfile)
    make_mesh = mesh_in_worker if in_worker else mesh_outline
    mesh = make_mesh(outline, ends, Resolution.for_accuracy(case.accuracy_percent))
    elasticity = Elasticity(
        youngs_modulus_mpa=steel.youngs_modulus_mpa, poissons_ratio=steel.poissons_ratio
    )
    section = hold_section(mesh, elasticity)
    settled = [
        without_rounding(settle_tip(section, load, nodal_forces(mesh, outline, load)))
        for load in tractions
    ]
    displacement = displace(section, [load.forces for load in settled])
    tractions = tuple(load.tractions for load in settled)
    fields = recover_stress(displacement, outline, tractions)
    answers = tuple(
        _answer(index, load, field, outline, displacement, steel)
        for index, (load, field) in enumerate(zip(tractions, fields, strict=True))
    )
    whole = build_outline(case.profile.apex, faces)
    warnings = [*faces.remarks, *steel.remarks, *case_warnings(case, outline)]
    for answer in answers:
        warnings += [
            f"{answer.name}: {text}" for text in load_warnings(case, outline, steel, answer)
        ]
    return Run(
        case=case,
        steel=steel,
        measures=measure(faces, whole),
        outline=outline,
        mesh=mesh,
        displacement=displacement,
        loads=answers,
        warnings=tuple(warnings),
    )


def _patch_ends(tractions: tuple[Tractions, ...]) -> dict[Side, tuple[float, ...]]:
    """Collect where any load's stretches begin and end: nodes must stand there."""
    return {
        side: tuple(
            sorted(
                {
                    x
                    for load in tractions
                    for part in load.faces
                    if part.side == side
                    for x in (part.from_mm, part.to_mm)
                }
            )
        )
        for side in SIDES
    }


def _answer(
    index: int,
    load: Tractions,
    field: StressField,
    outline: Outline,
    displacement: Displacement,
    steel: SteelProperties,
) -> LoadAnswer:
    """Read one load's answer off its stress field."""
    trusted = trusted_depth_mm(outline)
    zone = patch_zone(load, outline)
    something = bool(np.any(displacement.at_points_mm[index]))
    peaks = find_peaks(field, zone, outline, trusted) if something else NO_PEAKS
    yielded = (
        find_yielded(field, steel.yield_strength_mpa, trusted, resolved_from_mm(outline))
        if something
        else NOTHING_YIELDED
    )
    section, patch = peaks.section, peaks.patch
    tension, patch_tension = peaks.section_principal, peaks.patch_principal
    even = outline.is_even and load.is_straight
    factor = steel.yield_strength_mpa / section.value_mpa if section else None
    foremost = displacement.at_points_mm[index][:, displacement.mesh.foremost]
    length, depth = load.contact_length_mm, yielded.depth_mm
    movement: tuple[float, float] | None = (float(foremost[0]), float(foremost[1]))
    imposed, reaction = load.carried, load.reaction
    if something and zone.tip is not None and zone.tip.kind == "sharp":
        movement = None  # a point under a force moves without bound, the finer the mesh the more
    return LoadAnswer(
        name=load.name,
        sentence=sentence_for(
            peaks,
            yielded,
            steel.yield_strength_mpa,
            steel.yield_low_mpa,
            even=even,
            nothing_left=not something,
            carried=_carried(load),
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
        edge_turn_deg=edge_turn_deg(displacement, index, outline) if movement else None,
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
        contact_ratio=length / depth if length is not None and depth > 0 else None,
        closed_form=(
            closed_forms(
                load,
                outline,
                zone,
                trusted,
                displacement.elasticity,
                steel,
                peaks,
                yielded,
                movement,
            )
            if something
            else ()
        ),
        residual=float(displacement.residual[index]),
        reaction_error=float(displacement.reaction_error[index]),
        stress=field,
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
