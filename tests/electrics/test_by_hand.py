"""Rigs so small that a person works them out on paper."""

from dataclasses import replace

import pytest
from scipy.optimize import brentq
from tests.electrics.ideal import only, solved
from tests.rigs import (
    FOOT_M,
    MAJOR,
    awg,
    brake_rig,
    feed,
    lamp,
    pin_wires,
    simple_rig,
    simple_socket,
    simple_trailer,
    simple_vehicle,
    supply,
)

from loomwright.electrics.wiring import wire_up
from loomwright.rig.model import Appliance, Light, Live, Rig, Vehicle


def bare_vehicle(running_v: float, *functions: str) -> Vehicle:
    """A vehicle with feeds of 16 AWG and no lamps of its own."""
    return simple_vehicle(
        supply=supply(running_v=running_v), feeds=tuple(feed(each) for each in functions)
    )


def heater(function: str, power_w: float, at_v: float, **changes: object) -> Appliance:
    made = Appliance(
        "heater",
        function,
        "resistance",
        power_w,
        at_v,
        1.0,
        awg("10", 0.5),
        awg("10", 0.5),
        "sealed-butt",
    )
    return replace(made, **changes)


def test_one_heater_at_the_end_of_one_wire() -> None:
    """Every resistance of the loop added up by hand.

    Copper 0.017241 ohm mm2/m (IEC 60028), 2 % for the lay of the strands (NEC chapter 9
    table 8), diameters by ASTM B258: 16 AWG is 1.2908 mm, so 1.3086 mm2 and 13.438 mohm/m;
    10 AWG is 2.5882 mm, so 5.2612 mm2 and 3.3426 mohm/m. Joints and the fuse as the tables have
    them new and cold.
    """
    rig = simple_rig(
        vehicle=bare_vehicle(14.0, "tail"),
        trailer=simple_trailer(lamps=(), appliances=(heater("tail", 12.0, 12.0),)),
    )
    sixteen = 5.0 + 0.6 + 1.2 + 1.0 + 1.0 + 1.2 + 0.5  # feed, lead, cord, run; home the same way
    wires = sixteen * 0.013438 + (0.5 + 0.5) * 0.0033426
    out = 0.003 + 0.0005 + 0.002 + 0.0005 + 0.0004 + 0.0004  # plug-in, screw, contact, screw, ...
    home = 0.0004 + 0.0004 + 0.0005 + 0.002 + 0.0005 + 0.0003
    vehicle = 0.006 + 0.0048 + 0.015 + 0.003  # supply, 15 A fuse, driver, chassis
    current_a = 14.0 / (12.0 + wires + out + home + vehicle)

    reading = solved(wire_up(rig), "park").load("heater")

    assert reading.current_a == pytest.approx(current_a, rel=1e-4)
    assert reading.voltage_v == pytest.approx(12.0 * current_a, rel=1e-4)


@pytest.mark.parametrize("ohm", [0.1, 0.25, 0.5])
def test_a_stop_lamp_behind_a_bad_wire(ohm: float) -> None:
    """E = R I + V with the handbook's I = I0 (V/V0)^0.55, good to 1 % near rated volts.

    Source of the exponent: lamp rerating, from the handbook of the lamp trade.
    """
    rig = simple_rig(
        vehicle=bare_vehicle(12.8, "left_stop_turn"),
        trailer=simple_trailer(
            lamps=(lamp("one", "left", 1.0, lights=(Light("left_stop_turn", MAJOR),)),)
        ),
    )
    wiring = wire_up(rig)
    by_hand_v = brentq(lambda v: 12.8 - ohm * 2.1 * (v / 12.8) ** 0.55 - v, 1.0, 12.8)

    reading = solved(wiring, "left", only(wiring, lamp_one_ground_wire=ohm))

    assert reading.load("one left stop turn").voltage_v == pytest.approx(by_hand_v, rel=0.002)


