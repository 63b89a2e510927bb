"""What the hook-up says: which conductor joins which, and what to beware of."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from loomwright.colours import Colour
from loomwright.quantities import WireSize


class Standing(StrEnum):
    """How the two colours of a joint agree with their functions."""

    SAME = "same colour"
    DIFFERENT = "different colour"
    TRAP = "colour trap"
    UNKNOWN = "colour not known"
    NO_FEED = "no feed"
    NO_PARTNER = "no partner"
    NEEDS_CONVERTER = "needs a converter"
    LOST_IN_ADAPTER = "lost at the plug"


@dataclass(frozen=True, slots=True)
class End:
    """One side of a joint: where the conductor comes from, its colour, size and pin."""

    of: str
    function: str
    colour: Colour | None
    size: WireSize | None
    pin: str | None
    place: str


@dataclass(frozen=True, slots=True)
class SpliceChoice:
    """The joint that takes both wires: kind, barrel colour, strip length, shrink and note."""

    kind: str
    barrel: str
    strip_mm: float | None
    shrink: str
    fits: bool
    note: str


@dataclass(frozen=True, slots=True)
class Pair:
    """Two conductors that must be joined because they have the same function.

    `stage` is "splice" (vehicle or converter to lead), "plug" (socket pin to plug pin) or
    "adapter". `says` is one plain sentence; `meanings` names both meanings of a trap colour.
    """

    stage: Literal["splice", "plug", "adapter"]
    socket: str
    function: str
    vehicle_side: End | None
    trailer_side: End | None
    standing: Standing
    says: str
    do: str
    splice: SpliceChoice | None = None
    meanings: tuple[str, ...] = ()
    source: str = ""


@dataclass(frozen=True, slots=True)
class ConverterNeed:
    """A mismatch of systems and the converter that mends it.

    `rating_a` is the least rating [A], of each channel or of the whole as `rating_of` says.
    """

    kind: str
    says: str
    rating_a: float | None
    source: str
    rating_of: Literal["channel", "whole"] = "channel"


@dataclass(frozen=True, slots=True)
class TrapFound:
    """A trap of the trade that this rig walks into, or passes close by.

    `grave` is true where following the wire colours or the plug would hurt or damage.
    """

    key: str
    title: str
    where: str
    says: str
    do: str
    grave: bool
    source: str


@dataclass(frozen=True, slots=True)
class Hookup:
    """The pairing of a whole rig."""

    pairs: tuple[Pair, ...]
    needs: tuple[ConverterNeed, ...]
    traps: tuple[TrapFound, ...]

    def at(self, stage: str) -> tuple[Pair, ...]:
        """Return the pairs of one stage, in pin order."""
        return tuple(pair for pair in self.pairs if pair.stage == stage)
