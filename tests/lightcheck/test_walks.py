"""The order for one person: against an exhaustive search on small jobs, and the plain order."""

from __future__ import annotations

from collections import deque
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.rigs import brake_rig, simple_rig

from loomwright import examples
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Plan
from loomwright.lightcheck.plan import plan_for
from loomwright.lightcheck.solo import Alone, for_one, naive_walks
from loomwright.lightcheck.walks import Job, Look, SetFrom, Visit, best_order, cost_of
from loomwright.rig.read import read_rig

OUT, IN, SEAT = Look("rear", False), Look("rear", True), Look("cab", True)


def fewest(jobs: list[Job]) -> tuple[int, int]:
    """Walks and plug changes of the best order, by trying every single action everywhere.

    Breadth first by walks, then by changes of the plug, over each state a person can be in:
    where, what is on, plug, and which looks are taken. No shortcut of the search under test is
    used: every look is an action of its own and every command may be set again.
    """
    looks = [(n, look) for n, job in enumerate(jobs) for look in sorted(job.looks)]
    start = ("rear", -1, False, frozenset[int]())
    best = {start: (0, 0)}
    queue = deque([start])
    found: list[tuple[int, int]] = []
    while queue:
        at = queue.popleft()
        where, on, plugged, taken = at
        walks, plugs = best[at]
        fob = on == -1 or jobs[on].set_from == "anywhere"
        if len(taken) == len(looks) and (on == -1 or fob):
            found.append((walks, plugs))
        nexts = [(("cab" if where == "rear" else "rear", on, plugged, taken), (walks + 1, plugs))]
        if where == "rear":
            nexts.append(((where, on, not plugged, taken), (walks, plugs + 1)))
        for n, job in enumerate(jobs):
            if job.set_from != "base" and (where == "cab" or (fob and job.set_from == "anywhere")):
                nexts.append(((where, n, plugged, taken), (walks, plugs)))
        if where == "cab" or fob:
            nexts.append(((where, -1, plugged, taken), (walks, plugs)))
        for k, (n, look) in enumerate(looks):
            is_on = on == -1 if jobs[n].set_from == "base" else on == n
            if is_on and look == Look(where, plugged):
                nexts.append(((where, on, plugged, taken | {k}), (walks, plugs)))
        for there, cost in nexts:
            if there not in best or cost < best[there]:
                best[there] = cost
                queue.append(there)
    return min(found)


jobs_drawn = st.lists(
    st.tuples(
        st.sampled_from(["cab", "cab", "anywhere"]),
        st.sets(st.sampled_from([OUT, IN, SEAT]), min_size=1, max_size=2),
    ),
    min_size=1,
    max_size=3,
)


@settings(max_examples=25, deadline=None)
@given(jobs_drawn, st.sets(st.sampled_from([OUT, IN]), max_size=2))
def test_the_order_is_the_best_there_is(
    drawn: list[tuple[SetFrom, set[Look]]], at_rest: set[Look]
) -> None:
    jobs = [Job(f"job {n}", how, frozenset(looks)) for n, (how, looks) in enumerate(drawn)]
    if at_rest:
        jobs.insert(0, Job("rest", "base", frozenset(at_rest)))
    order = best_order(jobs)

    assert (order.walks, order.plugs) == fewest(jobs)
    assert sorted(order.visits) == sorted(Visit(j.key, look) for j in jobs for look in j.looks)


def test_no_permutation_of_the_looks_is_better() -> None:
    """All 720 orders of six looks, each gone to in the straightest way."""
    jobs = [
        Job("rest", "base", frozenset({OUT})),
        Job("park", "cab", frozenset({OUT, IN})),
        Job("left", "cab", frozenset({OUT, IN})),
        Job("hazard", "anywhere", frozenset({IN})),
    ]
    looks = [Visit(job.key, look) for job in jobs for look in sorted(job.looks)]
    costs = [cost_of(jobs, order) for order in permutations(looks)]
    best = best_order(jobs)

    assert (best.walks, best.plugs) == min((each.walks, each.plugs) for each in costs)
    assert cost_of(jobs, best.visits) == best


