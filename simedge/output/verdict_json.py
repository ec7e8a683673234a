"""The verdict on one load as plain data."""

from __future__ import annotations

from math import isfinite
from typing import Any

from simedge.runs.answer import LoadAnswer
from simedge.strength.load_factors import KINDS, KindFactor, LoadFactors

#: What a verdict says, all None where nothing is left of the load.
KEYS = (
    "verdict",
    "governing_kind",
    "near_kinds",
    "margin",
    "sure",
    "tolerated_damage_um",
    "damage_depth_mm",
    "damage_beyond_clamp",
    "fold_at_mm",
    "folds_to",
    "crack_at_mm",
    "crack_from",
    "crack_if_nothing_rubs",
    "blunted_land_um",
    "spread_along_edge",
)


def finite(value: float | None) -> float | None:
    """Give a number that JSON can hold; what never happens has none."""
    return value if value is not None and isfinite(value) else None


def factor_json(factor: KindFactor | None) -> dict[str, float | None] | None:
    """Give a factor with both ends of its band; None where its kind is not judged."""
    if factor is None:
        return None
    return {"value": finite(factor.value), "low": finite(factor.low), "high": finite(factor.high)}


def load_factors_by_kind(factors: LoadFactors) -> dict[str, Any]:
    """Give the factors of all kinds."""
    return {kind: factor_json(factors.of(kind)) for kind in KINDS}


def load_factors_json(answer: LoadAnswer) -> dict[str, Any]:
    """Give how many times the load each kind takes; None where it never comes or is not judged."""
    verdict = answer.verdict
    found: dict[str, Any] = {
        "first_yield": {
            "value": answer.first_yield_load_factor,
            "low": answer.first_yield_load_factor_low,
            "high": answer.first_yield_load_factor_high,
        }
    }
    return found | (
        dict.fromkeys(KINDS) if verdict is None else load_factors_by_kind(verdict.factors)
    )


def verdict_json(answer: LoadAnswer) -> dict[str, Any]:
    """Give a verdict under its names in ``result.json``."""
    verdict = answer.verdict
    if verdict is None:
        return {**dict.fromkeys(KEYS), "load_factors": load_factors_json(answer)}
    factors = verdict.factors
    values = (
        verdict.outcome.value,
        verdict.governing_kind,
        list(verdict.near_kinds),
        finite(verdict.margin),
        verdict.sure,
        verdict.tolerated_damage_um,
        verdict.recession.depth_mm,
        verdict.recession.beyond,
        factors.roll.x_mm,
        factors.roll.side,
        factors.chip.x_mm if factors.chip is not None else None,
        factors.chip.side if factors.chip is not None else None,
        factors.chip.frictionless if factors.chip is not None else None,
        verdict.blunted_land_um,
        factors.spread_at_fold,
    )
    return {**dict(zip(KEYS, values, strict=True)), "load_factors": load_factors_json(answer)}
