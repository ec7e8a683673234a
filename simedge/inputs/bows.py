"""Faces that are not straight: hollow ground on a wheel, or rounded outward."""

from __future__ import annotations

from dataclasses import dataclass
from math import isnan, tan

from simedge.inputs.apex_fit import Point, refuse, tip_corner_at
from simedge.inputs.curves import Curve, hollow_bulge_mm
from simedge.inputs.grinds import Apex, Bevel, BladeShape, PrimaryGrind
from simedge.units import mm_from_um

#: The tangent point of a rounded apex moves by a share of the apex alone: few rounds settle it.
ROUNDS = 12
#: Share of the shoulder's thickness that a hollow must leave everywhere.
THINNEST_SHARE = 0.01
PLACES = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Bow:
    """How far a face departs from its chord; straight where neither is given.

    Attributes
    ----------
    bulge_mm : float
        Outward, at the middle of the chord.
    wheel_radius_mm : float or None
        Of the wheel that hollowed it.
    """

    bulge_mm: float = 0.0
    wheel_radius_mm: float | None = None

    @property
    def is_straight(self) -> bool:
        """Whether there is none."""
        return self.bulge_mm == 0.0 and self.wheel_radius_mm is None

    def over(self, chord_mm: float) -> float:
        """Give the bulge over a chord: negative where hollow, nan where no wheel fits."""
        if self.wheel_radius_mm is not None:
            return hollow_bulge_mm(chord_mm, self.wheel_radius_mm)
        return self.bulge_mm


STRAIGHT = Bow()


def bow_of_bevel(bevel: Bevel) -> Bow:
    """Give the bow of a bevel's faces."""
    return Bow(bulge_mm=mm_from_um(bevel.bulge_um or 0.0))


def bow_of_primary(grind: PrimaryGrind) -> Bow:
    """Give the bow of the primary grind's faces."""
    return Bow(bulge_mm=grind.bulge_mm or 0.0, wheel_radius_mm=grind.wheel_radius_mm)


def bend(
    apex: Apex,
    bows: list[Bow],
    angles_deg: list[float],
    points: list[Point],
    fields: list[tuple[str | int, ...]],
) -> list[Curve]:
    """Turn the chords of one face into its curves.

    Parameters
    ----------
    apex : Apex
        The first curve leaves a rounded apex as its tangent.
    bows : list of Bow
        One a chord; a chord of 0 degrees was not ground and stays straight.
    angles_deg : list of float
        Of the chords from the mid-plane.
    points : list of (float, float)
        Between the chords, the face's outside up.
    fields : list of tuple
        Paths of the stretches, for messages.
    """
    curves = []
    for index, (bow, angle) in enumerate(zip(bows, angles_deg, strict=True)):
        begin, end = points[index], points[index + 1]
        if bow.is_straight or angle == 0.0:
            curves.append(Curve(begin_mm=begin, end_mm=end))
            continue
        curve = _bent(bow, begin, end, fields[index])
        if index == 0 and apex.radius_um is not None:
            for _ in range(ROUNDS):
                curve = _bent(bow, tip_corner_at(apex, curve.begin_angle_rad), end, fields[index])
        curves.append(curve)
    return curves


def _bent(bow: Bow, begin: Point, end: Point, field: tuple[str | int, ...]) -> Curve:
    straight = Curve(begin_mm=begin, end_mm=end)
    bulge = bow.over(straight.chord_mm)
    if isnan(bulge):
        raise refuse(
            (*field, "wheel_radius_mm"),
            f"is {bow.wheel_radius_mm:g} mm, but a wheel that small does not reach over a grind "
            f"{straight.chord_mm:.4g} mm wide; at least {0.5 * straight.chord_mm:.4g} mm does",
        )
    return Curve(begin_mm=begin, end_mm=end, bulge_mm=bulge)


def check_bows(
    blade: BladeShape,
    fields: list[tuple[str | int, ...]],
    lefts: list[Curve],
    rights: list[Curve],
) -> None:
    """Refuse a hollow that bites through, and a bulge that leaves the blade.

    Raises
    ------
    FieldProblems
        With the deepest hollow, or the largest bulge, that fits.
    """
    for index, field in enumerate(fields):
        pair = (lefts[index], rights[index])
        for curve in pair:
            if curve.bulge_mm > 0 and curve.end_angle_rad < -1e-12:
                _refuse_bulge(curve, field)
        if any(curve.bulge_mm < 0 for curve in pair):
            _check_hollow(blade, field, pair)


def _refuse_bulge(curve: Curve, field: tuple[str | int, ...]) -> None:
    # where the face runs parallel at its end, the half turn is the chord's own angle
    largest = 0.5 * curve.chord_mm * tan(0.5 * curve.chord_angle_rad)
    key, scale, unit = ("bulge_um", 1000.0, "µm") if field[0] == "bevels" else ("bulge_mm", 1, "mm")
    raise refuse(
        (*field, key),
        f"is {scale * curve.bulge_mm:.4g} {unit}, but the blade would be thicker there than where "
        f"this face ends; at most {scale * largest:.4g} {unit} fits",
    )


def _thinnest(pair: tuple[Curve, Curve]) -> float:
    begin = max(curve.begin_mm[0] for curve in pair)
    end = pair[0].end_mm[0]
    places = [begin + (end - begin) * k / PLACES for k in range(PLACES)]
    return min(sum(curve.out_at(x) for curve in pair) for x in places)


def _check_hollow(
    blade: BladeShape, field: tuple[str | int, ...], pair: tuple[Curve, Curve]
) -> None:
    begin = max(curve.begin_mm[0] for curve in pair)
    least = THINNEST_SHARE * sum(curve.out_at(begin) for curve in pair)
    if _thinnest(pair) >= least:
        return
    low, high = 0.0, 1.0  # share of the hollow that fits
    for _ in range(40):
        share = 0.5 * (low + high)
        shallower = tuple(
            Curve(begin_mm=c.begin_mm, end_mm=c.end_mm, bulge_mm=share * c.bulge_mm) for c in pair
        )
        if _thinnest((shallower[0], shallower[1])) >= least:
            low = share
        else:
            high = share
    hollow = next(curve for curve in pair if curve.bulge_mm < 0)
    fits = Curve(begin_mm=hollow.begin_mm, end_mm=hollow.end_mm, bulge_mm=low * hollow.bulge_mm)
    raise refuse(
        (*field, "wheel_radius_mm"),
        f"is {blade.primary_grind.wheel_radius_mm:g} mm, which hollows each side by "
        f"{-hollow.bulge_mm:.4g} mm, but that bites through the blade; at most "
        f"{-fits.bulge_mm:.4g} mm fits, from a wheel of {fits.radius_mm:.4g} mm radius or more",
    )
