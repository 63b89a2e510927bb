"""Pairing of conductors by function, never by colour.

`pair(rig)` returns the `Hookup`: every joint with both colours, gauges and its standing, the
converters the rig needs, and the traps of the trade it meets.
"""

from loomwright.hookup.model import (
    ConverterNeed,
    End,
    Hookup,
    Pair,
    SpliceChoice,
    Standing,
    TrapFound,
)
from loomwright.hookup.pairing import pair

__all__ = [
    "ConverterNeed",
    "End",
    "Hookup",
    "Pair",
    "SpliceChoice",
    "Standing",
    "TrapFound",
    "pair",
]
