"""The verdict on one load of a run, from its reading."""

from __future__ import annotations

from simedge.inputs.load import Load
from simedge.inputs.steel_properties import SteelProperties
from simedge.runs.reading import Reading
from simedge.section.asked_again import Work
from simedge.strength.field_share import read_field_share
from simedge.strength.load_factors import Judge
from simedge.strength.resistance import resistance_band
from simedge.strength.verdict import Verdict, judge
from simedge.strength.zones import trusted_depth_mm


def verdict_on(
    load: Load, reading: Reading, steel: SteelProperties, tolerated_damage_um: float
) -> Verdict | None:
    """Judge a load by the stress that it makes; None where its parts cancel."""
    if not reading.something:
        return None
    outline, tractions = reading.outline, reading.tractions
    trusted = trusted_depth_mm(outline)
    by = Judge(
        work=Work(load=load, outline=outline, tractions=tractions),
        band=resistance_band(steel),
        yield_low=steel.yield_low_mpa / steel.yield_strength_mpa,
        yield_high=steel.yield_high_mpa / steel.yield_strength_mpa,
        trusted_depth_mm=trusted,
        field_share=read_field_share(reading.field, outline, tractions, trusted),
    )
    return judge(by, tolerated_damage_um)
