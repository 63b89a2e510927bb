"""Which converter a rig needs, and how strong."""

from dataclasses import replace

import pytest
from tests.hookup.meetings import meeting
from tests.rigs import (
    awg,
    brake_rig,
    lamp,
    simple_rig,
    simple_trailer,
    simple_vehicle,
    step_down_rig,
    van_rig,
)

from loomwright.hookup import pair
from loomwright.hookup.demand import demand_a, needs_function
from loomwright.rig.model import (
    Appliance,
    Bulb,
    ConverterKind,
    LampDrive,
    Light,
    SignalSystem,
    SocketFeed,
)


def kinds(rig: object) -> list[str]:
    return [need.kind for need in pair(rig).needs]


def test_a_rig_of_one_system_and_one_voltage_needs_nothing() -> None:
    assert kinds(simple_rig()) == []


def test_a_separate_vehicle_and_a_combined_trailer_need_a_combiner() -> None:
    rig = simple_rig(vehicle=simple_vehicle(signals=SignalSystem.SEPARATE))

    assert kinds(rig) == ["combine"]


def test_a_combined_vehicle_and_a_separate_trailer_need_a_splitter() -> None:
    rig = simple_rig(trailer=simple_trailer(signals=SignalSystem.SEPARATE))

    assert kinds(rig) == ["split"]


def test_a_converter_that_makes_the_trailers_signals_settles_it() -> None:
    assert kinds(van_rig()) == []
    assert kinds(step_down_rig()) == []


def test_a_converter_of_the_other_direction_does_not() -> None:
    base = van_rig()
    assert base.converter is not None
    wrong = replace(base.converter, kind=ConverterKind.SPLIT, channel_a={"stop": 5.0})

    assert "combine" in kinds(replace(base, converter=wrong))


def test_the_rating_has_a_quarter_in_hand_over_the_heaviest_channel() -> None:
    """Two 1157 majors on a side draw 2 x 2.10 A, and a quarter in hand makes 5.25 A.

    Source: SAE J573, 32 cp filament, 2.10 A at 12.8 V.
    """
    major = Light("left_stop_turn", Bulb("1157", "major"))
    lamps = tuple(lamp(name, "left", 3.0, lights=(major,)) for name in ("rear", "upper"))
    rig = simple_rig(
        vehicle=simple_vehicle(signals=SignalSystem.SEPARATE), trailer=simple_trailer(lamps=lamps)
    )
    (need,) = pair(rig).needs

    assert need.rating_of == "channel"
    assert need.rating_a == pytest.approx(5.25, rel=0.01)


@pytest.mark.parametrize(("vehicle_v", "kind"), [(24.0, "step-down"), (6.0, "step-up")])
def test_different_voltages_need_a_converter_for_the_whole(vehicle_v: float, kind: str) -> None:
    base = simple_rig()
    supply = replace(base.vehicle.supply, nominal_v=vehicle_v)
    (need,) = pair(replace(base, vehicle=replace(base.vehicle, supply=supply))).needs

    assert (need.kind, need.rating_of) == (kind, "whole")
    assert need.rating_a == pytest.approx(1.25 * sum(demand_a(base.trailer).values()))


@pytest.mark.parametrize("drive", [LampDrive.PULSED, LampDrive.MONITORED])
def test_watched_or_pulsed_lamps_need_a_box_that_only_senses_them(drive: LampDrive) -> None:
    shared = simple_vehicle(lamp_drive=drive)

    assert kinds(simple_rig(vehicle=shared)) == ["isolate"]
    assert kinds(simple_rig(vehicle=replace(shared, socket_feed=SocketFeed.MODULE))) == []
    base = van_rig()
    assert kinds(replace(base, vehicle=replace(base.vehicle, lamp_drive=drive))) == []


def test_bodies_that_do_not_mate_need_an_adapter() -> None:
    assert "adapter" in kinds(meeting("15-pin", "4-flat"))
    assert kinds(meeting("15-pin", "4-flat", adapter="15-pin to 4-flat")).count("adapter") == 0
    assert "adapter" not in kinds(meeting("7-blade", "4-flat"))


def test_demand_counts_lamps_magnets_and_appliances() -> None:
    """Four 12-inch magnets of 3.2 ohm take 4 x 12 / 3.2 = 15 A, a 24 W valve at 12 V takes 2 A.

    Source: brake service tables, 3.2 ohm a magnet (common practice).
    """
    valve = Appliance(
        name="valve",
        function="reverse",
        law="resistance",
        power_w=24.0,
        at_v=12.0,
        back_m=0.5,
        branch=awg("16", 0.5),
        ground=awg("16", 0.5),
        joint="sealed-butt",
    )
    demand = demand_a(replace(brake_rig().trailer, appliances=(valve,)))

    assert demand["reverse"] == pytest.approx(2.0)
    assert demand["brake"] == pytest.approx(15.0, rel=0.05)


def test_what_a_trailer_needs_counts_batteries_and_stand_ins() -> None:
    trailer = brake_rig().trailer

    assert needs_function(trailer, "battery")
    assert needs_function(trailer, "brake")
    assert needs_function(trailer, "ground")
    assert needs_function(trailer, "tail_left")
    assert not needs_function(trailer, "fog")
