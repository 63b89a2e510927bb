"""The conductor ends that meet at each stage: vehicle side, lead, socket pin, cord."""

from __future__ import annotations

from dataclasses import replace

from loomwright.hookup.model import End
from loomwright.hookup.schemes import converter_inputs
from loomwright.quantities import WireSize
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function
from loomwright.rig.feeding import feeders
from loomwright.rig.model import Converter, ConverterKind, Feed, GroundMethod, PinWire, Rig, Socket

VEHICLE = "vehicle"
CONVERTER = "converter"
FRAME = "frame"


def feed_end(feed: Feed) -> End:
    """The vehicle's end of a feed."""
    return End(
        of=VEHICLE,
        function=feed.function,
        colour=feed.wire.colour,
        size=feed.wire.size,
        pin=None,
        place=feed.found or "vehicle wiring",
    )


def wire_end(of: str, wire: PinWire, place: str) -> End:
    """An end of a lead or cord conductor."""
    return End(of, wire.function, wire.wire.colour, wire.wire.size, wire.pin, place)


def wired_pins(socket: Socket) -> tuple[PinWire, ...]:
    """Conductors of a lead, with the ground wire where it does not stand among them."""
    if socket.wire_for("ground") is not None:
        return socket.lead
    grounds = connector(socket.connector).pins_for("ground")[:1]
    return (*(PinWire(pin.number, "ground", socket.ground) for pin in grounds), *socket.lead)


def upstream_of(rig: Rig, socket: Socket) -> Socket | None:
    """Return the socket whose wires a socket joins, None where it joins none."""
    if socket.joins_from in (VEHICLE, CONVERTER):
        return None
    return rig.socket(socket.joins_from)


def offered_to(rig: Rig, socket: Socket) -> dict[str, End]:
    """Return the ends a socket's lead can be joined to, by function.

    Wires of the socket it joins come first, with the colour surveyed on the vehicle where the
    survey names one; a converter's outputs carry no colour of their own. Behind a converter that
    changes the voltage nothing is offered but its outputs and the returns.
    """
    offered = {feed.function: feed_end(feed) for feed in rig.vehicle.feeds}
    upstream = upstream_of(rig, socket)
    if upstream is not None:
        offered |= _from_socket(upstream, offered)
    elif socket.joins_from == CONVERTER and rig.converter is not None:
        offered = _from_converter(rig.converter, offered)
    return offered | _returns(rig, socket, upstream)


def input_feed(rig: Rig, name: str) -> Feed | None:
    """Return the vehicle's wire that a converter input of this function listens to."""
    return next((feed for feed in map(rig.vehicle.feed_for, feeders(name)) if feed), None)


def _from_converter(box: Converter, feeds: dict[str, End]) -> dict[str, End]:
    outputs = {name: End(CONVERTER, name, None, None, None, box.name) for name in box.channel_a}
    if box.kind is ConverterKind.STEP_DOWN:
        return outputs
    taken = converter_inputs(box.channel_a, feeds)
    passing_by = {name: end for name, end in feeds.items() if name not in taken}
    return passing_by | outputs


def _from_socket(upstream: Socket, feeds: dict[str, End]) -> dict[str, End]:
    ends: dict[str, End] = {}
    for wire in upstream.lead:
        end = wire_end(upstream.name, wire, f"behind the {upstream.name} socket")
        feed = feeds.get(wire.function)
        surveyed = feed.colour if feed is not None else None
        ends[wire.function] = replace(end, colour=surveyed or end.colour)
    return ends


def _returns(rig: Rig, socket: Socket, upstream: Socket | None) -> dict[str, End]:
    wires = [wire for wire in wired_pins(socket) if function(wire.function).is_return]
    return {wire.function: _return_end(rig, socket, upstream, wire) for wire in wires}


def _return_end(rig: Rig, socket: Socket, upstream: Socket | None, wire: PinWire) -> End:
    name = wire.function
    if socket.ground_method is GroundMethod.OLD_WIRE:
        if upstream is not None:
            old = next((each for each in wired_pins(upstream) if each.function == name), None)
            if old is not None:
                return wire_end(upstream.name, old, f"behind the {upstream.name} socket")
        elif name == "ground":
            ground = rig.vehicle.ground
            return End(VEHICLE, name, ground.colour, ground.size, None, "old ground wire")
    return End(FRAME, name, None, _ring_wire_size(socket, wire), None, "own ring on bare frame")


def _ring_wire_size(socket: Socket, wire: PinWire) -> WireSize:
    return socket.ground.size if wire.function == "ground" else wire.wire.size
