"""What kind of job a rig describes: the facts that choose steps and cautions."""

from __future__ import annotations

from collections.abc import Iterator

from loomwright.reference.connectors import connector
from loomwright.rig.model import (
    Braking,
    ConverterKind,
    Feed,
    GroundMethod,
    Join,
    LampDrive,
    Rig,
    Socket,
    SocketFeed,
)

CRIMPED = ("sealed-butt", "step-down-butt", "butt")
TRAILER_CABLE_BRAKES = (Braking.ELECTRIC, Braking.ELECTRIC_OVER_HYDRAULIC)
HEAVY_V = 20.0


def new_sockets(rig: Rig) -> tuple[Socket, ...]:
    """Return the sockets this job fits, in order."""
    return tuple(socket for socket in rig.sockets if socket.join is not Join.FACTORY)


def new_feeds(rig: Rig) -> tuple[Feed, ...]:
    """Return the feeds this job runs from the front, the converter's own included."""
    feeds = [feed for feed in rig.vehicle.feeds if feed.new]
    if rig.converter is not None and rig.converter.feed is not None:
        feeds.append(rig.converter.feed)
    return tuple(feeds)


def is_rewire(rig: Rig) -> bool:
    """Whether the job renews the trailer's wires and leaves the vehicle as it is."""
    return not new_sockets(rig) and rig.trailer.condition == "new"


def facts_of(rig: Rig) -> frozenset[str]:
    """Return every fact about a job that a step may ask for.

    The facts are the words in the columns `needs` and `lacks` of the table of steps.
    """
    return frozenset((*_of_sockets(rig), *_of_vehicle(rig), *_of_trailer(rig)))


def _of_sockets(rig: Rig) -> Iterator[str]:
    added = new_sockets(rig)
    yield "new-socket" if added else "trailer-only"
    for socket in added:
        yield socket.join.value
        yield "own-ring" if socket.ground_method is GroundMethod.OWN_RING else "old-wire"
        if any(leg.hole_mm is not None for leg in socket.legs):
            yield "hole"
        if socket.legs:
            yield "route"
        yield "sealed" if socket.joint in CRIMPED else "not-crimped"
    if connector(rig.towing_socket.connector).returns_kept_apart:
        yield "returns-apart"
    if len(rig.sockets) > 1:
        yield "two-sockets"
    if rig.adapter is not None:
        yield "adapter"


def _of_vehicle(rig: Rig) -> Iterator[str]:
    if rig.converter is not None:
        yield "converter"
        yield rig.converter.kind.value
        yield "powered" if rig.converter.powered else "unpowered"
    for feed in new_feeds(rig):
        yield "new-feed"
        yield f"new-{feed.function}"
    if rig.vehicle.brake_controller is not None:
        yield "controller"
    if rig.vehicle.socket_feed is SocketFeed.MODULE:
        yield "module"
    if rig.vehicle.lamp_drive is not LampDrive.STEADY:
        yield rig.vehicle.lamp_drive.value
    heavy = rig.vehicle.supply.nominal_v > HEAVY_V
    if heavy and (rig.converter is None or rig.converter.kind is not ConverterKind.STEP_DOWN):
        yield "24-volt"


def _of_trailer(rig: Rig) -> Iterator[str]:
    trailer = rig.trailer
    if trailer.braking in TRAILER_CABLE_BRAKES or trailer.brakes:
        yield "brakes"
    if trailer.braking is Braking.SURGE:
        yield "surge"
    if trailer.breakaway is not None:
        yield "breakaway"
    if trailer.battery is not None or any(f.function == "battery" for f in rig.vehicle.feeds):
        yield "charge"
    if trailer.battery is not None:
        yield "house-battery"
    if is_rewire(rig):
        yield "rewire"
    if trailer.kind in ("caravan", "livestock") and trailer.battery is not None:
        yield "mains"
