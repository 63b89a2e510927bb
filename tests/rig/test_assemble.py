"""From notes to a complete rig: what was written is kept, what was left out is filled and told."""

from dataclasses import fields, is_dataclass

import pytest
from tests.rig.reading import SMALLEST

from loomwright import examples
from loomwright.colours import Colour
from loomwright.quantities import Units, WireSize
from loomwright.reference.sources import cited, source
from loomwright.rig.assemble_lights import lamp_kinds_of, light_colour_of
from loomwright.rig.fill import FROM_FILE
from loomwright.rig.model import (
    Braking,
    Bulb,
    ConverterKind,
    GroundMethod,
    Join,
    Live,
    Returns,
    Rig,
    SignalSystem,
)
from loomwright.rig.read import read_job, read_rig
from loomwright.rig.write import job_values

FOOT_M = 0.3048
INCH_M = 0.0254
POUND_KG = 0.45359237

DEMO = read_rig(examples.text(examples.DEMO))


def assumed(rig: Rig) -> dict[str, str]:
    return {each.field: each.value for each in rig.assumptions}


def small(more: str = "", socket: str = "", connector: str = "4-flat") -> Rig:
    """The smallest job, with more under [trailer] and in the socket."""
    start = SMALLEST.replace("4-flat", connector).replace("\n\n", f"\n{socket}\n\n", 1)
    return read_rig(start + more)


def test_the_demo_says_what_its_file_says() -> None:
    """Typed again from the file, in SI by hand: 1 ft = 0.3048 m, 1 in = 25.4 mm exactly."""
    socket, trailer = DEMO.towing_socket, DEMO.trailer

    assert DEMO.vehicle.supply.running_v == 14.1
    assert DEMO.vehicle.signals is SignalSystem.SEPARATE
    assert socket.legs[0].hole_mm == pytest.approx(0.75 * 25.4)
    assert socket.slack_m == pytest.approx(8 * INCH_M)
    assert socket.route_m == pytest.approx(8 * FOOT_M)
    assert socket.ground_method is GroundMethod.OWN_RING
    assert trailer.gross_mass_kg == pytest.approx(9800 * POUND_KG)
    assert trailer.braking is Braking.ELECTRIC
    assert trailer.run["brake"] == WireSize("awg", "14")
    assert trailer.run["tail"] == WireSize("awg", "16")
    assert trailer.battery is not None
    assert trailer.battery.chemistry == "flooded"
    assert trailer.battery.charge_share == pytest.approx(0.6)


def test_a_lead_has_the_pins_and_colours_of_its_connector() -> None:
    """Colours of SAE J2863 by pin, as trade charts of the seven-way flat blade print them.

    Ground white, brake blue, tail brown, 12 V black, left yellow, right green, reverse violet.
    """
    lead = DEMO.towing_socket.lead
    colours = [wire.wire.colour.base for wire in lead if wire.wire.colour]

    assert [wire.pin for wire in lead] == ["1", "2", "3", "4", "5", "6", "7"]
    assert colours == ["white", "blue", "brown", "black", "yellow", "green", "violet"]
    assert {str(wire.wire.size) for wire in lead} == {"14 AWG", "12 AWG"}
    assert [wire.wire.length_m for wire in lead] == pytest.approx([9 * FOOT_M] * 7)


def test_a_cord_of_another_convention_keeps_pins_and_changes_colours() -> None:
    """Traditional RV colours: tail green, left red, right brown, reverse yellow (trade chart)."""
    cord = {wire.function: wire.wire.colour for wire in DEMO.trailer.cord}

    assert cord["tail"] == Colour("green")
    assert cord["left_stop_turn"] == Colour("red")
    assert cord["right_stop_turn"] == Colour("brown")
    assert cord["reverse"] == Colour("yellow")


def test_thirteen_pins_have_three_returns_and_no_core_for_the_reserved_one() -> None:
    """Contacts 3, 11 and 13 are returns; 12 is reserved. Source: ISO 11446-1 allocation."""
    rig = small(connector="13-pin")
    cord = {wire.pin: wire.function for wire in rig.trailer.cord}

    assert (cord["3"], cord["11"], cord["13"]) == ("ground", "ground_ignition", "ground_battery")
    assert "12" not in cord
    assert rig.units is Units.METRIC
    assert {wire.wire.size.system for wire in rig.trailer.cord} == {"mm2"}
    assert rig.trailer.signals is SignalSystem.SEPARATE


def test_sizes_a_standard_gives_come_before_those_of_the_trade() -> None:
    """SAE J1239 as tabulated: ground 16 AWG, the lamp conductors 18 AWG."""
    sizes = {wire.function: str(wire.wire.size) for wire in small().trailer.cord}

    assert sizes["ground"] == "16 AWG"
    assert sizes["tail"] == "18 AWG"


