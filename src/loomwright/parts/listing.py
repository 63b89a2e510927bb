"""Parts and cuts of the work that a rig describes: new leads, new feeds, their joints."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

from loomwright.hookup.model import Hookup, Pair
from loomwright.parts.model import Cut, Item, PartsList
from loomwright.reference.cables import bundle_diameter_mm
from loomwright.reference.functions import function
from loomwright.reference.insulation import insulated_diameter_mm
from loomwright.reference.joints import grommet_for, joint, loom_for, support_spacing_mm
from loomwright.rig.model import Feed, GroundMethod, Join, Rig, Socket, Wire


def parts_list(rig: Rig, hookup: Hookup) -> PartsList:
    """List what to pull from the shelf and what to cut for this rig.

    Parameters
    ----------
    rig : Rig
        Complete rig; sockets joined by the maker and feeds that exist are not listed.
    hookup : Hookup
        Its pairing, which says how many of which splice.

    Returns
    -------
    PartsList
        Wire lengths include the slack of each socket; joints are counted, not spared.
    """
    added = [socket for socket in rig.sockets if socket.join is not Join.FACTORY]
    cuts = (*(cut for s in added for cut in _lead_cuts(s)), *_feed_cuts(rig))
    items = [
        *(item for socket in added for item in _socket_items(socket)),
        *_converter_items(rig),
        *_fuse_items(rig),
        *_joint_items(hookup, added),
        *(item for socket in added for item in _route_items(socket)),
    ]
    return PartsList(items=tuple(items), cuts=cuts)


def _lead_cuts(socket: Socket) -> Iterator[Cut]:
    for wire in socket.lead:
        yield Cut(
            function=wire.function,
            size=wire.wire.size,
            colour=wire.wire.colour,
            start=socket.joins_from,
            end=f"{socket.name} pin {wire.pin}",
            length_m=wire.wire.length_m + socket.slack_m,
        )
    where = "own ring" if socket.ground_method is GroundMethod.OWN_RING else "old ground wire"
    yield _cut("ground", socket.ground, socket.name, where)


def _feed_cuts(rig: Rig) -> Iterator[Cut]:
    for feed in _new_feeds(rig):
        yield _cut(feed.function, feed.wire, "battery", "joint at the rear")
    if rig.converter is not None:
        yield _cut("ground", rig.converter.ground, rig.converter.name, "own ring")


def _new_feeds(rig: Rig) -> Iterator[Feed]:
    yield from (feed for feed in rig.vehicle.feeds if feed.new)
    if rig.converter is not None and rig.converter.feed is not None:
        yield rig.converter.feed


def _cut(name: str, wire: Wire, start: str, end: str) -> Cut:
    return Cut(name, wire.size, wire.colour, start, end, wire.length_m)


def _socket_items(socket: Socket) -> Iterator[Item]:
    yield Item(1, f"{socket.connector} socket with cap and flange gasket", socket.name)
    if socket.ground_method is GroundMethod.OWN_RING:
        yield Item(1, f"ring terminal for {socket.ground.size}, and a serrated washer", "ground")


def _converter_items(rig: Rig) -> Iterator[Item]:
    converter = rig.converter
    if converter is None:
        return
    powered = "powered " if converter.powered else ""
    ratings = ", ".join(
        f"{function(name).title} {amps:g} A" for name, amps in converter.channel_a.items()
    )
    yield Item(1, f"{powered}{converter.kind.value} converter", ratings)
    yield Item(1, f"ring terminal for {converter.ground.size}", "converter ground")


def _fuse_items(rig: Rig) -> Iterator[Item]:
    for feed in _new_feeds(rig):
        if feed.fuse is None:
            continue
        purpose = f"{function(feed.function).title}, within 7 in (178 mm) of the source"
        yield Item(1, f"{feed.fuse.rating_a:g} A {feed.fuse.kind} fuse in a sealed holder", purpose)


def _joint_items(hookup: Hookup, added: list[Socket]) -> Iterator[Item]:
    names = {socket.name for socket in added if socket.join is not Join.TEE}
    made = Counter(_joint_words(pair) for pair in hookup.at("splice") if _is_made(pair, names))
    for words, count in made.items():
        yield Item(
            count, words, "one for each joint of the splice table; add two for spoiled crimps"
        )


def _is_made(pair: Pair, names: set[str]) -> bool:
    both = pair.vehicle_side is not None and pair.trailer_side is not None
    if pair.splice is None or not both:
        return False
    at_frame = pair.vehicle_side is not None and pair.vehicle_side.of == "frame"
    at_converter = pair.trailer_side is not None and pair.trailer_side.of == "converter"
    return not at_frame and (pair.socket in names or at_converter)


def _joint_words(pair: Pair) -> str:
    if pair.splice is None:
        return ""
    title = joint(pair.splice.kind).title
    details = [part for part in (pair.splice.barrel, pair.splice.shrink) if part]
    return f"{title} ({'; '.join(details)})" if details else title


def _route_items(socket: Socket) -> Iterator[Item]:
    if not socket.lead:
        return
    bundle = bundle_diameter_mm([insulated_diameter_mm(w.wire.size) for w in socket.lead])
    loom = loom_for(bundle)
    yield Item(
        math.ceil(socket.route_m + socket.slack_m),
        f"split loom {loom.key}, by the metre",
        f"{socket.name}: bundle of {bundle:.0f} mm",
    )
    holes = [leg for leg in socket.legs if leg.hole_mm is not None]
    if holes:
        grommet = grommet_for(bundle)
        yield Item(
            len(holes),
            f"grommet for a {bundle:.0f} mm bundle, hole {grommet.hole_mm:.0f} mm",
            "; ".join(leg.name for leg in holes),
        )
        yield Item(1, "zinc primer and paint for bare edges", "every drilled hole")
    clips = math.ceil(1000 * socket.route_m / support_spacing_mm()) + 2
    yield Item(clips, "cushioned clip or tie with mount", f"{socket.name} route")
