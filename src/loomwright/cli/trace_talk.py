"""Tracing as a conversation on a terminal: what do you see; what it may be; what to look at."""

from __future__ import annotations

import sys

from loomwright.cli.codes import DONE, TO_MEND
from loomwright.cli.complaints import show_complaints
from loomwright.cli.paint import Page
from loomwright.cli.trace_view import show_advice, show_ranked
from loomwright.invalid import InvalidInput, complaints_in
from loomwright.observations.observation import Observation
from loomwright.rig.model import Rig
from loomwright.trace.engine import Trace
from loomwright.trace.model import Advice
from loomwright.trace.phrases import read_phrase

HOW = (
    "Say what you see, a command first: park+left: left rear dark, right rear normal. "
    "Readings as well: park: pin 3 9.6 V. A number answers the question above; "
    "back takes the last one back; an empty line ends."
)


def talk(trace: Trace, rig: Rig, tools: tuple[str, ...]) -> int:
    """Ask and answer until an empty line, or the end of the input.

    Parameters
    ----------
    trace : Trace
        Everything that may be wrong.
    rig : Rig
        The rig.
    tools : tuple of str
        What is at hand.
    """
    page, told = Page(), list[tuple[Observation, ...]]()
    page.head(rig.name)
    page.line("What does it do, or not do?")
    page.line(HOW, "quiet")
    advice = Advice(())
    while line := _ask():
        if line == "back":
            told[-1:] = []
        else:
            said = _said(line, advice, rig)
            if said is None:
                continue
            told.append(said)
        ranking = trace.rank([o for each in told for o in each])
        advice = trace.advise(ranking, tools)
        page.line()
        show_ranked(page, ranking)
        show_advice(page, advice)
        _show_numbers(page, advice)
    return TO_MEND if advice.repair is not None else DONE


def _ask() -> str:
    if sys.stdin.isatty():
        print("> ", end="", flush=True)
    return sys.stdin.readline().strip()


def _said(line: str, advice: Advice, rig: Rig) -> tuple[Observation, ...] | None:
    """What a line means; None, with a complaint, if nothing."""
    if line.isdigit() and advice.questions:
        outcomes = advice.questions[0].outcomes
        number = int(line)
        if 1 <= number <= len(outcomes) and (known := outcomes[number - 1].observations):
            return known
        show_complaints([InvalidInput("answer", line, "say in words what you see")])
        return None
    try:
        return read_phrase(line, rig)
    except (InvalidInput, ExceptionGroup) as problem:
        show_complaints(complaints_in(problem))
        return None


def _show_numbers(page: Page, advice: Advice) -> None:
    if not advice.questions:
        return
    answers = [
        f"{n} {outcome.says}"
        for n, outcome in enumerate(advice.questions[0].outcomes, start=1)
        if outcome.observations
    ]
    if answers:
        page.line("Answer with: " + "; ".join(answers), "quiet")
