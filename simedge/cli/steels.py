"""``simedge steels``: the library of steels."""

from __future__ import annotations

import click


@click.command()
@click.argument("grade", required=False)
@click.option("--hrc", type=float, help="Hardness to show the grade at; middle of its usual range.")
def steels(grade: str | None, hrc: float | None) -> None:
    """List the steels by open designation; with GRADE, all figures of one and their sources."""
    from simedge.output.library_tables import print_steel, print_steels
    from simedge.output.terminal import console

    if grade is None:
        print_steels(console())
        return
    from simedge.inputs.door import validated_arguments
    from simedge.inputs.library_data import find_grade
    from simedge.inputs.steel import Steel
    from simedge.inputs.steel_properties import steel_properties

    known = find_grade(grade)
    if hrc is None and known is not None:
        hrc = round(0.5 * (known.hardness_hrc.low + known.hardness_hrc.high))
    given = {"grade": grade, **({} if hrc is None else {"hardness_hrc": hrc})}
    if known is not None and not known.hardness_converts:
        raise click.UsageError(
            f"{known.name} hardens in its own way and hardness tells nothing of its yield "
            "strength: write yield_strength_mpa in the case"
        )
    places: dict[tuple[str | int, ...], str] = {("grade",): "GRADE", ("hardness_hrc",): "--hrc"}
    steel = validated_arguments(Steel, given, places)
    print_steel(steel_properties(steel), console())
