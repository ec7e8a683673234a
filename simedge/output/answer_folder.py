"""The folder that holds the files of an answer: never half written, nothing of others lost."""

from __future__ import annotations

import json
import os
import shutil
import signal
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from simedge.errors import BadInput, NumericsFailed, Problem
from simedge.inputs.shown_values import one_line
from simedge.output.result_json import MADE_BY, result_text
from simedge.output.stations_csv import stations_text
from simedge.runs.run import Run

RESULT, STATIONS, FIELD = "result.json", "stations.csv", "stress.vtu"
PICTURE_PNG, PICTURE_SVG = "stress.png", "stress.svg"
ANSWER_FILES = (STATIONS, FIELD, PICTURE_PNG, PICTURE_SVG, RESULT)
#: Beyond this a result.json is none of ours, and is not read to find out.
LARGEST_RESULT_BYTES = 50_000_000
#: Stands in a folder while files are put into their places, a matter of microseconds. Where
#: it is found later, a run was killed then: the folder has no JSON document, and the files
#: that it lists are ours.
UNFINISHED = ".simedge-unfinished"
#: Files are made in a folder of this name, and moved; writing takes seconds, so that an older
#: one was left by a run that was killed.
MAKING, OLDEST_MAKING_S = ".simedge-making-", 3600.0


def _is_ours(result: Path) -> bool:
    try:
        if result.stat().st_size > LARGEST_RESULT_BYTES:
            return False
        document = json.loads(result.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return False
    return isinstance(document, dict) and document.get("made_by") == MADE_BY


def prepare_folder(
    folder: Path, *, make_parents: bool = False, files: Sequence[str] = ANSWER_FILES
) -> None:
    """Make sure, before anything is solved, that an answer may be written to a folder.

    Parameters
    ----------
    folder : Path
        Made if it is not there. An earlier answer in it will be replaced; other files
        beside it stay.
    make_parents : bool
        Whether folders above it may be made too.
    files : sequence of str
        Names that the answer will take, its JSON document last.

    Raises
    ------
    BadInput
        It cannot be written to, or holds files of our names that are not an answer of
        ours.
    """
    shown = one_line(str(folder), 400)
    try:
        if folder.exists() and not folder.is_dir():
            raise BadInput(Problem("--out", f"{shown} is a file, but a folder is needed"))
        folder.mkdir(parents=make_parents, exist_ok=True)
        handle, probe = tempfile.mkstemp(dir=folder, prefix=MAKING)
        os.close(handle)
        Path(probe).unlink()
    except OSError as error:
        told = f"cannot write to {shown}: {error.strerror}; choose another with --out"
        if isinstance(error, FileNotFoundError) and not make_parents:
            above = one_line(str(folder.parent), 400)
            told = f"the folder {above} does not exist; make it first"
        raise BadInput(Problem("--out", told)) from error
    _check_owner(folder, files)
    _sweep(folder)


def _check_owner(folder: Path, files: Sequence[str]) -> None:
    """Refuse a folder that holds something of our names that we did not make."""
    present = {name for name in files if os.path.lexists(folder / name)}
    odd = sorted(name for name in present if not (folder / name).is_file())
    left = _text_of(folder / UNFINISHED).split("\n")
    if odd or not (present <= set(left) or _is_ours(folder / files[-1])):
        held = f"{', '.join(odd)}, no file but a folder or a broken link" if odd else ""
        held = held or f"{', '.join(sorted(present))}, but no earlier answer of simedge"
        raise BadInput(
            Problem(
                "--out",
                f"{one_line(str(folder), 400)} holds {held}; it is left alone: choose another "
                "folder with --out",
            )
        )


def _text_of(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8")
    except (OSError, ValueError):
        return ""


def _sweep(folder: Path) -> None:
    """Remove what killed runs left half made, long ago."""
    for left in folder.glob(f"{MAKING}*"):
        try:
            if time.time() - left.stat().st_mtime > OLDEST_MAKING_S:
                shutil.rmtree(left)
        except OSError:
            continue  # another run is as free to remove it


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Keep Ctrl-C waiting; other threads than the main one are never interrupted."""
    waiting: list[int] = []
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, lambda number, _: waiting.append(number))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
        if waiting and callable(before):
            before(waiting[0], None)


def put_files(folder: Path, writers: Mapping[str, Callable[[Path], object]]) -> None:
    """Write files into a folder, all of them or none, each in a place beside it first.

    Killed at any moment it leaves the earlier answer, this one, or no JSON document.

    Parameters
    ----------
    folder : Path
        From `prepare_folder`.
    writers : mapping of name to callable
        Each is given the path to write to; the answer's JSON document comes last.

    Raises
    ------
    NumericsFailed
        The disk refused to take them; the earlier answer stays.
    """
    try:
        with tempfile.TemporaryDirectory(dir=folder, prefix=MAKING) as made:
            for name, write in writers.items():
                write(Path(made) / name)
            with _uninterrupted():
                (folder / UNFINISHED).write_text("\n".join(writers), encoding="utf-8")
                # the document goes first and comes last: without it there is no answer
                (folder / list(writers)[-1]).unlink(missing_ok=True)
                for name in writers:
                    (Path(made) / name).replace(folder / name)
                (folder / UNFINISHED).unlink()
    except OSError as error:
        raise NumericsFailed(
            f"the answer could not be written to {one_line(str(folder), 400)}: "
            f"{error.strerror or error}; the earlier one stays; make room, or choose another "
            "folder with --out"
        ) from error


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
    from simedge.output.picture_files import save_png, save_svg
    from simedge.output.stress_plot import draw_stress
    from simedge.output.vtu import write_vtu

    figure = draw_stress(run)
    writers: dict[str, Callable[[Path], object]] = {
        STATIONS: lambda path: path.write_text(stations_text(run), encoding="utf-8"),
        FIELD: lambda path: write_vtu(run, path),
        PICTURE_PNG: lambda path: save_png(figure, path),
        PICTURE_SVG: lambda path: save_svg(figure, path),
        RESULT: lambda path: path.write_text(result_text(run), encoding="utf-8"),
    }
    put_files(folder, writers)
    order = (PICTURE_PNG, PICTURE_SVG, RESULT, STATIONS, FIELD)
    return tuple(folder / name for name in order)
