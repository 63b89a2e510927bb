"""A light check as text: the plan to go by, and what was seen beside what must be."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Final

from loomwright.lightcheck.judging import counts
from loomwright.lightcheck.model import Answer, Expectation, Plan, Standing, Step
from loomwright.observations.observation import Quantity

WIDTH: Final = 80
MARKS: Final = {
    Standing.RIGHT: "right",
    Standing.USUAL: "usual",
    Standing.DOUBTFUL: "doubtful",
    Standing.WRONG: "WRONG",
    Standing.NOT_TESTED: "not tested",
}


def wanted_text(each: Expectation) -> str:
    """Return what must be seen or read: "flashing", "11.7 to 12.4 V"."""
    if each.quantity is Quantity.SEEN:
        return " or ".join(each.words)
    if each.is_dark:
        return f"none, under {each.high or 0.0:.1f} {each.quantity}"
    if each.low is not None and each.low <= 0.0 < (each.high or 0.0):
        return f"at most {each.high:.2f} {each.quantity}"
    return f"{each.low:.2f} to {each.high:.2f} {each.quantity}"


def seen_text(answer: Answer) -> str:
    """Return what was seen or read."""
    seen = answer.observation
    if seen is None:
        return "not looked at"
    if seen.value is not None:
        return f"{seen.value:g} {seen.quantity}"
    return str(seen.word)


def plan_text(plan: Plan) -> str:
    """Return a plan as text, step by step.

    Parameters
    ----------
    plan : Plan
        The plan.
    """
    out = io.StringIO()
    print(f"{plan.rig}: light check with {plan.tester.replace('+', ', ')}", file=out)
    walks = f", {plan.walks} walks between cab and rear" if plan.people == 1 else ""
    people = "one person" if plan.people == 1 else "two people"
    print(f"{len(plan.steps)} steps, {people}{walks}", file=out)
    _list(out, "CAUTION", plan.cautions)
    for number, step in enumerate(plan.steps, start=1):
        _step(out, number, step, walks_text(plan, step))
    _list(out, "Not tested", plan.not_tested)
    return out.getvalue()


def walks_text(plan: Plan, step: Step) -> str:
    """Return the walks of a step among those of the plan; empty where two work together.

    Parameters
    ----------
    plan : Plan
        The plan.
    step : Step
        One of its steps.
    """
    found = plan.walks_at(step)
    return "" if found is None else f"Walks: {found.done} done, {found.now} now, {found.left} left."


def _step(out: io.StringIO, number: int, step: Step, walks: str) -> None:
    print(file=out)
    _wrapped(out, f"{number}. {step.hold}", "   ")
    if walks:
        print(f"   {walks}", file=out)
    if step.caution:
        _wrapped(out, f"   CAUTION: {step.caution}", "   ")
    for line in step_lines(step):
        _wrapped(out, line, "       ")


def step_lines(step: Step) -> Iterator[str]:
    """Lines of one step: what must be seen, plug out and plug in, and that the rest is dark."""
    for plugged in (False, True):
        lit = [each for each in step.lit if each.plugged == plugged]
        dark = [each for each in step.dark if each.plugged == plugged]
        if lit or dark:
            yield f"   plug {'in' if plugged else 'out'}:"
        for each in lit:
            yield f"     {each.title}: {wanted_text(each)}"
        if dark:
            rest = "all others" if lit else "all"
            yield f"     {rest}: off ({len(dark)} places)"
        for note in dict.fromkeys(each.note for each in (*lit, *dark) if each.note):
            yield f"     Note: {note}."


def answers_text(plan: Plan, answers: Sequence[Answer]) -> str:
    """Return what was seen, the wrong ones first, and how much was not.

    Parameters
    ----------
    plan : Plan
        The plan.
    answers : sequence of Answer
        Its answers.
    """
    out = io.StringIO()
    found = counts(answers)
    said = ", ".join(f"{number} {MARKS[each]}" for each, number in found.items() if number)
    print(f"{plan.rig}: light check with {plan.tester.replace('+', ', ')}", file=out)
    print(said, file=out)
    for standing in (Standing.WRONG, Standing.DOUBTFUL, Standing.USUAL):
        for each in answers:
            if each.standing is standing:
                _answer(out, each)
    if not found[Standing.WRONG]:
        print("\nNothing that was looked at is wrong.", file=out)
    _list(out, "Not tested", plan.not_tested)
    return out.getvalue()


def _answer(out: io.StringIO, answer: Answer) -> None:
    mine = answer.expectation
    plug = "in" if mine.plugged else "out"
    print(file=out)
    _wrapped(out, f"{MARKS[answer.standing]}: {mine.title}, {_said(mine.command)}", "   ")
    print(f"   seen {seen_text(answer)}, must be {wanted_text(mine)}; plug {plug}", file=out)
    if answer.says:
        _wrapped(out, f"   {answer.says}", "   ")


def _said(command: str) -> str:
    return command.replace("_", " ").replace("+", " and ")


def _list(out: io.StringIO, head: str, lines: Sequence[str]) -> None:
    if lines:
        print(f"\n{head}", file=out)
        for each in lines:
            _wrapped(out, f"  - {each}", "    ")


def _wrapped(out: io.StringIO, text: str, indent: str) -> None:
    for line in wrap(text, WIDTH, subsequent_indent=indent, break_on_hyphens=False):
        print(line, file=out)
