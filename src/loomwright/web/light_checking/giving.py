"""What a device sends, read into answers: every entry that cannot be used is named at once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from loomwright.invalid import InvalidInput, raise_all
from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing
from loomwright.observations.observation import Observation, Quantity
from loomwright.observations.word import Word
from loomwright.store.checks_usual import UsualReading
from loomwright.web.light_checking.judging import judged


@dataclass(frozen=True, slots=True)
class Said:
    """One answer as it was sent: a word, a number, or that it was not tested.

    `usual` says that it is normal for this vehicle.
    """

    expectation: str
    word: str | None = None
    value: float | None = None
    not_tested: bool = False
    usual: bool = False
    note: str = ""


def answers_of(
    said: Iterable[Said], plan: Plan, usual: Sequence[UsualReading]
) -> tuple[Answer, ...]:
    """Return what was sent as answers.

    Parameters
    ----------
    said : iterable of Said
        What was sent.
    plan : Plan
        The plan it answers.
    usual : sequence of UsualReading
        What is normal for the vehicle.

    Raises
    ------
    ExceptionGroup
        Holding an `InvalidInput` for every entry that cannot be used.
    """
    problems: list[InvalidInput] = []
    answers: list[Answer] = []
    for number, each in enumerate(said):
        try:
            answers.append(_answer(each, plan, usual))
        except InvalidInput as problem:
            problems.append(problem.at(f"answers[{number}].{problem.field}"))
    raise_all(problems, "answers")
    return tuple(answers)


def all_expected(expectations: Iterable[Expectation]) -> tuple[Said, ...]:
    """Return that all that can be seen is as it must be: words only, never a number."""
    return tuple(
        Said(each.key, word=str(each.words[0]))
        for each in expectations
        if each.quantity is Quantity.SEEN and each.words
    )


def all_dead(expectations: Iterable[Expectation]) -> tuple[Said, ...]:
    """Return that there is nothing where nothing must be."""
    return tuple(
        Said(each.key, value=0.0, note="all dead pins answered together")
        for each in expectations
        if each.is_dark and each.quantity is not Quantity.SEEN
    )


@dataclass(frozen=True, slots=True)
class Pressed:
    """What the form of a step says, of which one button was pressed.

    Attributes
    ----------
    answer : str
        Key of an expectation and a word: ``left=off``.
    all_of : str
        ``seen`` or ``dead``: everything of a kind is as it must be.
    number_of : str
        The expectation whose number is kept.
    values : mapping of str to str
        What was typed, by expectation.
    """

    answer: str = ""
    all_of: str = ""
    number_of: str = ""
    values: Mapping[str, str] = field(default_factory=dict)


def pressed(expectations: Sequence[Expectation], form: Pressed) -> tuple[Said, ...]:
    """Return the answers of a form."""
    if form.all_of:
        every = all_expected if form.all_of == "seen" else all_dead
        return every(expectations)
    if form.number_of:
        return (Said(form.number_of, value=number(form.values.get(form.number_of, ""))),)
    key, _, word = form.answer.partition("=")
    if not key:
        return ()
    if word == "not tested":
        return (Said(key, not_tested=True),)
    is_number = any(each.key == key and each.quantity is not Quantity.SEEN for each in expectations)
    return (Said(key, value=number(word)) if is_number else Said(key, word=word),)


def number(text: str) -> float | None:
    """Return a number as it is typed, with point or comma; None if it is none."""
    try:
        return float(text.replace(",", ".").strip())
    except ValueError:
        return None


def _answer(said: Said, plan: Plan, usual: Sequence[UsualReading]) -> Answer:
    try:
        expectation = plan.expectation(said.expectation)
    except KeyError:
        fix = "name an expectation of the plan"
        raise InvalidInput("expectation", said.expectation, fix) from None
    if said.not_tested:
        return Answer(expectation, None, Standing.NOT_TESTED, said.note)
    answer = judged(expectation, _observation(said, expectation, plan), usual)
    return replace(answer, standing=Standing.USUAL) if said.usual else answer


def _observation(said: Said, expectation: Expectation, plan: Plan) -> Observation:
    if expectation.quantity is Quantity.SEEN:
        word, value = _word(said.word), None
    else:
        word, value = None, said.value
        if value is None or not math.isfinite(value) or abs(value) > 1000.0:
            fix = f"give the reading in {expectation.quantity}, such as 12.4"
            raise InvalidInput("value", said.value, fix)
    return Observation(
        command=expectation.command or command_of(expectation.key, plan),
        place=expectation.place,
        quantity=expectation.quantity,
        word=word,
        value=value,
        tester=expectation.tester,
        plugged=expectation.plugged,
        note=said.note,
    )


def _word(said: str | None) -> Word:
    for word in Word:
        if word == said:
            return word
    raise InvalidInput("word", said, "use one of " + ", ".join(Word))


def command_of(key: str, plan: Plan) -> str:
    """Return the command of the step that has an expectation."""
    steps = (step for step in plan.steps for each in step.expectations if each.key == key)
    return next(step.command for step in steps)
