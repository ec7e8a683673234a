"""The stress along a face: what bends, rolls and tears an edge."""

from __future__ import annotations

import numpy as np

from simedge.section.outline import Floats, Outline, Side


def along_face_mpa(stress_mpa: Floats, outline: Outline, side: Side, x_mm: Floats) -> Floats:
    """Give the component along a face at depths on it.

    Parameters
    ----------
    stress_mpa : ndarray, shape (4, n)
        xx, yy, xy, zz there.
    outline : Outline
    side : {"left", "right"}
    x_mm : ndarray, shape (n,)

    Returns
    -------
    ndarray, shape (n,)
        MPa, tension positive.
    """
    angle = outline.face_angle_rad(side, x_mm)
    cosine, sine = np.cos(angle), (1.0 if side == "left" else -1.0) * np.sin(angle)
    xx, yy, xy, _ = stress_mpa
    return np.asarray(xx * cosine**2 + yy * sine**2 + 2.0 * xy * cosine * sine)
