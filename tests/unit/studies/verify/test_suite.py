"""The suite: which checks are run, and what becomes of one that fails, raises, or says nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from simedge.errors import BadInput, NumericsFailed, SystemLibraryMissing
from simedge.studies.verify import suite
from simedge.studies.verify.check import Check, Comparison
from simedge.studies.verify.suite import (
    CHECKS,
    chosen_checks,
    run_check,
    run_checks,
    verify_sentence,
)


def compared(computed: float, what: str = "depth") -> Comparison:
    return Comparison(what=what, computed=computed, reference=1.0, unit="mm", tolerance=0.1)


def check_of(key: str, compare: Callable[[], tuple[Comparison, ...]]) -> Check:
    return Check(key=key, title=key, source="by hand", reason="None.", compare=compare)


GOOD = check_of("good", lambda: (compared(1.0), compared(1.05, "worst")))
BAD = check_of("bad", lambda: (compared(1.0), compared(1.2)))


def raising(error: Exception) -> Check:
    def compare() -> tuple[Comparison, ...]:
        raise error

    return check_of("raising", compare)


def test_a_check_holds_with_all_its_comparisons() -> None:
    good, bad = run_check(GOOD), run_check(BAD)
    assert (good.holds, good.verdict) == (True, "holds")
    assert (bad.holds, bad.verdict) == (False, "fails")
    assert good.worst is not None
    assert good.worst.what == "worst"
    assert good.seconds >= 0.0


@pytest.mark.parametrize("error", [NumericsFailed("no balance"), ZeroDivisionError("by zero")])
def test_a_check_that_raises_has_failed(error: Exception) -> None:
    result = run_check(raising(error))
    assert not result.holds
    assert result.broken == f"{type(error).__name__}: {error}"
    assert result.worst is None


def test_a_check_that_compares_nothing_has_failed() -> None:
    result = run_check(check_of("silent", lambda: ()))
    assert not result.holds
    assert result.broken == "it compared nothing"


def test_a_missing_library_is_the_machines_fault() -> None:
    with pytest.raises(SystemLibraryMissing):
        run_check(raising(SystemLibraryMissing("libGLU")))


def test_one_that_raises_does_not_stop_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(suite, "CHECKS", (raising(ValueError("x")), GOOD))
    told: list[tuple[int, int, str]] = []
    results = run_checks(progress=lambda number, of, check: told.append((number, of, check.key)))
    assert [result.verdict for result in results] == ["fails", "holds"]
    assert told == [(1, 2, "raising"), (2, 2, "good")]


def test_checks_are_run_once_in_the_suites_order() -> None:
    first, second = CHECKS[0].key, CHECKS[1].key
    assert chosen_checks([second, first, second]) == CHECKS[:2]
    assert chosen_checks(None) == CHECKS


def test_unknown_keys_are_all_told_with_their_nearest() -> None:
    with pytest.raises(BadInput) as caught:
        chosen_checks(["wedge-constant", CHECKS[0].key, "zzz"])
    first, second = caught.value.problems
    assert 'did you mean "wedge-constants"?' in first.message
    assert 'see "simedge verify --list"' in second.message


def test_the_sentence_counts() -> None:
    good, bad = run_check(GOOD), run_check(BAD)
    assert verify_sentence((good,)).startswith("The check holds: 2 numbers lie")
    assert verify_sentence((good, good)).startswith("All 2 checks hold: 4 numbers lie")
    assert verify_sentence((good, bad)) == "1 of 2 checks fails: bad."
    assert verify_sentence((bad,)) == "1 of 1 check fails: bad."
    many = tuple(replace(bad, check=replace(BAD, key=f"k{n}")) for n in range(7))
    assert verify_sentence(many) == "7 of 7 checks fail: k0, k1, k2, k3, k4 and 2 more."
