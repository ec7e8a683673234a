"""``simedge hardness``: what another hardness of the same steel would allow."""

from __future__ import annotations

from pathlib import Path

import click

from simedge.cli.run import named_folder
from simedge.cli.study_answer import study_folder, tell_study


@click.command()
@click.argument("case")
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
@click.option("--json", "as_json", is_flag=True, help="Print hardness.json instead of the table.")
def hardness(case: str, folder: Path | None, as_json: bool) -> None:
    """Say what another hardness of its steel would allow the edge of a CASE.

    CASE is a TOML file or the name of a case that comes along. The chart shows over hardness how
    many times the work the edge takes before it rolls, chips, crumbles or blunts.
    """
    from simedge.inputs.files import read_case_file
    from simedge.output.hardness_files import hardness_text, write_hardness
    from simedge.output.hardness_table import print_hardness
    from simedge.studies.over_hardness import check_steel, over_hardness

    read = read_case_file(case)
    check_steel(read.case.steel)  # no folder is made for a question that is refused
    target = study_folder(folder, "hardness")
    study = over_hardness(read.case)
    files = write_hardness(study, target)
    tell_study(
        files,
        as_json=as_json,
        text=lambda: hardness_text(study),
        show=lambda out: print_hardness(study, out),
        echoes=read.echoes,
    )
