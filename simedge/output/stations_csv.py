"""Stress and section forces along the blade, as a table that any spreadsheet opens."""

from __future__ import annotations

import csv
from io import StringIO

from simedge.runs.run import Run
from simedge.strength.stations import read_stations

COLUMNS = (
    "x_mm",
    "thickness_mm",
    "left_face_mpa",
    "right_face_mpa",
    "axis_mpa",
    "moment_n",
    "shear_n_per_mm",
    "axial_n_per_mm",
)


def stations_text(run: Run) -> str:
    """Give the stations of every load as CSV text, the load's name in the first column."""
    stations = read_stations(
        tuple(answer.stress for answer in run.loads),
        tuple(answer.tractions for answer in run.loads),
        run.outline,
    )
    buffer = StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerow(("load", *COLUMNS))
    for answer, station in zip(run.loads, stations, strict=True):
        columns = [getattr(station, column) for column in COLUMNS]
        for row in zip(*columns, strict=True):
            writer.writerow((answer.name, *(f"{value:.9g}" for value in row)))
    return buffer.getvalue()
