"""What the run shows, as plain values: circuits, conductors between stations, and loads."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from loomwright.drawing.lamps import glow_colour
from loomwright.electrics.carriers import carrier, inputs_of
from loomwright.electrics.mating import mated_pins, return_of
from loomwright.electrics.sockets import CONVERTER, VEHICLE, is_return, pins_of
from loomwright.rig.model import (
    Appliance,
    Brake,
    Feed,
    HouseBattery,
    Lamp,
    PinWire,
    Returns,
    Rig,
    Socket,
    Wire,
)

LoadForm = Literal["lamp", "brake", "battery", "appliance"]

SIGNAL_ROWS = {
    "left_turn": "left",
    "left_stop_turn": "left",
    "right_turn": "right",
    "right_stop_turn": "right",
}
ROW_ORDER = (
    "tail",
    "tail_left",
    "tail_right",
    "left",
    "right",
    "stop",
    "converter",
    "clearance",
    "fog",
    "reverse",
    "brake",
    "battery",
    "charge",
    "ignition",
)
CONVERTER_ROW = "converter"
RED_FUNCTIONS = ("stop", "fog", "left_stop_turn", "right_stop_turn")


@dataclass(frozen=True, slots=True)
class LoadMark:
    """A load at the end of its branch; `carried_by` is the function of the run that feeds it."""

    name: str
    form: LoadForm
    function: str
    carried_by: str
    returned_by: str
    back_m: float
    branch: Wire
    glow: str = "white"


@dataclass(frozen=True, slots=True)
class Link:
    """A joint or contact from one row to another: straight across where the rows are the same.

    `from_feed` is true where a lead passes the sockets before it by and joins a feed itself.
    """

    start: str
    end: str
    function: str
    pin: str = ""
    from_feed: bool = True


@dataclass(frozen=True, slots=True)
class RunPlan:
    """The run of a rig.

    `rows` are in order from the top; `feeds` by row; `chain` holds the sockets from the vehicle
    to the one the trailer plugs into. `joins` are the links in front of each socket's lead,
    `outputs` the rows of the converter's outputs with their functions, `mates` the links from
    socket pins to plug pins.
    """

    rig: Rig
    rows: tuple[str, ...]
    feeds: dict[str, Feed]
    chain: tuple[Socket, ...]
    leads: tuple[tuple[PinWire, ...], ...]
    joins: tuple[tuple[Link, ...], ...]
    inputs: tuple[str, ...]
    outputs: tuple[tuple[str, str], ...]
    mates: tuple[Link, ...]
    cord: tuple[PinWire, ...]
    returns: tuple[str, ...]
    loads: tuple[LoadMark, ...]

    @property
    def has_converter(self) -> bool:
        """Whether a converter stands before the first socket of the chain."""
        return bool(self.outputs)

    @property
    def is_by_frame(self) -> bool:
        """Whether the trailer's frame carries the return."""
        return self.rig.trailer.returns is Returns.FRAME

    @property
    def farthest_m(self) -> float:
        """Distance of the farthest load behind the junction. [m]"""
        return max((load.back_m for load in self.loads), default=0.0)

    def loads_of(self, row: str) -> tuple[LoadMark, ...]:
        """Loads fed by a row, farthest first."""
        mine = [load for load in self.loads if row_of(load.carried_by) == row]
        return tuple(sorted(mine, key=lambda load: -load.back_m))


def row_of(function: str) -> str:
    """Return the row a function runs in: one for a side's signals, shared or not."""
    return SIGNAL_ROWS.get(function, function)


def plan_run(rig: Rig) -> RunPlan:
    """Return what the run of a rig shows."""
    chain = _chain(rig)
    fed = tuple(feed.function for feed in rig.vehicle.feeds)
    box = rig.converter if chain[0].joins_from == CONVERTER else None
    outputs = () if box is None else tuple(out for out in box.channel_a if inputs_of(out, fed))
    inputs = tuple(dict.fromkeys(f for out in outputs for f in inputs_of(out, fed)))
    leads = tuple(_supplies(pins_of(socket)) for socket in chain)
    cord = _supplies(rig.trailer.cord)
    loads = _loads(rig)
    feeds = {row_of(feed.function): feed for feed in rig.vehicle.feeds}
    if box is not None and box.feed is not None:
        feeds[CONVERTER_ROW] = box.feed
    used = [row_of(wire.function) for wires in (*leads, cord) for wire in wires]
    return RunPlan(
        rig=rig,
        rows=_ordered([*feeds, *used], {row_of(f) for f in (*inputs, *outputs)}),
        feeds=feeds,
        chain=chain,
        leads=leads,
        joins=_joins(leads, fed, outputs),
        inputs=inputs,
        outputs=tuple((row_of(out), out) for out in outputs),
        mates=_mates(rig),
        cord=cord,
        returns=_returns(rig),
        loads=loads,
    )


