"""The tow vehicle: its supply, its feeds, and the wires, fuses and lights they are made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.colours import Colour
from loomwright.quantities import WireSize
from loomwright.rig.kinds import LampDrive, Live, SignalSystem, SocketFeed


@dataclass(frozen=True, slots=True)
class Wire:
    """One conductor: size, length one way [m], insulation colour (None: not known) and kind."""

    size: WireSize
    length_m: float
    colour: Colour | None = None
    insulation: str = "GPT"


@dataclass(frozen=True, slots=True)
class FuseHolder:
    """A fuse: kind as in the fuse table, rating [A]."""

    kind: str
    rating_a: float


@dataclass(frozen=True, slots=True)
class Bulb:
    """A filament of a bulb in the lamp table: key as moulded, `single`, `major` or `minor`."""

    key: str
    filament: Literal["single", "major", "minor"]


@dataclass(frozen=True, slots=True)
class Led:
    """An LED lamp of one electrical form (key of the LED form table) and its rated current [A]."""

    form: str
    current_a: float
    at_v: float


@dataclass(frozen=True, slots=True)
class Light:
    """One light source of a lamp, fed by one function."""

    function: str
    source: Bulb | Led


@dataclass(frozen=True, slots=True)
class Supply:
    """The vehicle's supply: EMF behind a resistance, engine off and running, with its limits.

    `resting_v` engine off; `running_v` normal charging; `idle_v` low idle with loads;
    `low_v` and `high_v` bound the running values (a managed alternator's low set-point and the
    highest set-point). [V]
    """

    nominal_v: float
    resting_v: float
    running_v: float
    idle_v: float
    low_v: float
    high_v: float
    resistance_ohm: float
    managed: bool


@dataclass(frozen=True, slots=True)
class Feed:
    """A vehicle circuit: fuse, wire from the supply to where the trailer wiring joins, function.

    `lights` are the vehicle's own lamps on the same wire; `duty` is the share of time a pulsed
    feed is on under its command (1: steady); `found` says where on the vehicle it was found;
    a `new` feed is run in this job and belongs in its parts.
    """

    function: str
    wire: Wire
    fuse: FuseHolder | None
    live: Live
    duty: float = 1.0
    lights: tuple[Light, ...] = ()
    found: str = ""
    new: bool = False


@dataclass(frozen=True, slots=True)
class BrakeController:
    """The controller that drives the brake feed: full-output share of supply and its limit."""

    output_share: float
    max_current_a: float
    lever_lights_stop_lamps: bool


@dataclass(frozen=True, slots=True)
class Vehicle:
    """The tow vehicle."""

    name: str
    vin: str
    supply: Supply
    signals: SignalSystem
    socket_feed: SocketFeed
    lamp_drive: LampDrive
    feeds: tuple[Feed, ...]
    ground: Wire
    chassis_resistance_ohm: float
    brake_controller: BrakeController | None = None
    notes: str = ""

    def feed_for(self, function: str) -> Feed | None:
        """Return the feed with this function, if the vehicle has one."""
        return next((feed for feed in self.feeds if feed.function == function), None)