def test_by_hand() -> None:
    """Start at the rear with all off; for each of two commands in and out; then switch off.

    Rear: rest. Walk 1, set park; walk 2, look; walk 3, set left; walk 4, look; walk 5, all off.
    """
    jobs = [
        Job("rest", "base", frozenset({OUT})),
        Job("park", "cab", frozenset({OUT, IN})),
        Job("left", "cab", frozenset({IN, OUT})),
    ]
    order = best_order(jobs)

    assert (order.walks, order.plugs) == (5, 2)
    assert [each.job for each in order.visits] == ["rest", "park", "park", "left", "left"]
    assert [each.look for each in order.visits] == [OUT, OUT, IN, IN, OUT]
    assert order.walked == (0, 2, 2, 4, 4)


PLAIN = {
    # example: walks in the best order and in the plain one, by trailer, meter and clamp; the
    # plain one goes through all commands with the plug out, then through all with it in
    "boat-surge-brakes": (19, 39),
    "caravan-thirteen-pin": (21, 43),
    "horse-trailer-van": (21, 43),
    "second-socket-flatbed": (21, 43),
    "utility-rewire": (15, 31),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", PLAIN)
def test_half_the_walks_of_the_plain_order_on_the_examples(name: str) -> None:
    """Each command but rest and breakaway takes one walk there and one back, and one at the end.

    So the least is twice the commands set in the cab plus one, and the plain order goes round
    twice but for what only one state of the plug shows.
    """
    plan = plan_for(read_rig(examples.text(name)), "trailer+meter+clamp", samples=100)
    one = for_one(plan, Alone())
    in_the_cab = [each for each in plan.steps if each.key not in ("rest", "breakaway")]

    assert one.walks == 2 * len(in_the_cab) + 1
    assert (one.walks, naive_walks(plan, Alone()).walks) == PLAIN[name]
    keys = sorted(each.key for step in plan.steps for each in step.expectations)
    assert sorted(each.key for step in one.steps for each in step.expectations) == keys


@pytest.fixture(scope="module")
def tandem() -> Plan:
    return plan_for(brake_rig(), "trailer", samples=100)


def test_the_walks_of_the_steps_are_those_of_the_plan_but_for_the_last_to_switch_off(
    tandem: Plan,
) -> None:
    """Every command set in the cab: one walk there, one back, and one at the end, by hand."""
    one = for_one(tandem, Alone())
    walks = [each for step in one.steps if (each := one.walks_at(step))]

    assert [each.now for each in walks] == [
        0 if step.command in ("rest", "breakaway") else 2 for step in one.steps
    ]
    assert [each.done + each.now + each.left for each in walks] == [one.walks] * len(one.steps)
    assert walks[-1].left == 1
    assert tandem.walks_at(tandem.steps[0]) is None


def test_without_a_prop_nobody_holds_the_pedal(tandem: Plan) -> None:
    one = for_one(tandem, Alone(prop=False))

    held = {"brake_pedal", "park+brake_pedal"}
    assert not held & {step.command for step in one.steps}
    assert sum("nobody to hold it" in each for each in one.not_tested) >= 2
    assert not any("prop" in each.casefold() for each in one.cautions)


def test_a_wall_shows_lamps_from_the_seat_but_no_brakes(tandem: Plan) -> None:
    one = for_one(tandem, Alone(prop=False, wall=True))
    pedal = next(step for step in one.steps if step.command == "brake_pedal")

    assert {each.at for each in pedal.expectations} == {"cab"}
    assert all("lamp" in each.title for each in pedal.expectations)
    assert one.walks < for_one(tandem, Alone()).walks


def test_a_key_fob_saves_two_walks(tandem: Plan) -> None:
    assert for_one(tandem, Alone(fob=("hazard",))).walks == for_one(tandem, Alone()).walks - 2


def test_a_timed_hold_is_gone_to_as_often_as_its_time_asks() -> None:
    """60 s less 10 s to walk leave 12 looks of 4 s: four places go at once."""
    plan = plan_for(simple_rig(), "eye", samples=100)
    one = for_one(plan, Alone(prop=False, timed_s={"brake_pedal": 18}))
    pedal = [step for step in one.steps if step.command == "brake_pedal"]

    places = next(step for step in plan.steps if step.key == "brake_pedal").expectations
    assert len(pedal) == -(-len(places) // 2)
    assert all("stays on for 18 s" in step.hold for step in pedal)


def test_what_cannot_help_is_told_all_at_once() -> None:
    with pytest.raises(ExceptionGroup) as caught:
        Alone(fob=("horn",), timed_s={"park": 30, "brake_pedal": 2})
    problems = caught.value.exceptions
    assert len(problems) == 3
    assert all(isinstance(each, InvalidInput) for each in problems)
