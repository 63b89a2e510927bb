"""What a person types is understood, or refused with what could be said instead."""

from typing import Any

import pytest
from tests.rigs import small_rig
from tests.trace.small import SHARED

from loomwright.invalid import InvalidInput
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.moving import zone_of
from loomwright.trace.phrases import read_phrase
from loomwright.trace.whereabouts import meant_by

RIG = small_rig(SHARED)


def one(text: str) -> Observation:
    (found,) = read_phrase(text, RIG)
    return found


@pytest.mark.parametrize(
    ("text", "command", "place", "word"),
    [
        ("park: left rear dark", "park", "left rear", Word.OFF),
        ("tail lights: markers very dim", "park", "markers", Word.GLOW),
        (
            "park+left: right rear stop flashes dimly",
            "park+left",
            "right rear stop",
            Word.FLASHING_DIM,
        ),
        ("left: left rear blinks", "left", "left rear", Word.FLASHING),
        ("brake: stop lamps are weak", "brake_pedal", "stop lamps", Word.DIM),
        ("brake: everything dead", "brake_pedal", "everything", Word.OFF),
        ("park: nothing", "park", "trailer lamps", Word.OFF),
        ("right: left rear comes and goes", "right", "left rear", Word.COMES_AND_GOES),
        ("park: vehicle tail lamps are fine", "park", "vehicle tail lamps", Word.NORMAL),
    ],
)
def test_words_of_lamps(text: str, command: str, place: str, word: Word) -> None:
    found = one(text)

    assert (found.command, found.place.name, found.word) == (command, place, word)
    assert found.place.kind is PlaceKind.GROUP


def test_several_parts_and_several_commands_at_once() -> None:
    found = read_phrase("park+left: left rear dark, right rear normal; park: markers dim", RIG)

    assert [(o.command, o.place.name, o.word) for o in found] == [
        ("park+left", "left rear", Word.OFF),
        ("park+left", "right rear", Word.NORMAL),
        ("park", "markers", Word.DIM),
    ]


@pytest.mark.parametrize(
    ("text", "kind", "name", "word"),
    [
        ("tail fuse blown", PlaceKind.FUSE, "tail", Word.BLOWN),
        ("works on another vehicle", PlaceKind.ELSEWHERE, "other vehicle", Word.WORKS),
        ("on a bench supply it fails", PlaceKind.ELSEWHERE, "bench supply", Word.FAILS),
        ("controller no trailer", PlaceKind.CONTROLLER, "", Word.NO_TRAILER),
        ("worse in rain", PlaceKind.HISTORY, "rain", Word.ON),
        ("only over bumps", PlaceKind.HISTORY, "bumps", Word.ON),
        ("a bike rack was added lately", PlaceKind.HISTORY, "added lately", Word.ON),
    ],
)
def test_what_needs_no_command(text: str, kind: PlaceKind, name: str, word: Word) -> None:
    found = one(text)

    assert (found.place.kind, found.place.name, found.word) == (kind, name, word)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("park: pin 2 9.6 V", ("park", PlaceKind.PIN, "2", Quantity.VOLTS, 9.6)),
        (
            "park: pin 2 of the rear socket 850 mV",
            ("park", PlaceKind.PIN, "2", Quantity.VOLTS, 0.85),
        ),
        ("pin 3 open", ("", PlaceKind.PIN, "3", Quantity.OHMS, 1e6)),
        ("pin 3 1.2 kohm", ("", PlaceKind.PIN, "3", Quantity.OHMS, 1200.0)),
        ("park: ground of the rear 1.7 V", ("park", PlaceKind.RETURN, "", Quantity.VOLTS, 1.7)),
        ("left: left rear stop 12.1 V", ("left", PlaceKind.GROUP, "", Quantity.VOLTS, 12.1)),
    ],
)
def test_readings(text: str, expected: tuple[str, PlaceKind, str, Quantity, float]) -> None:
    found = one(text)

    told = (found.command, found.place.kind, found.place.pin, found.quantity, found.value)
    assert told == expected


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("sing: left rear dark", "use one of"),
        ("park: left rear", "end it with one of"),
        ("park: kitchen dark", "name a lamp or a group"),
        ("wheel fuse blown", "name the fuse of one of"),
        ("", "say it as in"),
        ("park: shelf 3 V", "give it as in"),
    ],
)
def test_what_is_not_understood_is_refused_with_the_mend(text: str, says: str) -> None:
    with pytest.raises(ExceptionGroup) as refused:
        read_phrase(text, RIG)

    problems: tuple[Any, ...] = refused.value.exceptions
    assert all(isinstance(problem, InvalidInput) for problem in problems)
    assert says in str(problems[0].fix)


def test_everything_wrong_is_told_at_once() -> None:
    with pytest.raises(ExceptionGroup) as refused:
        read_phrase("park: shelf dark, left rear; hop: left rear dark", RIG)

    assert len(refused.value.exceptions) == 3


@pytest.mark.parametrize(
    ("name", "loads"),
    [
        ("left rear", {"left rear tail", "left rear left stop turn"}),
        ("left rear tail", {"left rear tail"}),
        ("left rear stop/turn", {"left rear left stop turn"}),
        ("tail lamps", {"left rear tail", "right rear tail"}),
        ("stop lamps", {"left rear left stop turn", "right rear right stop turn"}),
        ("markers", {f"marker {n} tail" for n in range(1, 5)}),
        ("right lamps", {"right rear tail", "right rear right stop turn"}),
        ("truck tail lamps", {"vehicle tail 1", "vehicle tail 2"}),
    ],
)
def test_groups_mean_what_a_technician_means(name: str, loads: set[str]) -> None:
    from loomwright.electrics.wiring import wire_up

    wiring = wire_up(RIG)

    assert {wiring.loads[n].name for n in meant_by(wiring, name).loads} == loads


@pytest.mark.parametrize(
    ("text", "command", "place", "word"),
    [
        ("left: flickers when the plug is moved", "left", "plug and cord", Word.COMES_AND_GOES),
        ("park: nothing changes when the cord is wiggled", "park", "plug and cord", Word.NORMAL),
        ("park: steady when the junction box is moved", "park", "junction box", Word.NORMAL),
        ("goes out when wires along the frame are moved", "", "wires along the frame", None),
    ],
)
def test_what_a_wiggle_test_showed_is_read(
    text: str, command: str, place: str, word: Word | None
) -> None:
    (found,) = read_phrase(text, small_rig(SHARED))

    assert found.command == command
    assert zone_of(found.place) == place
    assert found.word is (word or Word.COMES_AND_GOES)


def test_moved_without_what_it_did_is_refused_with_an_example() -> None:
    with pytest.raises(ExceptionGroup, match="what was seen") as raised:
        read_phrase("left: plug moved", small_rig(SHARED))

    assert "when the plug is moved" in str(raised.value.exceptions[0])


def test_one_line_tells_what_was_seen_and_what_was_measured() -> None:
    told = read_phrase("park: left rear dark, pin 2 13.4 V; tail fuse blown; pin 3 open", RIG)

    assert [(each.place.kind, each.word, each.value) for each in told] == [
        (PlaceKind.GROUP, Word.OFF, None),
        (PlaceKind.PIN, None, 13.4),
        (PlaceKind.FUSE, Word.BLOWN, None),
        (PlaceKind.PIN, None, 1e6),
    ]
    assert [each.command for each in told[:2]] == ["park", "park"]
