"""Sockets, plugs and grounds: what is joined to what."""

import math
from dataclasses import replace

import pytest
from tests.electrics.gallery import chained_rig
from tests.electrics.ideal import only, solved
from tests.rigs import (
    PINS_7_BLADE,
    awg,
    brake_rig,
    caravan_rig,
    pin_wires,
    simple_rig,
    simple_socket,
    simple_trailer,
    van_rig,
)

from loomwright.circuit import Case
from loomwright.electrics.harness import slug
from loomwright.electrics.mating import mated_pins
from loomwright.electrics.sockets import pin_node
from loomwright.electrics.wiring import wire_up
from loomwright.rig.model import GroundMethod, Join, Returns, Rig

OPEN = math.inf


def dead(rig: Rig, command: str, **opened: float) -> set[str]:
    """Lamps the command means to light and that stay off with these elements open."""
    wiring = wire_up(rig)
    reading = solved(wiring, command, Case(resistance_ohm=opened))
    return {
        load.name
        for load in reading.loads
        if load.kind == "lamp" and load.commanded and load.word == "off"
    }


def test_a_branched_socket_leaves_the_old_one_alive() -> None:
    """Both sockets show the same function, the old one as a dead end."""
    reading = solved(wire_up(chained_rig()), "left")

    pins = {(p.socket, p.function): p for p in reading.pins}
    assert pins["rear 7-way", "left_stop_turn"].to_return_v > 12.0
    assert pins["bed", "left_stop_turn"].to_return_v > 12.0
    assert pins["bed", "right_stop_turn"].to_return_v == pytest.approx(0.0, abs=0.6)


def test_a_bad_joint_of_the_old_socket_is_shared_by_the_new_one() -> None:
    assert dead(chained_rig(), "left", joint_rear_7_way_left_stop_turn=OPEN) == {
        "left rear left stop turn"
    }


def test_wires_cut_from_a_socket_leave_it_without_pins() -> None:
    rig = chained_rig()
    rig = replace(rig, sockets=(rig.sockets[0], replace(rig.sockets[1], join=Join.CUT)))

    wiring = wire_up(rig)

    assert {pin.socket for pin in wiring.pins} == {"bed"}
    assert not any("socket_rear_7_way" in node for node in wiring.network.nodes)


def test_the_old_ground_wire_serves_both_sockets() -> None:
    """A new socket's ground joined into the old one's is lost with the old ring."""
    shared = chained_rig()
    old, bed = shared.sockets
    own = replace(shared, sockets=(old, replace(bed, ground_method=GroundMethod.OWN_RING)))

    for rig, lost in ((shared, True), (own, False)):
        wiring = wire_up(rig)
        reading = solved(wiring, "park", Case(resistance_ohm={"vehicle_ground_stud": OPEN}))
        drop_v = reading.nodes_v["junction_ground"]
        assert (drop_v > 1.0) == lost


def test_plugs_of_one_family_meet_pin_by_pin_whatever_they_are_wired_for() -> None:
    """Brake and 12 V exchanged, as on the two kinds of six-way round: magnets get the battery."""
    rig = brake_rig()
    crossed = PINS_7_BLADE | {"2": "battery", "4": "brake"}
    trailer = replace(rig.trailer, cord=pin_wires(crossed, awg("12", 2.0)), battery=None)
    wiring = wire_up(replace(rig, trailer=trailer))

    reading = solved(wiring, "charge")

    magnets = [load for load in reading.loads if load.kind == "brake"]
    assert {load.word for load in magnets} == {"on"}
    assert not any(load.commanded for load in magnets)


def test_an_adapter_joins_by_its_table_and_puts_a_second_contact_in_series() -> None:
    """7-blade to 4-flat: ground 1 to 1, tail 3 to 2, left 5 to 3, right 6 to 4.

    Sources: SAE J2863 and SAE J1239, contact allocations.
    """
    rig = chained_rig()
    wiring = wire_up(rig)

    assert mated_pins(rig) == {"1": "1", "2": "3", "3": "5", "4": "6"}
    assert {"contact_2_tail", "adapter_contact_2_tail"} <= set(wiring.parts)


