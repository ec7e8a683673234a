"""What a comparison assumed, and what to mind about it."""

from __future__ import annotations

from simedge.studies.compare import Comparison

#: Notes on single knives that are printed.
MOST_TOLD = 4


def assumptions(study: Comparison) -> str:
    """Say by which measure the knives were judged, and what is taken as the same."""
    return (
        "The same steel, the same work and the same hand for each knife, held alike, each with "
        "its own apex. Judged by the margin: how many times harder the same work may get before "
        f"an edge cut back by the tolerated {study.case.tolerated_damage_um:g} µm gives; the "
        "smallest under any load counts; in brackets from the weak to the strong end of such a "
        "steel. Knives share places where their margins do not differ by more than 5 % of a roll "
        "or a blunted tip, and by what flaws and particles leave open of a chip or crumbling; the "
        "spread of the yield strength is the same for all of them and makes no ties. Stiffness: N "
        "on each mm of edge, from the side, for each mm that the apex gives way; ± is the "
        "computation's own error, and it ranks nothing. Damage: how deep the edge goes back."
    )


def every_warning(study: Comparison) -> list[str]:
    """Give all there is to mind: of the comparison, of all runs alike, then of single knives."""
    runs = [knife.run.warnings for knife in study.knives]
    common = [text for text in runs[0] if all(text in other for other in runs)]
    own = [
        f"{knife.name}: {text}"
        for knife in study.knives
        for text in knife.run.warnings
        if text not in common
    ]
    return [*study.remarks, *common, *own]


def told_warnings(study: Comparison) -> list[str]:
    """Give what a terminal has room for: the rest is about work that sets no margin."""
    told = []
    for knife in study.knives:
        hardest = "" if knife.governing is None else f"{knife.governing[0].name}: "
        others = [f"{answer.name}: " for answer in knife.run.loads if answer.name != hardest[:-2]]
        told += [
            f"{knife.name}: {text}"
            for text in knife.run.warnings
            if not any(text.startswith(other) for other in others)
        ]
    every = every_warning(study)
    singly = [text for text in every if text in told]
    shared = [
        text
        for text in every
        if not any(text == f"{k.name}: {own}" for k in study.knives for own in k.run.warnings)
    ]
    kept = [*shared, *singly[:MOST_TOLD]]
    left = len(every) - len(kept)
    if left:
        kept.append(f"{left} more notes on single knives and loads stand in compare.json")
    return kept
