"""How deep the work of a case goes into what is cut."""

from __future__ import annotations

from simedge.inputs.case import Case
from simedge.inputs.load import FaceLoad, LayeredLoad, MediumLoad, depth_in_cut_mm, parts_of

#: Where only the tip is worked, slimness is told here.
USUAL_DEPTH_MM = 1.0


def deepest_in_cut_mm(case: Case) -> float:
    """Give the depth of the deepest cut of a case; 1 mm where only the tip is worked."""
    return max(map(depth_in_cut_mm, case.loads), default=0.0) or USUAL_DEPTH_MM


def friction_in_cut(case: Case) -> float:
    """Give the largest friction that the case's media have on the faces; 0 where none is said."""
    parts = [part for load in case.loads for part in parts_of(load)]
    rubbing = [p.friction for p in parts if isinstance(p, MediumLoad | LayeredLoad | FaceLoad)]
    return max(rubbing, default=0.0)
