"""The figures that travel with the package, each with how far it can be trusted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Literal

#: S read in a copy of the named source; M from memory; D derived, formula given; P common
#: practice of the trade, no source; given: the person's own figure.
Trust = Literal["S", "M", "D", "P", "given"]

#: Written in front of a designation by some, and left out by us.
_PREFIXES = ("aisi", "sae", "din", "wnr", "en", "iso")


@dataclass(frozen=True, slots=True)
class Band:
    """From where to where a figure may lie, in the unit of the field that holds it."""

    low: float
    high: float

    def times(self, low_factor: float, high_factor: float | None = None) -> Band:
        """Scale both ends, by the same factor unless two are given.

        Examples
        --------
        >>> Band(2.0, 4.0).times(0.5, 1.0)
        Band(low=1.0, high=4.0)
        """
        other = low_factor if high_factor is None else high_factor
        return Band(self.low * low_factor, self.high * other)

    def at_least(self, floor: float) -> Band:
        """Raise whichever end lies below ``floor`` to it."""
        return Band(max(self.low, floor), max(self.high, floor))


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of the library.

    Attributes
    ----------
    low, high : float
        Its range, in the unit at the end of its name in the data file.
    value : float or None
        The figure to use; None where only a range is known.
    at_hrc : float or None
        Hardness in HRC at which it is quoted, where it depends on hardness.
    trust : Trust
    source, spread : str
        Where it comes from, and how far off it may be.
    """

    low: float
    high: float
    value: float | None
    at_hrc: float | None
    trust: Trust
    source: str
    spread: str

    @property
    def band(self) -> Band:
        """The range alone."""
        return Band(self.low, self.high)

    def text(self, unit: str = "") -> str:
        """Show the figure with its range and unit, three digits or all whole ones."""
        value, low, high = (
            "" if end is None else f"{end:.0f}" if end >= 100 else f"{end:.{3 if end >= 1 else 4}g}"
            for end in (self.value, self.low, self.high)
        )
        span = low if low == high else f"{low} to {high}"
        if not value or span == value:
            return f"{span} {unit}".rstrip()
        return f"{value} {unit}".rstrip() + f" ({span})"

    @property
    def single(self) -> float:
        """The figure to use; the data files give one wherever this is asked for."""
        if self.value is None:
            raise ValueError("this figure is known as a range only")
        return self.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """One steel of the library, by its open designation.

    Attributes
    ----------
    name : str
        AISI/SAE designation, or EN/ISO where there is no other.
    designations : tuple of str
        EN/ISO equivalents; for two grades (L6, 5160) of the same family only.
    note : str
        What sets it apart, such as powder metallurgy; empty for most.
    hardness_converts : bool
        False where ASTM E140 does not apply.
    hardness_hrc : Figure
        Usual range in tools, HRC.
    fracture_toughness_mpa_sqrt_m : Figure
        K_IC, at its ``at_hrc``.
    carbide_volume_percent, grindability, density_g_per_cm3 : Figure
        Grindability is a rank: O1 is 1, larger grinds easier.
    largest_carbide_um : Figure or None
        Largest carbide or aggregate; None in a steel without carbides.
    """

    name: str
    designations: tuple[str, ...]
    note: str
    hardness_converts: bool
    hardness_hrc: Figure
    fracture_toughness_mpa_sqrt_m: Figure
    carbide_volume_percent: Figure
    largest_carbide_um: Figure | None
    grindability: Figure
    density_g_per_cm3: Figure

    @property
    def full_name(self) -> str:
        """Name with its first equivalent, such as ``52100 (100Cr6)``."""
        return f"{self.name} ({self.designations[0]})"


@lru_cache
def read_data(file_name: str) -> Mapping[str, Any]:
    """Read one of the package's own TOML files, which work from inside a wheel too."""
    # Imported here: a program that only prints its help reads no data.
    import tomllib
    from importlib.resources import files

    text = files("simedge.inputs").joinpath("data", file_name).read_text(encoding="utf-8")
    return MappingProxyType(tomllib.loads(text))


