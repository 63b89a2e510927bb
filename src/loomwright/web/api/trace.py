"""Trace for programs: what may be wrong after what was seen, and what to look at next."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Request
from pydantic import Field

from loomwright.invalid import InvalidInput, complaints_in, raise_all
from loomwright.observations.observation import Observation, from_plain
from loomwright.rig.model import Rig
from loomwright.web.api.forms import DRAFT, NO_SUCH_RIG, NO_ZERO, NOT_LET_IN, Strict
from loomwright.web.opened import AnOpenRig
from loomwright.web.workbench import workbench

MOST_SEEN = 500

routes = APIRouter(responses={**NOT_LET_IN, **NO_SUCH_RIG, **DRAFT})

Phrase = Annotated[str, Field(max_length=2000, pattern=NO_ZERO)]


class Seen(Strict):
    """What was seen: in words, or as the report gives it back."""

    said: Annotated[list[Phrase], Field(max_length=MOST_SEEN)] = Field(
        default_factory=list, description="park+left: left rear dark, right rear normal"
    )
    observations: Annotated[list[dict[str, Any]], Field(max_length=MOST_SEEN)] = Field(
        default_factory=list, description="Observations as in `observations` of the answer"
    )


@routes.post("/rigs/{rig_id}/trace")
def trace(request: Request, opened: AnOpenRig, seen: Seen) -> dict[str, Any]:
    """Faults ranked after what was seen, with reasons, and the next step. Nothing is kept."""
    from loomwright.trace.report import trace_report

    observations = _observations(opened.rig, seen)
    tracer = workbench(request).tracers.of(opened.text, opened.rig)
    return trace_report(opened.rig, *tracer.answer(observations))


def _observations(rig: Rig, seen: Seen) -> tuple[Observation, ...]:
    """Return every observation that was sent.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for everything that cannot be used.
    """
    from loomwright.trace.phrases import read_phrase

    problems: list[InvalidInput] = []
    found: list[Observation] = []
    for phrase in seen.said:
        try:
            found += read_phrase(phrase, rig)
        except ExceptionGroup as group:
            problems += complaints_in(group)
    for number, given in enumerate(seen.observations):
        try:
            found.append(from_plain(given, f"observations[{number}]"))
        except ExceptionGroup as group:
            problems += complaints_in(group)
    raise_all(problems, "what was seen")
    return tuple(found)
