"""Stress along both faces of many wedges at once, each with its own angle.

The same fields as in `simedge.strength.closed_form.wedge_stress`, which has them everywhere
in one wedge; here on the faces alone, so that hundreds of sections take no loop. Axes, signs
and sources as there. Half angles in (0, pi/2), at the slimmest 0.01 rad: below, the
differences lose digits that the series of `wedge_constants` keep.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simedge.strength.closed_form.wedge_constants import FloatArray, angle_less_sine
from simedge.strength.closed_form.wedge_constants import sine_less_angle_cosine as sine_less


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WedgeFaces:
    """Wedges, by half of their included angle, radians, shape (n,)."""

    half_angle_rad: FloatArray

    @property
    def moment_constant(self) -> FloatArray:
        """Give m = sin 2a - 2a cos 2a."""
        return np.asarray(sine_less(2.0 * self.half_angle_rad))

    def of_apex_load(
        self, axial_n_per_mm: FloatArray, lateral_n_per_mm: FloatArray, moment_n: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Give what an apex load makes on the faces, to be divided by powers of the radius.

        Returns
        -------
        (even, odd, odd_by_radius) : ndarray, shape (n,)
            sigma on the left face is (even + odd) / r + odd_by_radius / r^2, on the right
            one (even - odd) / r - odd_by_radius / r^2.
        """
        a = self.half_angle_rad
        lateral = 0.5 * angle_less_sine(2.0 * a)
        even = -axial_n_per_mm * np.cos(a) / (a + 0.5 * np.sin(2.0 * a))
        odd = -lateral_n_per_mm * np.sin(a) / lateral
        by_radius = 2.0 * moment_n * np.sin(2.0 * a) / self.moment_constant
        return even, odd, by_radius

    def of_pressure(self) -> tuple[FloatArray, FloatArray]:
        """Give stress over pressure on the pressed face, which is in tension, and the other."""
        a = self.half_angle_rad
        bent = (2.0 * a * np.cos(2.0 * a) + np.sin(2.0 * a)) / (2.0 * self.moment_constant)
        return bent - 0.5, -bent - 0.5

    def of_drag(self) -> tuple[FloatArray, FloatArray]:
        """Give stress over a shear that drags one face to the base, on that face and the other."""
        a = self.half_angle_rad
        even = -np.cos(2.0 * a) / np.sin(2.0 * a)
        odd = -2.0 * a * np.sin(2.0 * a) / self.moment_constant
        return even + odd, even - odd
