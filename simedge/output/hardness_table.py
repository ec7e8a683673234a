"""The table of a case over the hardness of its steel."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from simedge.output.result_json import CAUTION
from simedge.output.terminal import plain_table
from simedge.output.verdict_rows import shown_span
from simedge.studies.hardness_sentence import hardness_sentences
from simedge.studies.over_hardness import HardnessStudy

#: Hardnesses in the terminal's table, of those in the files.
SHOWN_EVERY_HRC = 1.0


def print_hardness(study: HardnessStudy, out: Console) -> None:
    """Print a study: sentences first, then a table a load."""
    for name, sentence in zip(study.load_names, hardness_sentences(study), strict=True):
        out.print(Text.assemble((f"{name}:", "bold"), sentence.removeprefix(f"{name}:")))
    for number, name in enumerate(study.load_names):
        out.print()
        out.print(Text(f"{name}, times this work (weak to strong end)", style="bold"))
        table = plain_table("HRC", "rolls", "chips", "crumbles", "blunts")
        for point in study.points:
            if point.hardness_hrc % SHOWN_EVERY_HRC and point.hardness_hrc != study.own_hrc:
                continue
            factors = point.factors[number]
            cells = [shown_span(factors.of(kind)) for kind in ("roll", "chip", "crumble", "blunt")]
            table.add_row(f"{point.hardness_hrc:g}", *cells)
        out.print(table)
    for remark in study.remarks:
        out.print(Text.assemble(("mind: ", "bold"), remark))
    out.print()
    out.print(
        "Each for an edge cut back by the tolerated damage. Toughness over hardness is derived "
        "from one grade, carbides are taken as the same; chips and crumbling are good to a factor "
        "of about 2."
    )
    out.print(CAUTION)
