"""How many measurements until a break is found: as trace asks, by halves, by a checklist.

All three start from the same walk round by the same person, and look for one open part in the
circuit of one dark lamp. By halves: the chain from battery to lamp and home is cut in the middle
again and again, volts read to battery negative. By the checklist: part after part in a fixed
order of places, volts read across each.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from loomwright.circuit.elements import ends
from loomwright.circuit.faults import Opened
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word
from loomwright.trace.engine import Trace
from loomwright.trace.homes import home_of
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.model import Question
from loomwright.trace.selftest import draw_faults, random_rigs
from loomwright.trace.selftest_person import WALK, Person
from loomwright.trace.unplugged import volts_between

CHECKLIST: Final = (
    "trailer.lamp.bulb",
    "trailer.lamp.led",
    "vehicle.fuse",
    "coupling",
    "trailer.ground.lamp",
    "trailer.ground.main",
    "trailer.lamp.socket",
    "vehicle.socket.terminal",
    "vehicle.ground",
    "trailer.plug.terminal",
    "trailer.junction_box",
    "trailer.cord",
    "vehicle.splice",
    "trailer.ground.frame",
    "vehicle.relay",
    "vehicle.module",
    "vehicle.converter",
    "trailer.lamp.wiring",
    "trailer.harness",
    "vehicle.harness",
)
"""Places in the order many go through: what is quick and often, first. Common practice."""

MOST: Final = 12
"""Measurements after which nobody would go on."""

METER: Final = ("eye", "meter")


@dataclass(frozen=True, slots=True)
class Hunt:
    """One break looked for in three ways: measurements each, and whether trace was right.

    `asked` are those of trace; `right` is whether what it said to repair, or
    ranked first when it gave up, is the very part; `gave_up` whether it never said what to repair.
    """

    asked: int
    halves: int
    checklist: int
    right: bool
    gave_up: bool


def hunts(rigs: int, faults: int, seed: int) -> tuple[Hunt, ...]:
    """Look for breaks in random rigs in three ways.

    Parameters
    ----------
    rigs : int
        How many rigs.
    faults : int
        How many faults to draw in each; those that are no break in a lamp's circuit are let go.
    seed : int
        The same seed gives the same hunts.
    """
    chance = np.random.default_rng(seed)
    found = []
    for typical in random_rigs(rigs, chance):
        trace = Trace(((typical.rig, 1.0),))
        (hypotheses,) = trace.singles
        for truth in draw_faults(trace, faults, chance):
            chain = _chain(hypotheses, truth)
            if chain:
                found.append(_hunt(trace, truth, chain, chance))
    return tuple(found)


def _hunt(trace: Trace, truth: int, chain: Sequence[str], chance: np.random.Generator) -> Hunt:
    (hypotheses,) = trace.singles
    asked, right, gave_up = _as_asked(trace, truth, chance)
    broken = _element(hypotheses, truth)
    order = sorted(chain, key=lambda name: _listed(hypotheses, name))
    return Hunt(
        asked=asked,
        halves=math.ceil(math.log2(len(chain))),
        checklist=1 + order.index(broken),
        right=right,
        gave_up=gave_up,
    )


def _listed(hypotheses: Hypotheses, element: str) -> int:
    wiring = hypotheses.field.bench.wiring
    place = home_of(wiring.rig, wiring.parts[element]).place
    return CHECKLIST.index(place) if place in CHECKLIST else len(CHECKLIST)


def _element(hypotheses: Hypotheses, truth: int) -> str:
    """Element that is open in a hypothesis; empty if it is no single break."""
    fault = hypotheses.faults[int(hypotheses.first[truth])]
    if fault.comes_and_goes or len(fault.changes) != 1:
        return ""
    (change,) = fault.changes
    return change.element if isinstance(change, Opened) else ""


def _chain(hypotheses: Hypotheses, truth: int) -> list[str]:
    """Elements in line with the break, from battery to a dark lamp and home; empty if none is.

    They are those that carry the current of the lamp on the sound rig: in each of them alone, a
    break leaves the lamp dark.
    """
    broken = _element(hypotheses, truth)
    if not broken:
        return []
    solved = hypotheses.field
    for key in WALK[1:5]:
        if not solved.bench.has(key):
            continue
        command = solved.bench.number(key)
        for number, load in enumerate(solved.bench.wiring.loads):
            if load.kind != "lamp" or solved.light[0, command, number] < 0.3:
                continue
            dark = solved.light[:, command, number] < 0.02
            names = {
                _element(hypotheses, n)
                for n in np.flatnonzero(dark[hypotheses.variant] & (hypotheses.first >= 0)).tolist()
            }
            if broken in names:
                return sorted(names - {""})
    return []


def _as_asked(trace: Trace, truth: int, chance: np.random.Generator) -> tuple[int, bool, bool]:
    """Answer what trace asks until it says what to repair; count the measurements."""
    (hypotheses,) = trace.singles
    person = Person(chance)
    told = list(person.walks_round(hypotheses, truth).told)
    done: set[str] = set()
    while True:
        ranking = trace.rank(told, explained=0)
        advice = trace.advise(ranking, METER, shown=30)
        question = next(_open(advice.questions, done), None)
        if advice.repair is not None or question is None or len(done) >= MOST:
            best = advice.repair or ranking.groups[0]
            right = _is_right(hypotheses, truth, best.best.fault.key)
            return len(done), right, advice.repair is None
        done.add(question.key)
        told += _answer(hypotheses, truth, question, person)


def _open(questions: Sequence[Question], done: set[str]) -> Iterator[Question]:
    """Yield the measurements not taken yet: the looks were the walk round."""
    for question in questions:
        kind = question.key.partition("_")[0]
        if kind in ("fuse", "pin", "drop", "across", "lamp") and question.key not in done:
            yield question


def _answer(
    hypotheses: Hypotheses, truth: int, question: Question, person: Person
) -> Iterator[Observation]:
    """Yield what is read where a question says."""
    kind, _, name = question.key.partition("_")
    if kind == "fuse":
        yield _fuse(hypotheses, truth, name)
        return
    place = _across(hypotheses, name) if kind == "across" else None
    given = [each.observation for each in question.outcomes if each.observation is not None]
    if place is None and not given:
        return
    place = place or given[0].place
    volts = person.reads(_volts(hypotheses, truth, question.command, place))
    yield Observation(question.command, place, Quantity.VOLTS, value=volts, tester="meter")


def _across(hypotheses: Hypotheses, element: str) -> Place:
    a, b = ends(hypotheses.field.bench.wiring.network.element(element))[0]
    return Place(PlaceKind.POINTS, a, other=b)


def _fuse(hypotheses: Hypotheses, truth: int, name: str) -> Observation:
    variant = int(hypotheses.variant[truth])
    solved = hypotheses.field
    opened = bool(solved.opened[variant, :, solved.fuses.index(name)].any())
    blown = opened or _element(hypotheses, truth) == name
    word = Word.BLOWN if blown else Word.WHOLE
    return Observation("", Place(PlaceKind.FUSE, name), Quantity.SEEN, word=word)


def _volts(hypotheses: Hypotheses, truth: int, command: str, place: Place) -> float:
    """What is there between the points of a place, with the fault. [V]"""
    from loomwright.trace.metered import points_of, volts_at

    solved = hypotheses.field
    if place.kind is PlaceKind.POINTS:
        points = points_of(solved, place)
        if points is None:
            return 0.0
        number = solved.bench.number(command)
        return float(volts_between(hypotheses, number, points, exact=True)[truth])
    probe = Observation(command, place, Quantity.VOLTS, value=0.0, tester="meter")
    found = volts_at(hypotheses, probe)
    if found is None:
        return 0.0
    volts, by_hypothesis = found
    return float(volts[truth if by_hypothesis else int(hypotheses.variant[truth])])


def _is_right(hypotheses: Hypotheses, truth: int, key: str) -> bool:
    """Whether a fault is of the very part that is broken, whatever its size or form."""
    mine = hypotheses.faults[int(hypotheses.first[truth])]
    other = next(each for each in hypotheses.faults if each.key == key)
    return (mine.place, mine.part) == (other.place, other.part)
