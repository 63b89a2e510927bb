"""What the faults of one typical rig show at the places of a case: solved, then put in words.

For each fault of the rig and each observation of a case: how likely that word is said there.
Where a network tells nothing of a place, nothing is returned, and the table of kinds speaks.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from loomwright.circuit.faults import Opened
from loomwright.observations.word import Word
from loomwright.trace.bench import Bench
from loomwright.trace.cases_read import Seen
from loomwright.trace.cases_words import Spot
from loomwright.trace.engine import Trace
from loomwright.trace.eye import SLIP, chance, spoken
from loomwright.trace.homes import circuit_of
from loomwright.trace.model import RigFault
from loomwright.trace.simulate import Field
from loomwright.trace.typical import TypicalRig
from loomwright.trace.whereabouts import side_of, small_kind

Chances = NDArray[np.float64]

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

SHAKY = frozenset({"intermittent", "flicker"})
OWN_COMMAND = {"tail": "park", "stop": "brake_pedal", "reverse": "reverse", "fog": "fog"}
WHATEVER = frozenset({"any", "rolling", "bump", "rain", "tap"})
"""Commands and circumstances under which each lamp is looked at under its own command."""

THERE = 0.5
"""How often a fault that comes and goes is there when somebody looks."""


@dataclass(frozen=True)
class Stand:
    """A typical rig with every fault it may have solved, and its weight among others."""

    typical: TypicalRig
    bench: Bench
    faults: tuple[RigFault, ...]
    solved: Field
    variant: NDArray[np.intp]
    light_words: dict[tuple[int, int], dict[str, Chances]] = field(default_factory=dict)

    @property
    def weight(self) -> float:
        """Its weight among the rigs that stand for the same answers."""
        return self.typical.weight

    @cached_property
    def lamps(self) -> tuple[tuple[str, str], ...]:
        """What each load does and its side; empty for what is no lamp of the trailer."""
        return tuple(self._lamp(n) for n in range(len(self.bench.wiring.loads)))

    def _lamp(self, number: int) -> tuple[str, str]:
        wiring = self.bench.wiring
        load = wiring.loads[number]
        if load.kind != "lamp":
            return "", ""
        side = {"left": "L", "right": "R"}.get(side_of(wiring, load), "")
        circuit = circuit_of(load.function)
        name = "signal" if circuit in ("left", "right") else circuit
        return (small_kind(wiring, load) or name), side

    @cached_property
    def comes_and_goes(self) -> NDArray[np.bool_]:
        """Whether each fault is there at one moment and gone at the next."""
        return np.array([fault.comes_and_goes for fault in self.faults])

    @cached_property
    def is_poor(self) -> NDArray[np.bool_]:
        """Whether each fault is a poor joint or corroded copper."""
        return np.array([fault.form == "high_resistance" for fault in self.faults])


def make_stand(typical: TypicalRig) -> Stand:
    """Solve a typical rig with each of its faults.

    Parameters
    ----------
    typical : TypicalRig
        The rig.
    """
    (found,) = Trace(((typical.rig, 1.0),)).singles
    return Stand(typical, found.field.bench, found.faults, found.field, found.variant[1:])


def chances(stand: Stand, seen: Seen) -> Chances | None:
    """Return how likely each fault of a rig makes an observation, or None if no network tells.

    Parameters
    ----------
    stand : Stand
        The rig with its faults.
    seen : Seen
        The observation.
    """
    if seen.spot.where != "here":
        return None
    tell = TELLERS.get(seen.spot.part)
    told = None if tell is None else tell(stand, seen)
    if told is None:
        return None
    of_fault = told[stand.variant]
    if seen.word in SHAKY:
        return _unsteady(stand, of_fault, float(told[0]))
    mixed = THERE * of_fault + (1.0 - THERE) * told[0]
    return np.where(stand.comes_and_goes, mixed, of_fault)


def _unsteady(stand: Stand, of_fault: Chances, healthy: float) -> Chances:
    """Chance that something flickers or comes and goes: poor joints do it now and then."""
    differs = np.clip((of_fault - healthy) / max(1.0 - healthy, 1e-6), 0.0, 1.0)
    share = np.where(stand.comes_and_goes, 0.6, np.where(stand.is_poor, 0.25, 0.04))
    return np.asarray(0.01 + share * differs)


def _command(stand: Stand, command: str) -> int | None:
    return stand.bench.number(command) if stand.bench.has(command) else None


def _lamp(stand: Stand, seen: Seen) -> Chances | None:
    """Chance that the word fits every lamp the place names; of a wrong one, any of them."""
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
    column = _command(stand, command)
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


def _brakes(stand: Stand, seen: Seen) -> Chances | None:
    """Brakes by the share of current in each magnet."""
    numbers = [
        n
        for n, load in enumerate(stand.bench.wiring.loads)
        if load.kind == "brake" and _is_wheel(stand, seen.spot, n)
    ]
    rests = seen.command in ("rest", "charge", "key_on", "plug_in", "park", "left", "right")
    name = seen.command if seen.command in ("brake_pedal", "hazard") else "brake_lever"
    column = _command(stand, "rest" if rests else name)
    if not numbers or column is None:
        return None
    shares = np.asarray(stand.solved.light[:, column, :][:, numbers], dtype=float)
    share = (
        shares.min(axis=1)
        if seen.spot.name == "one" and not seen.spot.side
        else shares.mean(axis=1)
    )
    if rests:
        locked = _up(share, 0.25, 0.08)
        return _of(
            {"locked": locked, "on": 0.5 * locked, "normal": 1 - locked, "off": 0.5 * (1 - locked)},
            seen,
        )
    off, full = 1.0 - _up(share, 0.12, 0.05), _up(share, 0.65, 0.12)
    weak = np.clip(1.0 - off - full, 0.0, 1.0)
    grabby = 0.3 * (shares.max(axis=1) - shares.min(axis=1) > 0.5)
    table = {"off": off, "weak": weak * (1 - grabby), "normal": full, "grabby": grabby, "on": full}
    return _of(table, seen)


def _is_wheel(stand: Stand, spot: Spot, number: int) -> bool:
    load = stand.bench.wiring.loads[number]
    side = {"left": "L", "right": "R"}.get(side_of(stand.bench.wiring, load), "")
    if spot.side and side != spot.side:
        return False
    return not spot.name.startswith("axle") or f"axle {spot.name[-1]}" in load.name


def _controller(stand: Stand, seen: Seen) -> Chances | None:
    """The controller's message by the current it drives, against that of the healthy rig."""
    column = _command(stand, "brake_lever")
    if column is None or not np.any(stand.solved.controller_a[0, column]):
        return None
    amps = np.asarray(stand.solved.controller_a[:, column], dtype=float)
    share = amps / max(float(amps[0]), 1e-6)
    opened = stand.solved.opened[:, column].any(axis=1) & ~stand.solved.opened[0, column].any()
    none = 1.0 - _up(share, 0.15, 0.06)
    over = np.where(opened, 1.0, _up(share, 1.5, 0.15))
    none = none * (1.0 - over)
    good = np.clip(1.0 - none - over, 0.0, 1.0)
    rest = seen.command in ("rest", "key_on", "plug_in", "charge", "park")
    hidden = 0.5 if rest else 0.0
    good, over = good + hidden * over, over * (1.0 - hidden)
    table = {
        "no_trailer": 0.85 * none,
        "overload": 0.75 * over,
        "fault": 0.1 * none + 0.25 * over + 0.01,
        "connected": good,
        "normal": 0.5 * good,
        "off": 0.05 * none + 0.01,
    }
    return _of(table, seen)


