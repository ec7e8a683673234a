"""Random knives under random work: the same for the same number, for ever."""

from __future__ import annotations

import random
from contextlib import suppress

from simedge.errors import BadInput
from simedge.inputs.case import Case, Support
from simedge.inputs.grinds import PrimaryGrind
from simedge.inputs.load import FaceLoad, TipForce
from simedge.inputs.profile import Apex, Bevel, Profile
from simedge.inputs.steel import Steel


def random_case(number: int) -> Case:
    """Draw a knife and three loads: one face pressed from the tip on, the tip, a window behind it.

    Raises
    ------
    BadInput
        The draw is no knife.
    """
    draw = random.Random(number)
    kind = draw.choice(["flat", "flat", "hollow", "convex", "part-height"])
    radius_um = 10 ** draw.uniform(-0.5, 1.3)
    dps = draw.uniform(9, 22)
    bevels = []
    if draw.random() < 0.5:
        micro = min(dps + draw.uniform(2, 12), 40)
        bevels.append(Bevel(dps=micro, height_mm=10 ** draw.uniform(-1.5, -0.5), name="micro"))
    if draw.random() < 0.2:
        one = Bevel(left_dps=0, right_dps=1.6 * dps, height_mm=draw.uniform(0.8, 2), name="one")
        bevels = [one]
    else:
        ends = draw.uniform(0.3, 0.9)
        bevels.append(Bevel(dps=dps, ends_at_thickness_mm=ends, name="edge"))
    height_mm, spine_mm = draw.uniform(18, 40), draw.uniform(2, 4)
    shapes: dict[str, dict[str, float]] = {
        "hollow": {"wheel_radius_mm": draw.uniform(100, 300), "grind_height_mm": 0.8 * height_mm},
        "convex": {"bulge_mm": draw.uniform(0.05, 0.25)},
        "flat": {},
        "part-height": {"grind_height_mm": 0.6 * height_mm},
    }
    round_tip = draw.random() < 0.8
    profile = Profile(
        apex=Apex(radius_um=radius_um) if round_tip else Apex(land_um=2 * radius_um),
        bevels=tuple(bevels),
        primary_grind=PrimaryGrind(kind=kind, **shapes[kind]),
        height_mm=height_mm,
        spine_thickness_mm=spine_mm,
    )
    depth = draw.uniform(0.3, 2.5)
    friction = draw.choice([0, 0.1, 0.3])
    loads = (
        FaceLoad(
            name="face",
            at="left face",
            from_mm=0,
            to_mm=depth,
            pressure_mpa=draw.uniform(15, 80),
            friction=friction,
        ),
        TipForce(
            name="tip",
            force_n=draw.uniform(1, 8),
            contact_length_mm=2,
            direction_deg=draw.choice([0, 15, 40, 90]),
            spread=draw.choice(["smooth", "uniform"]),
        ),
        FaceLoad(
            name="window",
            at="right face",
            from_mm=0.3 * depth,
            to_mm=depth,
            pressure_mpa=draw.uniform(15, 80),
            friction=0,
        ),
    )
    return Case(
        profile=profile,
        steel=Steel(grade="52100", hardness_hrc=60),
        support=Support(clamp_depth_mm=draw.uniform(6, 15)),
        loads=loads,
    )


def random_cases(count: int, first: int = 101) -> list[tuple[int, Case]]:
    """Give that many draws that are knives, each with its number."""
    found: list[tuple[int, Case]] = []
    number = first
    while len(found) < count:
        with suppress(BadInput):  # no knife: the next one
            found.append((number, random_case(number)))
        number += 1
    return found
