"""The conductor ends that meet at each stage: vehicle side, lead, socket pin, cord."""

from __future__ import annotations

from loomwright.hookup.model import End
from loomwright.hookup.schemes import converter_inputs
from loomwright.reference.functions import function
from loomwright.rig.model import Feed, GroundMethod, PinWire, Rig, Socket


def feed_end(feed: Feed) -> End:
    """The vehicle's end of a feed."""
    return End(
        of="vehicle",
        function=feed.function,
        colour=feed.wire.colour,
        size=feed.wire.size,
        pin=None,
        place=feed.found or "vehicle wiring",
    )


def wire_end(of: str, wire: PinWire, place: str) -> End:
    """An end of a lead or cord conductor."""
    return End(of, wire.function, wire.wire.colour, wire.wire.size, wire.pin, place)


def offered_to(rig: Rig, socket: Socket) -> dict[str, End]:
    """Return the ends a socket's lead can be joined to, by function.

    Wires of the socket it joins come first with the colour surveyed on the vehicle, where the
    survey names one; a converter's outputs carry no colour of their own.
    """
    offered = {feed.function: feed_end(feed) for feed in rig.vehicle.feeds}
    if socket.joins_from == "converter" and rig.converter is not None:
        taken = converter_inputs(rig.converter.kind, frozenset(rig.converter.channel_a))
        for function in taken:
            offered.pop(function, None)
        for function in rig.converter.channel_a:
            offered[function] = End("converter", function, None, None, None, rig.converter.name)
    elif socket.joins_from != "vehicle":
        offered |= _from_socket(rig, rig.socket(socket.joins_from), offered)
    offered |= _grounds(rig, socket)
    return offered


def _from_socket(rig: Rig, source: Socket, feeds: dict[str, End]) -> dict[str, End]:
    ends: dict[str, End] = {}
    for wire in source.lead:
        feed = feeds.get(wire.function)
        place = f"behind the {source.name} socket"
        end = wire_end(source.name, wire, place)
        surveyed = feed.colour if feed is not None else None
        ends[wire.function] = End(
            end.of, end.function, surveyed or end.colour, end.size, end.pin, place
        )
    return ends


def _grounds(rig: Rig, socket: Socket) -> dict[str, End]:
    returns = [wire.function for wire in socket.lead if function(wire.function).is_return] or [
        "ground"
    ]
    if socket.ground_method is GroundMethod.OWN_RING:
        wire, of, place = socket.ground, "frame", "own ring terminal on bare frame"
    else:
        wire, of, place = rig.vehicle.ground, "vehicle", "old ground wire"
    return {name: End(of, name, wire.colour, wire.size, None, place) for name in returns}
