"""``simedge compare``: several knives in the same work."""

from __future__ import annotations

from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

import click

from simedge.cli.progress import shown_progress
from simedge.cli.run import named_folder
from simedge.cli.study_answer import study_folder, tell_study
from simedge.errors import BadInput, Problem

if TYPE_CHECKING:
    from simedge.inputs.case import Case
    from simedge.inputs.cross_section import CrossSection


@click.command()
@click.argument("case")
@click.argument("profiles", nargs=-1, required=True, metavar="PROFILE...")
@click.option("--without-own", is_flag=True, help="Leave the case's own knife out.")
@click.option("--load", help="Load to picture, by its name.  [the hardest on the first knife]")
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
@click.option("--json", "as_json", is_flag=True, help="Print compare.json instead of the table.")
def compare(
    case: str,
    profiles: tuple[str, ...],
    without_own: bool,
    load: str | None,
    folder: Path | None,
    as_json: bool,
) -> None:
    """Say which of several knives comes through the work of a CASE, and which takes most.

    CASE, a TOML file or the name of a case that comes along, gives steel, work, support and
    tolerated damage; its own knife is the first. Each PROFILE is a TOML file, a traced outline
    (CSV), or the name of a profile that comes along; 2 to 20 knives in all.
    """
    from simedge.inputs.files import read_case_file, read_profile
    from simedge.output.compare_files import STEM, compare_text, write_compare
    from simedge.output.compare_table import print_compare
    from simedge.studies.compare import compare_knives
    from simedge.studies.knife_plan import plan_knives

    read = read_case_file(case)
    chosen: list[CrossSection] = []
    problems: list[Problem] = []
    for name in profiles:
        try:
            chosen.append(read_profile(name))
        except BadInput as error:
            problems += error.problems
    if problems:
        raise BadInput(*problems)
    number = None if load is None else load_number(read.case, load)
    plan_knives(read.case, chosen, with_own=not without_own)  # refused before a folder is made
    target = study_folder(folder, STEM)
    with shown_progress("knives") as progress:
        study = compare_knives(read.case, chosen, with_own=not without_own, progress=progress)
    files = write_compare(study, target, number)
    tell_study(
        files,
        as_json=as_json,
        text=lambda: compare_text(study),
        show=lambda out: print_compare(study, out),
        echoes=read.echoes,
    )


def load_number(case: Case, name: str) -> int:
    """Find a load of a case by its name."""
    names = [case.load_name(index) for index in range(len(case.loads))]
    if name in names:
        return names.index(name)
    near = get_close_matches(name, names, n=1, cutoff=0.5)
    told = f'did you mean "{near[0]}"?' if near else f"there are {', '.join(names)}"
    raise BadInput(Problem("--load", f'is "{name[:60]}", but the case has no such load; {told}'))
