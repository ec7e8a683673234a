"""Checks in a terminal: the sentence first, then one line a check."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.console import Console

from simedge.output.terminal import plain_table
from simedge.output.verify_words import (
    shown_difference,
    shown_number,
    shown_seconds,
    shown_tolerance,
    with_unit,
)
from simedge.studies.verify.check import Check
from simedge.studies.verify.suite import CheckResult, verify_sentence


def print_results(results: tuple[CheckResult, ...], out: Console) -> None:
    """Print what checks came to: each by the number that comes nearest to its tolerance."""
    out.print(verify_sentence(results))
    out.print()
    table = plain_table("check", "numbers", "worst difference", "allowed", "verdict", "took")
    for result in results:
        worst = result.worst
        table.add_row(
            result.check.key,
            str(len(result.comparisons)),
            shown_difference(worst) if worst else "none",
            shown_tolerance(worst) if worst else "",
            result.verdict if result.holds else "FAILS",
            shown_seconds(result.seconds),
        )
    out.print(table)
    for result in results:
        if not result.holds:
            _print_failure(result, out)
    out.print()
    out.print(
        "The worst difference is that of the number nearest to what its check allows, computed "
        "less reference; a percentage is of the reference, or of the stress that its check "
        "names. Sources, all numbers and the reason for each tolerance: --out FOLDER."
    )


def _print_failure(result: CheckResult, out: Console) -> None:
    out.print()
    out.print(f"{result.check.key} fails: {result.check.title}")
    if result.broken is not None:
        out.print(f"  stopped by {result.broken}")
    for each in result.comparisons:
        if not each.holds:
            computed, reference = (
                with_unit(shown_number(value), each.unit)
                for value in (each.computed, each.reference)
            )
            out.print(
                f"  {each.what}: computed {computed}, reference {reference}, "
                f"difference {shown_difference(each)}, allowed {shown_tolerance(each)}"
            )


def print_list(checks: Sequence[Check], out: Console) -> None:
    """Print which checks there are, with their sources."""
    out.print(f'{len(checks)} checks; run one with "simedge verify KEY", all without a KEY.')
    out.print()
    table = plain_table("key", "what, and after whom")
    for check in checks:
        table.add_row(check.key, f"{check.title} [{_first(check.source.split(';'))}]")
    out.print(table)


def _first(parts: Iterable[str]) -> str:
    return next(iter(parts)).strip()
