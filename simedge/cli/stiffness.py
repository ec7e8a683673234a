"""``simedge stiffness``: how stiff blades are against a push from the side."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from simedge.cli.run import named_folder
from simedge.cli.study_answer import study_folder, tell_study
from simedge.errors import BadInput, Problem

if TYPE_CHECKING:
    from simedge.fem.elasticity import Elasticity
    from simedge.inputs.cross_section import CrossSection

#: What the questions of `simedge.studies.stiffness` are called here.
OPTIONS = {"held_at_mm": "--held-at-mm", "at_mm": "--at-mm"}


def depths(
    _context: click.Context, _option: click.Parameter, text: str | None
) -> tuple[float, ...] | None:
    """Read depths with commas between them."""
    if text is None:
        return None
    try:
        return tuple(float(part) for part in text.split(","))
    except ValueError as error:
        message = f'--at-mm is "{text[:60]}", but must be depths in mm; write 0.5,1,5'
        raise BadInput(Problem("", message)) from error


@click.command()
@click.argument("profiles", nargs=-1, required=True, metavar="PROFILE...")
@click.option(
    "--at-mm", callback=depths, help="Depths to push at beside the apex, mm.  [0.5,1,2,5]"
)
@click.option("--held-at-mm", type=float, help="Depth from which all are held.  [their spines]")
@click.option("--steel", help='Open designation, see "simedge steels".  [any of them]')
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
@click.option("--json", "as_json", is_flag=True, help="Print stiffness.json instead of the table.")
def stiffness(
    profiles: tuple[str, ...],
    at_mm: tuple[float, ...] | None,
    held_at_mm: float | None,
    steel: str | None,
    folder: Path | None,
    as_json: bool,
) -> None:
    """Say how stiff blades are against a push from the side, at the apex and behind it.

    Each PROFILE is a TOML file, a traced outline (CSV), or the name of a profile that comes with
    simedge; one to about eight. To compare primary grinds, hold them all at one depth:
    --held-at-mm 10.
    """
    from simedge.inputs.files import read_profile
    from simedge.output.stiffness_files import stiffness_text, write_stiffness
    from simedge.output.stiffness_table import print_stiffness
    from simedge.studies.push_plan import plan_pushes
    from simedge.studies.stiffness import stiffness_of

    read: list[CrossSection] = []
    problems: list[Problem] = []
    for name in profiles:
        try:
            read.append(read_profile(name))
        except BadInput as error:
            problems += error.problems
    if problems:
        raise BadInput(*problems)
    elasticity, steel_words = _elasticity(steel)
    try:
        plan_pushes(read, held_at_mm, at_mm)  # no folder is made for a question that is refused
    except BadInput as error:
        raise BadInput(*(_under_its_option(problem) for problem in error.problems)) from error
    target = study_folder(folder, "stiffness")
    study = stiffness_of(read, held_at_mm=held_at_mm, at_mm=at_mm, elasticity=elasticity)
    files = write_stiffness(study, target)
    tell_study(
        files,
        as_json=as_json,
        text=lambda: stiffness_text(study),
        show=lambda out: print_stiffness(study, steel_words, out),
    )


def _under_its_option(problem: Problem) -> Problem:
    """Name the option instead of the argument that it became."""
    for field, option in OPTIONS.items():
        if problem.message.startswith(f"{field} "):
            return Problem(problem.where, option + problem.message.removeprefix(field))
    return problem


def _elasticity(grade: str | None) -> tuple[Elasticity, str]:
    """Give the elasticity of a grade, or of every steel, and a sentence where it comes from."""
    from simedge.fem.elasticity import Elasticity
    from simedge.inputs.door import validated_arguments
    from simedge.inputs.steel import Steel
    from simedge.inputs.steel_properties import steel_properties

    # strength plays no part in stiffness, but a steel cannot be written down without it
    given = {"yield_strength_mpa": 1000.0, **({} if grade is None else {"grade": grade})}
    steel = steel_properties(validated_arguments(Steel, given, {("grade",): "--steel"}))
    origins = {origin.quantity: origin for origin in steel.origins}
    modulus, ratio = origins["Young's modulus"], origins["Poisson's ratio"]
    words = (
        f"{'Steel of any grade' if grade is None else steel.name}: Young's modulus "
        f"{modulus.value}, Poisson's ratio {ratio.value} ({modulus.trust}: {modulus.source}); "
        "all stiffnesses follow Young's modulus."
    )
    elasticity = Elasticity(
        youngs_modulus_mpa=steel.youngs_modulus_mpa, poissons_ratio=steel.poissons_ratio
    )
    return elasticity, words
