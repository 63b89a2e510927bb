"""Each stage of the pairing on small rigs whose right answer is plain."""

from dataclasses import replace

import pytest
from tests.hookup.meetings import meeting
from tests.rigs import (
    awg,
    brake_rig,
    caravan_rig,
    feed,
    lamp,
    simple_rig,
    simple_socket,
    simple_trailer,
    step_down_rig,
    van_rig,
)

from loomwright.colours import read_colour
from loomwright.hookup import Hookup, Pair, Standing, pair
from loomwright.quantities import Units
from loomwright.rig.model import ConverterKind, GroundMethod, Join, PinWire


def only(found: Hookup, stage: str, function: str, socket: str | None = None) -> Pair:
    """The one pair of a stage that carries a function."""
    (wanted,) = (
        each
        for each in found.at(stage)
        if each.function == function and socket in (None, each.socket)
    )
    return wanted


def second_socket(join: Join = Join.BRANCHED, **changes: object) -> object:
    base = brake_rig()
    new = simple_socket(
        name="bed 7-way",
        connector="7-blade",
        join=join,
        joins_from="rear 7-way",
        joint="sealed-butt",
        lead=base.sockets[0].lead,
        ground_method=GroundMethod.OLD_WIRE,
    )
    return replace(base, sockets=(*base.sockets, replace(new, **changes)), towing="bed 7-way")


def test_a_factory_socket_alone_leaves_nothing_to_splice() -> None:
    assert pair(simple_rig()).at("splice") == ()


def test_a_second_socket_joins_the_wires_of_the_first() -> None:
    found = pair(second_socket())
    tail = only(found, "splice", "tail")

    assert tail.vehicle_side is not None
    assert tail.vehicle_side.of == "rear 7-way"
    assert tail.vehicle_side.pin == "3"
    assert {each.function for each in found.at("splice")} == {
        wire.function for wire in brake_rig().sockets[0].lead
    }


def test_a_branched_joint_holds_three_ends_and_a_cut_one_two() -> None:
    """16 AWG twice is 5 160 circular mils (blue); 14 AWG twice is 8 220 (yellow): ASTM B258."""
    branched = only(pair(second_socket()), "splice", "tail")
    cut = only(pair(second_socket(Join.CUT)), "splice", "tail")

    assert branched.splice is not None
    assert cut.splice is not None
    assert not branched.splice.fits
    assert cut.splice.fits


def test_a_plug_in_branch_cuts_nothing() -> None:
    found = only(pair(second_socket(Join.TEE, joint="plug-in")), "splice", "tail")

    assert "nothing is cut" in found.do


def test_an_old_ground_is_the_ground_of_the_socket_that_is_joined() -> None:
    ground = only(pair(second_socket()), "splice", "ground")

    assert ground.vehicle_side is not None
    assert (ground.vehicle_side.of, ground.vehicle_side.pin) == ("rear 7-way", "1")


def test_a_ring_of_its_own_ends_on_bare_frame() -> None:
    rig = second_socket(ground_method=GroundMethod.OWN_RING)
    ground = only(pair(rig), "splice", "ground")

    assert ground.vehicle_side is not None
    assert ground.vehicle_side.of == "frame"
    assert "bare frame" in ground.do
    assert ground.splice is not None
    assert ground.splice.kind == "ring-terminal"


def test_a_surveyed_colour_goes_before_the_colour_of_the_lead() -> None:
    base = second_socket()
    surveyed = tuple(
        replace(each, wire=replace(each.wire, colour=read_colour("YE")))
        if each.function == "battery"
        else each
        for each in base.vehicle.feeds
    )
    rig = replace(base, vehicle=replace(base.vehicle, feeds=surveyed))
    battery = only(pair(rig), "splice", "battery")

    assert battery.vehicle_side is not None
    assert battery.vehicle_side.colour == read_colour("yellow")


