"""How a rig is looked at for traps: its connectors, the pins where two functions meet, supplies."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator

from loomwright.hookup.model import Pair, Standing
from loomwright.reference.connectors import connector
from loomwright.rig.model import Feed, PinWire, Rig, Socket

Detector = Callable[[Rig, tuple[Pair, ...]], str | None]
"""Says where a rig meets a trap, or None."""

SUPPLIES = frozenset({"battery", "charge", "ignition", "aux", "aux2", "abs_aux"})


def connectors_of(rig: Rig) -> Iterator[tuple[str, str]]:
    """Yield the name and the kind of each socket, then of the trailer's plug."""
    yield from ((socket_words(socket), socket.connector) for socket in rig.sockets)
    yield "trailer plug", rig.trailer.plug


def socket_words(socket: Socket) -> str:
    """Name of a socket, with the word socket in it once."""
    return socket.name if "socket" in socket.name.lower() else f"{socket.name} socket"


def at(*keys: str) -> Detector:
    """Return a detector that finds any of these connectors on a rig."""

    def look(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
        del pairs
        return next((name for name, key in connectors_of(rig) if key in keys), None)

    return look


def families(rig: Rig) -> frozenset[str]:
    """Families of all connectors of a rig."""
    return frozenset(connector(key).row.family for _, key in connectors_of(rig))


def meeting_keys(rig: Rig) -> frozenset[str]:
    """Kinds of the towing socket and of the plug."""
    return frozenset({rig.towing_socket.connector, rig.trailer.plug})


def crossed(pairs: tuple[Pair, ...], one: Collection[str], other: Collection[str]) -> str | None:
    """Return the pin of the plug where a function of one kind meets one of the other kind."""
    for pair in pairs:
        left, right = pair.vehicle_side, pair.trailer_side
        if pair.stage == "splice" or left is None or right is None:
            continue
        met = (left.function, right.function)
        if met[0] != met[1] and (
            (met[0] in one and met[1] in other) or (met[1] in one and met[0] in other)
        ):
            return f"pin {right.pin} of the trailer plug"
    return None


def pins_of(rig: Rig) -> Iterator[tuple[str, str, PinWire]]:
    """Yield where each conductor ends, the kind of connector, and the conductor."""
    for socket in rig.sockets:
        yield from ((socket_words(socket), socket.connector, wire) for wire in socket.lead)
    yield from (("trailer plug", rig.trailer.plug, wire) for wire in rig.trailer.cord)


def supplies(rig: Rig) -> Iterator[tuple[str, Feed]]:
    """Yield the name and the feed of each supply, a converter's own included."""
    for feed in rig.vehicle.feeds:
        if feed.function in SUPPLIES:
            yield f"{feed.function} feed", feed
    if rig.converter is not None and rig.converter.feed is not None:
        yield f"feed of the {rig.converter.name}", rig.converter.feed


def plug_trap(pairs: tuple[Pair, ...]) -> bool:
    """Whether following a colour at the plug would mislead."""
    return any(pair.stage != "splice" and pair.standing is Standing.TRAP for pair in pairs)
