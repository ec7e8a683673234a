"""The files of a map of micro-bevels."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from simedge.output.result_json import CAUTION, case_json
from simedge.output.study_files import Cell, csv_text, study_text, write_study
from simedge.output.verdict_json import finite, load_factors_by_kind
from simedge.runs.quick import QuickLoad, QuickRun
from simedge.strength.load_factors import KINDS
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


def _told(load: QuickLoad) -> tuple[Cell, ...]:
    """Give one load's cells: what gives first, first yield, and each kind."""
    kinds = [load.factors.of(kind) for kind in KINDS]
    factors = [None if factor is None else factor.value for factor in kinds]
    return (load.name, load.margin, load.governing_kind, load.first_yield, *factors)


def micro_bevel_csv(study: MicroBevelStudy) -> str:
    """Give a map as CSV, a line a micro-bevel and load."""
    columns = (
        *("dps", "height_mm", "load", "load_factor", "kind", "first_yield_load_factor"),
        *(f"{kind}_load_factor" for kind in KINDS),
        *("thickness_in_cut_mm", "wedge_resistance_mm", "stiffness_n_per_mm2"),
        *("metal_mm2", "renewals"),
    )
    rows: list[tuple[Cell, ...]] = []
    for load in study.base.loads:
        slim = study.base_slimness
        told = _told(load)
        sizes = (slim.thickness_in_cut_mm, slim.wedge_resistance_mm, slim.stiffness_n_per_mm2)
        rows.append((None, 0.0, *told, *sizes, 0.0, None))
    for design in study.feasible:
        slim = design.slimness
        sizes = (slim.thickness_in_cut_mm, slim.wedge_resistance_mm, slim.stiffness_n_per_mm2)
        for load in design.run.loads:
            told = _told(load)
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