def test_conductors_may_be_missing_unknown_or_described_one_by_one() -> None:
    cord = (
        '[trailer.cord]\ncolours = "unknown"\nsize = "14 AWG"\nwithout = ["reverse"]\n'
        'brake = { size = "12 AWG", length = "9 ft", colour = "blue/white" }\n'
    )
    wires = {wire.function: wire.wire for wire in small(cord, connector="7-blade").trailer.cord}

    assert "reverse" not in wires
    assert wires["tail"].colour is None
    assert wires["brake"].colour == Colour("blue", "white")
    assert wires["brake"].length_m == pytest.approx(9 * FOOT_M)
    assert wires["ground"].size == WireSize("awg", "14")


def test_a_lead_without_length_is_its_route_and_slack() -> None:
    socket = (
        'slack = "1 ft"\nleg = [{ name = "a", length = "3 ft" }, { name = "b", length = "2 ft" }]'
    )

    lead = small(socket=socket).towing_socket.lead

    assert lead[0].wire.length_m == pytest.approx(6 * FOOT_M, abs=0.001)


def test_both_magnets_of_an_axle_and_both_lamps_of_a_pair_are_made() -> None:
    names = {brake.name: brake.side for brake in DEMO.trailer.brakes}
    markers = [lamp.name for lamp in DEMO.trailer.lamps if "front marker" in lamp.name]

    assert names == {
        "left brake, axle 1": "left",
        "right brake, axle 1": "right",
        "left brake, axle 2": "left",
        "right brake, axle 2": "right",
    }
    assert {brake.size_in for brake in DEMO.trailer.brakes} == {12.0}
    assert markers == ["left front marker", "right front marker"]


def test_a_second_socket_branches_off_the_first_and_is_towed_from() -> None:
    text = SMALLEST.replace("[trailer]", '[[socket]]\nconnector = "7-blade"\n\n[trailer]')

    rig = read_rig(text)
    first, second = rig.sockets

    assert (first.join, first.joins_from) == (Join.FACTORY, "vehicle")
    assert (second.join, second.joins_from) == (Join.BRANCHED, "4-flat")
    assert rig.towing == "7-blade"
    assert rig.trailer.plug == "7-blade"


def test_a_step_down_converter_is_powered_and_has_an_output() -> None:
    rig = read_rig(examples.text("truck-24-to-12"))
    box = rig.converter

    assert box is not None
    assert box.kind is ConverterKind.STEP_DOWN
    assert (box.output_v, box.max_current_a) == (13.2, 10.0)
    assert box.feed is not None
    assert rig.vehicle.supply.nominal_v == 24.0
    assert rig.trailer.nominal_v == 12.0


def test_feeds_are_live_as_their_function_asks() -> None:
    """A battery pin is hot at all times on many vehicles, ignition with the key: trade practice."""
    feeds = "".join(
        f'[[vehicle.feed]]\nfunction = "{name}"\n'
        for name in ("tail", "battery", "ignition", "charge")
    )

    live = {feed.function: feed.live for feed in small(feeds).vehicle.feeds}

    assert live == {
        "tail": Live.COMMAND,
        "battery": Live.ALWAYS,
        "ignition": Live.IGNITION,
        "charge": Live.ENGINE,
    }


def test_a_fuse_is_absent_only_where_the_file_says_so() -> None:
    feeds = (
        '[[vehicle.feed]]\nfunction = "tail"\nfuse = "none"\n[[vehicle.feed]]\nfunction = "stop"\n'
    )

    tail, stop = small(feeds).vehicle.feeds

    assert tail.fuse is None
    assert stop.fuse is not None


def test_lamps_not_written_down_hang_on_wires_the_trailer_shares() -> None:
    """Two tail lamps and a signal lamp each side, 1157 in US lamps: common practice."""
    feeds = '[[vehicle.feed]]\nfunction = "tail"\n[[vehicle.feed]]\nfunction = "left_stop_turn"\n'

    tail, left = small(feeds).vehicle.feeds
    module = small(f'[vehicle]\nsocket_feed = "module"\n{feeds}').vehicle.feeds
    none = small(feeds.replace('"tail"', '"tail"\nlamps = []')).vehicle.feeds

    assert [light.source for light in tail.lights] == [Bulb("1157", "minor")] * 2
    assert [light.source for light in left.lights] == [Bulb("1157", "major")]
    assert module[0].lights == none[0].lights == ()


def test_a_pulsed_tail_feed_is_on_for_part_of_the_time() -> None:
    """22 % on one car whose workshop manual gives it: from memory."""
    feeds = '[vehicle]\nlamp_drive = "pulsed"\n[[vehicle.feed]]\nfunction = "tail"\n'

    assert small(feeds).vehicle.feeds[0].duty == pytest.approx(0.22)
    assert small(feeds + 'duty = "100 %"\n').vehicle.feeds[0].duty == 1.0


@pytest.mark.parametrize(
    ("feeds", "connector", "found"),
    [
        (["left_stop_turn"], "13-pin", SignalSystem.COMBINED),
        (["left_turn"], "4-flat", SignalSystem.SEPARATE),
        ([], "13-pin", SignalSystem.SEPARATE),
        ([], "4-flat", SignalSystem.COMBINED),
    ],
)
def test_a_vehicles_signals_follow_its_feeds_then_its_socket(
    feeds: list[str], connector: str, found: SignalSystem
) -> None:
    more = "".join(f'[[vehicle.feed]]\nfunction = "{name}"\n' for name in feeds)

    assert small(more, connector=connector).vehicle.signals is found


