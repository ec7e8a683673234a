"""Strength from hardness: tables over HRC, and what is read off them.

The tables stand in ``hardness.toml``, each with its source and how far it is trusted;
none is read beyond its ends.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from simedge.inputs.library_data import Figure, Grade, Trust, read_data, read_figure

#: One kgf/mm2, the unit of HV, in MPa.
VICKERS_TO_MPA = 9.807


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """A short table, read by straight lines between its points and never beyond them.

    Attributes
    ----------
    points : tuple of (float, float)
        Rising in the first number.
    trust : Trust
        Of the points themselves; a value between two points is derived (D).
    source, spread : str
    """

    points: tuple[tuple[float, float], ...]
    trust: Trust
    source: str
    spread: str

    @property
    def first(self) -> float:
        """Where the table begins."""
        return self.points[0][0]

    @property
    def last(self) -> float:
        """Where the table ends."""
        return self.points[-1][0]

    def covers(self, place: float) -> bool:
        """Say whether the table may be read at ``place``; its ends belong to it."""
        return self.first <= place <= self.last

    def has_point(self, place: float) -> bool:
        """Say whether ``place`` is a point of the table, so that nothing is interpolated."""
        return any(point == place for point, _ in self.points)

    def at(self, place: float) -> float:
        """Read the table, linear between its points.

        Raises
        ------
        ValueError
            Where the table does not reach: nothing is extrapolated.

        Examples
        --------
        >>> line = Curve(points=((50, 1350), (55, 1800)), trust="S", source="-", spread="-")
        >>> line.at(51)
        1440.0
        """
        if not self.covers(place):
            raise ValueError(f"{place:g} lies outside the table, {self.first:g} to {self.last:g}")
        after = min(bisect_right([point for point, _ in self.points], place), len(self.points) - 1)
        (begin, value_begin), (end, value_end) = self.points[after - 1], self.points[after]
        return value_begin + (value_end - value_begin) * (place - begin) / (end - begin)

    def read_off(self, place: float) -> Figure:
        """Read the table as `at` does, saying where an interpolated value comes from."""
        value, trust, source = self.at(place), self.trust, self.source
        if not self.has_point(place):
            trust, source = "D", f"{source}; linear between its points"
        return read_figure(
            {"value": value, "trust": trust, "source": source, "spread": self.spread}
        )

    def swapped(self) -> Curve:
        """Turn a rising table round: asked by value, it answers with the place."""
        return replace(self, points=tuple((value, place) for place, value in self.points))


@lru_cache
def hardness_curve(*keys: str) -> Curve:
    """Read a table of ``hardness.toml``, such as ``vickers_hardness``, over HRC.

    Examples
    --------
    >>> hardness_curve("vickers_hardness").at(60)
    697.0
    """
    table: Any = read_data("hardness.toml")
    for key in keys:
        table = table[key]
    return Curve(
        points=tuple((float(place), float(value)) for place, value in table["points"]),
        trust=table["trust"],
        source=table["source"],
        spread=table["spread"],
    )


def own_yield_curve(grade: Grade | None) -> Curve | None:
    """Give the grade's own points of 0.2 % compressive yield in MPa over HRC, if it has any."""
    own = read_data("hardness.toml")["own_yield_points_mpa"]
    if grade is None or grade.name not in own:
        return None
    return hardness_curve("own_yield_points_mpa", grade.name)


def vickers_hardness(hardness_hrc: float) -> Figure:
    """Convert HRC (40 to 68) to HV; see `Curve.at` for what is refused."""
    return hardness_curve("vickers_hardness").read_off(hardness_hrc)


def yield_strength(grade: Grade | None, hardness_hrc: float) -> Figure:
    """Compressive 0.2 % yield strength in MPa at a hardness, by HV or the grade's own points.

    Examples
    --------
    >>> round(yield_strength(None, 60).single)  # 9.807 x 697 HV / 3.2
    2136
    """
    line, own = read_data("hardness.toml")["yield_line"], own_yield_curve(grade)
    if own is not None:
        figure = own.read_off(hardness_hrc)
    else:
        factor = hardness_curve("yield_line").at(hardness_hrc)
        value = VICKERS_TO_MPA * vickers_hardness(hardness_hrc).single / factor
        source = f"9.807 HV / {factor:.3g}, {line['source']}"
        fits_end = line["published_fits_end_at_hrc"]
        if hardness_hrc > fits_end:
            source += f"; beyond {fits_end} HRC published fits are extrapolated"
        said = {"trust": line["trust"], "source": source, "spread": line["spread"]}
        figure = read_figure({"value": value, **said})
    above = hardness_hrc > line["high_changes_at_hrc"]
    return replace(
        figure,
        low=figure.single * line["low"],
        high=figure.single * line["high_above" if above else "high"],
        source=f"{figure.source}; {line['note']}",
    )


def tensile_strength(hardness_hrc: float) -> Figure:
    """Tensile strength in MPa at a hardness: the standard's to 59 HRC, then HV / 3."""
    table = hardness_curve("tensile_strength_mpa")
    if table.covers(hardness_hrc):
        return table.read_off(hardness_hrc)
    beyond = read_data("hardness.toml")["tensile_above_table"]
    value = VICKERS_TO_MPA * vickers_hardness(hardness_hrc).single / beyond["divisor"]
    source = f"9.807 HV / {beyond['divisor']}; {beyond['source']}"
    return read_figure({**beyond, "value": value, "source": source})
