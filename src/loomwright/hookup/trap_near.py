"""Traps a rig passes close by: true of its kind, and worth a look before the work begins."""

from __future__ import annotations

from loomwright.hookup.model import Pair, Standing
from loomwright.hookup.trap_looks import Detector, at, connectors_of, families, socket_words
from loomwright.reference.connectors import connector
from loomwright.rig.model import Join, Led, Rig

TWO_VOLTAGES = ("7-heavy", "24n", "au-7-heavy")
HEAVY_FAMILY = "7-heavy"


def several_returns(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """A connector whose returns must stay apart."""
    del pairs
    return next((n for n, key in connectors_of(rig) if connector(key).returns_kept_apart), None)


def tails_apart(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """A connector with a tail feed for each side."""
    del pairs
    return next((n for n, key in connectors_of(rig) if connector(key).feeds_kept_apart), None)


def second_heavy_socket(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Two sockets of the heavy-duty body: the second is allocated by the fleet."""
    del pairs
    heavy = [s for s in rig.sockets if connector(s.connector).row.family == HEAVY_FAMILY]
    return socket_words(heavy[1]) if len(heavy) > 1 else None


def led_trailer(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """LED lamps on the trailer, sold with leads of their own colours."""
    del pairs
    for lamp in rig.trailer.lamps:
        if any(isinstance(light.source, Led) for light in lamp.lights):
            return f"{lamp.name} lamp"
    return None


def colour_trap(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """A joint where the colour points elsewhere."""
    del rig
    for pair in pairs:
        end = pair.trailer_side or pair.vehicle_side
        if pair.standing is Standing.TRAP and end is not None:
            pin = f", pin {end.pin}" if end.pin else ""
            return f"{pair.socket}{pin}"
    return None


def spliced_loom(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Wires of the vehicle are joined by hand."""
    del pairs
    joins = (socket for socket in rig.sockets if socket.join not in (Join.FACTORY, Join.TEE))
    return next((f"splices of the {socket_words(socket)}" for socket in joins), None)


def families_differ(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Connectors of more than one family on one rig."""
    del pairs
    return "between the connectors of this rig" if len(families(rig)) > 1 else None


def systems_differ(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Combined and separate signals on one rig, whatever mends it."""
    del pairs
    systems = {connector(key).system for _, key in connectors_of(rig)} - {"none"}
    systems |= {rig.vehicle.signals.value, rig.trailer.signals.value}
    return "between stop and turn of vehicle and trailer" if len(systems) > 1 else None


NEAR: dict[str, tuple[Detector, ...]] = {
    "mirror": (spliced_loom,),
    "centre-is-no-ground": (at("7-blade", "7-blade-rv", "6-round-a", "6-round-b"),),
    "six-way-exchange": (at("6-round-a", "6-round-b"),),
    "fifth-wire": (at("5-flat-reverse", "5-flat-brake"),),
    "left-and-right-tail": (tails_apart,),
    "returns-joined": (several_returns,),
    "older-13-pin": (at("13-pin"),),
    "contact-12": (at("13-pin"),),
    "fog-cut-off": (at("12n", "13-pin"),),
    "contact-2-of-seven": (at("12n", "12s", "12s-pre-1998", "au-7-round-large"),),
    "two-voltages-one-body": (at(*TWO_VOLTAGES),),
    "farm-tractor": (at("7-heavy-farm"),),
    "second-seven-way": (at("24s"), second_heavy_socket),
    "twelve-s-change": (at("12s", "12s-pre-1998"),),
    "loom-colours": (spliced_loom,),
    "lamp-leads": (led_trailer,),
    "colour-is-a-hint": (colour_trap,),
    "same-colour-narrower-job": (systems_differ,),
    "numbers-shift": (families_differ,),
    "two-whites": (at("au-12-flat"),),
}
"""How a trap is recognised where the rig only passes close by."""
