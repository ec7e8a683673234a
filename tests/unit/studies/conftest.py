"""Blades to push: one much like the library's rope knife, one-sided ones, and their studies."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from simedge import stiffness_of
from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.profile import Profile
from simedge.studies.stiffness import BladeStiffness, StiffnessStudy

Knife = Callable[..., Profile]
Study = Callable[..., StiffnessStudy]


@pytest.fixture(scope="session")
def knife() -> Knife:
    """Build a profile 20 mm high; the spine's thickness tells them apart."""

    def build(spine_mm: float = 2.0, **changes: object) -> Profile:
        usual: dict[str, object] = {
            "name": f"{spine_mm:g} mm knife",
            "height_mm": 20.0,
            "spine_thickness_mm": spine_mm,
            "apex": Apex(radius_um=2.0),
            "bevels": (Bevel(dps=12.0, ends_at_thickness_mm=0.3),),
            "primary_grind": PrimaryGrind(),
        }
        return Profile(**{**usual, **changes})

    return build


@pytest.fixture(scope="session")
def solved(knife: Knife) -> StiffnessStudy:
    """Solve for one knife, at the apex and at 1 mm; tests only read it."""
    return stiffness_of([knife()], at_mm=[1.0])


@pytest.fixture(scope="session")
def made_up(solved: StiffnessStudy) -> Study:
    """Give a study with the stiffness that a test wants: name to (apex, at 1 mm), error each."""

    def build(error: float = 0.01, **blades: tuple[float | None, float]) -> StiffnessStudy:
        (pattern,) = solved.blades
        return replace(
            solved,
            blades=tuple(_with(pattern, name, values, error) for name, values in blades.items()),
        )

    return build


def _with(
    pattern: BladeStiffness, name: str, values: tuple[float | None, float], error: float
) -> BladeStiffness:
    places = tuple(
        replace(
            place,
            stiffness_n_per_mm2=value,
            error_n_per_mm2=None if value is None else error,
        )
        for place, value in zip(pattern.places, values, strict=True)
    )
    return replace(pattern, name=name, places=places)
