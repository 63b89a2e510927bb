"""Healthy rigs pass at the stated rate, and a rig with one fault beyond the limits does not."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.stats import binomtest
from tests.lightcheck.person import person
from tests.rigs import brake_rig, caravan_rig, simple_rig

from loomwright import examples
from loomwright.circuit import Case
from loomwright.electrics.harness import slug
from loomwright.lightcheck.bench import Bench, make_bench
from loomwright.lightcheck.drawn import draw_numbers, solve_drawn
from loomwright.lightcheck.judging import judge, judge_all, observe
from loomwright.lightcheck.model import Answer, Plan, Standing
from loomwright.lightcheck.plan import NOTHING, asks_for, plan_for
from loomwright.observations.observation import Quantity
from loomwright.reference.testers import find_testers
from loomwright.rig.model import Rig
from loomwright.rig.read import read_rig

TESTERS = "trailer+meter+clamp"
QUICK = [name for name in examples.names() if name != "truck-24-to-12"]
"""A step-down converter takes seconds a plan; it has a test of its own."""

DROP_LIMIT_V = 0.5
"""Loss from source to lamp that the trade lets pass: common practice."""


@cache
def rig_of(name: str) -> Rig:
    return read_rig(examples.text(name), name)


@cache
def plan_of(name: str) -> Plan:
    return plan_for(rig_of(name), TESTERS)


def wrong_in(answers: tuple[Answer, ...]) -> list[Answer]:
    return [each for each in answers if each.standing is Standing.WRONG]


@pytest.mark.parametrize("rig", [simple_rig(), brake_rig(), caravan_rig()], ids=lambda r: r.name)
def test_healthy_rigs_pass_at_the_stated_rate(rig: Rig) -> None:
    """Nine in ten readings of healthy rigs are right: a band from its 5 to its 95 % quantile.

    The rigs are drawn anew from another seed. The tester's own error only widens a band, so
    the rate may be above 90 %, never below but for chance: the exact binomial interval (Clopper
    and Pearson 1934) of each reading at 99.99 %, for the many that are compared.
    """
    plan = plan_for(rig, TESTERS, samples=1000)
    bench = make_bench(rig, find_testers(TESTERS))
    asks = [each for each in asks_for(bench, find_testers(TESTERS)) if each.reading is not None]
    wanted: dict = {}  # type: ignore[type-arg]
    for ask in asks:
        wanted.setdefault(ask.held, []).append(ask.reading)
    rigs = 200
    numbers = draw_numbers(bench, rigs, seed=77)
    drawn = solve_drawn(bench, wanted, numbers)
    right, wrong, seen = 0, 0, 0
    for ask in asks:
        assert ask.reading is not None
        mine = plan.expectation(ask.make(NOTHING).key)
        if mine.quantity is Quantity.SEEN or mine.is_dark:
            continue
        values = drawn.at(ask.held, ask.reading)[1:]
        standings = [judge(mine, observe(mine, float(v))).standing for v in values]
        passed = standings.count(Standing.RIGHT)
        interval = binomtest(passed, rigs).proportion_ci(0.9999)
        assert interval.high >= 0.90, (mine.key, passed)
        right, seen = right + passed, seen + rigs
        wrong += standings.count(Standing.WRONG)
    assert seen > 2000
    assert right / seen >= 0.90
    assert wrong / seen < 0.002


def faults(rig: Rig, bench: Bench) -> Iterator[tuple[str, Case]]:
    """Representative faults: what is bad, and the element that is."""
    names = {each.name for each in bench.network.elements}
    ground = rig.trailer.cord_wire_for("ground")
    assert ground is not None
    contact = slug("contact", ground.pin, "ground")
    lead = rig.towing_socket.name
    lamp = rig.trailer.lamps[0]
    ohms = {
        "1 ohm in the plug ground": (contact, 1.0),
        "1 ohm in the socket's ground wire": (slug("lead_wire", lead, "ground"), 1.0),
    }
    if not rig.trailer.joined_returns:
        ohms["open plug ground"] = (contact, math.inf)
    for function in ("tail", "tail_left", "left_turn", "left_stop_turn", "stop", "brake"):
        wire = slug("lead_wire", lead, function)
        ohms[f"1 ohm in the {function} feed"] = (wire, 1.0)
        ohms[f"open {function} feed"] = (wire, math.inf)
    for light in lamp.lights:
        branch = slug("lamp", lamp.name, light.function, "branch")
        ohms[f"dead {lamp.name}, {light.function}"] = (branch, math.inf)
    for brake in rig.trailer.brakes[:1]:
        ohms["one magnet out"] = (slug("brake", brake.name, "branch"), math.inf)
    for says, (element, ohm) in ohms.items():
        if element in names:
            yield says, Case(resistance_ohm={element: ohm})


def most_lost_v(rig: Rig, wrong: Case) -> float:
    """What a fault takes from a load, at the most, under any command; by the plain solver."""
    from loomwright.electrics.solved import answer
    from loomwright.electrics.wiring import wire_up
    from loomwright.lightcheck.plan import checked_commands

    wiring = wire_up(rig)
    lost = [0.0]
    for command in checked_commands(rig):
        if command.key != "breakaway":
            sound, bad = answer(wiring, command), answer(wiring, command, wrong)
            lost += [
                abs(one.voltage_v - two.voltage_v)
                for one, two in zip(sound.loads, bad.loads, strict=True)
                if one.kind in ("lamp", "brake")
            ]
    return max(lost)


@pytest.mark.slow
@pytest.mark.parametrize("name", QUICK)
def test_a_healthy_example_has_nothing_wrong_and_one_fault_shows(name: str) -> None:
    """Open, 1 ohm in ground or feed, a dead lamp, a magnet out: something is wrong with each.

    Only what takes less than the trade's limit from every load may pass.
    """
    rig, plan = rig_of(name), plan_of(name)
    sound = person(rig, TESTERS)
    assert wrong_in(judge_all(plan, sound.says(plan))) == []

    shown = 0
    for says, wrong in faults(rig, sound.bench):
        found = wrong_in(judge_all(plan, person(rig, TESTERS, wrong).says(plan)))
        if not found:
            assert most_lost_v(rig, wrong) < DROP_LIMIT_V, says
        shown += bool(found)
        assert all(each.says for each in found)
    assert shown >= 6


@pytest.mark.slow
@pytest.mark.parametrize("name", QUICK)
def test_sides_crossed_in_the_plug_are_named(name: str) -> None:
    rig, plan = rig_of(name), plan_of(name)
    other = {"left_turn": "right_turn", "left_stop_turn": "right_stop_turn"}
    swap = other | {right: left for left, right in other.items()}
    cord = tuple(replace(w, function=swap.get(w.function, w.function)) for w in rig.trailer.cord)
    crossed = replace(rig, trailer=replace(rig.trailer, cord=cord))
    observations = list(person(crossed, "trailer").says(plan_for(rig, "trailer", samples=100)))
    found = wrong_in(judge_all(plan, observations))

    assert {each.expectation.command for each in found} >= {"left", "right"}
    assert any("left and right exchanged" in each.says for each in found)


@pytest.mark.slow
def test_the_step_down_rig_shows_a_bad_ground() -> None:
    rig = rig_of("truck-24-to-12")
    plan = plan_for(rig, "trailer", samples=100)
    sound = person(rig, "trailer")
    assert wrong_in(judge_all(plan, sound.says(plan))) == []
    bad = dict(faults(rig, sound.bench))["1 ohm in the plug ground"]
    assert wrong_in(judge_all(plan, person(rig, "trailer", bad).says(plan)))


def test_draws_do_not_lean_on_numpy_state() -> None:
    """The same seed gives the same draws whatever was drawn before (NumPy generators)."""
    bench = make_bench(simple_rig())
    one = draw_numbers(bench, 50, 3)
    np.random.default_rng().normal(size=10)
    two = draw_numbers(bench, 50, 3)

    assert all(np.array_equal(one.factors[key], two.factors[key]) for key in one.factors)
