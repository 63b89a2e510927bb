"""What answers say: judged against the plan, what is normal for the vehicle, and each other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from loomwright.lightcheck.model import Answer, Expectation, Plan
from loomwright.observations.observation import Observation
from loomwright.store.checks_usual import UsualReading
from loomwright.store.checks_values import KeptAnswer


def judged(
    expectation: Expectation, observation: Observation, usual: Sequence[UsualReading]
) -> Answer:
    """Return the answer to an expectation.

    Parameters
    ----------
    expectation : Expectation
        What must be seen or read.
    observation : Observation
        What was.
    usual : sequence of UsualReading
        What is normal for this vehicle: it explains what would be wrong elsewhere.

    Raises
    ------
    InvalidInput
        If a word was given for a number.
    """
    from loomwright.lightcheck.judging import judge

    return judge(expectation, observation, [each.observation for each in usual])


def together(
    answers: Iterable[Answer], plan: Plan, kept: Mapping[str, KeptAnswer]
) -> tuple[Answer, ...]:
    """Return new answers with what they say beside the others of their step.

    Parameters
    ----------
    answers : iterable of Answer
        The new ones.
    plan : Plan
        Whose expectations they answer.
    kept : mapping of str to KeptAnswer
        What was answered before.
    """
    from loomwright.lightcheck.neighbours import with_neighbours

    new = {each.expectation.key: each for each in answers}
    known = {key: each.answer for key, each in kept.items()}
    every = known | new
    around = [
        every[each.key]
        for step in plan.steps
        for each in step.expectations
        if each.key in every and not {one.key for one in step.expectations}.isdisjoint(new)
    ]
    told = {each.expectation.key: each.says for each in with_neighbours(around)}
    return tuple(replace(each, says=told[key]) for key, each in new.items())
