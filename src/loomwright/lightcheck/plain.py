"""A plan and its answers as plain values: for JSON, for a store, for a page; and back.

What says the same as its default is left out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import StrEnum
from typing import Any, TypeVar

from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing, Step
from loomwright.observations import observation as seen
from loomwright.observations.observation import Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word

Plain = dict[str, Any]
Value = TypeVar("Value")


def plan_to_plain(plan: Plan) -> Plain:
    """Return a plan as plain values."""
    said: Plain = _plain(plan)
    return said


def expectation_to_plain(expectation: Expectation) -> Plain:
    """Return an expectation as plain values."""
    said: Plain = _plain(expectation)
    return said


def plan_from_plain(given: Mapping[str, Any]) -> Plan:
    """Return the plan that plain values describe.

    Parameters
    ----------
    given : mapping
        As `plan_to_plain` makes it.

    Raises
    ------
    InvalidInput
        If it is something else.
    """
    try:
        return _made(Plan, given)
    except (AttributeError, KeyError, TypeError, ValueError) as unusable:
        raise InvalidInput("plan", str(unusable), "give a plan as it was written") from unusable


def answer_to_plain(answer: Answer) -> Plain:
    """Return an answer as plain values; its expectation by its key."""
    observation = answer.observation
    return {
        "expectation": answer.expectation.key,
        "observation": None if observation is None else seen.to_plain(observation),
        "standing": str(answer.standing),
        "says": answer.says,
    }


def answer_from_plain(given: Mapping[str, Any], plan: Plan) -> Answer:
    """Return the answer that plain values describe.

    Parameters
    ----------
    given : mapping
        As `answer_to_plain` makes it.
    plan : Plan
        The plan that has its expectation.

    Raises
    ------
    InvalidInput
        If the plan has no such expectation, or the standing is none.
    ExceptionGroup
        Of `InvalidInput`, if the observation cannot be used.
    """
    observation = given.get("observation")
    key, standing = given.get("expectation"), given.get("standing")
    try:
        expectation = plan.expectation(str(key))
    except KeyError:
        raise InvalidInput("expectation", key, "name an expectation of the plan") from None
    try:
        stands = Standing(str(standing))
    except ValueError:
        raise InvalidInput("standing", standing, f"use one of {', '.join(Standing)}") from None
    return Answer(
        expectation,
        None if observation is None else seen.from_plain(observation),
        stands,
        str(given.get("says", "")),
    )


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        said = {each.name: getattr(value, each.name) for each in fields(value)}
        usual = {each.name: _usual(each) for each in fields(value)}
        return {name: _plain(each) for name, each in said.items() if each != usual[name]}
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    return str(value) if isinstance(value, StrEnum) else value


def _usual(field: Field[Any]) -> object:
    return field.default if field.default_factory is MISSING else field.default_factory()


def _made(kind: Callable[..., Value], given: Mapping[str, Any]) -> Value:
    """Return a value of a kind from its fields; what is not named there is a `TypeError`."""
    return kind(**{name: READS.get(name, _as_it_is)(value) for name, value in given.items()})


def _as_it_is(value: object) -> object:
    return tuple(value) if isinstance(value, list) else value


def _words(given: list[str]) -> tuple[Word, ...]:
    return tuple(Word(each) for each in given)


READS: Mapping[str, Callable[[Any], object]] = {
    "steps": lambda given: tuple(_made(Step, each) for each in given),
    "expectations": lambda given: tuple(_made(Expectation, each) for each in given),
    "place": lambda given: _made(Place, given),
    "kind": PlaceKind,
    "quantity": Quantity,
    "words": _words,
    "doubtful": _words,
}
"""How the fields are read that are not a text, a number or a list of texts."""