@pytest.mark.parametrize(
    ("function", "advice"),
    [
        ("battery", "from the battery, its fuse within 7\u00a0in"),
        ("brake", "from the brake controller"),
        ("reverse", "reverse lamp circuit"),
    ],
)
def test_a_feed_the_trailer_needs_and_nobody_gives_is_named(function: str, advice: str) -> None:
    """Fuse within 7 in (178 mm) of its source: ABYC E-11, from memory."""
    base = brake_rig()
    feeds = tuple(each for each in base.vehicle.feeds if each.function != function)
    trailer = replace(base.trailer, lamps=(*base.trailer.lamps, lamp_on("reverse")))
    socket = replace(base.sockets[0], join=Join.SCRATCH, joint="sealed-butt")
    rig = replace(
        base,
        vehicle=replace(base.vehicle, feeds=feeds),
        sockets=(socket,),
        trailer=trailer,
    )
    found = only(pair(rig), "splice", function)

    assert found.standing is Standing.NO_FEED
    assert advice in found.do
    assert "the trailer needs it" in found.says


def test_the_fuse_distance_is_told_in_metric_too() -> None:
    base = caravan_rig(units=Units.METRIC)
    feeds = tuple(each for each in base.vehicle.feeds if each.function != "ignition")
    socket = replace(base.sockets[0], join=Join.SCRATCH, joint="sealed-butt")
    rig = replace(base, vehicle=replace(base.vehicle, feeds=feeds), sockets=(socket,))

    assert "178\u00a0mm" in only(pair(rig), "splice", "ignition").do


def test_a_dead_conductor_the_trailer_does_not_use_is_capped() -> None:
    base = brake_rig()
    feeds = tuple(each for each in base.vehicle.feeds if each.function != "reverse")
    socket = replace(base.sockets[0], join=Join.SCRATCH, joint="sealed-butt")
    rig = replace(base, vehicle=replace(base.vehicle, feeds=feeds), sockets=(socket,))
    found = only(pair(rig), "splice", "reverse")

    assert found.standing is Standing.NO_FEED
    assert found.do.startswith("Cap and seal")


def test_a_feed_without_a_conductor_is_capped_and_sealed() -> None:
    rig = simple_rig(sockets=(simple_socket(join=Join.SCRATCH, joint="sealed-butt"),))
    vehicle = replace(rig.vehicle, feeds=(*rig.vehicle.feeds, feed("reverse")))
    found = only(pair(replace(rig, vehicle=vehicle)), "splice", "reverse")

    assert found.standing is Standing.NO_PARTNER
    assert found.do.startswith("Cap and seal")


def test_a_wire_that_lights_the_vehicles_own_lamps_is_never_capped() -> None:
    from tests.rigs import MARKER

    rig = simple_rig(sockets=(simple_socket(join=Join.SCRATCH, joint="sealed-butt"),))
    vehicle = replace(rig.vehicle, feeds=(*rig.vehicle.feeds, feed("reverse", MARKER)))
    found = only(pair(replace(rig, vehicle=vehicle)), "splice", "reverse")

    assert found.do.startswith("Leave it whole")


def test_separate_wires_wait_for_a_converter() -> None:
    base = van_rig()
    socket = replace(base.sockets[0], joins_from="vehicle")
    found = pair(replace(base, converter=None, sockets=(socket,)))
    left = only(found, "splice", "left_stop_turn")

    assert left.standing is Standing.NEEDS_CONVERTER
    assert "combine converter" in left.says
    assert left.vehicle_side is None


def test_a_converter_listens_to_the_vehicle_and_feeds_the_lead() -> None:
    """A combining converter takes both turns, stop and tail, its supply and ground besides.

    Five vehicle wires become four: common practice.
    """
    found = pair(van_rig())
    inputs = [each.function for each in found.at("splice") if each.socket == "converter"]
    fed = {
        each.function: each.vehicle_side.of
        for each in found.at("splice")
        if each.socket == "rear 4-way" and each.vehicle_side is not None
    }

    assert sorted(inputs) == sorted(
        ["left_turn", "right_turn", "stop", "tail", "battery", "ground"]
    )
    assert fed == {
        "ground": "frame",
        "tail": "converter",
        "left_stop_turn": "converter",
        "right_stop_turn": "converter",
    }