def _fuse(stand: Stand, seen: Seen) -> Chances | None:
    """A fuse blown: by the fault itself, or by what the fault makes of the currents."""
    wiring = stand.bench.wiring
    names = [
        (n, name)
        for n, name in enumerate(stand.solved.fuses)
        if name in wiring.parts and wiring.parts[name].kind == "fuse"
    ]
    meant = [(n, name) for n, name in names if _is_fuse(wiring.parts[name].function, seen.spot)]
    if not meant:
        return None
    opened = stand.solved.opened[:, :, [n for n, _ in meant]].any(axis=(1, 2))
    named = {name for _, name in meant}
    burnt = [
        any(isinstance(fault, Opened) and fault.element in named for fault in each)
        for each in stand.solved.changes
    ]
    blown = np.where(opened | np.array(burnt), 0.94, 0.05)
    return _of({"blown": blown, "off": 0.3 * blown, "whole": 1 - blown, "normal": 1 - blown}, seen)


def _is_fuse(function: str, spot: Spot) -> bool:
    circuit = circuit_of(function)
    name = "signal" if circuit in ("left", "right") else circuit
    return spot.name in ("all", name, circuit)


def _socket(stand: Stand, seen: Seen) -> Chances | None:
    """A pin of the socket, against what it reads on the healthy rig."""
    if seen.spot.part == "cord" or seen.spot.name in ("voltage", "ground"):
        return None
    found = []
    for number, pin in enumerate(stand.bench.wiring.pins):
        circuit = circuit_of(pin.function)
        side = {"left": "L", "right": "R"}.get(circuit, "")
        name = "signal" if side else circuit
        if circuit == "ground" or seen.spot.name not in ("all", name, circuit):
            continue
        if seen.spot.side and seen.spot.side != side:
            continue
        command = seen.command if seen.command not in WHATEVER else circuit
        command = {"tail": "park", "stop": "brake_pedal", "brake": "brake_lever"}.get(
            command, command
        )
        column = _command(stand, command)
        if column is not None:
            found.append(_pin(stand, seen, number, column))
    if not found:
        return None
    table = np.stack(found)
    return np.asarray(table.max(axis=0) if seen.word in SHAKY else table.min(axis=0))


