"""Faults put into a rig are found again from what they show, and told in a useful way."""

from collections import Counter

import pytest
from tests.rigs import small_rig
from tests.trace.small import LEFT, MODULE, SHARED, seen, shown, small_trace

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.rig.model import SocketFeed
from loomwright.trace.engine import Trace
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.seen import words_for

LOOKED = ("park", "left", "right", "brake_pedal", "park+left", "park+brake_pedal")


def walk_round(hypotheses: Hypotheses, fault: int) -> list[Observation]:
    """What a careful person would say of every lamp under every command."""
    loads = [each.name for each in hypotheses.field.bench.wiring.loads]
    return [
        seen(command, load, shown(hypotheses, fault, command, load))
        for command in LOOKED
        for load in loads
    ]


def differs(hypotheses: Hypotheses, variant: int) -> bool:
    """Whether any lamp shows another word than on a sound rig."""
    bench = hypotheses.field.bench
    return any(
        words_for(hypotheses.field, load, bench.number(command))[variant].argmax()
        != words_for(hypotheses.field, load, bench.number(command))[0].argmax()
        for command in LOOKED
        for load in range(len(bench.wiring.loads))
    )


@pytest.mark.parametrize("feed", [SHARED, MODULE])
def test_every_fault_that_shows_is_found_in_its_circuit(feed: SocketFeed) -> None:
    """Breaks, poor contacts and shorts: belief gathers in the circuit the fault was put into.

    Words alone cannot tell the parts of one conductor apart, nor the bulb of a small marker from
    its ground, so it is the circuit that counts, or the very part ranked first.
    """
    trace = small_trace(feed)
    hypotheses = trace.singles[0]
    found: Counter[bool] = Counter()
    tried = set()
    for number, fault in enumerate(hypotheses.faults):
        variant = int(hypotheses.variant[number + 1])
        if variant in tried or fault.form not in ("open", "high_resistance", "short_to_ground"):
            continue
        if fault.circuit == "all" or (fault.size_ohm or 1.0) < 1.0:
            continue
        if not differs(hypotheses, variant):
            continue
        tried.add(variant)
        ranking = trace.rank(walk_round(hypotheses, number), explained=0)
        by_circuit: dict[str, float] = {}
        for group in ranking.groups:
            by_circuit[group.circuit] = by_circuit.get(group.circuit, 0.0) + group.probability
        best = max(by_circuit, key=lambda circuit: by_circuit[circuit])
        found[fault.circuit in (best, ranking.groups[0].circuit)] += 1

    assert len(tried) > 60
    assert found[True] / len(tried) > 0.9, found


def test_a_dark_lamp_with_volts_across_it_is_the_bulb() -> None:
    """Volts at a dark lamp's contacts mean the lamp; trade practice: common practice."""
    trace = small_trace(SHARED)
    dark = seen("left", "left rear stop", Word.OFF)
    volts = Observation(
        "left", Place(PlaceKind.LOAD, LEFT), Quantity.VOLTS, value=12.4, tester="meter"
    )

    best = trace.rank([dark, volts], explained=0).groups[0]

    assert (best.place, best.form, best.circuit) == ("trailer.lamp.bulb", "open", "left")


def test_a_dark_lamp_without_volts_is_not_the_bulb() -> None:
    trace = small_trace(SHARED)
    dark = seen("left", "left rear stop", Word.OFF)
    volts = Observation(
        "left", Place(PlaceKind.LOAD, LEFT), Quantity.VOLTS, value=0.0, tester="meter"
    )

    ranking = trace.rank([dark, volts], explained=0)

    bulbs = [g for g in ranking.groups if g.place == "trailer.lamp.bulb" and g.circuit == "left"]
    assert sum(g.probability for g in bulbs) < 0.05


@pytest.mark.parametrize(
    ("place", "works", "side"),
    [
        ("other vehicle", Word.WORKS, "vehicle"),
        ("other vehicle", Word.FAILS, "trailer"),
        ("bench supply", Word.WORKS, "vehicle"),
        ("bench supply", Word.FAILS, "trailer"),
        ("load box", Word.WORKS, "trailer"),
        ("load box", Word.FAILS, "vehicle"),
    ],
)
def test_another_vehicle_or_a_bench_supply_splits_the_sides(
    place: str, works: Word, side: str
) -> None:
    """Second vehicle, bench supply, load box: the two quickest recipes (common practice)."""
    trace = small_trace(SHARED)
    dark = seen("park", "tail lamps", Word.OFF)
    split = seen("", place, works, PlaceKind.ELSEWHERE)

    before = trace.rank([dark], explained=0).by_side
    after = trace.rank([dark, split], explained=0).by_side

    assert after[side] > before[side]
    assert max(after, key=lambda each: after[each]) == side


def test_a_short_opens_its_fuse_and_a_blown_fuse_points_at_both() -> None:
    trace = small_trace(SHARED)
    blown = seen("", "tail", Word.BLOWN, PlaceKind.FUSE)
    dark = seen("park", "tail lamps", Word.OFF)

    ranking = trace.rank([dark, blown], explained=0)

    forms = {g.form for g in ranking.groups[:8]}
    assert {"open", "short_to_ground"} <= forms
    assert all(g.circuit in ("tail", "all") for g in ranking.groups[:6])


