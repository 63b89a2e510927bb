"""How likely each answer is, for every way a function can behave and every way to be fed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from loomwright.identify.behaviour import (
    PACKAGE,
    Behaviour,
    Feeding,
    State,
    behaviours,
    function_rows,
)
from loomwright.identify.bundle import Bundle
from loomwright.identify.commands import COMMANDS, DROP, GROUND_TESTS, OHMS, Command
from loomwright.identify.seen import Seen, Tester, words_of
from loomwright.tables import Standing, read_rows

Floats = NDArray[np.float64]

WRONG_VOLTS = (0.4, 0.15, 0.3, 0.075, 0.075)
WRONG_GROUND = (1 / 3, 1 / 3, 1 / 3)
"""What a wrong reading shows, in the order of the words: mostly nothing, a probe that did not
reach, or live, the wire beside it. Common practice."""

WOKEN = 0.9
"""Share of outputs that wait for a load which a 21 W lamp wakes. Common practice."""


@dataclass(frozen=True, slots=True)
class Probe:
    """One way to read a wire."""

    command: Command
    tester: Tester

    @property
    def is_ground_test(self) -> bool:
        """Whether it looks for a ground rather than for volts."""
        return self.command in GROUND_TESTS


@dataclass(frozen=True, slots=True)
class Sight:
    """Likelihoods of one bundle.

    Attributes
    ----------
    ways : tuple of Behaviour
        Every way in which an open function can behave, function by function.
    feedings : tuple of Feeding
        The ways of feeding that are open.
    likelihoods : mapping
        For each probe an array, shape (feedings, ways, words).
    """

    ways: tuple[Behaviour, ...]
    feedings: tuple[Feeding, ...]
    likelihoods: Mapping[Probe, Floats]

    @property
    def starts(self) -> list[int]:
        """Place of the first way of each function."""
        functions = [way.function for way in self.ways]
        return [functions.index(each) for each in dict.fromkeys(functions)]

    def of(self, probe: Probe) -> Floats:
        """Return the likelihoods of a probe."""
        return self.likelihoods[probe]


def probes(bundle: Bundle) -> tuple[Probe, ...]:
    """Return every way to read a wire with what there is; the order decides between equals."""
    found = [Probe(held, tester) for held in bundle.known_commands for tester in bundle.testers]
    if Tester.METER in bundle.testers:
        found.append(Probe(OHMS, Tester.METER))
    if {Tester.METER, Tester.LAMP} <= set(bundle.testers):
        found.append(Probe(DROP, Tester.METER))
    return tuple(found)


def sight(bundle: Bundle) -> Sight:
    """Return how likely each answer is, for every probe, at hand or not: readings may be older."""
    known = behaviours()
    ways = tuple(way for function in bundle.open_functions for way in known[function])
    everything = [Probe(held, tester) for held in COMMANDS for tester in Tester]
    everything += [Probe(test, Tester.METER) for test in GROUND_TESTS]
    arrays = {
        probe: _likelihoods(probe, ways, bundle.feedings, bundle.wrong_rate) for probe in everything
    }
    return Sight(ways, bundle.feedings, MappingProxyType(arrays))


def _likelihoods(
    probe: Probe, ways: tuple[Behaviour, ...], feedings: tuple[Feeding, ...], wrong_rate: float
) -> Floats:
    wrong = np.array(WRONG_GROUND if probe.is_ground_test else WRONG_VOLTS)
    right = np.array([[_right(probe, way, feeding) for way in ways] for feeding in feedings])
    return np.asarray((1.0 - wrong_rate) * right + wrong_rate * wrong)


def _right(probe: Probe, way: Behaviour, feeding: Feeding) -> Floats:
    """Return how likely each word is where nothing goes wrong."""
    if probe.is_ground_test:
        return _ground_test(probe.command.key, way, feeding)
    shown = np.zeros(len(words_of(probe.command.key)))
    for state, share in way.states_under(probe.command).items():
        for seen, part in _seen_states(state, way, feeding, probe.tester).items():
            shown += share * part * _sights()[seen, probe.tester]
    return shown


def _seen_states(
    state: State, way: Behaviour, feeding: Feeding, tester: Tester
) -> Mapping[State, float]:
    """Return what a tester meets: an output may sleep until it is loaded."""
    is_lamp = function_rows()[way.function].kind == "lamp"
    off = State.FLOATING if is_lamp and feeding is not Feeding.SHARED else State.OFF
    if state is State.OFF:
        return {off: 1.0}
    if way.needs_load or (is_lamp and feeding is Feeding.SLEEPING):
        awake = WOKEN if tester is Tester.LAMP else 0.0
        return {state: awake, off: 1.0 - awake}
    return {state: 1.0}


def _ground_test(test: str, way: Behaviour, feeding: Feeding) -> Floats:
    kind = function_rows()[way.function].kind
    for row in _ground_rows():
        if (row.kind, row.test) == (kind, test) and row.feeding in ("any", feeding):
            return np.array([row.low, row.middle, row.high])
    raise LookupError(f"ground_tests.csv lacks {kind}, {test}, {feeding}")


@dataclass(frozen=True, slots=True)
class SightRow:
    """What a tester shows of a state: the share of each word."""

    state: State
    tester: Tester
    nothing: float
    partial: float
    steady: float
    flashing: float
    pulsed: float
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class GroundTestRow:
    """What a ground test shows of a kind of wire: the share of low, middling and high."""

    kind: str
    test: Literal["ohms", "drop"]
    feeding: str
    low: float
    middle: float
    high: float
    source: str
    standing: Standing


@cache
def _sights() -> Mapping[tuple[State, Tester], Floats]:
    rows = read_rows(PACKAGE, "sights", SightRow)
    return MappingProxyType(
        {
            (row.state, row.tester): np.array(
                [row.nothing, row.partial, row.steady, row.flashing, row.pulsed]
            )
            for row in rows
        }
    )


def _ground_rows() -> tuple[GroundTestRow, ...]:
    return read_rows(PACKAGE, "ground_tests", GroundTestRow)


def place_of(seen: Seen, command: str) -> int:
    """Return the place of a word among those that answer a command."""
    return words_of(command).index(seen)
