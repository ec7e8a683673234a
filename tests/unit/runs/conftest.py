"""A small run of any loads on any edge, and what must hold between its answers."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from simedge import run_case
from simedge.inputs.case import Case, Support
from simedge.inputs.load import Load
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile
from simedge.inputs.steel import Steel
from simedge.runs.answer import IN_MEMORY, LoadAnswer
from simedge.runs.run import Run

Runner = Callable[..., Run]
Checker = Callable[[Run], None]
Teller = Callable[[LoadAnswer], dict[str, float]]

ROPE_KNIFE = Profile(
    height_mm=28.0,
    spine_thickness_mm=3.2,
    apex=Apex(radius_um=1.5),
    bevels=(
        Bevel(name="micro-bevel", dps=15.0, height_mm=0.08),
        Bevel(name="edge bevel", dps=11.0, ends_at_thickness_mm=0.45),
    ),
    primary_grind=PrimaryGrind(),
)
STEEL = Steel(grade="52100", hardness_hrc=60.0)


def _run(
    *loads: Load,
    profile: Profile = ROPE_KNIFE,
    clamp_mm: float | None = 12.0,
    accuracy_percent: float = 3.0,
    steel: Steel = STEEL,
    **changes: Any,
) -> Run:
    return run_case(
        Case(
            profile=replace(profile, **changes),
            steel=steel,
            support=Support(clamp_depth_mm=clamp_mm),
            accuracy_percent=accuracy_percent,
            loads=loads,
        )
    )


def numbers(value: Any, path: str = "") -> list[tuple[str, float]]:
    """Give every number of an answer that is written to a file, with its name."""
    if is_dataclass(value) and not isinstance(value, type):
        inner = {f.name: getattr(value, f.name) for f in fields(value) if f.name not in IN_MEMORY}
        return [pair for key, each in inner.items() for pair in numbers(each, f"{path}.{key}")]
    if isinstance(value, tuple | list):
        return [
            pair for index, each in enumerate(value) for pair in numbers(each, f"{path}[{index}]")
        ]
    return [(path, value)] if isinstance(value, float) else []


def _check_verdict(answer: LoadAnswer) -> None:
    """Check what must hold within any verdict."""
    verdict = answer.verdict
    assert (verdict is None) == answer.nothing_left
    if verdict is None:
        return
    judged = verdict.factors.judged
    assert verdict.margin == min(factor.value for factor in judged.values())
    assert verdict.comes_through == (verdict.margin >= 1.0)
    for factor in judged.values():
        assert 0.0 <= factor.low <= factor.value <= factor.high
    assert verdict.governing_kind not in verdict.near_kinds
    if not verdict.recession.beyond and verdict.comes_through:
        # what is tolerated suffices, so that no more is lost
        assert verdict.recession.depth_mm <= verdict.tolerated_damage_um / 1000.0 * (1 + 1e-6)


def _check_consistent(found: Run) -> None:
    """Check what must hold between the answers of any run."""
    strength = found.steel.yield_strength_mpa
    for answer in found.loads:
        told = numbers(answer)
        assert len(told) > 8
        endless = [name for name, number in told if not math.isfinite(number)]
        assert [name for name in endless if not name.startswith(".verdict.")] == []
        assert not any(math.isnan(number) for _, number in told)
        _check_verdict(answer)
        peak, factor = answer.section_peak_von_mises_mpa, answer.first_yield_load_factor
        assert (peak is None) == (factor is None)
        if peak is not None and factor is not None:
            assert factor == pytest.approx(strength / peak, rel=1e-12)
            low, high = answer.first_yield_load_factor_low, answer.first_yield_load_factor_high
            assert low is not None
            assert high is not None
            assert low <= factor <= high
            assert low * peak == pytest.approx(found.steel.yield_low_mpa, rel=1e-12)
            assert (answer.first_yield_x_mm, answer.first_yield_y_mm) == (
                answer.section_peak_x_mm,
                answer.section_peak_y_mm,
            )
            # whatever the section says of yield, the yielded region says too
            assert (factor > 1 or answer.yield_depth_mm > 0) or factor == pytest.approx(1)
        if answer.patch_peak_von_mises_mpa is not None:
            assert answer.patch_first_yield_load_factor == pytest.approx(
                strength / answer.patch_peak_von_mises_mpa, rel=1e-12
            )
        assert (answer.yield_depth_mm == 0) == (answer.yielded_stretches_mm == ())
        assert (answer.yield_depth_y_mm is None) == (answer.yield_depth_mm == 0)
        if answer.yielded_stretches_mm:
            assert answer.yielded_stretches_mm[-1][1] == answer.yield_depth_mm
            assert all(begin <= end for begin, end in answer.yielded_stretches_mm)
        if answer.through_yield_depth_mm is not None:
            assert 0 < answer.through_yield_depth_mm <= answer.yield_depth_mm
        if answer.contact_ratio is not None:
            assert answer.contact_length_mm is not None
            assert answer.contact_ratio * answer.yield_depth_mm == pytest.approx(
                answer.contact_length_mm
            )
        assert answer.residual <= 1e-9
        assert answer.reaction_error <= 1e-9
        assert answer.sentence.endswith(".")
        for beside in answer.closed_form:
            computed = getattr(answer, beside.quantity)
            if beside.ratio is not None:
                assert beside.ratio * beside.value == pytest.approx(computed, rel=1e-12)


def _answers_of(answer: LoadAnswer) -> dict[str, float]:
    """Give an answer's own elastic numbers, without balance and closed forms."""
    own = replace(answer, closed_form=(), verdict=None, residual=0.0, reaction_error=0.0)
    return dict(numbers(own))


@pytest.fixture
def run() -> Runner:
    """Run loads on a knife much like the library's rope knife, coarsely."""
    return _run


@pytest.fixture
def check_consistent() -> Checker:
    """Check what must hold between the answers of any run."""
    return _check_consistent


@pytest.fixture
def answers_of() -> Teller:
    """Give an answer's own numbers by their names."""
    return _answers_of
