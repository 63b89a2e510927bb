"""The folded run of every example: nothing clips, nothing overlaps, both ways are whole."""

from collections import Counter

import pytest
from tests.drawing.text_boxes import SVG, clipped, overlapping, page_of, parsed, words_of
from tests.solved_examples import EXAMPLES, rig_of, work_of

from loomwright.drawing.folded import circuit_rows, folded_run
from loomwright.drawing.run_readings import LIVE_ABOVE_A
from loomwright.electrics.answers import Answers
from loomwright.rig.model import GroundMethod, Returns

FINDINGS = (
    ("battery", "", "SUP01", "danger"),
    ("fuse", "tail", "FUSE01", "must be mended", "feed_tail_fuse"),
    ("feed", "tail", "FEED01", "should be mended"),
    ("joint", "tail", "JOIN01", "note"),
    ("joint", "tail", "JOIN02", "must be mended"),
    ("load", "left_stop_turn", "DROP01", "should be mended"),
    ("branch", "left_turn", "DROP02", "danger"),
    ("cord", "ground", "RET01", "must be mended"),
    ("cord", "ground", "RET02", "must be mended"),
    ("cord", "ground", "RET03", "danger"),
    ("junction", "", "JOIN09", "should be mended"),
    ("chassis", "ground", "RET04", "note"),
)
PHONE_PX = 390
PX_PER_MM = 96 / 25.4
"""CSS Values and Units 4: an inch is 96 px."""

THUMB_MM = 12.7
"""48 px, the least a thumb hits surely: WCAG 2.2, 2.5.5, asks for 44."""


def answers_of(name: str) -> Answers:
    return work_of(name).answers


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_wiring_alone_neither_clips_nor_overlaps(name: str) -> None:
    svg = folded_run(rig_of(name))

    assert clipped(svg) == []
    assert overlapping(svg) == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_command_makes_labels_clip_or_overlap(name: str) -> None:
    for command in answers_of(name).commands:
        svg = folded_run(rig_of(name), answers_of(name).at(command), FINDINGS)

        assert clipped(svg) == [], command
        assert overlapping(svg) == [], command


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_fits_a_phone_at_full_size(name: str) -> None:
    assert page_of(folded_run(rig_of(name))).width * PX_PER_MM <= PHONE_PX - 24


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_type_is_smaller_than_a_phone_shows_well(name: str) -> None:
    """12.5 px and up: readable at arm's length without zooming. Common practice."""
    sizes = {
        float(text.attrib["font-size"]) * PX_PER_MM
        for text in parsed(folded_run(rig_of(name))).iter(f"{SVG}text")
    }

    assert min(sizes) >= 12.5


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_circuit_alone_is_what_it_is_among_all(name: str) -> None:
    rig = rig_of(name)
    together = Counter(words_of(folded_run(rig)))
    alone = Counter(
        word for row in circuit_rows(rig) for word in words_of(folded_run(rig, circuit=row))
    )

    assert alone == together


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_conductor_and_load_is_there(name: str) -> None:
    rig, words = rig_of(name), words_of(folded_run(rig_of(name)))

    wires = [feed.wire for feed in rig.vehicle.feeds]
    wires += [pin.wire for pin in (*rig.towing_socket.lead, *rig.trailer.cord)]
    for wire in wires:
        assert wire.colour is None or wire.colour.code in words
    lights = [lamp.name for lamp in rig.trailer.lamps for _ in lamp.lights]
    for load in (*lights, *(brake.name for brake in rig.trailer.brakes)):
        assert words.count(load) >= lights.count(load), load


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_circuit_with_a_cord_shows_both_pins_of_its_way_out_and_home(name: str) -> None:
    rig = rig_of(name)
    for row in circuit_rows(rig):
        words = words_of(folded_run(rig, circuit=row))
        if any(word.endswith(" plug") or word == "plug" for word in words):
            pins = {wire.pin for wire in rig.trailer.cord}
            assert sum(word in pins for word in words) >= 2, row


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_part_is_named_once_and_is_a_part_of_the_circuit(name: str) -> None:
    rig = rig_of(name)
    elements = {
        each.element for answer in answers_of(name).by_case.values() for each in answer.loads
    }
    named = [
        node.attrib["data-part"]
        for row in circuit_rows(rig)
        for node in parsed(folded_run(rig, circuit=row)).iter()
        if "data-part" in node.attrib
    ]
    ids = [
        node.attrib["id"] for node in parsed(folded_run(rig)).iter() if "data-part" in node.attrib
    ]

    assert len(ids) == len(set(ids))
    trailer_loads = {each for each in elements if each.startswith(("lamp_", "brake_", "battery_"))}
    assert trailer_loads <= set(named)


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_is_linked_is_large_enough_for_a_thumb(name: str) -> None:
    svg = folded_run(rig_of(name), link="/part/{part}")
    spots = [r for r in parsed(svg).iter(f"{SVG}rect") if r.attrib.get("class") == "spot"]
    links = list(parsed(svg).iter(f"{SVG}a"))

    assert len(spots) == len(links)
    assert min(float(spot.attrib["height"]) for spot in spots) >= THUMB_MM
    assert min(float(spot.attrib["width"]) for spot in spots) >= THUMB_MM
    assert all(link.attrib["href"] == f"/part/{link.attrib['data-part']}" for link in links)
    assert all(link.attrib["aria-label"] for link in links)


