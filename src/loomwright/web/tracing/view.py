"""What the trace screen shows: what was said, what it may be, the way of the current, what next."""

from __future__ import annotations

import json
from dataclasses import dataclass

from markupsafe import Markup

from loomwright.checks.rule import Severity
from loomwright.drawing.folded import folded_circuits
from loomwright.drawing.run import run_drawing
from loomwright.drawing.run_plan import row_of
from loomwright.electrics.wiring import wire_up
from loomwright.observations.observation import Observation, to_plain
from loomwright.rig.model import Rig
from loomwright.trace.model import Advice, Group, Question, Ranking
from loomwright.trace.shown import elements_at, faulted_answer, is_drawn

MOST_SUSPECTS = 5
MOST_REASONS = 6
LEAST_SHOWN = 0.01
SURE = ((0.95, "nearly sure"), (0.7, "likely"), (0.35, "quite possible"), (0.1, "possible"))
UNSURE = "not ruled out"


@dataclass(frozen=True, slots=True)
class AnswerChoice:
    """One answer to a question: its words, what it would mean, and itself as a value of a form."""

    says: str
    share: str
    means: tuple[str, ...]
    value: str


@dataclass(frozen=True, slots=True)
class Asked:
    """A question with its answers."""

    question: Question
    minutes: str
    answers: tuple[AnswerChoice, ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """The run with the likeliest fault in it under the command that shows it."""

    title: str
    says: str
    wide: Markup
    folded: tuple[tuple[str, Markup], ...]


@dataclass(frozen=True, slots=True)
class TraceView:
    """The whole answer."""

    ranking: Ranking
    advice: Advice
    suspects: tuple[Group, ...]
    asked: tuple[Asked, ...]
    drawn: Drawn | None
    sides: tuple[tuple[str, float], ...]


def trace_view(rig: Rig, ranking: Ranking, advice: Advice) -> TraceView:
    """Return what the screen shows of a ranking.

    Parameters
    ----------
    rig : Rig
        The rig.
    ranking : Ranking
        What it may be.
    advice : Advice
        What to do next.
    """
    shown = [group for group in ranking.groups[:MOST_SUSPECTS] if group.probability >= LEAST_SHOWN]
    sides = sorted(ranking.by_side.items(), key=lambda each: -each[1])
    return TraceView(
        ranking,
        advice,
        tuple(shown),
        tuple(_asked(question) for question in advice.questions),
        _drawn(rig, shown[0]) if shown and ranking.observations else None,
        tuple(sides),
    )


def how_sure(probability: float) -> str:
    """Return in words how much is believed."""
    return next((word for least, word in SURE if probability >= least), UNSURE)


def percent(probability: float) -> str:
    """Return a probability as people say it: never quite 0 or 100."""
    if probability > 0.99:
        return "over 99\u00a0%"
    return f"{100 * probability:.0f}\u00a0%" if probability >= 0.01 else "under 1\u00a0%"


def _asked(question: Question) -> Asked:
    answers = tuple(
        AnswerChoice(
            each.says, percent(each.probability), each.means, value_of_observation(each.observation)
        )
        for each in question.outcomes
        if each.observation is not None
    )
    minutes = f"{question.minutes:.0f} min" if question.minutes >= 1 else "half a minute"
    return Asked(question, minutes, answers)


def value_of_observation(observation: Observation) -> str:
    """Return an observation as one value of a form."""
    return json.dumps(to_plain(observation), sort_keys=True)


def _drawn(rig: Rig, group: Group) -> Drawn | None:
    flow, fault = group.flow, group.best.fault
    if flow is None or not is_drawn(rig, fault):
        return None
    read = faulted_answer(rig, fault, flow.command)
    parts = wire_up(rig).parts
    marks = [
        (part.station, part.function, "fault", str(Severity.MUST), part.element)
        for name in elements_at(fault)
        if (part := parts.get(name)) is not None
    ][:1]
    marks += [
        (part.station, part.function, "wrong way", str(Severity.SHOULD), part.element)
        for name in flow.backwards
        if (part := parts.get(name)) is not None and part.kind == "load"
    ]
    title = flow.command.replace("_", " ").replace("+", " and ")
    rows = {row_of(function) for _, function, *_ in marks}
    folded = tuple(
        (each.title, Markup(each.svg))  # noqa: S704 the drawing escapes its text
        for each in folded_circuits(rig, read, marks)
        if each.row in rows
    )
    wide = Markup(run_drawing(rig, read, marks))  # noqa: S704 the drawing escapes its text
    return Drawn(title, flow.says, wide, folded)
