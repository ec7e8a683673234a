"""What the work itself puts on the edge: a medium, several at once, or a hard object."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal, Self

from annotated_types import Ge, Le
from pydantic import AfterValidator, model_validator
from pydantic.dataclasses import dataclass

from simedge.inputs.medium import Medium, find_medium, hands
from simedge.inputs.problems import FieldProblem, FieldProblems
from simedge.inputs.quantities import (
    RECORD,
    DepthMm,
    ForceN,
    FrictionCoefficient,
    LengthMm,
    Number,
    Occasional,
    PressureMpa,
)

#: Friction of a medium on steel where the load does not say (common practice, no source).
MEDIUM_FRICTION = 0.3
#: Ends of layers that differ by less touch: what converting inches leaves.
SAME_DEPTH = 1e-9
#: An object that flows around the edge presses with 1.2 to 3 times its strength (derived: from
#: a slim wedge to a blunt one); 2 where the load does not say (common practice, no source).
PRESSURE_OVER_STRENGTH = 2.0
Level = Literal["low", "typical", "high"]
PressedSide = Literal["left", "right", "both"]


def _known_medium(name: str) -> str:
    try:
        find_medium(name)
    except KeyError as error:
        raise FieldProblems(FieldProblem((), str(error.args[0]))) from None
    return name


KnownMedium = Annotated[str, AfterValidator(_known_medium)]


def _strength_mpa(medium: Medium | None, own_mpa: float | None, level: Level) -> float:
    if medium is None:
        assert own_mpa is not None
        return own_mpa
    return {
        "low": medium.strength_low_mpa,
        "typical": medium.strength_mpa,
        "high": medium.strength_high_mpa,
    }[level]


def _one_strength(key: str, name: str | None, own_mpa: float | None) -> list[FieldProblem]:
    """Want a name of the library or a strength of one's own, and only one of the two."""
    if (name is None) != (own_mpa is None):
        return []
    other = f"{key}_strength_mpa"
    return [FieldProblem((key,), f"or {other} must be given, and only one of the two")]


def _own_contact(what: str) -> FieldProblem:
    return FieldProblem(
        ("contact_length_mm",),
        f"is missing; {what} of your own needs the length of edge in contact",
    )


@dataclass(frozen=True, kw_only=True, config=RECORD)
class Layer:
    """A medium that fills a window of depths in the cut.

    Attributes
    ----------
    medium : str or None
        Of the library; or ``medium_strength_mpa``.
    from_mm, to_mm : float
        Depths behind the foremost point of the apex where it begins and ends.
    level : {"low", "typical", "high"}
        Of the medium's strength.
    """

    medium: KnownMedium | None = None
    medium_strength_mpa: PressureMpa | None = None
    from_mm: DepthMm
    to_mm: LengthMm
    level: Level = "typical"

    @model_validator(mode="after")
    def _complete(self) -> Self:
        problems = _one_strength("medium", self.medium, self.medium_strength_mpa)
        if self.to_mm <= self.from_mm:
            problems.append(
                FieldProblem(
                    ("to_mm",),
                    f"is {self.to_mm:g} mm, but must be larger than from_mm = {self.from_mm:g} mm; "
                    "both count from the apex",
                )
            )
        if problems:
            raise FieldProblems(*problems)
        return self

    @property
    def library_medium(self) -> Medium | None:
        """The library's entry, or None for a strength of one's own."""
        return None if self.medium is None else find_medium(self.medium)

    @property
    def words(self) -> str:
        """What it is called in messages."""
        medium = self.library_medium
        return f"{self.medium_strength_mpa:g} MPa" if medium is None else medium.name

    def strength_mpa(self, level: Level | None = None) -> float:
        """Give the pressure that it can carry, MPa, at its own level or another."""
        return _strength_mpa(self.library_medium, self.medium_strength_mpa, level or self.level)


class _ByHand:
    """What loads of media share: one hand, and the edge in contact."""

    hand_force_n: float | None
    contact_length_mm: float | None

    @property
    def layers_by_depth(self) -> tuple[Layer, ...]:
        """The media, apex first."""
        raise NotImplementedError

    @property
    def hand_n_per_mm(self) -> float:
        """What the hand gives, straight or sideways, over the edge in contact."""
        force = hands()["one hand"].force_n if self.hand_force_n is None else self.hand_force_n
        return force / self.contact_mm

    @property
    def contact_mm(self) -> float:
        """Edge in contact: as given, or the shortest of the media's."""
        if self.contact_length_mm is not None:
            return self.contact_length_mm
        known = [layer.library_medium for layer in self.layers_by_depth]
        return min(medium.contact_length_mm for medium in known if medium is not None)


