"""The files and the tables of a map of micro-bevels."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rich.console import Console
from rich.text import Text

from simedge.output.result_json import CAUTION, case_json
from simedge.output.study_files import Cell, csv_text, study_text, write_study
from simedge.output.terminal import plain_table
from simedge.output.verdict_json import finite, load_factors_by_kind
from simedge.runs.quick import QuickLoad, QuickRun
from simedge.runs.shown_words import LARGEST_FACTOR, shown_factor, shown_length
from simedge.runs.verdict_sentence import VERBS
from simedge.studies.micro_bevel_answer import MicroBevelStudy, MicroDesign, Slimness
from simedge.studies.micro_bevel_sentence import micro_bevel_remarks, micro_bevel_sentence

STEM = "micro-bevel"


def _slimness(slimness: Slimness) -> dict[str, Any]:
    return {
        "thickness_in_cut_mm": slimness.thickness_in_cut_mm,
        "wedge_resistance_mm": slimness.wedge_resistance_mm,
        "stiffness_n_per_mm2": slimness.stiffness_n_per_mm2,
    }


def _run(run: QuickRun) -> dict[str, Any]:
    return {
        "margin": finite(run.margin),
        "loads": [
            {
                "name": load.name,
                "margin": finite(load.margin),
                "governing_kind": load.governing_kind,
                "first_yield": finite(load.first_yield),
                "load_factors": load_factors_by_kind(load.factors),
            }
            for load in run.loads
        ],
    }


def _design(design: MicroDesign) -> dict[str, Any]:
    return {
        "dps": design.dps,
        "height_mm": design.height_mm,
        **_run(design.run),
        **_slimness(design.slimness),
        "metal_mm2": design.metal_mm2,
        "renewals": design.renewals,
    }


def micro_bevel_text(study: MicroBevelStudy) -> str:
    """Give a map as JSON text."""
    checked = study.checked
    return study_text(
        {
            "sentence": micro_bevel_sentence(study),
            "remarks": list(micro_bevel_remarks(study)),
            "caution": CAUTION,
            "measure": "margin of the verdict, the smallest of all loads",
            "asked_margin": study.asked_margin,
            "depth_in_cut_mm": study.depth_mm,
            "friction": study.friction,
            "inputs": case_json(study.case),
            "without": {**_run(study.base), **_slimness(study.base_slimness)},
            "named": None if study.named is None else _design(study.named),
            "named_by_a_whole_run": None
            if checked is None
            else [{"name": answer.name, "sentence": answer.sentence} for answer in checked.loads],
            "designs": [_design(design) for design in study.feasible],
        }
    )


def micro_bevel_csv(study: MicroBevelStudy) -> str:
    """Give a map as CSV, a line a micro-bevel and load."""
    columns = (
        *("dps", "height_mm", "load", "load_factor", "kind", "first_yield_load_factor"),
        *("thickness_in_cut_mm", "wedge_resistance_mm", "stiffness_n_per_mm2"),
        *("metal_mm2", "renewals"),
    )
    rows: list[tuple[Cell, ...]] = []
    for load in study.base.loads:
        slim = study.base_slimness
        told = (load.name, load.margin, load.governing_kind, load.first_yield)
        sizes = (slim.thickness_in_cut_mm, slim.wedge_resistance_mm, slim.stiffness_n_per_mm2)
        rows.append((None, 0.0, *told, *sizes, 0.0, None))
    for design in study.feasible:
        slim = design.slimness
        sizes = (slim.thickness_in_cut_mm, slim.wedge_resistance_mm, slim.stiffness_n_per_mm2)
        for load in design.run.loads:
            told = (load.name, load.margin, load.governing_kind, load.first_yield)
            own = (design.metal_mm2, float(design.renewals))
            rows.append((design.dps, design.height_mm, *told, *sizes, *own))
    return csv_text(columns, rows)


def write_micro_bevel(study: MicroBevelStudy, folder: Path) -> tuple[Path, ...]:
    """Write all files of a map; parameters and errors as of `write_study`."""
    from simedge.output.micro_bevel_plot import draw_micro_bevel

    return write_study(
        folder,
        STEM,
        document=micro_bevel_text(study),
        table=micro_bevel_csv(study),
        figure=draw_micro_bevel(study),
    )


def print_micro_bevel(study: MicroBevelStudy, out: Console) -> None:
    """Print a map: sentence, what it takes under each load, and over height."""
    out.print(micro_bevel_sentence(study))
    named = study.named
    if named is not None:
        out.print()
        out.print(Text("times this work", style="bold"))
        _print_loads(study, named, out)
        out.print()
        out.print(Text(f"{named.dps:.3g} per side, by height", style="bold"))
        _print_heights(study, named, out)
    for remark in micro_bevel_remarks(study):
        out.print(Text.assemble(("mind: ", "bold"), remark))
    out.print()
    out.print(
        "Judged by the margin of the verdict, without a mesh; what the answer names is run as a "
        "whole. Thicker and harder to push: a straight cut down to "
        f"{shown_length(study.depth_mm)}, friction {study.friction:.2g}, in closed form. Metal: "
        "of the section, to be ground away. Renewals: how often the tolerated "
        f"{study.case.tolerated_damage_um:g} µm can be ground out until the micro-bevel is twice "
        "as tall (common practice). Stiffness: sideways at the apex, on local wedges."
    )
    out.print(CAUTION)


def _print_loads(study: MicroBevelStudy, named: MicroDesign, out: Console) -> None:
    table = plain_table("", "without", "", "with", "", "by a whole run")
    checked = {a.name: a.verdict for a in study.checked.loads} if study.checked else {}
    for before, after in zip(study.base.loads, named.run.loads, strict=True):
        verdict = checked.get(after.name)
        whole = shown_factor(verdict.margin) if verdict is not None else ""
        table.add_row(
            before.name,
            shown_factor(before.margin),
            _kind(before),
            shown_factor(after.margin),
            _kind(after),
            whole,
        )
    out.print(table)


def _kind(load: QuickLoad) -> str:
    """Say what gives first, where anything does."""
    return VERBS[load.governing_kind] if load.margin <= LARGEST_FACTOR else ""


def _print_heights(study: MicroBevelStudy, named: MicroDesign, out: Console) -> None:
    columns = ("height", "margin", "first yield", "stiffness", "in the cut", "push", "metal")
    table = plain_table(*columns, "renewals")
    base, slim = study.base, study.base_slimness
    table.add_row(
        "none",
        shown_factor(base.margin),
        shown_factor(base.governing.first_yield),
        "1",
        f"{slim.thickness_in_cut_mm:.3g} mm",
        "1",
        "",
        "",
    )
    row = [design for design in study.feasible if design.dps == named.dps]
    if named not in row:
        row = sorted([*row, named], key=lambda design: design.height_mm)
    for design in row:
        own = design.slimness
        stiffer = (
            "-"
            if own.stiffness_n_per_mm2 is None or slim.stiffness_n_per_mm2 is None
            else f"{own.stiffness_n_per_mm2 / slim.stiffness_n_per_mm2:.3g}"
        )
        table.add_row(
            shown_length(design.height_mm),
            shown_factor(design.margin),
            shown_factor(design.run.governing.first_yield),
            stiffer,
            f"{own.thickness_in_cut_mm:.3g} mm",
            f"{own.wedge_resistance_mm / slim.wedge_resistance_mm:.3g}",
            f"{design.metal_mm2:.2g} mm²",
            str(design.renewals),
        )
    out.print(table)
