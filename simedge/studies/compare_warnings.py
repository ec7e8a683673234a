"""What a comparison assumed, and what to mind about it."""

from __future__ import annotations

from simedge.studies.compare import ComparedKnife, Comparison

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
    common, own = _common_and_own(study)
    return [*study.remarks, *common, *(f"{knife.name}: {text}" for knife, text in own)]


def told_warnings(study: Comparison) -> list[str]:
    """Give what a terminal has room for, first of the work that sets the margins."""
    common, own = _common_and_own(study)
    telling = [f"{knife.name}: {text}" for knife, text in own if _sets_margin(knife, text)]
    kept = [*study.remarks, *common, *telling[:MOST_TOLD]]
    left = len(study.remarks) + len(common) + len(own) - len(kept)
    if left:
        notes = "note" if left == 1 else "notes"
        stand = "stands" if left == 1 else "stand"
        kept.append(f"{left} more {notes} on single knives and loads {stand} in compare.json")
    return kept


def _common_and_own(study: Comparison) -> tuple[list[str], list[tuple[ComparedKnife, str]]]:
    """Give what all runs warn of, and what single ones do."""
    runs = [knife.run.warnings for knife in study.knives]
    common = [text for text in runs[0] if all(text in other for other in runs)]
    own = [(k, text) for k in study.knives for text in k.run.warnings if text not in common]
    return common, own


def _sets_margin(knife: ComparedKnife, warning: str) -> bool:
    """Tell whether a warning is about the whole knife, or the load that is hardest on it."""
    hardest = None if knife.governing is None else knife.governing[0]
    others = [answer for answer in knife.run.loads if answer is not hardest]
    return not any(warning.startswith(f"{answer.name}: ") for answer in others)
