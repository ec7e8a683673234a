"""Answers in a terminal: the sentence first, then a small table, then where the files are."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import floor, log10

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from simedge.inputs.cross_section import CrossSection
from simedge.inputs.load import depth_in_cut_mm
from simedge.output.result_json import CAUTION
from simedge.output.shown_errors import (
    factor_with_error,
    length_with_error,
    stress_with_error,
)
from simedge.output.verdict_rows import verdict_rows
from simedge.runs.answer import ActingPart, LoadAnswer
from simedge.runs.run import Run
from simedge.runs.shown_words import shown_factor, shown_length, shown_side
from simedge.section.measures import GroundStretch, Measures

#: Lines longer than this are hard to read, whatever the terminal's width; on a terminal that
#: is narrower than the other its own wrapping is better than cells of one letter.
WIDEST, NARROWEST = 100, 60
#: More stretches than these, which only a trace has, are not described one by one.
MANY_STRETCHES = 6
#: A stretch that begins behind this share of its end does not begin at the tip.
LATE_START = 0.05
#: Of the depth in the cut: a hand that reaches less is told.
HAND_REACHES = 0.95
#: Below this share of the other component one is rounding.
ROUNDING = 1e-9


class _Paper(Console):
    """A console that leaves it to the command line what to do when its reader went away."""

    def on_broken_pipe(self) -> None:
        raise BrokenPipeError


def console(*, stderr: bool = False) -> Console:
    """Give a console that neither colours text by itself nor runs wider than is readable."""
    made = _Paper(stderr=stderr, highlight=False, soft_wrap=False, markup=False)
    made.width = min(max(made.width, NARROWEST), WIDEST) if made.is_terminal else WIDEST
    return made


def plain_table(*columns: str) -> Table:
    """Give an empty table without rules."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="bold")
    for column in columns:
        table.add_column(column)
    return table


def _stress(value_mpa: float) -> str:
    """Write a stress of a closed form with three figures."""
    decimals = 2 - int(f"{abs(value_mpa):e}".partition("e")[2])
    rounded = round(value_mpa, decimals)
    return f"{rounded:.{max(decimals, 0)}f} MPa"


def _peak(value_mpa: float | None, error_mpa: float | None, nothing: str) -> str:
    if value_mpa is None or error_mpa is None:
        return nothing
    return stress_with_error(value_mpa, error_mpa)


def _where(x_mm: float | None, y_mm: float | None, even: bool) -> str:
    if x_mm is None or y_mm is None:
        return ""
    return f"{shown_length(x_mm)}, {shown_side(x_mm, y_mm, even=even)}"


def _movements(answer: LoadAnswer) -> list[str]:
    """Give how far the apex moves, sideways and along, as far as it does."""
    errors = answer.errors
    if answer.apex_axial_mm is None or answer.apex_lateral_mm is None:
        return ["no finite value"]
    if answer.nothing_left:
        return ["nowhere"]
    found = []
    for moved, error, imposed, words in (
        (
            answer.apex_lateral_mm,
            errors.apex_lateral_mm,
            answer.imposed_lateral_mm,
            ("to the left", "to the right"),
        ),
        (answer.apex_axial_mm, errors.apex_axial_mm, answer.imposed_axial_mm, ("in", "out")),
    ):
        assert error is not None
        if imposed:
            found.append(f"{shown_length(abs(moved))} {words[moved < 0.0]}")
        elif abs(moved) > error:
            found.append(f"{length_with_error(abs(moved), error)} {words[moved < 0.0]}")
    return found or ["nowhere that could be told"]


def _movement_held_nearer(answer: LoadAnswer) -> tuple[str, str] | None:
    """Give where else the blade might be held, and how far the apex would move then."""
    effect, key = answer.clamp_effect, _MOVES[answer.even].replace("_mm", "")
    if effect is None or answer.nothing_left or answer.only_carried:
        return None
    moved = getattr(answer, f"{key}_mm")
    change = getattr(effect, f"{key}_change_mm")
    if moved is None or not moved:
        return None
    return f"{effect.held_at_mm:.3g} mm", shown_length(abs(moved + change))


