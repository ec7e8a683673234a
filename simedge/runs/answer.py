"""What a run answers: one record a load, with the names that the JSON file uses."""

from __future__ import annotations

from dataclasses import dataclass

from simedge.fem.stress import StressField
from simedge.section.tractions import Tractions


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedForm:
    """A closed-form answer beside the computed one.

    Attributes
    ----------
    quantity : str
        Name of the computed quantity.
    value : float
    ratio : float or None
        Computed over closed form; None where the closed form is 0.
    within_validity : bool
        Whether the place in question lies where the formula holds.
    valid_for, source : str
    """

    quantity: str
    value: float
    ratio: float | None
    within_validity: bool
    valid_for: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ActingPart:
    """One thing that acts on the edge; resultants are per millimetre of edge.

    Attributes
    ----------
    at : str
        ``tip``, ``left face`` or ``right face``.
    axial_n_per_mm, lateral_n_per_mm : float
        Resultant on the blade: into the edge, towards the left face.
    from_mm, to_mm, pressure_mpa, friction : float or None
        Of a pressed stretch.
    spread : str or None
        Of a load on the tip.
    """

    at: str
    axial_n_per_mm: float
    lateral_n_per_mm: float
    from_mm: float | None = None
    to_mm: float | None = None
    pressure_mpa: float | None = None
    friction: float | None = None
    spread: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadAnswer:
    """What one load does to the edge, elastically.

    Lengths in mm, stresses in MPa; None where there is no answer. A load factor is how
    many times this load it takes.

    Attributes
    ----------
    name, sentence : str
    even : bool
        Section and load are alike on both sides: every place has its mirror image.
    section_peak_von_mises_mpa, section_peak_x_mm, section_peak_y_mm : float or None
        Outside the patch zone and in front of the clamp's reach.
    section_peak_at_zone_edge : bool
        The section's peak sits at the edge of the patch zone: it depends on where that
        edge is drawn.
    patch_peak_von_mises_mpa, patch_peak_x_mm, patch_peak_y_mm : float or None
        Where the load itself sits.
    largest_principal_mpa, largest_principal_x_mm, largest_principal_y_mm : float or None
        Largest tension in the section.
    patch_largest_principal_mpa, patch_largest_principal_x_mm, patch_largest_principal_y_mm
        Largest tension where the load itself sits, float or None.
    apex_lateral_mm, apex_axial_mm : float or None
        Movement of the foremost point: towards the left face, into the blade. None
        under a tip load on a sharp tip, where it has no bound.
    first_yield_load_factor, first_yield_x_mm, first_yield_y_mm : float or None
    first_yield_load_factor_low, first_yield_load_factor_high : float or None
        With the low and the high end of the steel's yield strength.
    patch_first_yield_load_factor : float or None
    yield_depth_mm : float
        Deepest point of the elastic contour at yield; 0 where nothing yields.
    yield_depth_y_mm : float or None
    through_yield_depth_mm : float or None
        Deepest x at which the whole thickness yields.
    yielded_stretches_mm : tuple of (float, float)
    parts : tuple of ActingPart
    limited_by : str or None
        ``hand`` or ``medium``.
    contact_length_mm : float or None
    contact_ratio : float or None
        Contact length over yield depth; plane strain wants it above about 4.
    closed_form : tuple of ClosedForm
    residual, reaction_error : float
        Balance of this solution, relative to its load.
    stress : StressField
    tractions : Tractions
    """

    name: str
    sentence: str
    even: bool
    section_peak_von_mises_mpa: float | None
    section_peak_x_mm: float | None
    section_peak_y_mm: float | None
    section_peak_at_zone_edge: bool
    patch_peak_von_mises_mpa: float | None
    patch_peak_x_mm: float | None
    patch_peak_y_mm: float | None
    largest_principal_mpa: float | None
    largest_principal_x_mm: float | None
    largest_principal_y_mm: float | None
    patch_largest_principal_mpa: float | None
    patch_largest_principal_x_mm: float | None
    patch_largest_principal_y_mm: float | None
    apex_lateral_mm: float | None
    apex_axial_mm: float | None
    first_yield_load_factor: float | None
    first_yield_x_mm: float | None
    first_yield_y_mm: float | None
    first_yield_load_factor_low: float | None
    first_yield_load_factor_high: float | None
    patch_first_yield_load_factor: float | None
    yield_depth_mm: float
    yield_depth_y_mm: float | None
    through_yield_depth_mm: float | None
    yielded_stretches_mm: tuple[tuple[float, float], ...]
    parts: tuple[ActingPart, ...]
    limited_by: str | None
    contact_length_mm: float | None
    contact_ratio: float | None
    closed_form: tuple[ClosedForm, ...]
    residual: float
    reaction_error: float
    stress: StressField
    tractions: Tractions


#: Fields that are arrays and stay in memory.
IN_MEMORY = ("stress", "tractions")
