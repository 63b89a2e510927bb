"""How well each hypothesis explains a message of the brake controller or on the dash."""

from __future__ import annotations

from typing import Final

import numpy as np

from loomwright.observations.observation import Observation
from loomwright.observations.word import Word
from loomwright.trace.bench import CONTROLLER_SWITCH
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.simulate import Field, Floats, Whole

MESSAGES: Final = (Word.CONNECTED, Word.NO_TRAILER, Word.OVERLOAD, Word.FAULT, Word.OFF)

SHOWN: Final = {
    "good": (0.9, 0.03, 0.02, 0.03, 0.02),
    "poor": (0.5, 0.2, 0.04, 0.23, 0.03),
    "gone": (0.05, 0.72, 0.02, 0.18, 0.03),
    "short": (0.04, 0.06, 0.6, 0.27, 0.03),
}
"""Chances of the messages, by the state of the brake circuit. From memory."""

SEEN_BELOW: Final = 0.12
"""Share of a good brake circuit's current under which a controller sees no trailer."""


def chance_of_message(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Return how well each hypothesis explains a message.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        A word of the controller, or of the dash.
    """
    said = Word.CONNECTED if observation.word is Word.ON else observation.word
    if said in (Word.WORKS, Word.NORMAL, Word.AS_USUAL):
        said = Word.CONNECTED
    dash = observation.place.name == "dash"
    states = _states(hypotheses.field, dash=dash)
    if said is None or states is None:
        return None
    passing = said in (Word.COMES_AND_GOES, Word.FLICKER)
    if not passing and said not in MESSAGES:
        return None
    column = 0 if passing else MESSAGES.index(said)
    table = np.array([row[column] for row in SHOWN.values()])
    by_variant = table[states]
    there, healthy = by_variant[hypotheses.variant], by_variant[0]
    if passing:
        changed = states[hypotheses.variant] != states[0]
        found = np.where(changed, np.where(hypotheses.loose, 0.7, 0.2), 0.03)
    else:
        found = np.where(hypotheses.loose, 0.55 * there + 0.45 * healthy, there)
    return _with_signs(hypotheses, found, said)


def _states(solved: Field, *, dash: bool) -> Whole | None:
    """Number of the state of each variant: good, poor, gone, short."""
    bench = solved.bench
    if not (bench.has("brake_lever") and CONTROLLER_SWITCH in bench.wiring.parts):
        return _lamp_states(solved) if dash else None
    lever = bench.number("brake_lever")
    good_a = float(solved.controller_a[0, lever])
    if good_a <= 0.0:
        return _lamp_states(solved) if dash else None
    share = solved.controller_a[:, lever] / good_a
    columns = [
        n for n, name in enumerate(solved.fuses) if bench.wiring.parts[name].function == "brake"
    ]
    opens = solved.opened[:, lever][:, columns].any(axis=1)
    states = np.where(share < 0.8, 1, 0)
    states = np.where(share < SEEN_BELOW, 2, states)
    states = np.where(opens | (share > 1.6), 3, states)
    if dash:
        states = np.where(states == 0, _lamp_states(solved), states)
    return np.asarray(states)


def _lamp_states(solved: Field) -> Whole:
    """A vehicle that watches its trailer tells of outputs that shut down."""
    return np.asarray(np.where(solved.opened.any(axis=(1, 2)), 3, 0))


def _with_signs(hypotheses: Hypotheses, found: Floats, said: Word) -> Floats:
    changed = found.copy()
    for n, fault in enumerate(hypotheses.faults):
        for sign in fault.signs:
            if sign.kind == "controller":
                of_fault = (hypotheses.first == n) | (hypotheses.second == n)
                changed[of_fault] = 0.7 if said in sign.words else 0.3 * found[of_fault]
    return changed