def test_a_missing_feed_leaves_a_pin_floating() -> None:
    """No reverse feed on the vehicle: the pin is wired and tied to nothing."""
    rig = brake_rig()
    feeds = tuple(each for each in rig.vehicle.feeds if each.function != "reverse")
    wiring = wire_up(replace(rig, vehicle=replace(rig.vehicle, feeds=feeds)))

    reading = solved(wiring, "park")
    pin = next(each for each in reading.pins if each.function == "reverse")

    assert pin.floating
    assert pin.voltage_v == pin.to_return_v == pin.open_circuit_v == 0.0


def test_one_tail_feed_serves_both_sides_of_a_thirteen_pin_socket() -> None:
    """ISO 11446-1 keeps 58L and 58R apart; a vehicle with one tail feed joins both to it."""
    wiring = wire_up(caravan_rig())
    reading = solved(wiring, "park")

    assert reading.load("left rear tail left").word == "normal"
    assert reading.load("right rear tail right").word == "normal"


def test_separate_returns_stay_apart() -> None:
    """ISO 11446-1: contact 11 returns contact 10, contact 3 the lamps. Current keeps to its own."""
    wiring = wire_up(caravan_rig())
    reading = solved(wiring, "charge", only(wiring, *wiring.parts))
    current = {c.part.element: c.current_a for c in reading.conductors}

    assert current["cord_wire_11_ground_ignition"] == pytest.approx(
        current["cord_wire_10_ignition"], rel=1e-6
    )
    assert current["cord_wire_3_ground"] == pytest.approx(0.0, abs=1e-6)


def test_joined_returns_share_what_comes_home() -> None:
    rig = caravan_rig()
    joined = replace(rig.trailer, joined_returns=(("ground", "ground_ignition"),))
    reading = solved(wire_up(replace(rig, trailer=joined)), "charge")
    current = {c.part.element: c.current_a for c in reading.conductors}

    lamps, supplies = current["cord_wire_3_ground"], current["cord_wire_11_ground_ignition"]
    assert lamps > 0.0 < supplies
    assert lamps + supplies == pytest.approx(current["cord_wire_10_ignition"], rel=1e-6)


def test_the_ball_takes_its_part_of_the_current_home() -> None:
    """A second way beside the cord leaves less voltage on the frame."""
    trailer = simple_trailer(returns=Returns.FRAME, hitch_path_ohm=0.05)
    wiring = wire_up(simple_rig(trailer=trailer))
    without = replace(trailer, hitch_path_ohm=None)

    reading = solved(wiring, "park")
    plain = solved(wire_up(simple_rig(trailer=without)), "park")

    nose_v = reading.nodes_v["frame_0_00m"] - reading.nodes_v["chassis"]
    assert nose_v < plain.nodes_v["frame_0_00m"] - plain.nodes_v["chassis"]
    assert nose_v > 0.0


def test_a_trailer_with_its_ground_open_still_goes_home_by_the_ball() -> None:
    trailer = simple_trailer(returns=Returns.FRAME, hitch_path_ohm=0.05)

    assert dead(simple_rig(trailer=trailer), "park", contact_1_ground=OPEN) == set()


def test_a_pulled_plug_leaves_the_bare_pins_at_the_battery() -> None:
    """Without load nothing drops: the pin shows the EMF but for what the vehicle's lamps take."""
    reading = solved(wire_up(van_rig()), "park")
    tail = next(pin for pin in reading.pins if pin.function == "tail")

    assert tail.open_circuit_v == pytest.approx(14.0, abs=0.05)
    assert tail.to_return_v < tail.open_circuit_v


def test_names_are_plain_words() -> None:
    for make in (simple_rig, brake_rig, van_rig, caravan_rig, chained_rig):
        wiring = wire_up(make())
        names = [*wiring.parts, *wiring.network.nodes]
        assert all(name.replace("_", "").isalnum() and name == name.lower() for name in names)


def test_the_socket_of_a_rig_has_nodes_of_its_own_name() -> None:
    assert pin_node(simple_socket(), "2", "tail") == "socket_rear_4_way_2_tail"


@pytest.mark.parametrize(
    ("written", "name"),
    [("Rear 7-way", "rear_7_way"), ("hüppe é", "huppe_e"), ("ж/я", "u436_u44f"), ("№ 2", "no_2")],
)
def test_any_name_makes_a_plain_name(written: str, name: str) -> None:
    assert slug(written) == name