def test_a_linked_drawing_is_a_group_that_can_be_gone_through() -> None:
    rig = rig_of("utility-rewire")

    assert parsed(folded_run(rig)).attrib["role"] == "img"
    assert parsed(folded_run(rig, link="/{part}")).attrib["role"] == "group"


def test_the_word_of_every_lamp_a_command_lights_is_there() -> None:
    rig, answer = rig_of("second-socket-flatbed"), answers_of("second-socket-flatbed").at("park")
    words = words_of(folded_run(rig, answer))

    lamps = [load for load in answer.loads if load.kind == "lamp"]
    for word in {load.word for load in lamps}:
        assert words.count(word) >= sum(load.word == word for load in lamps)


def test_a_circuit_says_what_it_carries_or_that_it_carries_nothing() -> None:
    rig = rig_of("second-socket-flatbed")
    answer = answers_of("second-socket-flatbed").at("left")
    left, reverse = (words_of(folded_run(rig, answer, circuit=row)) for row in ("left", "reverse"))

    (amps,) = [
        abs(each.current_a)
        for each in answer.conductors
        if each.part.ref == "trailer.cord.left_stop_turn"
    ]
    assert amps > LIVE_ABOVE_A
    assert any(word.startswith(f"{amps:.3g}") for word in left)
    assert "carries nothing" in reverse


def test_the_way_home_is_by_wire_or_by_frame_as_the_trailer_says() -> None:
    by_frame, by_wire = rig_of("horse-trailer-van"), rig_of("second-socket-flatbed")
    assert by_frame.trailer.returns is Returns.FRAME
    assert by_wire.trailer.returns is Returns.WIRE

    assert "trailer frame" in words_of(folded_run(by_frame))
    assert "trailer frame" not in words_of(folded_run(by_wire))


def test_a_ground_of_its_own_ends_on_the_chassis_and_an_old_one_in_the_old_joint() -> None:
    own, old = rig_of("horse-trailer-van"), rig_of("second-socket-flatbed")
    assert own.towing_socket.ground_method is GroundMethod.OWN_RING
    assert old.towing_socket.ground_method is GroundMethod.OLD_WIRE

    joint = old.towing_socket.joint.replace("-", " ")
    assert words_of(folded_run(own, circuit="brake")).count("sealed butt") == 1
    assert words_of(folded_run(old, circuit="brake")).count(joint) == 2


def test_the_returns_of_thirteen_pins_are_kept_apart() -> None:
    """ISO 11446-1: pin 13 takes the battery's current home, pin 11 the ignition's."""
    rig = rig_of("caravan-thirteen-pin")
    battery = words_of(folded_run(rig, circuit="battery"))
    ignition = words_of(folded_run(rig, circuit="ignition"))

    assert {"9", "13"} <= set(battery)
    assert {"10", "11"} <= set(ignition)
    assert "13" not in ignition


def test_a_lead_wire_that_nothing_feeds_says_so() -> None:
    assert "joined to nothing" in words_of(
        folded_run(rig_of("boat-surge-brakes"), circuit="reverse")
    )


def test_a_finding_stands_on_the_floor_of_its_part_only() -> None:
    rig = rig_of("second-socket-flatbed")
    finding = ("load", "tail", "LAMP01", "must be mended", "lamp_plate_tail")

    assert "LAMP01" in words_of(folded_run(rig, findings=[finding], circuit="tail"))
    assert "LAMP01" not in words_of(folded_run(rig, findings=[finding], circuit="brake"))
