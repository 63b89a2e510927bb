"""Sockets as part of the network: joint, lead, screws, pins, and the ground wire home.

A socket that joins another one's wires does so just behind that socket, so whatever is wrong
between the two is shared. A socket whose wires were cut has no pins left; one that was branched
or teed lives on, and its pins are dead ends.
"""

from __future__ import annotations

from loomwright.electrics.boxes import output_node
from loomwright.electrics.carriers import carrier
from loomwright.electrics.harness import CHASSIS, Harness, Spot, slug
from loomwright.electrics.places import PinPlace
from loomwright.electrics.vehicle_side import add_vehicle_ground, feed_node
from loomwright.reference.connectors import Connector, connector
from loomwright.reference.functions import function as function_row
from loomwright.rig.model import GroundMethod, Join, PinWire, Rig, Socket, Wire

VEHICLE = "vehicle"
CONVERTER = "converter"


def pin_node(socket: Socket, pin: str, function: str) -> str:
    """Node of a pin, where the other half of the connector touches it."""
    return slug("socket", socket.name, pin, function)


def lead_end(socket: Socket, function: str) -> str:
    """Node where a conductor of the lead meets the socket's screw."""
    return slug("lead", socket.name, function, "end")


def is_return(function: str) -> bool:
    """Whether a conductor of this function takes current home."""
    return function_row(function).is_return


def pins_of(socket: Socket) -> tuple[PinWire, ...]:
    """Wired pins of a socket, its ground first, which may stand in the lead or not."""
    grounds = [wire for wire in socket.lead if wire.function == "ground"]
    if not grounds:
        grounds = [
            PinWire(pin.number, "ground", socket.ground)
            for pin in connector(socket.connector).pins_for("ground")[:1]
        ]
    return (*grounds, *(wire for wire in socket.lead if wire.function != "ground"))


def add_sockets(bench: Harness, rig: Rig) -> None:
    """Put every socket on the bench, and report the pins of those that still have some."""
    for socket in rig.sockets:
        for wire in pins_of(socket):
            if is_return(wire.function):
                _add_return(bench, rig, socket, wire)
            else:
                _add_supply(bench, rig, socket, wire)
        if not is_cut_off(rig, socket):
            _add_pins(bench, rig, socket)


def is_cut_off(rig: Rig, socket: Socket) -> bool:
    """Whether the wires of this socket were cut to feed another one."""
    return socket.name != rig.towing and any(
        other.join is Join.CUT and other.joins_from == socket.name for other in rig.sockets
    )


def fed_by(rig: Rig, socket: Socket, function: str) -> str | None:
    """Return the vehicle feed whose pulses reach a conductor of a lead, if any does."""
    upstream = _upstream(rig, socket)
    if upstream is not None:
        taken = carrier(function, [wire.function for wire in upstream.lead])
        if taken is not None and not is_return(taken):
            return fed_by(rig, upstream, taken)
    box = rig.converter
    if socket.joins_from == CONVERTER and box is not None and function in box.channel_a:
        return None if box.powered else carrier(function, _fed(rig))
    return carrier(function, _fed(rig))


def _fed(rig: Rig) -> list[str]:
    return [feed.function for feed in rig.vehicle.feeds]


def _upstream(rig: Rig, socket: Socket) -> Socket | None:
    if socket.joins_from in (VEHICLE, CONVERTER):
        return None
    return rig.socket(socket.joins_from)


def _joins_at(bench: Harness, rig: Rig, socket: Socket, function: str) -> str | None:
    """Node that a conductor of the lead is joined to, or None if nothing feeds it."""
    upstream = _upstream(rig, socket)
    if upstream is not None:
        taken = carrier(function, [w.function for w in upstream.lead if not is_return(w.function)])
        if taken is not None:
            return lead_end(upstream, taken)
    if socket.joins_from == CONVERTER and function in bench.channels:
        return output_node(function)
    feed = carrier(function, _fed(rig))
    return None if feed is None else feed_node(feed)


