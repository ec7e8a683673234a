"""The program around the commands: quick help, libraries, and errors without tracebacks."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from importlib.metadata import version
from pathlib import Path

import pytest

import simedge
from simedge.inputs.library_data import grades
from simedge.inputs.medium import media

HEAVY = ("numpy", "scipy", "gmsh", "skfem", "matplotlib", "meshio", "jinja2")


@pytest.mark.parametrize(
    "command",
    [(), ("run",), ("new",), ("profile",), ("stiffness",), ("steels",), ("media",), ("verify",)],
)
def test_help_loads_no_heavy_library(command):
    program = (
        "import sys; from simedge.cli.main import main; code = main(sys.argv[1:]); "
        f"print('loaded', sorted(set(sys.modules) & set({HEAVY}))); sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, *command, "--help"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.splitlines()[-1] == "loaded []"
    assert "Usage: simedge" in done.stdout


def test_the_version_is_that_of_the_package(simedge):
    assert simedge_version() in simedge("--version").stdout


def simedge_version() -> str:
    assert simedge.__version__ == version("simedge")
    return simedge.__version__


def test_every_steel_and_medium_is_listed(simedge):
    steels, cut = simedge("steels").stdout, simedge("media").stdout
    assert all(name in steels for name in grades())
    assert all(name in cut for name in media())


def test_one_steel_is_told_with_its_sources(simedge):
    done = simedge("steels", "52100", "--hrc", 60)
    assert done.returncode == 0
    assert done.stdout.startswith("52100 (100Cr6) at 60 HRC yields at 2136 MPa")
    assert "ASTM E140" in done.stdout


def test_a_profile_is_measured(simedge):
    done = simedge("profile", "rope-knife")
    assert done.returncode == 0
    # 15 and 11 per side, 0.45 mm behind the edge; area by the trapezium of its faces
    for told in ("30°", "22°", "0.4500 mm", "49.313 mm²"):
        assert told in done.stdout


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("run", "no-such-case"), "neither a file nor in the library"),
        (("run", "nothing.toml"), "nothing.toml"),
        (("run",), "give a CASE"),
        (("run", "rope-knife-in-a-knot", "--dps", "9"), "cannot be given beside a case file"),
        (("profile", "."), "folder"),
        (("steels", "52101"), "did you mean"),
        (("steels", "1.4568"), "yield_strength_mpa"),
        (("runn", "x"), "No such command"),
    ],
)
def test_mistakes_are_told_without_a_traceback(simedge, arguments, told):
    done = simedge(*arguments)
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--dps", "95"), "--dps is 95 deg, but must lie in (0, 45]"),
        (("--hrc", "70"), "40 to 68 HRC"),
        (("--medium", "wod"), 'did you mean "soft wood"'),
        (("--depth", "nan"), "--depth"),
        (("--radius-um", "900"), "--radius-um"),
    ],
)
def test_a_wrong_option_is_named(simedge, options, told):
    usual = {"--dps": "10", "--steel": "52100", "--hrc": "60", "--medium": "hard wood"}
    given = {**usual, **dict([options])}
    done = simedge("run", *(text for pair in given.items() for text in pair))
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr


def test_all_bad_keys_are_told_in_one_go_with_their_lines(simedge, tmp_path):
    (tmp_path / "bad.toml").write_text(
        'schema = 1\nprofile = "rope-knife"\n[steel]\ngrade = "52101"\nhardness_hrc = "60"\n'
        '[[loads]]\nmedium = "hard wod"\ndepth_in_cut_mm = 0.5\nsid = "left"\n',
        encoding="utf-8",
    )
    done = simedge("run", "bad.toml")
    assert done.returncode == 2
    for place in ("bad.toml:5", "bad.toml:7", "bad.toml:9"):
        assert place in done.stderr


def test_the_wheel_carries_profiles_cases_and_licence():
    project = tomllib.loads(
        (Path(simedge.__file__).parent.parent / "pyproject.toml").read_text(encoding="utf-8")
    )
    carried = project["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    assert carried == {"profiles": "simedge/library/profiles", "cases": "simedge/library/cases"}
    licence = Path(simedge.__file__).parent / "LICENSE"
    assert "GNU GENERAL PUBLIC LICENSE" in licence.read_text(encoding="utf-8")
