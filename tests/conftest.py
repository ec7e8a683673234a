"""What several test files share: a derandomised hypothesis, the library case, files to refuse."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from pathlib import Path
from types import FrameType

import pytest
from hypothesis import HealthCheck, settings

from simedge import read_case, read_profile, run_case
from simedge.errors import BadInput
from simedge.inputs.profile import Apex, Bevel, PrimaryGrind, Profile
from simedge.runs.run import Run
from simedge.section.outline import SIDES, Outline, build_outline

# The same examples on every machine: a failure in CI is a failure at home.
settings.register_profile(
    "same everywhere",
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("same everywhere")

Refused = Callable[[str], list[str]]
Edge = Callable[..., Outline]
ROPE_KNIFE = ((15.0, 15.0, 0.08), (11.0, 11.0, 1.04))
DEADLINE_S = 5.0


@pytest.fixture(scope="session")
def edge() -> Edge:
    """Build outlines; without arguments one much like the library's rope knife.

    Bevels are (left dps, right dps, own height in mm), apex first.
    """

    def build(
        bevels: tuple[tuple[float, float, float], ...] = ROPE_KNIFE,
        *,
        radius_um: float | None = 1.5,
        land_um: float | None = None,
        sharp: bool = False,
        height_mm: float | None = 28.0,
        spine_thickness_mm: float | None = 3.2,
        dps: float | None = None,
        left_fraction: float | None = None,
        clamp_mm: float | None = 12.0,
    ) -> Outline:
        rounded = land_um is None and not sharp
        profile = Profile(
            apex=Apex(radius_um=radius_um if rounded else None, land_um=land_um, sharp=sharp),
            bevels=tuple(
                Bevel(left_dps=left, right_dps=right, height_mm=height)
                for left, right, height in bevels
            ),
            height_mm=height_mm,
            spine_thickness_mm=None if dps is not None and height_mm else spine_thickness_mm,
            primary_grind=PrimaryGrind(dps=dps, left_fraction=left_fraction),
        )
        return build_outline(profile.apex, profile.faces, clamp_mm)

    return build


@pytest.fixture
def deadline() -> Iterator[None]:
    """End a test that never would; it takes a fraction of a second where all is well."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise TimeoutError(f"still busy after {DEADLINE_S:g} s")

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, DEADLINE_S)
    yield
    signal.setitimer(signal.ITIMER_REAL, 0.0)
    signal.signal(signal.SIGALRM, before)


@pytest.fixture(scope="session")
def rope_knife() -> Run:
    """Run the library's rope knife in a knot once; tests only read it."""
    return run_case(read_case("rope-knife-in-a-knot"))


@pytest.fixture
def refused_profile(tmp_path: Path) -> Refused:
    """Give what ``read_profile`` refuses of a text, each as ``line: message``."""

    def read(text: str) -> list[str]:
        (tmp_path / "knife.toml").write_text(text, encoding="utf-8")
        with pytest.raises(BadInput) as caught:
            read_profile(tmp_path / "knife.toml")
        assert caught.value.exit_code == 2
        return [str(p).removeprefix(f"{tmp_path}/knife.toml:") for p in caught.value.problems]

    return read


@pytest.fixture
def refused_case(tmp_path: Path) -> Refused:
    """Give what ``read_case`` refuses of a text, each as ``line: message``."""

    def read(text: str) -> list[str]:
        (tmp_path / "case.toml").write_text(text, encoding="utf-8")
        with pytest.raises(BadInput) as caught:
            read_case(tmp_path / "case.toml")
        return [str(p).removeprefix(f"{tmp_path}/case.toml:") for p in caught.value.problems]

    return read


Trace = Callable[..., list[tuple[float, float]]]


@pytest.fixture(scope="session")
def trace_of() -> Trace:
    """Give the points that a person would measure on a section: left spine, edge, right spine."""

    def trace(outline: Outline, *, tip: int = 12, along: int = 1) -> list[tuple[float, float]]:
        faces = []
        for side in SIDES:
            points = []
            for run in outline.face(side):
                count = along if run.is_straight else max(along, 20)
                begin, end = run.begin_mm[0], run.end_mm[0]
                depths = [begin + (end - begin) * k / count for k in range(1, count)] + [end]
                points += [(x, float(run.y_mm(x))) for x in depths]
            faces.append(points)
        shares = (
            [k / (tip - 1) for k in range(tip)] if outline.tip.kind == "rounded" else [0.0, 1.0]
        )
        if outline.tip.kind == "sharp":
            shares = [0.5]
        front = [(float(x), float(y)) for x, y in zip(*outline.tip.point(shares), strict=True)]
        return [*reversed(faces[0]), *front, *faces[1]]

    return trace
