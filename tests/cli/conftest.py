"""The program as a person starts it: a process of its own, in a folder of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

import pytest

from simedge.cli.main import main

Simedge = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def simedge(tmp_path: Path) -> Simedge:
    """Run ``simedge`` with arguments in an empty folder."""

    def run(*arguments: object, typed: str = "") -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "simedge", *map(str, arguments)],
            cwd=tmp_path,
            input=typed,
            capture_output=True,
            encoding="utf-8",
            timeout=120,
            check=False,
            env={**os.environ, "PYTHONIOENCODING": "utf-8"},
        )

    return run


KNIFE = """\
schema = 1
name = "trial knife"
height_mm = 28.0
spine_thickness_mm = 3.2
[apex]
radius_um = 1.5
[[bevels]]
name = "micro-bevel"
dps = 15.0
height_mm = 0.08
[[bevels]]
name = "edge bevel"
dps = 11.0
ends_at_thickness_mm = 0.45
[primary_grind]
kind = "flat"
"""
CASE = """\
schema = 1
title = "trial"
accuracy_percent = 10.0
profile = "knife.toml"
[steel]
grade = "52100"
hardness_hrc = 60
[support]
clamp_depth_mm = 12.0
[[loads]]
name = "pressing"
at = "left face"
from_mm = 0.1
to_mm = 1.5
pressure_mpa = 40.0
[[loads]]
name = "tip"
force_n = 4.0
contact_length_mm = 12.0
direction_deg = 30.0
"""


def _all_files(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Work in a folder that holds the trial case and its knife."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "knife.toml").write_text(KNIFE, encoding="utf-8")
    (tmp_path / "case.toml").write_text(CASE, encoding="utf-8")
    return tmp_path


@pytest.fixture
def edit(folder: Path) -> Callable[[str, str, str], int]:
    """Replace the one place of a text in a file; give the line on which the new text ends."""

    def replace(name: str, old: str, new: str) -> int:
        text = (folder / name).read_text(encoding="utf-8")
        assert text.count(old) == 1, old
        text = text.replace(old, new)
        (folder / name).write_text(text, encoding="utf-8")
        return text.count("\n", 0, text.index(new) + len(new)) + 1

    return replace


Told = Callable[..., list[str]]


@pytest.fixture
def told(folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Told:
    """Run a command that must be refused before anything is solved; give the lines it says."""

    def run(*arguments: str) -> list[str]:
        before = _all_files(folder)
        monkeypatch.setattr("simedge.runs.run.run_case", unexpected)
        code = main(list(arguments))
        said = capsys.readouterr()
        assert code == 2
        assert said.out == ""
        assert "Traceback" not in said.err
        assert _all_files(folder) == before
        return said.err.splitlines()

    return run


def unexpected(*_: object) -> NoReturn:
    pytest.fail("nothing may be solved")


@pytest.fixture
def all_files() -> Callable[[Path], dict[Path, bytes]]:
    """Read every file below a folder."""
    return _all_files


@pytest.fixture
def answered(folder: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., dict[str, Any]]:
    """Run a case that must be answered; give what ``--json`` prints."""

    def run(case: str = CASE) -> dict[str, Any]:
        (folder / "case.toml").write_text(case, encoding="utf-8")
        assert main(["run", "case.toml", "--json"]) == 0
        said = capsys.readouterr()
        assert said.err == ""
        document: dict[str, Any] = json.loads(said.out, parse_constant=pytest.fail)
        return document

    return run


@pytest.fixture
def no_files(monkeypatch: pytest.MonkeyPatch) -> None:
    """Write no files: they take longer than the answer, and are tested elsewhere."""
    monkeypatch.setattr(
        "simedge.output.answer_folder.write_answer", lambda run, target: (target / "picture",)
    )
