"""The splices: vehicle or converter wires to a socket's lead, and vehicle wires to a converter."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.hookup.demand import used_functions
from loomwright.hookup.ends import feed_end, offered_to, wire_end
from loomwright.hookup.model import End, Pair, Standing
from loomwright.hookup.schemes import ACROSS_SYSTEMS, converter_inputs, feeders
from loomwright.hookup.splices import splice_choice
from loomwright.hookup.standing import sentence, standing_of, title
from loomwright.reference.functions import function
from loomwright.rig.model import Converter, Join, Rig, Socket

SPARE_FUNCTIONS = frozenset({"spare", "coding"})


def converter_pairs(rig: Rig) -> tuple[Pair, ...]:
    """Pair the vehicle's wires with a converter's inputs; its own wires have no colours here."""
    converter = rig.converter
    if converter is None:
        return ()
    inputs = converter_inputs(converter.kind, frozenset(converter.channel_a))
    return tuple(_converter_pair(rig, converter, name) for name in inputs)


def _converter_pair(rig: Rig, converter: Converter, name: str) -> Pair:
    feed = next((f for f in map(rig.vehicle.feed_for, feeders(name)) if f is not None), None)
    box = End("converter", name, None, None, None, converter.name)
    if feed is None:
        return Pair(
            stage="splice",
            socket=converter.name,
            function=name,
            vehicle_side=None,
            trailer_side=box,
            standing=Standing.NO_FEED,
            says=f"The converter listens for {title(name)}, and the vehicle lists no such wire.",
            do=f"Find the {title(name)} wire on the vehicle, or end that input as its maker says.",
        )
    end = feed_end(feed)
    return Pair(
        stage="splice",
        socket=converter.name,
        function=name,
        vehicle_side=end,
        trailer_side=box,
        standing=Standing.UNKNOWN,
        says=f"{title(name)}: {_words(end)} feeds the converter's {title(name)} input.",
        do="Join to the input named for this function; measure first.",
        splice=splice_choice(converter.joint, end.size, None),
    )


def splice_pairs(rig: Rig, socket: Socket) -> tuple[Pair, ...]:
    """Pair a lead with what feeds it, conductor by conductor, then what has no partner."""
    if socket.join is Join.FACTORY:
        return ()
    offered = offered_to(rig, socket)
    rights = [wire_end("lead", wire, socket.name) for wire in socket.lead]
    pairs = [_lead_pair(rig, socket, right, rights, offered) for right in rights]
    return (*pairs, *_left_over(socket, pairs, offered))


def _lead_pair(
    rig: Rig, socket: Socket, right: End, rights: list[End], offered: dict[str, End]
) -> Pair:
    left = next((offered[name] for name in feeders(right.function) if name in offered), None)
    if left is None:
        return _unfed(rig, socket, right, offered)
    standing, meanings = standing_of(left, right, offered.values(), rights)
    if function(right.function).is_return and left.of == "frame":
        standing, meanings = Standing.SAME, ()
    return Pair(
        stage="splice",
        socket=socket.name,
        function=right.function,
        vehicle_side=left,
        trailer_side=right,
        standing=standing,
        says=sentence(left, right, standing),
        do=_instruction(socket, left, standing),
        splice=splice_choice(socket.joint, left.size, right.size),
        meanings=meanings,
    )


def _instruction(socket: Socket, left: End, standing: Standing) -> str:
    if left.of == "frame":
        return "Crimp a ring, bolt it to bare frame, coat the finished joint."
    if socket.join is Join.TEE:
        return "Plug in between the factory connectors; nothing is cut."
    if standing is Standing.TRAP:
        return "Mark both ends with the function before cutting; join by function, then test."
    return "Join by function, then test at the socket before the next one."


def _unfed(rig: Rig, socket: Socket, right: End, offered: dict[str, End]) -> Pair:
    name = title(right.function)
    across = ACROSS_SYSTEMS.get(right.function)
    if across is not None and any(source in offered for source in across[0]):
        standing = Standing.NEEDS_CONVERTER
        says = f"{name}: the vehicle has no wire of this kind; a {across[1]} converter makes it."
        do = "Fit the converter before joining; never tie stop and turn wires together."
    elif right.function in used_functions(rig.trailer):
        standing = Standing.NO_FEED
        says = f"{name}: nothing on the vehicle feeds this conductor, and the trailer needs it."
        do = f"Bring a fused {name} feed from the front."
    else:
        standing = Standing.NO_FEED
        says = f"{name}: nothing feeds this conductor, and this trailer does not use it."
        do = "Cap and seal it, and write that it is dead."
    return Pair(
        "splice", socket.name, right.function, None, right, standing, says, do, source="trade"
    )


def _left_over(socket: Socket, pairs: list[Pair], offered: dict[str, End]) -> Iterator[Pair]:
    joined = {pair.vehicle_side.function for pair in pairs if pair.vehicle_side is not None}
    for name, end in offered.items():
        if name in joined or name in SPARE_FUNCTIONS:
            continue
        yield Pair(
            stage="splice",
            socket=socket.name,
            function=name,
            vehicle_side=end,
            trailer_side=None,
            standing=Standing.NO_PARTNER,
            says=f"{title(name)}: {_words(end)} has no conductor in the lead to join.",
            do="Cap and seal it; tie it back away from the joints.",
            source="trade",
        )


def _words(end: End) -> str:
    return end.colour.words if end.colour is not None else f"the {end.of} wire"
