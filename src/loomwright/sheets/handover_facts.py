"""What a rig says for its record: who and what, the steps, each wire, and each place to name.

Plain values that JSON takes: they are frozen into the record as they are now, and printed from
there. A colour stands in words, which every legend reads alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from loomwright.colours import Colour
from loomwright.hookup.model import End, Hookup, Pair
from loomwright.quantities import show_current, show_diameter, show_length, unbroken
from loomwright.reference.connectors import connector
from loomwright.reference.fuses import fuse_kind
from loomwright.reference.joints import joint
from loomwright.rig.model import Feed, GroundMethod, Returns, Rig, Socket, Wire
from loomwright.sheets.facts import facts_of
from loomwright.sheets.head import job_line, rig_facts
from loomwright.sheets.steps import figures_of, steps_for
from loomwright.sheets.words import (
    capital,
    connector_title,
    feed_name,
    function_title,
    size_words,
)

Plain = dict[str, Any]

AT_FRAME = "ring terminal on bare frame"


def record_facts(rig: Rig, hookup: Hookup) -> Plain:
    """Return what the rig says for its record.

    Parameters
    ----------
    rig : Rig
        The rig.
    hookup : Hookup
        Its pairing.
    """
    return {
        "rig": rig.name,
        "job": job_line(rig),
        "facts": [[name, value] for name, value in rig_facts(rig)],
        "technician": rig.technician,
        "noted": rig.notes,
        "steps": [*_steps(rig)],
        "maps": [*_maps(rig, hookup)],
        "places": [*_splices(hookup), *_fuses(rig), *_grounds(rig), *_holes(rig)],
        "has": sorted(facts_of(rig)),
    }


def _steps(rig: Rig) -> Iterator[Plain]:
    figures = figures_of(rig)
    for step in steps_for(rig):
        says = unbroken(capital(step.says.format_map(figures)))
        yield {"key": step.key, "phase": step.phase, "says": says}


def _maps(rig: Rig, hookup: Hookup) -> Iterator[Plain]:
    """Yield the wire map of each socket, pin by pin."""
    for socket in rig.sockets:
        part = connector(socket.connector)
        tows = socket.name == rig.towing
        yield {
            "socket": socket.name,
            "connector": part.title,
            "location": socket.location,
            "plug": _plug(rig) if tows else "",
            "rows": [*_map_rows(rig, hookup, socket)],
        }


def _plug(rig: Rig) -> str:
    return connector_title(rig.trailer.plug)


def _map_rows(rig: Rig, hookup: Hookup, socket: Socket) -> Iterator[Plain]:
    tows = socket.name == rig.towing
    for wire in socket.lead:
        splice = _pair(hookup, "splice", socket.name, wire.function)
        plug = _pair(hookup, "plug", socket.name, wire.function) if tows else None
        yield {
            "pin": wire.pin,
            "function": function_title(wire.function),
            "vehicle": _vehicle_side(rig, splice, wire.function),
            "lead": _conductor(wire.wire),
            "cord": _cord(plug.trailer_side) if plug and plug.trailer_side else None,
        }


def _pair(hookup: Hookup, stage: str, socket: str, function: str) -> Pair | None:
    """Return the pair of a socket's conductor; `function` is what the pin is for there."""
    for pair in hookup.at(stage):
        end = pair.trailer_side if stage == "splice" else pair.vehicle_side
        if pair.socket == socket and end is not None and end.function == function:
            return pair
    return None


def _vehicle_side(rig: Rig, splice: Pair | None, function: str) -> Plain | None:
    if splice is not None and splice.vehicle_side is not None:
        return _end(splice.vehicle_side)
    feed = rig.vehicle.feed_for(function)
    return None if feed is None or splice is not None else _conductor(feed.wire, feed.found)


def _end(end: End) -> Plain:
    return {
        "colour": _words(end.colour),
        "size": size_words(end.size),
        "at": AT_FRAME if end.of == "frame" else end.place or _of(end),
    }


def _cord(end: End) -> Plain:
    return {"colour": _words(end.colour), "size": size_words(end.size), "at": ""}


def _of(end: End) -> str:
    return f"terminal “{function_title(end.function)}”" if end.of == "converter" else ""


def _conductor(wire: Wire, at: str = "") -> Plain:
    return {"colour": _words(wire.colour), "size": size_words(wire.size), "at": at}


def _words(colour: Colour | None) -> str:
    return "" if colour is None else colour.words


def _splices(hookup: Hookup) -> Iterator[Plain]:
    for pair in hookup.at("splice"):
        if pair.vehicle_side is None or pair.trailer_side is None or pair.splice is None:
            continue
        if pair.vehicle_side.of == "frame":
            continue
        function = pair.trailer_side.function
        yield _place(
            f"splice.{pair.socket}.{function}",
            f"{function_title(function)}, “{pair.socket}”",
            capital(joint(pair.splice.kind).title),
            (_end(pair.vehicle_side), _end(pair.trailer_side)),
            pair.vehicle_side.place,
        )


def _fuses(rig: Rig) -> Iterator[Plain]:
    converter = rig.converter.feed if rig.converter is not None else None
    feeds: list[Feed] = [*rig.vehicle.feeds, *([converter] if converter is not None else [])]
    for feed in feeds:
        if feed.fuse is None:
            continue
        name = feed_name(rig, feed)
        rating = show_current(feed.fuse.rating_a)
        detail = f"{rating}, {fuse_kind(feed.fuse.kind).title}"
        new = ", new in this job" if feed.new or feed is converter else ""
        wires = (_conductor(feed.wire, feed.found),)
        yield _place(f"fuse.{name}", capital(name), f"{detail}{new}", wires)


def _grounds(rig: Rig) -> Iterator[Plain]:
    for socket in rig.sockets:
        own = socket.ground_method is GroundMethod.OWN_RING
        detail = capital(AT_FRAME) if own else "Joined to the ground wire that was there"
        wires = (_conductor(socket.ground),)
        yield _place(f"ground.{socket.name}", f"Socket “{socket.name}”", detail, wires)
    if rig.converter is not None:
        wires = (_conductor(rig.converter.ground),)
        yield _place("ground.converter", "Converter", capital(AT_FRAME), wires)
    by_wire = rig.trailer.returns is Returns.WIRE
    detail = "Ground wire to every load" if by_wire else "Through the frame of the trailer"
    yield _place("ground.trailer", "Trailer", detail)


def _holes(rig: Rig) -> Iterator[Plain]:
    for socket in rig.sockets:
        for leg in socket.legs:
            if leg.hole_mm is None:
                continue
            size = show_diameter(leg.hole_mm, rig.units)
            passes = f", {leg.passes}" if leg.passes else ""
            length = show_length(leg.length_m, rig.units)
            title = f"{capital(leg.name)}, “{socket.name}”"
            detail = f"{size}{passes}; this leg {length}"
            yield _place(f"hole.{socket.name}.{leg.name}", title, detail)


def _place(
    key: str,
    title: str,
    detail: str,
    wires: tuple[Plain, ...] = (),
    known: str = "",
) -> Plain:
    return {
        "key": key,
        "kind": key.partition(".")[0],
        "title": title,
        "detail": detail,
        "known": known,
        "wires": [*wires],
    }


def places_of(facts: Mapping[str, Any], kind: str) -> list[Plain]:
    """Return the places of one kind: splice, fuse, ground or hole."""
    return [place for place in facts["places"] if place["kind"] == kind]