def test_swapped_sides_are_named_as_such() -> None:
    """Left command, right lamp flashes, and the other way round; tail and stop are right."""
    trace = small_trace(SHARED)
    told = [
        seen("left", "right rear stop", Word.FLASHING),
        seen("left", "left rear stop", Word.OFF),
        seen("right", "left rear stop", Word.FLASHING),
        seen("brake_pedal", "stop lamps", Word.NORMAL),
    ]

    ranking = trace.rank(told, explained=0)

    assert ranking.groups[0].form == "swapped"
    assert sum(g.probability for g in ranking.groups if g.form == "swapped") > 0.8


def test_a_loose_plug_is_told_by_coming_and_going() -> None:
    trace = small_trace(SHARED)
    told = [
        seen("park", "tail lamps", Word.COMES_AND_GOES),
        seen("", "bumps", Word.ON, PlaceKind.HISTORY),
    ]

    ranking = trace.rank(told, explained=0)

    assert ranking.groups[0].form in ("intermittent_open", "intermittent_short")


def test_ohms_into_the_plug_tell_an_open_bulb_from_a_good_one() -> None:
    """A cold 2.1 A filament reads about a tenth of its hot 6 ohm; an open one reads open.

    Source of the tenth: cold filaments read about a tenth of hot (common practice).
    """
    trace = small_trace(SHARED)
    pin = Place(PlaceKind.PIN, "rear", "left_stop_turn")
    dark = seen("left", "left rear stop", Word.OFF)

    def read(ohm: float) -> dict[str, float]:
        reading = Observation("", pin, Quantity.OHMS, value=ohm, tester="meter", plugged=False)
        ranking = trace.rank([dark, reading], explained=0)
        return dict(ranking.by_side)

    good, broken = read(0.6), read(1e6)
    assert good["vehicle"] > broken["vehicle"]
    assert broken["trailer"] > good["trailer"]


def test_reasons_say_what_speaks_for_and_against_and_how_current_goes_home() -> None:
    trace = small_trace(SHARED)
    told = [
        seen("left", "left rear stop", Word.OFF),
        seen("left", "left rear tail", Word.FLASHING),
        seen("park", "left rear tail", Word.NORMAL),
    ]

    best = trace.rank(told).groups[0]

    assert best.place == "trailer.ground.lamp"
    assert any(reason.speaks_for and "speaks for it" in reason.says for reason in best.reasons)
    assert best.flow is not None
    assert "home through" in best.flow.says
    assert "lamp_left_rear_tail" in best.flow.backwards


def test_what_is_not_known_is_kept_open() -> None:
    """Everything dark at park: with a module a lost ground does it, with shared wires it glows."""
    both = Trace([(small_rig(SHARED), 0.5), (small_rig(MODULE), 0.5)])
    told = [seen("park", "trailer lamps", Word.OFF), seen("left", "trailer lamps", Word.OFF)]

    belief = both.believe(told)

    shared, module = (float(each.sum()) for each in belief.shares)
    assert module > 2.0 * shared
    ranking = both.rank(told, explained=0)
    assert sum(g.probability for g in ranking.groups) + ranking.none + ranking.normal == (
        pytest.approx(1.0)
    )


def test_two_faults_at_once_are_found_once_they_are_solved() -> None:
    """A dead left stop bulb and a dead right tail bulb: no single fault darkens just those."""
    trace = Trace([(small_rig(SHARED), 1.0)])
    told = [
        seen("left", "left rear stop", Word.OFF),
        seen("brake_pedal", "left rear stop", Word.OFF),
        seen("park", "right rear tail", Word.OFF),
        seen("park", "left rear tail", Word.NORMAL),
        seen("park", "markers", Word.NORMAL),
        seen("right", "right rear stop", Word.FLASHING),
        seen("brake_pedal", "right rear stop", Word.NORMAL),
    ]
    trace.prepare_pairs(3_000)

    ranking = trace.rank(told, explained=0)

    assert ranking.two > 0.5
    circuits = {ranking.groups[0].circuit, ranking.groups[1].circuit}
    assert circuits <= {"left", "tail", "ground"}


def test_keys_are_the_same_every_time_and_differ_from_each_other() -> None:
    from loomwright.trace.faults import faults_of

    one, other = faults_of(small_rig(SHARED)), faults_of(small_rig(SHARED))

    assert [f.key for f in one] == [f.key for f in other]
    assert len({f.key for f in one}) == len(one)


def test_three_wires_put_one_pin_on_light_each_others_lamps() -> None:
    """Tail, left and right, each on the next pin: every command still lights something.

    By tracing the wires by hand: what feeds a pin goes to the lamp whose wire is on it.
    """
    trace = small_trace(MODULE)
    hypotheses = trace.singles[0]
    bench, light = hypotheses.field.bench, hypotheses.field.light
    turned = [
        int(hypotheses.variant[n + 1])
        for n, fault in enumerate(hypotheses.faults)
        if fault.form == "wrong_function" and len(fault.changes) > 3
    ]
    lamps = [n for n, load in enumerate(bench.wiring.loads) if load.kind == "lamp"]

    assert turned
    for variant in turned:
        for key in ("park", "left", "right"):
            lit = light[variant, bench.number(key)][lamps] > 0.3
            sound = light[0, bench.number(key)][lamps] > 0.3
            assert lit.any()
            assert (lit != sound).any()