def shown_size(value: float) -> str:
    """Write a positive number with three figures, and without a power of ten.

    >>> shown_size(1300.4), shown_size(0.6751), shown_size(0.0000123456)
    ('1300', '0.675', '0.0000123')
    """
    decimals = max(2 - floor(log10(value)), 0) if value > 0 else 0
    return f"{float(f'{value:.3g}'):.{decimals}f}"


def _tip_force(axial_n_per_mm: float, lateral_n_per_mm: float) -> str:
    side = "left" if lateral_n_per_mm > 0 else "right"
    along = "straight into the tip" if axial_n_per_mm > 0 else "out of the tip"
    told = [
        f"{shown_size(abs(size))} N/mm {words}"
        for size, words in ((axial_n_per_mm, along), (lateral_n_per_mm, f"towards the {side}"))
        if abs(size) > ROUNDING * max(abs(axial_n_per_mm), abs(lateral_n_per_mm))
    ]
    return ", ".join(told) or "nothing on the tip"


def _part(part: ActingPart) -> str:
    if part.at == "tip":
        if part.carries:
            return f"the tip carried, by {_tip_force(part.axial_n_per_mm, part.lateral_n_per_mm)}"
        by = f" by {part.medium}" if part.medium else ""
        return _tip_force(part.axial_n_per_mm, part.lateral_n_per_mm) + by
    assert part.from_mm is not None
    assert part.to_mm is not None
    window = f"down to {shown_length(part.to_mm)}"
    if part.from_mm > LATE_START * part.to_mm:
        begin, end = shown_length(part.from_mm), shown_length(part.to_mm)
        window = f"from {begin} to {end}" if begin != end else f"at {begin}"
    by = f" by {part.medium}" if part.medium else ""
    assert part.friction is not None
    assert part.pressure_mpa is not None
    towards = " towards the apex" if part.friction < 0 else ""
    return (
        f"{shown_size(part.pressure_mpa)} MPa on the {part.at}{by} {window}, "
        f"friction {abs(part.friction):.2g}{towards}"
    )


def _closed_form(answer: LoadAnswer, quantity: str, shown: Callable[[float], str]) -> str:
    """Give the closed-form answer and computed over it; starred where it does not quite hold."""
    for closed in answer.closed_form:
        if closed.quantity == quantity and closed.ratio is not None:
            star = "" if closed.within_validity else "*"
            return f"{shown(abs(closed.value))} ({closed.ratio:.3f}){star}"
    return ""


#: The movement whose closed form is shown: sideways, or inward where nothing moves sideways.
_MOVES = {False: "apex_lateral_mm", True: "apex_axial_mm"}


def _load_table(answer: LoadAnswer) -> Table:
    table = plain_table("", "", "behind the apex", "closed form")
    work = "movement" if answer.only_carried else "work"
    nothing = "none" if answer.nothing_left else "no finite value"
    errors = answer.errors

    def row(label: str, value: str, where: str = "", beside: str = "") -> None:
        table.add_row(label, value, where, beside)

    if answer.verdict is not None:
        for label, value, where in verdict_rows(answer.verdict, work):
            row(label, value, where)
    if answer.first_yield_load_factor is not None:
        low, high = answer.first_yield_load_factor_low, answer.first_yield_load_factor_high
        off = answer.errors.first_yield_load_factor
        assert low is not None
        assert high is not None
        assert off is not None
        ends = shown_factor(low), shown_factor(high)
        row(
            "section yields at",
            f"{factor_with_error(answer.first_yield_load_factor, off)} × this {work}",
            _where(answer.first_yield_x_mm, answer.first_yield_y_mm, answer.even),
            _closed_form(answer, "first_yield_load_factor", shown_factor),
        )
        if ends[0] != ends[1]:
            row("over the steel's spread", f"{ends[0]} to {ends[1]} ×")
    row(
        "peak, von Mises",
        _peak(answer.section_peak_von_mises_mpa, errors.section_peak_von_mises_mpa, nothing),
        _where(answer.section_peak_x_mm, answer.section_peak_y_mm, answer.even),
        _closed_form(answer, "section_peak_von_mises_mpa", _stress),
    )
    row(
        "largest tension",
        _peak(answer.largest_principal_mpa, errors.largest_principal_mpa, nothing),
        _where(answer.largest_principal_x_mm, answer.largest_principal_y_mm, answer.even),
    )
    if answer.patch_peak_von_mises_mpa is not None:
        row(
            "peak under the load",
            _peak(answer.patch_peak_von_mises_mpa, errors.patch_peak_von_mises_mpa, nothing),
            _where(answer.patch_peak_x_mm, answer.patch_peak_y_mm, answer.even),
        )
        row(
            "tension under the load",
            _peak(answer.patch_largest_principal_mpa, errors.patch_largest_principal_mpa, nothing),
            _where(
                answer.patch_largest_principal_x_mm,
                answer.patch_largest_principal_y_mm,
                answer.even,
            ),
        )
    depth = (
        length_with_error(answer.yield_depth_mm, errors.yield_depth_mm or 0.0)
        if answer.yield_depth_mm > 0
        else "none"
    )
    row(
        "yield depth, elastic",
        depth,
        beside=_closed_form(answer, "yield_depth_mm", shown_length),
    )
    if answer.through_yield_depth_mm is not None:
        through = errors.through_yield_depth_mm or 0.0
        row("yields through to", length_with_error(answer.through_yield_depth_mm, through))
    if answer.reaction_axial_n_per_mm is not None:
        assert answer.reaction_lateral_n_per_mm is not None
        row(
            "the movement takes",
            _tip_force(answer.reaction_axial_n_per_mm, answer.reaction_lateral_n_per_mm),
        )
    first, *others = _movements(answer)
    row("apex moves", first, beside=_closed_form(answer, _MOVES[answer.even], shown_length))
    for other in others:
        row("and", other)
    nearer = _movement_held_nearer(answer)
    if nearer is not None:
        row(f"were it held at {nearer[0]}", nearer[1])
    if answer.contact_ratio is not None:
        row("contact / yield depth", shown_factor(answer.contact_ratio))
    return table


