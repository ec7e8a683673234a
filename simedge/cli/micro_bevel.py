"""``simedge micro-bevel``: is one worth adding, at what angle and height."""

from __future__ import annotations

from pathlib import Path

import click

from simedge.cli.numbers import numbers_option
from simedge.cli.run import named_folder
from simedge.cli.study_answer import study_folder, tell_study


@click.command("micro-bevel")
@click.argument("case")
@click.option("--angles", callback=numbers_option, help="Degrees per side, as 14,16,20.")
@click.option("--heights", callback=numbers_option, help="Heights, mm, as 0.05,0.1.")
@click.option("--grid", type=int, default=10, help="Angles and heights of the map.  [10]")
@click.option("--margin", type=float, default=1.0, help="Times this work it has to take.  [1]")
@click.option("--at-mm", type=float, help="Depth by which slimness is told.  [of the cut]")
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
@click.option("--json", "as_json", is_flag=True, help="Print micro-bevel.json instead of tables.")
def micro_bevel(
    case: str,
    angles: tuple[float, ...] | None,
    heights: tuple[float, ...] | None,
    grid: int,
    margin: float,
    at_mm: float | None,
    folder: Path | None,
    as_json: bool,
) -> None:
    """Say whether a micro-bevel is worth adding to the knife of a CASE, at what angle and height.

    CASE is a TOML file or the name of a case that comes along. What a micro-bevel gains is held
    against what it costs: thickness in the cut, force to push, metal to grind, and how often it
    can be renewed.
    """
    from simedge.cli.numbers import check_margin
    from simedge.cli.progress import shown_progress
    from simedge.inputs.files import read_case_file
    from simedge.output.micro_bevel_files import micro_bevel_text, write_micro_bevel
    from simedge.output.micro_bevel_table import print_micro_bevel
    from simedge.studies.micro_bevel import check_micro_bevel, micro_bevel_study
    from simedge.studies.micro_bevel_answer import MicroBevelQuestion

    read = read_case_file(case)
    check_margin(margin)
    asked = MicroBevelQuestion(
        angles_dps=angles, heights_mm=heights, grid=grid, asked_margin=margin, at_mm=at_mm
    )
    check_micro_bevel(read.case, asked)  # no folder is made for a question that is refused
    target = study_folder(folder, "micro-bevel")
    with shown_progress("micro-bevels") as progress:
        study = micro_bevel_study(read.case, asked, progress)
    files = write_micro_bevel(study, target)
    tell_study(
        files,
        as_json=as_json,
        text=lambda: micro_bevel_text(study),
        show=lambda out: print_micro_bevel(study, out),
        echoes=read.echoes,
    )
