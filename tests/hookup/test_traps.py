"""Each trap of the table is met by a rig made for it, and not by one that avoids it.

The traps and their sources are rows of the trap table; here stands what each means on a rig.
"""

from collections.abc import Callable
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
    simple_vehicle,
    step_down_rig,
    van_rig,
)

from loomwright.colours import read_colour
from loomwright.hookup import TrapFound, pair
from loomwright.hookup.trap_grave import GRAVE
from loomwright.hookup.trap_near import NEAR
from loomwright.hookup.traps import TOLD_WHILE_READING
from loomwright.reference.sources import cited, sources
from loomwright.reference.traps import traps
from loomwright.rig.model import (
    Appliance,
    Braking,
    Feed,
    Join,
    LampDrive,
    Led,
    Light,
    Live,
    PinWire,
    Rig,
    SignalSystem,
    SocketFeed,
)

Make = Callable[[], Rig]


def load(function: str) -> Appliance:
    wire = awg("16", 0.5)
    return Appliance("load", function, "resistance", 24.0, 12.0, 0.5, wire, wire, "sealed-butt")


def with_feeds(rig: Rig, *feeds: Feed) -> Rig:
    return replace(rig, vehicle=replace(rig.vehicle, feeds=feeds))


def each_feed(rig: Rig, function: str, **changes: object) -> Rig:
    feeds = (replace(f, **changes) if f.function == function else f for f in rig.vehicle.feeds)
    return with_feeds(rig, *feeds)


def rewired(rig: Rig, pin: str, function: str) -> Rig:
    """The same cord with one pin carrying something else, as a survey may find."""
    cord = (
        PinWire(pin, function, wire.wire) if wire.pin == pin else wire for wire in rig.trailer.cord
    )
    return replace(rig, trailer=replace(rig.trailer, cord=tuple(cord)))


def trailer(rig: Rig, **changes: object) -> Rig:
    return replace(rig, trailer=replace(rig.trailer, **changes))


def joined(rig: Rig, join: Join = Join.SCRATCH) -> Rig:
    sockets = (replace(s, join=join, joint="sealed-butt") for s in rig.sockets)
    return replace(rig, sockets=tuple(sockets))


def surge(plug: str) -> Rig:
    return trailer(meeting(plug, plug), braking=Braking.SURGE)


def centre_grounded() -> Rig:
    base = brake_rig()
    lead = tuple(
        replace(wire, function="ground") if wire.pin == "7" else wire
        for wire in base.sockets[0].lead
    )
    return replace(base, sockets=(replace(base.sockets[0], lead=lead),))


def two_tails(cord: str) -> Rig:
    """A vehicle with a tail feed for each side before a socket and plug of one kind."""
    base = meeting(cord, cord)
    lamps = ("tail_left", "tail_right", "left_stop_turn", "right_stop_turn")
    return joined(with_feeds(base, *(feed(name) for name in lamps)))


def leds() -> Rig:
    led = lamp("bar", "left", 3.0, lights=(Light("tail", Led("resistor", 0.1, 12.8)),))
    return simple_rig(trailer=simple_trailer(lamps=(led,)))


def watched(feed_kind: SocketFeed) -> Rig:
    return simple_rig(vehicle=simple_vehicle(lamp_drive=LampDrive.PULSED, socket_feed=feed_kind))


def yellow_supply() -> Rig:
    """The vehicle's 12 V feed is yellow, as the left signal of a seven-way lead (SAE J2863)."""
    base = joined(meeting("7-blade", "7-blade"))
    wire = replace(awg("12", 5.0), colour=read_colour("yellow"))
    return each_feed(base, "battery", wire=wire)


def two_heavy() -> Rig:
    base = meeting("7-heavy", "7-heavy")
    second = simple_socket(name="second", connector="7-heavy", lead=base.sockets[0].lead)
    return replace(base, sockets=(*base.sockets, second))


