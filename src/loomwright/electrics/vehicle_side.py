"""The vehicle as part of the network: battery, feeds, its own lamps, chassis."""

from __future__ import annotations

from loomwright.circuit import Resistor, Source
from loomwright.electrics.carriers import inputs_of
from loomwright.electrics.harness import BATTERY_PLUS, CHASSIS, REFERENCE, Harness, Spot, slug
from loomwright.electrics.lights import LightAt, add_light
from loomwright.electrics.resistances import DRIVER_OHM, LEAST_OHM
from loomwright.rig.model import BrakeController, Feed, Rig, SocketFeed

SUPPLY = "battery"
BRAKE_CONTROLLER = "brake_controller"
VEHICLE_GROUND = "vehicle_ground"


def feed_node(function: str) -> str:
    """Node where the wire of a feed ends and the trailer wiring joins."""
    return slug("feed", function)


def feed_switch(function: str) -> str:
    """Name of the switch or driver of a feed."""
    return slug("feed", function, "switch")


def add_vehicle(bench: Harness, rig: Rig) -> None:
    """Put the supply, the chassis and every feed on the bench."""
    vehicle = rig.vehicle
    supply = vehicle.supply
    spot = Spot("supply", "battery", "battery", "vehicle.supply")
    bench.add(
        Source(SUPPLY, BATTERY_PLUS, REFERENCE, bench.conditions.emf_v, supply.resistance_ohm),
        "supply",
        "vehicle battery",
        spot,
    )
    home = Spot("return", "chassis", "ground", "vehicle.chassis")
    ohm = max(vehicle.chassis_resistance_ohm, LEAST_OHM)
    bench.add(
        Resistor("chassis_to_battery", CHASSIS, REFERENCE, ohm),
        "chassis",
        "vehicle chassis to battery negative",
        home,
    )
    for feed in vehicle.feeds:
        _add_feed(bench, feed, vehicle.brake_controller)
        if _lamps_share_the_wire(rig, feed.function):
            _add_own_lights(bench, feed, supply.nominal_v)


def add_vehicle_ground(bench: Harness, rig: Rig) -> str:
    """Return the node where the vehicle's own ground wire for the trailer begins."""
    if "vehicle_ground_wire" not in bench.parts:
        spot = Spot("return", "chassis", "ground", "vehicle.ground")
        ring = "vehicle_ground_ring"
        place = "vehicle's ground wire"
        bench.wire("vehicle_ground_wire", (VEHICLE_GROUND, ring), rig.vehicle.ground, place, spot)
        bench.joint(
            "vehicle_ground_stud", (ring, CHASSIS), "ring-terminal", "ring of " + place, spot
        )
    return VEHICLE_GROUND


def add_fuse(bench: Harness, name: str, feed: Feed, place: str, spot: Spot) -> str:
    """Put in the fuse of a feed, if it has one; return the node behind it."""
    if feed.fuse is None:
        return BATTERY_PLUS
    behind = slug(name, "fused")
    words = f"fuse of the {place}"
    bench.fuse(slug(name, "fuse"), (BATTERY_PLUS, behind), feed.fuse, words, spot.at("fuse"))
    return behind


def _add_feed(bench: Harness, feed: Feed, controller: BrakeController | None) -> None:
    function = feed.function
    spot = Spot("supply", "feed", function, f"vehicle.feed.{function}")
    place = f"{function.replace('_', ' ')} feed"
    name = slug("feed", function)
    fused = add_fuse(bench, name, feed, place, spot)
    switched = slug(name, "switched")
    bench.switch(
        feed_switch(function), (fused, switched), DRIVER_OHM, f"driver of the {place}", spot
    )
    if function == "brake" and controller is not None and controller.output_share < 1.0:
        switched = _add_brake_output(bench, switched, spot)
    bench.wire(
        slug(name, "wire"), (switched, feed_node(function)), feed.wire, f"{place} wire", spot
    )


def _add_brake_output(bench: Harness, before: str, spot: Spot) -> str:
    """Let a series EMF take what the controller holds back of the mean voltage.

    A pulsed output of share d into magnets (which freewheel) has the mean d V behind the same
    wires, so a counter EMF of (1 - d) V in series gives exactly the mean voltages and currents
    a meter shows. Only upstream of the controller the current is told too high, by 1 / d.
    """
    after = slug(BRAKE_CONTROLLER, "output")
    place = "brake controller, what it holds back"
    bench.add(Source(BRAKE_CONTROLLER, before, after, 0.0, LEAST_OHM), "switch", place, spot)
    return after


def _lamps_share_the_wire(rig: Rig, function: str) -> bool:
    """Whether the vehicle's own lamps lie on the wire the network has for this feed.

    With a relay or module the socket's wire is an output of its own: the vehicle's lamps are
    not on it. A powered converter taps the lamps' own wires.
    """
    if rig.vehicle.socket_feed is SocketFeed.SHARED:
        return True
    box = rig.converter
    if box is None or not box.powered:
        return False
    fed = [feed.function for feed in rig.vehicle.feeds]
    return any(function in inputs_of(output, fed) for output in box.channel_a)


def _add_own_lights(bench: Harness, feed: Feed, nominal_v: float) -> None:
    for number, light in enumerate(feed.lights, start=1):
        spot = Spot("supply", "load", feed.function, f"vehicle.feed.{feed.function}.lamp")
        at = LightAt(
            slug("vehicle_lamp", feed.function, number),
            f"vehicle {feed.function.replace('_', ' ')} {number}",
            "vehicle lamp",
            feed_node(feed.function),
            CHASSIS,
            nominal_v,
            feed.function,
        )
        add_light(bench, light, at, spot)
