"""What a steel sets against breaking: at the weak and the strong end of what is known, and between.

The weak end takes the deepest flaw, the lowest toughness and short-crack factor, the coarsest
particle and the stricter assessment line; the strong end the reverse. Yield strength is the
steel's own at both: its spread scales rolling and blunting, and is told beside them.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from simedge.inputs.library_data import Band
from simedge.inputs.steel_properties import SteelProperties
from simedge.strength.closed_form.assessment_diagram import (
    R6_EXPONENT,
    bs7910_exponent,
    collapse_cut_off,
)
from simedge.strength.closed_form.edge_crack import DEEPEST_SHARE
from simedge.units import mm_from_um

#: MPa sqrt(m) to MPa sqrt(mm).
PER_SQRT_M = sqrt(1000.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Resistance:
    """One place of the band.

    Attributes
    ----------
    yield_strength_mpa : float
    collapse_cut_off, assessment_exponent : float
        Of the assessment diagram.
    toughness_mpa_sqrt_mm : float or None
        What a crack of the flaw's size sees of K_IC; None where it is unknown.
    flaw_mm : float
    particle_mm, particle_strength_mpa : float or None
        Of hard particles; None in a steel without.
    """

    yield_strength_mpa: float
    collapse_cut_off: float
    assessment_exponent: float
    toughness_mpa_sqrt_mm: float | None
    flaw_mm: float
    particle_mm: float | None
    particle_strength_mpa: float | None

    @property
    def cracks_judged_from_mm(self) -> float:
        """Thickness up to which hard particles fill a section, and no crack picture holds; or 0."""
        return 0.0 if self.particle_mm is None else self.particle_mm / DEEPEST_SHARE


@dataclass(frozen=True, slots=True, kw_only=True)
class ResistanceBand:
    """What is known of a steel: both ends, and the middle between them in ratios."""

    weak: Resistance
    middle: Resistance
    strong: Resistance

    @property
    def each(self) -> tuple[Resistance, ...]:
        """The weak end, the middle, the strong end; one of them where they are one."""
        if self.weak is self.strong:
            return (self.middle,)
        return self.weak, self.middle, self.strong

    @property
    def middle_alone(self) -> ResistanceBand:
        """The same steel known exactly, as its middle."""
        return ResistanceBand(weak=self.middle, middle=self.middle, strong=self.middle)


def particle_strength_mpa(toughness_mpa_sqrt_m: float, diameter_mm: float) -> float:
    """Give the strength of a particle cracked across as a penny of its own diameter.

    (pi / 2) K_c / sqrt(pi d / 2), derived.

    >>> round(particle_strength_mpa(3.0, 0.030))  # 690 MPa at 30 um
    686
    """
    return 0.5 * pi * toughness_mpa_sqrt_m * PER_SQRT_M / sqrt(0.5 * pi * diameter_mm)


def resistance_band(steel: SteelProperties) -> ResistanceBand:
    """Give both ends of a steel's resistance, and the middle.

    Notes
    -----
    The two assessment lines are those of R6 and of BS 7910, the stricter one at the weak end.
    """
    flow = steel.yield_strength_mpa
    lenient, strict = sorted((R6_EXPONENT, bs7910_exponent(steel.youngs_modulus_mpa, flow)))

    def at(share: float) -> Resistance:
        """Give the resistance at a share of the way from the weak end to the strong one."""
        tough, carbide = steel.fracture_toughness_mpa_sqrt_m, steel.largest_carbide_um
        seen = particle = strength = None
        if tough is not None:
            seen = _between(tough, share) * _between(steel.short_crack_factor, share) * PER_SQRT_M
        if carbide is not None:
            particle = mm_from_um(_between(carbide, 1.0 - share))
            held = _between(steel.particle_toughness_mpa_sqrt_m, share)
            strength = particle_strength_mpa(held, particle)
        return Resistance(
            yield_strength_mpa=flow,
            collapse_cut_off=collapse_cut_off(flow, steel.tensile_strength_mpa),
            assessment_exponent=_between(Band(lenient, strict), 1.0 - share),
            toughness_mpa_sqrt_mm=seen,
            flaw_mm=mm_from_um(_between(steel.flaw_um, 1.0 - share)),
            particle_mm=particle,
            particle_strength_mpa=strength,
        )

    return ResistanceBand(weak=at(0.0), middle=at(0.5), strong=at(1.0))


def _between(band: Band, share: float) -> float:
    """Go a share of the way from a band's low end to its high one, in ratios.

    >>> _between(Band(1.0, 4.0), 0.5)
    2.0
    """
    return float(band.low ** (1.0 - share) * band.high**share)
