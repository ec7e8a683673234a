"""The picture of a comparison: knives stacked, apexes in line, one scale, one magnification."""

from __future__ import annotations

from matplotlib.figure import Figure

from simedge.output.alt_text import peak_sentence, plain_text, steel_words
from simedge.output.drawing_frame import length_text
from simedge.output.frame_plans import plan_frames_alike
from simedge.output.load_row import Shared, full_pressure_mpa
from simedge.output.palette import LIGHT, drawing_style
from simedge.output.row_sheet import plan_row, row_sheet
from simedge.output.stress_scale import StressScale, shared_scale, stress_text
from simedge.output.window_choice import shared_depths
from simedge.runs.answer import LoadAnswer
from simedge.runs.shown_words import shown_factor, shown_length
from simedge.runs.verdict_sentence import VERBS
from simedge.section.outline import build_outline
from simedge.studies.compare import ComparedKnife, Comparison
from simedge.studies.compare_sentence import compare_sentences, shown_place
from simedge.studies.margin_band import places


def draw_compare(study: Comparison, load: int | None = None) -> Figure:
    """Draw what one load does to every knife, the largest margin first.

    Parameters
    ----------
    study : Comparison
    load : int or None
        Number of the load; None stands for the one that is hardest on the first knife.

    Returns
    -------
    Figure
        Its label is the picture in words, with the numbers.
    """
    number = study.told_load if load is None else load
    answers = [knife.run.loads[number] for knife in study.knives]
    with drawing_style(LIGHT):
        scale = shared_scale(answers, study.first.run.steel.yield_strength_mpa)
        full_mpa = full_pressure_mpa(answers)
        wholes = [
            build_outline(knife.run.case.profile.apex, knife.run.case.profile.faces)
            for knife in study.knives
        ]
        held = [knife.run.outline for knife in study.knives]
        depths = shared_depths(list(zip(answers, held, strict=True)))
        plans = plan_frames_alike(list(zip(answers, wholes, strict=True)), depths)
        rows = [
            plan_row(
                f"{place} · {knife.name}",
                _sentence(knife, answer),
                frames,
                answer,
                Shared(run=knife.run, whole=whole, scale=scale, full_mpa=full_mpa, theme=LIGHT),
            )
            for knife, answer, whole, frames, place in zip(
                study.knives,
                answers,
                wholes,
                plans,
                map(shown_place, places(study.margins)),
                strict=True,
            )
        ]
        return row_sheet(
            title_of(study),
            _about(study, answers[0].name),
            rows,
            _words(study, number, scale),
            LIGHT,
            compare_sentences(study),
        )


def title_of(study: Comparison) -> str:
    """Name the comparison."""
    return f"{plain_text(study.case.title)}: {len(study.knives)} knives compared"


def _about(study: Comparison, load: str) -> str:
    several = len(study.case.loads) > 1
    ranked = ", ranked by the smallest margin under all loads" if several else ", ranked by margin"
    return (
        f'Stress under "{plain_text(load)}", one scale and one magnification for all{ranked}. '
        f"Steel: {steel_words(study.first.run)}. No result is a safety certificate."
    )


def _sentence(knife: ComparedKnife, answer: LoadAnswer) -> str:
    """Give the verdict that is pictured, and the one that sets the margin where it is another's."""
    governing = knife.governing
    if governing is None or governing[0] is answer:
        return answer.sentence
    other, verdict = governing
    harder = f"{VERBS[verdict.governing_kind]} at {shown_factor(verdict.margin)} times this load"
    return f'{answer.sentence} "{plain_text(other.name)}" is harder on it: {harder}.'


def _words(study: Comparison, number: int, scale: StressScale) -> str:
    """Tell the picture in words, with its numbers."""
    clipped = ", clipped there" if scale.clipped else ""
    name = plain_text(study.first.run.loads[number].name)
    lines = [
        title_of(study),
        compare_sentences(study),
        f'Cross-sections under "{name}" in {steel_words(study.first.run)}, one below the other, '
        "apexes in line on the left, left face up, all equally magnified. Colours from pale to "
        f"dark show von Mises stress from 0 to {stress_text(scale.end_mpa)}{clipped}.",
    ]
    for knife, place in zip(study.knives, places(study.margins), strict=True):
        answer = knife.run.loads[number]
        held = knife.run.outline.depth_mm
        told = [
            f"Place {shown_place(place)}: {plain_text(knife.name)}, held from "
            f"{length_text(held)} on.",
            _sentence(knife, answer),
            peak_sentence(answer),
        ]
        if knife.thickness_at_deepest_mm is not None:
            thick, deepest = map(shown_length, (knife.thickness_at_deepest_mm, study.deepest_mm))
            told.append(f"It is {thick} thick {deepest} behind the apex.")
        lines.append(" ".join(filter(None, told)))
    return "\n".join(lines)
