"""The files of a study of stiffness: JSON for programs, CSV for spreadsheets, and the picture."""

from __future__ import annotations

from dataclasses import asdict, fields
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from simedge.inputs.cross_section import CrossSection
from simedge.output.study_files import csv_text, study_text, write_study
from simedge.studies.stiffness import (
    CLOSED_FORM_SOURCE,
    VALID_FOR,
    BladeStiffness,
    PlaceStiffness,
    StiffnessStudy,
)
from simedge.studies.stiffness_sentence import stiffness_sentences

STEM = "stiffness"
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
    return {
        "sentence": stiffness_sentences(study),
        "caution": CAUTION,
        "elasticity": {
            "youngs_modulus_mpa": study.elasticity.youngs_modulus_mpa,
            "poissons_ratio": study.elasticity.poissons_ratio,
        },
        "closed_form": {"source": CLOSED_FORM_SOURCE, "valid_for": VALID_FOR},
        "blades": [_blade(blade) for blade in study.blades],
    }


def stiffness_text(study: StiffnessStudy) -> str:
    """Give a study as JSON text that ends with a newline; NaN cannot get in."""
    return study_text(stiffness_result(study))


def stiffness_csv(study: StiffnessStudy) -> str:
    """Give a study as CSV text, one line a blade and place; empty where there is no answer."""
    columns = [field.name for field in fields(PlaceStiffness)]
    rows = [
        (blade.name, blade.held_at_mm, *(getattr(place, column) for column in columns))
        for blade in study.blades
        for place in blade.places
    ]
    return csv_text(("knife", "held_at_mm", *columns), rows)


def write_stiffness(study: StiffnessStudy, folder: Path) -> tuple[Path, ...]:
    """Write all files of a study; parameters and errors as of `write_study`."""
    from simedge.output.deflection_plot import draw_deflection

    return write_study(
        folder,
        STEM,
        document=stiffness_text(study),
        table=stiffness_csv(study),
        figure=draw_deflection(study),
    )
