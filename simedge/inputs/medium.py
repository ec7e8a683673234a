"""What the edge cuts, and the hand that pushes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from simedge.inputs.library_data import Trust, did_you_mean, plain_name, read_data, read_figure
from simedge.inputs.shown_values import one_line


@dataclass(frozen=True, slots=True, kw_only=True)
class Medium:
    """A medium that presses on the faces of an edge inside the cut, and on its tip.

    Attributes
    ----------
    name : str
        Short name, as in a case file.
    description : str
        All that the entry stands for.
    aliases : tuple of str
        Other names by which it is found.
    strength_low_mpa, strength_mpa, strength_high_mpa : float
        Pressure that it can carry before it gives way: low, typical, high.
    trust, source, spread
        Of the strength.
    contact_length_mm : float
        Length of edge that lies in it.
    contact_length_trust, contact_length_source, contact_length_spread
        Of the contact length; all of them practice of the trade (P).
    """

    name: str
    description: str
    aliases: tuple[str, ...]
    strength_low_mpa: float
    strength_mpa: float
    strength_high_mpa: float
    trust: Trust
    source: str
    spread: str
    contact_length_mm: float
    contact_length_trust: Trust
    contact_length_source: str
    contact_length_spread: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """What pushes the edge, straight or sideways.

    Attributes
    ----------
    name : str
        ``one hand`` or ``two hands``.
    force_n : float
        Force on the edge, N.
    trust, source, spread
    """

    name: str
    force_n: float
    trust: Trust
    source: str
    spread: str


@lru_cache
def media() -> Mapping[str, Medium]:
    """All media by their short names, from soft to hard as the data file has them.

    Examples
    --------
    >>> media()["hard wood"].strength_mpa
    60.0
    """
    data = read_data("media.toml")
    columns = data["columns"]
    found: dict[str, Medium] = {}
    for entry in data["medium"]:
        strength = read_figure(entry["strength_mpa"], columns["strength_mpa"])
        length = read_figure(entry["contact_length_mm"], columns["contact_length_mm"])
        found[entry["name"]] = Medium(
            name=entry["name"],
            description=entry["description"],
            aliases=tuple(entry["aliases"]),
            strength_low_mpa=strength.low,
            strength_mpa=strength.single,
            strength_high_mpa=strength.high,
            trust=strength.trust,
            source=strength.source,
            spread=strength.spread,
            contact_length_mm=length.single,
            contact_length_trust=length.trust,
            contact_length_source=length.source,
            contact_length_spread=length.spread,
        )
    return MappingProxyType(found)


@lru_cache
def hands() -> Mapping[str, Hand]:
    """List the forces that a person can put on the edge, by name: ``one hand``, ``two hands``.

    Examples
    --------
    >>> hands()["one hand"].force_n
    100.0
    """
    found: dict[str, Hand] = {}
    for key, entry in read_data("media.toml")["hand"].items():
        name, force = key.replace("_", " "), read_figure(entry["force_n"])
        found[name] = Hand(
            name=name,
            force_n=force.single,
            trust=force.trust,
            source=force.source,
            spread=force.spread,
        )
    return MappingProxyType(found)


@lru_cache
def _media_by_plain_name() -> Mapping[str, Medium]:
    return {
        plain_name(written): medium
        for medium in media().values()
        for written in (medium.name, medium.description, *medium.aliases)
    }


def find_medium(name: str) -> Medium:
    """Find a medium by its name, full description or alias; case and spaces do not matter.

    Raises
    ------
    KeyError
        If there is none; its only argument is `unknown_medium_message`.

    Examples
    --------
    >>> find_medium("Softwood").name
    'soft wood'
    """
    found = _media_by_plain_name().get(plain_name(name))
    if found is None:
        raise KeyError(unknown_medium_message(name))
    return found


def unknown_medium_message(name: str) -> str:
    """Say that there is no such medium, name the nearest and list all.

    The name of the field that held it goes in front.

    Examples
    --------
    >>> unknown_medium_message("leahter")[:66]
    'is "leahter", but no such medium is known; did you mean "leather"?'
    """
    known = [written for medium in media().values() for written in (medium.name, *medium.aliases)]
    near = did_you_mean(name, known)
    every = ", ".join(f'"{known_name}"' for known_name in media())
    hint = f"{near} " if near else ""
    return f'is "{one_line(name)}", but no such medium is known; {hint}known are {every}'
