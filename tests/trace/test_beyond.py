"""What kinds of fault show where no network tells: beliefs that are whole, and sense."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loomwright.reference.fault_kinds import fault_kind, fault_kinds
from loomwright.trace.beyond import belief
from loomwright.trace.beyond_forms import (
    BRAKING,
    CHARGING,
    FUSE,
    GROUND_BRAKING,
    GROUND_LIT,
    GROUND_MESSAGE,
    LIT,
    MESSAGE,
    ONE_BRAKE,
    ONE_MESSAGE,
)
from loomwright.trace.beyond_ways import half_of, ways_of
from loomwright.trace.beyond_words import ALPHABET, NEAR, mixed, said
from loomwright.trace.cases_circumstances import fits
from loomwright.trace.cases_words import STATES, Spot, read_command, read_spot

TABLES = (LIT, BRAKING, ONE_BRAKE, MESSAGE, ONE_MESSAGE, CHARGING, FUSE)
TABLES += (GROUND_LIT, GROUND_BRAKING, GROUND_MESSAGE)

PLACES = (
    "trailer.st.L",
    "trailer.lamps",
    "trailer.tail.all",
    "truck.stop",
    "brakes.all",
    "brakes.one",
    "hub.L",
    "controller",
    "cluster",
    "charge",
    "socket.st.R",
    "socket.all",
    "cord.brake",
    "truck.fuse.tail",
    "trailer.wire",
    "trailer.battery",
    "smell",
    "other_vehicle",
    "other_vehicle.trailer.lamps",
    "bench.trailer.lamps",
    "other_trailer.trailer.lamps",
)
COMMANDS = ("tail", "left", "brake", "manual", "tail+brake", "rest", "plug_in", "any", "rain")


@pytest.mark.parametrize("table", TABLES)
def test_beliefs_of_forms_are_words_that_sum_to_one(table: dict[str, dict[str, float]]) -> None:
    for form, words in table.items():
        assert set(words) <= STATES | {"on"}, form
        assert sum(words.values()) == pytest.approx(1.0), form


@given(
    kind=st.sampled_from(fault_kinds()),
    command=st.sampled_from(COMMANDS),
    place=st.sampled_from(PLACES),
)
def test_every_kind_has_a_belief_everywhere(kind: object, command: str, place: str) -> None:
    spot, act = read_spot(place), read_command(command)
    assert spot is not None
    assert act is not None
    for way in ways_of(kind):  # type: ignore[arg-type]
        found = belief(way, act, spot)
        assert sum(found.values()) == pytest.approx(1.0)
        assert min(found.values()) >= 0.0
        assert set(found) <= STATES
        assert all(0.0 < said(word, found) < 1.0 for word in STATES)


def test_ways_of_a_kind_sum_to_one() -> None:
    for kind in fault_kinds():
        assert sum(way.weight for way in ways_of(kind)) == pytest.approx(1.0)


def test_what_is_said_is_a_distribution_over_words() -> None:
    """Whatever is true, something is said, and the true word most often."""
    for true in NEAR:
        chances = {word: said(word, {true: 1.0}) for word in NEAR}
        assert max(chances, key=lambda word: chances[word]) == true
        assert sum(chances.values()) == pytest.approx(1.0, abs=0.02)
    assert len(NEAR) == ALPHABET
    assert set(NEAR) == STATES


def test_mixing_keeps_the_whole() -> None:
    found = mixed((0.3, {"off": 1.0}), (0.2, {"dim": 0.5, "off": 0.5}))

    assert found == pytest.approx({"off": 0.8, "dim": 0.2})


@pytest.mark.parametrize(
    ("key", "command", "at", "word", "other"),
    [
        # all common practice: what technicians say of these faults
        ("F82", "rest", Spot("brakes", "all"), "locked", "normal"),
        ("F27", "brake_lever", Spot("brakes", "all"), "normal", "off"),
        ("F77", "plug_in", Spot("controller"), "connected", "no_trailer"),
        ("F29", "plug_in", Spot("controller"), "no_trailer", "connected"),
        ("F71", "brake_pedal", Spot("controller"), "overload", "no_trailer"),
        ("F03", "charge", Spot("charge"), "off", "normal"),
        ("F53", "park", Spot("fuse", "tail"), "blown", "whole"),
        ("F19", "left", Spot("lamp", "signal", "R"), "flashing", "normal"),
        ("F74", "brake_lever", Spot("brakes", "all"), "weak", "off"),
        ("F01", "any", Spot("lamp", "all", where="other vehicle"), "normal", "off"),
        ("F48", "any", Spot("lamp", "all", where="bench"), "off", "normal"),
    ],
)
def test_typical_kinds_show_the_word_people_say(
    key: str, command: str, at: Spot, word: str, other: str
) -> None:
    way = max(ways_of(fault_kind(key)), key=lambda each: said(word, belief(each, command, at)))

    assert said(word, belief(way, command, at)) > said(other, belief(way, command, at))


def test_halves_follow_from_places() -> None:
    assert half_of("vehicle.fuse") == "vehicle"
    assert half_of("trailer.cord") == "trailer"
    assert half_of("coupling") == half_of("adapter") == "coupling"


def test_bumps_speak_for_what_is_loose_and_rain_for_what_leaks() -> None:
    loose, firm = fault_kind("F42"), fault_kind("F72")
    wet, dry = fault_kind("F46"), fault_kind("F72")

    assert fits(loose, frozenset({"bump"})) > fits(firm, frozenset({"bump"}))
    assert fits(wet, frozenset({"rain"})) > fits(dry, frozenset({"rain"}))
    assert fits(firm, frozenset()) == 1.0
