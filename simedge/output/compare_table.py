"""A comparison in a terminal: the answer first, then one table, the largest margin first."""

from __future__ import annotations

from math import isinf

from rich.console import Console

from simedge.output.result_json import CAUTION
from simedge.output.shown_errors import shown_with_error
from simedge.output.terminal import plain_table, print_warnings
from simedge.output.verdict_rows import shown_span
from simedge.runs.shown_words import shown_length
from simedge.runs.verdict_sentence import VERBS
from simedge.studies.compare import ComparedKnife, Comparison
from simedge.studies.compare_sentence import compare_sentences, limiting_loads, shown_place
from simedge.studies.compare_warnings import assumptions, told_warnings
from simedge.studies.margin_band import places

#: Letters of a word that a narrow column still holds in one piece.
LONGEST_WORD = 12


def print_compare(study: Comparison, out: Console) -> None:
    """Print a comparison.

    Parameters
    ----------
    study : Comparison
    out : Console
    """
    out.print(compare_sentences(study))
    out.print()
    several = len(set(limiting_loads(study))) > 1  # else the sentence has named the one
    behind = any(k.run.measures.thickness_behind_edge_mm is not None for k in study.knives)
    damaged = not all(knife.run.comes_through for knife in study.knives)
    table = plain_table(
        "place",
        "knife",
        "gives first",
        "× this work",
        *(["under"] if several else []),
        "stiffness",
        *(["behind\nedge"] if behind else []),
        f"at\n{shown_length(study.deepest_mm)}",
        *(["damage"] if damaged else []),
    )
    for knife, place in zip(study.knives, places(study.margins), strict=True):
        cells = [shown_place(place), knife.name, *_margin(knife)]
        if several:
            cells.append("" if knife.governing is None else knife.governing[0].name)
        cells.append(_stiffness(knife))
        if behind:
            cells.append(_length(knife.run.measures.thickness_behind_edge_mm))
        cells.append(_length(knife.thickness_at_deepest_mm))
        if damaged:
            cells.append(_damage(knife))
        table.add_row(*cells)
    for column in table.columns:
        if column.header in ("knife", "gives first", "under"):
            words = [word for cell in column.cells for word in str(cell).split()]
            column.min_width = min(max(map(len, words), default=0), LONGEST_WORD)
        else:  # a number stays on one line with its spread or its unit
            column.no_wrap = True
    out.print(table)
    for unsolved in study.unsolved:
        out.print(f"{unsolved.name}: not solved: {unsolved.reason}")
    print_warnings(told_warnings(study), out)
    out.print()
    out.print(assumptions(study))
    out.print(CAUTION)


def _margin(knife: ComparedKnife) -> tuple[str, str]:
    """Name what gives first, and at how many times the work."""
    if knife.governing is None:
        return "nothing acts", ""
    verdict = knife.governing[1]
    if isinf(verdict.margin):
        return "nothing", "never"
    kinds = (verdict.governing_kind, *verdict.near_kinds)
    return " or ".join(VERBS[kind] for kind in kinds), shown_span(verdict.governing)


def _stiffness(knife: ComparedKnife) -> str:
    value, error = knife.stiffness.stiffness_n_per_mm2, knife.stiffness.error_n_per_mm2
    return "none: sharp" if value is None or error is None else shown_with_error(value, error)


def _length(length_mm: float | None) -> str:
    return "not told" if length_mm is None else shown_length(length_mm)


def _damage(knife: ComparedKnife) -> str:
    verdict = knife.deepest_damage
    if verdict is None:
        return ""
    if verdict.recession.beyond:
        return "all of it"
    return shown_length(verdict.recession.depth_mm)
