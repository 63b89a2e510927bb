"""A line of the parts list and a line of the cut list."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.colours import Colour
from loomwright.quantities import WireSize


@dataclass(frozen=True, slots=True)
class Item:
    """Something to pull from the shelf: how many, of what, for where."""

    count: int
    what: str
    purpose: str


@dataclass(frozen=True, slots=True)
class Cut:
    """One conductor to cut: function, size, colour, from, to, and its length with slack. [m]"""

    function: str
    size: WireSize
    colour: Colour | None
    start: str
    end: str
    length_m: float


@dataclass(frozen=True, slots=True)
class PartsList:
    """What the job needs, and how long each conductor is cut."""

    items: tuple[Item, ...]
    cuts: tuple[Cut, ...]

    def length_m(self, size: WireSize, colour: Colour | None) -> float:
        """Total length of one size and colour. [m]"""
        return sum(cut.length_m for cut in self.cuts if (cut.size, cut.colour) == (size, colour))
