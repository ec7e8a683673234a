"""The verdict on one load of a run, from its stress; and the judge that others may ask again."""

from __future__ import annotations

from simedge.fem.stress_field import StressField
from simedge.inputs.load import Load
from simedge.inputs.steel_properties import SteelProperties
from simedge.runs.reading import Reading
from simedge.section.asked_again import Work
from simedge.section.outline import Outline
from simedge.section.tractions import Tractions
from simedge.strength.field_share import read_field_share
from simedge.strength.load_factors import Judge
from simedge.strength.verdict import Verdict, judge
from simedge.strength.zones import trusted_depth_mm


def judge_of(
    load: Load,
    outline: Outline,
    tractions: Tractions,
    steel: SteelProperties,
    field: StressField | None = None,
) -> Judge:
    """Put together what a judgement on one load rests on.

    Parameters
    ----------
    load : Load
        In a person's words.
    outline : Outline
    tractions : Tractions
        What it puts on that outline, all forces known.
    steel : SteelProperties
    field : StressField or None
        Its stress, where it was solved for; None leaves face stress to the wedge formula.
    """
    trusted = trusted_depth_mm(outline)
    share = None if field is None else read_field_share(field, outline, tractions, trusted)
    return Judge.of(Work(load=load, outline=outline, tractions=tractions), steel, trusted, share)


def verdict_on(
    load: Load, reading: Reading, steel: SteelProperties, tolerated_damage_um: float
) -> Verdict | None:
    """Judge a load by the stress that it makes; None where its parts cancel."""
    if not reading.something:
        return None
    by = judge_of(load, reading.outline, reading.tractions, steel, reading.field)
    return judge(by, tolerated_damage_um)
