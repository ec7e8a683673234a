"""Meshes an outline in a process of its own, which can be killed.

A mesher may hang or crash on an outline that came from a person's points, and a thread that
hangs in it cannot be stopped. The worker is this module, run by itself: outline in, mesh out,
pickled over its pipes. So it needs no guard in the script that calls, and nothing of that
script is run twice.
"""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from simedge.errors import NumericsFailed, SimedgeError
from simedge.section.element_sizes import Resolution
from simedge.section.mesh import SectionMesh, mesh_outline
from simedge.section.outline import Outline, Side

#: A section takes a tenth of a second, the finest that is accepted half a minute.
DEADLINE_S = 60.0
#: Should who waits for it be killed itself, the worker outlives the deadline by so much.
ORPHAN_S = 5.0


def worker_command() -> tuple[str, ...]:
    """Give the command that starts a worker; nothing is imported from the working folder."""
    return (sys.executable, "-P", "-m", "simedge.section.mesh_worker")


def mesh_in_worker(
    outline: Outline,
    patch_ends: Mapping[Side, Iterable[float]],
    resolution: Resolution,
    *,
    deadline_s: float = DEADLINE_S,
    command: Sequence[str] | None = None,
) -> SectionMesh:
    """Mesh an outline in a worker; see `simedge.section.mesh.mesh_outline`.

    Parameters
    ----------
    outline : Outline
    patch_ends : mapping of side to depths x
    resolution : Resolution
    deadline_s : float
        Seconds after which the worker is killed.
    command : sequence of str or None
        Another worker than this module's, for tests.

    Returns
    -------
    SectionMesh
        The very mesh that `mesh_outline` makes.

    Raises
    ------
    NumericsFailed
        The mesher failed, died, or was still at it at the deadline.
    SystemLibraryMissing
        gmsh's shared libraries are not installed.
    """
    task = pickle.dumps(
        (outline, {side: tuple(ends) for side, ends in patch_ends.items()}, resolution, deadline_s)
    )
    package = str(Path(__file__).resolve().parents[2])
    paths = [package, *filter(None, [os.environ.get("PYTHONPATH")])]
    try:
        # whatever interrupts the wait, Ctrl-C too, kills the worker
        done = subprocess.run(
            command or worker_command(),
            input=task,
            capture_output=True,
            timeout=deadline_s,
            check=False,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(paths)},
        )
    except subprocess.TimeoutExpired:
        raise NumericsFailed(
            f"the mesher was still at it after {deadline_s:g} s and was stopped; a larger "
            "accuracy_percent, or fewer points of a traced outline, make it easier"
        ) from None
    except OSError as error:
        raise NumericsFailed(f"the mesher could not be started: {error.strerror}") from error
    if done.returncode != 0:
        raise NumericsFailed(f"the mesher died: {_last_words(done)}")
    try:
        answer = pickle.loads(done.stdout)  # of our own process
    except (pickle.UnpicklingError, EOFError) as error:
        raise NumericsFailed("the mesher died: half an answer came back") from error
    if isinstance(answer, SimedgeError):
        raise answer
    assert isinstance(answer, SectionMesh)
    for array in (answer.points_mm, answer.triangles):  # pickling forgot that they are read-only
        array.setflags(write=False)
    return answer


def _last_words(done: subprocess.CompletedProcess[bytes]) -> str:
    if done.returncode < 0:
        try:
            return f"killed by {signal.Signals(-done.returncode).name}"
        except ValueError:
            return f"killed by signal {-done.returncode}"
    lines = done.stderr.decode("utf-8", "replace").strip().splitlines()
    return lines[-1][:200] if lines else f"exit code {done.returncode}"


def _work() -> None:
    """Do one task: read it, mesh, write the mesh or the error."""
    # what a library prints must not get between the pickles
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    outline, patch_ends, resolution, deadline_s = pickle.load(sys.stdin.buffer)
    if hasattr(signal, "setitimer"):
        signal.setitimer(signal.ITIMER_REAL, deadline_s + ORPHAN_S)
    answer: SectionMesh | SimedgeError
    try:
        answer = mesh_outline(outline, patch_ends, resolution)
    except SimedgeError as error:
        answer = error
    with answers:
        pickle.dump(answer, answers)


if __name__ == "__main__":
    _work()
