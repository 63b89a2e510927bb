"""A rig, complete: a vehicle, its sockets, what stands between, and a trailer.

Every value is present, in SI units, and has been checked. What the user left out was filled
from the stated defaults and stands in `Rig.assumptions`. A change makes a new value
(`dataclasses.replace`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from loomwright.quantities import Units, WireSize
from loomwright.rig.kinds import (
    Braking,
    ConverterKind,
    GroundMethod,
    Join,
    LampDrive,
    Live,
    Returns,
    Side,
    SignalSystem,
    SocketFeed,
)
from loomwright.rig.vehicle import (
    BrakeController,
    Bulb,
    Feed,
    FuseHolder,
    Led,
    Light,
    Supply,
    Vehicle,
    Wire,
)

__all__ = [
    "Appliance",
    "Assumption",
    "Brake",
    "BrakeController",
    "Braking",
    "Breakaway",
    "Bulb",
    "Converter",
    "ConverterKind",
    "Feed",
    "FuseHolder",
    "GroundMethod",
    "HouseBattery",
    "Join",
    "Lamp",
    "LampDrive",
    "Led",
    "Leg",
    "Light",
    "Live",
    "PinWire",
    "Returns",
    "Rig",
    "Side",
    "SignalSystem",
    "Socket",
    "SocketFeed",
    "Supply",
    "Trailer",
    "Vehicle",
    "Wire",
]


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value the user left out, what was taken instead, and on whose word."""

    field: str
    value: str
    says: str
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class PinWire:
    """A conductor that ends at a pin of a socket or plug, and what it is for there."""

    pin: str
    function: str
    wire: Wire


@dataclass(frozen=True, slots=True)
class Leg:
    """One stretch of the route of a lead, one after the other from the joint to the socket."""

    name: str
    length_m: float
    passes: str = ""
    hole_mm: float | None = None
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Socket:
    """A socket on the vehicle.

    `joins_from` names the socket whose wires it joins, or "vehicle" (the feeds themselves) or
    "converter". `ground` is the wire from the ground pin to where the method says.
    """

    name: str
    connector: str
    join: Join
    joins_from: str
    joint: str
    lead: tuple[PinWire, ...]
    ground_method: GroundMethod
    ground: Wire
    location: str = ""
    legs: tuple[Leg, ...] = ()
    slack_m: float = 0.0

    @property
    def route_m(self) -> float:
        """Length of all legs, without slack. [m]"""
        return sum(leg.length_m for leg in self.legs)

    def wire_for(self, function: str) -> PinWire | None:
        """Return the lead's conductor for a function, if it has one."""
        return next((wire for wire in self.lead if wire.function == function), None)


@dataclass(frozen=True, slots=True)
class Converter:
    """A box between vehicle and socket: changes the signal system, isolates, or steps down.

    `channel_a` is the rating of each output function; `powered` boxes draw from their own `feed`
    and load the vehicle wires with `trigger_a` only. `joint` is how it joins the vehicle's wires.
    A step-down converter gives `output_v` behind its own regulation, up to `max_current_a`.
    """

    kind: ConverterKind
    powered: bool
    channel_a: Mapping[str, float] = field(hash=False)
    on_resistance_ohm: float
    trigger_a: float
    joint: str
    ground: Wire
    feed: Feed | None = None
    output_v: float | None = None
    max_current_a: float | None = None
    efficiency: float = 0.9
    name: str = "converter"


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp housing: one ground, one or more light sources, and the lamps it counts as.

    `counts_as` holds lamp kinds of the lamp rules (`tail_lamp`, `stop_lamp`, ...). `back_m` is
    the distance behind the junction along the run; `branch` leaves the run there. `ground` is
    the lamp's own ground wire to the ground run, or to the frame.
    """

    name: str
    side: Side
    back_m: float
    lights: tuple[Light, ...]
    counts_as: tuple[str, ...]
    branch: Wire
    ground: Wire
    joint: str
    colour: str = "red"
    height_m: float | None = None


@dataclass(frozen=True, slots=True)
class Brake:
    """One brake magnet: drum size [in], axle number from the front, and its branch."""

    name: str
    axle: int
    side: Side
    back_m: float
    size_in: float
    branch: Wire
    ground: Wire
    joint: str


@dataclass(frozen=True, slots=True)
class HouseBattery:
    """A trailer battery charged from the vehicle, straight or through a DC-DC charger."""

    name: str
    function: str
    chemistry: str
    capacity_ah: float
    charge_share: float
    back_m: float
    branch: Wire
    ground: Wire
    joint: str
    charger_power_w: float | None = None
    charger_max_input_a: float | None = None


@dataclass(frozen=True, slots=True)
class Appliance:
    """Any other load: a heater (resistance), electronics (constant power) or a motor (current)."""

    name: str
    function: str
    law: Literal["resistance", "constant-power"]
    power_w: float
    at_v: float
    back_m: float
    branch: Wire
    ground: Wire
    joint: str


@dataclass(frozen=True, slots=True)
class Breakaway:
    """The battery that applies the brakes when the trailer comes off, and what charges it."""

    capacity_ah: float
    charged_by: str
    back_m: float


@dataclass(frozen=True, slots=True)
class Trailer:
    """The trailer, from its plug to its farthest lamp.

    `cord` runs from plug to junction; `run` holds the size of each function's conductor behind
    the junction (the ground run included, key "ground"); `frame_resistance_ohm_per_m` is used
    when the frame carries the return. `hitch_path_ohm` is the ball and chains as a second,
    unreliable way home (None: not counted).
    """

    name: str
    kind: str
    width_m: float
    length_m: float
    gross_mass_kg: float
    axles: int
    braking: Braking
    nominal_v: float
    signals: SignalSystem
    plug: str
    plug_convention: str
    cord: tuple[PinWire, ...]
    junction: str
    returns: Returns
    run: Mapping[str, WireSize] = field(hash=False)
    frame_resistance_ohm_per_m: float
    lamps: tuple[Lamp, ...]
    brakes: tuple[Brake, ...] = ()
    battery: HouseBattery | None = None
    appliances: tuple[Appliance, ...] = ()
    breakaway: Breakaway | None = None
    hitch_path_ohm: float | None = None
    joined_returns: tuple[tuple[str, ...], ...] = ()
    built: str = ""
    condition: Literal["new", "aged"] = "new"

    def cord_wire_for(self, function: str) -> PinWire | None:
        """Return the cord's conductor for a function, if the plug has one."""
        return next((wire for wire in self.cord if wire.function == function), None)


@dataclass(frozen=True, slots=True)
class Rig:
    """One job: vehicle, sockets in order from the factory's, converter, trailer.

    The trailer plugs into `towing` (name of a socket).
    """

    name: str
    vehicle: Vehicle
    sockets: tuple[Socket, ...]
    towing: str
    trailer: Trailer
    converter: Converter | None = None
    adapter: str | None = None
    jurisdiction: str = "US"
    commercial: bool = False
    units: Units = Units.US
    kind: str = ""
    customer: str = ""
    shop: str = ""
    technician: str = ""
    date: str = ""
    notes: str = ""
    assumptions: tuple[Assumption, ...] = field(default=(), compare=False)

    @property
    def towing_socket(self) -> Socket:
        """The socket the trailer plugs into."""
        return self.socket(self.towing)

    def socket(self, name: str) -> Socket:
        """Return the socket of this name.

        Raises
        ------
        KeyError
            If the rig has none of that name.
        """
        for socket in self.sockets:
            if socket.name == name:
                return socket
        raise KeyError(name)
