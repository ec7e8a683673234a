"""How stiff blades are against a push from the side: at the apex, and at depths behind it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from simedge.fem.elasticity import Elasticity
from simedge.inputs.cross_section import CrossSection
from simedge.inputs.library_data import every_steel
from simedge.inputs.traced import TracedProfile
from simedge.section.outline import Outline
from simedge.section.tractions import Tractions
from simedge.strength.local_wedge import local_wedges, wedge_movement_mm
from simedge.studies.push_plan import ACCURACY_PERCENT, PushPlan, plan_pushes
from simedge.studies.sideways_push import (
    DeflectedShape,
    deflected_shape,
    middle_mm,
    movements_mm,
    push_all,
)
from simedge.units import mpa_from_gpa

#: The mesh of the answers is `ACCURACY_PERCENT`'s, beside a coarser one: how far they differ bounds
#: the answers' error, of which the finer one has about a tenth.
COARSER_PERCENT = 30.0
#: The closed form is within about 2 % up to this half angle, and from so many thicknesses in
#: front of where the blade is held on: nearer, the clamp keeps the section from warping.
SLENDER_RAD, CLEAR_THICKNESSES = 0.35, 2.0
VALID_FOR = (
    "half angles up to 20 degrees behind the place, and places two thicknesses or more in front "
    "of where the blade is held: within about 2 % there"
)
CLOSED_FORM_SOURCE = (
    "integral of the tapered beam with the two-dimensional correction: energy of the wedge "
    "fields of Michell 1900 and Carothers 1912, bevel by bevel (derived here)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceStiffness:
    """How stiff a blade is at one place; see `stiffness_of`.

    Attributes
    ----------
    at_mm : float
        Depth behind the foremost point of the apex; 0 is the apex itself.
    thickness_mm : float
        Of the section there; at the apex the width of the tip.
    stiffness_n_per_mm2 : float or None
        N on each mm of edge for each mm that the place gives way. None at a perfectly
        sharp apex, which gives way without bound.
    error_n_per_mm2 : float or None
        Discretisation error: by how much a coarser mesh differs.
    closed_form_n_per_mm2 : float or None
        The same by the tapered beam with the two-dimensional correction; None at a sharp
        apex, and for a negative Poisson's ratio.
    ratio : float or None
        Computed over closed form.
    within_validity : bool
        Whether the closed form should hold here, as `VALID_FOR` says.
    """

    at_mm: float
    thickness_mm: float
    stiffness_n_per_mm2: float | None
    error_n_per_mm2: float | None
    closed_form_n_per_mm2: float | None
    ratio: float | None
    within_validity: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BladeStiffness:
    """One blade's answers.

    Attributes
    ----------
    name : str
        The profile's; numbered where several have the same.
    profile : Profile or TracedProfile
    outline : Outline
        Down to where it is held.
    held_at_mm : float
        Depth from which on it is fully fixed.
    held_at_spine : bool
    places : tuple of PlaceStiffness
        The apex first, then the depths.
    shape : DeflectedShape
    """

    name: str
    profile: CrossSection
    outline: Outline
    held_at_mm: float
    held_at_spine: bool
    places: tuple[PlaceStiffness, ...]
    shape: DeflectedShape

    def at(self, at_mm: float) -> PlaceStiffness | None:
        """Give the answer at a depth, 0 for the apex; None where it was not asked."""
        return next((place for place in self.places if place.at_mm == at_mm), None)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StiffnessStudy:
    """Several blades' stiffness, of one steel.

    Attributes
    ----------
    blades : tuple of BladeStiffness
        In the order in which they were given.
    elasticity : Elasticity
    """

    blades: tuple[BladeStiffness, ...]
    elasticity: Elasticity

    @property
    def places_mm(self) -> tuple[float, ...]:
        """All places that were asked of any blade, apex (0) first."""
        return tuple(sorted({place.at_mm for blade in self.blades for place in blade.places}))


def steel_elasticity() -> Elasticity:
    """Give the elasticity that the library has for every steel.

    Examples
    --------
    >>> steel = steel_elasticity()
    >>> steel.youngs_modulus_mpa, steel.poissons_ratio
    (207000.0, 0.29)
    """
    shared = every_steel()
    return Elasticity(
        youngs_modulus_mpa=mpa_from_gpa(shared["youngs_modulus_gpa"].single),
        poissons_ratio=shared["poissons_ratio"].single,
    )


def stiffness_of(
    profiles: Sequence[CrossSection],
    *,
    held_at_mm: float | None = None,
    at_mm: Sequence[float] | None = None,
    elasticity: Elasticity | None = None,
) -> StiffnessStudy:
    """Say how stiff blades are against a push from the side.

    Parameters
    ----------
    profiles : sequence of Profile or TracedProfile
        At least one.
    held_at_mm : float or None
        Depth from which on each is fully fixed; None stands for its own spine. To compare
        grinds, hold them at the same depth.
    at_mm : sequence of float or None
        Depths behind the apex at which they are pushed, beside the apex itself. None stands
        for 0.5, 1, 2 and 5 mm, where at least a thickness lies behind them.
    elasticity : Elasticity or None
        None stands for the library's, of every steel.

    Returns
    -------
    StiffnessStudy

    Raises
    ------
    BadInput
        A blade cannot be held or pushed there; all such places are told at once.
    NumericsFailed
        The mesher or the solver gave nothing that may be shown.

    Notes
    -----
    Plane strain, linear elastic, small movements, the push the same all along the edge: a push
    on a short piece of a real edge moves it less, as its neighbours carry too. How the pushes
    are spread is told in `simedge.studies.sideways_push`.

    Movement is read at the apex's foremost point, or at the middle of the section, against
    the push. Stiffness is per mm of edge, so N/mm²: a section ten times as large in all
    its lengths is as stiff. That at the apex depends on its radius, by a logarithm.

    Examples
    --------
    Slim wedge, 2 degrees per side, on a land of 0.2 mm, 20 mm high: the beam alone gives
    E' 2 tan^3 a / (3 F(rho)), rho = 1 + 20 / 2.8636 = 7.984, F = 0.8201:
    226007 * 2 * 4.2584e-5 / (3 * 0.8201) = 7.824; two dimensions take 0.2 % off.

    >>> from simedge.inputs.profile import Apex, PrimaryGrind, Profile
    >>> wedge = Profile(
    ...     apex=Apex(land_um=200.0), height_mm=20.0, primary_grind=PrimaryGrind(dps=2.0)
    ... )
    >>> place = stiffness_of([wedge], at_mm=[]).blades[0].places[0]
    >>> f"{place.stiffness_n_per_mm2:.2f}"
    '7.81'
    """
    steel = elasticity or steel_elasticity()
    return StiffnessStudy(
        blades=tuple(_answer(plan, steel) for plan in plan_pushes(profiles, held_at_mm, at_mm)),
        elasticity=steel,
    )


def _answer(plan: PushPlan, elasticity: Elasticity) -> BladeStiffness:
    """Push one blade at the apex and at all depths, on two meshes."""
    outline = plan.outline
    middles = np.array([middle_mm(outline, depth) for depth in plan.depths_mm]).T
    traced = isinstance(plan.profile, TracedProfile)
    finer, coarser = (
        push_all(outline, plan.pushes, elasticity, percent, traced=traced)
        for percent in (ACCURACY_PERCENT, COARSER_PERCENT)
    )
    moved, roughly = movements_mm(finer, middles), movements_mm(coarser, middles)
    places = tuple(
        _place(outline, depth, push, elasticity, float(by), float(about))
        for depth, push, by, about in zip(plan.depths_mm, plan.pushes, moved, roughly, strict=True)
    )
    if outline.tip.kind == "sharp":
        unbounded = replace(
            places[0],
            stiffness_n_per_mm2=None,
            error_n_per_mm2=None,
            closed_form_n_per_mm2=None,
            ratio=None,
            within_validity=False,
        )
        places = (unbounded, *places[1:])
    return BladeStiffness(
        name=plan.name,
        profile=plan.profile,
        outline=outline,
        held_at_mm=outline.depth_mm,
        held_at_spine=outline.depth_mm >= plan.profile.faces.height_mm * (1.0 - 1e-12),
        places=places,
        shape=deflected_shape(outline, finer),
    )


def _place(
    outline: Outline,
    depth_mm: float,
    push: Tractions,
    elasticity: Elasticity,
    moved_mm: float,
    roughly_mm: float,
) -> PlaceStiffness:
    """Put one place's answer together, with the closed form beside it."""
    stiffness = 1.0 / moved_mm
    closed = None
    if elasticity.poissons_ratio >= 0.0:  # the formulas are not made for a negative one
        by = wedge_movement_mm(outline, push, elasticity, middle_mm(outline, depth_mm))[1]
        closed = -1.0 / by
    behind = [w.half_angle_rad for w in local_wedges(outline) if w.end_mm > depth_mm]
    held = outline.depth_mm
    clear = held - depth_mm >= CLEAR_THICKNESSES * float(outline.thickness_mm(held))
    at_apex = depth_mm == 0.0
    return PlaceStiffness(
        at_mm=depth_mm,
        thickness_mm=outline.tip.width_mm if at_apex else float(outline.thickness_mm(depth_mm)),
        stiffness_n_per_mm2=stiffness,
        error_n_per_mm2=abs(stiffness - 1.0 / roughly_mm),
        closed_form_n_per_mm2=closed,
        ratio=stiffness / closed if closed is not None else None,
        within_validity=closed is not None and clear and max(behind) < SLENDER_RAD,
    )
