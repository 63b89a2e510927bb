"""Which traps of the trade a rig walks into, or passes close by.

The traps themselves, with their sources, are rows of the trap table; here stands only how each
is recognised on a rig. A trap is grave where the rig as described would hurt or damage.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from loomwright.hookup.demand import used_functions
from loomwright.hookup.model import Pair, Standing, TrapFound
from loomwright.reference.connectors import connector
from loomwright.reference.traps import Trap, traps
from loomwright.rig.model import (
    Braking,
    ConverterKind,
    Feed,
    Join,
    LampDrive,
    Led,
    Live,
    Rig,
    SocketFeed,
)

Detector = Callable[[Rig, tuple[Pair, ...]], str | None]

SUPPLIES = frozenset({"battery", "charge", "ignition", "aux", "aux2"})
TWO_VOLTAGE_BODIES = frozenset({"7-heavy", "24n", "au-7-heavy"})


def traps_met(rig: Rig, pairs: tuple[Pair, ...]) -> tuple[TrapFound, ...]:
    """Return the traps of this rig, grave ones first, in the order of the trap table."""
    found = [_found(row, rig, pairs) for row in traps()]
    met = [trap for trap in found if trap is not None]
    return tuple(sorted(met, key=lambda trap: not trap.grave))


def _found(row: Trap, rig: Rig, pairs: tuple[Pair, ...]) -> TrapFound | None:
    grave = _where(GRAVE.get(row.key, ()), rig, pairs)
    near = grave or _where(NEAR.get(row.key, ()), rig, pairs)
    if near is None:
        return None
    return TrapFound(row.key, near, row.says, row.do, grave is not None, row.source)


def _where(detectors: Iterable[Detector], rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    return next((where for look in detectors if (where := look(rig, pairs)) is not None), None)


def _connectors(rig: Rig) -> Iterator[tuple[str, str]]:
    yield from ((socket.name, socket.connector) for socket in rig.sockets)
    yield "trailer plug", rig.trailer.plug


def _at(*keys: str) -> Detector:
    def look(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
        del pairs
        return next((name for name, key in _connectors(rig) if key in keys), None)

    return look


def _two_blade_conventions(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    blades = {connector(key).row.family for _, key in _connectors(rig)} == {"7-blade"}
    trap = any(pair.stage == "plug" and pair.standing is Standing.TRAP for pair in pairs)
    return "between the lead and the trailer cord" if blades and trap else None


def _pin_means_two_things(rig: Rig, pairs: tuple[Pair, ...], functions: set[str]) -> str | None:
    del rig
    for pair in pairs:
        ends = (pair.vehicle_side, pair.trailer_side)
        if pair.stage == "splice" or None in ends:
            continue
        met = {end.function for end in ends if end is not None}
        if met == functions:
            return f"pin {pair.trailer_side.pin}" if pair.trailer_side else None
    return None


def _brake_and_supply_crossed(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    crossed = ({"brake", name} for name in SUPPLIES)
    return next((at for pair in crossed if (at := _pin_means_two_things(rig, pairs, pair))), None)


def _fifth_wire_crossed(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    return _pin_means_two_things(rig, pairs, {"brake", "reverse"})


def _surge_without_reverse(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    if rig.trailer.braking is not Braking.SURGE:
        return None
    fed = any(
        pair.function == "reverse" and pair.vehicle_side and pair.trailer_side
        for pair in pairs
        if pair.stage != "splice"
    )
    return None if fed and rig.vehicle.feed_for("reverse") else "reverse lockout of the coupler"


def _systems_joined(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    if rig.vehicle.signals is rig.trailer.signals:
        return None
    wanted = (ConverterKind.COMBINE, ConverterKind.SPLIT)
    if rig.converter is not None and rig.converter.kind in wanted:
        return None
    return "stop and turn wires"


def _tails_joined(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    sides = {"tail_left", "tail_right"}
    apart = sides <= {feed.function for feed in rig.vehicle.feeds}
    joined = any(sides & set(socket_functions) == set() for socket_functions in _leads(rig))
    takes_one = any(wire.function == "tail" for wire in rig.trailer.cord)
    return "left and right position feeds" if apart and joined and takes_one else None


def _leads(rig: Rig) -> Iterator[frozenset[str]]:
    yield from (frozenset(wire.function for wire in socket.lead) for socket in rig.sockets)


def _returns_joined(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    plug = connector(rig.trailer.plug)
    apart = {plug.pin(number).function for number in plug.returns_kept_apart}
    for group in rig.trailer.joined_returns:
        tied = apart & set(group)
        if len(tied) > 1:
            pins = sorted(plug.pin_for(name).number for name in tied)
            return f"returns {', '.join(pins)} of the {plug.key} plug"
    return None


def _voltages_differ(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    same = rig.vehicle.supply.nominal_v == rig.trailer.nominal_v
    mended = rig.converter is not None and rig.converter.kind is ConverterKind.STEP_DOWN
    return None if same or mended else "between vehicle and trailer"


def _two_voltage_body(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    return next((name for name, key in _connectors(rig) if key in TWO_VOLTAGE_BODIES), None)


def _australian_and_european(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    mixed = {rig.towing_socket.connector, rig.trailer.plug}
    return "trailer plug" if mixed == {"12n", "au-7-round-large"} else None


def _supplies(rig: Rig) -> Iterator[Feed]:
    yield from (feed for feed in rig.vehicle.feeds if feed.function in SUPPLIES)


def _unfused(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    return next((f"{feed.function} feed" for feed in _supplies(rig) if feed.fuse is None), None)


def _always_live(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    if rig.trailer.battery is None and not rig.trailer.appliances:
        return None
    live = (feed for feed in _supplies(rig) if feed.live is Live.ALWAYS)
    used = used_functions(rig.trailer)
    return next((f"{feed.function} feed" for feed in live if feed.function in used), None)


def _watched_lamps(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    spliced = rig.vehicle.socket_feed is SocketFeed.SHARED
    watched = rig.vehicle.lamp_drive is not LampDrive.STEADY
    powered = rig.converter is not None and rig.converter.powered
    return "vehicle lamp wires" if watched and spliced and not powered else None


def _led_trailer(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    for lamp in rig.trailer.lamps:
        if any(isinstance(light.source, Led) for light in lamp.lights):
            return f"{lamp.name} lamp"
    return None


def _colour_trap(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del rig
    hit = next((pair for pair in pairs if pair.standing is Standing.TRAP), None)
    return f"{hit.socket}: {hit.function}" if hit is not None else None


def _spliced_loom(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    joins = (socket for socket in rig.sockets if socket.join not in (Join.FACTORY, Join.TEE))
    return next((f"splices of the {socket.name} socket" for socket in joins), None)


def _families_differ(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    families = {connector(key).row.family for _, key in _connectors(rig)}
    return "between the connectors of this rig" if len(families) > 1 else None


def _several_returns(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    del pairs
    return next((n for n, key in _connectors(rig) if connector(key).returns_kept_apart), None)


GRAVE: dict[str, tuple[Detector, ...]] = {
    "two-blade-conventions": (_two_blade_conventions,),
    "six-way-exchange": (_brake_and_supply_crossed,),
    "fifth-wire": (_fifth_wire_crossed,),
    "surge-brakes-in-reverse": (_surge_without_reverse,),
    "combined-and-separate": (_systems_joined,),
    "left-and-right-tail": (_tails_joined,),
    "returns-joined": (_returns_joined,),
    "australian-in-european": (_australian_and_european,),
    "two-voltages-one-body": (_voltages_differ,),
    "unfused-supply": (_unfused,),
    "charge-line-drains": (_always_live,),
    "monitored-lamps": (_watched_lamps,),
}
"""How a trap is recognised where the rig walks into it."""

NEAR: dict[str, tuple[Detector, ...]] = {
    "mirror": (_spliced_loom,),
    "centre-is-no-ground": (_at("7-blade", "7-blade-rv", "6-round-a", "6-round-b"),),
    "six-way-exchange": (_at("6-round-a", "6-round-b"),),
    "fifth-wire": (_at("5-flat-reverse", "5-flat-brake"),),
    "returns-joined": (_several_returns,),
    "older-13-pin": (_at("13-pin"),),
    "contact-12": (_at("13-pin"),),
    "fog-cut-off": (_at("12n", "13-pin"),),
    "contact-2-of-seven": (_at("12n", "12s", "au-7-round-large"),),
    "two-voltages-one-body": (_two_voltage_body,),
    "farm-tractor": (_at("7-heavy-farm"),),
    "second-seven-way": (_at("24s"),),
    "twelve-s-change": (_at("12s", "12s-pre-1998"),),
    "loom-colours": (_spliced_loom,),
    "lamp-leads": (_led_trailer,),
    "colour-is-a-hint": (_colour_trap,),
    "same-colour-narrower-job": (_families_differ,),
    "numbers-shift": (_families_differ,),
    "two-whites": (_at("au-12-flat"),),
}
"""How a trap is recognised where the rig only passes close by."""
