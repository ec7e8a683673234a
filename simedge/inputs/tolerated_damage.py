"""How much of an edge may go before anyone minds: in micrometres, or in words of the trade."""

from __future__ import annotations

from difflib import get_close_matches
from typing import Annotated, Any

from annotated_types import Ge, Le
from pydantic import BeforeValidator

from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import Number
from simedge.inputs.shown_values import shown_value

#: Common practice, no source: what a strop takes off, what a thumbnail drawn along the edge
#: catches on, and what glints in a good light.
DAMAGE_UM = {
    "stropped out in a minute": 2.0,
    "felt on the nail": 10.0,
    "seen by eye": 50.0,
}
USUAL_DAMAGE_UM = 5.0


def _in_um(told: Any) -> Any:
    """Turn words into micrometres.

    >>> _in_um("felt on the nail"), _in_um(5.0)
    (10.0, 5.0)
    """
    if not isinstance(told, str):
        return told
    if told in DAMAGE_UM:
        return DAMAGE_UM[told]
    words = ", ".join(f'"{known}"' for known in DAMAGE_UM)
    near = get_close_matches(told, DAMAGE_UM, n=1)
    hint = f'; did you mean "{near[0]}"?' if near else ""
    rule = f"must be a depth in µm without quotes, or one of {words}{hint}"
    raise FieldProblems(FieldProblem((), f"is {shown_value(told)}, but {rule}"))


#: Depth of damage, µm; words for it are turned into it.
ToleratedDamage = Annotated[Number, Ge(0.1), Le(1000), BeforeValidator(_in_um)]
