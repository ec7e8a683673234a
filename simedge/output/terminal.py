"""Answers in a terminal: the sentence first, then a small table, then where the files are."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from simedge.inputs.profile import Profile
from simedge.output.result_json import CAUTION
from simedge.runs.answer import ActingPart, LoadAnswer
from simedge.runs.run import Run
from simedge.runs.sentence import shown_factor, shown_length, shown_side
from simedge.section.measures import Measures

#: Lines longer than this are hard to read, whatever the terminal's width.
WIDEST = 100


def console(*, stderr: bool = False) -> Console:
    """Give a console that neither colours text by itself nor runs wider than is readable."""
    made = Console(stderr=stderr, highlight=False, soft_wrap=False, markup=False)
    made.width = min(made.width, WIDEST) if made.is_terminal else WIDEST
    return made


def plain_table(*columns: str) -> Table:
    """Give an empty table without rules."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="bold")
    for column in columns:
        table.add_column(column)
    return table


def _stress(value_mpa: float | None) -> str:
    """Write a stress with the three figures that the default accuracy carries."""
    if value_mpa is None:
        return "no finite value"
    decimals = 2 - int(f"{abs(value_mpa):e}".partition("e")[2])
    rounded = round(value_mpa, decimals)
    return f"{rounded:.{max(decimals, 0)}f} MPa"


def _where(x_mm: float | None, y_mm: float | None, even: bool) -> str:
    if x_mm is None or y_mm is None:
        return ""
    return f"{shown_length(x_mm)}, {shown_side(x_mm, y_mm, even=even)}"


def _movement(answer: LoadAnswer) -> str:
    if answer.apex_axial_mm is None or answer.apex_lateral_mm is None:
        return "no finite value"
    inward = "in" if answer.apex_axial_mm >= 0 else "out"
    along = f"{shown_length(abs(answer.apex_axial_mm))} {inward}"
    if answer.even:
        return along
    side = "left" if answer.apex_lateral_mm > 0 else "right"
    return f"{shown_length(abs(answer.apex_lateral_mm))} to the {side}, {along}"


def _part(part: ActingPart) -> str:
    if part.at == "tip":
        text = f"{part.axial_n_per_mm:.3g} N/mm straight into the tip"
        if part.lateral_n_per_mm:
            side = "left" if part.lateral_n_per_mm > 0 else "right"
            text += f", {abs(part.lateral_n_per_mm):.3g} N/mm towards the {side}"
        return text
    assert part.from_mm is not None
    assert part.to_mm is not None
    return (
        f"{part.pressure_mpa:.3g} MPa on the {part.at} down to {shown_length(part.to_mm)}, "
        f"friction {part.friction:.2g}"
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

    def row(label: str, value: str, where: str = "", beside: str = "") -> None:
        table.add_row(label, value, where, beside)

    if answer.first_yield_load_factor is not None:
        low, high = answer.first_yield_load_factor_low, answer.first_yield_load_factor_high
        assert low is not None
        assert high is not None
        spread = f" ({shown_factor(low)} to {shown_factor(high)})" if low != high else ""
        row(
            "section yields at",
            f"{shown_factor(answer.first_yield_load_factor)} × this work{spread}",
            _where(answer.first_yield_x_mm, answer.first_yield_y_mm, answer.even),
            _closed_form(answer, "first_yield_load_factor", shown_factor),
        )
    row(
        "peak, von Mises",
        _stress(answer.section_peak_von_mises_mpa),
        _where(answer.section_peak_x_mm, answer.section_peak_y_mm, answer.even),
        _closed_form(answer, "section_peak_von_mises_mpa", _stress),
    )
    row(
        "largest tension",
        _stress(answer.largest_principal_mpa),
        _where(answer.largest_principal_x_mm, answer.largest_principal_y_mm, answer.even),
    )
    if answer.patch_peak_von_mises_mpa is not None:
        row(
            "peak under the load",
            _stress(answer.patch_peak_von_mises_mpa),
            _where(answer.patch_peak_x_mm, answer.patch_peak_y_mm, answer.even),
        )
        row(
            "tension under the load",
            _stress(answer.patch_largest_principal_mpa),
            _where(
                answer.patch_largest_principal_x_mm,
                answer.patch_largest_principal_y_mm,
                answer.even,
            ),
        )
    depth = shown_length(answer.yield_depth_mm) if answer.yield_depth_mm > 0 else "none"
    row(
        "yield depth, elastic",
        depth,
        beside=_closed_form(answer, "yield_depth_mm", shown_length),
    )
    if answer.through_yield_depth_mm is not None:
        row("yields through to", shown_length(answer.through_yield_depth_mm))
    row(
        "apex moves",
        _movement(answer),
        beside=_closed_form(answer, _MOVES[answer.even], shown_length),
    )
    if answer.contact_ratio is not None:
        row("contact / yield depth", shown_factor(answer.contact_ratio))
    return table


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
    for answer in run.loads:
        out.print()
        out.print(Text(answer.name, style="bold"))
        acting = "; ".join(_part(part) for part in answer.parts)
        limit = f" (limited by the {answer.limited_by})" if answer.limited_by else ""
        out.print(Padding(f"acting: {acting}{limit}", (0, 0, 0, 2)))
        out.print(Padding(_load_table(answer), (0, 0, 0, 2)))
    print_warnings(run.warnings, out)
    out.print()
    out.print(
        "First yield is where trouble starts, not damage. '× this work' is how many times harder "
        "the same work may get, in brackets with the steel's own spread; von Mises is one number "
        "for how hard the steel is worked. The last column is the textbook's answer, "
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
    for stretch in measures.stretches[:-1]:
        if stretch.left_dps == stretch.right_dps:
            angle = f"{stretch.left_dps:.3g} per side"
        else:
            angle = f"{stretch.left_dps:.3g} left and {stretch.right_dps:.3g} right"
        bevels.append(f"{stretch.name} {angle} to {shown_length(stretch.ends_mm)}")
    last = measures.stretches[-1]
    bevels.append(f"{last.name} {last.included_deg:.3g} degrees included")
    behind = measures.thickness_behind_edge_mm
    edge = f", {shown_length(behind)} thick behind the edge" if behind is not None else ""
    return "; ".join(bevels) + edge + "."


def print_profile(
    profile: Profile, measures: Measures, remarks: Iterable[str], out: Console
) -> None:
    """Print a profile's own numbers."""
    behind = measures.thickness_behind_edge_mm
    edge = f" and {shown_length(behind)} thick behind the edge" if behind is not None else ""
    first = measures.stretches[0]
    out.print(
        f"The {profile.name} has an edge of {first.included_deg:.3g} degrees included, is "
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
    out.print()
    depths = plain_table("behind the apex", "thickness")
    for depth, thickness in measures.thickness_at_mm:
        depths.add_row(f"{depth:g} mm", f"{thickness:.4f} mm")
    out.print(depths)
    out.print(f"Area of the section: {measures.area_mm2:.3f} mm².")
    print_warnings(remarks, out)