def _chain(rig: Rig) -> tuple[Socket, ...]:
    chain = [rig.towing_socket]
    while chain[0].joins_from not in (VEHICLE, CONVERTER):
        chain.insert(0, rig.socket(chain[0].joins_from))
    return tuple(chain)


def _supplies(wires: Iterable[PinWire]) -> tuple[PinWire, ...]:
    return tuple(wire for wire in wires if not is_return(wire.function))


def _ordered(rows: Iterable[str], at_converter: set[str]) -> tuple[str, ...]:
    """Rows in the order of the trade; what goes through the converter stays together."""
    known = {row: place for place, row in enumerate(ROW_ORDER)}
    first = at_converter | ({CONVERTER_ROW} if at_converter else set())
    return tuple(
        sorted(
            dict.fromkeys(rows),
            key=lambda row: (
                row not in first,
                row == CONVERTER_ROW,
                known.get(row, len(known)),
                row,
            ),
        )
    )


def _joins(
    leads: tuple[tuple[PinWire, ...], ...], fed: tuple[str, ...], outputs: tuple[str, ...]
) -> tuple[tuple[Link, ...], ...]:
    """Links in front of each lead; a conductor that nothing feeds has none."""
    before: tuple[str, ...] = fed
    found = []
    for number, lead in enumerate(leads):
        links = []
        for wire in lead:
            made = number == 0 and wire.function in outputs
            source = wire.function if made else carrier(wire.function, before)
            from_feed = number == 0 or source is None
            source = carrier(wire.function, fed) if source is None else source
            if source is not None:
                ends = row_of(source), row_of(wire.function)
                links.append(Link(*ends, wire.function, from_feed=from_feed))
        found.append(tuple(links))
        before = tuple(wire.function for wire in lead)
    return tuple(found)


def _mates(rig: Rig) -> tuple[Link, ...]:
    at_socket = {wire.pin: wire.function for wire in pins_of(rig.towing_socket)}
    at_plug = {wire.pin: wire.function for wire in rig.trailer.cord}
    return tuple(
        Link(row_of(at_socket[near]), row_of(at_plug[far]), at_plug[far], far)
        for far, near in mated_pins(rig).items()
        if far in at_plug and near in at_socket
    )


def _returns(rig: Rig) -> tuple[str, ...]:
    homes = (wire.function for wire in rig.trailer.cord if is_return(wire.function))
    return tuple(sorted(dict.fromkeys(homes), key=lambda name: (name != "ground", name)))


def _loads(rig: Rig) -> tuple[LoadMark, ...]:
    trailer = rig.trailer
    marks = [
        _lamp_mark(rig, lamp, light.function) for lamp in trailer.lamps for light in lamp.lights
    ]
    marks += [_mark(rig, each, "brake", "brake") for each in trailer.brakes]
    if trailer.battery is not None:
        marks.append(_mark(rig, trailer.battery, "battery", trailer.battery.function))
    marks += [_mark(rig, each, "appliance", each.function) for each in trailer.appliances]
    return tuple(marks)


def _lamp_mark(rig: Rig, lamp: Lamp, function: str) -> LoadMark:
    among = [wire.function for wire in rig.trailer.cord]
    carried = carrier(function, among, lamp.side) or function
    home = return_of(rig, carried)
    usual = "red" if function in RED_FUNCTIONS else lamp.colour
    glow = glow_colour(function, usual)
    return LoadMark(lamp.name, "lamp", function, carried, home, lamp.back_m, lamp.branch, glow)


def _mark(
    rig: Rig, load: Brake | HouseBattery | Appliance, form: LoadForm, function: str
) -> LoadMark:
    carried = carrier(function, [wire.function for wire in rig.trailer.cord]) or function
    home = return_of(rig, carried)
    return LoadMark(load.name, form, function, carried, home, load.back_m, load.branch)
