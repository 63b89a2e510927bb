"""What is asked next: as much as one step can tell, ground first, and never unsafe."""

from collections import defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.identify.bundles import entropy, enumerated, small_bundle

from loomwright.identify.asking import choose, is_settled
from loomwright.identify.behaviour import Feeding
from loomwright.identify.belief import believe
from loomwright.identify.bundle import Bundle, Wire
from loomwright.identify.commands import command
from loomwright.identify.identification import identify
from loomwright.identify.information import information_bits
from loomwright.identify.reading import Reading
from loomwright.identify.seen import Seen, words_of
from loomwright.identify.seen import Tester as With
from loomwright.identify.sight import Probe, probes, sight

SHARED = small_bundle(feeding=Feeding.SHARED)


def merged(every: dict[tuple[object, ...], float], only: int | None = None) -> list[float]:
    """Probabilities of assignments, those alike taken together; of one wire, if asked."""
    found: dict[object, float] = defaultdict(float)
    for (_, _, way), p in every.items():
        plain = tuple("no feed" if f in ("spare", "leave_alone") else f for f in way)  # type: ignore[attr-defined]
        found[plain if only is None else plain[only]] += p
    return list(found.values())


def expected_fall(
    bundle: Bundle, readings: tuple[Reading, ...], probe: Probe, wire: str, only: int | None = None
) -> float:
    """Brute force: enumerate after every answer; answers weighted by their probability."""
    known = sight(bundle).of(probe)
    assert known.shape[-1] == len(words_of(probe.command.key))
    before = entropy(merged(enumerated(bundle, readings), only))
    after, whole = 0.0, 0.0
    for seen in words_of(probe.command.key):
        reading = Reading(probe.command.key, wire, probe.tester, seen)
        p = predicted(bundle, readings, reading)
        whole += p
        after += p * entropy(merged(enumerated(bundle, (*readings, reading)), only))
    assert whole == pytest.approx(1.0, abs=1e-9)
    return before - after


def predicted(bundle: Bundle, readings: tuple[Reading, ...], reading: Reading) -> float:
    """Probability of an answer: ratio of the unscaled sums with and without it."""
    from tests.identify import bundles

    place = [each.key for each in bundle.wires].index(reading.wire)
    total = 0.0
    for (_, feeding, way), p in enumerated(bundle, readings).items():
        modes = bundles.MODES[way[place]]  # type: ignore[index]
        mine = [each for each in readings if each.wire == reading.wire]
        weights = []
        for mode in modes:
            weight = float(mode["share"])
            for each in mine:
                weight *= bundles.likelihood(mode, str(feeding), each, bundle.wrong_rate)
            weights.append(weight)
        shown = [
            bundles.likelihood(mode, str(feeding), reading, bundle.wrong_rate) for mode in modes
        ]
        total += p * sum(w * s for w, s in zip(weights, shown, strict=True)) / sum(weights)
    return total


TAKEN = (
    Reading("rest", "1", With.METER, Seen.NOTHING),
    Reading("hazard", "2", With.LED, Seen.FLASHING),
)


@pytest.mark.parametrize("readings", [(), TAKEN])
@pytest.mark.parametrize(
    ("held", "tester"), [("hazard", "meter"), ("park", "lamp"), ("ohms", "meter")]
)
def test_information_is_the_fall_of_the_entropy_of_assignments_by_brute_force(
    readings: tuple[Reading, ...], held: str, tester: str
) -> None:
    probe = Probe(command(held), With(tester))
    belief = believe(SHARED, readings)
    (bits,) = information_bits(belief, [probe])

    for place, wire in enumerate(SHARED.wires):
        wanted = expected_fall(SHARED, readings, probe, wire.key)
        assert bits[place] == pytest.approx(wanted, abs=1e-9)


