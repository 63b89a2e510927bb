"""What the solved rig answers: readings at loads, conductors, fuses, joints and pins."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Literal

from loomwright.quantities import WireSize

PartKind = Literal[
    "supply", "fuse", "switch", "wire", "joint", "contact", "frame", "chassis", "load", "converter"
]
Path = Literal["supply", "return"]
LoadKind = Literal["lamp", "vehicle lamp", "brake", "battery", "appliance", "trigger"]


@dataclass(frozen=True, slots=True)
class Part:
    """What an element of the network is on the rig.

    `element` is the element's name in the network and the netlist; `station` the place along
    the run it belongs to (see `STATIONS`); `place` the words for a person; `function` the
    circuit. `ref` points back to the rig ("vehicle.feed.tail", "socket.bed.lead.brake", ...).
    """

    element: str
    kind: PartKind
    path: Path
    station: str
    place: str
    function: str
    ref: str
    size: WireSize | None = None
    length_m: float | None = None
    joint_kind: str | None = None
    insulation: str | None = None


STATIONS = (
    "battery",
    "fuse",
    "feed",
    "converter",
    "joint",
    "lead",
    "socket",
    "plug",
    "cord",
    "junction",
    "run",
    "branch",
    "load",
    "chassis",
)
"""The stations of the run, from the battery to the loads; the return passes them backwards."""


@dataclass(frozen=True, slots=True)
class Band:
    """Lowest, nominal and highest value over the conditions solved."""

    low: float
    nominal: float
    high: float


@dataclass(frozen=True, slots=True)
class Rung:
    """One part's share of the drop between battery and load. [V, A, ohm]"""

    part: Part
    drop_v: float
    current_a: float
    resistance_ohm: float


@dataclass(frozen=True, slots=True)
class LoadReading:
    """What one load gets under one command.

    `voltage_v` and `current_a` are what a meter shows as a mean; `light_share` is the light
    output as a share of that at rated voltage (lamps only); `word` is off, glow, dim, normal,
    bright (lamps), or on/off; `commanded` says whether this command means it to be on;
    `supply_drop_v` + `voltage_v` + `return_drop_v` is the supply's EMF; `home` is the circuit by
    which the current sets out for home, "" if no way leads there.
    """

    name: str
    kind: LoadKind
    function: str
    element: str
    commanded: bool
    voltage_v: float
    current_a: float
    light_share: float | None
    word: str
    supply_drop_v: float
    return_drop_v: float
    home: str
    floating: bool


@dataclass(frozen=True, slots=True)
class LoadAnswer(LoadReading):
    """What one load gets, and which part takes which volts on the way to it and home."""

    ladder: tuple[Rung, ...]

    @classmethod
    def of(cls, reading: LoadReading, ladder: tuple[Rung, ...]) -> LoadAnswer:
        """Return a reading with its ladder."""
        read = {each.name: getattr(reading, each.name) for each in fields(reading)}
        return cls(**read, ladder=ladder)


@dataclass(frozen=True, slots=True)
class ConductorAnswer:
    """One conductor under one command; `share` is current over ampacity in its bundle.

    Current and drop count the way current flows when all is well, out or home; one that comes
    backwards is negative. On a pulsed feed they are those while a pulse is on.
    """

    part: Part
    current_a: float
    drop_v: float
    ampacity_a: float
    share: float


@dataclass(frozen=True, slots=True)
class FuseAnswer:
    """One fuse under one command; `share` is current over rating, while a pulse is on."""

    element: str
    function: str
    place: str
    rating_a: float
    kind: str
    current_a: float
    share: float
    opened: bool


@dataclass(frozen=True, slots=True)
class JointAnswer:
    """One joint or contact under one command: drop and heat. [V, W]

    Current and drop as for `ConductorAnswer`.
    """

    part: Part
    resistance_ohm: float
    current_a: float
    drop_v: float
    heat_w: float


@dataclass(frozen=True, slots=True)
class PinAnswer:
    """A pin of a socket with the trailer plugged in, read to battery negative and to its return.

    `to_return_v` is what a meter shows between the pin and the return pin of the same socket.
    """

    socket: str
    pin: str
    function: str
    voltage_v: float
    to_return_v: float
    open_circuit_v: float
    floating: bool


@dataclass(frozen=True, slots=True)
class Gist:
    """The readings of one command under one set of conditions that tell how a rig does."""

    command: str
    conditions: str
    loads: tuple[LoadReading, ...]
    conductors: tuple[ConductorAnswer, ...]
    fuses: tuple[FuseAnswer, ...]
    supply_current_a: float


@dataclass(frozen=True, slots=True)
class CommandAnswer(Gist):
    """All readings of one command under one set of conditions.

    `opened` names the fuses that opened, in their order; `cycling` the loads that drop out and
    come back over and over, read while they are off.
    """

    loads: tuple[LoadAnswer, ...]
    joints: tuple[JointAnswer, ...]
    pins: tuple[PinAnswer, ...]
    nodes_v: Mapping[str, float]
    floating: frozenset[str]
    opened: tuple[str, ...]
    supply_v: float
    kirchhoff_residual_a: float
    power_residual_w: float
    cycling: tuple[str, ...] = ()

    def load(self, name: str) -> LoadAnswer:
        """Return the reading of one load by name.

        Raises
        ------
        KeyError
            If there is no such load.
        """
        for load in self.loads:
            if load.name == name:
                return load
        raise KeyError(name)


@dataclass(frozen=True, slots=True)
class Answers:
    """The whole rig solved: every command under every set of conditions.

    Keys of `by_case` are (command key, conditions key); see `commands` and `conditions`.
    """

    by_case: Mapping[tuple[str, str], CommandAnswer]
    commands: tuple[str, ...]
    conditions: tuple[str, ...]

    def at(self, command: str, conditions: str = "nominal") -> CommandAnswer:
        """Return the readings of one command under one set of conditions."""
        return self.by_case[command, conditions]

    def load_band(self, command: str, load: str) -> Band:
        """Return the voltage band of one load over all conditions. [V]"""
        values = [self.at(command, case).load(load).voltage_v for case in self.conditions]
        return Band(min(values), self.at(command).load(load).voltage_v, max(values))
