"""Meshing in a process of its own: the same mesh, a deadline, and no crash that spreads."""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

import simedge
from simedge.errors import NumericsFailed, SystemLibraryMissing
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import mesh_outline
from simedge.section.mesh_worker import mesh_in_worker, worker_command

ROUGH = Resolution.for_accuracy(10.0)


def fake(program: str) -> tuple[str, ...]:
    return (sys.executable, "-c", program)


def alive(pid: int) -> bool:
    """Tell whether a process still does something; one that nobody asked for its end does not."""
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except (FileNotFoundError, ProcessLookupError):
        return False
    return state not in "ZX"


def test_the_mesh_is_the_same_to_the_last_bit(edge):
    outline = edge()
    here = mesh_outline(outline, {"left": (0.3,)}, ROUGH)
    there = mesh_in_worker(outline, {"left": (0.3,)}, ROUGH)
    assert np.array_equal(here.points_mm, there.points_mm)
    assert np.array_equal(here.triangles, there.triangles)
    assert here.boundary.keys() == there.boundary.keys()
    assert not there.points_mm.flags.writeable


def test_a_worker_over_the_deadline_is_killed_and_the_time_is_said(edge, tmp_path):
    note = tmp_path / "pid"
    hangs = fake(
        f"import os, time; open({str(note)!r}, 'w').write(str(os.getpid())); time.sleep(60)"
    )
    began = time.perf_counter()
    with pytest.raises(NumericsFailed, match=r"still at it after 1 s and was stopped") as caught:
        mesh_in_worker(edge(), {}, ROUGH, deadline_s=1.0, command=hangs)
    assert caught.value.exit_code == 3
    assert time.perf_counter() - began < 10.0
    assert not alive(int(note.read_text()))


@pytest.mark.parametrize(
    ("program", "said"),
    [
        ("import os, signal; os.kill(os.getpid(), signal.SIGSEGV)", "killed by SIGSEGV"),
        ("import sys; sys.exit('out of wits')", "out of wits"),
        ("import os; os._exit(7)", "exit code 7"),
        ("print('half')", "half an answer"),
        ("", "half an answer"),
    ],
    ids=["crash", "words", "silence", "rubbish", "nothing"],
)
def test_a_worker_that_dies_is_told_in_one_line(edge, program, said):
    with pytest.raises(NumericsFailed, match="the mesher died: ") as caught:
        mesh_in_worker(edge(), {}, ROUGH, command=fake(program))
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("kind", [NumericsFailed, SystemLibraryMissing])
def test_an_error_of_the_mesher_comes_back_as_itself(edge, kind):
    program = (
        "import pickle, sys; from simedge.errors import *; "
        f"pickle.dump({kind.__name__}('no luck'), sys.stdout.buffer)"
    )
    with pytest.raises(kind, match=r"^no luck$"):
        mesh_in_worker(edge(), {}, ROUGH, command=fake(program))


def test_a_worker_that_cannot_be_started(edge, tmp_path):
    with pytest.raises(NumericsFailed, match="could not be started"):
        mesh_in_worker(edge(), {}, ROUGH, command=(str(tmp_path / "nothing"),))


def test_what_a_library_prints_does_not_get_into_the_answer(edge, monkeypatch, tmp_path):
    # a gmsh that talks on standard output, as the real one does of some outlines
    (tmp_path / "sitecustomize.py").write_text("import os\nos.write(1, b'')\n")
    chatty = tmp_path / "chatty.py"
    chatty.write_text(
        "import os, runpy\n"
        "import simedge.section.mesh as mesh\n"
        "plain = mesh.mesh_outline\n"
        "def loud(*task):\n"
        "    os.write(1, b'Info: meshing'); print('more')\n"
        "    return plain(*task)\n"
        "mesh.mesh_outline = loud\n"
        "runpy.run_module('simedge.section.mesh_worker', run_name='__main__')\n"
    )
    mesh = mesh_in_worker(edge(), {}, ROUGH, command=(sys.executable, str(chatty)))
    assert mesh.triangles.shape[0] == 6


def test_a_folder_with_files_named_like_libraries_does_no_harm(edge, monkeypatch, tmp_path):
    (tmp_path / "numpy.py").write_text("raise SystemExit('the wrong one')\n")
    monkeypatch.chdir(tmp_path)
    assert mesh_in_worker(edge(), {}, ROUGH).triangles.shape[0] == 6


def test_a_script_without_a_guard_runs_once(tmp_path):
    script = tmp_path / "plain.py"
    script.write_text(
        "import sys\n"
        f"sys.path.insert(0, {str(Path(simedge.__file__).parent.parent)!r})\n"
        "print('once')\n"
        "from simedge import read_case, run_case\n"
        "print(run_case(read_case('worn-kitchen-knife-on-carrots')).mesh.triangles.shape[0])\n"
    )
    done = subprocess.run(
        [sys.executable, str(script)], capture_output=True, text=True, check=True, timeout=120
    )
    assert done.stdout.split() == ["once", "6"]


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="no alarms on this system")
def test_a_worker_without_a_master_ends_by_itself(edge):
    import pickle

    program = (
        "import signal, time\n"
        "import simedge.section.mesh_worker as worker\n"
        "worker.ORPHAN_S = 0.5\n"
        "worker.mesh_outline = lambda *task: time.sleep(60)\n"
        "worker._work()\n"
    )
    task = pickle.dumps((edge(), {}, ROUGH, 0.5))
    done = subprocess.run(fake(program), input=task, capture_output=True, timeout=30, check=False)
    assert done.returncode == -signal.SIGALRM


def test_ctrl_c_stops_worker_and_program_with_130(tmp_path):
    note = tmp_path / "pid"
    hangs = f"import os, time; open({str(note)!r}, 'w').write(str(os.getpid())); time.sleep(60)"
    program = (
        "import sys\n"
        "import simedge.section.mesh_worker as worker\n"
        f"worker.worker_command = lambda: (sys.executable, '-c', {hangs!r})\n"
        "from simedge.cli.main import main\n"
        "sys.exit(main(['run', 'worn-kitchen-knife-on-carrots']))\n"
    )
    running = subprocess.Popen(fake(program), cwd=tmp_path, stderr=subprocess.PIPE, text=True)
    for _ in range(300):
        if note.exists() and note.read_text():
            break
        time.sleep(0.1)
    running.send_signal(signal.SIGINT)
    _, said = running.communicate(timeout=30)
    assert running.returncode == 130
    assert "stopped" in said
    assert not alive(int(note.read_text()))


def test_the_command_imports_nothing_from_the_working_folder():
    assert "-P" in worker_command()
