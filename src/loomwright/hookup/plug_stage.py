"""Where the plug meets the socket: pin to pin, straight or through an adapter."""

from __future__ import annotations

from dataclasses import dataclass

from loomwright.hookup.demand import used_functions
from loomwright.hookup.ends import wire_end
from loomwright.hookup.model import End, Pair, Standing
from loomwright.hookup.schemes import ACROSS_SYSTEMS, feeders
from loomwright.hookup.standing import sentence, standing_of, title
from loomwright.reference.adapters import adapter
from loomwright.reference.connectors import connector
from loomwright.rig.model import PinWire, Rig, Socket


@dataclass(frozen=True, slots=True)
class Mating:
    """How pins of a plug meet pins of a socket: plug pin to socket pin, straight or adapted."""

    socket_pin_of: dict[str, str]
    is_adapted: bool
    fits: bool


def mating(socket_key: str, plug_key: str) -> Mating:
    """Return how a plug meets a socket: one body, a known adapter, or by nothing we know."""
    socket, plug = connector(socket_key), connector(plug_key)
    if socket.row.family == plug.row.family:
        there = {pin.number for pin in socket.pins}
        straight = {pin.number: pin.number for pin in plug.pins if pin.number in there}
        return Mating(straight, is_adapted=False, fits=True)
    known = adapter(socket_key, plug_key)
    if known is not None:
        adapted = {plug_pin: socket_pin for socket_pin, plug_pin in known.pin_pairs}
        return Mating(adapted, is_adapted=True, fits=True)
    by_function = {
        pin.number: match[0].number for pin in plug.pins if (match := socket.pins_for(pin.function))
    }
    return Mating(by_function, is_adapted=True, fits=False)


def plug_pairs(rig: Rig) -> tuple[Pair, ...]:
    """Pair the towing socket's pins with the plug's, then what the trailer does not take."""
    socket = rig.towing_socket
    mated = mating(socket.connector, rig.trailer.plug)
    lefts = {wire.pin: wire_end("socket", wire, socket.name) for wire in socket.lead}
    rights = [wire_end("plug", wire, "trailer cord") for wire in rig.trailer.cord]
    used = used_functions(rig.trailer)
    pairs = [_pin_pair(rig, socket, wire, mated, lefts, rights, used) for wire in rig.trailer.cord]
    taken = {mated.socket_pin_of.get(wire.pin) for wire in rig.trailer.cord}
    spare = [end for pin, end in lefts.items() if pin not in taken]
    return (*pairs, *(_not_taken(socket, end, mated.is_adapted) for end in spare))


def _pin_pair(
    rig: Rig,
    socket: Socket,
    wire: PinWire,
    mated: Mating,
    lefts: dict[str, End],
    rights: list[End],
    used: frozenset[str],
) -> Pair:
    right = wire_end("plug", wire, "trailer cord")
    left = lefts.get(mated.socket_pin_of.get(wire.pin, ""))
    stage = "adapter" if mated.is_adapted else "plug"
    if left is None:
        lost = mated.is_adapted and wire.pin not in mated.socket_pin_of
        standing = Standing.LOST_IN_ADAPTER if lost else Standing.NO_FEED
        return Pair(
            stage=stage,
            socket=socket.name,
            function=wire.function,
            vehicle_side=None,
            trailer_side=right,
            standing=standing,
            says=_unmet(wire.function, lost=lost, needed=wire.function in used),
            do="Bring this feed to the socket." if wire.function in used else "Leave it dead.",
        )
    if left.function not in feeders(wire.function):
        return _crossed(socket, stage, left, right)
    standing, meanings = standing_of(left, right, lefts.values(), rights)
    return Pair(
        stage=stage,
        socket=socket.name,
        function=wire.function,
        vehicle_side=left,
        trailer_side=right,
        standing=standing,
        says=sentence(left, right, standing),
        do="Join by pin and function; test before towing.",
        meanings=meanings,
    )


def _unmet(name: str, *, lost: bool, needed: bool) -> str:
    where = "is lost in the adapter" if lost else "is not fed at the socket"
    end = "and the trailer needs it" if needed else "and this trailer does not use it"
    return f"{title(name)} {where}, {end}."


def _crossed(socket: Socket, stage: str, left: End, right: End) -> Pair:
    across = ACROSS_SYSTEMS.get(right.function)
    systems = across is not None and left.function in across[0]
    says = (
        f"Pin {left.pin} carries {title(left.function)} on the vehicle "
        f"and {title(right.function)} on the trailer."
    )
    return Pair(
        stage="adapter" if stage == "adapter" else "plug",
        socket=socket.name,
        function=right.function,
        vehicle_side=left,
        trailer_side=right,
        standing=Standing.NEEDS_CONVERTER if systems else Standing.TRAP,
        says=says,
        do="Fit the converter first." if systems else "Rewire the plug by function; do not mate.",
        meanings=(says,),
    )


def _not_taken(socket: Socket, end: End, is_adapted: bool) -> Pair:
    return Pair(
        stage="adapter" if is_adapted else "plug",
        socket=socket.name,
        function=end.function,
        vehicle_side=end,
        trailer_side=None,
        standing=Standing.NO_PARTNER,
        says=f"{title(end.function)} is live at the socket and this trailer does not take it.",
        do="Nothing to do; keep the socket cap closed when unplugged.",
    )
