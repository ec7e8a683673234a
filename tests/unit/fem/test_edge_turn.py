"""How far an edge turns: by hand on a movement that is known, and on a run."""

from __future__ import annotations

from dataclasses import replace
from math import degrees, tan

import numpy as np
import pytest

from simedge.fem.edge_turn import edge_turn_deg
from simedge.runs.run import Run


@pytest.mark.parametrize("slope", [0.0, 0.05, -0.3])
def test_turned_as_a_whole(slope: float, rope_knife: Run) -> None:
    mesh = rope_knife.mesh
    lateral = slope * (rope_knife.outline.depth_mm - mesh.points_mm[0])
    moved = np.stack([np.zeros_like(lateral), lateral])[None]
    turned = replace(rope_knife.displacement, at_points_mm=moved)
    found = edge_turn_deg(turned, 0, rope_knife.outline)
    assert tan(found * np.pi / 180.0) == pytest.approx(abs(slope), rel=1e-12, abs=1e-15)


def test_bending_turns_the_edge_more_than_the_blade(rope_knife: Run) -> None:
    for index, answer in enumerate(rope_knife.loads):
        assert answer.apex_lateral_mm is not None
        as_a_whole = degrees(abs(answer.apex_lateral_mm) / rope_knife.outline.depth_mm)
        found = edge_turn_deg(rope_knife.displacement, index, rope_knife.outline)
        assert as_a_whole < found < 90.0


def test_shifting_as_a_whole_is_no_turn(rope_knife: Run) -> None:
    moved = np.ones_like(rope_knife.displacement.at_points_mm[:1])
    shifted = replace(rope_knife.displacement, at_points_mm=moved)
    assert edge_turn_deg(shifted, 0, rope_knife.outline) == 0.0
