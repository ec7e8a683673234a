"""How thin may an edge be before the work damages it, and why.

>>> from simedge import read_case, run_case
>>> run = run_case(read_case("rope-knife-in-a-knot"))
>>> run.loads[0].limited_by
'hand'
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from simedge.errors import BadInput, NumericsFailed, SimedgeError, SystemLibraryMissing
    from simedge.inputs.case import Case
    from simedge.inputs.files import read_case, read_profile
    from simedge.inputs.profile import Profile
    from simedge.inputs.traced import TracedProfile
    from simedge.runs.run import Run, run_case
    from simedge.studies.another_steel import AnotherSteelStudy, another_steel
    from simedge.studies.steady_hand import SteadyHandStudy, steady_hand
    from simedge.studies.stiffness import StiffnessStudy, stiffness_of

__version__ = "0.1.0"

#: Where each public name lives; loaded when first asked for, so that `import simedge` is light.
_HOMES = {
    "AnotherSteelStudy": "simedge.studies.another_steel",
    "BadInput": "simedge.errors",
    "Case": "simedge.inputs.case",
    "NumericsFailed": "simedge.errors",
    "Profile": "simedge.inputs.profile",
    "Run": "simedge.runs.run",
    "SimedgeError": "simedge.errors",
    "SteadyHandStudy": "simedge.studies.steady_hand",
    "StiffnessStudy": "simedge.studies.stiffness",
    "SystemLibraryMissing": "simedge.errors",
    "TracedProfile": "simedge.inputs.traced",
    "another_steel": "simedge.studies.another_steel",
    "read_case": "simedge.inputs.files",
    "read_profile": "simedge.inputs.files",
    "run_case": "simedge.runs.run",
    "steady_hand": "simedge.studies.steady_hand",
    "stiffness_of": "simedge.studies.stiffness",
}

__all__ = [
    "AnotherSteelStudy",
    "BadInput",
    "Case",
    "NumericsFailed",
    "Profile",
    "Run",
    "SimedgeError",
    "SteadyHandStudy",
    "StiffnessStudy",
    "SystemLibraryMissing",
    "TracedProfile",
    "__version__",
    "another_steel",
    "read_case",
    "read_profile",
    "run_case",
    "steady_hand",
    "stiffness_of",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'simedge' has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return __all__
