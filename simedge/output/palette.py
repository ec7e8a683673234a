"""Our colours and type: ink on paper, one accent for the work, one scale for stress."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import matplotlib
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.font_manager import FontProperties

#: Pale straw over brown and purple to dark blue. In CAM02-UCS neighbours differ evenly, by
#: 10.4 to 11.6, and lightness falls all the way from 95 to 14, slowest in the purples (3.9
#: a stop): it reads without hue, and prints in grey.
STRESS_STOPS = (
    *("#F6F0D0", "#F0D993", "#E1B769", "#D2944E", "#BF7541", "#A85C45"),
    *("#8F4951", "#7A3B5D", "#64356A", "#4B3371", "#293262", "#0F1E3C"),
)
#: Stress beyond the end of the scale: darker than any of its colours.
BEYOND_STOPS = "#070B16"


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """Colours of everything that is not stress.

    Attributes
    ----------
    paper, ink : str
        Ground, and lines and text on it (contrast 14).
    quiet_ink : str
        Captions and rulers (contrast 8).
    hairline : str
        Borders of frames.
    held : str
        Steel behind the clamp, of which nothing is computed.
    work : str
        Whatever presses on the edge; nothing else has this colour.
    """

    paper: str
    ink: str
    quiet_ink: str
    hairline: str
    held: str
    work: str


LIGHT = Theme(
    paper="#FBFAF6",
    ink="#20242B",
    quiet_ink="#484D55",
    hairline="#A9A493",
    held="#E6E2D6",
    work="#C2402B",
)

#: Point sizes at the final size of a picture; nothing is smaller than the last.
TITLE_PT, NAME_PT, TEXT_PT, SMALL_PT = 14.0, 10.5, 9.0, 8.0


def stress_colour_map() -> LinearSegmentedColormap:
    """Give the colour scale of stress as a continuous map.

    >>> stress_colour_map()(0.0)[:3] == matplotlib.colors.to_rgb(STRESS_STOPS[0])
    True
    """
    return LinearSegmentedColormap.from_list("simedge stress", STRESS_STOPS)


def type_face(points: float, *, bold: bool = False) -> FontProperties:
    """Give our type at a size: a sans serif with tabular figures that comes with matplotlib."""
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    file = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / name
    return FontProperties(fname=str(file), size=points)


@contextmanager
def drawing_style(theme: Theme) -> Iterator[None]:
    """Draw and save with the same settings everywhere, whatever a person's own say."""
    with matplotlib.rc_context(), warnings.catch_warnings():
        # a letter that our type lacks is drawn as an empty box, which says it well enough
        warnings.filterwarnings("ignore", message="Glyph .* missing from")
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(
            {
                "figure.facecolor": theme.paper,
                "savefig.facecolor": theme.paper,
                "hatch.linewidth": 0.5,
                "path.simplify": False,
                "svg.fonttype": "path",
                "svg.hashsalt": "simedge",
            }
        )
        yield
