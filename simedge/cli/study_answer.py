"""Where a study's files go, and how its answer ends on paper: shared by all study commands."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from simedge.cli.run import OUT_FOLDER

if TYPE_CHECKING:
    from rich.console import Console


def study_folder(folder: Path | None, stem: str) -> Path:
    """Make sure that a study's files may be written, before anything is solved.

    Parameters
    ----------
    folder : Path or None
        None stands for the study's own, below our usual one.
    stem : str
        How the study's files are called.
    """
    from simedge.output.answer_folder import prepare_folder
    from simedge.output.study_files import study_file_names

    target = OUT_FOLDER / stem if folder is None else folder
    prepare_folder(target, make_parents=folder is None, files=study_file_names(stem))
    return target


def tell_study(
    files: Sequence[Path],
    *,
    as_json: bool,
    text: Callable[[], str],
    show: Callable[[Console], None],
    echoes: Iterable[str] = (),
) -> None:
    """Print a study: its JSON text alone, or its tables and where its files are.

    Parameters
    ----------
    files : sequence of Path
        The picture first.
    as_json : bool
    text, show : callable
        Give the JSON text; print the tables.
    echoes : iterable of str
        How inputs were read, a line each.
    """
    from simedge.output.terminal import console

    if as_json:
        click.echo(text(), nl=False)
        return
    out = console()
    show(out)
    for echo in echoes:
        out.print(echo)
    out.print()
    out.print(f"picture: {files[0]}")
    out.print(f"also in {files[0].parent}: {', '.join(path.name for path in files[1:])}")
