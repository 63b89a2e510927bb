"""Fittings of a job: sockets and plugs, converters, fuses, relays."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.hookup.advice import fuse_distance
from loomwright.parts.cuts import new_feeds
from loomwright.parts.model import Item
from loomwright.quantities import show_current
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function
from loomwright.reference.fuses import fuse_kind
from loomwright.rig.model import Converter, Feed, Live, Rig, Socket

RELAY_FOR = {
    Live.ENGINE: "closes with the engine running",
    Live.IGNITION: "closes with the ignition",
}


def fittings(socket: Socket) -> Iterator[Item]:
    """Yield a new socket and what holds it."""
    where = socket.location or socket.name
    yield Item(1, f"socket with cap and gasket: {connector(socket.connector).title}", where)
    yield Item(1, "set of stainless screws and a bracket, if the place has none", where)
    yield Item(2 * len(socket.lead), "wire label", "both ends of each conductor of the lead")
    yield Item(1, "tube of contact grease", "socket and plug contacts")


def feed_items(rig: Rig) -> Iterator[Item]:
    """Yield fuses, relays and rings of new feeds, and a converter."""
    for feed in new_feeds(rig):
        yield from _fused(rig, feed)
    if rig.converter is not None:
        yield from _box(rig, rig.converter)


def trailer_fittings(rig: Rig) -> Iterator[Item]:
    """Yield plug and small parts of a trailer wired anew."""
    plug = connector(rig.trailer.plug).title
    yield Item(1, f"plug, or a cord with the plug moulded on: {plug}", "trailer cord")
    yield Item(1, "cord clamp and strain relief", "trailer tongue")
    yield Item(2 * len(rig.trailer.cord), "wire label", "both sides of the junction")
    yield Item(1, "tube of contact grease", "plug and bulb holders")


def _fused(rig: Rig, feed: Feed) -> Iterator[Item]:
    name = function(feed.function).title
    yield Item(1, _fuse_words(feed), f"{name}, within {fuse_distance(rig.units)} of the source")
    if feed.function != "brake":
        yield Item(1, f"ring terminal for {feed.wire.size}", f"{name}, at the battery")
    closes = RELAY_FOR.get(feed.live)
    if closes is not None:
        rating = "" if feed.fuse is None else f", {show_current(feed.fuse.rating_a)} or more"
        volts = f"{rig.vehicle.supply.nominal_v:.0f}\u00a0V"
        yield Item(1, f"{volts} relay with socket{rating}", f"{name}: {closes}")


def _fuse_words(feed: Feed) -> str:
    if feed.fuse is None:
        return "fuse in a sealed holder: none is described, choose it by the wire"
    kind = fuse_kind(feed.fuse.kind).title
    return f"{show_current(feed.fuse.rating_a)} {kind}, in a sealed holder"


def _box(rig: Rig, box: Converter) -> Iterator[Item]:
    ratings = ", ".join(
        f"{function(name).title} {show_current(amps)}" for name, amps in box.channel_a.items()
    )
    powered = "powered " if box.powered else ""
    yield Item(1, f"{powered}{box.kind.value} converter", f"outputs of at least: {ratings}")
    if box.feed is not None:
        yield from _fused(rig, box.feed)
