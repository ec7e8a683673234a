"""The table of how slim a knife may be."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from simedge.output.result_json import CAUTION
from simedge.output.terminal import plain_table
from simedge.runs.shown_words import shown_length
from simedge.runs.verdict_sentence import NOUNS
from simedge.studies.slimmest_answer import SlimmestStudy
from simedge.studies.slimmest_sentence import (
    neighbour_words,
    shown_value,
    slimmest_remarks,
    slimmest_sentences,
)


def print_slimmest(study: SlimmestStudy, out: Console) -> None:
    """Print a study: sentences, then a table, a line a way."""
    for sentence in slimmest_sentences(study):
        out.print(sentence)
    out.print()
    thick = f"at {shown_length(study.depth_mm)}"
    table = plain_table("", "now", "slimmest", "stopped by", "a step less", "a step more", thick)
    for way in sorted(study.ways, key=lambda found: found.thickness_in_cut_mm):
        unit = way.way.unit
        value = "none" if way.value is None else shown_value(way.value, unit, way.error)
        stop = way.quick.governing
        by = "" if way.found.by_bound else f"{NOUNS[stop.governing_kind]}, {stop.name}"
        table.add_row(
            way.way.key,
            f"{way.way.own:.3g}",
            f"{value} or less" if way.found.by_bound else value,
            by if study.question.measure == "verdict" else study.question.measure,
            neighbour_words(way.less),
            neighbour_words(way.more),
            f"{way.thickness_in_cut_mm:.3g} mm",
        )
    out.print(table)
    for remark in slimmest_remarks(study):
        out.print(Text.assemble(("mind: ", "bold"), remark))
    out.print()
    out.print(
        "Each measure is made smaller alone, the others kept; ranked by thickness in the cut. The "
        "search goes without a mesh, its answer is run as a whole; after ± stands what the two "
        "differ by, in brackets what the steel's spread makes of it. A step shows times this work."
    )
    out.print(CAUTION)
