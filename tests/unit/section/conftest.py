"""Outlines of every grind, for what is read off them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from simedge.inputs.door import validated_arguments
from simedge.inputs.profile import Profile
from simedge.section.outline import Outline, build_outline

EDGE = {"name": "edge bevel", "dps": 14.0, "ends_at_thickness_mm": 0.4}
HAND = {"kind": "convex", "bulge_um": 18.0}
HOLLOW = {"kind": "hollow", "wheel_radius_mm": 160.0}
CONVEX = {"kind": "convex", "bulge_mm": 0.25}
ONE_SIDE = {"left_dps": 0.0, "right_dps": 20.0, "ends_at_thickness_mm": 0.4}

#: What differs from a 28 mm blade of 3 mm with an edge bevel; keys that are None are left out.
GRINDS: dict[str, dict[str, Any]] = {
    "hollow": {"primary_grind": HOLLOW},
    "hollow, part of the height": {
        "primary_grind": {**HOLLOW, "wheel_radius_mm": 90.0, "grind_height_mm": 18.0}
    },
    "hollow to a land": {
        "bevels": [],
        "apex": {"land_um": 20.0},
        "primary_grind": {**HOLLOW, "wheel_radius_mm": 500.0},
    },
    "hollow on one side": {"bevels": [ONE_SIDE], "primary_grind": HOLLOW},
    "convex": {"primary_grind": CONVEX},
    "convex to the apex": {"bevels": [], "primary_grind": CONVEX},
    "convex to a sharp apex": {"bevels": [], "apex": {"sharp": True}, "primary_grind": CONVEX},
    "convex, shared unequally": {
        "bevels": [{"left_dps": 12.0, "right_dps": 18.0, "height_mm": 0.7, **HAND}],
        "primary_grind": {**CONVEX, "left_fraction": 0.4, "bulge_mm": 0.1},
    },
    "convex bevels in front of a hollow": {
        "bevels": [
            {"dps": 22.0, "height_mm": 0.05, "kind": "convex", "bulge_um": 0.8},
            {**EDGE, **HAND, "bulge_um": 12.0},
        ],
        "primary_grind": HOLLOW,
    },
    "convex to a blunt apex": {
        "bevels": [],
        "apex": {"radius_um": 300.0},
        "primary_grind": CONVEX,
    },
    "nearly half a circle": {
        "bevels": [],
        "height_mm": 5.0,
        "spine_thickness_mm": None,
        "primary_grind": {"kind": "convex", "dps": 44.0, "bulge_mm": 1.35},
    },
    "scooped out steeply": {
        "height_mm": 12.0,
        "spine_thickness_mm": 10.0,
        "bevels": [{"dps": 30.0, "ends_at_thickness_mm": 9.0}],
        "primary_grind": {"kind": "hollow", "wheel_radius_mm": 2.3},
    },
    "part-height": {"primary_grind": {"kind": "part-height", "grind_height_mm": 20.0}},
}

Ground = Callable[..., Outline]


@pytest.fixture(scope="session", params=GRINDS)
def grind(request: pytest.FixtureRequest) -> str:
    """Name of a grind."""
    name: str = request.param
    return name


@pytest.fixture(scope="session")
def ground() -> Ground:
    """Build the outline of a named grind, held at a share of its height."""

    def build(name: str, held: float = 1.0) -> Outline:
        fields = {
            "height_mm": 28.0,
            "spine_thickness_mm": 3.0,
            "apex": {"radius_um": 1.0},
            "bevels": [EDGE],
            **GRINDS[name],
        }
        given = {key: value for key, value in fields.items() if value is not None}
        profile = validated_arguments(Profile, given)
        faces = profile.faces
        return build_outline(profile.apex, faces, held * faces.height_mm)

    return build
