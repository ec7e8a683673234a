"""The files and the table of a case's work, straighter and more crooked."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rich.console import Console
from rich.text import Text

from simedge.output.result_json import CAUTION, case_json
from simedge.output.study_files import Cell, csv_text, study_text, write_study
from simedge.output.terminal import plain_table
from simedge.output.verdict_json import finite, load_factors_by_kind
from simedge.output.verdict_rows import shown_span
from simedge.runs.shown_words import shown_factor
from simedge.runs.verdict_sentence import VERBS
from simedge.studies.steady_hand import SteadyHandStudy
from simedge.studies.steady_hand_sentence import (
    crooked_words,
    degrees_off,
    shown_force,
    steady_hand_sentences,
)
from simedge.studies.steered_load import LoadSteered, Ray

STEM = "steady-hand"


def steady_hand_text(study: SteadyHandStudy) -> str:
    """Give a study as JSON text."""
    return study_text(
        {
            "sentences": list(steady_hand_sentences(study)),
            "caution": CAUTION,
            "warnings": list(study.remarks),
            "judged_by": "load factor at the tolerated damage, smallest of the kinds, no mesh",
            "inputs": case_json(study.case),
            "loads": [_load_json(load) for load in study.loads],
        }
    )


def _load_json(load: LoadSteered) -> dict[str, Any]:
    return {
        "name": load.name,
        "crookedness_is": "degrees off straight / 90" if load.by_angle else "share of one face",
        "own_crookedness": load.own.crookedness,
        "comes_through_up_to_crookedness": load.holds_up_to,
        "rays": [_ray_json(load, ray) for ray in load.rays],
    }


def _ray_json(load: LoadSteered, ray: Ray) -> dict[str, Any]:
    return {
        "crookedness": ray.crookedness,
        "degrees_off_straight": degrees_off(ray) if load.by_angle else None,
        "straight_n_per_mm": ray.straight_n_per_mm,
        "sideways_n_per_mm": ray.sideways_n_per_mm,
        "load_factor": {
            "value": finite(ray.margin),
            "low": finite(ray.low),
            "high": finite(ray.high),
        },
        "governing_kind": ray.kind,
        "first_yield": finite(ray.first_yield),
        **load_factors_by_kind(ray.factors),
    }


def steady_hand_csv(study: SteadyHandStudy) -> str:
    """Give a study as CSV, a line a load and crookedness."""
    rows: list[tuple[Cell, ...]] = [
        (
            load.name,
            ray.crookedness,
            degrees_off(ray) if load.by_angle else None,
            ray is load.own,
            ray.straight_n_per_mm,
            ray.sideways_n_per_mm,
            ray.margin,
            ray.low,
            ray.high,
            ray.kind,
            ray.first_yield,
        )
        for load in study.loads
        for ray in load.rays
    ]
    columns = (
        "load",
        "crookedness",
        "degrees_off_straight",
        "as_it_is",
        "straight_n_per_mm",
        "sideways_n_per_mm",
        "load_factor",
        "low",
        "high",
        "kind",
        "first_yield",
    )
    return csv_text(columns, rows)


def write_steady_hand(study: SteadyHandStudy, folder: Path) -> tuple[Path, ...]:
    """Write all files of a study; parameters and errors as of `write_study`."""
    from simedge.output.steady_hand_plot import draw_steady_hand

    return write_study(
        folder,
        STEM,
        document=steady_hand_text(study),
        table=steady_hand_csv(study),
        figure=draw_steady_hand(study),
    )


def print_steady_hand(study: SteadyHandStudy, out: Console) -> None:
    """Print a study: sentences first, then a table a load."""
    for load, sentence in zip(study.loads, steady_hand_sentences(study), strict=True):
        out.print(Text.assemble((f"{load.name}:", "bold"), sentence.removeprefix(f"{load.name}:")))
    for load in study.loads:
        out.print()
        out.print(Text(load.name, style="bold"))
        table = plain_table(
            "how crooked",
            "N/mm in",
            "N/mm sideways",
            "takes (weak to strong end)",
            "first",
            "yields at",
        )
        shown = {
            ray.crookedness: ray for ray in (load.straight, load.eased, load.own, load.crooked)
        }
        for ray in (shown[crookedness] for crookedness in sorted(shown)):
            words = crooked_words(load, ray)
            table.add_row(
                f"{words}, as it is" if ray is load.own else words,
                shown_force(ray.straight_n_per_mm),
                shown_force(ray.sideways_n_per_mm),
                shown_span(ray.factors.of(ray.kind)),
                VERBS[ray.kind],
                shown_factor(ray.first_yield),
            )
        out.print(table)
    for remark in study.remarks:
        out.print(Text.assemble(("mind: ", "bold"), remark))
    out.print()
    out.print(
        "Times this work, judged without a mesh for an edge cut back by the tolerated "
        f"{study.case.tolerated_damage_um:g} µm: within 1 % of a run where it rolls or blunts, a "
        "few per cent where a chip starts at a shoulder. Half the twist: half of the work "
        "straight, half with one face alone pressed, each as far as the hand reaches; forces on "
        "the tip and hard objects turn and stay as large."
    )
    out.print(CAUTION)
