"""`judge`: how an answer stands to what was expected, and what a wrong one suggests."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final, Literal

from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing
from loomwright.lightcheck.neighbours import with_neighbours
from loomwright.lightcheck.suggesting import suggest
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.word import Word
from loomwright.reference.testers import find_tester

LIT: Final = (Word.NORMAL, Word.BRIGHT, Word.ON)
STANDS: Final = {
    Standing.USUAL: "normal for this vehicle",
    Standing.DOUBTFUL: "this tester cannot tell; try another",
}


def judge(
    expectation: Expectation, observation: Observation, usual: Iterable[Observation] = ()
) -> Answer:
    """Return how an observation stands to what was expected, and what it suggests.

    Parameters
    ----------
    expectation : Expectation
        What must be seen or read.
    observation : Observation
        What was.
    usual : iterable of Observation
        What has been found normal for this vehicle.

    Raises
    ------
    InvalidInput
        If a word was given for a number, or a number of another quantity.
    """
    if observation.quantity is not expectation.quantity and observation.word not in NO_READING:
        said = observation.word or observation.value
        fix = f"give it in {expectation.quantity}" if expectation.low is not None else "give a word"
        raise InvalidInput("quantity", said, f"{fix}: {expectation.title}")
    standing = _standing(expectation, observation)
    if standing in (Standing.WRONG, Standing.DOUBTFUL) and _is_usual(observation, usual):
        standing = Standing.USUAL
    says = "" if standing is Standing.RIGHT else _says(expectation, observation, standing)
    return Answer(expectation, observation, standing, says)


NO_READING: Final = (Word.AS_USUAL, Word.NOT_SEEN)


def judge_all(
    plan: Plan, observations: Iterable[Observation], usual: Iterable[Observation] = ()
) -> tuple[Answer, ...]:
    """Return an answer to everything a plan expects, each seen together with its neighbours.

    Parameters
    ----------
    plan : Plan
        The plan.
    observations : iterable of Observation
        What was seen and read, in any order; of two at one place the later holds.
    usual : iterable of Observation
        What has been found normal for this vehicle.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for readings of the wrong quantity.
    """
    known = tuple(usual)
    given = {_where(each): each for each in observations}
    problems, answers = [], []
    for step in plan.steps:
        for each in step.expectations:
            observation = given.get(where_of(each))
            try:
                answers.append(
                    Answer(each, None, Standing.NOT_TESTED)
                    if observation is None
                    else judge(each, observation, known)
                )
            except InvalidInput as problem:
                problems.append(problem)
    if problems:
        raise ExceptionGroup("observations", problems)
    return with_neighbours(answers)


def observe(expectation: Expectation, said: Word | float, note: str = "") -> Observation:
    """Return the observation that answers an expectation, in the form tracing needs.

    Parameters
    ----------
    expectation : Expectation
        What was looked at.
    said : Word or float
        What was seen, or read in the unit of the expectation.
    note : str
        Anything else.
    """
    made = Observation(
        expectation.command,
        expectation.place,
        Quantity.SEEN,
        Word.NOT_SEEN,
        tester=expectation.tester,
        plugged=expectation.plugged,
        note=note,
    )
    if isinstance(said, Word):
        return replace(made, word=said)
    return replace(made, quantity=expectation.quantity, word=None, value=float(said))


def remembered(answers: Iterable[Answer]) -> tuple[Observation, ...]:
    """Return what was found normal for this vehicle, to be kept with its wire map."""
    return tuple(
        each.observation
        for each in answers
        if each.standing is Standing.USUAL and each.observation is not None
    )


def for_tracing(answers: Iterable[Answer]) -> tuple[Observation, ...]:
    """Return every observation that says something: the right ones clear what they passed.

    Tracing takes a pin with the plug out as bare. So what a load box read there is left out where
    it was right: with nothing on the pin, those volts would be low.
    """
    told = (Standing.RIGHT, Standing.WRONG, Standing.DOUBTFUL)
    return tuple(
        each.observation
        for each in answers
        if each.standing in told
        and each.observation is not None
        and not (each.standing is not Standing.WRONG and _is_loaded(each.observation))
    )


def _is_loaded(observation: Observation) -> bool:
    is_box = observation.tester == "load-box" and observation.value is not None
    return is_box and not observation.plugged


def counts(answers: Sequence[Answer]) -> dict[Standing, int]:
    """Return how many answers stand how."""
    return {each: sum(1 for answer in answers if answer.standing is each) for each in Standing}


Where = tuple[object, ...]


def where_of(expectation: Expectation) -> Where:
    """Return what tells one place of a plan from another, whatever is seen there."""
    return (
        expectation.command,
        expectation.place,
        expectation.tester,
        expectation.plugged,
        expectation.quantity is Quantity.AMPS,
    )


def _where(observation: Observation) -> Where:
    amps = observation.quantity is Quantity.AMPS or (
        observation.word in NO_READING and observation.tester == "clamp"
    )
    return (
        observation.command,
        observation.place,
        observation.tester,
        observation.plugged,
        amps,
    )


def _standing(expectation: Expectation, observation: Observation) -> Standing:
    word = observation.word
    if word is Word.AS_USUAL:
        return Standing.USUAL
    if word is Word.NOT_SEEN:
        return Standing.NOT_TESTED
    if observation.value is not None:
        return _of_number(expectation, observation.value)
    if word in expectation.words or (word is Word.ON and set(expectation.words) & set(LIT)):
        return Standing.RIGHT
    return Standing.DOUBTFUL if word in expectation.doubtful else Standing.WRONG


def _of_number(expectation: Expectation, value: float) -> Standing:
    def within(low: float | None, high: float | None) -> bool:
        return (low is None or value >= low) and (high is None or value <= high)

    if within(expectation.low, expectation.high):
        return Standing.RIGHT
    grazed = within(
        expectation.low if expectation.least is None else expectation.least,
        expectation.high if expectation.most is None else expectation.most,
    )
    return Standing.DOUBTFUL if grazed else Standing.WRONG


def _is_usual(observation: Observation, usual: Iterable[Observation]) -> bool:
    return any(_is_the_same(observation, each) for each in usual)


def _is_the_same(one: Observation, other: Observation) -> bool:
    if _where(one) != _where(other) or one.word is not other.word:
        return False
    if one.value is None or other.value is None:
        return one.value is other.value
    unit: Literal["V", "A"] = "A" if one.quantity is Quantity.AMPS else "V"
    try:
        off = find_tester(one.tester).off_by(other.value, unit)
    except InvalidInput:
        off = 0.0
    return abs(one.value - other.value) <= max(2.0 * off, 0.1)


def _says(expectation: Expectation, observation: Observation, standing: Standing) -> str:
    if standing is Standing.NOT_TESTED:
        return ""
    if standing is Standing.USUAL:
        return STANDS[standing]
    suggested = suggest(expectation, observation)
    if standing is Standing.DOUBTFUL:
        if observation.value is not None:
            return f"at the edge of what healthy rigs read; {suggested}"
        return expectation.note or f"{STANDS[standing]}: {expectation.why}"
    return suggested
