# ruff: noqa: T201 - printing is what this script is for
"""How the errors that runs state compare with the true ones: the table, and its references.

The references are the same answers on meshes of about 50 times the unknowns; that takes an
hour, so they are kept beside this file, and made anew by

    python tests/verification/stated_errors.py

which prints how far the new ones are from those kept.
"""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from pathlib import Path
from unittest import mock

sys.path.insert(0, str(Path(__file__).parents[2]))
sys.path.insert(0, str(Path(__file__).parent))

import numpy as np
from random_sections import random_cases

from simedge.fem.elasticity import Elasticity
from simedge.inputs.case import Case
from simedge.inputs.steel_properties import steel_properties
from simedge.runs.errors import answer_errors
from simedge.runs.reading import Reading, read_load
from simedge.runs.refine import solve_to_accuracy
from simedge.runs.solve import Problem, solve
from simedge.section.element_sizes import Resolution
from simedge.section.loading import tractions_of
from simedge.section.outline import build_outline

REFERENCES = Path(__file__).with_name("reference_answers.json")
SECTIONS = 45
#: Elements of a reference, in length, as a share of the default's.
FINER = 7.2


@dataclass(frozen=True, slots=True, kw_only=True)
class StatedError:
    """A stated error beside the true one, both as shares of the answer."""

    case: str
    quantity: str
    stated: float
    true: float

    @property
    def covers(self) -> bool:
        """Whether the true error lies within the stated one."""
        return self.true <= self.stated

    @property
    def is_fair(self) -> bool:
        """Whether the statement is at most ten times too large."""
        return self.stated <= 10.0 * self.true


def problem_of(case: Case) -> tuple[Problem, float]:
    """Give a case as a problem, and its yield strength."""
    outline = build_outline(case.profile.apex, case.profile.faces, case.support.clamp_depth_mm)
    steel = steel_properties(case.steel)
    problem = Problem(
        outline=outline,
        tractions=tuple(
            tractions_of(load, case.load_name(index), outline)
            for index, load in enumerate(case.loads)
        ),
        elasticity=Elasticity(
            youngs_modulus_mpa=steel.youngs_modulus_mpa, poissons_ratio=steel.poissons_ratio
        ),
        traced=False,
    )
    return problem, steel.yield_strength_mpa


def told(reading: Reading) -> dict[str, float | None]:
    """Give the answers of one load that are compared."""
    peak, yielded, moved = reading.peaks.section, reading.yielded, reading.movement_mm
    # cut off at the clamp a depth is where it was cut
    depth = yielded.depth_mm if yielded.depth_mm and not yielded.reaches_clamp else None
    return {
        "section_peak_mpa": peak.value_mpa if peak else None,
        "axial_mm": moved[0] if moved else None,
        "lateral_mm": moved[1] if moved else None,
        "yield_depth_mm": depth,
    }


def stated_errors(case: Case, name: str, references: dict[str, dict]) -> list[StatedError]:
    """Compare one case's stated errors with what its references tell."""
    problem, strength = problem_of(case)
    refined = solve_to_accuracy(problem, strength, case.accuracy_percent)
    found = []
    for reading in refined.readings:
        true = references[reading.tractions.name]
        mine = told(reading)
        errors = answer_errors(reading, None, edge_turn_deg=None, contact_ratio=None)
        which = f"{name}, {reading.tractions.name}"

        def add(quantity: str, stated: float, off: float, size: float, which: str = which) -> None:
            found.append(
                StatedError(
                    case=which, quantity=quantity, stated=stated / size, true=abs(off) / size
                )
            )

        peak, exact = mine["section_peak_mpa"], true["section_peak_mpa"]
        if peak is not None and exact is not None:
            add("section peak", errors.section_peak_von_mises_mpa or 0.0, peak - exact, exact)
            factor, least = strength / peak, strength / exact
            add("load factor", errors.first_yield_load_factor or 0.0, factor - least, least)
        moved = np.array([mine["axial_mm"], mine["lateral_mm"]], dtype=float)
        exactly = np.array([true["axial_mm"], true["lateral_mm"]], dtype=float)
        stated = float(np.hypot(*reading.movement_error_mm))
        add("deflection", stated, np.hypot(*(moved - exactly)), float(np.hypot(*exactly)))
        depth, deep = mine["yield_depth_mm"], true["yield_depth_mm"]
        if depth is not None and deep is not None:
            add("yield depth", errors.yield_depth_mm or 0.0, depth - deep, deep)
    return found


def all_stated_errors() -> list[StatedError]:
    """Run every section that has references."""
    references = json.loads(REFERENCES.read_text(encoding="utf-8"))
    return [
        error
        for number, case in random_cases(SECTIONS)
        if str(number) in references
        for error in stated_errors(case, f"section {number}", references[str(number)])
    ]


def counted(errors: list[StatedError]) -> list[StatedError]:
    """Leave out what would be counted twice."""
    return [error for error in errors if error.quantity != "load factor"]


def effectivity_table(errors: list[StatedError]) -> str:
    """Write how stated errors compare with true ones, a line a quantity.

    A load factor is its peak upside down: among all it is not counted again.
    """
    lines = [
        f"{'':<14}{'answers':>8}{'covered':>9}{'at most 10x':>13}{'stated/true, quarters':>26}"
    ]
    quantities = list(dict.fromkeys(error.quantity for error in errors))
    for quantity in [*quantities, "all"]:
        some = (
            counted(errors)
            if quantity == "all"
            else [error for error in errors if error.quantity == quantity]
        )
        ratios = [error.stated / max(error.true, 1e-15) for error in some]
        quarters = " / ".join(f"{value:.2g}" for value in np.quantile(ratios, [0.25, 0.5, 0.75]))
        covered = np.mean([error.covers for error in some])
        fair = np.mean([error.is_fair for error in some])
        lines.append(f"{quantity:<14}{len(some):>8}{covered:>9.1%}{fair:>13.1%}{quarters:>26}")
    return "\n".join(lines)


def reference_answers(case: Case) -> dict[str, dict[str, float | None]]:
    """Answer a case on a mesh of about 50 times the unknowns."""
    problem, strength = problem_of(case)
    plain = Resolution.for_accuracy(1.0)
    finer = Resolution(
        across_tip=FINER * plain.across_tip,
        growth=plain.growth / FINER,
        across_thickness=FINER * plain.across_thickness,
        at_shoulder=FINER * plain.at_shoulder,
        at_patch_end=FINER * plain.at_patch_end,
    )
    with mock.patch("simedge.section.mesh.MOST_TRIANGLES", 1_000_000):
        solution = solve(problem, finer, 0)
    readings = [read_load(problem, solution, i, strength) for i in range(len(case.loads))]
    return {reading.tractions.name: told(reading) for reading in readings}


def main() -> None:
    """Make the references anew, one section after another, and say what changed."""
    kept = json.loads(REFERENCES.read_text(encoding="utf-8")) if REFERENCES.exists() else {}
    for number, case in random_cases(SECTIONS):
        found = reference_answers(case)
        for load, answers in found.items():
            for key, value in answers.items():
                old = kept.get(str(number), {}).get(load, {}).get(key)
                apart = "new" if not old or value is None else f"{value / old - 1.0:+.1e}"
                print(f"section {number}, {load}, {key}: {value} ({apart})", flush=True)
        kept[str(number)] = found
        text = json.dumps(kept, indent=1) + "\n"
        REFERENCES.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main() if "--table" not in sys.argv else print(effectivity_table(all_stated_errors()))
