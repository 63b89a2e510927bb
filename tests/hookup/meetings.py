"""Rigs made from the connector tables: any socket, any plug, wired as the tables say."""

from dataclasses import replace
from typing import Any

from tests.rigs import awg, feed, lamp, simple_rig, simple_socket, simple_trailer, simple_vehicle

from loomwright.reference.connectors import Connector, connector
from loomwright.reference.functions import function
from loomwright.rig.model import Feed, PinWire, Rig, SignalSystem, Wire

NOT_FED = ("return", "spare", "data", "control")


def conductors(kind: Connector, wire: Wire) -> tuple[PinWire, ...]:
    """One conductor for each pin, in the colour the table gives it."""
    return tuple(
        PinWire(pin.number, pin.function, replace(wire, colour=pin.colour)) for pin in kind.pins
    )


def feeds_for(kind: Connector) -> tuple[Feed, ...]:
    """A vehicle wire for everything a socket carries."""
    named = [name for name in kind.functions if function(name).kind not in NOT_FED]
    return tuple(feed(name) for name in named)


def meeting(socket_key: str, plug_key: str, **changes: Any) -> Rig:
    """The trailer's plug at the vehicle's socket, both signal systems as their connectors say."""
    socket, plug = connector(socket_key), connector(plug_key)
    vehicle = replace(simple_vehicle(), feeds=feeds_for(socket), signals=_signals(socket))
    trailer = replace(
        simple_trailer(),
        plug=plug_key,
        plug_convention=plug_key,
        cord=conductors(plug, awg("14", 2.0)),
        signals=_signals(plug),
        lamps=(lamp("left rear", "left", 3.0),),
    )
    made = simple_rig(
        vehicle=vehicle,
        sockets=(
            simple_socket(
                name="rear", connector=socket_key, lead=conductors(socket, awg("14", 1.0))
            ),
        ),
        towing="rear",
        trailer=trailer,
    )
    return replace(made, **changes)


def _signals(kind: Connector) -> SignalSystem:
    return SignalSystem.COMBINED if kind.system == "combined" else SignalSystem.SEPARATE
