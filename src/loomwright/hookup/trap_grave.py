"""Traps a rig walks into: as described, it would hurt, damage or fail."""

from __future__ import annotations

from loomwright.hookup.demand import used_functions
from loomwright.hookup.ends import offered_to
from loomwright.hookup.model import Pair
from loomwright.hookup.needs import lamps_are_watched, signals_are_mended, voltage_is_mended
from loomwright.hookup.trap_looks import (
    SUPPLIES,
    Detector,
    crossed,
    meeting_keys,
    pins_of,
    plug_trap,
    supplies,
)
from loomwright.reference.connectors import connector
from loomwright.reference.functions import function
from loomwright.rig.model import Braking, Join, Live, Rig

CENTRES = {"7-blade": "7", "7-blade-rv": "7", "6-round-a": "A", "6-round-b": "A"}
"""Centre contact of the connectors whose centre people take for a ground."""

TAIL_SIDES = frozenset({"tail_left", "tail_right"})


def two_blade_conventions(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Two seven-way blade colour codes meet at one plug."""
    blades = {connector(key).row.family for key in meeting_keys(rig)} == {"7-blade"}
    return "between the lead and the trailer cord" if blades and plug_trap(pairs) else None


def centre_is_ground(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Somebody has wired a return to the centre contact."""
    del pairs
    for where, key, wire in pins_of(rig):
        if CENTRES.get(key) == wire.pin and function(wire.function).is_return:
            return f"centre contact of the {where}"
    return None


def brake_and_supply_crossed(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """One pin carries a supply on one side and the brakes on the other."""
    del rig
    return crossed(pairs, {"brake"}, SUPPLIES)


def fifth_wire_crossed(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """One pin carries reverse on one side and the brakes on the other."""
    del rig
    return crossed(pairs, {"brake"}, {"reverse"})


def surge_without_reverse(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """North American surge brakes get no reverse feed to release them.

    Overrun brakes elsewhere free themselves when backing (ECE R13, from memory).
    """
    american = "US" in connector(rig.trailer.plug).row.regions
    if rig.trailer.braking is not Braking.SURGE or not american:
        return None
    arrives = any(
        pair.stage != "splice"
        and pair.vehicle_side is not None
        and pair.trailer_side is not None
        and pair.vehicle_side.function == pair.trailer_side.function == "reverse"
        for pair in pairs
    )
    is_fed = arrives and rig.vehicle.feed_for("reverse") is not None
    return None if is_fed else "reverse lockout of the coupler"


def systems_joined(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Separate and combined signals meet without a converter."""
    del pairs
    return None if signals_are_mended(rig) else "stop and turn wires"


def tails_joined(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Left and right tail feeds kept apart on one side come to one conductor on the other."""
    del pairs
    meets = [(set(offered_to(rig, s)), s.lead) for s in rig.sockets if s.join is not Join.FACTORY]
    meets.append(({wire.function for wire in rig.towing_socket.lead}, rig.trailer.cord))
    for feeds, wires in meets:
        taken = {wire.function for wire in wires}
        if feeds >= TAIL_SIDES and "tail" in taken and not taken & TAIL_SIDES:
            return "left and right tail feeds"
    return None


def returns_joined(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Returns that the connector keeps apart are tied together on the trailer."""
    del pairs
    plug = connector(rig.trailer.plug)
    pin_of = {plug.pin(number).function: number for number in plug.returns_kept_apart}
    for group in rig.trailer.joined_returns:
        tied = sorted((pin_of[name] for name in group if name in pin_of), key=int)
        if len(tied) > 1:
            return f"returns {', '.join(tied)} of the {plug.key} plug"
    return None


def load_on_coding(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """A load of the trailer hangs on contact 12 of a thirteen-pin plug."""
    del pairs
    loaded = rig.trailer.plug == "13-pin" and "coding" in used_functions(rig.trailer)
    return "contact 12 of the trailer plug" if loaded else None


def contact_2_crossed(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Contact 2 of a seven-pin body means one thing on each side."""
    if not meeting_keys(rig) & {"12n", "12s", "12s-pre-1998", "au-7-round-large"}:
        return None
    ends = [(pair.vehicle_side, pair.trailer_side) for pair in pairs if pair.stage == "plug"]
    differs = any(a and b and b.pin == "2" and a.function != b.function for a, b in ends)
    return "contact 2 of the trailer plug" if differs else None


def australian_and_european(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """An Australian round plug and a 12N meet by their common body."""
    del pairs
    mixed = meeting_keys(rig) == {"12n", "au-7-round-large"}
    return "trailer plug" if mixed else None


def voltages_differ(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """Vehicle and trailer run on different voltages and nothing stands between."""
    del pairs
    return None if voltage_is_mended(rig) else "between vehicle and trailer"


def farm_contacts_crossed(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """A tractor's switched supply or work lamps reach lamp circuits of the trailer."""
    if "7-heavy-farm" not in meeting_keys(rig):
        return None
    lamps = {"stop", "tail", "clearance"}
    return crossed(pairs, {"ignition", "worklight"}, lamps)


def unfused(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """A supply has no fuse at its source."""
    del pairs
    return next((name for name, feed in supplies(rig) if feed.fuse is None), None)


def always_live(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """A supply that is always live feeds something that can empty the vehicle's battery."""
    del pairs
    if rig.trailer.battery is None and not rig.trailer.appliances:
        return None
    used = used_functions(rig.trailer)
    live = (feed for feed in rig.vehicle.feeds if feed.live is Live.ALWAYS)
    return next((f"{f.function} feed" for f in live if f.function in SUPPLIES & used), None)


def twelve_s_mixed(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """A 12S from before the change meets one from after it."""
    del pairs
    return "trailer plug" if meeting_keys(rig) == {"12s", "12s-pre-1998"} else None


def watched_lamps(rig: Rig, pairs: tuple[Pair, ...]) -> str | None:
    """The trailer hangs on lamp circuits the vehicle watches or pulses."""
    del pairs
    return "vehicle lamp wires" if lamps_are_watched(rig) else None


GRAVE: dict[str, tuple[Detector, ...]] = {
    "two-blade-conventions": (two_blade_conventions,),
    "centre-is-no-ground": (centre_is_ground,),
    "six-way-exchange": (brake_and_supply_crossed,),
    "fifth-wire": (fifth_wire_crossed,),
    "surge-brakes-in-reverse": (surge_without_reverse,),
    "combined-and-separate": (systems_joined,),
    "left-and-right-tail": (tails_joined,),
    "returns-joined": (returns_joined,),
    "contact-12": (load_on_coding,),
    "contact-2-of-seven": (contact_2_crossed,),
    "australian-in-european": (australian_and_european,),
    "two-voltages-one-body": (voltages_differ,),
    "farm-tractor": (farm_contacts_crossed,),
    "unfused-supply": (unfused,),
    "charge-line-drains": (always_live,),
    "twelve-s-change": (twelve_s_mixed,),
    "monitored-lamps": (watched_lamps,),
}
"""How a trap is recognised where the rig walks into it."""
