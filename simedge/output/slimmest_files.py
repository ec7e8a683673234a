"""The files of how slim a knife may be."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from simedge.output.result_json import CAUTION, case_json
from simedge.output.study_files import Cell, csv_text, study_text, write_study
from simedge.output.verdict_json import finite
from simedge.studies.slimmest_answer import SlimmestStudy, SlimmestWay
from simedge.studies.slimmest_sentence import (
    slimmest_remarks,
    slimmest_sentences,
)

STEM = "slimmest"


def _way(way: SlimmestWay) -> dict[str, Any]:
    def neighbour(which: str) -> dict[str, Any] | None:
        found = getattr(way, which)
        if found is None:
            return None
        return {"value": found.value, "margin": finite(found.margin), "kind": found.kind}

    return {
        "measure": way.way.key,
        "unit": way.way.unit,
        "own": way.way.own,
        "slimmest": way.value,
        "slimmest_error": way.error,
        "band": None if way.band is None else list(way.band),
        "bound_of_the_search": way.found.by_bound,
        "stopped_by": way.quick.governing.governing_kind,
        "under": way.quick.governing.name,
        "thickness_in_cut_mm": way.thickness_in_cut_mm,
        "without_occasional": None
        if way.without_occasional is None
        else way.without_occasional.value,
        "less": neighbour("less"),
        "more": neighbour("more"),
        "looked": [
            {"value": value, "margin": finite(margin)} for value, margin in way.found.looked
        ],
        "whole_run": None
        if way.run is None
        else [{"name": a.name, "sentence": a.sentence} for a in way.run.loads],
    }


def slimmest_text(study: SlimmestStudy) -> str:
    """Give a study as JSON text."""
    pair = study.pair
    return study_text(
        {
            "sentences": list(slimmest_sentences(study)),
            "remarks": list(slimmest_remarks(study)),
            "caution": CAUTION,
            "judged_by": study.question.measure,
            "asked_margin": study.question.asked_margin,
            "tolerated_yield_depth_mm": study.question.tolerated_yield_depth_mm,
            "depth_in_cut_mm": study.depth_mm,
            "occasional": list(study.occasional),
            "inputs": case_json(study.case),
            "ways": [_way(way) for way in study.ways],
            "with_micro_bevel": None
            if pair is None
            else {
                "edge_dps": pair.edge_dps,
                "micro_dps": pair.micro_dps,
                "micro_height_mm": pair.micro_height_mm,
                "thickness_in_cut_mm": pair.thickness_in_cut_mm,
                "margin": finite(pair.quick.margin),
            },
        }
    )


def slimmest_csv(study: SlimmestStudy) -> str:
    """Give all that was looked at as CSV, a line a value."""
    rows: list[tuple[Cell, ...]] = [
        (way.way.key, way.way.unit, value, margin)
        for way in study.ways
        for value, margin in way.found.looked
    ]
    return csv_text(("measure", "unit", "value", "margin"), rows)


def write_slimmest(study: SlimmestStudy, folder: Path) -> tuple[Path, ...]:
    """Write all files of a study; parameters and errors as of `write_study`."""
    from simedge.output.slimmest_plot import draw_slimmest

    return write_study(
        folder,
        STEM,
        document=slimmest_text(study),
        table=slimmest_csv(study),
        figure=draw_slimmest(study),
    )
