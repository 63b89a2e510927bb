"""Conductors to cut: leads, feeds from the front, and every wire of a trailer wired anew."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from loomwright.colours import Colour
from loomwright.electrics.carriers import carrier
from loomwright.electrics.mating import cord_functions, return_of
from loomwright.hookup.model import End, Hookup
from loomwright.parts.model import Cut
from loomwright.rig.model import (
    Appliance,
    Brake,
    Feed,
    GroundMethod,
    HouseBattery,
    Lamp,
    Returns,
    Rig,
    Socket,
    Wire,
)

GROUND = "ground"
JUNCTION = "junction"
BARE_FRAME = "own ring on bare frame"


@dataclass(frozen=True, slots=True)
class Hanging:
    """A load of the trailer, with the functions that feed it and the one that brings it home."""

    load: Lamp | Brake | HouseBattery | Appliance
    fed_by: tuple[str, ...]
    home: str


def cut_length_m(socket: Socket, wire: Wire) -> float:
    """Length to cut a conductor of a lead to: as described, or what its route takes. [m]"""
    return max(wire.length_m, socket.route_m + socket.slack_m)


def lead_cuts(socket: Socket, hookup: Hookup) -> Iterator[Cut]:
    """Yield the conductors of a new lead; the ground wire runs from its pin to where it ends."""
    met = {
        pair.trailer_side.pin: pair.vehicle_side
        for pair in hookup.at("splice")
        if pair.socket == socket.name and pair.trailer_side is not None
    }
    for wire in socket.lead:
        if wire.function != GROUND:
            yield Cut(
                function=wire.function,
                size=wire.wire.size,
                colour=wire.wire.colour,
                start=_joined_to(met.get(wire.pin)),
                end=f"{socket.name} pin {wire.pin}",
                length_m=cut_length_m(socket, wire.wire),
            )
    own = socket.ground_method is GroundMethod.OWN_RING
    end = BARE_FRAME if own else "old ground wire"
    in_lead = socket.wire_for(GROUND)
    colour = None if in_lead is None else in_lead.wire.colour
    yield _cut(GROUND, _in_colour(socket.ground, colour), socket.name, end)


def _joined_to(end: End | None) -> str:
    if end is None:
        return "capped end"
    if end.of == "vehicle":
        return "vehicle wire"
    return BARE_FRAME if end.of == "frame" else end.of


def feed_cuts(rig: Rig) -> Iterator[Cut]:
    """Yield the new feeds from the front, and a converter's own wires."""
    for feed in new_feeds(rig):
        start = "brake controller" if feed.function == "brake" else "battery"
        yield _cut(feed.function, feed.wire, start, "joint at the rear")
    box = rig.converter
    if box is not None and box.feed is not None:
        yield _cut(box.feed.function, box.feed.wire, "battery", box.name)
    if box is not None:
        yield _cut(GROUND, box.ground, box.name, BARE_FRAME)


def new_feeds(rig: Rig) -> tuple[Feed, ...]:
    """Feeds of the vehicle that this job runs."""
    return tuple(feed for feed in rig.vehicle.feeds if feed.new)


def trailer_cuts(rig: Rig) -> Iterator[Cut]:
    """Yield cord, run, branches and grounds of a trailer."""
    trailer = rig.trailer
    for pin in trailer.cord:
        yield _cut(pin.function, pin.wire, f"plug pin {pin.pin}", JUNCTION)
    colours = {pin.function: pin.wire.colour for pin in trailer.cord}
    for function, length_m in _runs(rig).items():
        size = trailer.run.get(function, trailer.run[GROUND])
        wire = Wire(size, length_m, colours.get(function))
        yield _cut(function, wire, JUNCTION, "farthest load")
    for hanging in hangings(rig):
        for function in hanging.fed_by:
            branch = _in_colour(hanging.load.branch, colours.get(function))
            yield _cut(function, branch, "run", hanging.load.name)
        end = "frame" if _by_frame(rig, hanging) else "ground run"
        yield _cut(hanging.home, hanging.load.ground, hanging.load.name, end)


def hangings(rig: Rig) -> Iterator[Hanging]:
    """Yield each load of the trailer that the cord feeds, as the circuit has it."""
    corded = cord_functions(rig)
    trailer = rig.trailer
    for lamp in trailer.lamps:
        carried = (carrier(light.function, corded, lamp.side) for light in lamp.lights)
        yield from _hanging(rig, lamp, tuple(name for name in carried if name is not None))
    others: list[tuple[Brake | HouseBattery | Appliance, str]] = [
        *((brake, "brake") for brake in trailer.brakes),
        *((load, load.function) for load in trailer.appliances),
    ]
    if trailer.battery is not None:
        others.append((trailer.battery, trailer.battery.function))
    for load, function in others:
        name = carrier(function, corded)
        yield from _hanging(rig, load, () if name is None else (name,))


def _hanging(
    rig: Rig, load: Lamp | Brake | HouseBattery | Appliance, fed_by: tuple[str, ...]
) -> Iterator[Hanging]:
    if fed_by:
        yield Hanging(load, fed_by, return_of(rig, fed_by[0]))


def _runs(rig: Rig) -> dict[str, float]:
    """Length of each conductor of the run: to the farthest load on it. [m]"""
    farthest: defaultdict[str, float] = defaultdict(float)
    for hanging in hangings(rig):
        homes = () if _by_frame(rig, hanging) else (hanging.home,)
        for function in (*hanging.fed_by, *homes):
            farthest[function] = max(farthest[function], hanging.load.back_m)
    return {name: length_m for name, length_m in farthest.items() if length_m > 0}


def _by_frame(rig: Rig, hanging: Hanging) -> bool:
    return rig.trailer.returns is Returns.FRAME and hanging.home == GROUND


def _in_colour(wire: Wire, colour: Colour | None) -> Wire:
    return Wire(wire.size, wire.length_m, wire.colour or colour, wire.insulation)


def _cut(name: str, wire: Wire, start: str, end: str) -> Cut:
    return Cut(name, wire.size, wire.colour, start, end, wire.length_m)
