"""Rigs of every kind, for the laws and the simulator to try."""

from dataclasses import replace
from functools import cache

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

from loomwright.electrics.answers import Answers
from loomwright.electrics.solved import answers
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
GALLERY = {make.__name__: make for make in RIGS}


@cache
def solved_rig(name: str) -> Answers:
    """Everything about a rig of the gallery by name, solved once for all tests."""
    return answers(GALLERY[name]())
