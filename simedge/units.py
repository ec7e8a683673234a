"""Units: the few conversions that the door makes, and the unit that a key's name carries.

Nothing behind the door converts anything: the solver knows mm, N, MPa and radians.
"""

from __future__ import annotations

import math
from typing import Final

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
    return next(
        (unit for end, unit in UNIT_OF_KEY_END.items() if key == end or key.endswith(f"_{end}")),
        "",
    )


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
