"""A general circuit simulator finds the same voltage at every node, for every command."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.rigs import (
    awg,
    brake_rig,
    caravan_rig,
    feed,
    lamp,
    marker,
    simple_rig,
    simple_socket,
    simple_trailer,
    simple_vehicle,
    step_down_rig,
    supply,
    van_rig,
)
from tests.spice import run_decks

from loomwright.circuit import Case, spice_nodes, write_spice
from loomwright.electrics.cases import case_for
from loomwright.electrics.commands import commands_for
from loomwright.electrics.conditions import conditions_for
from loomwright.electrics.solved import settle
from loomwright.electrics.wiring import wire_up
from loomwright.rig.model import (
    Appliance,
    BrakeController,
    ConverterKind,
    GroundMethod,
    Join,
    Led,
    Light,
    Returns,
    Rig,
    SocketFeed,
)

TOLERANCE_V = 1e-6 * 12.0


def led_rig() -> Rig:
    """LED lamps of all three electrical forms, home by the frame and the ball."""
    lights = (
        Light("tail", Led("string-3", 0.04, 12.8)),
        Light("left_stop_turn", Led("linear", 0.25, 12.8)),
        Light("right_stop_turn", Led("switch-mode", 0.25, 12.8)),
    )
    trailer = simple_trailer(
        returns=Returns.FRAME,
        hitch_path_ohm=0.05,
        condition="aged",
        lamps=(
            lamp("rear", "centre", 3.5, lights=lights),
            marker("side", "left", 1.0),
        ),
    )
    return simple_rig(trailer=trailer)


def pulsed_rig() -> Rig:
    """A tail feed of 22 % duty on filaments and LEDs, and a controller that holds back 5 %."""
    rig = brake_rig()
    feeds = tuple(
        replace(each, duty=0.22) if each.function == "tail" else each for each in rig.vehicle.feeds
    )
    controller = BrakeController(0.95, 25.0, lever_lights_stop_lamps=True)
    lamps = (
        *rig.trailer.lamps,
        lamp("plate", "left", 6.0, lights=(Light("tail", Led("string-white", 0.06, 12.8)),)),
    )
    return replace(
        rig,
        vehicle=replace(rig.vehicle, feeds=feeds, brake_controller=controller),
        trailer=replace(rig.trailer, lamps=lamps),
    )


def charger_rig() -> Rig:
    """A DC-DC charger and a compressor refrigerator on one charge line."""
    rig = brake_rig()
    assert rig.trailer.battery is not None
    battery = replace(rig.trailer.battery, charger_power_w=180.0, charger_max_input_a=15.0)
    fridge = Appliance(
        "refrigerator",
        "battery",
        "constant-power",
        60.0,
        12.0,
        2.0,
        awg("14", 1.0),
        awg("14", 1.0),
        "sealed-butt",
    )
    return replace(rig, trailer=replace(rig.trailer, battery=battery, appliances=(fridge,)))


def chained_rig() -> Rig:
    """A bed socket branched off the factory's, its ground in the old wire; an adapter to 4-flat."""
    rig = brake_rig()
    bed = replace(
        rig.sockets[0],
        name="bed",
        join=Join.BRANCHED,
        joins_from="rear 7-way",
        joint="sealed-butt",
        ground_method=GroundMethod.OLD_WIRE,
    )
    old = replace(rig.sockets[0], ground_method=GroundMethod.OLD_WIRE)
    return replace(rig, sockets=(old, bed), towing="bed", trailer=simple_trailer())


def short_rig() -> Rig:
    """A heater far beyond its fuse, which opens."""
    heater = Appliance(
        "heater",
        "tail",
        "resistance",
        600.0,
        12.0,
        1.0,
        awg("10", 0.5),
        awg("10", 0.5),
        "sealed-butt",
    )
    return simple_rig(trailer=simple_trailer(appliances=(heater,)))


def plain_converter_rig() -> Rig:
    """A converter that passes the vehicle's own current on."""
    rig = van_rig()
    assert rig.converter is not None
    box = replace(rig.converter, powered=False, feed=None, on_resistance_ohm=0.2)
    return replace(rig, converter=box)


def splitting_rig() -> Rig:
    """Combined vehicle, separate trailer."""
    caravan, pick_up = caravan_rig(), simple_rig()
    box = van_rig().converter
    assert box is not None
    channels = dict.fromkeys(("left_turn", "right_turn", "stop", "tail"), 5.0)
    box = replace(box, kind=ConverterKind.SPLIT, channel_a=channels)
    socket = replace(caravan.sockets[0], joins_from="converter")
    return replace(caravan, vehicle=pick_up.vehicle, converter=box, sockets=(socket,))


def relay_rig() -> Rig:
    """Sockets fed by relays: a switched-off circuit is a dead end."""
    vehicle = simple_vehicle(
        socket_feed=SocketFeed.RELAY,
        supply=supply(resting_v=12.2),
        feeds=(feed("tail"), feed("left_stop_turn"), feed("right_stop_turn")),
    )
    return simple_rig(vehicle=vehicle, sockets=(simple_socket(),))


RIGS = (
    simple_rig,
    brake_rig,
    van_rig,
    caravan_rig,
    led_rig,
    pulsed_rig,
    charger_rig,
    chained_rig,
    short_rig,
    plain_converter_rig,
    splitting_rig,
    step_down_rig,
    relay_rig,
)


@pytest.mark.parametrize("make", RIGS, ids=lambda make: make.__name__)
def test_ngspice_agrees_at_every_node_under_every_command(make: Callable[[], Rig]) -> None:
    rig = make()
    checks = []
    for conditions in conditions_for(rig):
        wiring = wire_up(rig, conditions)
        for command in commands_for(rig):
            case = case_for(wiring, command)
            solution, _ = settle(wiring, case)
            deck = write_spice(wiring.network, case, command.title, solution)
            checks.append((f"{conditions.key}: {command.key}", wiring.network, solution, deck))

    decks = [deck for *_, deck in checks]
    for (what, network, solution, _), volts in zip(checks, run_decks(decks), strict=True):
        for node, name in spice_nodes(network).items():
            if node != network.reference:
                apart_v = abs(solution.voltages_v[node] - volts[name])
                assert apart_v <= TOLERANCE_V, f"{what}: {node}"


@pytest.mark.parametrize("element", ["contact_1_ground", "lamp_left_rear_ground_wire"])
def test_ngspice_agrees_where_a_ground_is_open(element: str) -> None:
    """Open grounds send currents backwards through filaments: the hardest cases."""
    rig = simple_rig()
    wiring = wire_up(rig)
    fault = Case(resistance_ohm={element: float("inf")})
    commands = commands_for(rig)
    cases = [case_for(wiring, command, fault) for command in commands]
    solutions = [settle(wiring, case)[0] for case in cases]
    decks = [
        write_spice(wiring.network, case, "open ground", solution)
        for case, solution in zip(cases, solutions, strict=True)
    ]
    for command, solution, volts in zip(commands, solutions, run_decks(decks), strict=True):
        for node, name in spice_nodes(wiring.network).items():
            if node != wiring.network.reference:
                apart_v = abs(solution.voltages_v[node] - volts[name])
                assert apart_v <= TOLERANCE_V, f"{command.key}: {node}"
