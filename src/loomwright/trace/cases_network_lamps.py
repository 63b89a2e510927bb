"""What faults of a typical rig show at lamps, its own and those of the vehicle, in words."""

from __future__ import annotations

import numpy as np

from loomwright.observations.word import Word
from loomwright.trace.cases_read import Seen
from loomwright.trace.cases_stand import SHAKY, WHATEVER, Chances, Stand
from loomwright.trace.eye import SLIP, chance, spoken
from loomwright.trace.homes import circuit_of

EYE = {
    "off": Word.OFF,
    "glow": Word.GLOW,
    "dim": Word.DIM,
    "normal": Word.NORMAL,
    "bright": Word.BRIGHT,
    "on": Word.ON,
    "flashing": Word.FLASHING,
    "flashing_dim": Word.FLASHING_DIM,
    "flashing_fast": Word.FLASHING_FAST,
    "wrong": Word.WRONG,
}
"""Words of a light that the eye's model knows."""

OWN_COMMAND = {"tail": "park", "stop": "brake_pedal", "reverse": "reverse", "fog": "fog"}


def of_lamp(stand: Stand, seen: Seen) -> Chances | None:
    """Return the chance that the word fits every lamp a place names; of a wrong one, any.

    Parameters
    ----------
    stand : Stand
        The rig with its faults.
    seen : Seen
        The observation.
    """
    found = [
        told
        for number, (name, side) in enumerate(stand.lamps)
        if _is_meant(seen, name, side)
        for told in (_one_lamp(stand, seen, number, name, side),)
        if told is not None
    ]
    if not found:
        return None
    table = np.stack(found)
    any_will_do = seen.word in SHAKY or seen.word == "wrong"
    return np.asarray(table.max(axis=0) if any_will_do else table.min(axis=0))


def _is_meant(seen: Seen, name: str, side: str) -> bool:
    """Whether a lamp is one of those named; under the pedal a signal is a stop lamp as well."""
    spot = seen.spot
    if not name or (spot.side and side != spot.side):
        return False
    stops = spot.name == "stop" and name == "signal" and "brake_pedal" in seen.command
    return spot.name in ("all", name) or stops


def _one_lamp(stand: Stand, seen: Seen, number: int, name: str, side: str) -> Chances | None:
    command = seen.command
    if command in WHATEVER:
        own = {"L": "left", "R": "right"}.get(side, "") if name == "signal" else ""
        command = own or OWN_COMMAND.get(name, "park")
    column = stand.command(command)
    if column is None:
        return None
    if seen.spot.name == "all" and not _lit(stand, column, number):
        return None if seen.word != "wrong" else _words(stand, seen, column, number)
    return _words(stand, seen, column, number)


def _lit(stand: Stand, column: int, number: int) -> bool:
    return bool(stand.solved.light[0, column, number] > 0.1)


def _words(stand: Stand, seen: Seen, column: int, number: int) -> Chances:
    """Chance of the word among all that may be said of a light."""
    kept = stand.light_words
    if (column, number) not in kept:
        kept[column, number] = _light_words(stand, column, number)
    table = kept[column, number]
    if seen.word in SHAKY:
        healthy = max(table.values(), key=lambda each: float(each[0]))
        return np.asarray(1.0 - healthy / healthy[0])
    return table.get(seen.word, np.full(len(stand.solved.light), SLIP / 8.0))


def _light_words(stand: Stand, column: int, number: int) -> dict[str, Chances]:
    light = stand.solved.light
    dark = stand.bench.dark_half(column)
    lit = np.asarray(light[:, column, number], dtype=float)
    still = None if dark is None else np.asarray(light[:, dark, number], dtype=float)
    source = stand.bench.wiring.loads[number].source
    words = spoken(lit, still, filament=type(source).__name__ == "Bulb")
    table = {
        word: chance(words, meant, words[0], flashes=still is not None)
        for word, meant in EYE.items()
    }
    total = np.sum(list(table.values()), axis=0)
    return {word: each / total for word, each in table.items()}


def of_truck_lamp(stand: Stand, seen: Seen) -> Chances | None:
    """Return the chance that the word fits the lamps of the vehicle that a place names.

    Parameters
    ----------
    stand : Stand
        The rig with its faults.
    seen : Seen
        The observation.
    """
    column = stand.command(seen.command)
    if column is None:
        return None
    found = []
    for number, load in enumerate(stand.bench.wiring.loads):
        circuit = circuit_of(load.function)
        side = {"left": "L", "right": "R"}.get(circuit, "")
        name = "signal" if side else circuit
        stops = seen.spot.name == "stop" and name == "signal"
        meant = load.kind == "vehicle lamp" and (seen.spot.name in ("all", name) or stops)
        if meant and (not seen.spot.side or side == seen.spot.side):
            found.append(_words(stand, seen, column, number))
    return np.asarray(np.stack(found).min(axis=0)) if found else None
