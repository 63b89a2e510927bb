"""What the templates of the trace screen are filled with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from loomwright.electrics.commands import commands_for
from loomwright.invalid import InvalidInput
from loomwright.observations.word import Word
from loomwright.rig.model import Rig
from loomwright.web.tracing.forms import value_of_observations
from loomwright.web.tracing.places import lamps_of, places_of
from loomwright.web.tracing.talk import Said, Told
from loomwright.web.tracing.tracers import Tracer
from loomwright.web.tracing.view import (
    ASKED_AT_MOST,
    TraceView,
    cautions_of,
    contradictions,
    how_sure,
    percent,
    trace_view,
)

LAMP_WORDS = (
    Word.OFF,
    Word.GLOW,
    Word.DIM,
    Word.NORMAL,
    Word.BRIGHT,
    Word.FLASHING,
    Word.FLASHING_DIM,
    Word.FLASHING_FAST,
    Word.COMES_AND_GOES,
)
"""Words for a lamp."""

SAID_WORDS = (
    *LAMP_WORDS,
    Word.WRONG,
    Word.WEAK,
    Word.LOCKED,
    Word.BLOWN,
    Word.WHOLE,
    Word.CONNECTED,
    Word.NO_TRAILER,
    Word.OVERLOAD,
    Word.FAULT,
)
"""Words to choose from; a fuse, a brake and a controller have their own."""

TOOLS = {
    "meter": "a meter",
    "helper": "a helper in the cab",
    "other vehicle": "another vehicle to plug into",
    "other trailer": "another trailer to plug in",
    "bench supply": "a fused bench supply",
    "load box": "a load box for the socket",
}
"""What can be at hand besides eyes."""


@dataclass(frozen=True, slots=True)
class Refused:
    """What could not be used: every complaint, and all that was entered."""

    problems: tuple[InvalidInput, ...] = ()
    typed: str = ""
    fields: Mapping[str, str] = field(default_factory=dict)


def shown(
    rig: Rig, tracer: Tracer, told: Told, *, reasoned: bool, refused: Refused | None = None
) -> dict[str, Any]:
    """Return what the templates show.

    Parameters
    ----------
    rig : Rig
        The rig.
    tracer : Tracer
        Its faults.
    told : Told
        How far the conversation is.
    reasoned : bool
        Whether to work out what it may be.
    refused : Refused, optional
        What could not be used.
    """
    from loomwright.trace.reasons import said_of

    refused = refused or Refused()
    return {
        "tracer": tracer,
        "told": told,
        "held": [(one, _words(one)) for one in told.said],
        "view": _view(rig, tracer, told) if reasoned else None,
        "problems": {problem.field: problem for problem in refused.problems},
        "all_problems": refused.problems,
        "typed": refused.typed,
        "fields": refused.fields,
        "commands": [(each.key, each.title) for each in commands_for(rig)],
        "place_groups": places_of(rig),
        "words": [(each, str(each)) for each in SAID_WORDS],
        "lamps": lamps_of(rig),
        "lamp_words": LAMP_WORDS,
        "tools": TOOLS,
        "clashes": [
            (pair, value_of_observations(_loose(pair)))
            for pair in contradictions(told.observations)
        ],
        "how_sure": how_sure,
        "percent": percent,
        "cautions_of": cautions_of,
        "said_of": said_of,
        "polled": False,
    }


def _view(rig: Rig, tracer: Tracer, told: Told) -> TraceView:
    from loomwright.web.tracing.retest import tests_to_do

    ranking, advice = tracer.answer(told.observations, told.tools, ASKED_AT_MOST)
    tests = tests_to_do(tracer.trace(), told, advice.questions)
    return trace_view(rig, ranking, advice, told, tests)


def _words(one: Said) -> str:
    from loomwright.trace.reasons import said_of

    return one.says or "; ".join(said_of(each) for each in one.observations)


def _loose(pair: tuple[Any, ...]) -> tuple[Any, ...]:
    """What contradicting words mean if both were seen: it comes and goes."""
    from dataclasses import replace

    return (replace(pair[-1], word=Word.COMES_AND_GOES),)
