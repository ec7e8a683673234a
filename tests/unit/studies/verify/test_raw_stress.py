"""Stress without an outline: exact where displacements are of third degree."""

from __future__ import annotations

import numpy as np
import pytest

from simedge.fem.elastic import Displacement
from simedge.fem.elasticity import Elasticity
from simedge.studies.verify.mapped_mesh import mapped_mesh
from simedge.studies.verify.raw_stress import raw_stress_mpa


@pytest.mark.parametrize("plane", ["strain", "stress"])
def test_a_bent_field_by_hand(plane: str) -> None:
    # u = (x y, -x^2 / 2): strain xx = y, yy = 0, xy = 0
    mesh = mapped_mesh(lambda u, v: (3.0 * u, v - 0.5), cells=(6, 4), boundary={})
    x, y = mesh.points_mm
    sheet = Elasticity(
        youngs_modulus_mpa=91.0,
        poissons_ratio=0.3,
        plane=plane,  # type: ignore[arg-type]
    )
    moved = Displacement(
        mesh=mesh,
        elasticity=sheet,
        at_points_mm=np.stack([[x * y, -0.5 * x**2]]),
        residual=np.zeros(1),
        reaction_error=np.zeros(1),
    )
    stress = raw_stress_mpa(moved)
    assert stress.shape == (4, 1, x.size)
    # E = 91: plane stress E / (1 - nu^2) = 100 and 30 beside it; in plane strain
    # E (1 - nu) / ((1 + nu)(1 - 2 nu)) = 122.5 and 52.5, and along the edge 52.5
    expected = {"stress": (100.0, 30.0, 0.0, 0.0), "strain": (122.5, 52.5, 0.0, 52.5)}[plane]
    for found, factor in zip(stress[:, 0], expected, strict=True):
        assert found == pytest.approx(factor * y, abs=1e-10)
