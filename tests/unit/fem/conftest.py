"""Meshes that several files here look at, and how fine they are."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from simedge.section.element_sizes import Resolution
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import Outline

SHAPES: dict[str, dict[str, Any]] = {
    "rope knife": {},
    "keen": {"radius_um": 0.02},
    "chisel": {"bevels": ((0.0, 25.0, 2.0),), "radius_um": 5.0},
    "land": {"land_um": 8.0},
    "sharp": {"sharp": True},
}


def shortest_edge_mm(mesh: SectionMesh) -> float:
    """Give the shortest edge of the mesh."""
    begin, end = (mesh.points_mm[:, mesh.triangles[k]] for k in (0, 1))
    return float(np.hypot(*(end - begin)).min())


@pytest.fixture(scope="session", params=sorted(SHAPES))
def section(request: pytest.FixtureRequest, edge: Any) -> tuple[Outline, SectionMesh]:
    """Mesh each of some unlike blades once."""
    outline = edge(**SHAPES[request.param])
    ends = {"left": (0.02, 1.5)}
    return outline, mesh_outline(outline, ends, Resolution.for_accuracy(1.0))  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def rope(edge: Any) -> tuple[Outline, SectionMesh]:
    """Mesh the rope knife alone."""
    outline = edge()
    ends = {"left": (0.02, 1.5)}
    return outline, mesh_outline(outline, ends, Resolution.for_accuracy(1.0))  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def spacing_mm() -> Any:
    """Measure the shortest edge of a mesh."""
    return shortest_edge_mm
