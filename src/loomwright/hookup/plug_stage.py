"""Where the plug meets the socket: pin to pin, straight or through an adapter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from loomwright.hookup.advice import feed_advice
from loomwright.hookup.demand import needs_function
from loomwright.hookup.ends import wire_end, wired_pins
from loomwright.hookup.model import End, Pair, Standing
from loomwright.hookup.schemes import SPARE_FUNCTIONS, converter_between, may_join
from loomwright.hookup.standing import headline, sentence, standing_of, title
from loomwright.reference.adapters import Adapter, adapter
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function
from loomwright.rig.model import ConverterKind, Rig


@dataclass(frozen=True, slots=True)
class Mating:
    """How pins of a plug meet pins of a socket: plug pin to socket pin, straight or adapted.

    `fits` is false where bodies differ and no adapter between them is known: the pins are then
    those that an adapter made for the two would join.
    """

    socket_pin_of: Mapping[str, str]
    is_adapted: bool
    fits: bool
    source: str
    converters: tuple[str, ...] = ()


def mating(rig: Rig) -> Mating:
    """Return how the plug meets the towing socket.

    Bodies of one family meet pin by pin, whatever the pins are wired for. Others need an
    adapter: the recorded one for the two, else one that joins equal functions.
    """
    socket, plug = connector(rig.towing_socket.connector), connector(rig.trailer.plug)
    wired = {wire.pin for wire in wired_pins(rig.towing_socket)}
    if socket.row.family == plug.row.family and rig.adapter is None:
        straight = {wire.pin: wire.pin for wire in rig.trailer.cord if wire.pin in wired}
        return Mating(straight, is_adapted=False, fits=True, source=socket.row.source)
    known = adapter(socket.key, plug.key)
    if known is not None:
        return _adapted(known, wired)
    at = {wire.function: wire.pin for wire in wired_pins(rig.towing_socket)}
    equal = {wire.pin: at[wire.function] for wire in rig.trailer.cord if wire.function in at}
    fits = rig.adapter is not None
    return Mating(equal, is_adapted=True, fits=fits, source="trade")


@dataclass(frozen=True, slots=True)
class Plugging:
    """Everything that meets at the plug: the pins of both sides."""

    rig: Rig
    mated: Mating
    lefts: Mapping[str, End]
    rights: tuple[End, ...]

    @property
    def stage(self) -> Literal["plug", "adapter"]:
        """Whether plug and socket meet straight or through an adapter."""
        return "adapter" if self.mated.is_adapted else "plug"

    @property
    def volts_apart(self) -> bool:
        """Whether the socket carries another voltage than the trailer is made for."""
        rig, box = self.rig, self.rig.converter
        lowered = box is not None and box.kind is ConverterKind.STEP_DOWN
        return rig.vehicle.supply.nominal_v != rig.trailer.nominal_v and not lowered

    def left_of(self, right: End) -> End | None:
        """The socket's conductor that a conductor of the cord meets."""
        pin = self.mated.socket_pin_of.get(right.pin or "")
        return None if pin is None else self.lefts.get(pin)

    def pair(
        self,
        ends: tuple[End | None, End | None],
        standing: Standing,
        says: str,
        do: str,
        meanings: tuple[str, ...] = (),
    ) -> Pair:
        """Return a pair of this stage."""
        left, right = ends
        named = right or left
        return Pair(
            stage=self.stage,
            socket=self.rig.towing,
            function="" if named is None else named.function,
            vehicle_side=left,
            trailer_side=right,
            standing=standing,
            says=says,
            do=do,
            meanings=meanings,
            source=self.mated.source,
        )


def plug_pairs(rig: Rig) -> tuple[Pair, ...]:
    """Pair the towing socket's pins with the plug's, then what the trailer does not take."""
    socket = rig.towing_socket
    meeting = Plugging(
        rig=rig,
        mated=mating(rig),
        lefts={wire.pin: wire_end("socket", wire, socket.name) for wire in wired_pins(socket)},
        rights=tuple(wire_end("plug", wire, "trailer cord") for wire in rig.trailer.cord),
    )
    pairs = tuple(_pin_pair(meeting, right) for right in meeting.rights)
    taken = {pair.vehicle_side.pin for pair in pairs if pair.vehicle_side is not None}
    spare = (end for pin, end in meeting.lefts.items() if pin not in taken)
    return (*pairs, *(_not_taken(meeting, end) for end in spare))


def _adapted(known: Adapter, wired: set[str]) -> Mating:
    pins = {plug_pin: socket_pin for socket_pin, plug_pin in known.pin_pairs if socket_pin in wired}
    return Mating(
        pins, is_adapted=True, fits=True, source=known.source, converters=known.converters
    )


