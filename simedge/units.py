"""Units: the few conversions that the door makes, and the unit that a key's name carries.

Nothing behind the door converts anything: the solver knows mm, N, MPa and radians.
"""

from __future__ import annotations

import math
from collections.abc import Container, Mapping
from dataclasses import dataclass
from typing import Any, Final

#: Exact since the international yard and pound agreement of 1959.
MM_PER_INCH: Final = 25.4

#: Unit of a quantity by the end of its key, longest end first: the first match counts.
UNIT_OF_KEY_END: Final = {
    "mpa_sqrt_m": "MPa sqrt(m)",
    "n_per_mm": "N/mm",
    "percent": "%",
    "gpa": "GPa",
    "mpa": "MPa",
    "deg": "deg",
    "dps": "deg",
    "hrc": "HRC",
    "um": "µm",
    "mm": "mm",
    "in": "in",
    "n": "N",
}

#: Ends of keys that people write and that no key of ours has.
_FOREIGN_KEY_ENDS: Final = (
    *("inches", "inch", "microns", "micron", "nm", "cm", "m", "thou", "mil", "mils"),
    *("degrees", "degree", "rad", "pct", "kpa", "ksi", "psi", "pa", "kn", "lbf", "lb", "kg"),
)


def mm_from_inch(length_in: float) -> float:
    """Convert inches to millimetres.

    Parameters
    ----------
    length_in : float
        Length, inches.

    Returns
    -------
    float
        The same length, millimetres.

    Examples
    --------
    >>> mm_from_inch(0.5)
    12.7
    """
    return length_in * MM_PER_INCH


def mm_from_um(length_um: float) -> float:
    """Convert micrometres to millimetres.

    Parameters
    ----------
    length_um : float
        Length, micrometres.

    Returns
    -------
    float
        The same length, millimetres.

    Examples
    --------
    >>> mm_from_um(1.5)
    0.0015
    """
    return length_um / 1000.0


def mpa_from_gpa(modulus_gpa: float) -> float:
    """Convert gigapascals to megapascals.

    Parameters
    ----------
    modulus_gpa : float
        Modulus or stress, GPa.

    Returns
    -------
    float
        The same, MPa.

    Examples
    --------
    >>> mpa_from_gpa(207)
    207000.0
    """
    return modulus_gpa * 1000.0


def radians_from_degrees(angle_deg: float) -> float:
    """Convert degrees to radians.

    Parameters
    ----------
    angle_deg : float
        Angle, degrees.

    Returns
    -------
    float
        The same angle, radians.

    Examples
    --------
    >>> round(radians_from_degrees(180.0), 6)
    3.141593
    """
    return math.radians(angle_deg)


def unit_of_key(key: str) -> str:
    """Give the unit that the end of a key names.

    Parameters
    ----------
    key : str
        Name of an input, such as ``height_mm``.

    Returns
    -------
    str
        The unit as people read it; empty for a key without one.

    Examples
    --------
    >>> unit_of_key("line_load_n_per_mm"), unit_of_key("left_dps"), unit_of_key("friction")
    ('N/mm', 'deg', '')
    """
    name = f"_{key}" if key == "dps" else key  # the one key that is a unit by itself
    return next((unit for end, unit in UNIT_OF_KEY_END.items() if name.endswith(f"_{end}")), "")


def key_without_unit(key: str) -> str:
    """Strip the unit, ours or a foreign one, off the end of a key.

    Parameters
    ----------
    key : str
        Name of an input as a person wrote it.

    Returns
    -------
    str
        The quantity's bare name: two keys that share it differ in their unit alone.

    Examples
    --------
    >>> key_without_unit("height_cm"), key_without_unit("height_mm"), key_without_unit("dps")
    ('height', 'height', 'dps')
    """
    for end in (*UNIT_OF_KEY_END, *_FOREIGN_KEY_ENDS):
        if key.endswith(f"_{end}"):
            return key.removesuffix(f"_{end}")
    return key


@dataclass(frozen=True, slots=True, kw_only=True)
class MetricData:
    """Data whose lengths are all in millimetres, and how their keys were written.

    Attributes
    ----------
    data : dict, list or plain value
        The data, keys that ended in ``_in`` renamed to ``_mm``.
    written_keys : mapping of tuple to str
        The key as written at each path of `data` that was renamed.
    doubled : tuple of tuple
        Paths of the ``_in`` keys that stood beside their ``_mm`` key and were left out.
    """

    data: Any
    written_keys: Mapping[tuple[str | int, ...], str]
    doubled: tuple[tuple[str | int, ...], ...]

    def as_written(self, path: tuple[str | int, ...]) -> tuple[str | int, ...]:
        """Give a path of `data` with the keys that the person wrote."""
        heads = (path[: end + 1] for end in range(len(path)))
        return tuple(self.written_keys.get(head, head[-1]) for head in heads)


def in_millimetres(data: Any, known_keys: Container[str] | None = None) -> MetricData:
    """Convert every length given in inches, in tables and lists of any depth.

    Parameters
    ----------
    data : dict, list or plain value
        As a TOML document holds it; not changed.
    known_keys : container of str, optional
        Keys that mean something: ``height_in`` is a length in inches if ``height_mm`` is
        among them and ``height_in`` is not. By default every ``_in`` is.

    Returns
    -------
    MetricData
        The converted data; what is not a number is renamed but otherwise left alone.

    Examples
    --------
    >>> in_millimetres({"height_in": 0.5, "plugged_in": True}, {"height_mm"}).data
    {'height_mm': 12.7, 'plugged_in': True}
    """
    written_keys: dict[tuple[str | int, ...], str] = {}
    doubled: list[tuple[str | int, ...]] = []

    def converted(value: Any, path: tuple[str | int, ...]) -> Any:
        if isinstance(value, list | tuple):
            return [converted(entry, (*path, index)) for index, entry in enumerate(value)]
        if not isinstance(value, dict):
            return value
        table = {}
        for key, inner in value.items():
            key_mm = _key_in_mm(key, known_keys)
            if key_mm is None:
                table[key] = converted(inner, (*path, key))
            elif key_mm in value:
                doubled.append((*path, key))
            else:
                written_keys[(*path, key_mm)] = key
                table[key_mm] = _inches_scaled(inner)
        return table

    metric = converted(data, ())
    return MetricData(data=metric, written_keys=written_keys, doubled=tuple(doubled))


def _key_in_mm(key: object, known_keys: Container[str] | None) -> str | None:
    if not isinstance(key, str) or not key.endswith("_in"):
        return None
    key_mm = f"{key.removesuffix('_in')}_mm"
    known = known_keys is None or (key_mm in known_keys and key not in known_keys)
    return key_mm if known else None


def _inches_scaled(value: Any) -> Any:
    if isinstance(value, list | tuple):
        return [_inches_scaled(entry) for entry in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    try:
        return mm_from_inch(value)
    except OverflowError:  # an integer beyond the range of floats: whoever validates refuses it
        return math.inf
