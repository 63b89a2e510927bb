"""The report of `lightcheck`: the plan, what was seen, and how it stands."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from loomwright.lightcheck.judging import counts
from loomwright.lightcheck.model import Answer, Expectation, Plan, Step
from loomwright.observations.observation import to_plain
from loomwright.reports.plain import VERSION, Plain, plain, reading

LIGHTCHECK_FORMAT: Final = "loomwright/lightcheck"


def lightcheck_report(
    plan: Plan, answers: Sequence[Answer] = (), file: str = ""
) -> dict[str, Plain]:
    """Return a light check as plain values.

    Parameters
    ----------
    plan : Plan
        What is held and what must be seen.
    answers : sequence of Answer
        What was seen and how it stands; none for a plan alone.
    file : str
        Name of the job file.
    """
    found = counts(answers)
    return {
        "format": LIGHTCHECK_FORMAT,
        "version": VERSION,
        "file": file,
        "rig": plan.rig,
        "tester": plan.tester,
        "people": plan.people,
        "walks": plan.walks,
        "cautions": list(plan.cautions),
        "not_tested": list(plan.not_tested),
        "steps": [_step(each) for each in plan.steps],
        "answers": [_answer(each) for each in answers if each.observation is not None],
        "counts": {str(standing): number for standing, number in found.items()},
    }


def _step(step: Step) -> dict[str, Plain]:
    return {
        "key": step.key,
        "command": step.command,
        "hold": step.hold,
        "stays": step.stays,
        "at": step.at,
        "caution": step.caution,
        "walks": step.walks,
        "expectations": [_expectation(each) for each in step.expectations],
    }


def _expectation(each: Expectation) -> dict[str, Plain]:
    unit = {"V": "_v", "A": "_a", "ohm": "_ohm"}.get(str(each.quantity), "")
    band: dict[str, Plain] = {}
    if unit:
        numbers = ("least", "low", "nominal", "high", "most")
        band = {f"{name}{unit}": reading(getattr(each, name)) for name in numbers}
    return {
        "key": each.key,
        "title": each.title,
        "place": plain(each.place),
        "quantity": str(each.quantity),
        "tester": each.tester,
        "at": each.at,
        "plugged": each.plugged,
        "words": [str(word) for word in each.words],
        "doubtful": [str(word) for word in each.doubtful],
        **band,
        "count": each.count,
        "why": each.why,
        "note": each.note,
    }


def _answer(answer: Answer) -> dict[str, Plain]:
    seen = answer.observation
    return {
        "expectation": answer.expectation.key,
        "observation": None if seen is None else to_plain(seen),
        "standing": str(answer.standing),
        "says": answer.says,
    }
