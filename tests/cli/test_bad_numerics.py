"""What goes wrong in the mesher and the solver: code 3, one line, no numbers, nothing written."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, NoReturn

import gmsh
import numpy as np
import pytest

from simedge.cli.main import main
from simedge.section.mesh import SectionMesh

AllFiles = Callable[[Path], dict[Path, bytes]]
Edit = Callable[[str, str, str], int]
Failed = Callable[..., str]


@pytest.fixture
def failed(folder: Path, all_files: AllFiles, capsys: pytest.CaptureFixture[str]) -> Failed:
    """Run the case, which must fail in its numerics, in text and as JSON; give what it says."""

    def run(name: str = "case.toml") -> str:
        before, said = all_files(folder), ""
        for arguments in (["run", name], ["run", name, "--json"]):
            assert main(arguments) == 3
            told = capsys.readouterr()
            assert told.out == ""
            assert len(told.err.splitlines()) == 1
            assert "Traceback" not in told.err
            said = told.err.strip()
        assert all_files(folder) == before
        return said

    return run


# ---------------------------------------------------------------- mesher


def test_no_triangles(failed: Failed, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gmsh.model.mesh, "generate", lambda dimension: None)
    assert failed() == ("simedge: the mesher produced nothing: no six-node triangles came back")


def test_a_mesher_that_fails(failed: Failed, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(dimension: int) -> NoReturn:
        raise Exception("Unable to recover the edge 7 on surface 1")  # what gmsh raises

    monkeypatch.setattr(gmsh.model.mesh, "generate", broken)
    assert "the mesher failed: Unable to recover the edge 7" in failed()


@pytest.mark.parametrize(
    ("lost", "words"),
    # a single one near the tip is a millionth of a thousandth of the area: it shows as a hole
    [(0, ""), (1, "the mesh is torn: "), (300, "the mesh covers ")],
)
def test_triangles_that_do_not_cover_the_section(
    lost: int, words: str, failed: Failed, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = gmsh.model.mesh.getElements

    def torn(dimension: int = -1, tag: int = -1) -> Any:
        types, tags, nodes = whole(dimension, tag)
        if dimension == 2:
            nodes = [nodes[0][: len(nodes[0]) - 6 * lost]]
        return types, tags, nodes

    monkeypatch.setattr(gmsh.model.mesh, "getElements", torn)
    if lost == 0:
        assert main(["run", "case.toml"]) == 0
    else:
        assert words in failed()


def test_a_boundary_that_is_not_all_there(failed: Failed, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = gmsh.model.mesh.getElements
    asked = []

    def torn(dimension: int = -1, tag: int = -1) -> Any:
        types, tags, nodes = whole(dimension, tag)
        if dimension == 1 and tag == max(asked, default=tag):
            nodes = [nodes[0][3:]]
        if dimension == 1:
            asked.append(tag)
        return types, tags, nodes

    monkeypatch.setattr(gmsh.model.mesh, "getElements", torn)
    said = failed()
    assert "the mesh is torn" in said or "boundary is " in said or "covers" in said


def test_a_triangle_without_shape(
    edit: Edit,
    failed: Failed,
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two places a hair apart leave a sliver; of real input they are taken for one before."""
    edit("case.toml", "from_mm = 0.1", "from_mm = 0.08000001")
    assert main(["run", "case.toml"]) == 0
    assert capsys.readouterr().err == ""
    monkeypatch.setattr("simedge.section.element_sizes.SAME_KNOT_SHARE", 0.0)
    for file in (folder / "simedge-out" / "case").iterdir():
        file.unlink()
    said = failed()
    # the shoulder of the micro-bevel, 0.08 mm behind the apex
    assert "the mesh's worst triangle, 0.0800" in said
    assert "e-05, but" in said
    assert "at least 0.0001" in said


