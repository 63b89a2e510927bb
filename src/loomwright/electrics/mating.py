"""Plug into socket, cord, junction: how the vehicle's wires reach the trailer's."""

from __future__ import annotations

from loomwright.circuit import Resistor
from loomwright.electrics.harness import Ends, Harness, Spot, slug
from loomwright.electrics.resistances import LEAST_OHM
from loomwright.electrics.sockets import fed_by, is_return, pin_node, pins_of
from loomwright.reference.adapters import adapter
from loomwright.reference.connectors import connector
from loomwright.rig.model import PinWire, Rig


def junction_node(function: str) -> str:
    """Node of a function at the trailer's junction, behind the joint."""
    return slug("junction", function)


def cord_functions(rig: Rig) -> tuple[str, ...]:
    """Functions with a conductor in the cord, returns left out."""
    return tuple(
        dict.fromkeys(wire.function for wire in rig.trailer.cord if not is_return(wire.function))
    )


def return_of(rig: Rig, function: str) -> str:
    """Return function that takes a function's current home through the plug."""
    kind = connector(rig.trailer.plug)
    wire = rig.trailer.cord_wire_for(function)
    pin = None if wire is None else kind.return_for(wire.pin)
    if pin is not None and rig.trailer.cord_wire_for(pin.function) is not None:
        return pin.function
    return "ground"


def feeds_behind(rig: Rig) -> dict[str, str | None]:
    """For each function of the cord, the vehicle feed whose pulses reach it."""
    socket = rig.towing_socket
    by_pin = {wire.pin: wire.function for wire in pins_of(socket)}
    found: dict[str, str | None] = {}
    for plug_pin, socket_pin in mated_pins(rig).items():
        wire = next(each for each in rig.trailer.cord if each.pin == plug_pin)
        function = by_pin.get(socket_pin)
        live = function is not None and not is_return(function)
        found[wire.function] = fed_by(rig, socket, function) if live and function else None
    return found


def mated_pins(rig: Rig) -> dict[str, str]:
    """Return for each pin of the plug the pin of the socket it meets.

    Bodies of one family meet pin by pin, whatever the pins are wired for. Others need an
    adapter: the recorded one for the two, else one that joins equal functions.
    """
    socket, cord = rig.towing_socket, rig.trailer.cord
    fits = connector(socket.connector).row.family == connector(rig.trailer.plug).row.family
    if fits and rig.adapter is None:
        known = {wire.pin for wire in pins_of(socket)}
        return {wire.pin: wire.pin for wire in cord if wire.pin in known}
    recorded = adapter(socket.connector, rig.trailer.plug)
    if recorded is not None:
        there = {wire.pin for wire in pins_of(socket)}
        pairs = {plug: at for at, plug in recorded.pin_pairs}
        return {w.pin: pairs[w.pin] for w in cord if pairs.get(w.pin) in there}
    by_function = {wire.function: wire.pin for wire in pins_of(socket)}
    return {w.pin: by_function[w.function] for w in cord if w.function in by_function}


def add_plug_and_cord(bench: Harness, rig: Rig) -> None:
    """Put the mated contacts, the cord and the junction on the bench."""
    socket = rig.towing_socket
    wired = {wire.pin: wire for wire in pins_of(socket)}
    mates = mated_pins(rig)
    for wire in rig.trailer.cord:
        if wire.pin in mates:
            at = wired[mates[wire.pin]]
            _add_contact(bench, rig, wire, pin_node(socket, at.pin, at.function))
        _add_cord_wire(bench, rig, wire)
    _add_ties(bench, rig)


def _plug_node(wire: PinWire) -> str:
    return slug("plug", wire.pin, wire.function)


def _spot(wire: PinWire, station: str, ref: str) -> Spot:
    return Spot("return" if is_return(wire.function) else "supply", station, wire.function, ref)


def _add_contact(bench: Harness, rig: Rig, wire: PinWire, socket_pin: str) -> None:
    """Join the two halves; an adapter between them means two contacts in series."""
    spot = _spot(wire, "plug", f"trailer.plug.{wire.pin}")
    needs_adapter = rig.adapter is not None or _differs(rig)
    near = slug("adapter", wire.pin, wire.function) if needs_adapter else _plug_node(wire)
    name = slug("contact", wire.pin, wire.function)
    place = f"contact of plug pin {wire.pin}, {wire.function.replace('_', ' ')}"
    bench.joint(name, _along(spot, socket_pin, near), "socket-contact", place, spot)
    if needs_adapter:
        far = slug("adapter_contact", wire.pin, wire.function)
        words = f"adapter to plug pin {wire.pin}"
        bench.joint(far, _along(spot, near, _plug_node(wire)), "socket-contact", words, spot)
    bench.plug_contacts.append(name)


def _differs(rig: Rig) -> bool:
    families = {
        connector(key).row.family for key in (rig.towing_socket.connector, rig.trailer.plug)
    }
    return len(families) > 1


def _add_cord_wire(bench: Harness, rig: Rig, wire: PinWire) -> None:
    """From the plug's screw along the cord into the junction."""
    function, said = wire.function, wire.function.replace("_", " ")
    spot = _spot(wire, "cord", f"trailer.cord.{function}")
    key = slug(wire.pin, function)
    start, end = slug("cord", key), slug("cord", key, "end")
    name, words = slug("plug_screw", key), f"screw of plug pin {wire.pin}"
    at = spot.at("plug", f"trailer.plug.{wire.pin}")
    bench.joint(name, _along(spot, _plug_node(wire), start), "screw-terminal", words, at)
    name, at = slug("cord_wire", key), spot.at("cord", bundle="cord")
    bench.wire(name, _along(spot, start, end), wire.wire, f"cord, {said}", at)
    place = f"junction at the trailer's nose, {said}"
    at = spot.at("junction", "trailer.junction")
    ends = _along(spot, end, junction_node(function))
    bench.joint(slug("junction_joint", key), ends, rig.trailer.junction, place, at)


def _along(spot: Spot, vehicle_side: str, trailer_side: str) -> Ends:
    """Order the nodes of an element the way its current flows: out, or home."""
    if spot.path == "supply":
        return vehicle_side, trailer_side
    return trailer_side, vehicle_side


def _add_ties(bench: Harness, rig: Rig) -> None:
    """Tie returns together at the junction where somebody has joined them."""
    there = {wire.function for wire in rig.trailer.cord}
    for group in rig.trailer.joined_returns:
        joined = [each for each in group if each in there]
        for other in joined[1:]:
            spot = Spot("return", "junction", other, "trailer.joined_returns")
            ends = junction_node(joined[0]), junction_node(other)
            name = slug("tie", joined[0], other)
            place = f"returns joined at the junction: {joined[0]} and {other}"
            bench.add(Resistor(name, *ends, LEAST_OHM), "joint", place.replace("_", " "), spot)