@pytest.mark.parametrize(
    ("functions", "share", "kinds"),
    [
        (["tail", "left_stop_turn"], 1.0, ("tail_lamp", "stop_lamp", "turn_signal_rear")),
        (["tail_left", "stop", "left_turn"], 1.0, ("tail_lamp", "stop_lamp", "turn_signal_rear")),
        (["reverse"], 0.95, ("reversing_lamp",)),
        (["fog"], 1.0, ("rear_fog_lamp",)),
        (["tail"], 0.1, ("side_marker_front",)),
        (["tail"], 0.5, ("side_marker_mid",)),
        (["worklight"], 1.0, ()),
    ],
)
def test_a_lamp_counts_as_what_lights_it_and_where_it_is(
    functions: list[str], share: float, kinds: tuple[str, ...]
) -> None:
    """Kinds as 49 CFR 571.108 Table I-b and UN R48 name them."""
    assert lamp_kinds_of(functions, share) == kinds


@pytest.mark.parametrize(
    ("functions", "kinds", "colour"),
    [
        (["tail"], ("tail_lamp",), "red"),
        (["tail"], ("plate_lamp",), "white"),
        (["reverse"], ("reversing_lamp",), "white"),
        (["tail"], ("clearance_front", "side_marker_front"), "amber"),
        (["left_turn"], ("turn_signal_rear",), "amber"),
        (["tail", "left_turn"], ("tail_lamp", "turn_signal_rear"), "red"),
    ],
)
def test_a_lamp_shines_in_the_usual_colour(
    functions: list[str], kinds: tuple[str, ...], colour: str
) -> None:
    """Red to the rear, amber to the front and side, white for plate and reverse: UN R48 5.15."""
    assert light_colour_of(functions, kinds) == colour


def test_what_was_left_out_is_listed_with_its_value() -> None:
    found = assumed(small())

    assert found["vehicle.voltage"] == "12 V"
    assert found["trailer.plug"] == "4-flat"
    assert found["trailer.width"] == "72 in"
    assert found["rig.commercial"] == "no"
    assert found["trailer.brakes"] == "none"


def test_what_was_written_is_never_listed() -> None:
    """Every assumption is of a place the file does not have."""
    for name in examples.names():
        job, rig = read_job(examples.text(name)), read_rig(examples.text(name))
        written = set(leaves(job_values(job), ""))

        assert not written & set(assumed(rig)), name


def leaves(node: object, path: str) -> list[str]:
    """Paths of all single values, entries of lists counted from 1."""
    if isinstance(node, dict):
        return [p for key, value in node.items() for p in leaves(value, f"{path}.{key}".strip("."))]
    if isinstance(node, list) and node and isinstance(node[0], dict):
        return [p for n, value in enumerate(node, 1) for p in leaves(value, f"{path}[{n}]")]
    return [path]


@pytest.mark.parametrize("name", examples.names())
def test_every_assumption_names_its_source_and_standing(name: str) -> None:
    for each in read_rig(examples.text(name)).assumptions:
        assert each.standing in ("found", "memory", "common practice")
        assert each.says
        if each.source != FROM_FILE:
            assert all(source(key) for key, _ in cited(each.source)), each


def test_the_same_default_at_many_loads_is_listed_once() -> None:
    found = [each.field for each in DEMO.assumptions]

    assert found.count("trailer.lamp.branch.size") == 1
    assert not [path for path in found if path.startswith("trailer.lamp[1].branch")]


def test_an_assumption_written_into_the_file_changes_nothing() -> None:
    """The demo with its supply written out is the same rig with fewer assumptions."""
    values = assumed(DEMO)
    text = examples.text(examples.DEMO).replace(
        'idle = "13.4 V"', f'idle = "13.4 V"\nhigh = "{values["vehicle.supply.high"]}"'
    )

    rig = read_rig(text)

    assert rig == DEMO
    assert len(rig.assumptions) == len(DEMO.assumptions) - 1


def test_returns_and_condition_are_those_of_the_file() -> None:
    assert DEMO.trailer.returns is Returns.FRAME
    assert DEMO.trailer.condition == "aged"
    assert small().trailer.returns is Returns.WIRE


def test_a_year_alone_is_its_first_day() -> None:
    rig = small('built = "2014"\n')

    assert rig.trailer.built == "2014-01-01"
    assert assumed(rig)["trailer.built"] == "2014-01-01"


def test_a_rig_cannot_be_changed_by_accident() -> None:
    parts = [DEMO, DEMO.vehicle, DEMO.trailer, *DEMO.sockets, *DEMO.trailer.lamps]

    for part in parts:
        assert is_dataclass(part)
        with pytest.raises(AttributeError):
            setattr(part, fields(part)[0].name, None)