GRAVE_CASES: tuple[tuple[str, Make, Make], ...] = (
    (
        "two-blade-conventions",
        lambda: meeting("7-blade", "7-blade-rv"),
        lambda: meeting("7-blade", "7-blade"),
    ),
    ("centre-is-no-ground", centre_grounded, brake_rig),
    (
        "six-way-exchange",
        lambda: meeting("6-round-a", "6-round-b"),
        lambda: meeting("6-round-a", "6-round-a"),
    ),
    (
        "fifth-wire",
        lambda: meeting("5-flat-reverse", "5-flat-brake"),
        lambda: meeting("5-flat-brake", "5-flat-brake"),
    ),
    ("surge-brakes-in-reverse", lambda: surge("4-flat"), lambda: surge("5-flat-reverse")),
    ("surge-brakes-in-reverse", lambda: surge("5-flat-brake"), lambda: surge("12n")),
    (
        "combined-and-separate",
        lambda: simple_rig(vehicle=simple_vehicle(signals=SignalSystem.SEPARATE)),
        van_rig,
    ),
    ("left-and-right-tail", lambda: two_tails("4-flat"), lambda: two_tails("12n")),
    (
        "returns-joined",
        lambda: trailer(caravan_rig(), joined_returns=(("ground", "ground_battery"),)),
        lambda: trailer(caravan_rig(), joined_returns=(("ground", "left_turn"),)),
    ),
    (
        "contact-12",
        lambda: trailer(caravan_rig(), appliances=(load("coding"),)),
        lambda: trailer(caravan_rig(), appliances=(load("ignition"),)),
    ),
    (
        "contact-2-of-seven",
        lambda: meeting("12n", "au-7-round-large"),
        lambda: meeting("12n", "12n"),
    ),
    (
        "australian-in-european",
        lambda: meeting("12n", "au-7-round-large"),
        lambda: meeting("au-7-round-large", "au-7-round-large"),
    ),
    (
        "two-voltages-one-body",
        lambda: replace(meeting("7-heavy", "7-heavy"), vehicle=step_down_rig().vehicle),
        step_down_rig,
    ),
    (
        "farm-tractor",
        lambda: meeting("7-heavy-farm", "7-heavy"),
        lambda: meeting("7-heavy-farm", "7-heavy-farm"),
    ),
    ("unfused-supply", lambda: each_feed(brake_rig(), "battery", fuse=None), brake_rig),
    (
        "charge-line-drains",
        lambda: each_feed(brake_rig(), "battery", live=Live.ALWAYS),
        lambda: each_feed(brake_rig(), "battery", live=Live.ENGINE),
    ),
    (
        "twelve-s-change",
        lambda: meeting("12s", "12s-pre-1998"),
        lambda: meeting("12s", "12s"),
    ),
    (
        "monitored-lamps",
        lambda: watched(SocketFeed.SHARED),
        lambda: watched(SocketFeed.MODULE),
    ),
)

NEAR_CASES: tuple[tuple[str, Make, Make], ...] = (
    ("mirror", lambda: joined(simple_rig()), simple_rig),
    ("centre-is-no-ground", brake_rig, simple_rig),
    ("six-way-exchange", lambda: meeting("6-round-a", "6-round-a"), brake_rig),
    ("fifth-wire", lambda: meeting("5-flat-brake", "5-flat-brake"), simple_rig),
    ("left-and-right-tail", lambda: meeting("12n", "12n"), simple_rig),
    ("returns-joined", caravan_rig, lambda: meeting("12n", "12n")),
    ("older-13-pin", caravan_rig, simple_rig),
    ("contact-12", caravan_rig, simple_rig),
    ("fog-cut-off", lambda: meeting("12n", "12n"), simple_rig),
    ("contact-2-of-seven", lambda: meeting("12n", "12n"), caravan_rig),
    (
        "two-voltages-one-body",
        lambda: meeting("7-heavy", "7-heavy"),
        lambda: meeting("12n", "12n"),
    ),
    (
        "farm-tractor",
        lambda: meeting("7-heavy-farm", "7-heavy-farm"),
        lambda: meeting("7-heavy", "7-heavy"),
    ),
    ("second-seven-way", lambda: meeting("24s", "24s"), brake_rig),
    ("second-seven-way", two_heavy, lambda: meeting("7-heavy", "7-heavy")),
    ("twelve-s-change", lambda: meeting("12s", "12s"), lambda: meeting("12n", "12n")),
    ("loom-colours", lambda: joined(simple_rig()), lambda: joined(simple_rig(), Join.TEE)),
    ("lamp-leads", leds, simple_rig),
    ("colour-is-a-hint", yellow_supply, lambda: joined(meeting("7-blade", "7-blade"))),
    ("same-colour-narrower-job", van_rig, simple_rig),
    ("numbers-shift", lambda: meeting("7-blade", "4-flat"), simple_rig),
    ("two-whites", lambda: meeting("au-12-flat", "au-12-flat"), brake_rig),
)


