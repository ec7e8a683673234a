"""The picture in words, for those who cannot see it."""

from __future__ import annotations

from typing import Protocol

from simedge.inputs.case import Case
from simedge.inputs.steel_properties import SteelProperties
from simedge.output.drawing_frame import length_text
from simedge.output.load_arrows import work_words
from simedge.output.shown_errors import (
    THIN_SPACE,
    length_with_error,
    stress_with_error,
    with_thin_spaces,
)
from simedge.output.stress_scale import choose_scale, stress_text
from simedge.runs.answer import LoadAnswer
from simedge.runs.run import Run

#: Of longer titles and names the rest is left out.
MOST_LETTERS = 240
#: Nearer to the middle than this share of the depth is in the middle.
IN_THE_MIDDLE = 1e-3


class InSteel(Protocol):
    """Whatever was asked of a case: a run, or a study."""

    @property
    def case(self) -> Case:
        """The case."""

    @property
    def steel(self) -> SteelProperties:
        """What its steel amounts to."""


def plain_text(text: str) -> str:
    r"""Give a person's own words as one line, of bounded length, that any file can hold.

    >>> plain_text("two\nlines")
    'two lines'
    """
    line = "".join(letter for letter in " ".join(text.split()) if letter.isprintable())
    return line if len(line) <= MOST_LETTERS else f"{line[:MOST_LETTERS].rstrip()}…"


def steel_words(run: InSteel) -> str:
    """Say which steel it is, and when it yields."""
    steel = run.case.steel
    grade = "a steel" if steel.grade is None else steel.grade
    hardness = "" if steel.hardness_hrc is None else f" at {steel.hardness_hrc:g}{THIN_SPACE}HRC"
    return f"{grade}{hardness}, which yields at {stress_text(run.steel.yield_strength_mpa)}"


def about_words(run: InSteel) -> str:
    """Say which knife and which steel it is."""
    name = plain_text(run.case.profile.name)
    return f"{name}, {steel_words(run)}" if name else steel_words(run)


def _place_words(x_mm: float, y_mm: float) -> str:
    side = "in the middle"
    if abs(y_mm) >= IN_THE_MIDDLE * abs(x_mm):
        side = f"{length_text(abs(y_mm))} {'left' if y_mm > 0 else 'right'} of the middle"
    return f"{length_text(x_mm)} behind the apex, {side}"


def _peak_words(answer: LoadAnswer) -> str:
    value, error = answer.section_peak_von_mises_mpa, answer.errors.section_peak_von_mises_mpa
    assert value is not None
    assert error is not None
    return stress_with_error(value, error)


def peak_sentence(answer: LoadAnswer) -> str:
    """Say how high the section's stress is, and where; nothing where it has no highest place."""
    if answer.section_peak_von_mises_mpa is None:
        return ""
    assert answer.section_peak_x_mm is not None
    assert answer.section_peak_y_mm is not None
    off_middle = abs(answer.section_peak_y_mm) >= IN_THE_MIDDLE * answer.section_peak_x_mm
    mirrored = ", and the same on the other side" if answer.even and off_middle else ""
    return (
        f"Highest von Mises stress in the section: {with_thin_spaces(_peak_words(answer))}, "
        f"{_place_words(answer.section_peak_x_mm, answer.section_peak_y_mm)}{mirrored}."
    )


def _load_words(answer: LoadAnswer) -> str:
    words = [f"{plain_text(answer.name)}. {answer.sentence}"]
    words.append(f"The work: {'; '.join(filter(None, work_words(answer.parts)))}.")
    words += filter(None, [peak_sentence(answer)])
    if answer.patch_peak_von_mises_mpa is not None:
        words.append(f"Where the load itself sits: {stress_text(answer.patch_peak_von_mises_mpa)}.")
    if answer.yield_depth_mm > 0.0:
        depth = length_with_error(answer.yield_depth_mm, answer.errors.yield_depth_mm or 0.0)
        words.append(f"The contour at yield reaches {with_thin_spaces(depth)} deep.")
    return " ".join(words)


def alt_text(run: Run) -> str:
    """Tell what the picture of a run shows, with its numbers.

    Parameters
    ----------
    run : Run

    Returns
    -------
    str
        The title on the first line, then the picture, then one paragraph a load.
    """
    scale = choose_scale(run)
    clipped = ", clipped there" if scale.clipped else ""
    picture = (
        f"Cross-section of {plain_text(run.case.profile.name) or 'a knife'} in "
        f"{steel_words(run)}, held "
        f"{length_text(run.outline.depth_mm)} behind the apex; apex to the left, left face up. "
        f"Colours from pale to dark show von Mises stress from 0 to "
        f"{stress_text(scale.end_mpa)}{clipped}."
    )
    return "\n".join(
        [
            plain_text(run.case.title) or "Stress in an edge",
            picture,
            *(_load_words(answer) for answer in run.loads),
        ]
    )
