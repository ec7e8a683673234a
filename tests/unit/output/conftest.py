"""Runs to draw: edges and loads as unlike each other as people will bring them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simedge import read_case, run_case
from simedge.inputs.case import Case, Support
from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.load import (
    CombinedLoad,
    FaceLoad,
    MediumLoad,
    ObjectLoad,
    TipForce,
    TipLineLoad,
)
from simedge.inputs.profile import Profile
from simedge.inputs.steel import Steel
from simedge.runs.run import Run

STEEL = Steel(grade="52100", hardness_hrc=60)
BEVELS = (
    Bevel(name="micro-bevel", dps=15, height_mm=0.08),
    Bevel(name="edge bevel", dps=11, ends_at_thickness_mm=0.45),
)


def _knife(apex: Apex, bevels: tuple[Bevel, ...] = BEVELS) -> Profile:
    return Profile(
        name="test knife",
        apex=apex,
        bevels=bevels,
        primary_grind=PrimaryGrind(),
        height_mm=30.0,
        spine_thickness_mm=3.0,
    )


def _sample_cases() -> dict[str, Case]:
    in_wood = MediumLoad(
        name="in straight wood", medium="hard wood", depth_in_cut_mm=0.5, side="both"
    )
    return {
        "chisel, pressed alike on both faces": Case(
            title="One-sided chisel",
            profile=Profile(
                name="chisel",
                apex=Apex(radius_um=2.0),
                height_mm=60.0,
                spine_thickness_mm=4.0,
                bevels=(Bevel(left_dps=0, right_dps=25, ends_at_thickness_mm=3.9),),
                primary_grind=PrimaryGrind(),
            ),
            steel=STEEL,
            support=Support(clamp_depth_mm=30.0),
            loads=(replace(in_wood, depth_in_cut_mm=3.0),),
        ),
        "slim, one load past yield and one far from it": Case(
            title="A very slim edge",
            profile=_knife(
                Apex(radius_um=1.0), (Bevel(name="edge", dps=7, ends_at_thickness_mm=0.2),)
            ),
            steel=STEEL,
            support=Support(clamp_depth_mm=15.0),
            loads=(
                replace(
                    in_wood, name="levered", depth_in_cut_mm=2.0, side="left", hand_force_n=400.0
                ),
                replace(in_wood, depth_in_cut_mm=2.0),
            ),
        ),
        "tiny tip": Case(
            title="Razor",
            profile=_knife(Apex(radius_um=0.02)),
            steel=STEEL,
            loads=(
                TipForce(name="nick", force_n=20.0, contact_length_mm=12.0, direction_deg=-30.0),
                in_wood,
            ),
        ),
        "land": Case(
            title="A land at the tip",
            profile=_knife(Apex(land_um=40.0)),
            steel=STEEL,
            loads=(TipLineLoad(name="sideways", axial_n_per_mm=4.0, lateral_n_per_mm=-8.0),),
        ),
        "sharp tip": Case(
            title="A sharp tip",
            profile=_knife(Apex(sharp=True)),
            steel=STEEL,
            loads=(TipLineLoad(name="straight in", axial_n_per_mm=5.0),),
        ),
        "axe, three things at once": Case(
            title="Axe",
            profile=Profile(
                name="axe",
                apex=Apex(radius_um=10.0),
                bevels=(Bevel(dps=17, ends_at_thickness_mm=5.0),),
                primary_grind=PrimaryGrind(),
                height_mm=120.0,
                spine_thickness_mm=25.0,
            ),
            steel=STEEL,
            support=Support(clamp_depth_mm=60.0),
            loads=(
                CombinedLoad(
                    name="glancing",
                    parts=(
                        FaceLoad(
                            at="right face",
                            from_mm=0.0,
                            to_mm=8.0,
                            pressure_mpa=120.0,
                            friction=0.3,
                        ),
                        FaceLoad(at="left face", from_mm=2.0, to_mm=5.0, pressure_mpa=30.0),
                        TipLineLoad(axial_n_per_mm=20.0, lateral_n_per_mm=-5.0),
                    ),
                ),
            ),
        ),
        "leather knife of the library": read_case("leather-knife-along-a-rule"),
        "several media": read_case("fillet-knife-through-the-pin-bones"),
        "carried": read_case("fillet-knife-over-a-rod"),
        "hard object, rubbing": Case(
            title="Onto a wire",
            profile=_knife(Apex(radius_um=1.5)),
            steel=STEEL,
            support=Support(clamp_depth_mm=12.0),
            loads=(
                ObjectLoad(name="glancing", object="wire", entry_mm=0.05, slant_deg=20.0),
                ObjectLoad(name="rubbing", object="wire", entry_mm=0.05, slant_deg=-88.0),
            ),
        ),
    }


CASES = _sample_cases()


@pytest.fixture(scope="session", params=[*CASES, "rope knife of the library"])
def sample(request: pytest.FixtureRequest, rope_knife: Run) -> Run:
    """Run each of the sample cases once."""
    if request.param not in CASES:
        return rope_knife
    return run_case(CASES[request.param])


@pytest.fixture(scope="session")
def slim() -> Run:
    """Run the slim edge: its first load goes past yield, its second stays far below."""
    return run_case(CASES["slim, one load past yield and one far from it"])


@pytest.fixture(scope="session")
def crushed_land() -> Run:
    """Run a land that yields where the load sits, with a section that does not."""
    crush = TipLineLoad(name="crush", axial_n_per_mm=70.0)
    return run_case(replace(CASES["land"], loads=(crush,)))
