"""One person: the plan in the order with the fewest walks, and what cannot be seen alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import Final

from loomwright.invalid import InvalidInput, raise_all
from loomwright.lightcheck.holding import ACTS, PROPPED
from loomwright.lightcheck.model import Expectation, Plan, Step
from loomwright.lightcheck.number_asks import BREAKAWAY_STEP
from loomwright.lightcheck.walks import Job, Look, Order, SetFrom, Visit, best_order, cost_of
from loomwright.observations.observation import Quantity
from loomwright.observations.place import PlaceKind

WALK_S: Final = 10
"""From the seat to the rear of the trailer, at a walk. [s]"""

LOOK_S: Final = 4
"""For one look or one reading. [s]"""

LEAST_S, MOST_S = WALK_S + LOOK_S, 3600
FOB = ("hazard", "park", "left", "right")
HELD = tuple(key for key, act in ACTS.items() if act.keeps == "held")


@dataclass(frozen=True, slots=True)
class Alone:
    """What helps a person who is alone.

    Attributes
    ----------
    prop : bool
        A prop for the pedal, and a clip or strap for the lever.
    wall : bool
        A wall or a window behind the trailer in which its lamps are seen from the cab.
    fob : tuple of str
        Commands the key fob gives from anywhere: ``hazard``, ``park``.
    timed_s : mapping of str to int
        How long the vehicle itself keeps a held command on after the driver leaves. [s]
    """

    prop: bool = True
    wall: bool = False
    fob: tuple[str, ...] = ()
    timed_s: Mapping[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        problems = [
            InvalidInput("fob", each, f"a key fob gives one of {', '.join(FOB)}")
            for each in self.fob
            if each not in FOB
        ]
        for command, seconds in self.timed_s.items():
            if command not in HELD:
                fix = f"only what is held has a time: {', '.join(HELD)}"
                problems.append(InvalidInput("timed_s", command, fix))
            if not LEAST_S <= seconds <= MOST_S:
                fix = f"give {LEAST_S} to {MOST_S} s: the walk alone takes {WALK_S}"
                problems.append(InvalidInput(f"timed_s.{command}", seconds, fix))
        raise_all(problems, "alone")


@dataclass(frozen=True, slots=True)
class _Task:
    """One command in one go: a timed one that shows much is gone to more than once."""

    job: Job
    step: Step
    mine: Mapping[Look, tuple[Expectation, ...]]
    hold: str
    caution: str


def for_one(plan: Plan, helps: Alone) -> Plan:
    """Return a plan for one person.

    Parameters
    ----------
    plan : Plan
        The plan for two, in the order of the trade.
    helps : Alone
        What helps: a prop, a wall, a key fob, a vehicle that holds lamps on for a while.
    """
    tasks, left_out = _tasks(plan, helps)
    if not tasks:
        return replace(plan, people=1, not_tested=(*plan.not_tested, *left_out))
    order = best_order([each.job for each in tasks])
    steps = tuple(_steps_in(order, {each.job.key: each for each in tasks}))
    return replace(
        plan,
        people=1,
        steps=steps,
        walks=order.walks,
        cautions=(*plan.cautions, *_prop_caution(steps, helps)),
        not_tested=(*plan.not_tested, *left_out),
    )


def naive_walks(plan: Plan, helps: Alone) -> Order:
    """Return what the plain order costs: all commands with the plug out, then all with it in.

    Parameters
    ----------
    plan : Plan
        The plan for two.
    helps : Alone
        What helps, as for `for_one`.
    """
    tasks, _ = _tasks(plan, helps)
    looks = [Visit(task.job.key, look) for task in tasks for look in _sorted(task.job.looks)]
    return cost_of([each.job for each in tasks], sorted(looks, key=lambda v: v.look.plugged))


def _sorted(looks: frozenset[Look]) -> list[Look]:
    return sorted(looks, key=lambda look: (look.plugged, look.zone))


def _prop_caution(steps: Sequence[Step], helps: Alone) -> tuple[str, ...]:
    held = any(set(step.command.split("+")) & set(HELD) for step in steps)
    return (PROPPED,) if held and helps.prop else ()


def _tasks(plan: Plan, helps: Alone) -> tuple[list[_Task], list[str]]:
    tasks: list[_Task] = []
    left_out: list[str] = []
    for step in plan.steps:
        looks = _looks(step, helps)
        missing = len(step.expectations) - sum(len(each) for each in looks.values())
        if missing:
            left_out.append(f"{step.command}: nobody to hold it while {missing} places are seen")
        for number, part in enumerate(_parts(step, looks, helps)):
            if part:
                tasks.append(_task(step, part, helps, number))
    return tasks, left_out


def _held(step: Step) -> str | None:
    """The action of a step that must be held, if there is one."""
    return next((act for act in step.command.split("+") if act in HELD), None)


def _looks(step: Step, helps: Alone) -> dict[Look, tuple[Expectation, ...]]:
    """Where each expectation of a step is seen from; those that nobody can see are left out."""
    held = _held(step)
    stays = held is None or helps.prop or held in helps.timed_s
    found: dict[Look, list[Expectation]] = {}
    for each in step.expectations:
        if each.at == "cab":
            found.setdefault(Look("cab", each.plugged), []).append(each)
        elif stays:
            found.setdefault(Look("rear", each.plugged), []).append(each)
        elif helps.wall and _in_the_wall(each):
            seen = replace(each, at="cab", note="seen in the wall or window behind the trailer")
            found.setdefault(Look("cab", each.plugged), []).append(seen)
    return {look: tuple(found[look]) for look in _sorted(frozenset(found))}


def _in_the_wall(expectation: Expectation) -> bool:
    """Whether a reflection shows it: a lamp at the rear, by a word."""
    is_lamp = expectation.place.kind is PlaceKind.LOAD and expectation.at == "rear"
    return is_lamp and expectation.quantity is Quantity.SEEN


def _parts(
    step: Step, looks: Mapping[Look, tuple[Expectation, ...]], helps: Alone
) -> Iterator[Mapping[Look, tuple[Expectation, ...]]]:
    """A step in one go; or in as many as a timed command leaves time for."""
    held = _held(step)
    if held is None or held not in helps.timed_s or helps.prop:
        yield looks
        return
    room = (helps.timed_s[held] - WALK_S) // LOOK_S
    for look, mine in looks.items():
        for first in range(0, len(mine), room):
            yield {look: mine[first : first + room]}


def _task(
    step: Step, looks: Mapping[Look, tuple[Expectation, ...]], helps: Alone, number: int
) -> _Task:
    held = _held(step)
    key = step.key if number == 0 else f"{step.key}-{number + 1}"
    return _Task(
        Job(key, _set_from(step, helps), frozenset(looks)),
        step,
        looks,
        _hold(step, held, helps),
        " ".join(filter(None, (step.caution, PROPPED if held and helps.prop else ""))),
    )


def _set_from(step: Step, helps: Alone) -> SetFrom:
    if step.command in ("rest", BREAKAWAY_STEP):
        return "base"
    return "anywhere" if step.command in helps.fob else "cab"


def _hold(step: Step, held: str | None, helps: Alone) -> str:
    if step.command in helps.fob:
        return f"Key out. {step.command.capitalize()} by the key fob, from where you stand."
    if held is None:
        return step.hold
    if helps.prop:
        tool = "clip or strap" if held == "brake_lever" else "prop"
        return f"{step.hold} Set the {tool}, then walk."
    if held in helps.timed_s:
        return f"{step.hold} It stays on for {helps.timed_s[held]} s: go straight to the rear."
    return f"{step.hold} Look from the seat."


def _steps_in(order: Order, tasks: Mapping[str, _Task]) -> Iterator[Step]:
    """One step for each stretch of the order under one command."""
    before = 0
    walked = zip(order.visits, order.walked, strict=True)
    for key, visits in groupby(walked, key=lambda each: each[0].job):
        task = tasks[key]
        taken = list(visits)
        looks = [visit.look for visit, _ in taken]
        mine = tuple(each for look in looks for each in task.mine[look])
        again = looks[0] != next(iter(_in_order(order, key)))
        yield replace(
            task.step,
            key=f"{key}-again" if again else key,
            hold=task.hold,
            stays=looks[-1].zone == "rear",
            at=mine[0].at,
            expectations=mine,
            caution=task.caution,
            walks=taken[-1][1] - before,
        )
        before = taken[-1][1]


def _in_order(order: Order, key: str) -> Iterator[Look]:
    return (visit.look for visit in order.visits if visit.job == key)
