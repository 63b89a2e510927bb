"""Trace: say what was seen, see what it may be, and what to look at next."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated, Literal

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.invalid import InvalidInput, complaints_in
from loomwright.observations.observation import Observation
from loomwright.web.opened import AnOpenRig, OpenRig
from loomwright.web.pages import page
from loomwright.web.places import Place
from loomwright.web.tracing.carried import Carried, carried_from
from loomwright.web.tracing.forms import Chosen, read_answer, read_chosen, read_round, read_said
from loomwright.web.tracing.showing import Refused, shown
from loomwright.web.tracing.talk import Talk
from loomwright.web.tracing.tracers import Tracer
from loomwright.web.tracing.view import ASKED_AT_MOST
from loomwright.web.visitor import AVisitor
from loomwright.web.workbench import workbench

PLACE = Place("trace", "trace", "/rigs/{rig_id}/trace")
routes = APIRouter()

Text = Annotated[str, Form(max_length=2000)]
Key = Annotated[str, Form(max_length=64)]
MOST_LAMPS = 200
MOST_TOOLS = 10
LONGEST_ANSWER = 60_000


@routes.get("/rigs/{rig_id}/trace")
def show_trace(
    request: Request, opened: AnOpenRig, check: Annotated[str, Query(max_length=64)] = ""
) -> HTMLResponse:
    """Show what was seen so far, and what it may be as soon as that is worked out."""
    carried = _carried(request, opened, check) if check else None
    ready = _tracer(request, opened).is_ready
    return _page(request, opened, "trace/trace.html", reasoned=ready, carried=carried)


@routes.get("/rigs/{rig_id}/trace/reasoned")
def show_reasoned(request: Request, opened: AnOpenRig) -> HTMLResponse:
    """Show what it may be and what to look at next: worked out now, if it was not."""
    return _page(request, opened, "trace/reasoned.html", reasoned=True)


@routes.get("/rigs/{rig_id}/trace/two")
def show_progress(request: Request, opened: AnOpenRig) -> HTMLResponse:
    """Show how far two faults at once are; when they are ready, what it may be is asked anew."""
    tracer = _tracer(request, opened)
    return page(request, "trace/two.html", entry=opened.entry, tracer=tracer, polled=True)


@routes.post("/rigs/{rig_id}/trace/two")
def turn_two(
    request: Request, opened: AnOpenRig, do: Annotated[Literal["stop", "begin"], Form()]
) -> Response:
    """Stop working out two faults at once, or begin with it again."""
    tracer = _tracer(request, opened)
    if do == "stop":
        tracer.drop_pairs()
    else:
        tracer.want_pairs()
    if "hx-request" in request.headers:
        return page(request, "trace/two.html", entry=opened.entry, tracer=tracer, polled=True)
    return _back(opened)


@routes.post("/rigs/{rig_id}/trace/seen")
def add_seen(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    *,
    said: Text = "",
    observation: Annotated[str, Form(max_length=LONGEST_ANSWER)] = "",
    told: Text = "",
    right: Annotated[bool, Form()] = False,
    command: Text = "",
    place: Text = "",
    word: Text = "",
    value: Text = "",
    unit: Text = "",
    key: Key = "",
) -> Response:
    """Keep what was seen: an answer to a question, a place with its word or number, a phrase."""
    chosen = Chosen(command, place, word, value, unit)
    seen: tuple[Observation, ...] = ()
    problems: tuple[InvalidInput, ...] = ()
    try:
        if observation:
            seen = read_answer(observation)
        elif said.strip():
            seen = read_said(said, opened.rig)
        else:
            seen = (read_chosen(chosen),)
    except* InvalidInput as group:
        problems = complaints_in(group)
    if problems:
        return _refused(request, opened, Refused(problems, said, asdict(chosen)))
    words = told if observation else said.strip()
    is_right = right and bool(observation)
    _talk(request, opened).saw(seen, who.who, key, says=words, is_right=is_right)
    return _back(opened)


@routes.post("/rigs/{rig_id}/trace/round")
def add_round(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    *,
    command: Annotated[str, Form(max_length=60)],
    at: Annotated[list[str], Form(max_length=MOST_LAMPS)],
    looked: Annotated[list[str], Form(max_length=MOST_LAMPS)],
    key: Key = "",
) -> Response:
    """Keep what every lamp did on one walk round the rig; what was not looked at says nothing."""
    seen: tuple[Observation, ...] = ()
    problems: tuple[InvalidInput, ...] = ()
    try:
        seen = read_round(command, at, looked)
    except* InvalidInput as group:
        problems = complaints_in(group)
    if problems:
        return _refused(request, opened, Refused(problems))
    _talk(request, opened).saw(seen, who.who, key)
    return _back(opened)


@routes.post("/rigs/{rig_id}/trace/take-back")
def take_back(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    seq: Annotated[int, Form(ge=1)],
    *,
    number: Annotated[int | None, Form(ge=0)] = None,
    key: Key = "",
) -> RedirectResponse:
    """Let something that was said no longer count: all of it, or one thing of it."""
    _talk(request, opened).take_back(seq, who.who, number, key)
    return _back(opened)


@routes.post("/rigs/{rig_id}/trace/again")
def begin_again(request: Request, opened: AnOpenRig, who: AVisitor) -> RedirectResponse:
    """Begin with nothing said: another fault, another day."""
    _talk(request, opened).begin_again(who.who)
    return _back(opened)


@routes.post("/rigs/{rig_id}/trace/pass")
def pass_over(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    question: Annotated[str, Form(max_length=200)],
) -> RedirectResponse:
    """Go on to the next question: this one cannot be answered here."""
    _talk(request, opened).pass_over(question, who.who)
    return _back(opened)


@routes.post("/rigs/{rig_id}/trace/at-hand")
def keep_tools(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    tool: Annotated[list[str] | None, Form(max_length=MOST_TOOLS)] = None,
) -> RedirectResponse:
    """Keep what is at hand: only that is asked for."""
    from loomwright.web.tracing.showing import TOOLS

    known = [each for each in TOOLS if each in (tool or ())]
    _talk(request, opened).has(("eye", *known), who.who)
    return _back(opened)


@routes.post("/rigs/{rig_id}/trace/mended")
def keep_mended(
    request: Request, opened: AnOpenRig, who: AVisitor, key: Key = ""
) -> RedirectResponse:
    """Keep that it is repaired, and ask for the commands that showed it once more."""
    from loomwright.web.tracing.retest import commands_to_retest

    tracer, talk = _tracer(request, opened), _talk(request, opened)
    told = talk.told()
    _, advice = tracer.answer(told.observations, told.tools, ASKED_AT_MOST)
    title = "what you found" if advice.repair is None else advice.repair.title
    retest = commands_to_retest(tracer.trace(), advice, told.observations)
    talk.mend(title, retest, who.who, key)
    return _back(opened)


@routes.post("/rigs/{rig_id}/trace/from-check")
def take_from_check(
    request: Request,
    opened: AnOpenRig,
    who: AVisitor,
    check: Annotated[str, Form(max_length=64)],
    *,
    anew: Annotated[bool, Form()] = False,
) -> RedirectResponse:
    """Take over what was seen in a light check, the right with the wrong: both tell."""
    carried, talk = _carried(request, opened, check), _talk(request, opened)
    if anew:
        talk.begin_again(who.who)
    talk.saw(
        carried.observations,
        who.who,
        says=carried.says,
        source=carried.check.id,
        is_right=not carried.wrong,
    )
    return _back(opened)


def _back(opened: OpenRig) -> RedirectResponse:
    """Return to the conversation, where it goes on."""
    return RedirectResponse(f"{PLACE.at(opened.entry.id)}#next", 303)


def _tracer(request: Request, opened: OpenRig) -> Tracer:
    return workbench(request).tracers.of(opened.text, opened.rig)


def _talk(request: Request, opened: OpenRig) -> Talk:
    return Talk(workbench(request).store, opened.entry.id)


def _carried(request: Request, opened: OpenRig, check_id: str) -> Carried:
    carried = carried_from(workbench(request).store, opened.entry.id, check_id)
    if carried is None:
        raise HTTPException(404)
    return carried


def _refused(request: Request, opened: OpenRig, refused: Refused) -> HTMLResponse:
    """Return the page with the complaint beside the field, and all that was entered still there."""
    return _page(request, opened, "trace/trace.html", reasoned=True, refused=refused)


def _page(
    request: Request,
    opened: OpenRig,
    template: str,
    *,
    reasoned: bool,
    carried: Carried | None = None,
    refused: Refused | None = None,
) -> HTMLResponse:
    tracer, told = _tracer(request, opened), _talk(request, opened).told()
    values = shown(opened.rig, tracer, told, reasoned=reasoned, refused=refused)
    is_new = carried is not None and carried.check.id not in {each.source for each in told.said}
    return page(
        request,
        template,
        status=200 if refused is None else 422,
        entry=opened.entry,
        carried=carried if is_new else None,
        next_key=f"{opened.entry.id[:12]}-{told.seq}",
        values=values,
    )