@pytest.mark.parametrize(
    ("size_in", "magnets", "volts", "amps"),
    [
        (12.0, 2, 12.0, 7.5),
        (12.0, 4, 12.0, 15.0),
        (12.0, 6, 12.0, 22.6),
        (12.0, 2, 13.0, 8.2),
        (12.0, 4, 13.0, 16.3),
        (12.0, 6, 13.0, 24.5),
        (7.0, 2, 12.0, 6.3),
        (7.0, 4, 12.0, 12.6),
        (7.0, 6, 13.0, 20.6),
    ],
)
def test_brake_currents_are_those_of_the_test_chart(
    size_in: float, magnets: int, volts: float, amps: float
) -> None:
    """Amperes of a set of brakes at 12 and 13 V. Source: magnet test chart, service guide.

    The chart rounds each pair to 0.1 A upwards, which makes 0.13 A with six magnets.
    """
    rig = eight_brakes(volts, size_in, magnets)
    wiring = wire_up(rig)

    reading = solved(wiring, "brake lever", only(wiring))

    total_a = sum(load.current_a for load in reading.loads if load.kind == "brake")
    assert total_a == pytest.approx(amps, abs=0.13)


def eight_brakes(volts: float, size_in: float, magnets: int) -> Rig:
    """Magnets side by side at the junction, nothing else on the trailer."""
    rig = brake_rig()
    one = rig.trailer.brakes[0]
    brakes = tuple(
        replace(one, name=f"magnet {n}", back_m=0.0, size_in=size_in) for n in range(magnets)
    )
    fuse = replace(rig.vehicle.feeds[4], fuse=None)
    vehicle = replace(
        rig.vehicle, supply=supply(running_v=volts), feeds=(*rig.vehicle.feeds[:3], fuse)
    )
    trailer = replace(rig.trailer, brakes=brakes, battery=None, lamps=())
    return replace(rig, vehicle=vehicle, trailer=trailer)


def test_eight_brakes_on_thin_wire() -> None:
    """13.2 V at the plug and a loop of 24.8 ft of 14 AWG each way: 25.1 A, 10.06 V.

    The loop is 0.125 ohm, magnets 3.2 ohm. By hand: 13.2 / (3.2/8 + 0.125) = 25.1 A, and the
    magnets get 13.2 V less 0.125 ohm times that; with 2 % for the lay of the strands 10.00 V.
    Source: maintenance text of a trailer maker, which has 10.2 V with 3 A for each magnet.
    """
    rig = eight_brakes(13.2, 12.0, 8)
    long = awg("14", 24.8 * FOOT_M)
    cord = pin_wires({"1": "ground", "2": "brake"}, long)
    wiring = wire_up(replace(rig, trailer=replace(rig.trailer, cord=cord)))

    reading = solved(wiring, "brake lever", only(wiring, "cord_wire_2_brake", "cord_wire_1_ground"))

    magnets = [load for load in reading.loads if load.kind == "brake"]
    assert sum(load.current_a for load in magnets) == pytest.approx(25.1, abs=0.15)
    assert magnets[0].voltage_v == pytest.approx(10.06, abs=0.06)


def test_a_tractor_socket_uses_up_its_volt_at_44_feet() -> None:
    """10 A on stop and 10 A on auxiliary over one ground: 13.5 V become 12.5 V at 44.3 ft.

    SAE J2247 asks for 12.5 V there; 10 AWG feeds, 8 AWG ground, contacts left out. By hand,
    per foot: 10 A times 1.0189 mohm out, 20 A times 0.6408 mohm home, so 23.0 mV (2 % for the
    lay left off: 44.3 ft is for 22.6 mV).
    """
    length_m = 44.3 * FOOT_M
    pins = {"1": "ground", "4": "stop", "7": "abs_aux"}
    cord = pin_wires(pins, awg("10", length_m), ground=awg("8", length_m))
    loads = tuple(
        heater(each, 125.0, 12.5, name=f"{each} load", back_m=0.0) for each in ("stop", "abs_aux")
    )
    rig = simple_rig(
        vehicle=bare_vehicle(13.5, "stop", "abs_aux"),
        sockets=(simple_socket(connector="7-heavy", lead=pin_wires(pins, awg("10", 1.0))),),
        trailer=simple_trailer(plug="7-heavy", cord=cord, lamps=(), appliances=loads),
    )
    vehicle = rig.vehicle
    live = replace(vehicle.feeds[1], live=Live.ALWAYS)
    rig = replace(rig, vehicle=replace(vehicle, feeds=(vehicle.feeds[0], live)))
    wiring = wire_up(rig)
    kept = [name for name in wiring.parts if name.startswith("cord_wire")]

    reading = solved(wiring, "brake pedal", only(wiring, *kept))

    for load in ("stop load", "abs_aux load"):
        assert reading.load(load).voltage_v == pytest.approx(12.5, abs=0.03)
        assert reading.load(load).current_a == pytest.approx(10.0, abs=0.03)
