"""The library of steels and media, printed with where each figure comes from."""

from __future__ import annotations

from rich.console import Console

from simedge.inputs.library_data import grades
from simedge.inputs.medium import hands, media
from simedge.inputs.steel_properties import SteelProperties
from simedge.output.terminal import plain_table, print_warnings

TRUST_LEGEND = (
    "S read in the source named, M from memory, D derived, P common practice of the trade "
    "without a source."
)


def print_steel(steel: SteelProperties, out: Console) -> None:
    """Print all figures of one steel at one hardness, each with its source."""
    out.print(
        f"{steel.name} at {steel.hardness_hrc:g} HRC yields at {steel.yield_strength_mpa:.0f} MPa, "
        f"give or take: {steel.yield_low_mpa:.0f} to {steel.yield_high_mpa:.0f} MPa."
    )
    table = plain_table("", "value", "trust", "source")
    for origin in steel.origins:
        table.add_row(origin.quantity, origin.value, origin.trust, origin.source)
    out.print(table)
    out.print(TRUST_LEGEND)
    print_warnings(steel.remarks, out)


def print_steels(out: Console) -> None:
    """Print the steels of the library."""
    out.print("The steels that simedge knows, by their open designations.")
    table = plain_table("grade", "also", "HRC in tools", "K_IC MPa√m @ HRC", "largest carbide", "")
    for grade in grades().values():
        toughness, carbide = grade.fracture_toughness_mpa_sqrt_m, grade.largest_carbide_um
        others = [name for name in grade.designations if name != grade.name]
        carbides = f"{carbide.text('µm')} ({carbide.trust})" if carbide else ""
        table.add_row(
            grade.name,
            ", ".join(others[:2]),
            grade.hardness_hrc.text(),
            f"{toughness.text()} @ {toughness.at_hrc:g} ({toughness.trust})",
            carbides,
            grade.note,
        )
    out.print(table)
    out.print(
        f"{TRUST_LEGEND} Yield from hardness: within 10 % up to 62 HRC, up to 25 % more above."
    )


def print_media(out: Console) -> None:
    """Print the media of the library, and the hand."""
    out.print("What simedge can cut, and how hard it presses on the faces of the edge.")
    table = plain_table("medium", "stands for", "low", "typical", "high MPa", "contact", "trust")
    for medium in media().values():
        table.add_row(
            medium.name,
            medium.description,
            f"{medium.strength_low_mpa:g}",
            f"{medium.strength_mpa:g}",
            f"{medium.strength_high_mpa:g}",
            f"{medium.contact_length_mm:g} mm",
            medium.trust,
        )
    out.print(table)
    for hand in hands().values():
        out.print(f"{hand.name}: {hand.force_n:g} N ({hand.trust}: {hand.source})")
    out.print(TRUST_LEGEND)