def _pin_pair(meeting: Plugging, right: End) -> Pair:
    left = meeting.left_of(right)
    if left is None:
        return _unmet(meeting, right)
    if {left.function, right.function} & SPARE_FUNCTIONS and left.function != right.function:
        return _half_spare(meeting, left, right)
    if not may_join(left.function, right.function):
        return _crossed(meeting, left, right)
    if meeting.volts_apart and not function(right.function).is_return:
        return _other_voltage(meeting, left, right)
    standing, meanings = standing_of(left, right, meeting.lefts.values(), meeting.rights)
    do = "Join by pin and function; test before towing."
    if not meeting.mated.fits:
        do = "Rewire the plug by function: the tables know no adapter between these two."
    return meeting.pair((left, right), standing, sentence(left, right, standing), do, meanings)


def _unmet(meeting: Plugging, right: End) -> Pair:
    rig, name = meeting.rig, headline(right.function)
    at_socket = {end.function for end in meeting.lefts.values()}
    kind = converter_between(at_socket, right.function)
    boxes = " and ".join(meeting.mated.converters)
    if kind is not None or (boxes and any(may_join(each, right.function) for each in at_socket)):
        says = f"{name}: plain joining cannot carry this; a {kind or boxes} converter makes it."
        do = "Use an adapter with this converter in it, or fit the converter at the vehicle."
        return meeting.pair((None, right), Standing.NEEDS_CONVERTER, says, do)
    lost = meeting.mated.is_adapted and any(may_join(each, right.function) for each in at_socket)
    needed = right.function not in SPARE_FUNCTIONS and needs_function(rig.trailer, right.function)
    where = "is lost in the adapter" if lost else "is not fed at the socket"
    end = "and the trailer needs it" if needed else "and this trailer does not use it"
    standing = Standing.LOST_IN_ADAPTER if lost else Standing.NO_FEED
    do = feed_advice(right.function, rig.units) if needed else "Leave it dead."
    if needed and lost:
        do = "Fit a socket that carries it; the adapter cannot."
    return meeting.pair((None, right), standing, f"{name} {where}, {end}.", do)


def _half_spare(meeting: Plugging, left: End, right: End) -> Pair:
    """One side carries something, the other has nothing there."""
    if left.function in SPARE_FUNCTIONS:
        says = f"{headline(right.function)} is not fed at pin {left.pin} of the socket."
        needed = right.function not in SPARE_FUNCTIONS and needs_function(
            meeting.rig.trailer, right.function
        )
        do = feed_advice(right.function, meeting.rig.units) if needed else "Leave it dead."
        return meeting.pair((left, right), Standing.NO_FEED, says, do)
    says = f"{headline(left.function)} meets a conductor of the cord that has no use."
    do = "Cap and seal that conductor at the trailer's junction: it is live."
    return meeting.pair((left, right), Standing.NO_PARTNER, says, do)


def _crossed(meeting: Plugging, left: End, right: End) -> Pair:
    kind = converter_between((left.function,), right.function)
    says = (
        f"Pin {left.pin} carries {title(left.function)} on the vehicle "
        f"and {title(right.function)} on the trailer."
    )
    if kind is not None:
        do = f"Fit a {kind} converter first."
        return meeting.pair((left, right), Standing.NEEDS_CONVERTER, says, do, (says,))
    do = "Rewire the plug by function; do not mate."
    return meeting.pair((left, right), Standing.TRAP, says, do, (says,))


def _other_voltage(meeting: Plugging, left: End, right: End) -> Pair:
    vehicle_v = meeting.rig.vehicle.supply.nominal_v
    trailer_v = meeting.rig.trailer.nominal_v
    says = (
        f"{headline(right.function)}: {vehicle_v:.0f} V at the socket, a trailer for "
        f"{trailer_v:.0f} V."
    )
    do = "Do not mate. A converter must change the voltage first."
    return meeting.pair((left, right), Standing.NEEDS_CONVERTER, says, do)


def _not_taken(meeting: Plugging, end: End) -> Pair:
    name = headline(end.function)
    carried = {right.function for right in meeting.rights}
    if end.function in SPARE_FUNCTIONS or function(end.function).is_return:
        says = f"{name} at the socket has no conductor in the cord."
    elif needs_function(meeting.rig.trailer, end.function) and not any(
        may_join(end.function, each) for each in carried
    ):
        says = f"{name} is live at the socket, and the plug of a trailer that needs it lacks it."
        do = "Fit the plug that carries it; no adapter can."
        return meeting.pair((end, None), Standing.LOST_IN_ADAPTER, says, do)
    else:
        says = f"{name} is live at the socket; this trailer does not take it."
    do = "Nothing to do; keep the socket's cap closed when unplugged."
    return meeting.pair((end, None), Standing.NO_PARTNER, says, do)
