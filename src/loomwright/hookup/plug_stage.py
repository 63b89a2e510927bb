"""Where the plug meets the socket: pin to pin, straight or through an adapter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loomwright.hookup.demand import used_functions
from loomwright.hookup.ends import wire_end
from loomwright.hookup.model import End, Pair, Standing
from loomwright.hookup.schemes import ACROSS_SYSTEMS, feeders
from loomwright.hookup.standing import sentence, standing_of, title
from loomwright.reference.adapters import adapter
from loomwright.reference.connectors import connector
from loomwright.rig.model import Rig


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


@dataclass(frozen=True, slots=True)
class Plugging:
    """Everything that meets at the plug: the pins of both sides and what the trailer uses."""

    socket: str
    mated: Mating
    lefts: dict[str, End]
    rights: tuple[End, ...]
    used: frozenset[str]

    @property
    def stage(self) -> Literal["plug", "adapter"]:
        """Whether plug and socket meet straight or through an adapter."""
        return "adapter" if self.mated.is_adapted else "plug"


def plug_pairs(rig: Rig) -> tuple[Pair, ...]:
    """Pair the towing socket's pins with the plug's, then what the trailer does not take."""
    socket = rig.towing_socket
    mated = mating(socket.connector, rig.trailer.plug)
    meeting = Plugging(
        socket=socket.name,
        mated=mated,
        lefts={wire.pin: wire_end("socket", wire, socket.name) for wire in socket.lead},
        rights=tuple(wire_end("plug", wire, "trailer cord") for wire in rig.trailer.cord),
        used=used_functions(rig.trailer),
    )
    pairs = [_pin_pair(meeting, right) for right in meeting.rights]
    taken = {mated.socket_pin_of.get(wire.pin) for wire in rig.trailer.cord}
    spare = [end for pin, end in meeting.lefts.items() if pin not in taken]
    return (*pairs, *(_not_taken(meeting, end) for end in spare))


def _pin_pair(meeting: Plugging, right: End) -> Pair:
    socket_pin = meeting.mated.socket_pin_of.get(right.pin or "")
    left = meeting.lefts.get(socket_pin or "")
    if left is None:
        return _unmet(meeting, right, lost=meeting.mated.is_adapted and socket_pin is None)
    if left.function not in feeders(right.function):
        return _crossed(meeting, left, right)
    standing, meanings = standing_of(left, right, meeting.lefts.values(), meeting.rights)
    return Pair(
        stage=meeting.stage,
        socket=meeting.socket,
        function=right.function,
        vehicle_side=left,
        trailer_side=right,
        standing=standing,
        says=sentence(left, right, standing),
        do="Join by pin and function; test before towing.",
        meanings=meanings,
    )


def _unmet(meeting: Plugging, right: End, *, lost: bool) -> Pair:
    needed = right.function in meeting.used
    where = "is lost in the adapter" if lost else "is not fed at the socket"
    end = "and the trailer needs it" if needed else "and this trailer does not use it"
    return Pair(
        stage=meeting.stage,
        socket=meeting.socket,
        function=right.function,
        vehicle_side=None,
        trailer_side=right,
        standing=Standing.LOST_IN_ADAPTER if lost else Standing.NO_FEED,
        says=f"{title(right.function)} {where}, {end}.",
        do="Bring this feed to the socket." if needed else "Leave it dead.",
    )


def _crossed(meeting: Plugging, left: End, right: End) -> Pair:
    across = ACROSS_SYSTEMS.get(right.function)
    systems = across is not None and left.function in across[0]
    says = (
        f"Pin {left.pin} carries {title(left.function)} on the vehicle "
        f"and {title(right.function)} on the trailer."
    )
    return Pair(
        stage=meeting.stage,
        socket=meeting.socket,
        function=right.function,
        vehicle_side=left,
        trailer_side=right,
        standing=Standing.NEEDS_CONVERTER if systems else Standing.TRAP,
        says=says,
        do="Fit the converter first." if systems else "Rewire the plug by function; do not mate.",
        meanings=(says,),
    )


def _not_taken(meeting: Plugging, end: End) -> Pair:
    return Pair(
        stage=meeting.stage,
        socket=meeting.socket,
        function=end.function,
        vehicle_side=end,
        trailer_side=None,
        standing=Standing.NO_PARTNER,
        says=f"{title(end.function)} is live at the socket and this trailer does not take it.",
        do="Nothing to do; keep the socket cap closed when unplugged.",
    )
