"""The connector tables against the standards that allocate the contacts."""

from __future__ import annotations

import pytest

from loomwright.colours import Colour, read_colour
from loomwright.invalid import InvalidInput
from loomwright.quantities import read_wire_size
from loomwright.reference.connectors import connector, connector_keys
from loomwright.reference.functions import function_keys

KEYS = connector_keys()


def allocation(key: str) -> dict[str, str]:
    return {pin.number: pin.function for pin in connector(key).pins}


def test_thirteen_pin_carries_what_the_standard_allocates() -> None:
    """Source: ISO 11446-1:2012, contact allocation."""
    assert allocation("13-pin") == {
        "1": "left_turn",
        "2": "fog",
        "3": "ground",
        "4": "right_turn",
        "5": "tail_right",
        "6": "stop",
        "7": "tail_left",
        "8": "reverse",
        "9": "battery",
        "10": "ignition",
        "11": "ground_ignition",
        "12": "coding",
        "13": "ground_battery",
    }


def test_thirteen_pin_keeps_three_returns_apart_each_with_its_own_feeds() -> None:
    """3 returns contacts 1 to 8, 13 returns 9 and 11 returns 10.

    Source: ISO 11446-1:2012, contact allocation.
    """
    thirteen = connector("13-pin")

    assert thirteen.returns_kept_apart == {"3", "11", "13"}
    assert {
        number: found.number
        for number in ("1", "2", "4", "5", "6", "7", "8", "9", "10")
        if (found := thirteen.return_for(number))
    } == dict.fromkeys("1245678", "3") | {"9": "13", "10": "11"}


def test_7_blade_carries_what_the_standard_allocates() -> None:
    """Source: SAE J2863, terminals 1 to 7."""
    assert allocation("7-blade") == {
        "1": "ground",
        "2": "brake",
        "3": "tail",
        "4": "battery",
        "5": "left_stop_turn",
        "6": "right_stop_turn",
        "7": "reverse",
    }


def test_7_blade_stands_as_seen_into_the_vehicle_socket() -> None:
    """Left at 9, right at 3, ground at 7, brake at 5, tail at 11, 12 V at 1 o'clock.

    Source: common practice; wiring guides on the flat-blade socket.
    """
    at = {pin.function: (x, y) for pin, x, y in connector("7-blade").face()}

    assert at["reverse"] == pytest.approx((0, 0))
    assert at["left_stop_turn"][0] < 0 < at["right_stop_turn"][0]
    assert at["ground"][0] < 0 < at["brake"][0]
    assert at["ground"][1] == at["brake"][1] < 0
    assert at["tail"][0] < 0 < at["battery"][0]
    assert at["tail"][1] == at["battery"][1] > 0


def test_four_flat_row_and_colours() -> None:
    """Ground, tail, left, right: white, brown, yellow, green.

    Source: SAE J1239, contact allocation.
    """
    pins = connector("4-flat").pins

    assert [pin.function for pin in pins] == ["ground", "tail", "left_stop_turn", "right_stop_turn"]
    assert [pin.colour_text for pin in pins] == ["white", "brown", "yellow", "green"]
    assert pins[1].max_current_a == 7.5, "SAE J1239, scope: tail lamp circuits to 7.5 A"


def test_12n_runs_clockwise_from_the_top() -> None:
    """Source: ISO 1724 contact allocation; common practice for the clock positions."""
    at = {pin.number: (x, y) for pin, x, y in connector("12n").face()}

    assert at["1"][0] == 0
    assert at["1"][1] > 0
    assert at["2"][0] > 0
    assert at["3"][1] < 0 < at["3"][0]
    assert at["4"][1] < 0
    assert at["5"][0] < 0
    assert at["6"][0] < 0 < at["6"][1]
    assert at["7"] == (0, 0)


def test_12n_and_12s_differ_by_contact() -> None:
    """Source: ISO 1724 and ISO 3732, contact allocations."""
    assert allocation("12n")["7"] == "tail_left"
    assert allocation("12n")["5"] == "tail_right"
    assert allocation("12s")["4"] == "battery"
    assert allocation("12s")["6"] == "ignition"
    assert connector("12s").returns_kept_apart == {"3", "7"}
    assert connector("12n").feeds_kept_apart == {"5", "7"}


