"""The files and the tables of a case in other steels."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from simedge.output.result_json import CAUTION, case_json
from simedge.output.study_files import Cell, csv_text, study_text, write_study
from simedge.output.terminal import plain_table
from simedge.output.verdict_json import finite, load_factors_by_kind
from simedge.output.verdict_rows import shown_span
from simedge.runs.verdict_sentence import VERBS
from simedge.strength.load_factors import KINDS, Kind
from simedge.studies.another_steel import AnotherSteelStudy, SteelAnswer
from simedge.studies.another_steel_sentence import (
    ANGLE,
    FEW,
    THICKNESS,
    another_steel_sentences,
    each_sentence,
    needed_cell,
)
from simedge.studies.same_survival import Needed

STEM = "another-steel"
ORDER: tuple[Kind, ...] = ("roll", "chip", "crumble", "blunt")


def another_steel_text(study: AnotherSteelStudy) -> str:
    """Give a study as JSON text."""
    return study_text(
        {
            "sentences": list(another_steel_sentences(study)),
            "sentences_by_steel": list(each_sentence(study)),
            "caution": CAUTION,
            "warnings": list(study.remarks),
            "judged_by": "load factor at the tolerated damage, smallest of kinds and loads",
            "inputs": case_json(study.case),
            "loads": list(study.load_names),
            "steels": [_steel_json(study, each) for each in study.ranked],
        }
    )


def _steel_json(study: AnotherSteelStudy, each: SteelAnswer) -> dict[str, Any]:
    return {
        "name": each.name,
        "grade": each.steel.name,
        "hardness_hrc": each.steel.hardness_hrc,
        "own": each is study.own,
        "place": each.place,
        "tied_with_own": each.tied,
        "load_factor": {
            "value": finite(each.span.value),
            "low": finite(each.span.low),
            "high": finite(each.span.high),
        },
        "governing_kind": each.kind,
        "governing_load": study.load_names[each.load],
        "loads": [load_factors_by_kind(factors) for factors in each.factors],
        "edge_dps_needed": _needed_json(each.degrees),
        "thickness_behind_edge_mm_needed": _needed_json(each.thickness),
    }


def _needed_json(needed: Needed | None) -> dict[str, Any] | None:
    if needed is None:
        return None
    return {
        "own": needed.own,
        "value": needed.value,
        "error": needed.error,
        "strong_end": needed.strong,
        "weak_end": needed.weak,
        "searched_from": needed.least,
        "searched_to": needed.most,
        "moves_the_margin": needed.matters,
    }


def another_steel_csv(study: AnotherSteelStudy) -> str:
    """Give a study as CSV, a line a steel, load and kind."""
    rows: list[tuple[Cell, ...]] = []
    for each in study.ranked:
        needs = [None if n is None else n.value for n in (each.degrees, each.thickness)]
        for name, factors in zip(study.load_names, each.factors, strict=True):
            for kind in KINDS:
                factor = factors.of(kind)
                if factor is not None:
                    values = (factor.value, factor.low, factor.high, factor.folds_first)
                    ranks = (each.place, each.tied)
                    rows.append((each.name, *ranks, name, kind, *values, *needs))
    columns = (
        "steel",
        "place",
        "tied_with_own",
        "load",
        "kind",
        "load_factor",
        "low",
        "high",
        "rolls_first",
        "edge_dps_needed",
        "thickness_behind_edge_mm_needed",
    )
    return csv_text(columns, rows)


def write_another_steel(study: AnotherSteelStudy, folder: Path) -> tuple[Path, ...]:
    """Write all files of a study; parameters and errors as of `write_study`."""
    from simedge.output.another_steel_plot import draw_another_steel

    return write_study(
        folder,
        STEM,
        document=another_steel_text(study),
        table=another_steel_csv(study),
        figure=draw_another_steel(study),
    )


def print_another_steel(study: AnotherSteelStudy, out: Console) -> None:
    """Print a study: sentences first, then all steels, then a few of them load by load."""
    for sentence in another_steel_sentences(study):
        out.print(sentence)
    out.print()
    out.print(_ranking(study))
    if len(study.others) <= FEW:
        for number, name in enumerate(study.load_names):
            out.print()
            out.print(Text(f"{name}, times this work (weak to strong end)", style="bold"))
            out.print(_by_kind(study, number))
    for remark in study.remarks:
        out.print(Text.assemble(("mind: ", "bold"), remark))
    out.print()
    out.print(
        "Each for an edge cut back by the tolerated damage. Steels in one place are not told "
        "apart by what is known of them: none surely takes more than another. To take as much "
        "as the case's own steel: bevels steeper or slimmer by that much, micro-bevel with edge "
        "bevel, the thickness behind them kept; or that thickness changed, the angles kept; "
        "searched without a mesh. Chips and crumbling are good to a factor of about 2."
    )
    out.print(CAUTION)


def _ranking(study: AnotherSteelStudy) -> Table:
    table = plain_table("place", "steel", "takes (weak to strong)", "first", "worst in")
    varied = any(each.degrees is not None or each.thickness is not None for each in study.others)
    if varied:
        table.add_column("to take as much, per side")
        table.add_column("or behind the edge")
    for each in study.ranked:
        own = each is study.own
        factor = each.factors[each.load].of(each.kind)
        cells = [
            f"{each.place}",
            each.name,
            shown_span(factor),
            VERBS[each.kind],
            study.load_names[each.load],
        ]
        if varied:
            cells += [
                "as it is" if own else needed_cell(needed, how)
                for needed, how in ((each.degrees, ANGLE), (each.thickness, THICKNESS))
            ]
        table.add_row(*cells, style="bold" if own else None)
    return table


def _by_kind(study: AnotherSteelStudy, number: int) -> Table:
    table = plain_table("steel", "rolls", "chips", "crumbles", "blunts")
    for each in study.ranked:
        cells = [shown_span(each.factors[number].of(kind)) for kind in ORDER]
        table.add_row(each.name, *cells)
    return table
