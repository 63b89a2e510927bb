"""How well each hypothesis explains what is told besides: another vehicle, rain, late work.

The figures are opinion of the trade (common practice): they shift belief, they never decide it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from loomwright.observations.observation import Observation
from loomwright.observations.word import Word
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.model import RigFault
from loomwright.trace.simulate import Floats

WORKS: Final[Mapping[str, Mapping[str, float]]] = {
    "other vehicle": {"vehicle": 0.93, "coupling": 0.5, "trailer": 0.1},
    "bench supply": {"vehicle": 0.95, "coupling": 0.6, "trailer": 0.07},
    "other trailer": {"vehicle": 0.1, "coupling": 0.5, "trailer": 0.94},
    "load box": {"vehicle": 0.07, "coupling": 0.7, "trailer": 0.94},
    "other socket": {"vehicle": 0.6, "coupling": 0.6, "trailer": 0.1},
}
"""Chance that all works there, by the side the fault is on."""

ODD: Final = 0.15
"""Chance by which a bad ground of a trailer shows otherwise on another vehicle."""

HISTORY: Final[Mapping[str, Mapping[str, float]]] = {
    "rain": {"leakage": 6.0, "high_resistance": 1.5, "intermittent_short": 1.5},
    "bumps": {"intermittent_open": 6.0, "intermittent_short": 6.0, "high_resistance": 1.5},
    "added lately": {
        "intermittent_short": 4.0,
        "short_to_ground": 3.0,
        "short_to_circuit": 3.0,
        "wrong_function": 3.0,
        "swapped": 2.5,
        "undersized": 2.0,
        "missing": 1.5,
    },
    "never worked": {
        "missing": 6.0,
        "swapped": 5.0,
        "wrong_function": 5.0,
        "wrong_bulb": 4.0,
        "undersized": 4.0,
        "logic": 4.0,
        "reversed": 4.0,
        "intermittent_open": 0.5,
        "intermittent_short": 0.5,
    },
    "after a repair": {
        "missing": 5.0,
        "swapped": 5.0,
        "wrong_function": 5.0,
        "short_to_circuit": 2.0,
        "wrong_bulb": 3.0,
        "reversed": 3.0,
    },
    "long unused": {"high_resistance": 2.5, "open": 1.2, "leakage": 1.5},
}
"""Factor on each form of fault; those not named keep 1."""

NO_TRAILER: Final = {"vehicle": 1.0, "coupling": 0.15, "trailer": 0.03}
"""Chance that it shows with no trailer on, by side."""


def chance_elsewhere(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Return how well each hypothesis explains what another vehicle, or a bench supply, shows.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        `works`, `fails`, or any word that means the one or the other.
    """
    chances = WORKS.get(observation.place.name.casefold())
    if chances is None or observation.word is None:
        return None
    works = observation.word in (Word.WORKS, Word.NORMAL, Word.CONNECTED, Word.AS_USUAL)
    swap = observation.place.name.casefold() == "other vehicle"
    each = [_chance(fault, chances, odd=swap) for fault in hypotheses.faults]
    found = hypotheses.of_fault(each, 0.9).min(axis=0)
    found = np.where(hypotheses.first < 0, 0.75, found)
    return found if works else 1.0 - found


def _chance(fault: RigFault, chances: Mapping[str, float], *, odd: bool) -> float:
    found = chances[fault.side]
    if odd and fault.side == "trailer" and fault.place.startswith("trailer.ground"):
        return found + ODD
    if fault.comes_and_goes:
        return 0.5 * (found + 0.8)
    return found


def chance_of_history(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Return how well each hypothesis goes with what is told of the rig's past and weather.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        Of the history, with any word that says it is so.
    """
    name = observation.place.name.casefold()
    if name == "no trailer":
        each = [NO_TRAILER[fault.side] for fault in hypotheses.faults]
        return np.asarray(hypotheses.of_fault(each, 0.1).max(axis=0))
    factors = next((found for key, found in HISTORY.items() if key in name), None)
    if factors is None:
        return None
    top = max(factors.values())
    each = [factors.get(fault.form, 1.0) / top for fault in hypotheses.faults]
    return np.asarray(hypotheses.of_fault(each, 1.0 / top).max(axis=0))
