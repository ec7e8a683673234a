"""The folder that holds the files of an answer: never half written, nothing of others lost."""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Callable
from pathlib import Path

from simedge.errors import BadInput, NumericsFailed, Problem
from simedge.output.result_json import MADE_BY, result_text
from simedge.output.stations_csv import stations_text
from simedge.runs.run import Run

RESULT, STATIONS, FIELD = "result.json", "stations.csv", "stress.vtu"
PICTURE_PNG, PICTURE_SVG = "stress.png", "stress.svg"
ANSWER_FILES = (STATIONS, FIELD, PICTURE_PNG, PICTURE_SVG, RESULT)
#: Beyond this a result.json is none of ours, and is not read to find out.
LARGEST_RESULT_BYTES = 50_000_000


def _is_ours(result: Path) -> bool:
    try:
        if result.stat().st_size > LARGEST_RESULT_BYTES:
            return False
        document = json.loads(result.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return False
    return isinstance(document, dict) and document.get("made_by") == MADE_BY


def prepare_folder(folder: Path, *, make_parents: bool = False) -> None:
    """Make sure, before anything is solved, that an answer may be written to a folder.

    Parameters
    ----------
    folder : Path
        Made if it is not there. An earlier answer in it will be replaced; other files
        beside it stay.
    make_parents : bool
        Whether folders above it may be made too.

    Raises
    ------
    BadInput
        It cannot be written to, or holds files of our names that are not an answer of
        ours.
    """
    try:
        if folder.exists() and not folder.is_dir():
            raise BadInput(Problem("--out", f"{folder} is a file, but a folder is needed"))
        folder.mkdir(parents=make_parents, exist_ok=True)
        handle, probe = tempfile.mkstemp(dir=folder, prefix=".simedge-")
        os.close(handle)
        Path(probe).unlink()
    except FileNotFoundError as error:
        raise BadInput(
            Problem("--out", f"the folder {folder.parent} does not exist; make it first")
        ) from error
    except OSError as error:
        raise BadInput(
            Problem(
                "--out", f"cannot write to {folder}: {error.strerror}; choose another with --out"
            )
        ) from error
    present = [name for name in ANSWER_FILES if (folder / name).exists()]
    if present and not _is_ours(folder / RESULT):
        raise BadInput(
            Problem(
                "--out",
                f"{folder} holds {', '.join(present)}, but no earlier answer of simedge; they are "
                "left alone: choose another folder with --out",
            )
        )


def write_answer(run: Run, folder: Path) -> tuple[Path, ...]:
    """Write all files of an answer, each under a temporary name first.

    Parameters
    ----------
    run : Run
    folder : Path
        From `prepare_folder`.

    Returns
    -------
    tuple of Path
        The picture first, then the other files.

    Raises
    ------
    NumericsFailed
        The disk refused to take them; the earlier answer stays.
    """
    from simedge.output.stress_plot import draw_stress, save_png, save_svg
    from simedge.output.vtu import write_vtu

    figure = draw_stress(run)
    writers: dict[str, Callable[[Path], object]] = {
        STATIONS: lambda path: path.write_text(stations_text(run), encoding="utf-8"),
        FIELD: lambda path: write_vtu(run, path),
        PICTURE_PNG: lambda path: save_png(figure, path),
        PICTURE_SVG: lambda path: save_svg(figure, path),
        RESULT: lambda path: path.write_text(result_text(run), encoding="utf-8"),
    }
    try:
        with tempfile.TemporaryDirectory(dir=folder, prefix=".simedge-") as made:
            for name, write in writers.items():
                write(Path(made) / name)
            # the result goes last: until then the folder does not claim to be this answer
            for name in ANSWER_FILES:
                (Path(made) / name).replace(folder / name)
    except OSError as error:
        raise NumericsFailed(
            f"the answer could not be written to {folder}: {error.strerror}"
        ) from error
    order = (PICTURE_PNG, PICTURE_SVG, RESULT, STATIONS, FIELD)
    return tuple(folder / name for name in order)
