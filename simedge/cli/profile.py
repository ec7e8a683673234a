"""``simedge profile``: a cross-section's own numbers."""

from __future__ import annotations

import click


@click.command()
@click.argument("file")
def profile(file: str) -> None:
    """Measure a profile: angles, shoulders, thickness behind the edge and at depths, area.

    FILE is a TOML file, a traced outline (CSV: x_mm,y_mm), or the name of a profile that comes
    with simedge.
    """
    from simedge.inputs.files import read_profile
    from simedge.output.terminal import console, print_profile
    from simedge.section.measures import measure
    from simedge.section.outline import build_outline

    read = read_profile(file)
    faces = read.faces
    print_profile(read, measure(faces, build_outline(read.apex, faces)), faces.remarks, console())
