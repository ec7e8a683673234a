"""``simedge another-steel``: what another grade or hardness takes in the same shape."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from simedge.cli.run import named_folder
from simedge.cli.study_answer import study_folder, tell_study

if TYPE_CHECKING:
    from simedge.inputs.case import Case
    from simedge.inputs.steel import Steel


@click.command("another-steel")
@click.argument("case")
@click.option("--steel", "grades", multiple=True, help="Open designation; may be given again.")
@click.option("--hrc", "hardnesses", multiple=True, type=float, help="Its hardness, HRC.")
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
@click.option("--json", "as_json", is_flag=True, help="Print another-steel.json instead of tables.")
def another_steel(
    case: str,
    grades: tuple[str, ...],
    hardnesses: tuple[float, ...],
    folder: Path | None,
    as_json: bool,
) -> None:
    """Say what another steel would take in the shape of a CASE, and what shape it would need.

    CASE is a TOML file or the name of a case that comes along. Without --steel all steels of
    the library are asked, at the middle of their usual hardness; with it that one: --steel A2
    --hrc 60. Several: one --hrc for all, or one each in the same order. With --hrc alone: the
    case's own grade at that hardness.
    """
    from simedge.cli.progress import shown_progress
    from simedge.inputs.files import read_case_file
    from simedge.output.another_steel_files import (
        another_steel_text,
        print_another_steel,
        write_another_steel,
    )
    from simedge.studies.another_steel import another_steel
    from simedge.studies.steel_choice import chosen_steels

    read = read_case_file(case)
    asked = steels_from_options(read.case, grades, hardnesses)
    chosen_steels(read.case, asked)  # no folder is made for a question that is refused
    target = study_folder(folder, "another-steel")
    with shown_progress("one steel after the other") as progress:
        study = another_steel(read.case, asked, progress)
    files = write_another_steel(study, target)
    tell_study(
        files,
        as_json=as_json,
        text=lambda: another_steel_text(study),
        show=lambda out: print_another_steel(study, out),
        echoes=read.echoes,
    )


def steels_from_options(
    case: Case, grades: tuple[str, ...], hardnesses: tuple[float, ...]
) -> tuple[Steel, ...] | None:
    """Build the steels that options name; None where none does."""
    from simedge.errors import BadInput, Problem
    from simedge.inputs.door import validated_arguments
    from simedge.inputs.library_data import find_grade
    from simedge.inputs.steel import Steel
    from simedge.studies.steel_choice import usual_steel

    if not grades and not hardnesses:
        return None
    if not grades:
        if case.steel.grade is None:
            message = "is missing, and the case's own steel has no grade; name one"
            raise BadInput(Problem("--steel", message))
        grades = (case.steel.grade,) * len(hardnesses)
    if len(hardnesses) > 1 and len(hardnesses) != len(grades):
        message = (
            f"is given {len(hardnesses)} times, but --steel {len(grades)} times; give one for all, "
            "or one for each in the same order"
        )
        raise BadInput(Problem("--hrc", message))
    told = hardnesses * len(grades) if len(hardnesses) == 1 else hardnesses
    places: dict[tuple[str | int, ...], str] = {
        ("grade",): "--steel",
        ("hardness_hrc",): "--hrc",
        ("yield_strength_mpa",): f"--steel {' '.join(grades)}: yield_strength_mpa",
    }
    steels = []
    for number, name in enumerate(grades):
        known = find_grade(name)
        if not told and known is not None and known.hardness_converts:
            steels.append(usual_steel(known, case))
            continue
        data = {"grade": name, **({"hardness_hrc": told[number]} if told else {})}
        steels.append(validated_arguments(Steel, data, places))
    return tuple(steels)
