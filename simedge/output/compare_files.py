"""The files of a comparison: JSON for programs, CSV for spreadsheets, and the picture."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from simedge.inputs.cross_section import CrossSection
from simedge.output.result_json import CAUTION, case_json
from simedge.output.study_files import Cell, csv_text, study_text, write_study
from simedge.output.verdict_json import finite, verdict_json
from simedge.studies.compare import ComparedKnife, Comparison
from simedge.studies.compare_sentence import compare_sentences
from simedge.studies.compare_warnings import assumptions, every_warning
from simedge.studies.margin_band import MarginBand, alike, places

STEM = "compare"
_PROFILE: TypeAdapter[Any] = TypeAdapter(CrossSection)


def _numbers(knife: ComparedKnife, place: tuple[int, int], margin: MarginBand) -> dict[str, Cell]:
    """Give what the table has of a knife, in the order of its columns."""
    governing, damage = knife.governing, knife.deepest_damage
    factor = None if governing is None else governing[1].governing
    return {
        "place_best": place[0],
        "place_worst": place[1],
        "knife": knife.name,
        "comes_through": knife.run.comes_through,
        "sure": knife.sure,
        "margin": finite(margin.value),
        "margin_low": None if factor is None else finite(factor.low),
        "margin_high": None if factor is None else finite(factor.high),
        "ranked_from": finite(margin.low),
        "ranked_to": finite(margin.high),
        "governing_load": None if governing is None else governing[0].name,
        "governing_kind": None if governing is None else governing[1].governing_kind,
        "apex_stiffness_n_per_mm2": knife.stiffness.stiffness_n_per_mm2,
        "apex_stiffness_n_per_mm2_error": knife.stiffness.error_n_per_mm2,
        "held_at_mm": knife.run.outline.depth_mm,
        "thickness_behind_edge_mm": knife.run.measures.thickness_behind_edge_mm,
        "thickness_at_deepest_mm": knife.thickness_at_deepest_mm,
        "damage_depth_mm": None if damage is None else damage.recession.depth_mm,
        "damage_beyond_clamp": None if damage is None else damage.recession.beyond,
    }


def _rows(study: Comparison) -> list[dict[str, Cell]]:
    margins = study.margins
    return [
        _numbers(knife, place, margin)
        for knife, place, margin in zip(study.knives, places(margins), margins, strict=True)
    ]


def compare_text(study: Comparison) -> str:
    """Give a comparison as JSON text: knives by margin, each with its verdicts load by load."""
    margins = study.margins
    knives = [
        {
            **row,
            "loads": [
                {"name": answer.name, "sentence": answer.sentence, **verdict_json(answer)}
                for answer in knife.run.loads
            ],
            "profile": _PROFILE.dump_python(knife.run.case.profile, mode="json", exclude_none=True),
        }
        for knife, row in zip(study.knives, _rows(study), strict=True)
    ]
    return study_text(
        {
            "sentences": compare_sentences(study),
            "caution": CAUTION,
            "assumptions": assumptions(study),
            "warnings": every_warning(study),
            "inputs": case_json(study.case),
            "deepest_mm": study.deepest_mm,
            "as_good_as_each_other": [
                [study.knives[number].name for number in group] for group in alike(margins)
            ],
            "knives": knives,
            "not_solved": [
                {"knife": knife.name, "reason": knife.reason} for knife in study.unsolved
            ],
        }
    )


def compare_csv(study: Comparison) -> str:
    """Give a comparison as CSV, a line a knife, the largest margin first."""
    rows = _rows(study)
    return csv_text(list(rows[0]), [list(row.values()) for row in rows])


def write_compare(study: Comparison, folder: Path, load: int | None = None) -> tuple[Path, ...]:
    """Write all files of a comparison.

    Parameters
    ----------
    study : Comparison
    folder : Path
        From `simedge.output.answer_folder.prepare_folder`.
    load : int or None
        Which to picture; None stands for the one that is hardest on the first knife.

    Returns
    -------
    tuple of Path
        The picture first, then the other files.
    """
    from simedge.output.compare_plot import draw_compare

    return write_study(
        folder,
        STEM,
        document=compare_text(study),
        table=compare_csv(study),
        figure=draw_compare(study, load),
    )
