"""A run as one JSON document: the contract that other programs read."""

from __future__ import annotations

import json
import platform
from dataclasses import asdict, fields
from importlib.metadata import version
from typing import Any

from pydantic import TypeAdapter

from simedge.inputs.case import Case
from simedge.inputs.steel_properties import SteelProperties
from simedge.output.verdict_json import verdict_json
from simedge.runs.answer import IN_MEMORY, LoadAnswer
from simedge.runs.run import Run

SCHEMA_VERSION = 1
#: Tells an answer of ours from a stranger's file of the same name.
MADE_BY = "simedge"
LIBRARIES = ("simedge", "gmsh", "scikit-fem", "numpy", "scipy", "meshio", "matplotlib", "pydantic")
#: Figures beyond this are rounding of the machine that ran it, not of the answer.
SIGNIFICANT_DIGITS = 10
CAUTION = (
    "Verdicts rest on limit loads and one flaw's stress intensity, section by section, under "
    "loads that are uniform along the edge or spread behind a short contact; not modelled: "
    "hardening and the shape that is left, the path of a crack, wear, corrosion, burrs, "
    "decarburised or overheated edges, impact, fatigue. No result is a safety certificate: "
    "knives cut, and grinding throws sparks and dust; follow local rules and ask people who are "
    "qualified."
)


def rounded_numbers(value: Any) -> Any:
    """Round every float in plain data to the digits that mean something."""
    if isinstance(value, float):
        return float(f"{value:.{SIGNIFICANT_DIGITS}g}")
    if isinstance(value, dict):
        return {key: rounded_numbers(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [rounded_numbers(item) for item in value]
    return value


def library_versions() -> dict[str, str]:
    """Give the versions of all that a result depends on."""
    return {
        "python": platform.python_version(),
        **{name: version(name) for name in LIBRARIES},
    }


def _load(answer: LoadAnswer) -> dict[str, Any]:
    plain = {
        field.name: getattr(answer, field.name)
        for field in fields(answer)
        if field.name not in (*IN_MEMORY, "errors", "verdict")
    }
    plain |= verdict_json(answer)
    plain |= {f"{key}_error": error for key, error in asdict(answer.errors).items()}
    for key in ("clamp_effect", "singular"):
        plain[key] = asdict(plain[key]) if plain[key] is not None else None
    for key in ("parts", "closed_form"):
        plain[key] = [asdict(item) for item in plain[key]]
    return plain


def _steel(steel: SteelProperties) -> dict[str, Any]:
    return {
        "name": steel.name,
        "hardness_hrc": steel.hardness_hrc,
        "hardness_hv": steel.hardness_hv,
        "youngs_modulus_mpa": steel.youngs_modulus_mpa,
        "poissons_ratio": steel.poissons_ratio,
        "yield_strength_mpa": steel.yield_strength_mpa,
        "yield_low_mpa": steel.yield_low_mpa,
        "yield_high_mpa": steel.yield_high_mpa,
        "origins": [asdict(origin) for origin in steel.origins],
    }


def case_json(case: Case) -> dict[str, Any]:
    """Give a case as plain data, under its names in a case file."""
    plain = TypeAdapter(Case).dump_python(case, mode="json", exclude_none=True)
    assert isinstance(plain, dict)
    return plain


def result(run: Run) -> dict[str, Any]:
    """Give a run as plain data: millimetres, MPa, N/mm; None where there is no answer."""
    document = {
        "schema_version": SCHEMA_VERSION,
        "made_by": MADE_BY,
        "library_versions": library_versions(),
        "inputs": case_json(run.case),
        "caution": CAUTION,
        "warnings": list(run.warnings),
        "section": asdict(run.measures),
        "steel": _steel(run.steel),
        "mesh": {
            "triangles": int(run.mesh.triangles.shape[1]),
            "unknowns": 2 * int(run.mesh.points_mm.shape[1]),
            "meshes_made": run.rounds,
        },
        "loads": [_load(answer) for answer in run.loads],
    }
    rounded = rounded_numbers(document)
    assert isinstance(rounded, dict)
    return rounded


def result_text(run: Run) -> str:
    """Give a run as JSON text that ends with a newline; NaN cannot get in."""
    return json.dumps(result(run), indent=2, ensure_ascii=False, allow_nan=False) + "\n"
