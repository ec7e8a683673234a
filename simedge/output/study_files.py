"""The files of a study: JSON for programs, CSV for spreadsheets, and the picture, twice."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Sequence
from io import StringIO
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any

from simedge.output.answer_folder import put_files
from simedge.output.result_json import MADE_BY, SCHEMA_VERSION, library_versions, rounded_numbers

if TYPE_CHECKING:
    from matplotlib.figure import Figure

Cell = str | float | bool | None


def study_file_names(stem: str) -> tuple[str, ...]:
    """Give the names of a study's files, the JSON document last.

    >>> study_file_names("stiffness")
    ('stiffness.csv', 'stiffness.png', 'stiffness.svg', 'stiffness.json')
    """
    return tuple(f"{stem}.{ending}" for ending in ("csv", "png", "svg", "json"))


def study_document(content: dict[str, Any]) -> dict[str, Any]:
    """Put a study's plain data behind what every document of ours begins with."""
    rounded = rounded_numbers(
        {
            "schema_version": SCHEMA_VERSION,
            "made_by": MADE_BY,
            "library_versions": library_versions(),
            **content,
        }
    )
    assert isinstance(rounded, dict)
    return rounded


def study_text(content: dict[str, Any]) -> str:
    """Give a study's plain data as JSON text that ends with a newline; NaN cannot get in."""
    document = study_document(content)
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """Give a table as CSV text; a cell is empty where there is no answer, or no finite one."""
    buffer = StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return buffer.getvalue()


def _cell(value: Cell) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return str(value).lower()
    return "" if value is None or not isfinite(value) else f"{value:.9g}"


def write_study(
    folder: Path, stem: str, *, document: str, table: str, figure: Figure
) -> tuple[Path, ...]:
    """Write all files of a study.

    Parameters
    ----------
    folder : Path
        From `simedge.output.answer_folder.prepare_folder`, for `study_file_names`.
    stem : str
        How the files are called.
    document, table : str
        JSON and CSV.
    figure : Figure

    Returns
    -------
    tuple of Path
        The picture first, then the other files.

    Raises
    ------
    NumericsFailed
        The disk refused to take them; an earlier answer stays.
    """
    from simedge.output.picture_files import save_png, save_svg

    csv_name, png, svg, json_name = study_file_names(stem)
    put_files(
        folder,
        {
            csv_name: lambda path: path.write_text(table, encoding="utf-8"),
            png: lambda path: save_png(figure, path),
            svg: lambda path: save_svg(figure, path),
            json_name: lambda path: path.write_text(document, encoding="utf-8"),
        },
    )
    return tuple(folder / name for name in (png, svg, json_name, csv_name))
