"""The tables of a map of micro-bevels."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from simedge.output.result_json import CAUTION
from simedge.output.terminal import plain_table
from simedge.output.verdict_rows import shown_span
from simedge.runs.quick import QuickLoad
from simedge.runs.shown_words import LARGEST_FACTOR, shown_factor, shown_length
from simedge.runs.verdict_sentence import VERBS
from simedge.strength.load_factors import KINDS
from simedge.studies.micro_bevel_answer import MicroBevelStudy, MicroDesign
from simedge.studies.micro_bevel_sentence import micro_bevel_remarks, micro_bevel_sentence


def print_micro_bevel(study: MicroBevelStudy, out: Console) -> None:
    """Print a map: sentence, what it takes under each load, and over height."""
    out.print(micro_bevel_sentence(study))
    named = study.named
    if named is not None:
        out.print()
        out.print(Text("times this work", style="bold"))
        _print_loads(study, named, out)
        out.print()
        first = study.base.governing.name
        out.print(Text(f"{first}, by kind (weak to strong end)", style="bold"))
        _print_kinds(study, named, out)
        out.print()
        out.print(Text(f"{named.dps:.3g} per side, by height", style="bold"))
        _print_heights(study, named, out)
    for remark in micro_bevel_remarks(study):
        out.print(Text.assemble(("mind: ", "bold"), remark))
    out.print()
    out.print(
        "Judged by the margin of the verdict, without a mesh; what the answer names is run as a "
        "whole. Thicker and harder to push: a straight cut down to "
        f"{shown_length(study.depth_mm)}, friction {study.friction:.2g}, in closed form. Metal: "
        "of the section, to be ground away. Renewals: how often the tolerated "
        f"{study.case.tolerated_damage_um:g} µm can be ground out until the micro-bevel is twice "
        "as tall (common practice). Stiffness: sideways at the apex, on local wedges."
    )
    out.print(CAUTION)


def _print_loads(study: MicroBevelStudy, named: MicroDesign, out: Console) -> None:
    table = plain_table("", "without", "", "with", "", "by a whole run")
    checked = {a.name: a.verdict for a in study.checked.loads} if study.checked else {}
    for before, after in zip(study.base.loads, named.run.loads, strict=True):
        verdict = checked.get(after.name)
        whole = shown_factor(verdict.margin) if verdict is not None else ""
        table.add_row(
            before.name,
            shown_factor(before.margin),
            _kind(before),
            shown_factor(after.margin),
            _kind(after),
            whole,
        )
    out.print(table)


def _print_kinds(study: MicroBevelStudy, named: MicroDesign, out: Console) -> None:
    """Print what each kind of damage gains, of the load that asks most without one."""
    index = study.base.loads.index(study.base.governing)
    before, after = study.base.loads[index], named.run.loads[index]
    table = plain_table("", "without", "with")
    for kind in KINDS:
        spans = [shown_span(load.factors.of(kind)) for load in (before, after)]
        table.add_row(VERBS[kind], *spans)
    table.add_row("first yields", *(shown_factor(load.first_yield) for load in (before, after)))
    out.print(table)


def _kind(load: QuickLoad) -> str:
    """Say what gives first, where anything does."""
    return VERBS[load.governing_kind] if load.margin <= LARGEST_FACTOR else ""


def _print_heights(study: MicroBevelStudy, named: MicroDesign, out: Console) -> None:
    columns = ("height", "margin", "first yield", "stiffness", "in the cut", "push", "metal")
    table = plain_table(*columns, "renewals")
    base, slim = study.base, study.base_slimness
    table.add_row(
        "none",
        shown_factor(base.margin),
        shown_factor(base.governing.first_yield),
        "1",
        f"{slim.thickness_in_cut_mm:.3g} mm",
        "1",
        "",
        "",
    )
    row = [design for design in study.feasible if design.dps == named.dps]
    if named not in row:
        row = sorted([*row, named], key=lambda design: design.height_mm)
    for design in row:
        own = design.slimness
        stiffer = (
            "-"
            if own.stiffness_n_per_mm2 is None or slim.stiffness_n_per_mm2 is None
            else f"{own.stiffness_n_per_mm2 / slim.stiffness_n_per_mm2:.3g}"
        )
        table.add_row(
            shown_length(design.height_mm),
            shown_factor(design.margin),
            shown_factor(design.run.governing.first_yield),
            stiffer,
            f"{own.thickness_in_cut_mm:.3g} mm",
            f"{own.wedge_resistance_mm / slim.wedge_resistance_mm:.3g}",
            f"{design.metal_mm2:.2g} mm²",
            str(design.renewals),
        )
    out.print(table)
