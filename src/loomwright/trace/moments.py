"""What is seen at one moment hangs together: a fault that comes and goes is there or is not.

While a command is held, every lamp is looked at in one go. A loose contact is made or broken in
that moment, for all of them alike; under the next command it may be otherwise. So the words of
one moment are taken together, once with the fault there and once without, and only then mixed.

How often it is there nobody knows: some loose contacts are open most of the time, some hardly
ever. All are kept in play, from seldom to nearly always. A short that has blown its fuse is
gone, but the fuse stays blown: from then on it shows at every moment.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.evidence import chance_if_there, chance_of
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.seen import PASSING
from loomwright.trace.simulate import Floats

RATES: Final = ((0.15, 1 / 3), (0.5, 1 / 3), (0.85, 1 / 3))
"""How often it is there, and how likely that is: any rate alike. From memory."""

STAYS: Final = 0.7
"""Share of shorts now and then, through a fuse, that have blown it already. From memory."""

LOOKED_AT: Final = frozenset({PlaceKind.LOAD, PlaceKind.GROUP, PlaceKind.CONTROLLER})


def log_chance(hypotheses: Hypotheses, observations: Iterable[Observation]) -> Floats:
    """Return the logarithm of how well each hypothesis explains some observations together.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observations : iterable of Observation
        Those that say something of this rig, each once, in any order.
    """
    total = np.zeros(len(hypotheses))
    kept: dict[str, list[Observation]] = {}
    for observation in observations:
        if is_momentary(observation):
            kept.setdefault(observation.command, []).append(observation)
        else:
            total += np.log(_known(chance_of(hypotheses, observation)))
    moments = [moment for looks in kept.values() for moment in _moments(looks)]
    return total + _together(hypotheses, moments)


def is_momentary(observation: Observation) -> bool:
    """Whether an observation is one look among others while a command is held."""
    return (
        observation.quantity is Quantity.SEEN
        and observation.place.kind in LOOKED_AT
        and bool(observation.command)
        and observation.word not in (*PASSING, Word.AS_USUAL)
    )


def _moments(looks: Sequence[Observation]) -> Iterable[Sequence[Observation]]:
    """Part the looks of one command by moment: a place told twice was looked at twice."""
    places = [each.place for each in looks]
    if len(set(places)) == len(places):
        return [looks]
    return [[each] for each in looks]


def _together(hypotheses: Hypotheses, moments: Sequence[Sequence[Observation]]) -> Floats:
    """Logarithm of the chance of all moments, for each hypothesis."""
    there = np.zeros((len(moments), len(hypotheses)))
    for n, moment in enumerate(moments):
        for each in moment:
            there[n] += np.log(_known(chance_if_there(hypotheses, each)))
    total = np.asarray(there.sum(axis=0))
    loose = hypotheses.loose
    if not len(moments) or not loose.any():
        return total
    gone = there[:, int(np.argmin(hypotheses.first))][:, None]
    mixed = _mixed(there[:, loose], gone)
    stays = np.where(hypotheses.stays[loose], STAYS, 0.0)
    total[loose] = _log_sum([stays, 1.0 - stays], [total[loose], mixed])
    return total


def _mixed(there: Floats, gone: Floats) -> Floats:
    """Logarithm of the chance where each moment has it there or gone, at any rate."""
    each = [
        _log_sum([rate, 1.0 - rate], [there, np.broadcast_to(gone, there.shape)]).sum(axis=0)
        for rate, _ in RATES
    ]
    return _log_sum([weight for _, weight in RATES], each)


def _log_sum(weights: Sequence[float | Floats], logs: Sequence[Floats]) -> Floats:
    """Logarithm of a weighted sum of what has these logarithms."""
    top = np.max(logs, axis=0)
    parts = (weight * np.exp(log - top) for weight, log in zip(weights, logs, strict=True))
    return np.asarray(top + np.log(np.maximum(sum(parts), 1e-300)))


def _known(chance: Floats | None) -> NDArray[np.float64]:
    if chance is None:
        raise ValueError("an observation that says nothing has no chance")
    return chance
