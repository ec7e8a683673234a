"""The files of a study of stiffness: JSON for programs, CSV for spreadsheets, and the picture."""

from __future__ import annotations

import csv
import json
from dataclasses import asdict, fields
from io import StringIO
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from simedge.inputs.cross_section import CrossSection
from simedge.output.answer_folder import put_files
from simedge.output.result_json import MADE_BY, SCHEMA_VERSION, library_versions, rounded_numbers
from simedge.studies.stiffness import (
    CLOSED_FORM_SOURCE,
    VALID_FOR,
    BladeStiffness,
    PlaceStiffness,
    StiffnessStudy,
)
from simedge.studies.stiffness_sentence import stiffness_sentences

RESULT, TABLE, PICTURE_PNG, PICTURE_SVG = (
    f"stiffness.{ending}" for ending in ("json", "csv", "png", "svg")
)
STIFFNESS_FILES = (TABLE, PICTURE_PNG, PICTURE_SVG, RESULT)
_PROFILE: TypeAdapter[Any] = TypeAdapter(CrossSection)
CAUTION = (
    "Elastic, plane strain, small movements, pushed alike all along the edge: a push on a short "
    "piece of a real edge moves it less. No result is a safety certificate."
)


def _blade(blade: BladeStiffness) -> dict[str, Any]:
    shape = blade.shape
    return {
        "name": blade.name,
        "held_at_mm": blade.held_at_mm,
        "held_at_spine": blade.held_at_spine,
        "remarks": list(blade.profile.faces.remarks),
        "places": [asdict(place) for place in blade.places],
        "deflected_shape": {
            field.name: getattr(shape, field.name).tolist() for field in fields(shape)
        },
        "profile": _PROFILE.dump_python(blade.profile, mode="json", exclude_none=True),
    }


def stiffness_result(study: StiffnessStudy) -> dict[str, Any]:
    """Give a study as plain data: millimetres, N/mm²; None where there is no finite answer.

    The deflected shapes are outlines from the left face around the tip to the right face,
    with the movement for 1 N on each mm of the apex.
    """
    document = rounded_numbers(
        {
            "schema_version": SCHEMA_VERSION,
            "made_by": MADE_BY,
            "library_versions": library_versions(),
            "sentence": stiffness_sentences(study),
            "caution": CAUTION,
            "elasticity": {
                "youngs_modulus_mpa": study.elasticity.youngs_modulus_mpa,
                "poissons_ratio": study.elasticity.poissons_ratio,
            },
            "closed_form": {"source": CLOSED_FORM_SOURCE, "valid_for": VALID_FOR},
            "blades": [_blade(blade) for blade in study.blades],
        }
    )
    assert isinstance(document, dict)
    return document


def stiffness_text(study: StiffnessStudy) -> str:
    """Give a study as JSON text that ends with a newline; NaN cannot get in."""
    document = stiffness_result(study)
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def stiffness_csv(study: StiffnessStudy) -> str:
    """Give a study as CSV text, one line a blade and place; empty where there is no answer."""
    columns = [field.name for field in fields(PlaceStiffness)]
    buffer = StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerow(("knife", "held_at_mm", *columns))
    for blade in study.blades:
        for place in blade.places:
            row = [_cell(getattr(place, column)) for column in columns]
            writer.writerow((blade.name, f"{blade.held_at_mm:.9g}", *row))
    return buffer.getvalue()


def _cell(value: float | bool | None) -> str:
    if value is None:
        return ""
    return str(value).lower() if isinstance(value, bool) else f"{value:.9g}"


def write_stiffness(study: StiffnessStudy, folder: Path) -> tuple[Path, ...]:
    """Write all files of a study.

    Parameters
    ----------
    study : StiffnessStudy
    folder : Path
        From `simedge.output.answer_folder.prepare_folder`, for `STIFFNESS_FILES`.

    Returns
    -------
    tuple of Path
        The picture first, then the other files.

    Raises
    ------
    NumericsFailed
        The disk refused to take them; an earlier answer stays.
    """
    from simedge.output.deflection_plot import draw_deflection
    from simedge.output.picture_files import save_png, save_svg

    figure = draw_deflection(study)
    put_files(
        folder,
        {
            TABLE: lambda path: path.write_text(stiffness_csv(study), encoding="utf-8"),
            PICTURE_PNG: lambda path: save_png(figure, path),
            PICTURE_SVG: lambda path: save_svg(figure, path),
            RESULT: lambda path: path.write_text(stiffness_text(study), encoding="utf-8"),
        },
    )
    return tuple(folder / name for name in (PICTURE_PNG, PICTURE_SVG, RESULT, TABLE))
