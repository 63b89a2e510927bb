"""Readings: fuses, conductors, joints, batteries, floating loads, and the whole of a rig."""

import math
import time
from dataclasses import replace

import pytest
from tests.electrics.gallery import charger_rig, short_rig, solved_rig
from tests.electrics.ideal import only, solved
from tests.rigs import awg, brake_rig, caravan_rig, feed, lamp, simple_rig, simple_trailer, supply
from tests.spice import run_decks

from loomwright.circuit import Case
from loomwright.electrics.conditions import conditions_for
from loomwright.electrics.solved import answers, netlist
from loomwright.electrics.wiring import wire_up
from loomwright.invalid import InvalidInput
from loomwright.rig.model import Appliance, Bulb, FuseHolder, Light


def test_a_fuse_opens_and_what_follows_is_read() -> None:
    """A 50 A heater on a 15 A fuse: open, heater dead, and the other circuits alive."""
    wiring = wire_up(short_rig())

    reading = solved(wiring, "park+left")
    fuse = next(each for each in reading.fuses if each.element == "feed_tail_fuse")

    assert reading.opened == ("feed_tail_fuse",)
    assert fuse.opened
    assert fuse.current_a == pytest.approx(0.0, abs=1e-6)
    assert reading.load("heater").word == "off"
    assert reading.load("left rear left stop turn").word == "normal"
    rung = max(reading.load("heater").ladder, key=lambda each: each.drop_v)
    assert rung.part.element == "feed_tail_fuse"
    assert rung.part.kind == "fuse"


def test_the_ladder_of_a_dark_lamp_ends_at_the_open_driver() -> None:
    reading = solved(wire_up(simple_rig()), "rest")

    rung = max(reading.load("left rear tail").ladder, key=lambda each: each.drop_v)

    assert rung.part.element == "feed_tail_switch"


def test_the_bundle_of_a_cord_counts_the_wires_that_carry() -> None:
    """Four loaded conductors of 16 AWG in a PVC cord for 80 C: 20 A by 0.6.

    Source: 33 CFR 183.425 Table 5 (16 AWG, 80 C: 20 A) with bundle factor 0.6 for 4 to 6.
    """
    rig = simple_rig()
    cord = tuple(
        replace(each, wire=replace(each.wire, insulation="cord")) for each in rig.trailer.cord
    )
    wiring = wire_up(replace(rig, trailer=replace(rig.trailer, cord=cord)))

    everything, left = solved(wiring, "all"), solved(wiring, "left")

    at = {c.part.element: c for c in everything.conductors}["cord_wire_2_tail"]
    assert at.ampacity_a == pytest.approx(20.0 * 0.6)
    assert at.share == pytest.approx(abs(at.current_a) / 12.0)
    alone = {c.part.element: c for c in left.conductors}["cord_wire_3_left_stop_turn"]
    assert alone.ampacity_a >= 20.0 * 0.7


def test_heat_of_a_joint_is_current_squared_times_resistance() -> None:
    reading = solved(wire_up(brake_rig()), "brake pedal")

    for joint in reading.joints:
        by_joule_w = joint.current_a**2 * joint.resistance_ohm
        assert joint.heat_w == pytest.approx(by_joule_w, rel=1e-6, abs=1e-9)


def test_a_house_battery_takes_what_is_left_over_its_own_voltage() -> None:
    """(14.0 - EMF) over all resistance. EMF at 60 % charge between 12.24 and 12.45 V: 12.324 V.

    Source of the table: battery makers' association, open-circuit voltage against charge.
    Charging acts like 0.075 ohm for 100 Ah.
    """
    wiring = wire_up(brake_rig())
    emf_v = 12.24 + (12.45 - 12.24) * 0.1 / 0.25

    reading = solved(wiring, "charge", only(wiring, cord_wire_4_battery=0.1))

    current_a = (14.0 - emf_v) / (0.075 + 0.1)
    assert reading.load("house battery").current_a == pytest.approx(current_a, rel=0.001)


def test_a_house_battery_gives_back_where_no_relay_stops_it() -> None:
    """With a tired vehicle supply of 11 V and the charge relay closed, current comes back."""
    rig = brake_rig()
    low = replace(rig, vehicle=replace(rig.vehicle, supply=supply(running_v=11.0)))

    assert solved(wire_up(low), "charge").load("house battery").current_a < 0.0
    assert solved(wire_up(low), "rest").load("house battery").current_a == pytest.approx(
        0, abs=1e-6
    )


def test_a_charger_takes_its_power_at_any_voltage() -> None:
    """180 W: P = V I at its terminals, while it is on."""
    reading = solved(wire_up(charger_rig()), "charge")
    charger = reading.load("house battery")

    assert charger.voltage_v * charger.current_a == pytest.approx(180.0, rel=1e-6)


