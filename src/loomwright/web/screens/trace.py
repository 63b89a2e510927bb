"""Trace: say what was seen, see what it may be, and what to look at next."""

from __future__ import annotations

import json
import math
from typing import Annotated, Any

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.electrics.commands import commands_for
from loomwright.invalid import InvalidInput
from loomwright.lightcheck.model import Standing
from loomwright.observations.observation import Observation, Quantity, from_plain
from loomwright.observations.word import Word
from loomwright.web.opened import AnOpenRig, OpenRig, flat
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.tracing.places import lamps_of, place_of, places_of
from loomwright.web.tracing.talk import Talk
from loomwright.web.tracing.tracers import Tracer
from loomwright.web.tracing.view import how_sure, percent, trace_view
from loomwright.web.visitor import AVisitor
from loomwright.web.workbench import workbench

PLACE = Place("trace", "trace", "/rigs/{rig_id}/trace")
routes = APIRouter()

Text = Annotated[str, Form(max_length=2000)]
MOST_LAMPS = 200
SAID_WORDS = (
    Word.OFF,
    Word.GLOW,
    Word.DIM,
    Word.NORMAL,
    Word.BRIGHT,
    Word.FLASHING,
    Word.FLASHING_DIM,
    Word.FLASHING_FAST,
    Word.FLICKER,
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


@routes.get("/rigs/{rig_id}/trace")
def show_trace(
    request: Request, opened: AnOpenRig, check: Annotated[str, Query(max_length=64)] = ""
) -> HTMLResponse:
    """Show what was seen so far, and what it may be as soon as that is worked out."""
    tracer = _tracer(request, opened)
    is_ready = tracer.is_ready
    return _page(request, opened, "trace/trace.html", reasoned=is_ready, check=check)


@routes.get("/rigs/{rig_id}/trace/reasoned")
def show_reasoned(request: Request, opened: AnOpenRig) -> HTMLResponse:
    """Show what it may be and what to look at next: worked out now, if it was not."""
    return _page(request, opened, "trace/reasoned.html", reasoned=True)


@routes.get("/rigs/{rig_id}/trace/two")
def show_progress(request: Request, opened: AnOpenRig) -> HTMLResponse:
    """Show how far two faults at once are; when they are ready the answer is asked for anew."""
    tracer = _tracer(request, opened)
    return page(request, "trace/two.html", entry=opened.entry, tracer=tracer)


@routes.post("/rigs/{rig_id}/trace/seen")
def add_seen(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    *,
    said: Text = "",
    observation: Text = "",
    command: Text = "",
    place: Text = "",
    word: Text = "",
    value: Text = "",
    unit: Text = "",
    key: Annotated[str, Form(max_length=64)] = "",
) -> Response:
    """Keep what was seen: an answer to a question, a place with its word or number, a phrase."""
    try:
        seen = _seen(opened, said, observation, (command, place, word, value, unit))
    except InvalidInput as problem:
        return _refused(request, opened, (problem,), said, (command, place, word, value, unit))
    except ExceptionGroup as problems:
        told = flat(problems)
        return _refused(request, opened, told, said, (command, place, word, value, unit))
    _talk(request, opened).saw(seen, who.who, key)
    return RedirectResponse(PLACE.at(opened.entry.id), 303)


@routes.post("/rigs/{rig_id}/trace/round")
def add_round(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    *,
    command: Annotated[str, Form(max_length=60)],
    at: Annotated[list[str], Form(max_length=MOST_LAMPS)],
    looked: Annotated[list[str], Form(max_length=MOST_LAMPS)],
    key: Annotated[str, Form(max_length=64)] = "",
) -> Response:
    """Keep what every lamp did on one walk round the rig; what was not looked at says nothing."""
    known = dict.fromkeys(str(word) for word in Word)
    chosen = [(place, word) for place, word in zip(at, looked, strict=False) if word in known]
    try:
        seen = tuple(
            Observation(command, place_of(place), Quantity.SEEN, word=Word(word))
            for place, word in chosen
        )
    except InvalidInput as problem:
        return _refused(request, opened, (problem,), "", ("", "", "", "", ""))
    _talk(request, opened).saw(seen, who.who, key)
    return RedirectResponse(PLACE.at(opened.entry.id), 303)


@routes.post("/rigs/{rig_id}/trace/take-back")
def take_back(
    request: Request, opened: AnOpenRig, who: AVisitor, seq: Annotated[int, Form(ge=1)]
) -> RedirectResponse:
    """Let something that was said no longer count."""
    _talk(request, opened).take_back(seq, who.who)
    return RedirectResponse(PLACE.at(opened.entry.id), 303)


@routes.post("/rigs/{rig_id}/trace/again")
def begin_again(request: Request, opened: AnOpenRig, who: AVisitor) -> RedirectResponse:
    """Begin with nothing said: another fault, or the same after a repair."""
    _talk(request, opened).begin_again(who.who)
    return RedirectResponse(PLACE.at(opened.entry.id), 303)


@routes.post("/rigs/{rig_id}/trace/from-check")
def take_from_check(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    check: Annotated[str, Form(max_length=64)],
) -> RedirectResponse:
    """Take over what was seen in a light check, the right with the wrong: both tell."""
    seen = _of_check(request, opened, check)
    _talk(request, opened).saw(seen, who.who, f"{check[:40]}-seen")
    return RedirectResponse(PLACE.at(opened.entry.id), 303)


def _tracer(request: Request, opened: OpenRig) -> Tracer:
    return workbench(request).tracers.of(opened.text, opened.rig)


def _talk(request: Request, opened: OpenRig) -> Talk:
    return Talk(workbench(request).store, opened.entry.id)


def _seen(
    opened: OpenRig, said: str, observation: str, fields: tuple[str, str, str, str, str]
) -> tuple[Observation, ...]:
    """Return the observations of a form.

    Raises
    ------
    InvalidInput, ExceptionGroup
        If they cannot be used.
    """
    from loomwright.trace.phrases import read_phrase

    if observation:
        try:
            given: Any = json.loads(observation)
        except ValueError as unknown:
            raise InvalidInput("observation", observation, "send it as it was given") from unknown
        if not isinstance(given, dict):
            raise InvalidInput("observation", observation, "send it as it was given")
        return (from_plain(given),)
    if said.strip():
        return tuple(read_phrase(said, opened.rig))
    return (_chosen(*fields),)


def _chosen(command: str, place: str, word: str, value: str, unit: str) -> Observation:
    """Return what was put together from choices.

    Raises
    ------
    ExceptionGroup
        Of `InvalidInput`, for everything that is missing or cannot be read.
    """
    problems: list[InvalidInput] = []
    if not place:
        problems.append(InvalidInput("place", place, "choose where you looked"))
    if not word and not value.strip():
        problems.append(InvalidInput("word", word, "choose what you saw, or type what you read"))
    number = math.nan
    if value.strip() and not word:
        try:
            number = float(value.replace(",", "."))
        except ValueError:
            problems.append(InvalidInput("value", value, "type a number, such as 11.4"))
    if problems:
        raise ExceptionGroup("what was seen", problems)
    at = place_of(place)
    if word:
        if word not in list(Word):
            raise InvalidInput("word", word, "choose one of the words")
        return Observation(command, at, Quantity.SEEN, word=Word(word))
    quantity = Quantity(unit) if unit in list(Quantity) else Quantity.VOLTS
    plugged = quantity is not Quantity.OHMS
    under = command if plugged else ""
    return Observation(under, at, quantity, value=number, tester="meter", plugged=plugged)


def _of_check(request: Request, opened: OpenRig, check_id: str) -> tuple[Observation, ...]:
    """Return what was observed in a light check of this rig.

    Raises
    ------
    HTTPException
        404, if there is no such check.
    """
    checks = workbench(request).store.checks
    known = {check.id: check for check in checks.checks_of(opened.entry.id)}
    if check_id not in known:
        raise HTTPException(404)
    given = [kept.answer for kept in checks.answers(known[check_id])]
    passed = (Standing.NOT_TESTED, Standing.DOUBTFUL)
    return tuple(
        each.observation
        for each in given
        if each.observation is not None and each.standing not in passed
    )


def _refused(
    request: Request,
    opened: OpenRig,
    problems: tuple[InvalidInput, ...],
    said: str,
    fields: tuple[str, str, str, str, str],
) -> HTMLResponse:
    """Return the page with the complaint beside the field, and all that was entered still there."""
    names = ("command", "place", "word", "value", "unit")
    return _page(
        request,
        opened,
        "trace/trace.html",
        reasoned=True,
        problems=problems,
        said=said,
        fields=dict(zip(names, fields, strict=True)),
        status=422,
    )


def _page(
    request: Request,
    opened: OpenRig,
    template: str,
    *,
    reasoned: bool,
    check: str = "",
    problems: tuple[InvalidInput, ...] = (),
    said: str = "",
    fields: dict[str, str] | None = None,
    status: int = 200,
) -> HTMLResponse:
    from loomwright.trace.reasons import said_of

    tracer = _tracer(request, opened)
    held = _talk(request, opened).said()
    seen = tuple(one.observation for one in held)
    offered = len(_of_check(request, opened, check)) if check else 0
    view = trace_view(opened.rig, *tracer.answer(seen)) if reasoned else None
    return page(
        request,
        template,
        status=status,
        entry=opened.entry,
        tracer=tracer,
        held=[(one, said_of(one.observation)) for one in held],
        view=view,
        check=check,
        offered=offered,
        problems={problem.field: problem for problem in problems},
        all_problems=problems,
        typed=said,
        fields=fields or {},
        commands=[(each.key, each.title) for each in commands_for(opened.rig)],
        place_groups=places_of(opened.rig),
        words=[(each, str(each)) for each in SAID_WORDS],
        lamps=lamps_of(opened.rig),
        lamp_words=SAID_WORDS[:9],
        how_sure=how_sure,
        percent=percent,
        next_key=f"{opened.entry.id[:12]}-{len(held)}-{held[-1].seq if held else 0}",
        said_of=said_of,
    )
