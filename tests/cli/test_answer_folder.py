"""Where an answer goes: a folder of its own, never half written, nothing of others lost."""

from __future__ import annotations

import errno
import json
import os
import signal
import subprocess
import sys
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

import pytest

from simedge.cli.main import main
from simedge.errors import BadInput, NumericsFailed
from simedge.output.answer_folder import prepare_folder, put_files

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
    # nor must `--out --json` fill a folder of that name
    (said,) = told("run", "case.toml", "--out", "--json")
    assert "--out: is --json, which looks like an option" in said


def test_an_option_given_twice_counts_as_it_was_given_last(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["run", "case.toml", "--out", "a", "--json", "--out", "b", "--json"]) == 0
    assert not (folder / "a").exists()
    # the JSON document is printed and is a file as well
    assert capsys.readouterr().out == (folder / "b" / "result.json").read_text(encoding="utf-8")


def test_output_folders_that_cannot_take_an_answer(
    folder: Path, told: Told, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "strangers").mkdir()
    (folder / "strangers" / "stress.png").write_bytes(b"a picture of somebody else")
    (folder / "taken" / "stress.png").mkdir(parents=True)
    (folder / "taken" / "result.json").write_text('{"made_by": "simedge"}')
    (folder / "astray").mkdir()
    (folder / "astray" / "result.json").symlink_to(folder / "nothing-there-yet")
    (folder / "loop").symlink_to("loop")
    for name, words in {
        "nowhere/deeper": "does not exist",
        "knife.toml": "is a file",
        "strangers": "holds stress.png, but no earlier answer",
        "knife.toml/deeper": "--out",
        "x" * 300: "File name too long",
        "taken": "holds stress.png, no file but a folder or a broken link",
        "astray": "holds result.json, no file but a folder or a broken link",
        "loop": "cannot write to loop",
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


def test_a_disk_that_fills_up_is_told_with_code_3(folder: Path) -> None:
    # a limit on the size of files is met like a full disk: in the middle of writing one
    program = (
        "import resource, sys; from simedge.cli.main import main; "
        "resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, resource.RLIM_INFINITY)); "
        "sys.exit(main(['run', 'case.toml', '--out', 'answer']))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=folder, capture_output=True, text=True, check=False
    )
    assert done.returncode == 3
    assert done.stdout == ""
    (said,) = done.stderr.splitlines()
    assert said.startswith("simedge: the answer could not be written to answer: File too large")
    assert list((folder / "answer").iterdir()) == []


NAMES = ("stations.csv", "stress.png", "result.json")


def killed_while_writing(folder: Path, moment: int) -> None:
    """Replace an answer in a process that is killed before its n-th file is put in place."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of threads: the child uses none
        child = os.fork()
    if not child:
        count = iter(range(100))

        def replace(self: Path, target: Path) -> Path:
            if next(count) == moment:
                os.kill(os.getpid(), signal.SIGKILL)
            self.rename(target)
            return target

        Path.replace = replace  # type: ignore[assignment, method-assign]
        new = json.dumps({"made_by": "simedge", "answer": "new"})
        put_files(folder, {name: (lambda path: path.write_text(new) and None) for name in NAMES})
        os._exit(0)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status) == (moment < len(NAMES))


@pytest.mark.parametrize("moment", range(4))
def test_a_kill_at_any_moment_leaves_no_mixed_answer(moment: int, tmp_path: Path) -> None:
    old = json.dumps({"made_by": "simedge", "answer": "old"})
    for name in NAMES:
        (tmp_path / name).write_text(old)
    (tmp_path / "notes.txt").write_text("mine")
    killed_while_writing(tmp_path, moment)
    document = tmp_path / NAMES[-1]
    if document.exists():  # then all belong together
        assert len({(tmp_path / name).read_text() for name in NAMES}) == 1
        assert moment == 3
    # and the folder takes the next answer, while it would not take a stranger's files
    prepare_folder(tmp_path, files=NAMES)
    if moment < 3:
        (tmp_path / "other.png").write_text("of somebody else")
        with pytest.raises(BadInput, match=r"holds other\.png, .*but no earlier answer"):
            prepare_folder(tmp_path, files=("other.png", *NAMES))
    put_files(tmp_path, {name: (lambda path: path.write_text("{}") and None) for name in NAMES})
    assert {(tmp_path / name).read_text() for name in NAMES} == {"{}"}
    assert (tmp_path / "notes.txt").read_text() == "mine"
    assert not (tmp_path / ".simedge-unfinished").exists()


def test_a_run_that_is_killed_while_it_writes_leaves_the_earlier_answer(
    folder: Path, answered: Callable[..., dict[str, Any]], all_files: AllFiles
) -> None:
    answered()
    before = all_files(folder)
    program = (
        "import os, signal, sys; import simedge.output.answer_folder as writing; "
        "from simedge.cli.main import main; "
        "writing.result_text = lambda run: os.kill(os.getpid(), signal.SIGKILL); "
        "main(['run', 'case.toml'])"
    )
    done = subprocess.run([sys.executable, "-c", program], cwd=folder, check=False)
    assert done.returncode == -signal.SIGKILL
    after = all_files(folder)
    left = {path for path in after if ".simedge-making-" in str(path)}
    assert {path: after[path] for path in after if path not in left} == before
    # what it had half made is swept away later, when no other run can be busy with it
    assert len({path.parent for path in left}) == 1
    answered()
    assert left <= set(all_files(folder))
    hours_ago = next(iter(left)).stat().st_mtime - 7200
    os.utime(next(iter(left)).parent, (hours_ago, hours_ago))
    answered()
    assert set(all_files(folder)) == set(before)


def test_ctrl_c_waits_while_files_are_put_in_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupting(path: Path) -> None:
        path.write_text("{}")

    seen = []
    replace = Path.replace

    def interrupted(self: Path, target: Path) -> Path:
        os.kill(os.getpid(), signal.SIGINT)
        seen.append(target.name)
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        put_files(tmp_path, dict.fromkeys(NAMES, interrupting))
    assert seen == list(NAMES)
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(NAMES)
