"""Checks as one self-contained page, and as JSON beside it.

The same results give the same bytes: neither file says when it was made or how long it took.
"""

from __future__ import annotations

import json
from dataclasses import fields
from math import isfinite
from pathlib import Path
from typing import Any

from simedge import __version__
from simedge.output.answer_folder import put_files
from simedge.output.result_json import MADE_BY, SCHEMA_VERSION, library_versions, rounded_numbers
from simedge.output.verify_words import (
    shown_difference,
    shown_number,
    shown_tolerance,
    with_unit,
)
from simedge.studies.verify.check import Comparison
from simedge.studies.verify.suite import CheckResult, verify_sentence

PAGE, DOCUMENT = "verify.html", "verify.json"
VERIFY_FILES = (PAGE, DOCUMENT)


def report_html(results: tuple[CheckResult, ...]) -> str:
    """Give the page: no script, nothing from outside, readable in print and in the dark."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("simedge.output"),
        autoescape=True,
        undefined=StrictUndefined,
        keep_trailing_newline=True,
    )
    environment.filters["difference"] = shown_difference
    environment.filters["tolerance"] = shown_tolerance
    environment.filters["number"] = lambda value, unit: with_unit(shown_number(value), unit)
    return environment.get_template(PAGE).render(
        results=results,
        passed=sum(result.holds for result in results),
        sentence=verify_sentence(results),
        version=__version__,
    )


def _number(value: float) -> float | None:
    """Give a number that JSON knows."""
    return value if isfinite(value) else None


def _comparison(comparison: Comparison) -> dict[str, Any]:
    plain = {field.name: getattr(comparison, field.name) for field in fields(comparison)}
    for key in ("computed", "reference", "tolerance"):
        plain[key] = _number(plain[key])
    return {
        **plain,
        "difference": _number(comparison.difference),
        "verdict": "holds" if comparison.holds else "fails",
    }


def report_result(results: tuple[CheckResult, ...]) -> dict[str, Any]:
    """Give the checks as plain data.

    Returns
    -------
    dict
        ``checks`` in the order in which they were run. ``difference`` and ``tolerance`` are
        shares of the reference, or where ``absolute`` is set in the quantity's unit; None
        stands for no number.
    """
    document = rounded_numbers(
        {
            "schema_version": SCHEMA_VERSION,
            "made_by": MADE_BY,
            "library_versions": library_versions(),
            "sentence": verify_sentence(results),
            "verdict": "holds" if all(result.holds for result in results) else "fails",
            "checks": [
                {
                    "key": result.check.key,
                    "title": result.check.title,
                    "source": result.check.source,
                    "reason": result.check.reason,
                    "verdict": result.verdict,
                    "broken": result.broken,
                    "comparisons": [_comparison(each) for each in result.comparisons],
                }
                for result in results
            ],
        }
    )
    assert isinstance(document, dict)
    return document


def report_text(results: tuple[CheckResult, ...]) -> str:
    """Give the checks as JSON text that ends with a newline; NaN cannot get in."""
    document = report_result(results)
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def write_report(results: tuple[CheckResult, ...], folder: Path) -> tuple[Path, Path]:
    """Write the page and the JSON document.

    Parameters
    ----------
    results : tuple of CheckResult
    folder : Path
        From `simedge.output.answer_folder.prepare_folder`, for `VERIFY_FILES`.

    Returns
    -------
    (Path, Path)
        The page, the document.

    Raises
    ------
    NumericsFailed
        The disk refused to take them; an earlier report stays.
    """
    page, document = report_html(results), report_text(results)
    put_files(
        folder,
        {
            PAGE: lambda path: path.write_text(page, encoding="utf-8"),
            DOCUMENT: lambda path: path.write_text(document, encoding="utf-8"),
        },
    )
    return folder / PAGE, folder / DOCUMENT