@pytest.mark.slow
def test_where_the_feeding_is_open_it_is_the_fall_for_the_wire_itself() -> None:
    bundle = small_bundle()
    probe = Probe(command("park"), With.METER)
    (bits,) = information_bits(believe(bundle, TAKEN), [probe])

    for place, wire in enumerate(bundle.wires):
        wanted = expected_fall(bundle, TAKEN, probe, wire.key, only=place)
        assert bits[place] == pytest.approx(wanted, abs=1e-9)


def test_the_choice_is_the_best_of_one_step_where_effort_is_equal() -> None:
    """With one command, no ground among the functions and one tester, effort is the same."""
    bundle = small_bundle(
        functions=("tail", "left_turn", "stop"),
        feeding=Feeding.SHARED,
        commands=("hazard",),
        testers=(With.LED,),
        wires=(Wire("1"), Wire("2")),
    )
    readings = (Reading("hazard", "1", With.LED, Seen.FLASHING),)
    probe = Probe(command("hazard"), With.LED)
    falls = {w.key: expected_fall(bundle, readings, probe, w.key) for w in bundle.wires}

    choice = choose(believe(bundle, readings), readings)

    assert choice is not None
    assert choice.wire == max(falls, key=lambda key: falls[key])
    assert choice.bits == pytest.approx(max(falls.values()), abs=1e-9)


def test_ground_comes_first_by_volts_then_ohms_then_drop() -> None:
    bundle = small_bundle()
    readings: tuple[Reading, ...] = ()
    asked = []
    for seen in (Seen.NOTHING, Seen.LOW, Seen.SMALL_DROP):
        choice = choose(believe(bundle, readings), readings)
        assert choice is not None
        asked.append((choice.probe.command.key, choice.for_ground))
        readings += (Reading(choice.probe.command.key, choice.wire, With.METER, seen),)
    after = choose(believe(bundle, readings), readings)

    assert asked == [("rest", True), ("ohms", True), ("drop", True)]
    assert after is not None
    assert not after.for_ground
    assert len({each.wire for each in readings}) == 1


@settings(max_examples=12, deadline=None)
@given(st.data(), st.booleans())
def test_whatever_is_answered_nothing_unsafe_is_asked(data: st.DataObject, at_socket: bool) -> None:
    bundle = small_bundle(at_socket=at_socket, testers=tuple(With))
    seen = sight(bundle)
    readings: tuple[Reading, ...] = ()
    for _ in range(25):
        belief = believe(bundle, readings, seen)
        choice = choose(belief, readings)
        if choice is None:
            break
        held, wire = choice.probe.command.key, choice.wire
        mine = [(each.command, each.seen) for each in readings if each.wire == wire]
        if held == "ohms":
            assert ("rest", Seen.NOTHING) in mine
        if held == "drop":
            assert ("rest", Seen.NOTHING) in mine
            assert ("ohms", Seen.LOW) in mine
        if choice.probe.tester is With.LAMP and not at_socket:
            feeds = sum(
                belief.probability(wire, f)
                for f in belief.functions
                if f not in ("ground", "spare", "leave_alone")
            )
            assert feeds >= 0.95
        if choice.probe.tester is With.LAMP:
            assert belief.probability(wire, "leave_alone") <= 0.2
        answer = data.draw(st.sampled_from(words_of(held)))
        readings += (Reading(held, wire, choice.probe.tester, answer),)


def test_cautions_for_airbags_high_voltage_and_modules_come_with_the_first_question() -> None:
    cautions = " ".join(identify(small_bundle()).cautions)

    for word in ("airbag", "orange", "control unit", "negative post", "chock"):
        assert word in cautions


def test_asking_ends_and_says_when_it_is_sure() -> None:
    bundle = small_bundle(functions=("tail", "stop"), wires=(Wire("a"),))
    readings = tuple(
        Reading(held, "a", With.METER, seen)
        for held, seen in (
            ("rest", Seen.NOTHING),
            ("park", Seen.STEADY),
            ("park", Seen.STEADY),
            ("brake_pedal", Seen.NOTHING),
        )
    )
    belief = believe(bundle, readings)

    assert is_settled(belief)
    assert choose(belief, readings) is None
    assert len(probes(bundle)) == 11 * 2 + 2
