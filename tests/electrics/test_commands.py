"""Commands: what they close, how people say them, and which a rig has."""

from dataclasses import replace

import pytest
from tests.electrics.ideal import solved
from tests.rigs import brake_rig, caravan_rig, simple_rig, van_rig

from loomwright.electrics.cases import case_for, live_feeds
from loomwright.electrics.commands import COMMANDS, commands_for, find_command
from loomwright.electrics.wiring import wire_up
from loomwright.invalid import InvalidInput
from loomwright.rig.model import BrakeController, Rig


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("park", "park"),
        ("Park lamps", "park"),
        ("tail", "park"),
        ("left turn signal", "left"),
        ("brake pedal", "brake_pedal"),
        ("brake_pedal", "brake_pedal"),
        ("stop", "brake_pedal"),
        ("the brake lever", "brake_lever"),
        ("park+brake pedal", "park+brake_pedal"),
        ("brake pedal and park", "park+brake_pedal"),
        ("left, park", "park+left"),
        ("hazards", "hazard"),
        ("reverse gear", "reverse"),
        ("everything off", "rest"),
        ("everything at once", "all"),
        ("engine running, lamps off", "charge"),
    ],
)
def test_people_say_commands_in_their_words(said: str, key: str) -> None:
    assert find_command(said).key == key


@pytest.mark.parametrize("said", ["", "horn", "left right", "park+horn"])
def test_other_words_are_refused_with_the_list(said: str) -> None:
    with pytest.raises(InvalidInput, match=r"use one of rest, park"):
        find_command(said)


def test_every_command_is_found_by_its_key_and_its_title() -> None:
    for command in COMMANDS:
        assert find_command(command.key) is command
        assert find_command(command.title) is command


def live(rig: Rig, command: str, conditions: str = "nominal") -> set[str]:
    return set(live_feeds(wire_up(rig, conditions), find_command(command, commands_for(rig))))


def test_a_combined_vehicle_stops_on_the_wires_it_signals_with() -> None:
    """SAE J1239 and J2863: one wire a side for stop and turn."""
    rig = simple_rig()

    assert live(rig, "left") == {"left_stop_turn"}
    assert live(rig, "brake pedal") == {"left_stop_turn", "right_stop_turn"}
    assert live(rig, "hazard") == {"left_stop_turn", "right_stop_turn"}


def test_a_separate_vehicle_has_a_wire_for_each() -> None:
    """ISO 11446-1: turn left, turn right and stop each have a contact."""
    rig = van_rig()

    assert live(rig, "left") == {"left_turn"}
    assert live(rig, "brake pedal") == {"stop"}
    assert live(rig, "hazard") == {"left_turn", "right_turn"}


def test_feeds_of_the_engine_follow_the_engine() -> None:
    rig = caravan_rig()

    assert live(rig, "rest") == {"battery"}
    assert live(rig, "charge") == {"battery", "ignition"}
    assert live(rig, "charge", "engine-off") == {"battery"}


def test_the_lever_lights_the_stop_lamps_only_where_the_controller_does() -> None:
    lit, rig = brake_rig(), brake_rig()
    dark = replace(
        rig, vehicle=replace(rig.vehicle, brake_controller=BrakeController(1.0, 25.0, False))
    )

    assert live(lit, "brake lever") == {"brake", "left_stop_turn", "right_stop_turn", "battery"}
    assert live(dark, "brake lever") == {"brake", "battery"}


def test_nothing_drives_a_brake_feed_without_a_controller() -> None:
    rig = brake_rig()
    rig = replace(rig, vehicle=replace(rig.vehicle, brake_controller=None))

    assert "brake" not in live(rig, "brake pedal")
    for load in solved(wire_up(rig), "brake pedal").loads:
        if load.kind == "brake":
            assert load.commanded
            assert load.word == "off"


def test_a_rig_has_only_the_commands_that_show_something() -> None:
    assert "reverse" not in {each.key for each in commands_for(simple_rig())}
    assert "charge" not in {each.key for each in commands_for(simple_rig())}
    assert {"reverse", "brake_lever", "charge"} <= {each.key for each in commands_for(brake_rig())}
    assert "fog" in {each.key for each in commands_for(caravan_rig())}
    assert "fog" not in {each.key for each in commands_for(brake_rig())}


def test_a_controller_that_holds_back_does_so_only_while_it_drives() -> None:
    rig = brake_rig()
    weak = BrakeController(0.5, 25.0, lever_lights_stop_lamps=False)
    rig = replace(rig, vehicle=replace(rig.vehicle, brake_controller=weak))
    wiring = wire_up(rig)

    at_rest = case_for(wiring, find_command("charge", commands_for(rig)))
    braking = case_for(wiring, find_command("brake lever", commands_for(rig)))

    assert at_rest.emf_v["brake_controller"] == 0.0
    assert braking.emf_v["brake_controller"] == pytest.approx(0.5 * 14.0)