def test_a_load_tied_to_nothing_floats() -> None:
    """The branch and the ground wire of a lamp both off: no reading is shown."""
    wiring = wire_up(simple_rig())
    fault = Case(
        resistance_ohm={
            "lamp_front_marker_left_tail_branch": math.inf,
            "lamp_front_marker_left_ground_wire": math.inf,
        }
    )

    load = solved(wiring, "park", fault).load("front marker left tail")

    assert load.floating
    assert (load.voltage_v, load.current_a, load.word, load.ladder) == (0.0, 0.0, "off", ())


def test_a_light_without_a_wire_in_the_cord_stays_dark() -> None:
    reversing = lamp("back", "centre", 3.0, lights=(Light("reverse", Bulb("1156", "single")),))
    rig = simple_rig(trailer=simple_trailer(lamps=(reversing,)))

    load = solved(wire_up(rig), "all").load("back reverse")

    assert load.commanded
    assert load.word == "off"


def test_a_compressor_drops_out_below_its_voltage() -> None:
    """A refrigerator stops at 10.4 V. Source: refrigerator manuals."""
    fridge = Appliance(
        "refrigerator",
        "battery",
        "constant-power",
        60.0,
        12.0,
        1.0,
        awg("14", 1.0),
        awg("14", 1.0),
        "sealed-butt",
    )
    rig = brake_rig()
    rig = replace(rig, trailer=replace(rig.trailer, battery=None, appliances=(fridge,)))
    weak = replace(rig, vehicle=replace(rig.vehicle, supply=supply(running_v=10.0)))

    assert solved(wire_up(rig), "charge").load("refrigerator").word == "on"
    assert solved(wire_up(weak), "charge").load("refrigerator").word == "off"


def test_hot_magnets_take_less() -> None:
    """3.2 ohm at 20 C are 4.2 ohm at 100 C, by copper's 0.00393 per kelvin (IEC 60028)."""
    dim, nominal = wire_up(brake_rig(), "dim"), wire_up(brake_rig())

    hot = solved(dim, "brake lever").load("axle 1 left")
    cool = solved(nominal, "brake lever").load("axle 1 left")

    assert hot.voltage_v / hot.current_a == pytest.approx(4.2, abs=0.02)
    assert cool.voltage_v / cool.current_a == pytest.approx(3.2, abs=0.001)


def test_conditions_take_the_supply_the_rig_has() -> None:
    """Lowest running, highest running, at rest; a managed alternator's bounds included."""
    rig = simple_rig()
    managed = supply(low_v=12.2, high_v=15.0, managed=True)
    rig = replace(rig, vehicle=replace(rig.vehicle, supply=managed))

    emf = {each.key: each.emf_v for each in conditions_for(rig)}

    assert emf == {"nominal": 14.0, "dim": 12.2, "heavy": 15.0, "engine-off": 12.6}


def test_unknown_conditions_are_refused_with_the_list() -> None:
    with pytest.raises(InvalidInput, match="nominal, dim, heavy, engine-off"):
        wire_up(simple_rig(), "damp")


def test_every_command_under_every_set_of_conditions_is_answered() -> None:
    made = solved_rig("brake_rig")

    assert set(made.by_case) == {(c, k) for c in made.commands for k in made.conditions}
    band = made.load_band("park", "left rear tail")
    assert band.low <= band.nominal <= band.high


def test_progress_is_told_case_by_case() -> None:
    told: list[tuple[int, int]] = []
    rig = simple_rig()

    made = answers(rig, lambda done, of: told.append((done, of)))

    total = len(made.by_case)
    assert told == [(n, total) for n in range(1, total + 1)]


def test_a_whole_rig_takes_well_below_two_seconds() -> None:
    start = time.perf_counter()
    answers(caravan_rig())

    assert time.perf_counter() - start < 2.0


def test_the_netlist_is_a_deck_any_simulator_runs() -> None:
    deck = netlist(simple_rig(), "park+left")
    (volts,) = run_decks([deck])

    reading = solved_rig("simple_rig").at("park+left")
    assert volts["junction_tail"] == pytest.approx(reading.nodes_v["junction_tail"], abs=1e-5)
    assert "park lamps and left signal" in deck.splitlines()[0]


def test_a_fuse_of_no_known_kind_is_refused_by_name() -> None:
    rig = simple_rig()
    odd = feed("tail", fuse=FuseHolder("cube", 15.0))
    rig = replace(rig, vehicle=replace(rig.vehicle, feeds=(odd,)))

    with pytest.raises(InvalidInput, match="use one of medium"):
        wire_up(rig)
