"""The program as a person starts it: a process of its own, in a folder of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

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