def read_figure(entry: Mapping[str, Any], column: Mapping[str, Any] | None = None) -> Figure:
    """Turn a data file's entry into a `Figure`; what it does not say, its column says.

    Raises
    ------
    KeyError
        If neither says trust, source and spread: no figure travels without them.
    """
    told: dict[str, Any] = {**(column or {}), **entry}
    value = told.get("value")
    return Figure(
        low=float(told["low"] if value is None else told.get("low", value)),
        high=float(told["high"] if value is None else told.get("high", value)),
        value=None if value is None else float(value),
        at_hrc=None if "at_hrc" not in told else float(told["at_hrc"]),
        trust=told["trust"],
        source=told["source"],
        spread=told["spread"],
    )


@lru_cache
def every_steel() -> Mapping[str, Figure]:
    """Figures that hold for every grade, by their names in ``steels.toml``."""
    shared = read_data("steels.toml")["every_steel"]
    return MappingProxyType({name: read_figure(entry) for name, entry in shared.items()})


@lru_cache
def grades() -> Mapping[str, Grade]:
    """All steels of the library by name, in the order of the data file.

    Examples
    --------
    >>> grades()["52100"].full_name
    '52100 (100Cr6)'
    """
    data = read_data("steels.toml")
    columns = data["columns"]
    found: dict[str, Grade] = {}
    for entry in data["grade"]:
        figure = {name: read_figure(entry[name], columns[name]) for name in columns.keys() & entry}
        found[entry["name"]] = Grade(
            name=entry["name"],
            designations=tuple(entry["designations"]),
            note=entry.get("note", ""),
            hardness_converts=entry.get("hardness_converts", True),
            hardness_hrc=figure["hardness_hrc"],
            fracture_toughness_mpa_sqrt_m=figure["fracture_toughness_mpa_sqrt_m"],
            carbide_volume_percent=figure["carbide_volume_percent"],
            largest_carbide_um=figure.get("largest_carbide_um"),
            grindability=figure["grindability"],
            density_g_per_cm3=figure["density_g_per_cm3"],
        )
    return MappingProxyType(found)


def plain_name(name: str) -> str:
    """Strip what people write differently: case, spaces, hyphens, underscores, commas."""
    return "".join(letter for letter in name.casefold() if letter not in " -_,\t")


@lru_cache
def designations() -> Mapping[str, Grade]:
    """All steels by every one of their designations."""
    every = grades().values()
    return {name: each for each in every for name in (each.name, *each.designations)}


@lru_cache
def _grades_by_plain_name() -> Mapping[str, Grade]:
    return {plain_name(name): grade for name, grade in designations().items()}


def find_grade(name: str) -> Grade | None:
    """Find a grade by any of its designations; None if no such steel is known.

    Case, spaces and hyphens do not matter, nor does AISI, SAE, EN, DIN or ISO in front.

    Examples
    --------
    >>> find_grade("x 50 crmov 15").name, find_grade("AISI d2").name, find_grade("52101")
    ('1.4116', 'D2', None)
    """
    by_name, plain = _grades_by_plain_name(), plain_name(name)
    if plain in by_name:
        return by_name[plain]
    stripped = (plain.removeprefix(prefix) for prefix in _PREFIXES if plain.startswith(prefix))
    return next((by_name[rest] for rest in stripped if rest in by_name), None)


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Say which known names are spelled nearly like ``name``; empty if none is.

    Examples
    --------
    >>> did_you_mean("52101", ["52100", "O1"])
    'did you mean "52100"?'
    """
    from difflib import get_close_matches

    spelled = {plain_name(written): written for written in known}
    plain = plain_name(name)
    # One wrong letter of two is a half; in longer names a half is nothing alike.
    near = get_close_matches(plain, spelled, n=3, cutoff=0.5 if len(plain) < 4 else 0.7)
    if not near:
        return ""
    quoted = " or ".join(f'"{spelled[each]}"' for each in near)
    return f"did you mean {quoted}?"
