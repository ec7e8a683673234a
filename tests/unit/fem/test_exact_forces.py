"""Forces of a movement: exact where what moves is large against what strains."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse import csc_matrix

from simedge.fem.elastic import HeldSection, hold_section
from simedge.fem.exact_forces import TwoPartMovement, exact_forces
from simedge.section.mesh import SectionMesh
from simedge.section.outline import Outline
from simedge.studies.stiffness import steel_elasticity


@pytest.fixture(scope="module")
def held(rope: tuple[Outline, SectionMesh]) -> HeldSection:
    return hold_section(rope[1], steel_elasticity())


def still(count: int, loads: int = 1) -> TwoPartMovement:
    nothing = np.zeros((count, loads), dtype=np.longdouble)
    return TwoPartMovement(large=nothing, small=nothing)


def test_two_springs_by_hand() -> None:
    # 2 and 3 N/mm between three points in a row, along x and along y, moved by 1, 5 and 7 mm:
    # 2 (1 - 5) = -8, 2 (5 - 1) + 3 (5 - 7) = 2, 3 (7 - 5) = 6
    springs = np.array([[2.0, -2.0, 0.0], [-2.0, 5.0, -3.0], [0.0, -3.0, 3.0]])
    forces = exact_forces(csc_matrix(np.kron(springs, np.eye(2))))
    found = forces(still(6).plus(np.repeat([1.0, 5.0, 7.0], 2)[:, None]))
    assert found[:, 0].tolist() == [-8.0, -8.0, 2.0, 2.0, 6.0, 6.0]


def test_an_ordinary_movement_takes_what_the_matrix_says(held: HeldSection) -> None:
    moved = np.random.default_rng(3).normal(size=(held.stiffness.shape[0], 2))
    plain = held.stiffness @ moved
    found = exact_forces(held.stiffness)(still(*moved.shape).plus(moved))
    # entries are rounded to 2^-52 of the largest, as they have been by assembly
    assert np.abs(found - plain).max() <= 1e-13 * np.abs(plain).max()


def test_forces_sum_to_nothing_however_far_all_move(held: HeldSection) -> None:
    count = held.stiffness.shape[0]
    moved = 1e4 + np.random.default_rng(3).normal(size=(count, 1)) * 1e-6
    forces = exact_forces(held.stiffness)(still(count).plus(moved))[:, 0]
    plain = held.stiffness @ moved[:, 0]
    sums, plain_sums = (np.abs(f.reshape(-1, 2).sum(axis=0)).max() for f in (forces, plain))
    assert sums <= 1e-12 * np.abs(forces).max()
    assert plain_sums > 1e-6 * np.abs(forces).max()  # which double precision does not give


def test_what_a_large_movement_cannot_hold_is_kept() -> None:
    # 1e6 and 1e-20 are 86 bits apart; extended precision has 64
    both = still(2).plus(np.array([[1e6], [0.0]])).plus(np.array([[1e-20], [0.0]]))
    assert both.large[0, 0] == 1e6
    assert float(both.small[0, 0]) == 1e-20