def met(rig: Rig, key: str) -> TrapFound | None:
    return next((trap for trap in pair(rig).traps if trap.key == key), None)


@pytest.mark.parametrize(("key", "walks_in", "avoids"), GRAVE_CASES)
def test_a_rig_that_walks_into_a_trap_is_told_and_another_is_not(
    key: str, walks_in: Make, avoids: Make
) -> None:
    found, other = met(walks_in(), key), met(avoids(), key)

    assert found is not None
    assert found.grave
    assert other is None or not other.grave


@pytest.mark.parametrize(("key", "passes_by", "far_from"), NEAR_CASES)
def test_a_rig_that_passes_close_by_is_told_without_alarm(
    key: str, passes_by: Make, far_from: Make
) -> None:
    found = met(passes_by(), key)

    assert found is not None
    assert not found.grave
    assert met(far_from(), key) is None


def test_every_row_of_the_table_is_reached_by_some_rig() -> None:
    reached = {key for key, _, _ in (*GRAVE_CASES, *NEAR_CASES)}
    rows = {row.key for row in traps()}

    assert reached == rows - TOLD_WHILE_READING
    assert set(GRAVE) | set(NEAR) == reached
    assert {key for key, _, _ in GRAVE_CASES} == set(GRAVE)
    assert {key for key, _, _ in NEAR_CASES} == set(NEAR)


def test_letters_that_collide_are_refused_before_there_is_a_rig() -> None:
    """GR is green in one legend and grey in another (DIN and other letter codes)."""
    from loomwright.colours import AmbiguousColour

    with pytest.raises(AmbiguousColour):
        read_colour("GR")


def test_grave_traps_come_first_and_each_names_a_place_and_a_source() -> None:
    found = pair(trailer(caravan_rig(), joined_returns=(("ground", "ground_battery"),))).traps
    known = {row.key for row in sources()}

    assert [trap.grave for trap in found] == sorted((t.grave for t in found), reverse=True)
    for trap in found:
        assert trap.where
        assert trap.title
        assert {key for key, _ in cited(trap.source)} <= known


def test_the_returns_tied_are_named_by_their_contacts() -> None:
    """ISO 11446-1: contacts 3, 11 and 13 are returns, each of its own feeds."""
    tied = (("ground_battery", "ground", "ground_ignition"),)
    found = met(trailer(caravan_rig(), joined_returns=tied), "returns-joined")

    assert found is not None
    assert found.where == "returns 3, 11, 13 of the 13-pin plug"


def test_exchanged_contacts_found_by_a_survey_count_as_much_as_the_tables() -> None:
    """Brake on the 12 V blade of a trailer somebody rewired."""
    base = rewired(rewired(brake_rig(), "2", "battery"), "4", "brake")

    found = met(base, "six-way-exchange")

    assert found is not None
    assert found.grave


def test_a_converters_own_supply_must_be_fused_too() -> None:
    base = van_rig()
    assert base.converter is not None
    assert base.converter.feed is not None
    box = replace(base.converter, feed=replace(base.converter.feed, fuse=None))
    found = met(replace(base, converter=box), "unfused-supply")

    assert found is not None
    assert found.where == "feed of the converter"
