"""What a suspect would show at a place, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.trace.eye import BASIC
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.metered import volts_at
from loomwright.trace.model import RigFault
from loomwright.trace.seen import words_for
from loomwright.trace.whereabouts import meant_by

if TYPE_CHECKING:
    from loomwright.trace.engine import Trace


def expected_words(trace: Trace, fault: RigFault, observation: Observation) -> str:
    """Return what a fault would show where something was observed; empty if no word fits.

    Parameters
    ----------
    trace : Trace
        What it rests on.
    fault : RigFault
        The fault.
    observation : Observation
        Tells place and command.
    """
    for hypotheses in trace.singles:
        numbers = [n for n, each in enumerate(hypotheses.faults) if each.key == fault.key]
        if numbers:
            return _expected(hypotheses, int(hypotheses.variant[numbers[0] + 1]), observation)
    return ""


def _expected(hypotheses: Hypotheses, variant: int, observation: Observation) -> str:
    solved, place = hypotheses.field, observation.place
    if not solved.bench.has(observation.command):
        return ""
    if observation.quantity is Quantity.VOLTS and place.kind is not PlaceKind.POINTS:
        found = volts_at(hypotheses, observation)
        return "" if found is None else f"{abs(round(float(found[0][variant]), 1)):g} V"
    if observation.quantity is not Quantity.SEEN:
        return ""
    if place.kind not in (PlaceKind.LOAD, PlaceKind.GROUP):
        return ""
    number = solved.bench.number(observation.command)
    loads = meant_by(solved.bench.wiring, place.name).loads
    lamps = [n for n in loads if solved.bench.wiring.loads[n].source is not None]
    functions = solved.bench.commands[number].functions
    lit = [n for n in lamps if solved.bench.wiring.loads[n].function in functions]
    words = [str(likely_word(hypotheses, n, number, variant)) for n in lit or lamps]
    return " or ".join(dict.fromkeys(words))


def likely_word(hypotheses: Hypotheses, load: int, command: int, variant: int) -> str:
    """Return the likeliest word for a lamp under a command.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    load, command, variant : int
        Their numbers.
    """
    return str(BASIC[int(np.argmax(words_for(hypotheses.field, load, command)[variant]))])
