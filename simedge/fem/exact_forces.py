"""Nodal forces of a slim blade's movement, free of the rounding that its size would bring in.

The tip of a slim blade moves a million times farther than it strains. Forces are taken
from how far neighbours move against one another, so that the movement that they share plays no
part, and the movement is kept in two parts, so that the small one is not lost in the large.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_matrix

Extended = NDArray[np.longdouble]
#: Entries are rounded to this share of the largest, which touches those only that are below a
#: hundredth of it: whole multiples, of which up to sixteen times the largest add up in
#: extended precision without any rounding, and a row's entries never come to more.
ENTRY_SHARE = 2.0**-60


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TwoPartMovement:
    """A movement as the sum of a large and a small part.

    Attributes
    ----------
    large, small : ndarray of extended precision, shape (2 points, loads)
    """

    large: Extended
    small: Extended

    def plus(self, correction: NDArray[np.float64]) -> TwoPartMovement:
        """Add a correction; what the large part cannot hold goes to the small one.

        Source: error of a floating-point sum, D.E. Knuth, The Art of Computer Programming 2,
        section 4.2.2.
        """
        added = correction.astype(np.longdouble)
        total = self.large + added
        taken = total - self.large
        lost = (self.large - (total - taken)) + (added - taken)
        return TwoPartMovement(large=total, small=self.small + lost)

    def rounded(self) -> NDArray[np.float64]:
        """Give the sum in double precision."""
        return np.asarray(self.large + self.small, dtype=np.float64)


def exact_forces(stiffness: csc_matrix) -> Callable[[TwoPartMovement], Extended]:
    """Give the product with the stiffness, free of the rounding of its assembly.

    A stiffness adds up to nothing over all points: moving a section as a whole takes no
    force. Rounded to double precision it does, a little, times the movement of the tip: so
    each point's own block is taken as what brings the sum to nothing.

    Parameters
    ----------
    stiffness : csc_matrix
        Over x and y of each point in turn; every point has neighbours.

    Returns
    -------
    callable
        From a movement to forces, shape (2 points, loads), that sum to nothing to about
        1e-19 of the largest entry times what neighbours move against one another.
    """
    blocks = stiffness.tobsr(blocksize=(2, 2))
    begins, other = blocks.indptr[:-1], blocks.indices
    own = np.repeat(np.arange(len(begins)), np.diff(blocks.indptr))
    grain = 2.0 ** np.ceil(np.log2(np.abs(blocks.data).max())) * ENTRY_SHARE
    entries = (np.rint(blocks.data / grain) * grain).astype(np.longdouble)
    entries[own == other] = 0.0
    by_column = np.argsort(other, kind="stable")
    first = np.searchsorted(other[by_column], np.arange(len(begins)))
    # the sums over a row and over a column of blocks differ by rounding only
    uneven = np.add.reduceat(entries, begins) - np.add.reduceat(entries[by_column], first)

    def forces(movement: TwoPartMovement) -> Extended:
        large = movement.large.reshape(len(begins), 2, -1)
        apart = large[other] - large[own]
        if movement.small.any():  # not yet in the first solution
            small = movement.small.reshape(large.shape).astype(np.float64)
            apart += small[other] - small[own]
        pulls = entries[:, :, :1] * apart[:, :1] + entries[:, :, 1:] * apart[:, 1:]
        carried = np.add.reduceat(pulls, begins)
        carried += uneven[:, :, :1] * large[:, :1] + uneven[:, :, 1:] * large[:, 1:]
        return np.asarray(carried.reshape(movement.large.shape))

    return forces
