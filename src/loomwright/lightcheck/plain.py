"""A plan and its answers as plain values: for JSON, for a store, for a page; and back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing, Step
from loomwright.observations import observation as seen
from loomwright.observations.observation import Quantity
from loomwright.observations.place import Place, PlaceKind
from loomwright.observations.word import Word

Plain = dict[str, Any]


def plan_to_plain(plan: Plan) -> Plain:
    """Return a plan as plain values."""
    return {
        "rig": plan.rig,
        "tester": plan.tester,
        "people": plan.people,
        "walks": plan.walks,
        "cautions": list(plan.cautions),
        "not_tested": list(plan.not_tested),
        "steps": [_step_to_plain(step) for step in plan.steps],
    }


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
        return Plan(
            rig=given["rig"],
            tester=given["tester"],
            people=given["people"],
            steps=tuple(_step_from_plain(step) for step in given["steps"]),
            walks=given["walks"],
            cautions=tuple(given["cautions"]),
            not_tested=tuple(given["not_tested"]),
        )
    except (KeyError, TypeError, ValueError) as unusable:
        raise InvalidInput("plan", str(unusable), "give a plan as it was written") from unusable


def expectation_to_plain(expectation: Expectation) -> Plain:
    """Return an expectation as plain values; what it does not say is left out."""
    place = expectation.place
    said: Plain = {
        "key": expectation.key,
        "place": {
            name: value
            for name, value in (
                ("kind", str(place.kind)),
                ("name", place.name),
                ("pin", place.pin),
                ("other", place.other),
            )
            if value
        },
        "title": expectation.title,
        "quantity": str(expectation.quantity),
        "words": [str(word) for word in expectation.words],
        "plugged": expectation.plugged,
        "why": expectation.why,
    }
    numbers = (("low", expectation.low), ("nominal", expectation.nominal))
    for name, value in (*numbers, ("high", expectation.high)):
        if value is not None:
            said[name] = value
    return said


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


def _step_to_plain(step: Step) -> Plain:
    return {
        "key": step.key,
        "command": step.command,
        "hold": step.hold,
        "stays": step.stays,
        "at": step.at,
        "caution": step.caution,
        "expectations": [expectation_to_plain(each) for each in step.expectations],
    }


def _step_from_plain(given: Mapping[str, Any]) -> Step:
    return Step(
        key=given["key"],
        command=given["command"],
        hold=given["hold"],
        stays=given["stays"],
        at=given["at"],
        expectations=_expectations(given["expectations"]),
        caution=given["caution"],
    )


def _expectations(given: Sequence[Mapping[str, Any]]) -> tuple[Expectation, ...]:
    return tuple(
        Expectation(
            key=each["key"],
            place=_place(each["place"]),
            title=each["title"],
            quantity=Quantity(each["quantity"]),
            words=tuple(Word(word) for word in each["words"]),
            low=each.get("low"),
            nominal=each.get("nominal"),
            high=each.get("high"),
            plugged=each["plugged"],
            why=each["why"],
        )
        for each in given
    )


def _place(given: Mapping[str, Any]) -> Place:
    return Place(
        PlaceKind(given["kind"]),
        given.get("name", ""),
        given.get("pin", ""),
        given.get("other", ""),
    )
