"""Where an answer goes: a folder of its own, never half written, nothing of others lost."""

from __future__ import annotations

import errno
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

import pytest

from simedge.cli.main import main
from simedge.errors import NumericsFailed

Told = Callable[..., list[str]]
AllFiles = Callable[[Path], dict[Path, bytes]]


@pytest.mark.parametrize("name", [".toml", "..toml", "...toml", "a b.toml", "[b].toml", "ä.toml"])
def test_the_answer_stays_in_a_folder_of_its_own(
    name: str, folder: Path, capsys: pytest.CaptureFixture[str], all_files: AllFiles
) -> None:
    (folder / name).write_bytes((folder / "case.toml").read_bytes())
    before = set(all_files(folder))
    assert main(["run", name]) == 0
    made = set(all_files(folder)) - before
    assert len({path.parent for path in made}) == 1
    assert {path.parent.parent for path in made} == {folder / "simedge-out"}
    assert "Traceback" not in capsys.readouterr().err


def test_an_output_folder_without_a_name_is_refused(told: Told) -> None:
    # `--out "$DIR"` with DIR not set must not fill the folder that one happens to stand in
    (said,) = told("run", "case.toml", "--out", "")
    assert "--out" in said


def test_output_folders_that_cannot_take_an_answer(
    folder: Path, told: Told, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "strangers").mkdir()
    (folder / "strangers" / "stress.png").write_bytes(b"a picture of somebody else")
    for name, words in {
        "nowhere/deeper": "does not exist",
        "knife.toml": "is a file",
        "strangers": "holds stress.png, but no earlier answer",
        "knife.toml/deeper": "--out",
    }.items():
        (said,) = told("run", "case.toml", "--out", name)
        assert said.startswith("simedge: --out: ")
        assert words in said

    def read_only(*_: object, **__: object) -> NoReturn:
        raise OSError(errno.EROFS, "Read-only file system")

    monkeypatch.setattr("simedge.output.answer_folder.tempfile.mkstemp", read_only)
    (said,) = told("run", "case.toml", "--out", "strangers")
    assert "Read-only file system" in said


@pytest.mark.parametrize(
    ("failure", "code", "words"),
    [
        (NumericsFailed("the mesher produced nothing"), 3, "the mesher produced nothing"),
        (KeyboardInterrupt(), 130, "stopped"),
    ],
)
def test_what_ends_a_run_leaves_the_earlier_answer(
    failure: BaseException,
    code: int,
    words: str,
    folder: Path,
    answered: Callable[..., dict[str, Any]],
    all_files: AllFiles,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    answered()
    before = all_files(folder)

    def ended(*_: object) -> NoReturn:
        raise failure

    monkeypatch.setattr("simedge.runs.run.run_case", ended)
    assert main(["run", "case.toml"]) == code
    said = capsys.readouterr()
    assert said.out == ""
    assert words in said.err
    assert all_files(folder) == before


@pytest.mark.parametrize("writer", ["stations_text", "result_text"])
def test_a_full_disk_leaves_the_earlier_answer(
    writer: str,
    folder: Path,
    answered: Callable[..., dict[str, Any]],
    all_files: AllFiles,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    answered()
    before = all_files(folder)

    def full(*_: object) -> NoReturn:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(f"simedge.output.answer_folder.{writer}", full)
    case = (folder / "case.toml").read_text(encoding="utf-8")
    (folder / "case.toml").write_text(case.replace("force_n = 4.0", "force_n = 5.0"))
    assert main(["run", "case.toml"]) == 3
    said = capsys.readouterr()
    assert "No space left on device" in said.err
    assert said.out == ""
    (folder / "case.toml").write_text(case)
    assert all_files(folder) == before
    assert not list(folder.rglob(".simedge-*"))