def test_what_a_converter_does_not_handle_passes_it_by() -> None:
    base = van_rig()
    vehicle = replace(base.vehicle, feeds=(*base.vehicle.feeds, feed("reverse")))
    lead = (*base.sockets[0].lead, PinWire("5", "reverse", awg("16", 0.6)))
    socket = replace(base.sockets[0], connector="5-flat-reverse", lead=lead)
    found = only(
        pair(replace(base, vehicle=vehicle, sockets=(socket,))), "splice", "reverse", "rear 4-way"
    )

    assert found.vehicle_side is not None
    assert found.vehicle_side.of == "vehicle"


def test_a_converter_input_without_a_wire_is_told() -> None:
    base = van_rig()
    feeds = tuple(each for each in base.vehicle.feeds if each.function != "stop")
    found = only(pair(replace(base, vehicle=replace(base.vehicle, feeds=feeds))), "splice", "stop")

    assert found.standing is Standing.NO_FEED
    assert "the vehicle lists no such wire" in found.says


def test_behind_a_step_down_no_24_volt_wire_is_joined() -> None:
    base = step_down_rig()
    vehicle = replace(base.vehicle, feeds=(*base.vehicle.feeds, feed("reverse")))
    socket = base.sockets[0]
    lead = (*socket.lead, PinWire("5", "reverse", awg("16", 0.6)))
    rig = replace(base, vehicle=vehicle, sockets=(replace(socket, lead=lead),))
    found = only(pair(rig), "splice", "reverse", socket.name)

    assert found.standing is Standing.NEEDS_CONVERTER
    assert found.vehicle_side is None
    assert "24 V" in found.says


def test_another_voltage_at_the_plug_is_never_joined() -> None:
    base = step_down_rig()
    socket = replace(base.sockets[0], joins_from="vehicle")
    found = pair(replace(base, converter=None, sockets=(socket,)))

    live = [each for each in found.pairs if each.stage == "plug" and each.function != "ground"]
    assert live
    assert {each.standing for each in live} == {Standing.NEEDS_CONVERTER}


def test_a_body_that_mates_with_other_functions_is_a_trap_at_its_pin() -> None:
    """Contact 5: right tail lamp in ISO 1724, electric brakes in AS 4177.5; the bodies mate."""
    found = pair(meeting("12n", "au-7-round-large"))
    fifth = only(found, "plug", "brake")

    assert fifth.standing is Standing.TRAP
    assert fifth.vehicle_side is not None
    assert fifth.vehicle_side.function == "tail_right"
    assert "do not mate" in fifth.do


def test_an_adapter_loses_what_it_does_not_join() -> None:
    """The adapter from a seven-way blade to a four-way flat carries lamps alone."""
    found = pair(meeting("7-blade", "4-flat"))

    assert {each.stage for each in found.pairs if each.stage != "splice"} == {"adapter"}
    spare = {each.function for each in found.pairs if each.standing is Standing.NO_PARTNER}
    assert spare == {"brake", "battery", "reverse"}


def test_a_function_lost_in_an_adapter_is_told_where_the_socket_has_it() -> None:
    """Reverse has no contact in ISO 1724: a 13-pin trailer is unfed there, not robbed.

    From a 13-pin socket to a 12N plug nothing of the plug is lost.
    """
    unfed = pair(meeting("12n", "13-pin"))
    whole = pair(meeting("13-pin", "12n"))

    reverse = only(unfed, "adapter", "reverse")
    assert reverse.standing is Standing.NO_FEED
    assert Standing.LOST_IN_ADAPTER not in {each.standing for each in whole.pairs}


def test_what_the_trailer_needs_and_its_plug_lacks_is_lost_there() -> None:
    """A four-way flat has no contact for brakes, 12 V or reverse (SAE J1239)."""
    base = brake_rig()
    flat = {"ground", "tail", "left_stop_turn", "right_stop_turn"}
    cord = tuple(wire for wire in base.trailer.cord if wire.function in flat)
    rig = replace(base, trailer=replace(base.trailer, plug="4-flat", cord=renumbered(cord)))
    found = pair(rig)

    assert only(found, "adapter", "brake").standing is Standing.LOST_IN_ADAPTER
    assert only(found, "adapter", "battery").standing is Standing.LOST_IN_ADAPTER
    assert only(found, "adapter", "reverse").standing is Standing.NO_PARTNER