def test_an_inverted_triangle(failed: Failed, monkeypatch: pytest.MonkeyPatch) -> None:
    # the middle of an inner edge stands beyond the far corner: area and outline are as they were
    whole = gmsh.model.mesh.getNodes

    def moved(*arguments: Any) -> Any:
        tags, places, parameters = whole(*arguments)
        places = places.reshape(-1, 3).copy()
        _, _, nodes = gmsh.model.mesh.getElements(2)
        _, _, edges = gmsh.model.mesh.getElements(1)
        inner = next(n for n in nodes[0].reshape(-1, 6)[:, 3] if n not in set(edges[0]))
        places[np.flatnonzero(tags == inner)[0], 0] += 1.0
        return tags, places.ravel(), parameters

    monkeypatch.setattr(gmsh.model.mesh, "getNodes", moved)
    said = failed()
    assert "the mesh's worst triangle" in said
    assert "quality of -" in said


# ---------------------------------------------------------------- solver


def held_by(monkeypatch: pytest.MonkeyPatch, edges: Callable[[SectionMesh], np.ndarray]) -> None:
    """Hold the section by other edges than its base."""
    from simedge.section.mesh import mesh_outline

    def meshed(*arguments: Any) -> SectionMesh:
        mesh = mesh_outline(*arguments)
        return replace(mesh, boundary={**mesh.boundary, "base": edges(mesh)})

    monkeypatch.setattr("simedge.section.meshing.mesh_outline", meshed)


def test_nothing_is_held(failed: Failed, monkeypatch: pytest.MonkeyPatch) -> None:
    held_by(monkeypatch, lambda mesh: np.zeros((3, 0), dtype=np.int64))
    assert failed() == "simedge: rigid body motion: nothing is held"


def test_held_at_a_point_it_may_still_turn(failed: Failed, monkeypatch: pytest.MonkeyPatch) -> None:
    held_by(monkeypatch, lambda mesh: np.full((3, 1), mesh.boundary["base"][0, 0]))
    assert "the solution does not balance its load" in failed()


def test_a_matrix_that_cannot_be_factorised(
    failed: Failed, monkeypatch: pytest.MonkeyPatch
) -> None:
    def singular(*_: object, **__: object) -> NoReturn:
        raise RuntimeError("Factor is exactly singular")

    monkeypatch.setattr("simedge.fem.elastic.splu", singular)
    assert "the stiffness could not be factorised: Factor is exactly singular" in failed()


@pytest.mark.parametrize("wrong", [np.nan, np.inf, 0.0, 0.9])
def test_a_solution_that_does_not_balance(
    wrong: float, failed: Failed, monkeypatch: pytest.MonkeyPatch
) -> None:
    from simedge.fem.elastic import splu

    class Wrong:
        """Factors whose solutions are off by a share, or are no numbers."""

        def __init__(self, *arguments: Any, **named: Any) -> None:
            self.right = splu(*arguments, **named)

        def solve(self, loads: np.ndarray) -> np.ndarray:
            return np.asarray(self.right.solve(loads)) * wrong

    monkeypatch.setattr("simedge.fem.elastic.splu", Wrong)
    if wrong == 0.9:  # what a first solution leaves is solved for again: 0.1^8 is left
        monkeypatch.setattr("simedge.fem.elastic.LARGEST_RESIDUAL", 1e-12)
    said = failed()
    assert "the solution does not balance its load" in said
    assert "no numbers are shown" in said


# ---------------------------------------------------------------- the machine's memory


@pytest.mark.parametrize(
    "place",
    [
        "simedge.section.meshing.mesh_outline",
        "simedge.fem.elastic._stiffness",
        "simedge.fem.elastic.splu",
        "simedge.runs.solve.recover_stress",
        "simedge.output.stress_plot.draw_stress",
        "simedge.output.answer_folder.result_text",
    ],
)
def test_out_of_memory_anywhere_is_one_line(
    place: str, failed: Failed, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> NoReturn:
        raise MemoryError

    monkeypatch.setattr(place, full)
    assert "the machine's memory does not suffice" in failed()


def test_what_cannot_be_allocated_is_told(failed: Failed, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("simedge.section.meshing.mesh_outline", lambda *_: np.zeros(1 << 45))
    assert "the machine's memory does not suffice" in failed()


def test_after_a_failure_the_next_run_answers(
    failed: Failed, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(gmsh.model.mesh, "generate", lambda dimension: None)
        failed()
    assert main(["run", "case.toml", "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["loads"]) == 2
