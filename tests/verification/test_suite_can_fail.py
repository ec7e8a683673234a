"""The suite can fail: each of eight mistakes, made in a copy of the program, turns it red.

Every mistake is one replacement of program text. Some that mistake the physics in a closed form
and some that mistake it in the pipeline stand for the same kind: eight kinds are counted. Only
the checks that should catch a mistake are run, in a process of their own as a person runs them.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

import simedge

PACKAGE = Path(simedge.__file__).parent
ALL_HOLD, ONE_FAILS = 0, 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistake:
    """One replacement in one file, and the checks that should catch it."""

    kind: str
    file: str
    right: str
    wrong: str
    keys: tuple[str, ...]


MISTAKES = (
    Mistake(
        kind="a sign in the shear",
        file="section/loading.py",
        right="friction=load.friction,",
        wrong="friction=-load.friction,",
        keys=("face-friction",),
    ),
    Mistake(
        kind="a sign in the shear",
        file="strength/closed_form/wedge_stress.py",
        right="shear = 0.5 + a * k / m",
        wrong="shear = 0.5 - a * k / m",
        keys=("face-load-table",),
    ),
    Mistake(
        kind="a lost factor 2",
        file="strength/closed_form/wedge_stress.py",
        right="radial = 2.0 * scale * np.sin(2 * t)",
        wrong="radial = scale * np.sin(2 * t)",
        keys=("moment-table",),
    ),
    Mistake(
        kind="half angle for included",
        file="strength/closed_form/wedge_constants.py",
        right="double, quadruple = 2 * half_angle_rad,",
        wrong="double, quadruple = half_angle_rad,",
        keys=("wedge-constants",),
    ),
    Mistake(
        kind="half angle for included",
        file="inputs/grinds.py",
        right="return record.dps, record.dps",
        wrong="return 0.5 * record.dps, 0.5 * record.dps",
        keys=("truncated-wedge-peak",),
    ),
    Mistake(
        kind="plane stress for plane strain",
        file="fem/elasticity.py",
        right='plane: Literal["strain", "stress"] = "strain"',
        wrong='plane: Literal["strain", "stress"] = "stress"',
        keys=("wedge-movement",),
    ),
    Mistake(
        kind="nu' and nu mixed up",
        file="strength/closed_form/wedge_constants.py",
        right="return _poisson(poissons_ratio) / (1.0 - poissons_ratio)",
        wrong="return _poisson(poissons_ratio)",
        keys=("truncated-wedge-table",),
    ),
    Mistake(
        kind="nu' and nu mixed up",
        file="fem/elasticity.py",
        right="modulus / (1.0 - ratio**2), ratio / (1.0 - ratio)",
        wrong="modulus / (1.0 - ratio**2), ratio",
        keys=("face-pressure",),
    ),
    Mistake(
        kind="clamp forgotten",
        file="fem/elastic.py",
        right='held[:, np.unique(mesh.boundary["base"])] = True',
        wrong='held[0, np.unique(mesh.boundary["base"])] = True',
        keys=("wedge-movement", "tapered-beam"),
    ),
    Mistake(
        kind="load on the wrong face",
        file="section/loading.py",
        right='side: Side = "left" if load.at == "left face" else "right"',
        wrong='side: Side = "right" if load.at == "left face" else "left"',
        keys=("face-pressure",),
    ),
    Mistake(
        kind="micrometres for millimetres",
        file="units.py",
        right="return length_um / 1000.0",
        wrong="return length_um",
        keys=("wedge-lateral",),
    ),
)
EIGHT = 8
Outcomes = dict[Mistake, tuple[int, str]]


def verify(package: Path, keys: tuple[str, ...]) -> subprocess.CompletedProcess[str]:
    """Run ``simedge verify`` of a copied package."""
    return subprocess.run(
        [sys.executable, "-m", "simedge", "verify", *keys],
        cwd=package.parent,
        env={**os.environ, "PYTHONPATH": str(package.parent), "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )


def copied(folder: Path) -> Path:
    target = folder / "simedge"
    shutil.copytree(PACKAGE, target, ignore=shutil.ignore_patterns("__pycache__"))
    return target


def outcome(mistake: Mistake, folder: Path) -> subprocess.CompletedProcess[str]:
    """Make the mistake in a copy and run the checks that should catch it."""
    package = copied(folder)
    file = package / mistake.file
    text = file.read_text(encoding="utf-8")
    assert text.count(mistake.right) == 1, f"{mistake.file} has changed: adapt this test"
    file.write_text(text.replace(mistake.right, mistake.wrong), encoding="utf-8")
    return verify(package, mistake.keys)


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> Outcomes:
    found = {}
    for mistake in MISTAKES:
        done = outcome(mistake, tmp_path_factory.mktemp("mistaken"))
        found[mistake] = done.returncode, done.stdout + done.stderr
    return found


@pytest.mark.slow
def test_without_a_mistake_the_same_checks_hold(tmp_path: Path) -> None:
    keys = tuple(sorted({key for mistake in MISTAKES for key in mistake.keys}))
    done = verify(copied(tmp_path), keys)
    assert done.returncode == ALL_HOLD, done.stdout + done.stderr
    assert done.stdout.startswith(f"All {len(keys)} checks hold")


@pytest.mark.slow
@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda m: f"{m.kind} in {m.file}")
def test_a_mistake_turns_the_suite_red(mistake: Mistake, outcomes: Outcomes) -> None:
    code, told = outcomes[mistake]
    assert code == ONE_FAILS, told
    assert "Traceback" not in told
    assert f"{mistake.keys[0]} fails: " in told


@pytest.mark.slow
def test_eight_of_eight_kinds_are_caught(outcomes: Outcomes) -> None:
    caught = {mistake.kind for mistake, (code, _) in outcomes.items() if code == ONE_FAILS}
    assert len({mistake.kind for mistake in MISTAKES}) == EIGHT
    assert len(caught) == EIGHT
