"""The run of every example: nothing clips, nothing overlaps, and what matters is written."""

from dataclasses import replace

import pytest
from tests.drawing.text_boxes import (
    SVG,
    clipped,
    labels_of,
    outlined,
    overlapping,
    page_of,
    parsed,
    words_of,
)
from tests.solved_examples import EXAMPLES, rig_of, work_of

from loomwright.drawing.function_words import function_words
from loomwright.drawing.lettering import Box
from loomwright.drawing.run import run_drawing
from loomwright.drawing.run_plan import plan_run
from loomwright.electrics.answers import Answers, CommandAnswer

FINDINGS = (
    ("battery", "", "SUP01", "danger"),
    ("fuse", "tail", "FUSE01", "must be mended"),
    ("feed", "tail", "FEED01", "should be mended"),
    ("joint", "tail", "JOIN01", "note"),
    ("joint", "tail", "JOIN02", "must be mended"),
    ("load", "left_stop_turn", "DROP01", "should be mended"),
    ("branch", "left_turn", "DROP02", "danger"),
    ("cord", "ground", "RET01", "must be mended"),
    ("chassis", "ground", "RET02", "note"),
)
AT_THE_BODIES = (
    ("lead", "ground", "GRND01", "should be mended"),
    ("socket", "ground", "JOIN04", "must be mended"),
    ("plug", "ground", "DROP02", "must be mended"),
    ("plug", "ground", "JOIN03", "danger"),
    ("junction", "ground", "JOIN05", "should be mended"),
)


def answers_of(name: str) -> Answers:
    return work_of(name).answers


def answered(name: str, command: str) -> CommandAnswer:
    return answers_of(name).at(command)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_wiring_alone_neither_clips_nor_overlaps(name: str) -> None:
    svg = run_drawing(rig_of(name))

    assert clipped(svg) == []
    assert overlapping(svg) == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_command_makes_labels_clip_or_overlap(name: str) -> None:
    for command in answers_of(name).commands:
        svg = run_drawing(rig_of(name), answered(name, command), FINDINGS)

        assert clipped(svg) == [], command
        assert overlapping(svg) == [], command


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_pin_of_both_halves_has_its_number(name: str) -> None:
    rig, words = rig_of(name), words_of(run_drawing(rig_of(name)))

    for wire in (*rig.towing_socket.lead, *rig.trailer.cord):
        assert wire.pin in words, wire.function


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_conductor_carries_its_code_on_its_stretch(name: str) -> None:
    rig, words = rig_of(name), words_of(run_drawing(rig_of(name)))

    wires = [feed.wire for feed in rig.vehicle.feeds]
    wires += [pin.wire for pin in (*rig.towing_socket.lead, *rig.trailer.cord)]
    for wire in wires:
        assert wire.colour is None or wire.colour.code in words


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_load_is_named_at_the_far_end(name: str) -> None:
    rig, words = rig_of(name), words_of(run_drawing(rig_of(name)))

    loads = [lamp.name for lamp in rig.trailer.lamps for _ in lamp.lights]
    loads += [brake.name for brake in rig.trailer.brakes]
    for load in set(loads):
        assert words.count(load) >= loads.count(load), load


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_drawing_fits_a_landscape_page_at_nearly_full_size(name: str) -> None:
    """ISO 216: A4 is 297 mm wide; with margins of 10 mm, at 95 % or more."""
    assert page_of(run_drawing(rig_of(name))).width <= 277 / 0.95


def test_the_colour_changes_at_the_plug_where_two_conventions_meet() -> None:
    """The van's lead is in automotive colours, its trailer's cord in the traditional ones."""
    rig = rig_of("horse-trailer-van")
    words = words_of(run_drawing(rig))

    lead, cord = rig.towing_socket.wire_for("tail"), rig.trailer.cord_wire_for("tail")
    assert lead is not None
    assert cord is not None
    assert lead.wire.colour != cord.wire.colour
    assert lead.wire.colour is not None
    assert cord.wire.colour is not None
    assert {lead.wire.colour.code, cord.wire.colour.code} <= set(words)


