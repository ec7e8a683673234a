"""The same work asked again of an edge that has been cut back.

Depths in the cut, and from where to where a face is pressed, count from the new front, and
a tip's load sits on the new land: what a person does who goes on with a damaged edge.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from simedge.inputs.load import Load
from simedge.section.cut_back import cut_back
from simedge.section.loading import tractions_of
from simedge.section.mixed import mixed
from simedge.section.outline import Outline
from simedge.section.tractions import TipTraction, Tractions

#: Of what could be cut: the very last of it leaves no steel behind the work.
MOST_OF_THE_WAY = 0.999


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Loads in a person's words, and the edge that they were first put on.

    Attributes
    ----------
    shares : tuple of (float, Load)
        What acts at once, each so many times: one load, once, but where work is mixed.
    outline : Outline
        Of the whole edge.
    tractions : Tractions
        What they put on that edge, all forces known.
    """

    shares: tuple[tuple[float, Load], ...]
    outline: Outline
    tractions: Tractions

    @classmethod
    def mixed(cls, shares: tuple[tuple[float, Load], ...], name: str, outline: Outline) -> Work:
        """Mix loads of which none carries the tip a distance, on an edge."""
        return cls(shares=shares, outline=outline, tractions=_mixed(shares, name, outline))

    @property
    def pressed_to_mm(self) -> float:
        """Depth down to which faces are pressed; 0 where only the tip is."""
        return max((part.to_mm for part in self.tractions.faces), default=0.0)

    def deepest_cut_mm(self, trusted_depth_mm: float) -> float:
        """Give how much may be cut with the work still in front of a depth; 0 if nothing."""
        return MOST_OF_THE_WAY * max(trusted_depth_mm - self.pressed_to_mm, 0.0)

    def again(self, cut_mm: float) -> tuple[Outline, Tractions]:
        """Put the work on what a cut of that depth leaves.

        A movement is not imposed again: the force that it took is, spread smoothly.
        """
        left = cut_back(self.outline, cut_mm)
        if left is self.outline:
            return left, self.tractions
        asked = _mixed(self.shares, self.tractions.name, left)
        reaction = self.tractions.reaction
        if reaction is not None:
            carried = TipTraction(
                axial_n_per_mm=reaction.axial_n_per_mm,
                lateral_n_per_mm=reaction.lateral_n_per_mm,
            )
            asked = replace(asked, movement=None, tip=(*asked.tip, carried))
        return left, asked


def _mixed(shares: tuple[tuple[float, Load], ...], name: str, outline: Outline) -> Tractions:
    return mixed([(weight, tractions_of(load, name, outline)) for weight, load in shares])
