"""``simedge steady-hand``: what the same work does straighter, and more crooked."""

from __future__ import annotations

from pathlib import Path

import click

from simedge.cli.run import named_folder
from simedge.cli.study_answer import study_folder, tell_study


@click.command("steady-hand")
@click.argument("case")
@click.option("--load", help="Only the load of that name.")
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
@click.option("--json", "as_json", is_flag=True, help="Print steady-hand.json instead of tables.")
def steady_hand(case: str, load: str | None, folder: Path | None, as_json: bool) -> None:
    """Say what a steadier hand would buy in the work of a CASE.

    CASE is a TOML file or the name of a case that comes along. Each load is asked again from
    straight to as crooked as it can be; the chart shows straight against sideways force.
    """
    from simedge.cli.progress import shown_progress
    from simedge.inputs.files import read_case_file
    from simedge.output.steady_hand_files import (
        print_steady_hand,
        steady_hand_text,
        write_steady_hand,
    )
    from simedge.studies.steady_hand import plan_steady_hand, steady_hand

    read = read_case_file(case)
    plan_steady_hand(read.case, load)  # no folder is made for a question that is refused
    target = study_folder(folder, "steady-hand")
    with shown_progress("straighter and more crooked") as progress:
        study = steady_hand(read.case, load, progress)
    files = write_steady_hand(study, target)
    tell_study(
        files,
        as_json=as_json,
        text=lambda: steady_hand_text(study),
        show=lambda out: print_steady_hand(study, out),
        echoes=read.echoes,
    )
