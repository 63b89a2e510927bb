"""The rear of a trailer and the face of a socket: every lamp and pin once, lit as it is seen."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from loomwright import examples, read_rig
from loomwright.drawing.rear_view import rear_view
from loomwright.drawing.rear_view_face import PinShows, probed_face
from loomwright.drawing.rear_view_places import load_name, seats_of
from loomwright.electrics.wiring import wire_up
from loomwright.observations.word import Word
from loomwright.reference.connectors import connector, connector_keys
from loomwright.rig.model import Rig

AMBER, RED, WHITE = "#f39c12", "#d11f2a", "#ffe9a8"


def rig_of(name: str) -> Rig:
    return read_rig(examples.text(name))


def texts(svg: str) -> list[str]:
    """Words that a person reads in a drawing."""
    found = ET.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")  # noqa: S314 our own
    return [each.text or "" for each in found]


@pytest.mark.parametrize("name", examples.names())
def test_every_light_of_a_trailer_has_one_lens(name: str) -> None:
    rig = rig_of(name)
    loads = [load.name for load in wire_up(rig).loads if load.kind == "lamp"]
    drawn = [load for seat in seats_of(rig.trailer) for load in seat.loads]

    assert sorted(drawn) == sorted(loads)
    assert sorted(load_name(lamp, x) for lamp in rig.trailer.lamps for x in lamp.lights) == sorted(
        loads
    )


@pytest.mark.parametrize("name", examples.names())
def test_left_lamps_stand_on_the_left_as_seen_from_behind(name: str) -> None:
    """From behind, as the driver looks forward, left is left."""
    trailer = rig_of(name).trailer
    sides = {lamp.name: lamp.side for lamp in trailer.lamps}

    for seat in seats_of(trailer):
        if seat.slot in ("main", "top", "away"):
            assert {"left": seat.x < 50, "right": seat.x > 50 - 1e-9}.get(sides[seat.name], True)


def test_a_lamp_that_is_wrong_has_its_word_in_a_solid_block() -> None:
    rig = rig_of(examples.DEMO)
    left, right = (
        next(x for seat in seats_of(rig.trailer) for x in seat.loads if side in x and "stop" in x)
        for side in ("left", "right")
    )
    seen = {left: Word.OFF, right: Word.OFF}

    plain, marked = rear_view(rig.trailer, seen), rear_view(rig.trailer, seen, wrong={left})

    assert texts(plain) == texts(marked)
    assert marked.count('fill="#1d2124"') == plain.count('fill="#1d2124"') + 1
    assert "Wrong: left rear off" in marked


def test_a_lens_is_not_wrong_by_a_light_that_another_outshines() -> None:
    rig = rig_of(examples.DEMO)
    seat = next(seat for seat in seats_of(rig.trailer) if len(seat.loads) > 1)
    off, lit = seat.loads[:2]
    seen = {off: Word.OFF, lit: Word.NORMAL}

    assert rear_view(rig.trailer, seen, wrong={off}) == rear_view(rig.trailer, seen)


@pytest.mark.parametrize("name", examples.names())
def test_lenses_do_not_cover_each_other(name: str) -> None:
    seats = seats_of(rig_of(name).trailer)
    circles = [(x, seat.y, seat.radius) for seat in seats for x in seat.xs]

    for index, (x, y, r) in enumerate(circles):
        for other_x, other_y, other_r in circles[index + 1 :]:
            assert ((x - other_x) ** 2 + (y - other_y) ** 2) ** 0.5 >= r + other_r


def test_a_lamp_glows_in_its_colour_with_its_word_beside_it() -> None:
    trailer = rig_of("horse-trailer-van").trailer
    svg = rear_view(trailer, {"left rear left stop turn": Word.FLASHING, "plate tail": Word.OFF})

    assert texts(svg).count("flashing") == 1
    assert texts(svg).count("off") == 1
    assert 'class="flashing"' in svg
    assert (RED in svg, AMBER in svg, WHITE in svg) == (True, False, False)
    assert "left rear flashing" in svg


def test_a_turn_signal_of_its_own_is_amber_and_reversing_is_white() -> None:
    """UN R48, 6.4 and 6.5 (from memory): direction indicators amber, reversing lamps white."""
    trailer = rig_of("caravan-thirteen-pin").trailer
    names = [load for seat in seats_of(trailer) for load in seat.loads]
    left = next(name for name in names if name.endswith("left turn"))
    back = next(name for name in names if name.endswith("reverse"))

    assert AMBER in rear_view(trailer, {left: Word.FLASHING})
    assert WHITE in rear_view(trailer, {back: Word.NORMAL})


def test_the_eye_sees_the_stronger_light_behind_one_lens() -> None:
    trailer = rig_of("horse-trailer-van").trailer
    both = {"left rear tail": Word.NORMAL, "left rear left stop turn": Word.FLASHING}

    assert texts(rear_view(trailer, both)).count("flashing") == 1
    assert "normal" not in texts(rear_view(trailer, both))


def test_a_brighter_word_is_drawn_larger() -> None:
    trailer = rig_of("utility-rewire").trailer
    name = next(load for seat in seats_of(trailer) for load in seat.loads)

    def disc(word: Word) -> float:
        found = re.search(rf'r="([\d.]+)" fill="{RED}"', rear_view(trailer, {name: word}))
        return float(found[1]) if found else 0.0

    sizes = [disc(word) for word in (Word.OFF, Word.GLOW, Word.DIM, Word.NORMAL)]
    assert sizes == sorted(sizes)
    assert len(set(sizes)) == 4


def test_names_from_a_job_file_are_text_and_nothing_else() -> None:
    trailer = rig_of("utility-rewire").trailer
    odd = replace(trailer, name="<script>", lamps=(replace(trailer.lamps[0], name="<b>"),))

    assert "<script>" not in rear_view(odd, {})
    ET.fromstring(rear_view(odd, {}))  # noqa: S314 our own


@pytest.mark.parametrize("key", connector_keys())
def test_every_pin_of_a_socket_is_drawn_once_and_apart(key: str) -> None:
    socket = connector(key)
    numbers = [pin.number for pin in socket.pins]
    shown = {number: PinShows("12.4 V", is_live=number == numbers[0]) for number in numbers}

    svg = probed_face(socket, shown)

    assert sorted(each for each in texts(svg) if each in numbers) == sorted(numbers)
    circles = re.findall(r'cx="([\d.]+)" cy="([\d.]+)" r="([456]\.?\d*)"', svg)
    middles = [(float(x), float(y)) for x, y, _ in circles]
    radius = float(circles[0][2])
    assert len(middles) == len(numbers)
    for index, (x, y) in enumerate(middles):
        assert 0 < x < 100
        for other in middles[index + 1 :]:
            assert ((x - other[0]) ** 2 + (y - other[1]) ** 2) ** 0.5 > 2 * radius
    assert f"Live: pin {numbers[0]} 12.4 V" in svg


@pytest.mark.parametrize("name", examples.names())
def test_no_lens_is_cut_off_at_the_foot_of_the_drawing_while_nothing_is_said_of_it(
    name: str,
) -> None:
    trailer = rig_of(name).trailer
    _, top, _, height = map(float, ET.fromstring(rear_view(trailer, {})).attrib["viewBox"].split())  # noqa: S314 our own

    assert top + height > max(seat.y + seat.radius for seat in seats_of(trailer))
