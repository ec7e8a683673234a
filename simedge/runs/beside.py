"""The closed-form answers that stand beside the computed ones of a load."""

from __future__ import annotations

from simedge.fem.elasticity import Elasticity
from simedge.inputs.steel_properties import SteelProperties
from simedge.runs.answer import ClosedForm
from simedge.runs.reading import Reading
from simedge.section.outline import Outline
from simedge.section.tractions import Tractions
from simedge.strength.local_wedge import (
    local_wedges,
    read_local_wedges,
    wedge_movement_mm,
    wedge_peak_mpa,
    wedge_yield_depth_mm,
)
from simedge.strength.zones import trusted_depth_mm

STRESS_SOURCE = (
    "each bevel as an endless wedge under the force and moment in front of it: Levy 1898, "
    "Michell 1900, Carothers 1912"
)
STRESS_VALIDITY = (
    "places farther than one local thickness from shoulders, the clamp and the ends of the load"
)
#: Below this share of the other movement one is rounding.
ROUNDING = 1e-6
#: Up to 20 degrees per side the movement is within about 2 %.
SLENDER_RAD = 0.35
MOVEMENT_SOURCE = "energy of the wedge fields, bevel by bevel (derived here)"


def _is_clear(x_mm: float, outline: Outline, load: Tractions) -> bool:
    """Tell whether a depth is a thickness away from all that disturbs the wedge field."""
    ends = [x for part in load.faces for x in (part.from_mm, part.to_mm)]
    if load.tip:
        ends.append(0.0)
    thickness = float(outline.thickness_mm(min(x_mm, outline.depth_mm)))
    disturbed = [*outline.shoulders_mm, outline.depth_mm, *ends]
    return all(abs(x_mm - place) >= thickness for place in disturbed)


def _beside(
    quantity: str, value: float, computed: float | None, clear: bool, valid_for: str, source: str
) -> ClosedForm:
    ratio = computed / value if computed is not None and value != 0.0 else None
    return ClosedForm(
        quantity=quantity,
        value=value,
        ratio=ratio,
        within_validity=clear,
        valid_for=valid_for,
        source=source,
    )


def closed_forms(
    computed: Reading, elasticity: Elasticity, steel: SteelProperties
) -> tuple[ClosedForm, ...]:
    """Work out the closed forms of one load, and the ratio of the computed answers to them.

    Parameters
    ----------
    computed : Reading
        The answers they stand beside.
    elasticity : Elasticity
    steel : SteelProperties

    Returns
    -------
    tuple of ClosedForm
        None at all for a negative Poisson's ratio: the formulas are not made for it.
    """
    load, outline, zone = computed.tractions, computed.outline, computed.zone
    peaks, yielded, movement_mm = computed.peaks, computed.yielded, computed.movement_mm
    if elasticity.poissons_ratio < 0.0:
        return ()
    found = []
    reading = read_local_wedges(outline, load, elasticity.poissons_ratio, trusted_depth_mm(outline))
    peak = wedge_peak_mpa(reading, zone)
    if peak is not None and peak[0] > 0 and peaks.section is not None:
        value, depth = peak
        clear = _is_clear(depth, outline, load) and not peaks.at_zone_edge
        shared = (clear, STRESS_VALIDITY, STRESS_SOURCE)
        found += [
            _beside("section_peak_von_mises_mpa", value, peaks.section.value_mpa, *shared),
            _beside(
                "first_yield_load_factor",
                steel.yield_strength_mpa / value,
                steel.yield_strength_mpa / peaks.section.value_mpa,
                *shared,
            ),
        ]
    depth_of_yield = wedge_yield_depth_mm(reading, steel.yield_strength_mpa)
    if depth_of_yield is not None and yielded.depth_mm > 0:
        clear = _is_clear(depth_of_yield, outline, load) and not yielded.reaches_clamp
        found.append(
            _beside(
                "yield_depth_mm",
                depth_of_yield,
                yielded.depth_mm,
                clear,
                STRESS_VALIDITY,
                STRESS_SOURCE,
            )
        )
    if movement_mm is None:
        return tuple(found)
    axial, lateral = wedge_movement_mm(outline, load, elasticity)
    if abs(lateral) < ROUNDING * abs(axial):
        lateral = 0.0  # a straight cut of an even edge
    if abs(axial) < ROUNDING * abs(lateral):
        axial = 0.0
    slender = max(wedge.half_angle_rad for wedge in local_wedges(outline)) < SLENDER_RAD
    found += [
        _beside(
            "apex_lateral_mm",
            lateral,
            movement_mm[1],
            slender,
            "slim sections: what the clamp and the shoulders add is left out (0.5 % at 10 degrees "
            "per side, 4 % at 30)",
            MOVEMENT_SOURCE,
        ),
        _beside(
            "apex_axial_mm",
            axial,
            movement_mm[0],
            False,
            "the compression behind the tip only: the dent right under a tip load is left out",
            MOVEMENT_SOURCE,
        ),
    ]
    return tuple(found)
