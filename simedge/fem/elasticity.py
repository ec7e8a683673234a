"""What the steel answers to strain: isotropic, linear elastic, in one plane."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from simedge.section.outline import Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Elasticity:
    """An isotropic material.

    Attributes
    ----------
    youngs_modulus_mpa, poissons_ratio : float
    plane : {"strain", "stress"}
        Along the edge nothing can move (an edge is long), or nothing can press: the
        latter is there for published benchmarks of thin sheets alone.
    """

    youngs_modulus_mpa: float
    poissons_ratio: float
    plane: Literal["strain", "stress"] = "strain"

    @property
    def lame_mpa(self) -> tuple[float, float]:
        """Lamé's constants in the plane: of the change of area, and the shear modulus."""
        ratio = self.poissons_ratio
        shear = self.youngs_modulus_mpa / (2.0 * (1.0 + ratio))
        room = 1.0 - 2.0 * ratio if self.plane == "strain" else 1.0 - ratio
        return 2.0 * shear * ratio / room, shear

    def stress_mpa(self, strain: Floats) -> Floats:
        """Give the stress xx, yy, xy, zz of strains xx, yy, xy along the first axis."""
        area, shear = self.lame_mpa
        hydrostatic = area * (strain[0] + strain[1])
        xx, yy = hydrostatic + 2.0 * shear * strain[0], hydrostatic + 2.0 * shear * strain[1]
        return np.stack([xx, yy, 2.0 * shear * strain[2], self.along_edge_mpa(xx + yy)])

    def along_edge_mpa(self, in_plane_sum_mpa: Floats) -> Floats:
        """Give the stress along the edge from the sum of the two in the plane."""
        return np.asarray(
            self.poissons_ratio * in_plane_sum_mpa
            if self.plane == "strain"
            else np.zeros_like(in_plane_sum_mpa)
        )

    def stretched_mpa(self, stretch: Floats, across_mpa: Floats) -> Floats:
        """Give the stress along a line from its stretch and the stress across it."""
        modulus, ratio = self.youngs_modulus_mpa, self.poissons_ratio
        if self.plane == "strain":
            modulus, ratio = modulus / (1.0 - ratio**2), ratio / (1.0 - ratio)
        return modulus * stretch + ratio * across_mpa

    def strain(self, stress_mpa: Floats) -> Floats:
        """Give the strains xx, yy, xy of stresses xx, yy, xy (and on) along the first axis.

        >>> steel = Elasticity(youngs_modulus_mpa=200e3, poissons_ratio=0.0)
        >>> [float(part) for part in steel.strain(np.array([200.0, 0.0, 100.0]))]
        [0.001, 0.0, 0.0005]
        """
        ratio = self.poissons_ratio
        straight, across = (
            (1.0 - ratio**2, ratio * (1.0 + ratio)) if self.plane == "strain" else (1.0, ratio)
        )
        xx, yy, xy = stress_mpa[:3]
        scaled = [straight * xx - across * yy, straight * yy - across * xx, (1.0 + ratio) * xy]
        return np.stack(scaled) / self.youngs_modulus_mpa

    @staticmethod
    def work_mpa(stress_mpa: Floats, strain: Floats) -> Floats:
        """Give the work per volume of stresses xx, yy, xy (and on) over strains xx, yy, xy."""
        return np.asarray(
            stress_mpa[0] * strain[0] + stress_mpa[1] * strain[1] + 2.0 * stress_mpa[2] * strain[2]
        )
