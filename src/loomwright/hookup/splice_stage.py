"""The splices: vehicle or converter wires to a socket's lead."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.hookup.advice import feed_advice
from loomwright.hookup.demand import needs_function
from loomwright.hookup.ends import (
    CONVERTER,
    FRAME,
    VEHICLE,
    input_feed,
    offered_to,
    upstream_of,
    wire_end,
    wired_pins,
)
from loomwright.hookup.model import End, Pair, SpliceChoice, Standing
from loomwright.hookup.schemes import SPARE_FUNCTIONS, converter_between
from loomwright.hookup.splices import ring_choice, splice_choice
from loomwright.hookup.standing import headline, sentence, standing_of
from loomwright.rig.feeding import feeders
from loomwright.rig.model import ConverterKind, Join, Rig, Socket

SOURCE = "trade"
LIVES_ON = (Join.BRANCHED, Join.TEE)


@dataclass(frozen=True, slots=True)
class Joining:
    """One lead and everything it can be joined to."""

    rig: Rig
    socket: Socket
    offered: dict[str, End]
    rights: tuple[End, ...]


def splice_pairs(rig: Rig, socket: Socket) -> tuple[Pair, ...]:
    """Pair a lead with what feeds it, conductor by conductor, then what has no partner."""
    if socket.join is Join.FACTORY:
        return ()
    rights = tuple(wire_end("lead", wire, socket.name) for wire in wired_pins(socket))
    joining = Joining(rig, socket, offered_to(rig, socket), rights)
    pairs = [_lead_pair(joining, right) for right in rights]
    return (*pairs, *_left_over(joining, pairs))


def _lead_pair(joining: Joining, right: End) -> Pair:
    offered = joining.offered
    left = next((offered[name] for name in feeders(right.function) if name in offered), None)
    if left is None:
        return _unfed(joining, right)
    if left.of == FRAME:
        return _ringed(joining, left, right)
    standing, meanings = standing_of(left, right, offered.values(), joining.rights)
    return Pair(
        stage="splice",
        socket=joining.socket.name,
        function=right.function,
        vehicle_side=left,
        trailer_side=right,
        standing=standing,
        says=sentence(left, right, standing),
        do=_instruction(joining.socket, standing),
        splice=_splice(joining, left, right),
        meanings=meanings,
        source=SOURCE,
    )


def _ringed(joining: Joining, left: End, right: End) -> Pair:
    return Pair(
        stage="splice",
        socket=joining.socket.name,
        function=right.function,
        vehicle_side=left,
        trailer_side=right,
        standing=Standing.SAME,
        says=f"{headline(right.function)}: {_words(right)} ends in a ring of its own on bare "
        "frame.",
        do="Crimp a ring, bolt it to bare frame, coat the finished joint.",
        splice=None if left.size is None else ring_choice(left.size),
        source=SOURCE,
    )


def _splice(joining: Joining, left: End, right: End) -> SpliceChoice:
    return splice_choice(
        joining.socket.joint, left.size, right.size, through=_goes_on(joining, left)
    )


def _goes_on(joining: Joining, left: End) -> bool:
    """Whether the wire on the vehicle's side keeps feeding something behind the joint."""
    if joining.socket.join is Join.BRANCHED and upstream_of(joining.rig, joining.socket):
        return left.of == joining.socket.joins_from
    feed = joining.rig.vehicle.feed_for(left.function) if left.of == VEHICLE else None
    return feed is not None and bool(feed.lights)


def _instruction(socket: Socket, standing: Standing) -> str:
    if socket.join is Join.TEE:
        return "Plug in between the factory connectors; nothing is cut."
    if standing is Standing.TRAP:
        return "Mark both ends with the function before cutting; join by function, then test."
    return "Join by function, then test at the socket before the next one."


def _unfed(joining: Joining, right: End) -> Pair:
    rig, name = joining.rig, headline(right.function)
    kind = converter_between(joining.offered, right.function)
    if kind is not None:
        standing = Standing.NEEDS_CONVERTER
        says = f"{name}: the vehicle has no wire of this kind; a {kind} converter makes it."
        do = "Fit the converter before joining; never tie stop and turn wires together."
    elif _is_other_voltage(joining, right):
        volts = rig.vehicle.supply.nominal_v
        standing = Standing.NEEDS_CONVERTER
        says = f"{name}: the vehicle's wire carries {volts:.0f} V and the converter has no channel."
        do = "Give it a channel of the step-down converter, or leave it dead; never join it."
    elif right.function not in SPARE_FUNCTIONS and needs_function(rig.trailer, right.function):
        standing = Standing.NO_FEED
        says = f"{name}: nothing on the vehicle feeds this conductor, and the trailer needs it."
        do = feed_advice(right.function, rig.units)
    else:
        standing = Standing.NO_FEED
        says = f"{name}: nothing feeds this conductor, and this trailer does not use it."
        do = "Cap and seal it, and write that it is dead."
    return Pair(
        "splice",
        joining.socket.name,
        right.function,
        None,
        right,
        standing,
        says,
        do,
        source=SOURCE,
    )


def _is_other_voltage(joining: Joining, right: End) -> bool:
    """Whether the vehicle has this feed, but at a voltage the converter would have to change."""
    box = joining.rig.converter
    if joining.socket.joins_from != CONVERTER or box is None:
        return False
    return (
        box.kind is ConverterKind.STEP_DOWN and input_feed(joining.rig, right.function) is not None
    )


def _left_over(joining: Joining, pairs: list[Pair]) -> Iterator[Pair]:
    joined = {pair.vehicle_side.function for pair in pairs if pair.vehicle_side is not None}
    for name, end in joining.offered.items():
        if name in joined or name in SPARE_FUNCTIONS or _taken_elsewhere(joining, end):
            continue
        lives_on = joining.socket.join in LIVES_ON or _goes_on(joining, end)
        yield Pair(
            stage="splice",
            socket=joining.socket.name,
            function=name,
            vehicle_side=end,
            trailer_side=None,
            standing=Standing.NO_PARTNER,
            says=f"{headline(name)}: {_words(end)} has no conductor in the lead to join.",
            do="Leave it whole: this socket does without it."
            if lives_on
            else "Cap and seal it; tie it back away from the joints.",
            source=SOURCE,
        )


def _taken_elsewhere(joining: Joining, end: End) -> bool:
    """Whether another socket of the vehicle takes this feed."""
    if end.of != VEHICLE:
        return False
    others = (socket for socket in joining.rig.sockets if socket.name != joining.socket.name)
    return any(end.function in feeders(wire.function) for s in others for wire in s.lead)


def _words(end: End) -> str:
    return end.colour.words if end.colour is not None else f"the {end.of} wire"
