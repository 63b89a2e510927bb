"""A question before it is weighed: its answers, and their chances under each hypothesis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, TypeAlias

import numpy as np

from loomwright.observations.observation import Observation
from loomwright.trace.shortlist import Shortlist
from loomwright.trace.simulate import Floats

CAUTIONS: Final = {
    "brake_lever": "Wheels chocked; the brakes of the trailer pull.",
    "brake_pedal": "Wheels chocked.",
    "reverse": "Engine off, parking brake on, wheels chocked.",
    "all": "Wheels chocked; this draws the most current of all.",
}


Answer: TypeAlias = tuple[str, tuple[Observation, ...]]
"""An answer in words, and as observations, where it says something of places."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question before it is weighed.

    `outcomes` are chances under each short-listed hypothesis, shape (short, outcome), `answers`
    what each is in words and as observations.
    """

    key: str
    says: str
    command: str
    minutes: float
    needs: tuple[str, ...]
    outcomes: Floats
    answers: Sequence[Answer]
    caution: str = ""
    splits: bool = field(default=False)


def mixed(shortlist: Shortlist, there: Floats, healthy: Floats) -> Floats:
    """Return chances where what comes and goes is there half the time.

    Parameters
    ----------
    shortlist : Shortlist
        What may be the case.
    there, healthy : float array, shape (short, outcome)
        Chances of the outcomes with the fault there, and without it.
    """
    loose = shortlist.loose[:, None]
    return np.asarray(np.where(loose, 0.5 * (there + healthy), there))
