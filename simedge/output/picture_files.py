"""Pictures as PNG and SVG files, with their alternative text inside and always the same bytes."""

from __future__ import annotations

import re
from html import escape
from io import BytesIO
from pathlib import Path

from matplotlib.figure import Figure

from simedge.output.palette import LIGHT, drawing_style
from simedge.output.sheet import PNG_DOTS_PER_INCH

#: Many loads make a tall picture; beyond this, in pixels, it loses sharpness instead.
TALLEST_PNG = 30_000


def save_png(figure: Figure, path: Path | str) -> None:
    """Save a picture as PNG at up to 160 dots per inch, its alternative text inside.

    Parameters
    ----------
    figure : Figure
        Its label is the picture in words, the first line its title.
    path : Path or str
        The same figure gives the same bytes.
    """
    words = str(figure.get_label())
    with drawing_style(LIGHT):
        figure.savefig(
            path,
            format="png",
            dpi=min(PNG_DOTS_PER_INCH, TALLEST_PNG / figure.get_size_inches()[1]),
            facecolor=figure.get_facecolor(),
            metadata={
                "Title": words.partition("\n")[0],
                "Description": words,
                "Software": "simedge",
            },
        )


def save_svg(figure: Figure, path: Path | str) -> None:
    """Save a picture as SVG, its alternative text as title and description.

    Parameters
    ----------
    figure : Figure
        Its label is the picture in words, the first line its title.
    path : Path or str
        The same figure gives the same bytes.
    """
    words = str(figure.get_label())
    buffer = BytesIO()
    with drawing_style(LIGHT):
        figure.savefig(
            buffer,
            format="svg",
            facecolor=figure.get_facecolor(),
            metadata={"Date": None, "Creator": "simedge"},
        )
    drawing = _with_fewer_digits(buffer.getvalue().decode("utf-8"))
    title, _, description = words.partition("\n")
    opening = re.search(r"<svg\b[^>]*", drawing)
    assert opening is not None
    head = (
        f'{opening.group()} role="img" aria-labelledby="title description">\n'
        f' <title id="title">{escape(title)}</title>\n'
        f' <desc id="description">{escape(description)}</desc>'
    )
    Path(path).write_text(
        drawing[: opening.start()] + head + drawing[opening.end() + 1 :], encoding="utf-8"
    )


def _with_fewer_digits(drawing: str) -> str:
    """Cut coordinates of paths to a hundredth of a point: no screen or printer shows more."""

    def cut(path: re.Match[str]) -> str:
        return re.sub(r"(\.\d\d)\d+", r"\1", path.group())

    return re.sub(r' d="[^"]*"', cut, drawing)
