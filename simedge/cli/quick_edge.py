"""The edge of a run without a case file: written down by options, or a profile named by one."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field, fields
from typing import Any

import click

#: What an edge written down by its angles alone is taken to be besides.
USUAL = {
    "thickness_behind_edge": 0.4,
    "height": 30.0,
    "spine": 3.0,
    "radius_um": 1.0,
    "micro_height": 0.1,
}
#: Options that write an edge down, and cannot stand beside a named one.
WRITTEN = ("dps", "micro", "micro_height", "behind_edge", "height", "spine")

Places = dict[tuple[str | int, ...], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickEdge:
    """An edge as the case's ``profile``.

    Attributes
    ----------
    profile : object
        A record, or the data of one.
    words : str
        How the case's title calls it.
    places : dict
        Options by the fields that they filled.
    taken : list of str
        What was taken where nothing was said.
    """

    profile: Any
    words: str
    places: Places = field(default_factory=dict)
    taken: list[str] = field(default_factory=list)


def quick_edge(given: dict[str, Any]) -> QuickEdge:
    """Take the edge from options."""
    if "micro" not in given and "micro_height" in given:
        raise click.UsageError("--micro-height needs --micro, the angle of the micro-bevel")
    return _named_edge(given) if "profile" in given else _written_edge(given)


def _named_edge(given: dict[str, Any]) -> QuickEdge:
    from simedge.inputs.door import validated_arguments
    from simedge.inputs.files import read_profile
    from simedge.inputs.traced import TracedProfile

    beside = [f"--{key.replace('_', '-')}" for key in WRITTEN if key in given]
    if beside:
        raise click.UsageError(
            f"{', '.join(beside)} cannot be given beside --profile, which says what the edge is"
        )
    profile = read_profile(given["profile"])
    if "radius_um" in given:
        key = "given_apex" if isinstance(profile, TracedProfile) else "apex"
        values = {item.name: getattr(profile, item.name) for item in fields(profile)}
        if not isinstance(profile, TracedProfile):
            values = asdict(profile)
        values[key] = {"radius_um": given["radius_um"]}
        # a trace speaks of its apex, whatever the record calls it
        places: Places = {(key, "radius_um"): "--radius-um", ("apex", "radius_um"): "--radius-um"}
        profile = validated_arguments(type(profile), values, places)
    return QuickEdge(profile=profile, words=profile.name)


def _written_edge(given: dict[str, Any]) -> QuickEdge:
    value = {**USUAL, **given}
    bevels: list[dict[str, Any]] = []
    if "micro" in given:
        bevels.append(
            {"name": "micro-bevel", "dps": value["micro"], "height_mm": value["micro_height"]}
        )
    behind = value.get("behind_edge", value["thickness_behind_edge"])
    bevels.append({"name": "edge bevel", "dps": value["dps"], "ends_at_thickness_mm": behind})
    places: Places = {
        ("profile", "apex", "radius_um"): "--radius-um",
        ("profile", "height_mm"): "--height",
        ("profile", "spine_thickness_mm"): "--spine",
    }
    if "micro" in given:
        places[("profile", "bevels", 0, "dps")] = "--micro"
        places[("profile", "bevels", 0, "height_mm")] = "--micro-height"
    places[("profile", "bevels", len(bevels) - 1, "dps")] = "--dps"
    places[("profile", "bevels", len(bevels) - 1, "ends_at_thickness_mm")] = "--behind-edge"
    taken = [
        text
        for key, text in (
            ("behind_edge", f"{USUAL['thickness_behind_edge']:g} mm behind the edge"),
            ("height", f"{USUAL['height']:g} mm high"),
            ("spine", f"{USUAL['spine']:g} mm spine"),
            ("radius_um", f"{USUAL['radius_um']:g} µm apex radius"),
        )
        if key not in given
    ]
    if "micro" in given and "micro_height" not in given:
        taken.append(f"micro-bevel {USUAL['micro_height']:g} mm high")
    micro = f" with a {value['micro']:g} micro-bevel" if "micro" in given else ""
    return QuickEdge(
        profile={
            "name": "edge of the command line",
            "source": "options of simedge run",
            "height_mm": value["height"],
            "spine_thickness_mm": value["spine"],
            "apex": {"radius_um": value["radius_um"]},
            "bevels": bevels,
            "primary_grind": {"kind": "flat"},
        },
        words=f"{value['dps']:g} per side{micro}",
        places=places,
        taken=taken,
    )
