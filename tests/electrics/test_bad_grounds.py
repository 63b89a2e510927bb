"""A bad or open ground, where vehicle and trailer share wires and where they do not.

The expected voltages were derived for the same small rig with an idealised model of its own: two
rear lamps of two filaments (2.1 A and 0.59 A), four small markers, 12.8 V, filament resistance
that rises with the voltage, no other resistance. The words are those of technicians: an open
ground is dead behind a relay or module, and glows strangely where the wires are shared.
"""

import math

import pytest
from tests.electrics.ideal import only, solved
from tests.rigs import small_rig

from loomwright.electrics.wiring import Wiring, wire_up
from loomwright.rig.model import SocketFeed

NEAR_V = 0.45
OPEN = math.inf
LEFT, RIGHT = "left rear left stop turn", "right rear right stop turn"
LEFT_TAIL, RIGHT_TAIL, MARKER = "left rear tail", "right rear tail", "marker 1 tail"
SHARED, MODULE = SocketFeed.SHARED, SocketFeed.MODULE


def small_wiring(socket_feed: SocketFeed) -> Wiring:
    return wire_up(small_rig(socket_feed))


@pytest.mark.parametrize(
    ("socket_feed", "ohm", "command", "load", "volts"),
    [
        (MODULE, 0.3, "park", LEFT_TAIL, 12.0),
        (MODULE, 0.3, "brake pedal", LEFT, 11.4),
        (MODULE, 0.3, "park+brake pedal", LEFT, 10.9),
        (SHARED, 1.0, "brake pedal", LEFT, 9.4),
        (MODULE, 1.0, "brake pedal", LEFT, 9.0),
        (SHARED, 1.0, "park+brake pedal", LEFT, 7.5),
        (MODULE, 1.0, "park+brake pedal", LEFT, 7.7),
        (MODULE, 3.0, "park", LEFT_TAIL, 7.7),
        (SHARED, 3.0, "park+brake pedal", LEFT, 3.0),
        (MODULE, 3.0, "park+brake pedal", LEFT, 3.0),
        (MODULE, 3.0, "park+left", LEFT_TAIL, 4.7),
        (SHARED, OPEN, "park", LEFT_TAIL, 9.9),
    ],
)
def test_voltage_left_for_the_lamps(
    socket_feed: SocketFeed, ohm: float, command: str, load: str, volts: float
) -> None:
    wiring = small_wiring(socket_feed)

    reading = solved(wiring, command, only(wiring, contact_1_ground=ohm))

    assert reading.load(load).voltage_v == pytest.approx(volts, abs=NEAR_V)


@pytest.mark.parametrize(
    ("socket_feed", "ohm", "command", "volts"),
    [
        (SHARED, 0.3, "park", 0.5),
        (SHARED, 0.3, "brake pedal", 1.1),
        (SHARED, 0.3, "park+brake pedal", 1.7),
        (SHARED, 1.0, "brake pedal", 2.9),
        (MODULE, 1.0, "brake pedal", 3.6),
        (SHARED, 1.0, "park+brake pedal", 5.0),
        (SHARED, 3.0, "park", 1.5),
        (MODULE, 3.0, "park", 4.9),
        (SHARED, 3.0, "park+brake pedal", 9.6),
        (MODULE, 3.0, "park+left", 7.9),
        (SHARED, OPEN, "park", 2.6),
        (MODULE, OPEN, "park", 12.8),
        (SHARED, OPEN, "park+brake pedal", 12.5),
    ],
)
def test_a_meter_across_the_ground(
    socket_feed: SocketFeed, ohm: float, command: str, volts: float
) -> None:
    wiring = small_wiring(socket_feed)

    reading = solved(wiring, command, only(wiring, contact_1_ground=ohm))

    assert reading.nodes_v["junction_ground"] == pytest.approx(volts, abs=NEAR_V)


def test_an_open_ground_kills_everything_behind_a_module() -> None:
    wiring = small_wiring(MODULE)

    for command in ("park", "left", "brake pedal", "park+left", "park+brake pedal"):
        reading = solved(wiring, command, only(wiring, contact_1_ground=OPEN))
        words = {load.word for load in reading.loads if load.kind == "lamp"}
        assert words == {"off"}, command


def test_an_open_ground_glows_where_the_wires_are_shared() -> None:
    """Park alone is fairly bright; left alone dim to normal, the other lamps off."""
    wiring = small_wiring(SHARED)
    fault = only(wiring, contact_1_ground=OPEN)

    park, left = solved(wiring, "park", fault), solved(wiring, "left", fault)

    assert park.load(LEFT_TAIL).word == "dim"
    assert park.load(LEFT).word == "off"
    assert left.load(LEFT).word == "dim"
    assert {left.load(each).word for each in (LEFT_TAIL, RIGHT_TAIL, MARKER, RIGHT)} == {"off"}


def test_the_brake_pedal_puts_the_stop_lamps_out_and_feeds_the_tails_backwards() -> None:
    """A meter across the ground shows 11 V and more; the tail lamps get what is left, reversed."""
    wiring = small_wiring(SHARED)

    reading = solved(wiring, "brake pedal", only(wiring, contact_1_ground=OPEN))

    assert reading.load(LEFT).word == reading.load(RIGHT).word == "off"
    assert reading.load(LEFT_TAIL).voltage_v == pytest.approx(-1.8, abs=NEAR_V)
    assert reading.load(MARKER).voltage_v == pytest.approx(-1.8, abs=NEAR_V)
    assert reading.nodes_v["junction_ground"] > 11.0


def test_tail_and_left_together_light_the_right_stop_lamp() -> None:
    wiring = small_wiring(SHARED)

    reading = solved(wiring, "park+left", only(wiring, contact_1_ground=OPEN))

    assert reading.load(LEFT).word == "off"
    assert reading.load(RIGHT).word == "glow"
    assert not reading.load(RIGHT).commanded
    assert reading.nodes_v["junction_ground"] > 10.0


def test_everything_on_with_an_open_ground_is_everything_off() -> None:
    """No switched-off circuit is left to go home through."""
    wiring = small_wiring(SHARED)

    reading = solved(wiring, "park+brake pedal", only(wiring, contact_1_ground=OPEN))

    assert {load.word for load in reading.loads if load.kind == "lamp"} == {"off"}


@pytest.mark.parametrize("socket_feed", [SHARED, MODULE])
def test_one_open_lamp_ground_turns_bright_and_dark_round(socket_feed: SocketFeed) -> None:
    """Left signal lights the lamp at tail brightness, backwards; with the tails on it goes dark."""
    wiring = small_wiring(socket_feed)
    fault = only(wiring, lamp_left_rear_ground_wire=OPEN)

    left, both = solved(wiring, "left", fault), solved(wiring, "park+left", fault)
    park, right = solved(wiring, "park", fault), solved(wiring, "right", fault)

    assert left.load(LEFT).word == "off"
    assert left.load(LEFT_TAIL).word == "normal"
    assert left.load(LEFT_TAIL).voltage_v < 0.0
    assert both.load(LEFT).word == both.load(LEFT_TAIL).word == "off"
    assert both.load(RIGHT_TAIL).word == "normal"
    assert park.load(LEFT_TAIL).word == ("normal" if socket_feed is SHARED else "off")
    assert right.load(RIGHT).word == "normal"