def _add_supply(bench: Harness, rig: Rig, socket: Socket, wire: PinWire) -> None:
    """From the joint to the socket's screw."""
    said = wire.function.replace("_", " ")
    spot = Spot("supply", "joint", wire.function, f"socket.{socket.name}.lead.{wire.function}")
    start = slug("lead", socket.name, wire.function)
    source = _joins_at(bench, rig, socket, wire.function)
    if source is not None:
        name = slug("joint", socket.name, wire.function)
        place = f"joint of the {socket.name} lead, {said}"
        bench.joint(name, (source, start), socket.joint, place, spot)
    bench.wire(
        slug("lead_wire", socket.name, wire.function),
        (start, lead_end(socket, wire.function)),
        wire.wire,
        f"lead of the {socket.name}, {said}",
        spot.at("lead", bundle=slug("lead", socket.name)),
    )


def _add_return(bench: Harness, rig: Rig, socket: Socket, wire: PinWire) -> None:
    """From the socket's screw to the chassis, or into the old ground wire."""
    main = wire.function == "ground"
    ref = "ground" if main else f"lead.{wire.function}"
    spot = Spot("return", "lead", wire.function, f"socket.{socket.name}.{ref}")
    end = slug("lead", socket.name, wire.function, "home")
    place = f"{socket.name} {wire.function.replace('_', ' ')} wire"
    conductor: Wire = socket.ground if main else wire.wire
    name = slug("lead_wire", socket.name, wire.function)
    bench.wire(name, (lead_end(socket, wire.function), end), conductor, place, spot)
    old = _old_ground(bench, rig, socket, wire.function)
    if old is None:
        name = slug("ring", socket.name, wire.function)
        home = spot.at("chassis")
        bench.joint(name, (end, CHASSIS), "ring-terminal", f"ring of the {place}", home)
    else:
        name = slug("joint", socket.name, wire.function)
        bench.joint(name, (end, old), socket.joint, f"joint of the {place}", spot.at("joint"))


def _old_ground(bench: Harness, rig: Rig, socket: Socket, function: str) -> str | None:
    """Node of the old ground wire that a return joins, or None for a ring of its own."""
    if socket.ground_method is GroundMethod.OWN_RING:
        return None
    upstream = _upstream(rig, socket)
    if upstream is None:
        return add_vehicle_ground(bench, rig) if function == "ground" else None
    has_it = any(wire.function == function for wire in pins_of(upstream))
    return lead_end(upstream, function) if has_it else None


def _add_pins(bench: Harness, rig: Rig, socket: Socket) -> None:
    kind = connector(socket.connector)
    wires = pins_of(socket)
    nodes = {wire.pin: pin_node(socket, wire.pin, wire.function) for wire in wires}
    for wire in wires:
        home = is_return(wire.function)
        ref = f"socket.{socket.name}.pin.{wire.pin}"
        spot = Spot("return" if home else "supply", "socket", wire.function, ref)
        name = slug("screw", socket.name, wire.pin, wire.function)
        start, end = lead_end(socket, wire.function), nodes[wire.pin]
        ends = (end, start) if home else (start, end)
        bench.joint(name, ends, "screw-terminal", f"screw of pin {wire.pin}, {socket.name}", spot)
        fed = None if home else fed_by(rig, socket, wire.function)
        node = return_node(kind, wire, nodes, wires)
        bench.pins.append(
            PinPlace(socket.name, wire.pin, wire.function, nodes[wire.pin], node, fed)
        )


def return_node(
    kind: Connector, wire: PinWire, nodes: dict[str, str], wires: tuple[PinWire, ...]
) -> str | None:
    """Node of the return a meter's black lead goes to for a pin: its own, else the main one."""
    pin = kind.return_for(wire.pin)
    if pin is not None and pin.number in nodes:
        return nodes[pin.number]
    main = next((each.pin for each in wires if each.function == "ground"), None)
    return None if main is None or main == wire.pin else nodes[main]
