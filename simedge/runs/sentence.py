"""The first sentence about a load: how hard it works the edge, in plain words."""

from __future__ import annotations

from simedge.strength.yielding import Peaks, YieldedRegion


def shown_length(length_mm: float) -> str:
    """Write a length as a person would say it: micrometres below a tenth of a millimetre.

    >>> shown_length(0.0622), shown_length(0.454)
    ('62 µm', '0.45 mm')
    """
    if length_mm < 0.0995:
        return f"{1000.0 * length_mm:.2g} µm"
    return f"{length_mm:.0f} mm" if length_mm >= 99.5 else f"{length_mm:.2g} mm"


def shown_factor(factor: float) -> str:
    """Write a load factor with two figures, and none beyond a thousand.

    >>> shown_factor(0.4321), shown_factor(1.04), shown_factor(12.4), shown_factor(123.4)
    ('0.43', '1.0', '12', '120')
    >>> shown_factor(5321.0)
    'more than 1000'
    """
    if factor > 1000.0:
        return "more than 1000"
    if factor >= 99.5:
        return f"{10 * round(factor / 10):d}"
    if factor >= 9.95:
        return f"{factor:.0f}"
    return f"{factor:.1f}" if factor >= 0.995 else f"{factor:.2g}"


def shown_side(x_mm: float, y_mm: float, *, even: bool) -> str:
    """Say where across the thickness a place lies.

    >>> shown_side(1.0, 0.1, even=False), shown_side(1.0, 0.1, even=True)
    ('on the left', 'on both sides')
    """
    if abs(y_mm) <= 1e-3 * x_mm:
        return "in the middle"
    if even:
        return "on both sides"
    return "on the left" if y_mm > 0 else "on the right"


def _place(x_mm: float, y_mm: float, even: bool) -> str:
    return f"{shown_length(x_mm)} behind the apex, {shown_side(x_mm, y_mm, even=even)}"


def sentence_for(
    peaks: Peaks,
    yielded: YieldedRegion,
    yield_strength_mpa: float,
    yield_low_mpa: float,
    *,
    even: bool,
) -> str:
    """Say in one sentence how hard a load works the edge.

    Parameters
    ----------
    peaks : Peaks
    yielded : YieldedRegion
    yield_strength_mpa, yield_low_mpa : float
        Of the steel: as it should be, and at the low end of its spread.
    even : bool
        Section and load are alike on both sides.

    Returns
    -------
    str
        About yield only: it is where trouble starts, not yet damage.
    """
    peak = peaks.section
    if peak is None or peak.value_mpa == 0.0:
        return _without_peak(yielded)
    factor = yield_strength_mpa / peak.value_mpa
    if factor > 1.0:
        weak = (
            " (within the steel's spread it may already)" if yield_low_mpa < peak.value_mpa else ""
        )
        at = f"{shown_factor(factor)} times this work{weak}, {_place(peak.x_mm, peak.y_mm, even)}."
        if yielded.depth_mm == 0.0:
            return f"Springs back: the steel nowhere reaches yield, and would first do so at {at}"
        return (
            "Springs back behind the very tip: only where the load sits does the steel reach "
            f"yield ({shown_length(yielded.depth_mm)} deep); the section would first do so at {at}"
        )
    beyond = " or more" if yielded.reaches_clamp else ""
    through = (
        f", and through its whole thickness down to {shown_length(yielded.through_depth_mm)}"
        if yielded.through_depth_mm is not None
        else ", on its faces first"
    )
    return (
        f"Yields: the steel is worked past yield down to {shown_length(yielded.depth_mm)}{beyond} "
        f"behind the apex{through}; the section first yields at {shown_factor(factor)} times "
        "this work."
    )


def _without_peak(yielded: YieldedRegion) -> str:
    """Say what can be said of a tip load on a perfectly sharp tip."""
    if yielded.depth_mm == 0.0:
        return "Stress under this load has no finite peak."
    return (
        "Stress under this load has no finite peak; elastically this work would take "
        f"the steel to yield down to {shown_length(yielded.depth_mm)} behind the apex."
    )
