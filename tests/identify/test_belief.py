"""Belief against enumeration of every assignment by other code, and its laws."""

import itertools
import math
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.identify.bundles import entropy, enumerated, small_bundle

from loomwright.colours import read_colour
from loomwright.identify.belief import believe
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.commands import COMMANDS, command
from loomwright.identify.habits import habit_share
from loomwright.identify.matching import matching_sums
from loomwright.identify.reading import Reading
from loomwright.identify.seen import DROP_WORDS, OHM_WORDS, VOLT_WORDS, Seen
from loomwright.identify.seen import Tester as With
from loomwright.identify.sight import Probe, sight

BUNDLE = small_bundle()
SIGHT = sight(BUNDLE)

volts = st.builds(
    Reading,
    st.sampled_from([each.key for each in COMMANDS]),
    st.sampled_from(["1", "2", "3"]),
    st.sampled_from(list(With)),
    st.sampled_from(VOLT_WORDS),
)
grounds = st.one_of(
    st.builds(
        Reading,
        st.just(test),
        st.sampled_from(["1", "2", "3"]),
        st.just(With.METER),
        st.sampled_from(words),
    )
    for test, words in (("ohms", OHM_WORDS), ("drop", DROP_WORDS))
)
some_readings = st.lists(st.one_of(volts, grounds), max_size=8).map(tuple)


@settings(max_examples=12, deadline=None)
@given(some_readings)
def test_belief_is_what_enumeration_of_every_assignment_says(readings: tuple[Reading, ...]) -> None:
    """Brute force over signalling, feeding, assignment and mode, from the tables alone."""
    every = enumerated(BUNDLE, readings)
    belief = believe(BUNDLE, readings, SIGHT)

    assert belief.entropy_bits == pytest.approx(entropy(every.values()), abs=1e-9)
    for place, wire in enumerate(BUNDLE.wires):
        for function in belief.functions:
            wanted = sum(p for (_, _, way), p in every.items() if way[place] == function)
            assert belief.probability(wire.key, function) == pytest.approx(wanted, abs=1e-12)
    for feeding, p in belief.feeding().items():
        wanted = sum(each for (_, f, _), each in every.items() if f == feeding)
        assert p == pytest.approx(wanted, abs=1e-12)


@settings(max_examples=30, deadline=None)
@given(some_readings, st.randoms(use_true_random=False))
def test_belief_sums_to_one_and_knows_no_order(
    readings: tuple[Reading, ...], mixer: object
) -> None:
    shuffled = list(readings)
    mixer.shuffle(shuffled)  # type: ignore[attr-defined]
    belief, other = believe(BUNDLE, readings, SIGHT), believe(BUNDLE, tuple(shuffled), SIGHT)

    assert belief.vehicle.sum() == pytest.approx(1.0, abs=1e-12)
    assert belief.by_wire.sum(axis=1) == pytest.approx(np.ones(3), abs=1e-12)
    once = [f for f in belief.functions if f not in BUNDLE.several_of]
    for function in once:
        column = belief.by_wire[:, belief.functions.index(function)]
        assert column.sum() <= 1.0 + 1e-12
    assert other.by_wire == pytest.approx(belief.by_wire, abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(some_readings)
def test_a_reading_that_every_assignment_explains_changes_nothing(
    readings: tuple[Reading, ...],
) -> None:
    probe = Probe(command("hazard"), With.LED)
    flat = dict(SIGHT.likelihoods) | {probe: np.full_like(SIGHT.of(probe), 0.2)}
    blind = replace(SIGHT, likelihoods=MappingProxyType(flat))
    more = (*readings, Reading("hazard", "2", With.LED, Seen.FLASHING))

    before, after = believe(BUNDLE, readings, blind), believe(BUNDLE, more, blind)

    assert after.by_wire == pytest.approx(before.by_wire, abs=1e-12)
    assert after.entropy_bits == pytest.approx(before.entropy_bits, abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(st.integers(1, 4), st.integers(0, 4), st.integers(1, 2), st.integers(0, 2**32 - 1))
def test_sums_over_matchings_are_those_of_a_list_of_all_of_them(
    wires: int, once: int, free: int, seed: int
) -> None:
    weights = np.random.default_rng(seed).uniform(0.01, 3.0, (2, wires, once + free))
    found = matching_sums(np.log(weights[:, :, :once]), np.log(weights[:, :, once:]))

    for group in range(2):
        total = 0.0
        shares = np.zeros((wires, once + free))
        for way in itertools.product(range(once + free), repeat=wires):
            if any(way.count(function) > 1 for function in range(once)):
                continue
            weight = math.prod(weights[group, wire, f] for wire, f in enumerate(way))
            total += weight
            for wire, function in enumerate(way):
                shares[wire, function] += weight
        assert found.log_total[group] == pytest.approx(math.log(total), abs=1e-12)
        both = np.concatenate([found.once[group], found.free[group]], axis=1)
        assert both == pytest.approx(shares / total, abs=1e-12)


def test_thirteen_wires_after_a_thousand_readings_stay_exact_numbers() -> None:
    functions = ("tail", "left_turn", "right_turn", "stop", "reverse", "fog", "battery", "ignition")
    bundle = Bundle(tuple(Wire(str(n)) for n in range(13)), functions)
    readings = tuple(
        Reading("park", str(n % 13), With.METER, Seen.FLASHING if n % 3 else Seen.NOTHING)
        for n in range(1000)
    )

    belief = believe(bundle, readings)

    assert np.all(np.isfinite(belief.by_wire))
    assert belief.by_wire.sum(axis=1) == pytest.approx(np.ones(13), abs=1e-9)


def test_colour_is_a_weak_beginning_and_can_be_ignored() -> None:
    """Four-way leads have yellow for left and green for right (SAE J1239, common practice)."""
    yellow = read_colour("yellow")
    wires = (Wire("1", yellow), Wire("2"), Wire("3"))
    shown, ignored = (
        believe(small_bundle(wires=wires, colour_weight=weight), ()) for weight in (1.0, 0.0)
    )
    plain = believe(BUNDLE, ())

    assert habit_share(yellow, "left_stop_turn") > habit_share(yellow, "right_stop_turn")
    assert shown.probability("1", "left_stop_turn") > plain.probability("1", "left_stop_turn")
    assert shown.probability("1", "left_stop_turn") < 2.0 * plain.probability("1", "left_stop_turn")
    assert ignored.by_wire == pytest.approx(plain.by_wire, abs=1e-12)


def test_one_true_reading_outweighs_a_colour() -> None:
    wires = (Wire("1", read_colour("yellow")), Wire("2"), Wire("3"))
    seen = (("park", Seen.STEADY), ("park", Seen.STEADY), ("rest", Seen.NOTHING))
    readings = tuple(Reading(held, "1", With.METER, each) for held, each in seen)

    assert believe(small_bundle(wires=wires), readings).probability("1", "tail") > 0.95
