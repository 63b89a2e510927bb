"""How well each hypothesis explains an observation: one number for each, never quite 0."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, TypeAlias

import numpy as np

from loomwright.circuit.faults import Opened
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.circumstances import chance_elsewhere, chance_of_history
from loomwright.trace.homes import circuit_of
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.messages import chance_of_message
from loomwright.trace.metered import chance_of_reading
from loomwright.trace.moving import chance_of_moving, zone_of
from loomwright.trace.seen import chance_of_word
from loomwright.trace.simulate import Floats

LEAST: Final = 0.004
"""No observation rules anything out for good: people look at the wrong lamp. From memory."""


def chance_of(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Return how well each hypothesis explains an observation, or None if it says nothing.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        What was seen or measured.
    """
    known = hypotheses.memory.get(observation)
    if known is None:
        known = _chance(hypotheses, observation)
        hypotheses.memory[observation] = known if known is not None else False
    return known if isinstance(known, np.ndarray) else None


def chance_if_there(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    """Return how well each explains it at a moment at which what comes and goes is there.

    Parameters
    ----------
    hypotheses : Hypotheses
        What may be the case.
    observation : Observation
        What was seen or measured.
    """
    return chance_of(hypotheses.if_there, observation)


def _chance(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    if observation.word is Word.NOT_SEEN:
        return None
    found = _by_kind(hypotheses, observation)
    if found is None:
        return None
    top = max(float(found.max()), 1e-300)
    return np.maximum(found, LEAST * min(top, 1.0))


def _by_kind(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    kind = observation.place.kind
    if kind in TOLD:
        return TOLD[kind](hypotheses, observation)
    if kind in SEEN_AT and observation.quantity is Quantity.SEEN:
        return SEEN_AT[kind](hypotheses, observation)
    return chance_of_reading(hypotheses, observation)


def _chance_of_history(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    tell = chance_of_moving if zone_of(observation.place) else chance_of_history
    return tell(hypotheses, observation)


def _chance_of_fuse(hypotheses: Hypotheses, observation: Observation) -> Floats | None:
    solved = hypotheses.field
    fuses = _fuses_meant(hypotheses, observation.place.name)
    if not fuses or observation.word not in (Word.BLOWN, Word.WHOLE):
        return None
    columns = [solved.fuses.index(name) for name in fuses]
    blows = np.asarray(solved.opened[..., columns].any(axis=(1, 2)))[hypotheses.variant]
    by_itself = np.where(blows, np.where(hypotheses.loose, 0.8, 0.93), 0.03)
    is_blown = np.array([_is_fuse(f.changes, fuses) for f in hypotheses.faults] + [False])
    chance = np.where(is_blown[hypotheses.first] | is_blown[hypotheses.second], 0.97, by_itself)
    return np.asarray(chance if observation.word is Word.BLOWN else 1.0 - chance)


def _is_fuse(changes: object, fuses: tuple[str, ...]) -> bool:
    return isinstance(changes, tuple) and any(
        isinstance(each, Opened) and each.element in fuses for each in changes
    )


def _fuses_meant(hypotheses: Hypotheses, name: str) -> tuple[str, ...]:
    """Fuses a name means: an element, or words for a circuit."""
    wiring = hypotheses.field.bench.wiring
    fuses = [n for n in hypotheses.field.fuses if wiring.parts[n].kind == "fuse"]
    if name in fuses:
        return (name,)
    words = set(name.casefold().replace("_", " ").split())
    meant = [n for n in fuses if circuit_of(wiring.parts[n].function) in words]
    if not meant:
        meant = [n for n in fuses if words & set(wiring.parts[n].function.split("_"))]
    if not meant and words & {"any", "trailer", "all"}:
        meant = fuses
    return tuple(meant)


Teller: TypeAlias = Callable[[Hypotheses, Observation], "Floats | None"]

TOLD: Final[Mapping[PlaceKind, Teller]] = {
    PlaceKind.ELSEWHERE: chance_elsewhere,
    PlaceKind.HISTORY: _chance_of_history,
    PlaceKind.FUSE: _chance_of_fuse,
}
"""What judges what is told of a place, whatever is told."""

SEEN_AT: Final[Mapping[PlaceKind, Teller]] = {
    PlaceKind.CONTROLLER: chance_of_message,
    PlaceKind.LOAD: chance_of_word,
    PlaceKind.GROUP: chance_of_word,
}
"""What judges a word at a place; a number there is a reading."""
