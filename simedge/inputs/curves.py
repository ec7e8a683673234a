"""A run of one face: straight, or a circular arc that bulges outward or is hollowed.

Seen with the outside of the blade up: ``out`` is the distance from the mid-plane on the
face's own side, so that left and right faces are described alike.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, atan2, copysign, hypot, inf, nan, sqrt

#: A bow below this share of its chord is straight as far as double precision can tell.
STRAIGHT_SHARE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """A straight run or a circular arc from apex to spine.

    Attributes
    ----------
    begin_mm, end_mm : (float, float)
        Depth x and distance out from the mid-plane.
    bulge_mm : float
        Of the arc from the middle of its chord: outward positive, hollow negative. Less
        than half of the chord.
    """

    begin_mm: tuple[float, float]
    end_mm: tuple[float, float]
    bulge_mm: float = 0.0

    @property
    def chord_mm(self) -> float:
        """Length of the chord."""
        return hypot(self.end_mm[0] - self.begin_mm[0], self.end_mm[1] - self.begin_mm[1])

    @property
    def chord_angle_rad(self) -> float:
        """Angle of the chord from the mid-plane."""
        return atan2(self.end_mm[1] - self.begin_mm[1], self.end_mm[0] - self.begin_mm[0])

    @property
    def is_straight(self) -> bool:
        """Whether there is no bow to speak of."""
        return abs(self.bulge_mm) <= STRAIGHT_SHARE * self.chord_mm

    @property
    def half_turn_rad(self) -> float:
        """Angle between chord and face at the beginning, positive where it bulges."""
        return 0.0 if self.is_straight else half_turn_rad(self.bulge_mm, self.chord_mm)

    @property
    def begin_angle_rad(self) -> float:
        """Angle of the face from the mid-plane where it begins."""
        return self.chord_angle_rad + self.half_turn_rad

    @property
    def end_angle_rad(self) -> float:
        """Angle of the face from the mid-plane where it ends."""
        return self.chord_angle_rad - self.half_turn_rad

    @property
    def radius_mm(self) -> float:
        """Radius of the arc, inf for a straight run.

        >>> round(Curve(begin_mm=(0, 0), end_mm=(2, 0), bulge_mm=1).radius_mm, 12)
        1.0
        """
        if self.is_straight:
            return inf
        bow = abs(self.bulge_mm)
        return (0.25 * self.chord_mm**2 + bow**2) / (2.0 * bow)

    @property
    def centre_mm(self) -> tuple[float, float]:
        """Centre of the arc; for arcs only."""
        from_chord = self.bulge_mm - copysign(self.radius_mm, self.bulge_mm)
        (x0, out0), (x1, out1) = self.begin_mm, self.end_mm
        along_x, along_out = (x1 - x0) / self.chord_mm, (out1 - out0) / self.chord_mm
        return (
            0.5 * (x0 + x1) - along_out * from_chord,
            0.5 * (out0 + out1) + along_x * from_chord,
        )

    def out_at(self, x_mm: float) -> float:
        """Give the distance out from the mid-plane at a depth between the ends.

        On the chord, and from there to the arc by the power of the point with respect to
        its circle: a wheel a thousand times wider than the face costs no digits.

        >>> round(Curve(begin_mm=(0, 0), end_mm=(2, 0), bulge_mm=1).out_at(1.6), 12)
        0.8
        """
        (x0, out0), (x1, out1) = self.begin_mm, self.end_mm
        share = (x_mm - x0) / (x1 - x0)
        on_chord = out0 + (out1 - out0) * share
        if self.is_straight:
            return on_chord
        power = self.chord_mm**2 * share * (1.0 - share)
        side = copysign(1.0, self.bulge_mm)
        from_centre = side * (on_chord - self.centre_mm[1])
        root = sqrt(max(from_centre**2 + power, 0.0))
        rise = power / (from_centre + root) if from_centre > 0.0 else root - from_centre
        return on_chord + side * rise

    def cut_at(self, x_mm: float) -> Curve:
        """Give the part in front of a depth."""
        if x_mm >= self.end_mm[0]:
            return self
        end = (x_mm, self.out_at(x_mm))
        if self.is_straight:
            return Curve(begin_mm=self.begin_mm, end_mm=end)
        chord = hypot(end[0] - self.begin_mm[0], end[1] - self.begin_mm[1])
        bow = -hollow_bulge_mm(chord, self.radius_mm)
        return Curve(begin_mm=self.begin_mm, end_mm=end, bulge_mm=copysign(bow, self.bulge_mm))

    def cut_from(self, x_mm: float) -> Curve:
        """Give the part behind a depth."""
        if x_mm <= self.begin_mm[0]:
            return self
        begin = (x_mm, self.out_at(x_mm))
        if self.is_straight:
            return Curve(begin_mm=begin, end_mm=self.end_mm)
        chord = hypot(self.end_mm[0] - begin[0], self.end_mm[1] - begin[1])
        bow = -hollow_bulge_mm(chord, self.radius_mm)
        return Curve(begin_mm=begin, end_mm=self.end_mm, bulge_mm=copysign(bow, self.bulge_mm))

    def from_new_front(self, front_mm: float) -> Curve:
        """Give the same curve with depths counted from elsewhere."""
        (x0, out0), (x1, out1) = self.begin_mm, self.end_mm
        begin, end = (x0 - front_mm, out0), (x1 - front_mm, out1)
        return Curve(begin_mm=begin, end_mm=end, bulge_mm=self.bulge_mm)


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


def half_turn_rad(bulge_mm: float, chord_mm: float) -> float:
    """Give the angle between a chord and its arc where they meet, positive where it bulges.

    >>> from math import degrees
    >>> round(degrees(half_turn_rad(1.0, 2.0)), 9)
    90.0
    """
    return 2.0 * atan(2.0 * bulge_mm / chord_mm)


def hollow_bulge_mm(chord_mm: float, wheel_radius_mm: float) -> float:
    """Give the bow that a wheel leaves over a chord: negative; nan where the wheel is too small.

    >>> round(hollow_bulge_mm(20.0, 100.0), 4)
    -0.5013
    """
    half = 0.5 * chord_mm
    if half > wheel_radius_mm:
        return nan
    return -(half**2) / (wheel_radius_mm + sqrt(wheel_radius_mm**2 - half**2))
