"""What comes and goes or stays on, asked after: does the next step that trace proposes tell?

From the same walk round as in the self test; then the two best questions of those to a hand that
moves and an eye that watches, and of fuses, are answered by the person, and the fault is ranked
again among those that come and go, or stay on, as it does.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.word import Word
from loomwright.trace.engine import Trace
from loomwright.trace.hypotheses import Hypotheses
from loomwright.trace.model import Question
from loomwright.trace.moving import POOR, ZONES, moved_place, shown_under
from loomwright.trace.selftest import alike_on, random_rigs, shows, walk_that_shows
from loomwright.trace.selftest_person import Walk

FORMS: Final = ("intermittent_open", "intermittent_short", "stuck_on")
ASKED: Final = ("moved", "fuse", "drag")
MOST: Final = 2

HAND: Final = {"in it": 0.9, "beside it": 0.08, "poor": 0.3}
"""How often what is moved changes: something loose there, loose elsewhere, a poor joint there."""


@dataclass(frozen=True, slots=True)
class Watched:
    """How high a fault ranked after the walk, and after the questions; from 1."""

    form: str
    rank_before: int
    rank_after: int
    asked: int


def watched(rigs: int, faults: int, seed: int) -> tuple[Watched, ...]:
    """Look for what comes and goes or stays on in random rigs, and ask after it.

    Parameters
    ----------
    rigs : int
        How many rigs.
    faults : int
        How many of each form in each, drawn as often as they are thought to be usual.
    seed : int
        The same seed gives the same.
    """
    chance = np.random.default_rng(seed)
    found: list[Watched] = []
    for typical in random_rigs(rigs, chance):
        trace = Trace(((typical.rig, 1.0),))
        (hypotheses,) = trace.singles
        drawn = list(_drawn(hypotheses, faults, chance))
        found += [_watched(trace, truth, chance) for truth in drawn]
    return tuple(found)


def _drawn(hypotheses: Hypotheses, count: int, chance: np.random.Generator) -> Iterator[int]:
    of_form = np.array([*(fault.form for fault in hypotheses.faults), ""])[hypotheses.first]
    for form in FORMS:
        weight = np.where(shows(hypotheses) & (of_form == form), hypotheses.weight, 0.0)
        if weight.sum() > 0.0:
            yield from chance.choice(len(weight), count, p=weight / weight.sum()).tolist()


def _watched(trace: Trace, truth: int, chance: np.random.Generator) -> Watched:
    (hypotheses,) = trace.singles
    walk = walk_that_shows(hypotheses, truth, chance)
    told, done = list(walk.told), set[str]()
    before = _rank(trace, walk, truth, told)
    while len(done) < MOST:
        advice = trace.advise(trace.rank(told, explained=0), shown=60)
        question = next(_open(advice.questions, done), None)
        if question is None:
            break
        done.add(question.key)
        told.append(_answer(hypotheses, truth, question, chance))
    form = hypotheses.faults[int(hypotheses.first[truth])].form
    return Watched(form, before, _rank(trace, walk, truth, told), len(done))


def _open(questions: Sequence[Question], done: set[str]) -> Iterator[Question]:
    for question in questions:
        if question.key.partition("_")[0] in ASKED and question.key not in done:
            yield question


def _rank(trace: Trace, walk: Walk, truth: int, told: Sequence[Observation]) -> int:
    """Rank of the first group with a fault of the same kind that could have shown the same."""
    (hypotheses,) = trace.singles
    alike = alike_on(hypotheses, walk, truth) & (hypotheses.loose == hypotheses.loose[truth])
    group = trace.groups.of_fault[id(hypotheses)][hypotheses.first[alike]]
    order = np.argsort(-trace.groups.share(trace.believe(told)), kind="stable")
    return 1 + int(np.flatnonzero(np.isin(order, group))[0])


def _answer(
    hypotheses: Hypotheses, truth: int, question: Question, chance: np.random.Generator
) -> Observation:
    """What the person says: of something moved by chance, else what the fault shows."""
    kind, _, name = question.key.partition("_")
    if kind == "moved":
        zone = next(zone for zone in ZONES if zone.replace(" ", "_") == name)
        changes = chance.random() < _changes(hypotheses, truth, question.command, zone)
        word = Word.COMES_AND_GOES if changes else Word.NORMAL
        return Observation(question.command, moved_place(zone), Quantity.SEEN, word=word)
    solved, variant = hypotheses.field, int(hypotheses.variant[truth])
    if kind == "fuse":
        says = bool(solved.opened[variant, :, solved.fuses.index(name)].any())
        wanted = Word.BLOWN if says else Word.WHOLE
    else:
        rest = solved.bench.number("rest")
        brakes = [n for n, load in enumerate(solved.bench.wiring.loads) if load.kind == "brake"]
        wanted = Word.LOCKED if solved.light[variant, rest, brakes].max() > 0.25 else Word.OFF
    given = [one for outcome in question.outcomes for one in outcome.observations]
    return next((one for one in given if one.word is wanted), given[0])


def _changes(hypotheses: Hypotheses, truth: int, command: str, zone: str) -> float:
    fault = hypotheses.faults[int(hypotheses.first[truth])]
    if not shown_under(hypotheses, hypotheses.field.bench.number(command))[truth]:
        return 0.0
    is_there = fault.place in ZONES[zone]
    if fault.comes_and_goes:
        return HAND["in it"] if is_there else HAND["beside it"]
    return HAND["poor"] if is_there and fault.form in POOR else 0.0