def test_heavy_seven_way_colours_follow_their_functions() -> None:
    """White ground, black clearance, yellow left, red stop, green right, brown tail, blue aux.

    Source: SAE J560, primary contact allocation.
    """
    heavy = connector("7-heavy")

    assert [(pin.colour_text, pin.function) for pin in heavy.pins] == [
        ("white", "ground"),
        ("black", "clearance"),
        ("yellow", "left_turn"),
        ("red", "stop"),
        ("green", "right_turn"),
        ("brown", "tail"),
        ("blue", "abs_aux"),
    ]


def test_the_returns_of_the_thirteen_core_cable_have_striped_cores() -> None:
    """Contact 11 is white with black, contact 13 white with red.

    Source: ISO 4141-3, core colours, as restated for ISO 11446.
    """
    assert connector("13-pin").pin("11").colour == Colour("white", "black")
    assert connector("13-pin").pin("13").colour == Colour("white", "red")
    assert connector("13-pin").pin("12").colour is None


def test_numbers_do_not_carry_across_families() -> None:
    """Contact 2 is fog in ISO 11446, right turn in ISO 12098, reverse in AS 4177.5.

    Source: the contact allocations of those standards.
    """
    assert connector("13-pin").pin("2").function == "fog"
    assert connector("15-pin").pin("2").function == "right_turn"
    assert connector("au-7-flat").pin("2").function == "reverse"


def test_lacking_functions() -> None:
    """A 12N has no reverse, supplies or brake; a 13-pin lacks only the electric brake.

    Source: ISO 1724 and ISO 11446-1, contact allocations.
    """
    assert connector("12n").lacks == ("reverse", "brake", "battery", "ignition")
    assert connector("13-pin").lacks == ("brake",)
    assert "stop" not in connector("4-flat").lacks
    assert "tail" not in connector("12n").lacks


@pytest.mark.parametrize("key", KEYS)
def test_the_rear_mirrors_the_face(key: str) -> None:
    """Socket front and plug rear agree; socket rear and plug front are mirrored.

    Source: common practice; a plane turned about its upright axis.
    """
    shown = connector(key)
    sign = -1 if shown.is_layout_known else 1

    assert [(p.number, sign * x, y) for p, x, y in shown.face("face")] == [
        (p.number, x, y) for p, x, y in shown.face("rear")
    ]


@pytest.mark.parametrize("key", KEYS)
def test_each_connector_holds_together(key: str) -> None:
    shown = connector(key)
    numbers = [pin.number for pin in shown.pins]
    places = [(x, y) for _, x, y in shown.face()]

    assert len(numbers) == len(set(numbers)) == shown.row.pin_count
    assert len(set(places)) == len(numbers)
    assert all(-1 <= x <= 1 and -1 <= y <= 1 for x, y in places)
    assert set(shown.functions) <= set(function_keys())
    for pin in shown.pins:
        assert set(pin.returns_for) <= set(numbers) - {pin.number}
        assert {use.function for use in pin.other_uses} <= set(function_keys()) - {pin.function}
        assert pin.colour is None or pin.colour == read_colour(str(pin.colour_text))
        assert all(read_colour(text) for text in pin.alt_colours)
        assert pin.size is None or read_wire_size(pin.size)
    for pin in shown.pins:
        returned_by = [other.number for other in shown.pins if pin.number in other.returns_for]
        assert len(returned_by) <= 1


def test_other_uses_belong_to_pins_that_exist() -> None:
    """The fifth wire of a five-way flat feeds a lockout valve or electric brakes.

    Source: common practice.
    """
    assert [use.function for use in connector("5-flat-reverse").pin("5").other_uses] == ["brake"]
    assert [use.function for use in connector("12s").pin("2").other_uses] == ["charge", "coding"]


def test_an_unknown_connector_names_the_nearest() -> None:
    with pytest.raises(InvalidInput, match=r"did you mean .*7-blade"):
        connector("7-blad")
    with pytest.raises(InvalidInput, match="13-pin connector has 1, 2"):
        connector("13-pin").pin("14")
    with pytest.raises(InvalidInput, match="has ground, tail"):
        connector("4-flat").pin_for("brake")