def _pin(stand: Stand, seen: Seen, number: int, column: int) -> Chances:
    volts = np.abs(np.asarray(stand.solved.pins[:, column, number], dtype=float))
    full = float(volts.max())
    live = _up(volts / max(full, 1.0), 0.85, 0.04)
    dead = 1.0 - _up(volts / max(full, 1.0), 0.15, 0.05)
    weak = np.clip(1.0 - live - dead, 0.0, 1.0)
    lit = live + 0.3 * weak
    table = {"off": dead, "normal": live if volts[0] > 1 else dead, "on": lit, "weak": weak}
    table |= {"dim": weak, "flashing": live, "wrong": np.abs(live - live[0])}
    return _of(table, seen)


def _truck_lamp(stand: Stand, seen: Seen) -> Chances | None:
    column = _command(stand, seen.command)
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


def _up(x: Chances, edge: float, spread: float) -> Chances:
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip((x - edge) / spread, -40.0, 40.0))))


def _of(table: Mapping[str, Chances], seen: Seen) -> Chances:
    """Chance of the word among all of the table, with room for slips.

    Of an unsteady word: how far a fault is from the healthy rig, the first of the field.
    """
    if seen.word in SHAKY:
        healthy = max(table.values(), key=lambda each: float(each[0]))
        return np.asarray(np.clip(1.0 - healthy / max(float(healthy[0]), 1e-6), 0.0, 1.0))
    total = np.sum(list(table.values()), axis=0)
    found = table.get(seen.word, np.zeros(len(total))) / np.maximum(total, 1e-6)
    return np.asarray((1.0 - SLIP) * found + SLIP / 8.0)


Teller = Callable[[Stand, Seen], "Chances | None"]
TELLERS: dict[str, Teller] = {
    "lamp": _lamp,
    "brakes": _brakes,
    "controller": _controller,
    "fuse": _fuse,
    "socket": _socket,
    "truck lamp": _truck_lamp,
}
"""For each part of a rig that a network tells of, what puts its numbers in words."""