def _limit(answer: LoadAnswer, depth_mm: float) -> str:
    """Say what bounds the work, and how deep a cut a hand that reaches no deeper had before it."""
    if answer.limited_by is None:
        return ""
    reached = max((part.to_mm or 0.0 for part in answer.parts), default=0.0)
    if answer.limited_by == "hand" and 0.0 < reached < HAND_REACHES * depth_mm:
        cut = shown_length(depth_mm)
        return f" (limited by the hand, which presses no deeper into the {cut} of the cut)"
    return f" (limited by the {answer.limited_by})"


def print_run(run: Run, out: Console) -> None:
    """Print a run: sentences first, then a table a load, then what was assumed."""
    for answer in run.loads:
        out.print(Text.assemble((f"{answer.name}: ", "bold"), answer.sentence))
    out.print()
    out.print(f"{run.case.title}: {run.case.profile.name}, {describe_section(run.measures)}")
    steel = run.steel
    hardness = f" at {steel.hardness_hrc:g} HRC" if steel.hardness_hrc is not None else ""
    out.print(
        f"{steel.name}{hardness}: yields at {steel.yield_strength_mpa:.0f} MPa "
        f"({steel.yield_low_mpa:.0f} to {steel.yield_high_mpa:.0f}); held from "
        f"{run.outline.depth_mm:.3g} mm behind the edge on."
    )
    for answer, load in zip(run.loads, run.case.loads, strict=True):
        out.print()
        out.print(Text(answer.name, style="bold"))
        acting = "; ".join(_part(part) for part in answer.parts)
        limit = _limit(answer, depth_in_cut_mm(load))
        out.print(Padding(f"acting: {acting}{limit}", (0, 0, 0, 2)))
        out.print(Padding(f"elastically: {answer.elastic_sentence}", (0, 0, 0, 2)))
        out.print(Padding(_load_table(answer), (0, 0, 0, 2)))
    print_warnings(run.warnings, out)
    out.print()
    out.print(
        "'× this work' is how many times harder the same work may get before that happens to an "
        "edge cut back by the tolerated damage, in brackets from the weak to the strong end of "
        "such a steel. Chips and crumbling are good to a factor of about 2, rolls and blunting to "
        "5 % beside the steel's spread. Damage is how far the edge goes back. First yield is "
        "where trouble starts, not damage; von Mises is one number "
        "for how hard the steel is worked. After ± stands what this mesh, and the clamp where it "
        "is felt, leave open; how well steel, shape and work are known is not in it. How far the "
        "apex moves truly depends on where the blade is held: it is given for a place a tenth "
        "nearer too. The last column is the textbook's answer, "
        "in brackets ours over it; starred where that formula does not quite hold."
    )
    out.print(CAUTION)


