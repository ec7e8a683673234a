"""The picture of a run: the edge drawn true, the work pressing on it, a sentence about it.

One row a load: the bevels large, the whole section small, and the tip once more where
all happens there. All rows share one scale of stress and one of pressure.
"""

from __future__ import annotations

from matplotlib.figure import Figure

from simedge.output.alt_text import about_words, alt_text
from simedge.output.frame_plans import plan_frames
from simedge.output.load_row import Shared, full_pressure_mpa
from simedge.output.palette import LIGHT, Theme, drawing_style
from simedge.output.row_sheet import plan_row, row_sheet
from simedge.output.stress_scale import choose_scale
from simedge.output.window_choice import choose_depths
from simedge.runs.run import Run
from simedge.section.outline import build_outline


def draw_stress(run: Run, theme: Theme = LIGHT) -> Figure:
    """Draw the stress of every load of a run.

    Parameters
    ----------
    run : Run
        Made for 1 to 4 loads; with more the picture grows downwards.
    theme : Theme

    Returns
    -------
    matplotlib.figure.Figure
        7.5 inches wide, no text smaller than 8 points. Its label is `alt_text`.

    Notes
    -----
    Linear elastic stress, also where it is beyond yield. The frames are drawn to scale,
    x and y alike; arrows of pressure are in scale to each other down to a shortest length.
    """
    with drawing_style(theme):
        shared = Shared(
            run=run,
            whole=build_outline(run.case.profile.apex, run.case.profile.faces),
            scale=choose_scale(run),
            full_mpa=full_pressure_mpa(run.loads),
            theme=theme,
        )
        rows = [
            plan_row(
                answer.name,
                answer.sentence,
                plan_frames(answer, depths, run.outline),
                answer,
                shared,
            )
            for answer, depths in zip(run.loads, choose_depths(run), strict=True)
        ]
        return row_sheet(run.case.title, about_words(run), rows, alt_text(run), theme)
