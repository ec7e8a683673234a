"""What a run answers: one record a load, with the names that the JSON file uses."""

from __future__ import annotations

from dataclasses import dataclass

from simedge.fem.stress_field import StressField
from simedge.runs.clamp import ClampEffect
from simedge.section.tractions import Tractions
from simedge.strength.singular import Singular
from simedge.strength.verdict import Verdict


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
    medium : str or None
        What presses, where it is of the library.
    carried_axial_mm, carried_lateral_mm : float or None
        How far it carries the tip, where a movement is imposed; what is None is free.
    """

    at: str
    axial_n_per_mm: float
    lateral_n_per_mm: float
    from_mm: float | None = None
    to_mm: float | None = None
    pressure_mpa: float | None = None
    friction: float | None = None
    spread: str | None = None
    medium: str | None = None
    carried_axial_mm: float | None = None
    carried_lateral_mm: float | None = None

    @property
    def carries(self) -> bool:
        """Whether it is the force that an imposed movement takes."""
        return self.carried_axial_mm is not None or self.carried_lateral_mm is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerErrors:
    """How far each answer of the same name may be off; None where there is no answer.

    Of the mesh, measured on this run, and of where the blade is held, as far as the answer
    ought not to depend on it. What the steel and the work leave open is not in it.

    Attributes
    ----------
    section_peak_von_mises_mpa, patch_peak_von_mises_mpa : float or None
    largest_principal_mpa, patch_largest_principal_mpa : float or None
    apex_lateral_mm, apex_axial_mm : float or None
    reaction_lateral_n_per_mm, reaction_axial_n_per_mm : float or None
    first_yield_lateral_mm, first_yield_axial_mm : float or None
    edge_turn_deg : float or None
    first_yield_load_factor, patch_first_yield_load_factor : float or None
    yield_depth_mm, through_yield_depth_mm : float or None
    contact_ratio : float or None
    """

    section_peak_von_mises_mpa: float | None
    patch_peak_von_mises_mpa: float | None
    largest_principal_mpa: float | None
    patch_largest_principal_mpa: float | None
    apex_lateral_mm: float | None
    apex_axial_mm: float | None
    reaction_lateral_n_per_mm: float | None
    reaction_axial_n_per_mm: float | None
    first_yield_lateral_mm: float | None
    first_yield_axial_mm: float | None
    edge_turn_deg: float | None
    first_yield_load_factor: float | None
    patch_first_yield_load_factor: float | None
    yield_depth_mm: float | None
    through_yield_depth_mm: float | None
    contact_ratio: float | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadAnswer:
    """What one load does to the edge: its verdict, and the elastic stress behind it.

    Lengths in mm, stresses in MPa; None where there is no answer. A load factor is how
    many times this load it takes.

    Attributes
    ----------
    name : str
    sentence : str
        The verdict in plain words.
    elastic_sentence : str
        How hard the steel is worked, and where it first yields.
    verdict : Verdict or None
        None where nothing is left of the load.
    nothing_left : bool
        The parts of the load cancel everywhere: there is no stress to speak of.
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
    imposed_lateral_mm, imposed_axial_mm : float or None
        How far the load carries the apex; None where it moves as it will.
    reaction_lateral_n_per_mm, reaction_axial_n_per_mm : float or None
        What carries it so far, on the blade; None under loads that impose no movement.
    first_yield_lateral_mm, first_yield_axial_mm : float or None
        The imposed movement at which the section first yields.
    edge_turn_deg : float or None
        How far the edge turns sideways; None where its movement has no bound.
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
    errors : AnswerErrors
    clamp_effect : ClampEffect or None
        What holding the blade nearer would change; None for a load that reaches so far.
    singular : Singular or None
        Why the section's peak has no value.
    residual, reaction_error : float
        Balance of this solution, relative to its load.
    stress : StressField
    tractions : Tractions
    """

    name: str
    sentence: str
    elastic_sentence: str
    verdict: Verdict | None
    nothing_left: bool
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
    imposed_lateral_mm: float | None
    imposed_axial_mm: float | None
    reaction_lateral_n_per_mm: float | None
    reaction_axial_n_per_mm: float | None
    first_yield_lateral_mm: float | None
    first_yield_axial_mm: float | None
    edge_turn_deg: float | None
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
    errors: AnswerErrors
    clamp_effect: ClampEffect | None
    singular: Singular | None
    residual: float
    reaction_error: float
    stress: StressField
    tractions: Tractions

    @property
    def only_carried(self) -> bool:
        """Whether an imposed movement is all that acts."""
        return len(self.parts) == 1 and self.parts[0].carries

    @property
    def comes_through(self) -> bool:
        """Whether the edge comes through; it does where nothing is left of the load."""
        return self.verdict is None or self.verdict.comes_through


#: Fields that are arrays and stay in memory.
IN_MEMORY = ("stress", "tractions")
