"""What each function does under each command: from the tables, no reasoning about wires."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType
from typing import Literal

from loomwright.identify.commands import Command, Key
from loomwright.tables import Standing, read_rows

PACKAGE = "loomwright.identify"
LEAVE_ALONE = "leave_alone"
SPARE = "spare"
NOT_FEEDS = (SPARE, LEAVE_ALONE)
"""What a wire may be besides a function of the trailer: nothing, or none of our business."""

Kind = Literal["ground", "lamp", "brake", "supply", "dead", "module"]


class Signalling(StrEnum):
    """How the vehicle signals."""

    COMBINED = "combined"
    SEPARATE = "separate"


class Feeding(StrEnum):
    """How the vehicle feeds its lamp wires."""

    SHARED = "shared"  # the vehicle's own lamps hang on the same wire
    MODULE = "module"  # a module or relay; a circuit that is off is a dead end
    SLEEPING = "sleeping"  # a module that gives nothing until a lamp loads it


class State(StrEnum):
    """What a wire carries."""

    OFF = "off"
    FLOATING = "floating"  # off, and held by nothing: a meter may show stray volts
    STEADY = "steady"
    FLASHING = "flashing"
    PULSED = "pulsed"
    LEVEL = "level"  # a few volts of a signal
    CHATTER = "chatter"  # data


@dataclass(frozen=True, slots=True)
class FunctionRow:
    """A function that can be identified; `commonness` is its weight before anything is read."""

    function: str
    commonness: float
    kind: Kind
    signalling: Literal["any", "combined", "separate"]
    source: str
    standing: Standing

    def fits(self, signalling: Signalling) -> bool:
        """Return whether a vehicle that signals so may have it."""
        return self.signalling in ("any", signalling)


@dataclass(frozen=True, slots=True)
class Behaviour:
    """One way in which one function behaves; `share` is how many vehicles do it so."""

    function: str
    mode: str
    share: float
    state: State
    under: tuple[str, ...]
    flashing: tuple[str, ...]
    perhaps: tuple[str, ...]
    needs_load: bool
    source: str
    standing: Standing

    def states_under(self, command: Command) -> Mapping[State, float]:
        """Return the states it may have under a command, with their shares."""
        if command.key in self.flashing:
            return {State.FLASHING: 1.0}
        if command.key in self.under or self._lives_with(command.ignition):
            return {self.state: 1.0}
        if command.key in self.perhaps:
            return {self.state: 0.5, State.OFF: 0.5}
        return {State.OFF: 1.0}

    def _lives_with(self, ignition: Key) -> bool:
        return (
            "@any" in self.under
            or ("@key" in self.under and ignition is not Key.OFF)
            or ("@engine" in self.under and ignition is Key.ENGINE)
        )


@cache
def function_rows() -> Mapping[str, FunctionRow]:
    """Return every function that can be identified, by its id."""
    rows = read_rows(PACKAGE, "identified_functions", FunctionRow)
    return MappingProxyType({row.function: row for row in rows})


@cache
def behaviours() -> Mapping[str, tuple[Behaviour, ...]]:
    """Return the ways in which each function behaves."""
    rows = read_rows(PACKAGE, "behaviours", Behaviour)
    return MappingProxyType(
        {key: tuple(row for row in rows if row.function == key) for key in function_rows()}
    )
