"""``simedge hardness``: what another hardness of the same steel would allow."""

from __future__ import annotations

from pathlib import Path

import click

from simedge.cli.run import OUT_FOLDER, named_folder


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
    from simedge.output.answer_folder import prepare_folder
    from simedge.output.hardness_files import (
        HARDNESS_FILES,
        hardness_text,
        print_hardness,
        write_hardness,
    )
    from simedge.output.terminal import console
    from simedge.studies.over_hardness import check_steel, over_hardness

    read = read_case_file(case)
    check_steel(read.case.steel)  # no folder is made for a question that is refused
    target = OUT_FOLDER / "hardness" if folder is None else folder
    prepare_folder(target, make_parents=folder is None, files=HARDNESS_FILES)
    study = over_hardness(read.case)
    files = write_hardness(study, target)
    if as_json:
        click.echo(hardness_text(study), nl=False)
        return
    out = console()
    print_hardness(study, out)
    for echo in read.echoes:
        out.print(echo)
    out.print()
    out.print(f"picture: {files[0]}")
    out.print(f"also in {target}: {', '.join(path.name for path in files[1:])}")
