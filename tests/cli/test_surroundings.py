"""What the program is started in: pipes, full disks, odd terminals, and Ctrl-C."""

from __future__ import annotations

import errno
import fcntl
import os
import pty
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

import pytest

from simedge.cli.main import main

SIMEDGE = (sys.executable, "-m", "simedge")
AllFiles = Callable[[Path], dict[Path, bytes]]


def in_shell(line: str, folder: Path, **environment: str | None) -> subprocess.CompletedProcess:
    """Run a line of bash in which ``simedge`` stands for the program; None unsets a variable."""
    kept = {**os.environ, **environment}
    return subprocess.run(
        ["bash", "-c", line.replace("simedge", " ".join(SIMEDGE))],
        cwd=folder,
        env={key: value for key, value in kept.items() if value is not None},
        capture_output=True,
        check=False,
        timeout=120,
    )


@pytest.mark.parametrize(
    ("command", "code"),
    [
        ("steels > /dev/full", 3),
        ("profile knife.toml > /dev/full", 3),
        ("run case.toml --json > /dev/full", 3),
        ("--help > /dev/full", 3),
        ("run nowhere.toml 2> /dev/full", 2),
        ("runn 2> /dev/full", 2),
        ("steels >&-", 0),
        ("run nowhere.toml 2>&-", 2),
        ("steels >&- 2>&-", 0),
        ("profile knife.toml <&-", 0),
    ],
)
def test_where_nothing_can_be_printed_the_code_still_tells(
    command: str, code: int, folder: Path
) -> None:
    done = in_shell(f"simedge {command}", folder)
    assert done.returncode == code
    said = done.stderr.decode()
    if code == 3:
        assert (
            said == "simedge: standard output: No space left on device; nothing more was written\n"
        )
    else:
        assert said == ""


@pytest.mark.parametrize("command", ["steels", "run case.toml --json", "run case.toml"])
def test_a_reader_that_goes_away_is_no_mistake(command: str, folder: Path) -> None:
    done = in_shell(f"simedge {command} | head -1; exit ${{PIPESTATUS[0]}}", folder)
    assert len(done.stdout.splitlines()) == 1
    assert done.stderr == b""
    # the mesher may have put back what the system does by itself: end by SIGPIPE
    assert done.returncode in (0, 128 + signal.SIGPIPE)


@pytest.mark.parametrize(
    "environment",
    [
        {"HOME": None, "USER": None, "TERM": None, "LC_ALL": "xx_YY.nonsense", "TZ": "nowhere"},
        {"HOME": "/nonexistent", "XDG_CONFIG_HOME": "/proc", "COLUMNS": "20", "NO_COLOR": "1"},
        {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0", "COLUMNS": "0"},
        {"PYTHONIOENCODING": "ascii", "LANG": "de_DE.UTF-8", "COLUMNS": "wide"},
    ],
)
def test_odd_surroundings_change_no_answer(environment: dict[str, str], folder: Path) -> None:
    done = in_shell("simedge run case.toml", folder, **environment)
    assert done.returncode == 0
    said = done.stdout.decode("utf-8")
    assert said.startswith("pressing: Comes through")
    assert "1760 MPa" in said
    assert "…" not in said
    # some graphics libraries say that they found no home of their own, and that is all
    assert b"Traceback" not in done.stderr
    assert b"simedge:" not in done.stderr


def test_a_terminal_of_twenty_columns_loses_no_number(folder: Path) -> None:
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 20, 0, 0))
    done = subprocess.Popen([*SIMEDGE, "run", "case.toml"], cwd=folder, stdout=theirs, stdin=theirs)
    os.close(theirs)
    said = b""
    try:
        while part := os.read(ours, 65536):
            said += part
    except OSError:  # how a terminal says that its other end is closed
        pass
    os.close(ours)
    assert done.wait() == 0
    shown = (
        "1758 ± 2 MPa",
        "1952 ± 2 MPa",
        "245.8 ± 0.4 MPa",
        "151.6 ± 0.3 MPa",
        "242.0 ± 0.6 MPa",
    )
    for number in shown:
        assert number in said.decode()
    assert "…" not in said.decode()


def test_new_asks_nothing_where_it_could_not_write(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # root may write everywhere, so that rights alone would not show it
    def read_only(*_: object, **__: object) -> NoReturn:
        raise OSError(errno.EROFS, "Read-only file system")

    monkeypatch.setattr("tempfile.TemporaryFile", read_only)
    assert main(["new"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err == (
        "simedge: the working folder: takes no file (Read-only file system); change to another "
        "one\n"
    )


def test_a_working_folder_that_is_gone(folder: Path) -> None:
    for command, words in (("new", "the working folder"), ("run rope-knife-in-a-knot", "--out")):
        done = in_shell(
            f"mkdir gone; cd gone; rmdir ../gone; simedge {command} < /dev/null", folder
        )
        assert done.returncode == 2
        (said,) = done.stderr.decode().splitlines()[-1:]
        assert said.startswith(f"simedge: {words}: ")
        assert b"Traceback" not in done.stderr


# ---------------------------------------------------------------- Ctrl-C

#: Where Ctrl-C comes: the name of a function that is about to be called.
MOMENTS = {
    "reading": "simedge.inputs.files.read_toml",
    "meshing": "simedge.section.mesh._section_mesh",
    "solving": "simedge.fem.elastic.displace",
    "writing": "simedge.output.answer_folder.stations_text",
    "printing": "simedge.output.terminal.print_run",
}


@pytest.mark.parametrize("moment", MOMENTS)
def test_ctrl_c_at_any_moment_ends_with_130_and_one_line(
    moment: str,
    folder: Path,
    all_files: AllFiles,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def interrupted(*_: object, **__: object) -> None:
        signal.raise_signal(signal.SIGINT)

    before = all_files(folder)
    monkeypatch.setattr(MOMENTS[moment], interrupted)
    if moment == "solving":
        monkeypatch.setattr("simedge.runs.solve.displace", interrupted)
    assert main(["run", "case.toml"]) == 130
    said = capsys.readouterr()
    assert said.out == ""
    # click ends the line that the terminal has begun with ^C
    assert said.err == "\nsimedge: stopped; nothing half written was left behind\n"
    if moment != "printing":
        assert all_files(folder) == before


@pytest.mark.parametrize("moment", [0.2, 0.6, 1.1])
def test_ctrl_c_in_a_running_process(moment: float, folder: Path, all_files: AllFiles) -> None:
    # fine enough to take seconds, so that all of these moments lie within it
    case = (folder / "case.toml").read_text(encoding="utf-8")
    (folder / "case.toml").write_text(case.replace("_percent = 10.0", "_percent = 0.05"))
    before = all_files(folder)
    program = "import sys; from simedge.cli.main import entry; print('ready', flush=True); entry()"
    running = subprocess.Popen(
        [sys.executable, "-c", program, "run", "case.toml"],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
    )
    assert running.stdout is not None
    assert running.stdout.readline() == b"ready\n"
    time.sleep(moment)
    os.killpg(running.pid, signal.SIGINT)  # a terminal tells every process of the group
    out, said = running.communicate(timeout=30)
    assert running.returncode == 130
    assert out == b""
    assert said == b"\nsimedge: stopped; nothing half written was left behind\n"
    assert all_files(folder) == before