def renumbered(cord: tuple[PinWire, ...]) -> tuple[PinWire, ...]:
    """The same conductors at the contacts of a four-way flat."""
    pins = {"ground": "1", "tail": "2", "left_stop_turn": "3", "right_stop_turn": "4"}
    return tuple(replace(wire, pin=pins[wire.function]) for wire in cord)


def test_the_half_of_a_divided_adapter_loses_what_the_other_half_carries() -> None:
    """ISO 3732 contact 2 has no use; a 13-pin to 12S adapter leaves the lamps to the 12N."""
    found = pair(meeting("12s", "13-pin"))

    left = only(found, "adapter", "left_turn")
    assert left.vehicle_side is None


def test_a_splitting_adapter_names_its_converter() -> None:
    """Stop and turn of SAE J560 cannot come from a seven-way blade by plain joining."""
    found = pair(meeting("7-blade", "7-heavy"))

    for name in ("stop", "left_turn", "right_turn"):
        assert only(found, "adapter", name).standing is Standing.NEEDS_CONVERTER


def test_bodies_without_a_known_adapter_are_paired_by_function_and_said_so() -> None:
    found = pair(meeting("15-pin", "4-flat"))
    ground = only(found, "adapter", "ground")

    assert ground.vehicle_side is not None
    assert "no adapter" in ground.do


def test_a_spare_contact_gives_no_feed_and_a_spare_core_is_capped() -> None:
    """Contact 2 of the 12S charged the battery before September 1998 and is free since."""
    newer_vehicle = only(pair(meeting("12s", "12s-pre-1998")), "plug", "charge")
    older_vehicle = [
        each
        for each in pair(meeting("12s-pre-1998", "12s")).at("plug")
        if each.vehicle_side is not None and each.vehicle_side.function == "charge"
    ]

    assert newer_vehicle.standing is Standing.NO_FEED
    assert older_vehicle[0].standing is Standing.NO_PARTNER
    assert "live" in older_vehicle[0].do


def test_one_tail_feed_serves_both_sides() -> None:
    found = pair(caravan_rig())
    base = replace(caravan_rig().sockets[0], join=Join.SCRATCH, joint="sealed-butt")
    spliced = pair(caravan_rig(sockets=(base,)))

    for name in ("tail_left", "tail_right"):
        joint = only(spliced, "splice", name)
        assert joint.vehicle_side is not None
        assert joint.vehicle_side.function == "tail"
    assert found.at("splice") == ()


def test_a_ground_left_out_of_the_lead_is_still_there_at_the_socket() -> None:
    lead = tuple(wire for wire in simple_socket().lead if wire.function != "ground")
    found = only(pair(simple_rig(sockets=(simple_socket(lead=lead),))), "plug", "ground")

    assert found.vehicle_side is not None
    assert found.vehicle_side.pin == "1"


def test_each_kind_of_converter_is_one_the_pairing_knows() -> None:
    for kind in ConverterKind:
        assert pair(van_rig(kind)).pairs


def lamp_on(function: str) -> object:
    from tests.rigs import MARKER

    from loomwright.rig.model import Light

    return lamp("reversing", "left", 4.0, lights=(Light(function, MARKER),))


def test_a_trailer_lamp_on_a_side_circuit_counts_for_a_common_tail_feed() -> None:
    from tests.rigs import MARKER

    from loomwright.rig.model import Light

    lamps = (lamp("left", "left", 3.0, lights=(Light("tail_left", MARKER),)),)
    lead = tuple(wire for wire in simple_socket().lead if wire.function != "tail")
    rig = simple_rig(sockets=(simple_socket(lead=lead),), trailer=simple_trailer(lamps=lamps))

    assert "the trailer needs it" in only(pair(rig), "plug", "tail").says
