"""Several loads at once, each weighted: their tractions put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from simedge.section.tractions import Tractions


def mixed(shares: Sequence[tuple[float, Tractions]]) -> Tractions:
    """Put weighted tractions together, all forces known.

    Parameters
    ----------
    shares : sequence of (float, Tractions)
        Weights 0 or more, not all of them 0; what has none is left out. Forces and pressures
        are multiplied, where they act and friction stay.

    Returns
    -------
    Tractions
        Called as the first. The shortest contact length and the hardest object count, and a
        limit only where it is that of all.
    """
    acting = [(weight, part) for weight, part in shares if weight > 0.0]
    if len(acting) == 1 and acting[0][0] == 1.0:
        return acting[0][1]
    parts = [part for _, part in acting]
    lengths = [p.contact_length_mm for p in parts if p.contact_length_mm is not None]
    pressures = [p.object_pressure_mpa for p in parts if p.object_pressure_mpa is not None]
    limits = {part.limited_by for part in parts}
    remarks = dict.fromkeys(remark for part in parts for remark in part.remarks)
    return Tractions(
        name=parts[0].name,
        tip=tuple(
            replace(
                one,
                axial_n_per_mm=weight * one.axial_n_per_mm,
                lateral_n_per_mm=weight * one.lateral_n_per_mm,
            )
            for weight, part in acting
            for one in part.tip
        ),
        faces=tuple(
            replace(one, pressure_mpa=weight * one.pressure_mpa)
            for weight, part in acting
            for one in part.faces
        ),
        limited_by=limits.pop() if len(limits) == 1 else None,
        contact_length_mm=min(lengths) if lengths else None,
        object_pressure_mpa=max(pressures, default=None),
        remarks=tuple(remarks),
    )
