"""Print the measured accuracy and speed: ``python tests/benchmark.py``. Asserts nothing.

Each table has the worst differences that the tests of `tests/verification` bound, next to the
tolerance that they are held to. pytest finds no test here; the measuring itself is the tests' own.
"""

# ruff: noqa: T201 - printing is what this script is for

from __future__ import annotations

import platform
import statistics
import sys
import time
from collections.abc import Iterable, Sequence
from pathlib import Path

import numpy as np

HERE = Path(__file__).parent


def table(title: str, columns: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    """Print a table with its columns aligned."""
    cells = [
        [f"{cell:.3g}" if isinstance(cell, float) else str(cell) for cell in row] for row in rows
    ]
    widths = [max(map(len, column)) for column in zip(columns, *cells, strict=True)]
    print(f"\n{title}")
    for row in ([*columns], *cells):
        print("  " + "  ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True)))


def wedge_stress() -> None:
    """Print stress against Michell's wedge, at the default accuracy and at the tests'."""
    from verification import test_wedge_stress as figure

    def worst(dps: float, direction: str, accuracy_percent: float) -> float:
        return max(
            float(figure.differences_percent(dps, dps, direction, depth, accuracy_percent).max())
            for depth in figure.CLAMP_DEPTHS_MM
        )

    table(
        f"Wedge, both faces and axis, 60 R to 0.2 of the clamp: worst difference in % of the "
        f"face's stress (tolerance {figure.TOLERANCE_PERCENT:g}; accuracy_percent in brackets)",
        [
            "dps",
            *(
                f"{d} ({a:g})"
                for a in sorted({1.0, figure.ACCURACY_PERCENT})
                for d in figure.DIRECTIONS
            ),
        ],
        (
            [
                f"{dps:g}",
                *(
                    worst(dps, direction, accuracy)
                    for accuracy in sorted({1.0, figure.ACCURACY_PERCENT})
                    for direction in figure.DIRECTIONS
                ),
            ]
            for dps in figure.HALF_ANGLES_DEG
        ),
    )


def yield_depth() -> None:
    """Print yield depth against the root of the exact field."""
    from verification import test_yield_depth as figure

    table(
        f"Yield depth, 30 to 2000 R: worst difference, % (tolerance {figure.TOLERANCE_PERCENT:g})",
        ["dps", *figure.DIRECTIONS],
        (
            [
                f"{dps:g}",
                *(
                    float(figure.depth_differences_percent(dps, direction)[1].max())
                    for direction in figure.DIRECTIONS
                ),
            ]
            for dps in figure.HALF_ANGLES_DEG
        ),
    )


def truncated_wedge() -> None:
    """Print peak, place and movement of the truncated wedge."""
    from verification import test_truncated_wedge as figure

    rows = []
    for dps in figure.HALF_ANGLES_DEG:
        for spread in figure.SPREADS:
            found = figure.differences_percent(dps, spread)
            rows.append(
                [
                    f"{dps:g}",
                    spread,
                    found.peak_along_face,
                    found.answered_peak,
                    found.place_along_face,
                    found.answered_place,
                    found.movement_of_middle,
                    found.movement_of_mean,
                    str(figure.MOVEMENT_TOLERANCE_PERCENT.get(dps, "-")),
                ]
            )
    table(
        f"Truncated wedge, lateral load, rho 10: differences in % (tolerance of the peak "
        f"{figure.PEAK_TOLERANCE_PERCENT:g}, of its place {figure.PLACE_TOLERANCE_PERCENT:g})",
        [
            "dps",
            "spread",
            "peak",
            "answer's",
            "place",
            "answer's",
            "moves: middle",
            "mean of land",
            "tolerance",
        ],
        rows,
    )


def micro_bevel_gain() -> None:
    """Print the gain of a micro-bevel against the closed form."""
    from verification import test_micro_bevel_gain as figure

    rows = []
    for micro, primary in figure.PAIRS_DEG:
        kink = figure.saturation_ratio(micro, primary)
        for height in sorted({*figure.HEIGHT_RATIOS, kink}):
            exact = figure.exact_gain(micro, primary, height)
            found = figure.found_gain(micro, primary, height)
            mark = "H*" if height == kink else ""
            rows.append(
                [
                    f"{micro:g}/{primary:g}",
                    f"{height:.3f}",
                    mark,
                    f"{found:.4f}",
                    f"{exact:.4f}",
                    100.0 * (found / exact - 1.0),
                ]
            )
    table(
        f"Micro-bevel on a land: gain in first-yield load (within {figure.TOLERANCE_PERCENT:g} %)",
        ["angles", "H", "", "found", "closed form", "difference %"],
        rows,
    )


def face_load_field() -> None:
    """Print pressure and shear along a face against Levy's wedge."""
    from verification import test_face_load_field as figure

    table(
        f"Whole face pressed or dragged, 60 R to 0.2 of the clamp: worst difference in % of the "
        f"face's stress (tolerance {figure.TOLERANCE_PERCENT:g})",
        ["dps", *(f"{kind} {side}" for kind in figure.KINDS for side in figure.SIDES)],
        (
            [
                f"{dps:g}",
                *(
                    float(figure.differences_percent(dps, kind, side).max())
                    for kind in figure.KINDS
                    for side in figure.SIDES
                ),
            ]
            for dps in figure.HALF_ANGLES_DEG
        ),
    )


def invariances() -> None:
    """Print what one mesh and two meshes keep."""
    from verification import test_invariances as figure

    from simedge.studies.verify.balances import section_force_differences_percent

    reactions = max(
        answer.reaction_error
        for shape in figure.BALANCED
        for answer in figure.run_balanced(*shape).loads
    )
    table(
        "On one mesh: largest relative error",
        ["", "error", "tolerance"],
        [
            ["linear in the load", figure.linear_error(), figure.ROUNDING],
            ["mirrored", figure.mirrored_error(), figure.ROUNDING],
            ["all lengths times ten", figure.scaled_error(), figure.ROUNDING],
            ["reactions", float(reactions), figure.ROUNDING],
        ],
    )
    rows = []
    for apex in figure.APEXES:
        name = f"radius {apex.radius_um:g} µm" if apex.radius_um else f"land {apex.land_um:g} µm"
        for label, how in (("mirrored", {"mirrored": True}), ("extra points", {"extra": True})):
            worst = figure.remeshed_differences_percent(apex, **how).max(axis=0)
            rows.append([name, label, *(float(value) for value in worst)])
    table(
        f"Meshed anew: worst difference in % (tolerance {figure.REMESHED_PERCENT:g})",
        ["", "", "section peak", "moves axially", "moves laterally", "yield depth"],
        rows,
    )
    forces = section_force_differences_percent().max(axis=(0, 1))
    table(
        "Section forces against the field's resultants: worst difference in % (tolerance 0.5)",
        ["axial", "shear", "moment"],
        [[float(value) for value in forces]],
    )


def speed() -> None:
    """Print how long a warm run takes."""
    from verification import test_run_speed as figure

    timings = figure.time_warm_runs(15)
    milliseconds = [
        1000.0 * statistics.median(getattr(timing, key) for timing in timings)
        for key in ("run_s", "mesh_s", "factorise_s")
    ]
    ratios = sorted(timing.ratio for timing in timings)
    table(
        f"Warm run, three loads, median of {len(timings)} "
        f"(ratio: at most {figure.LARGEST_RATIO:g})",
        ["run ms", "mesh ms", "factorise ms", "ratio", "best", "worst"],
        [
            [
                *(f"{value:.0f}" for value in milliseconds),
                figure.median_ratio(timings),
                ratios[0],
                ratios[-1],
            ]
        ],
    )


def main() -> None:
    """Print all the tables."""
    # the checkout itself, for a run without installing, and the tests' own measuring
    sys.path[:0] = [str(HERE), str(HERE.parent)]
    begin = time.perf_counter()
    print(f"Python {platform.python_version()}, numpy {np.__version__}, {platform.machine()}")
    for figure in (
        wedge_stress,
        yield_depth,
        truncated_wedge,
        micro_bevel_gain,
        face_load_field,
        invariances,
        speed,
    ):
        figure()
    print(f"\n{time.perf_counter() - begin:.0f} s in all")


if __name__ == "__main__":
    main()
