"""The VTU file: what was written comes back, for every load."""

from __future__ import annotations

import meshio
import numpy as np
import pytest

from simedge import read_case, run_case
from simedge.output.vtu import write_vtu


@pytest.fixture(scope="module")
def run():
    return run_case(read_case("rope-knife-in-a-knot"))


def test_mesh_and_fields_come_back(run, tmp_path):
    write_vtu(run, tmp_path / "stress.vtu")
    read = meshio.read(tmp_path / "stress.vtu")
    assert np.array_equal(read.points[:, :2], run.mesh.points_mm.T)
    assert np.array_equal(read.cells_dict["triangle6"], run.mesh.triangles.T)
    for index, answer in enumerate(run.loads):
        name = f"{index + 1} {answer.name}: "
        mises = read.point_data[name + "von Mises, MPa"]
        assert np.array_equal(mises, answer.stress.von_mises_mpa)
        xx, yy, xy = (read.point_data[f"{name}stress {c}, MPa"] for c in ("xx", "yy", "xy"))
        largest, smallest = (
            read.point_data[f"{name}{which} principal, MPa"] for which in ("largest", "smallest")
        )
        # the two principal stresses keep trace and determinant
        size = np.abs(largest) + np.abs(smallest) + 1e-9
        assert np.allclose((largest + smallest) / size, (xx + yy) / size, atol=1e-12)
        assert np.allclose(largest * smallest / size**2, (xx * yy - xy**2) / size**2, atol=1e-9)
        moved = read.point_data[name + "displacement, mm"]
        assert np.array_equal(moved[:, :2].T, run.displacement.at_points_mm[index])


def test_bytes_are_the_same_each_time(run, tmp_path):
    for name in ("a.vtu", "b.vtu"):
        write_vtu(run, tmp_path / name)
    assert (tmp_path / "a.vtu").read_bytes() == (tmp_path / "b.vtu").read_bytes()
