"""A toy knife with all that a record may have, and what is said where a text of it is wrong."""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Annotated, Any, Literal, Self

import pytest
from annotated_types import Ge, Gt, Interval, Le, Lt
from pydantic import AllowInfNan, ConfigDict, Discriminator, Field, Strict, Tag, model_validator
from pydantic.dataclasses import dataclass

from simedge.errors import BadInput
from simedge.inputs.door import validated
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.toml_source import parse_toml

Problems = Callable[[str], list[str]]
Problem = Callable[[str], str]

FORBID = ConfigDict(extra="forbid")
Number = Annotated[float, Strict(), AllowInfNan(False)]
Dps = Annotated[Number, Gt(0), Le(45)]


@dataclass(frozen=True, kw_only=True, config=FORBID)
class Facet:
    name: str = ""
    dps: Dps
    height_mm: Annotated[Number, Interval(ge=0, lt=1000)] | None = None

    @model_validator(mode="after")
    def _not_odd(self) -> Self:
        if self.name == "odd":
            raise FieldProblems(
                FieldProblem(("height_mm",), "is odd, but must be even"),
                FieldProblem((), "is odd as a whole"),
            )
        if self.name == "rude":
            raise ValueError("this facet is rude")
        return self


@dataclass(frozen=True, kw_only=True, config=FORBID)
class Pressed:
    name: str = ""
    pressed: str
    depth_in_cut_mm: Annotated[Number, Gt(0)]

    @model_validator(mode="after")
    def _not_rude(self) -> Self:
        if self.pressed == "rude":
            raise ValueError("this load is rude")
        return self


@dataclass(frozen=True, kw_only=True, config=FORBID)
class Pushed:
    name: str = ""
    force_n: Annotated[Number, Ge(0)]
    side: Literal["left", "right"] = "left"


def kind_of_work(value: Any) -> str | None:
    keys = value if isinstance(value, dict) else getattr(value, "__dict__", ())
    return next((key for key in ("pressed", "force_n") if key in keys), None)


# The tag is spelled like a key on purpose: it must be told from it.
Work = Annotated[
    Annotated[Pressed, Tag("pressed")] | Annotated[Pushed, Tag("force_n")],
    Discriminator(kind_of_work),
]


@dataclass(frozen=True, kw_only=True, config=FORBID)
class FlatGrind:
    kind: Literal["flat"]
    dps: Dps = 5.0


@dataclass(frozen=True, kw_only=True, config=FORBID)
class HollowGrind:
    kind: Literal["hollow"]
    wheel_mm: Annotated[Number, Gt(0)]


@dataclass(frozen=True, kw_only=True, config=FORBID)
class Metal:
    hardness_hrc: Annotated[Number, Ge(20), Le(70)] = 60.0
    youngs_modulus_gpa: Annotated[Number, Gt(0), Le(1000)] = 210.0
    yield_mpa: Annotated[Number, Ge(100), Le(5000)] | None = None
    poissons_ratio: Annotated[Number, Gt(-1), Lt(0.5)] = 0.3
    radius_um: Annotated[Number, Gt(0), Le(500)] = 1.0
    share_percent: Annotated[float, Field(strict=True, gt=0)] = 1.0
    load_n_per_mm: Annotated[Number, Lt(10)] = 0.0


@dataclass(frozen=True, kw_only=True, config=FORBID)
class Knife:
    title: str = ""
    height_mm: Annotated[Number, Gt(0), Le(1000)] = 30.0
    count: Annotated[int, Strict()] = 1
    sharp: Annotated[bool, Strict()] = False
    facets: tuple[Facet, ...]
    works: tuple[Work, ...] = ()
    grind: Annotated[FlatGrind | HollowGrind, Field(discriminator="kind")] | None = None
    metal: Metal = Metal()
    handle: str | Metal = ""
    pair: tuple[Number, Number] = (0.0, 0.0)
    plugged_in: Annotated[bool, Strict()] = False
    limits: dict[str, Annotated[Number, Le(3)]] = Field(default_factory=dict)


@pytest.fixture(scope="session")
def toy() -> SimpleNamespace:
    """Give the records: importlib mode lets no test file import another."""
    return SimpleNamespace(
        Knife=Knife, Facet=Facet, Pushed=Pushed, FlatGrind=FlatGrind, Metal=Metal
    )


@pytest.fixture(scope="session")
def problems() -> Problems:
    """Give all that is said about a text."""

    def said(text: str) -> list[str]:
        with pytest.raises(BadInput) as caught:
            validated(Knife, parse_toml(text, "k.toml"))
        return str(caught.value).split("\n")

    return said


@pytest.fixture(scope="session")
def problem(problems: Problems) -> Problem:
    """Give what is said about one line of an otherwise valid text, without its place."""

    def said(line: str) -> str:
        (one,) = problems(f"{line}\n[[facets]]\ndps = 15\n")
        place, _, message = one.partition(": ")
        assert place == "k.toml:1"
        return message

    return said


@pytest.fixture(scope="session")
def facet_problem(problems: Problems) -> Problem:
    """Give what is said about one line of the second facet, without its place."""

    def said(line: str) -> str:
        angle = "" if line.startswith("dps =") else "dps = 10"
        (one,) = problems(f"[[facets]]\ndps = 15\n[[facets]]\nname = 'edge'\n{line}\n{angle}\n")
        place, _, message = one.partition(": ")
        assert place == "k.toml:5"
        return message

    return said
