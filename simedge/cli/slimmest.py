"""``simedge slimmest``: the slimmest edge that comes through."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from simedge.cli.run import named_folder
from simedge.cli.study_answer import study_folder, tell_study

MEASURES = ("verdict", "first yield", "yield depth")


@click.command()
@click.argument("case")
@click.option("--margin", type=float, default=1.0, help="Times this work it has to take.  [1]")
@click.option(
    "--by", "measure", type=click.Choice(MEASURES), help="What it is judged by. [verdict]"
)
@click.option("--yield-depth-mm", type=float, help="Yield depth that is tolerated.")
@click.option("--at-mm", type=float, help="Depth by which slimness is told.  [of the cut]")
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
@click.option("--json", "as_json", is_flag=True, help="Print slimmest.json instead of the table.")
def slimmest(
    case: str,
    margin: float,
    measure: Literal["verdict", "first yield", "yield depth"] | None,
    yield_depth_mm: float | None,
    at_mm: float | None,
    folder: Path | None,
    as_json: bool,
) -> None:
    """Say how slim the knife of a CASE may be: edge angle, thickness behind the edge, spine.

    CASE is a TOML file or the name of a case that comes along. Loads marked occasional = true
    come now and then; the answer says whether they set it.
    """
    from simedge.cli.numbers import check_margin
    from simedge.cli.progress import shown_progress
    from simedge.inputs.files import read_case_file
    from simedge.output.slimmest_files import slimmest_text, write_slimmest
    from simedge.output.slimmest_table import print_slimmest
    from simedge.studies.slimmest import check_slimmest, slimmest_study
    from simedge.studies.slimmest_answer import SlimmestQuestion

    read = read_case_file(case)
    check_margin(margin)
    by = measure or ("verdict" if yield_depth_mm is None else "yield depth")
    asked = SlimmestQuestion(
        asked_margin=margin,
        measure=by,
        tolerated_yield_depth_mm=yield_depth_mm,
        at_mm=at_mm,
    )
    check_slimmest(read.case, asked)  # no folder is made for a question that is refused
    target = study_folder(folder, "slimmest")
    with shown_progress("slimmer and slimmer") as progress:
        study = slimmest_study(read.case, asked, progress)
    files = write_slimmest(study, target)
    tell_study(
        files,
        as_json=as_json,
        text=lambda: slimmest_text(study),
        show=lambda out: print_slimmest(study, out),
        echoes=read.echoes,
    )
