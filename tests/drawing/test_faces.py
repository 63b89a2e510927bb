"""Every connector, both sides: nothing clips, nothing overlaps, every number is there."""

import re

import pytest
from tests.drawing.text_boxes import clipped, labels_of, overlapping, words_of

from loomwright.colours import Colour
from loomwright.drawing.faces import Half, socket_face
from loomwright.drawing.ink import PAPER
from loomwright.quantities import WireSize
from loomwright.reference.connectors import Side, connector, connector_keys
from loomwright.rig.model import PinWire, Wire

KEYS = connector_keys()
SIDES: tuple[Side, ...] = ("face", "rear")
HALVES: tuple[Half, ...] = ("socket", "plug")


@pytest.mark.parametrize("half", HALVES)
@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("key", KEYS)
def test_no_label_clips_or_overlaps(key: str, side: Side, half: Half) -> None:
    svg = socket_face(connector(key), side, half=half)

    assert clipped(svg) == []
    assert overlapping(svg) == []


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("key", KEYS)
def test_every_number_stands_in_the_face_and_beside_it(key: str, side: Side) -> None:
    words = words_of(socket_face(connector(key), side))

    for pin in connector(key).pins:
        assert words.count(pin.number) >= 2, f"{key} {pin.number}"


@pytest.mark.parametrize("key", KEYS)
def test_each_side_says_which_it_is(key: str) -> None:
    assert "Looking into the socket" in words_of(socket_face(connector(key), "face"))
    assert "Socket from the wire side" in words_of(socket_face(connector(key), "rear"))
    assert "Plug from the wire side" in words_of(socket_face(connector(key), "rear", half="plug"))


def contact_places(svg: str) -> dict[str, float]:
    """Middle of each contact's number, from the middle of the page: the first of each text."""
    places: dict[str, float] = {}
    for label in labels_of(svg):
        if label.anchor == "middle" and re.fullmatch(r"\d+", label.text):
            places.setdefault(label.text, label.x - 70.0)
    return places


@pytest.mark.parametrize("key", [key for key in KEYS if connector(key).is_layout_known])
def test_the_wire_side_is_the_mirror_image_of_the_face(key: str) -> None:
    face = contact_places(socket_face(connector(key), "face"))
    rear = contact_places(socket_face(connector(key), "rear"))

    assert face.keys() == rear.keys() == {pin.number for pin in connector(key).pins}
    for number, x in face.items():
        assert (x > 0.1, x < -0.1) == (rear[number] < -0.1, rear[number] > 0.1), number


def test_a_plug_from_its_cable_looks_like_the_face_of_its_socket() -> None:
    """Common practice: a plug pushed home shows its cable side to who looks into the socket."""
    face = contact_places(socket_face(connector("12n"), "face"))

    assert contact_places(socket_face(connector("12n"), "rear", half="plug")) == face


def test_seven_blade_has_left_turn_at_nine_o_clock_looking_in() -> None:
    """Left 9, right 3, supply 1, ground 7 o'clock: common practice on the SAE J2863 body."""
    places = contact_places(socket_face(connector("7-blade"), "face"))

    assert places["5"] < places["3"] < 0 < places["4"] < places["6"]
    assert places["1"] < 0 < places["2"]


@pytest.mark.parametrize("key", [key for key in KEYS if not connector(key).is_layout_known])
def test_what_nobody_confirmed_is_not_drawn_as_if_it_were(key: str) -> None:
    words = words_of(socket_face(connector(key)))

    assert "Positions not confirmed: go by the numbers moulded in the part" in words


def test_given_wires_replace_the_usual_colours_and_what_is_missing_is_said() -> None:
    wire = Wire(WireSize("awg", "12"), 2.0, Colour("grey", "black"))
    svg = socket_face(connector("4-flat"), wires=[PinWire("2", "tail", wire)])

    words = words_of(svg)
    assert "GY/BK" in words
    assert "BN" not in words
    assert words.count("no wire") == 3


def test_text_of_a_user_is_written_not_obeyed() -> None:
    wire = PinWire("2", '<b>&"tail', Wire(WireSize("awg", "12"), 2.0, Colour("grey")))

    assert '<b>&"tail' in words_of(socket_face(connector("7-blade"), wires=[wire]))


def test_the_plug_shows_pins_where_the_socket_has_sleeves() -> None:
    """Gender of the 12N: contacts 2, 5 and 7 are pins in the socket: common practice."""
    socket = socket_face(connector("12n"))
    plug = socket_face(connector("12n"), half="plug")

    on_pins = {label.text for label in labels_of(socket) if label.ink == PAPER}
    assert on_pins == {"2", "5", "7"}
    assert {label.text for label in labels_of(plug) if label.ink == PAPER} == {"1", "3", "4", "6"}