def test_a_command_writes_the_word_of_every_lamp_it_lights() -> None:
    answer = answered("horse-trailer-van", "park+left")
    words = words_of(run_drawing(rig_of("horse-trailer-van"), answer))

    lamps = [load for load in answer.loads if load.kind == "lamp"]
    for word in {load.word for load in lamps}:
        assert words.count(word) >= sum(load.word == word for load in lamps)


def stroke_widths(svg: str, colour: str) -> set[float]:
    return {
        float(path.attrib["stroke-width"])
        for path in parsed(svg).iter(f"{SVG}path")
        if path.attrib.get("stroke") == colour
    }


def test_a_live_conductor_is_thicker_than_a_dead_one() -> None:
    rig = rig_of("horse-trailer-van")
    cord = rig.trailer.cord_wire_for("left_stop_turn")
    assert cord is not None
    assert cord.wire.colour is not None
    red = cord.wire.colour.base_rgb

    live = stroke_widths(run_drawing(rig, answered("horse-trailer-van", "left")), red)
    dead = stroke_widths(run_drawing(rig, answered("horse-trailer-van", "reverse")), red)
    assert max(live) > 2 * min(dead)


def test_only_lamps_that_are_lit_glow() -> None:
    """Right signal of a combined system: one disc for the vehicle's lamp, one for the trailer's."""
    rig = rig_of("utility-rewire")
    svg = run_drawing(rig, answered("utility-rewire", "right"))

    red = [
        circle for circle in parsed(svg).iter(f"{SVG}circle") if circle.attrib["fill"] == "#d11f2a"
    ]
    assert len(red) == 2


def test_findings_rank_by_ink_and_not_by_hue() -> None:
    rig = rig_of("horse-trailer-van")
    svg = run_drawing(rig, findings=[f for f in FINDINGS if f[1] == "tail"])
    inks = {text.text: text.attrib["fill"] for text in parsed(svg).iter(f"{SVG}text")}

    assert inks["FUSE01"] == "#ffffff"  # solid block
    assert inks["FEED01"] == "#1d2124"  # outline
    assert inks["JOIN01"] == "#1d2124"  # plain


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_finding_of_a_row_stands_beside_the_bodies_not_over_their_outlines(name: str) -> None:
    svg = run_drawing(rig_of(name), answered(name, "all"), AT_THE_BODIES)

    boxes = outlined(svg)
    bodies = [box for box in boxes if box.height > 40]
    codes = {code for _, _, code, _ in AT_THE_BODIES}
    texts = [label for label in labels_of(svg) if label.text.split()[-1] in codes]
    assert len(texts) == len(codes)
    assert len(bodies) >= 4  # battery, socket, plug and junction
    for text in texts:
        block = next(box for box in boxes if _holds(box, text.box) and box.height < 5)
        assert not [body for body in bodies if _meet(block, body)], text.text


def _meet(one: Box, other: Box) -> bool:
    beside = one.right <= other.left or other.right <= one.left
    return not (beside or one.bottom <= other.top or other.bottom <= one.top)


def _holds(outer: Box, inner: Box) -> bool:
    return (
        outer.left <= inner.left
        and inner.right <= outer.right
        and outer.top <= inner.top
        and inner.bottom <= outer.bottom
    )


def test_a_danger_says_so_in_words() -> None:
    svg = run_drawing(rig_of("horse-trailer-van"), findings=[("fuse", "brake", "F1", "danger")])

    assert "danger F1" in words_of(svg)