@dataclass(frozen=True, kw_only=True, config=RECORD)
class MediumLoad(_ByHand):
    """The work itself: a medium presses on the faces inside the cut, and on the tip.

    Attributes
    ----------
    name : str
    occasional : bool
        Comes now and then, not with every cut.
    medium : str or None
        Of the library; or ``medium_strength_mpa``.
    depth_in_cut_mm : float
        From the foremost point of the apex.
    side : {"left", "right", "both"}
        The face that is pressed; both in a straight cut.
    level : {"low", "typical", "high"}
        Of the medium's strength.
    friction : float
        Shear over pressure on the faces, towards the spine.
    hand_force_n : float or None
        What the hand gives, straight or sideways; the data file's one hand.
    contact_length_mm : float or None
        Edge in contact; the medium's.
    """

    name: str = ""
    occasional: Occasional = False
    medium: KnownMedium | None = None
    medium_strength_mpa: PressureMpa | None = None
    depth_in_cut_mm: LengthMm
    side: PressedSide
    level: Level = "typical"
    friction: FrictionCoefficient = MEDIUM_FRICTION
    hand_force_n: ForceN | None = None
    contact_length_mm: LengthMm | None = None

    @model_validator(mode="after")
    def _complete(self) -> Self:
        problems = _one_strength("medium", self.medium, self.medium_strength_mpa)
        if self.medium is None and self.contact_length_mm is None:
            problems.append(_own_contact("a medium"))
        if problems:
            raise FieldProblems(*problems)
        return self

    @property
    def layers_by_depth(self) -> tuple[Layer, ...]:
        """The one medium as a layer that begins at the foremost point."""
        return (
            Layer(
                medium=self.medium,
                medium_strength_mpa=self.medium_strength_mpa,
                from_mm=0.0,
                to_mm=self.depth_in_cut_mm,
                level=self.level,
            ),
        )

    @property
    def library_medium(self) -> Medium | None:
        """The library's entry, or None for a strength of one's own."""
        return None if self.medium is None else find_medium(self.medium)


@dataclass(frozen=True, kw_only=True, config=RECORD)
class LayeredLoad(_ByHand):
    """Several media in one cut, each in its window of depths, pressed by one hand.

    Attributes
    ----------
    name : str
    occasional : bool
        Comes now and then, not with every cut.
    layers : tuple of Layer
        Windows may leave gaps, where nothing presses, but not overlap.
    side, friction, hand_force_n
        As of `MediumLoad`, of all of them.
    contact_length_mm : float or None
        Edge in contact; the shortest of the media's.
    """

    name: str = ""
    occasional: Occasional = False
    layers: tuple[Layer, ...]
    side: PressedSide
    friction: FrictionCoefficient = MEDIUM_FRICTION
    hand_force_n: ForceN | None = None
    contact_length_mm: LengthMm | None = None

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        problems = []
        if not self.layers:
            problems.append(FieldProblem(("layers",), "is empty, but a cut goes through something"))
        own = any(layer.medium is None for layer in self.layers)
        if own and self.contact_length_mm is None:
            problems.append(_own_contact("a medium"))
        order = sorted(range(len(self.layers)), key=lambda index: self.layers[index].from_mm)
        for first, second in pairwise(order):
            front, behind = self.layers[first], self.layers[second]
            if behind.from_mm < front.to_mm * (1.0 - SAME_DEPTH):
                problems.append(
                    FieldProblem(
                        ("layers", second, "from_mm"),
                        f"is {behind.from_mm:g} mm ({behind.words}), but layers[{first}] "
                        f"({front.words}) reaches from {front.from_mm:g} to {front.to_mm:g} mm; "
                        "only one medium can stand at a depth",
                    )
                )
        if problems:
            raise FieldProblems(*problems)
        return self

    @property
    def layers_by_depth(self) -> tuple[Layer, ...]:
        """The media, apex first."""
        return tuple(sorted(self.layers, key=lambda layer: layer.from_mm))


@dataclass(frozen=True, kw_only=True, config=RECORD)
class ObjectLoad:
    """A hard object that the edge has entered: a staple, a wire, the rim of a can, a bone.

    Attributes
    ----------
    name : str
    occasional : bool
        Comes now and then, not with every cut.
    object : str or None
        Of the library's media; or ``object_strength_mpa``.
    entry_mm : float
        How deep the edge has entered it, from the foremost point of the apex.
    level : {"low", "typical", "high"}
        Of its strength.
    pressure_over_strength : float
        With how many times its strength it presses, flowing around the edge, 1.2 to 3.
    slant_deg : float
        Of its force off the plane of the cut; positive pushes the edge to the left (+y).
    contact_length_mm : float or None
        Edge in contact; the library's.
    """

    name: str = ""
    occasional: Occasional = False
    object: KnownMedium | None = None
    object_strength_mpa: PressureMpa | None = None
    entry_mm: LengthMm
    level: Level = "typical"
    pressure_over_strength: Annotated[Number, Ge(1.2), Le(3)] = PRESSURE_OVER_STRENGTH
    slant_deg: Annotated[Number, Ge(-90), Le(90)] = 0.0
    contact_length_mm: LengthMm | None = None

    @model_validator(mode="after")
    def _complete(self) -> Self:
        problems = _one_strength("object", self.object, self.object_strength_mpa)
        if self.object is None and self.contact_length_mm is None:
            problems.append(_own_contact("an object"))
        if problems:
            raise FieldProblems(*problems)
        return self

    @property
    def library_medium(self) -> Medium | None:
        """The library's entry, or None for a strength of one's own."""
        return None if self.object is None else find_medium(self.object)

    @property
    def words(self) -> str:
        """What it is called in messages."""
        medium = self.library_medium
        return "object" if medium is None else medium.name

    def strength_mpa(self, level: Level | None = None) -> float:
        """Give its strength, MPa, at its own level or another."""
        return _strength_mpa(self.library_medium, self.object_strength_mpa, level or self.level)

    @property
    def pressure_mpa(self) -> float:
        """With what it presses."""
        return self.pressure_over_strength * self.strength_mpa()

    @property
    def contact_mm(self) -> float:
        """Edge in contact: as given, or the library's."""
        if self.contact_length_mm is not None:
            return self.contact_length_mm
        medium = self.library_medium
        assert medium is not None
        return medium.contact_length_mm
