"""The files of a case over the hardness of its steel."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from simedge.output.result_json import CAUTION, case_json
from simedge.output.study_files import Cell, csv_text, study_text, write_study
from simedge.output.verdict_json import load_factors_by_kind
from simedge.strength.load_factors import KINDS
from simedge.studies.hardness_sentence import hardness_sentences
from simedge.studies.over_hardness import HardnessStudy

STEM = "hardness"


def hardness_text(study: HardnessStudy) -> str:
    """Give a study as JSON text: load factors by kind, load and hardness."""
    points: list[dict[str, Any]] = [
        {
            "hardness_hrc": point.hardness_hrc,
            "loads": [load_factors_by_kind(factors) for factors in point.factors],
        }
        for point in study.points
    ]
    return study_text(
        {
            "sentences": list(hardness_sentences(study)),
            "caution": CAUTION,
            "warnings": list(study.remarks),
            "inputs": case_json(study.run.case),
            "loads": list(study.load_names),
            "points": points,
        }
    )


def hardness_csv(study: HardnessStudy) -> str:
    """Give a study as CSV, a line a hardness, load and kind."""
    rows: list[tuple[Cell, ...]] = []
    for point in study.points:
        for name, factors in zip(study.load_names, point.factors, strict=True):
            for kind in KINDS:
                factor = factors.of(kind)
                if factor is not None:
                    values = (factor.value, factor.low, factor.high, factor.folds_first)
                    rows.append((point.hardness_hrc, name, kind, *values))
    columns = ("hardness_hrc", "load", "kind", "load_factor", "low", "high", "rolls_first")
    return csv_text(columns, rows)


def write_hardness(study: HardnessStudy, folder: Path) -> tuple[Path, ...]:
    """Write all files of a study; parameters and errors as of `write_study`."""
    from simedge.output.hardness_plot import draw_hardness

    return write_study(
        folder,
        STEM,
        document=hardness_text(study),
        table=hardness_csv(study),
        figure=draw_hardness(study),
    )
