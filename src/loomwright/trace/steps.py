"""The next step: the question that tells most for its effort, or the repair."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from loomwright.trace.asked import Asked
from loomwright.trace.asking import questions_of
from loomwright.trace.belief import Belief
from loomwright.trace.efforts import AT_HAND
from loomwright.trace.form_words import form_words
from loomwright.trace.model import Advice, Group, Outcome, Question, Ranking
from loomwright.trace.shortlist import Shortlist, shortlist_of, words_shown

if TYPE_CHECKING:
    from loomwright.trace.engine import Trace

SURE: Final = 0.75
"""Belief in one group from which it is repaired rather than asked on."""

SURE_PLACE: Final = 0.9
"""Belief in one kind of place at one circuit from which looking there is the next step."""

LITTLE_BIT: Final = 0.03
"""Information under which a question is not worth asking. [bit]"""

SHOWN: Final = 5
MEANINGS: Final = 2

RIVAL: Final = 1 / 3
"""Share of the likeliest from which the second meaning of an answer is told."""

WATCH: Final = (
    "Two faults at once are usual, and a short may have taken a fuse or an output with it: run "
    "the whole light check again after the repair."
)


def advise(
    trace: Trace, ranking: Ranking, tools: Sequence[str] = AT_HAND, shown: int = SHOWN
) -> Advice:
    """Return what to do next: the questions that tell most for their effort, or the repair.

    Parameters
    ----------
    trace : Trace
        What it rests on.
    ranking : Ranking
        After the observations so far.
    tools : sequence of str
        What is at hand: eye, meter, helper, other vehicle, bench supply, load box.
    shown : int
        How many questions to return.
    """
    belief = trace.believe(ranking.observations)
    shortlist = shortlist_of(belief, trace.groups)
    asked = list(questions_of(shortlist, ranking.observations, tuple(tools)))
    bits = [shortlist.information_bit(each.outcomes) for each in asked]
    order = sorted(range(len(asked)), key=lambda n: -bits[n] / asked[n].minutes)
    worth = [n for n in order if bits[n] >= LITTLE_BIT][:shown]
    questions = tuple(_question(trace, shortlist, asked[n], bits[n]) for n in worth)
    best = _sure(ranking, bool(questions))
    if best is None or not ranking.observations:
        return Advice(questions)
    return Advice(questions, best, _retest(trace, best, belief), WATCH)


def _sure(ranking: Ranking, asks: bool) -> Group | None:
    """The group that is sure enough to repair, if one is."""
    best = ranking.groups[0] if ranking.groups else None
    if best is None or best.probability < max(ranking.none, ranking.normal):
        return None
    if best.probability >= SURE:
        return best
    same = sum(
        g.probability
        for g in ranking.groups
        if (g.side, g.place, g.circuit) == (best.side, best.place, best.circuit)
    )
    if same >= SURE_PLACE:
        return best
    return best if not asks and best.probability >= 0.4 else None


def _question(trace: Trace, shortlist: Shortlist, asked: Asked, bit: float) -> Question:
    chances = shortlist.share @ asked.outcomes
    order = np.argsort(-chances).tolist()
    outcomes = tuple(
        Outcome(
            asked.answers[n][0],
            float(chances[n]),
            _meanings(trace, shortlist, asked, n),
            asked.answers[n][1],
        )
        for n in order
        if chances[n] > 0.01
    )
    return Question(
        asked.key,
        asked.says,
        asked.command,
        asked.minutes,
        bit,
        asked.needs,
        outcomes,
        asked.caution,
    )


def _meanings(trace: Trace, shortlist: Shortlist, asked: Asked, outcome: int) -> tuple[str, ...]:
    """What an answer would mean: the likeliest groups after it."""
    after = shortlist.share * asked.outcomes[:, outcome]
    after = after / max(float(after.sum()), 1e-300)
    if asked.splits:
        return _sides(trace, shortlist, after)
    share = np.bincount(shortlist.group, after, shortlist.count)
    told = []
    best = float(share.max())
    for n in np.argsort(-share)[:MEANINGS].tolist():
        if share[n] < RIVAL * best:
            break
        if n < len(trace.groups.faults):
            fault = trace.groups.faults[n]
            words = f"{fault.part}: {form_words(fault.place, fault.form)}"
        else:
            words = "nothing wrong"
        told.append(f"{words} ({share[n]:.0%})")
    return tuple(told)


def _sides(trace: Trace, shortlist: Shortlist, after: np.ndarray) -> tuple[str, ...]:
    sides: dict[str, float] = {}
    for n, share in zip(shortlist.group.tolist(), after.tolist(), strict=True):
        if n < len(trace.groups.faults):
            side = trace.groups.faults[n].side
            sides[side] = sides.get(side, 0.0) + share
    ranked = sorted(sides.items(), key=lambda each: -each[1])
    return tuple(f"{side} ({share:.0%})" for side, share in ranked[:MEANINGS])


def _retest(trace: Trace, group: Group, belief: Belief) -> tuple[str, ...]:
    """Commands that showed the fault, and what they must show afterwards."""
    shortlist = shortlist_of(belief, trace.groups)
    hypotheses = shortlist.hypotheses
    numbers = [n for n, f in enumerate(hypotheses.faults) if f.key == group.best.fault.key]
    if not numbers:
        return ("every command, every lamp",)
    at = np.flatnonzero(hypotheses.first[shortlist.number] == numbers[0])
    if not len(at):
        return ("every command, every lamp",)
    words, bench = words_shown(shortlist), hypotheses.field.bench
    differs = (words[1 + int(at[0])] != words[0]).any(axis=1)
    keys = [
        command.title
        for command, shows in zip(bench.commands, differs.tolist(), strict=True)
        if shows and command.key not in ("still", "all")
    ]
    return (*(f"{title}: as it should be" for title in keys[:4]), "then the whole light check")
