"""Converters: which output is on, whose current it is, and what passes by."""

from dataclasses import replace

import pytest
from tests.electrics.gallery import plain_converter_rig, splitting_rig
from tests.electrics.ideal import only, solved
from tests.rigs import step_down_rig, van_rig

from loomwright.electrics.carriers import driving_input, inputs_of
from loomwright.electrics.wiring import wire_up
from loomwright.reference.adapters import ConverterLine
from loomwright.rig.model import ConverterKind
from loomwright.tables import read_rows

LINES = [
    line
    for line in read_rows("loomwright.reference", "converter_logic", ConverterLine)
    if line.converter in ("combine", "split")
]


@pytest.mark.parametrize("line", LINES, ids=lambda line: f"{line.converter}: {line.inputs}")
def test_outputs_follow_the_logic_table(line: ConverterLine) -> None:
    """The table of what the trade's converters do, in the lit half of flashing signals."""
    states = line.states(line.inputs)
    live = {name for name, state in states.items() if state != "off"}
    flashing = {name for name, state in states.items() if state == "flashing"}

    for output, state in line.states(line.outputs).items():
        driven = driving_input(output, inputs_of(output, states), live, flashing)
        assert (driven is not None) == (state != "off"), output


def test_a_powered_converter_leaves_the_vehicle_its_own_current() -> None:
    """The vehicle's stop wire carries its own two lamps and the 10 mA that are listened to.

    Two P21W take 25 W at 13.5 V each (UN R37), so 1.85 A; the trailer's lamps are another 4 A.
    """
    made = solved(wire_up(van_rig()), "brake pedal")
    fuses = {fuse.element: fuse.current_a for fuse in made.fuses}

    assert fuses["feed_stop_fuse"] == pytest.approx(2 * 1.85 + 0.01, rel=0.02)
    assert fuses["converter_feed_fuse"] == pytest.approx(2 * 2.1, rel=0.03)


def test_a_plain_converter_loads_the_vehicle_wire() -> None:
    made = solved(wire_up(plain_converter_rig()), "brake pedal")
    fuses = {fuse.element: fuse.current_a for fuse in made.fuses}

    assert fuses["feed_stop_fuse"] == pytest.approx(2 * 2.1, rel=0.06)
    assert "converter_feed_fuse" not in fuses


def test_stop_and_turn_come_out_of_a_splitting_converter_apart() -> None:
    wiring = wire_up(splitting_rig())

    stop, left = solved(wiring, "brake pedal"), solved(wiring, "left")
    hazard = solved(wiring, "hazard")

    assert stop.load("left rear stop").word == stop.load("right rear stop").word == "normal"
    assert stop.load("left rear left turn").word == "off"
    assert left.load("left rear left turn").word == "normal"
    assert left.load("left rear stop").word == "off"
    assert hazard.load("right rear right turn").word == "normal"
    assert hazard.load("left rear stop").word == "off"


def test_what_a_converter_does_not_handle_passes_by() -> None:
    """The tail output left out: the lead's tail wire is on the vehicle's own feed."""
    rig = van_rig()
    assert rig.converter is not None
    box = replace(rig.converter, channel_a={"left_stop_turn": 5.0, "right_stop_turn": 5.0})
    wiring = wire_up(replace(rig, converter=box))

    reading = solved(wiring, "park")
    fuses = {fuse.element: fuse.current_a for fuse in reading.fuses}

    assert reading.load("left rear tail").word == "normal"
    assert fuses["converter_feed_fuse"] == pytest.approx(0.0, abs=0.01)
    assert fuses["feed_tail_fuse"] == pytest.approx(2 * 0.59 + 2 * 0.27, rel=0.05)


def test_a_step_down_converter_keeps_its_voltage_and_takes_its_power() -> None:
    """13.2 V out whatever comes in; power in is power out over the efficiency of 90 %."""
    wiring = wire_up(step_down_rig())

    reading = solved(wiring, "park+brake pedal", only(wiring))
    trailer_w = sum(
        load.voltage_v * load.current_a for load in reading.loads if load.kind == "lamp"
    )
    fuse = next(each for each in reading.fuses if each.element == "converter_feed_fuse")

    assert reading.load("left rear left stop turn").voltage_v == pytest.approx(13.2, abs=0.06)
    assert 28.0 * fuse.current_a == pytest.approx(trailer_w / 0.9, rel=0.01)


def test_a_step_down_converter_without_a_feed_steps_down_each_channel() -> None:
    rig = step_down_rig()
    assert rig.converter is not None
    box = replace(rig.converter, powered=False, feed=None)
    wiring = wire_up(replace(rig, converter=box))

    left, rest = solved(wiring, "left"), solved(wiring, "rest")

    assert left.load("left rear left stop turn").word == "normal"
    assert left.load("left rear left stop turn").voltage_v < 13.2
    assert left.load("right rear right stop turn").word == "off"
    assert {load.word for load in rest.loads if load.kind == "lamp"} == {"off"}


def test_a_converter_of_one_kind_isolates() -> None:
    """Same functions in and out, so only the current changes hands."""
    rig = van_rig(ConverterKind.ISOLATE)
    assert rig.converter is not None
    channels = dict.fromkeys(("left_turn", "right_turn", "stop", "tail"), 5.0)
    wiring = wire_up(replace(rig, converter=replace(rig.converter, channel_a=channels)))

    assert wiring.channels["stop"] == ("stop",)
    assert wiring.channels["left_turn"] == ("left_turn",)