def print_warnings(warnings: Iterable[str], out: Console) -> None:
    """Print warnings, a line each."""
    for warning in warnings:
        out.print(Text.assemble(("mind: ", "bold"), warning))


def describe_section(measures: Measures) -> str:
    """Describe a section in one clause: bevels from the apex on, and the blade."""
    bevels = []
    *fronts, last = measures.stretches
    if len(fronts) >= MANY_STRETCHES:
        return (
            f"{len(fronts) + 1} stretches from {measures.stretches[0].begins_included_deg:.3g} "
            f"degrees included at the edge to {last.ends_included_deg:.3g} at the spine."
        )
    parallel = bool(fronts) and last.name == "above the grind"
    if parallel:
        last = fronts.pop()
    for stretch in fronts:
        if stretch.left_dps == stretch.right_dps:
            angle = f"{stretch.left_dps:.3g} per side"
        else:
            angle = f"{stretch.left_dps:.3g} left and {stretch.right_dps:.3g} right"
        bevels.append(f"{_shaped(stretch)} {angle} to {shown_length(stretch.ends_mm)}")
    ends = f" to {shown_length(last.ends_mm)}, parallel from there" if parallel else ""
    bevels.append(f"{_shaped(last)} {last.included_deg:.3g} degrees included{ends}")
    behind = measures.thickness_behind_edge_mm
    edge = f", {shown_length(behind)} thick behind the edge" if behind is not None else ""
    return "; ".join(bevels) + edge + "."


def _shaped(stretch: GroundStretch) -> str:
    """Name a bevel or grind with the shape of its faces, where they are not flat."""
    if stretch.radius_mm is None:
        return stretch.name
    return f"{'convex' if stretch.bulge_mm > 0 else 'hollow'} {stretch.name}"


def _bow_words(stretch: GroundStretch) -> str:
    """Say how a hollow or convex stretch is shaped."""
    if stretch.bulge_mm < 0:
        depth = shown_length(-stretch.bulge_mm)
        shape = f"hollow: a wheel of {stretch.radius_mm:.4g} mm radius, {depth} deep"
    else:
        shape = (
            f"convex: it stands out {shown_length(stretch.bulge_mm)} from its chord, an arc of "
            f"{stretch.radius_mm:.4g} mm radius"
        )
    return (
        f"The {stretch.name} is {shape}; {stretch.begins_included_deg:.3g} degrees included where "
        f"it begins, {stretch.ends_included_deg:.3g} where it ends. Angles above are of its chord."
    )


def print_profile(
    profile: CrossSection, measures: Measures, remarks: Iterable[str], out: Console
) -> None:
    """Print a profile's own numbers."""
    behind = measures.thickness_behind_edge_mm
    edge = f" and {shown_length(behind)} thick behind the edge" if behind is not None else ""
    first = measures.stretches[0]
    out.print(
        f"The {profile.name} has an edge of {first.begins_included_deg:.3g} degrees included, is "
        f"{measures.height_mm:.3g} mm high, {measures.spine_thickness_mm:.3g} mm at the spine"
        f"{edge}."
    )
    out.print(f"Where the numbers come from: {profile.source}")
    out.print()
    table = plain_table("", "left", "right", "included", "from", "to", "thickness there")
    for stretch in measures.stretches:
        table.add_row(
            stretch.name,
            f"{stretch.left_dps:.4g}°",
            f"{stretch.right_dps:.4g}°",
            f"{stretch.included_deg:.4g}°",
            f"{stretch.begins_mm:.4f} mm",
            f"{stretch.ends_mm:.4f} mm",
            f"{stretch.ends_at_thickness_mm:.4f} mm",
        )
    out.print(table)
    for stretch in measures.stretches:
        if stretch.radius_mm is not None:
            out.print(_bow_words(stretch))
    out.print()
    depths = plain_table("behind the apex", "thickness")
    for depth, thickness in measures.thickness_at_mm:
        depths.add_row(f"{depth:g} mm", f"{thickness:.4f} mm")
    out.print(depths)
    out.print(f"Area of the section: {measures.area_mm2:.3f} mm².")
    print_warnings(remarks, out)
