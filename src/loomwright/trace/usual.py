"""How usual each form of fault is in each kind of place and circuit: a weak opinion of the trade.

No count of faults is published, and those that are written up are the hard ones. So the tables
only say very common, common, occasional or rare, and a few readings overrule them. The word is
that of the catalogue of kinds, where one tells of such a fault; else that of the table of forms
beside it.
"""

from __future__ import annotations

from functools import cache
from typing import Final

from loomwright.reference.fault_kinds import Frequency, fault_forms, fault_kinds
from loomwright.trace.homes import circuit_fits

PART_WEIGHTS: Final[dict[Frequency, float]] = {
    "very common": 1.0,
    "common": 0.4,
    "occasional": 0.12,
    "rare": 0.03,
}
"""What a word is worth for one part of a rig against another: some thousand parts may be it, so
the usual ones must stand out. Common practice."""

RARER: Final[dict[Frequency, Frequency]] = {
    "very common": "common",
    "common": "occasional",
    "occasional": "rare",
    "rare": "rare",
}
"""On a circuit that no kind names: a step rarer than on those that are named."""

UNSAID: Final = 0.35
"""Share of what comes and goes that is not told to come and go, nor caught at it."""


@cache
def usual(place: str, form: str, circuit: str) -> float:
    """Return how usual a fault is, 1 for very common; 0 if no such fault is known.

    Parameters
    ----------
    place, form, circuit : str
        As a fault of a rig has them.
    """
    kinds = [kind for kind in fault_kinds() if (kind.place, kind.form) == (place, form)]
    named = [kind.frequency for kind in kinds if circuit_fits(circuit, kind.circuits)]
    others = [RARER[kind.frequency] for kind in kinds]
    forms = [row.frequency for row in fault_forms() if (row.place, row.form) == (place, form)]
    return max((PART_WEIGHTS[word] for word in named or others or forms), default=0.0)


def is_known(place: str, form: str) -> bool:
    """Whether there is such a fault on any circuit."""
    return usual(place, form, "all") > 0.0