def test_names_of_a_user_are_written_not_obeyed() -> None:
    rig = rig_of("utility-rewire")
    name = '<script>&"stop" ' * 12
    lamps = tuple(replace(lamp, name=f"<{lamp.name}&>") for lamp in rig.trailer.lamps)
    trailer = replace(rig.trailer, name=name, lamps=lamps)
    rig = replace(rig, name=name, trailer=trailer, vehicle=replace(rig.vehicle, name=name))
    svg = run_drawing(rig, heading=name[:30])

    assert clipped(svg) == []
    assert overlapping(svg) == []
    assert f"<{rig_of('utility-rewire').trailer.lamps[0].name}&>" in words_of(svg)


def test_a_lead_wire_that_nothing_feeds_says_so() -> None:
    assert "no feed" in words_of(run_drawing(rig_of("boat-surge-brakes")))


def test_the_return_is_drawn_by_the_frame_or_by_wire() -> None:
    by_frame = words_of(run_drawing(rig_of("horse-trailer-van")))
    by_wire = words_of(run_drawing(rig_of("second-socket-flatbed")))

    assert any(text.startswith("trailer frame carries the return") for text in by_frame)
    assert not any(text.startswith("trailer frame") for text in by_wire)
    assert "vehicle chassis" in by_frame
    assert "vehicle chassis" in by_wire


def test_a_plug_pin_that_meets_no_socket_pin_is_still_numbered() -> None:
    rig = rig_of("horse-trailer-van")
    lead = tuple(wire for wire in rig.towing_socket.lead if wire.function != "reverse")
    socket = replace(rig.towing_socket, lead=lead)
    svg = run_drawing(replace(rig, sockets=(socket,)))

    assert words_of(svg).count("7") == 1
    assert overlapping(svg) == []


def test_a_plug_wired_otherwise_than_its_socket_shows_the_crossing() -> None:
    """12N and the Australian large round share a body: pin 2 is fog on one, reverse on the other.

    Source: ISO 1724 and AS 4177.5, contact allocation.
    """
    rig = rig_of("truck-24-to-12")
    cord = tuple(
        replace(wire, function="reverse") if wire.pin == "2" else wire for wire in rig.trailer.cord
    )
    trailer = replace(rig.trailer, plug="au-7-round-large", cord=cord)
    mates = {link.pin: link for link in plan_run(replace(rig, trailer=trailer)).mates}

    assert (mates["2"].start, mates["2"].end) == ("fog", "reverse")


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_part_is_named_once(name: str) -> None:
    named = [n for n in parsed(run_drawing(rig_of(name))).iter() if "data-part" in n.attrib]
    ids = [node.attrib["id"] for node in named]

    assert len(ids) == len(set(ids))
    loads = {load.element for load in answered(name, "park").loads if "vehicle" not in load.kind}
    assert {each for each in loads if not each.startswith("converter")} <= {
        node.attrib["data-part"] for node in named
    }


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_linked_drawing_shows_the_same_words(name: str) -> None:
    plain, linked = run_drawing(rig_of(name)), run_drawing(rig_of(name), link="/part/{part}")

    assert words_of(plain) == words_of(linked)
    links = list(parsed(linked).iter(f"{SVG}a"))
    assert {link.attrib["href"] for link in links} == {
        f"/part/{link.attrib['data-part']}" for link in links
    }
    assert parsed(linked).attrib["role"] == "group"


def test_a_converter_names_what_it_gives() -> None:
    words = words_of(run_drawing(rig_of("horse-trailer-van")))

    assert function_words("left_stop_turn") in words
    assert function_words("left_turn") in words


def test_current_is_told_from_its_way_home_and_flashing_from_steady() -> None:
    """A page may let it be seen; nothing in the drawing moves by itself."""
    rig = rig_of("utility-rewire")
    left = run_drawing(rig, answered("utility-rewire", "left"))
    park = run_drawing(rig, answered("utility-rewire", "park"))
    classes = {node.attrib.get("class") for node in parsed(left).iter()}

    assert {"live", "live home", "flashing"} <= classes
    assert "flashing" not in {node.attrib.get("class") for node in parsed(park).iter()}
    assert "live" not in {node.attrib.get("class") for node in parsed(run_drawing(rig)).iter()}
    assert "animate" not in left
