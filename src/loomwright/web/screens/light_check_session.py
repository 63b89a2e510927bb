"""One light check: its roles, the screens of cab and lamps, its stream, its summary."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Form, Header, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response, StreamingResponse

from loomwright.invalid import InvalidInput
from loomwright.rig.model import Rig
from loomwright.store.checks import is_over
from loomwright.store.checks_values import LightCheck, Stage
from loomwright.web.light_checking.giving import Pressed, pressed
from loomwright.web.light_checking.sending import (
    after,
    answers_in,
    check_numbered,
    keep,
)
from loomwright.web.light_checking.step_view import WORD_SETS, step_views
from loomwright.web.light_checking.summary_view import (
    Compared,
    compared,
    groups,
    pictures,
    sockets_compared,
)
from loomwright.web.opened import AKeptRig, KeptRig
from loomwright.web.pages import page
from loomwright.web.screens.light_check import PLACE as LIGHT_CHECK
from loomwright.web.screens.pairing import qr
from loomwright.web.visitor import AVisitor, say
from loomwright.web.workbench import workbench

routes = APIRouter()

Role = Literal["cab", "lamps", "alone"]
ROLES: dict[Role, str] = {
    "cab": "In the cab",
    "lamps": "At the lamps",
    "alone": "Alone",
}
Text = Annotated[str, Form(max_length=300)]
Texts = Annotated[list[str] | None, Form(max_length=400)]


@routes.get("/join/{number}")
def join(request: Request, number: int) -> RedirectResponse:
    """Lead a device that follows the short link to its check."""
    try:
        check = workbench(request).store.checks.numbered(number)
    except InvalidInput as unknown:
        raise HTTPException(404, "light check") from unknown
    return RedirectResponse(f"{LIGHT_CHECK.at(check.rig_id)}/{check.number}", 303)


@routes.get("/rigs/{rig_id}/light-check/{number}")
def show_roles(request: Request, kept: AKeptRig, number: int) -> HTMLResponse:
    """Ask what this device is: in the cab, or at the lamps; and how a second one joins."""
    check = check_numbered(request, kept.entry.id, number)
    bench = workbench(request)
    links = bench.settings.links
    link = f"{links[0]}/join/{check.number}" if links else ""
    return page(
        request,
        "light_check/roles.html",
        entry=kept.entry,
        check=check,
        over=is_over(check),
        link=link,
        picture=qr(link) if link else None,
        here=LIGHT_CHECK.key,
    )


@routes.get("/rigs/{rig_id}/light-check/{number}/summary")
def show_summary(request: Request, kept: AKeptRig, number: int) -> HTMLResponse:
    """Show what was right, doubtful, wrong, usual, and not tested; and what was before."""
    bench = workbench(request)
    check = check_numbered(request, kept.entry.id, number)
    answers = answers_in(bench, check)
    first = bench.store.checks.before(check) if check.stage is Stage.AFTER else None
    rows = compared(answers_in(bench, first), answers, check.plan) if first else ()
    rig = _rig(request, kept, check)
    trace = next((each for each in bench.places if each.key == "trace"), None)
    return page(
        request,
        "light_check/summary.html",
        entry=kept.entry,
        check=check,
        groups=groups(check.plan, answers),
        pictures=pictures(rig, check.plan, answers),
        before=first,
        rows=rows,
        sockets=_sockets(request, rig, check),
        trace=None if trace is None else f"{trace.at(kept.entry.id)}?check={check.id}",
        here=LIGHT_CHECK.key,
    )


@routes.get("/rigs/{rig_id}/light-check/{number}/events")
def follow(
    request: Request,
    kept: AKeptRig,
    number: int,
    *,
    role: Role = "lamps",
    after: Annotated[int, Query(ge=0)] = 0,
    last_event_id: Annotated[str | None, Header()] = None,
) -> StreamingResponse:
    """Tell what happens in a check, as it happens; go on after the last that was heard."""
    bench = workbench(request)
    check = check_numbered(request, kept.entry.id, number)
    seq = int(last_event_id) if last_event_id and last_event_id.isdecimal() else after
    stream = bench.following.stream(bench.store, check.id, role, seq)
    return StreamingResponse(stream, media_type="text/event-stream")


@routes.get("/rigs/{rig_id}/light-check/{number}/{role}")
def show_role(request: Request, kept: AKeptRig, number: int, role: Role) -> HTMLResponse:
    """Show the screen of one role: every step of it, so that it goes on without a link."""
    bench = workbench(request)
    check = check_numbered(request, kept.entry.id, number)
    seq = bench.store.events.newest()
    answers = answers_in(bench, check)
    return page(
        request,
        f"light_check/{'cab' if role == 'cab' else 'lamps'}.html",
        entry=kept.entry,
        check=check,
        role=role,
        role_words=ROLES[role],
        steps=step_views(_rig(request, kept, check), check.plan, answers),
        stands={key: str(each.answer.standing) for key, each in answers.items()},
        word_sets={key: [str(word) for word in words] for key, words in WORD_SETS.items()},
        seq=seq,
        here=LIGHT_CHECK.key,
    )


@routes.post("/rigs/{rig_id}/light-check/{number}/give")
def give(
    request: Request,
    kept: AKeptRig,
    who: AVisitor,
    number: int,
    *,
    role: Annotated[Role, Form()] = "lamps",
    step: Annotated[int, Form(ge=0)] = 0,
    answer: Text = "",
    all_of: Text = "",
    go: Text = "",
    number_of: Text = "",
    value: Texts = None,
    value_of: Texts = None,
) -> RedirectResponse:
    """Keep what the form of a step says: the way of a browser that runs no script."""
    bench = workbench(request)
    check = check_numbered(request, kept.entry.id, number)
    values = dict(zip(value_of or [], value or [], strict=False))
    expectations = check.plan.steps[step].expectations if step < len(check.plan.steps) else ()
    sent = pressed(expectations, Pressed(answer, all_of, number_of, values))
    if sent:
        keep(bench, check, sent, who.who)
    there = int(go) if go.isdecimal() else after(check.plan, step, answers_in(bench, check))
    if there != check.step:
        keep(bench, check, (), who.who, step=there)
    base = f"{LIGHT_CHECK.at(kept.entry.id)}/{number}"
    done = there >= len(check.plan.steps)
    return RedirectResponse(f"{base}/summary" if done else f"{base}/{role}", 303)


@routes.post("/rigs/{rig_id}/light-check/{number}/end")
def end(request: Request, kept: AKeptRig, who: AVisitor, number: int) -> Response:
    """End a check; what is not answered stays not tested."""
    bench = workbench(request)
    check = check_numbered(request, kept.entry.id, number)
    bench.store.checks.end(check.id, who.who)
    bench.following.wake(check.id)
    return RedirectResponse(f"{LIGHT_CHECK.at(kept.entry.id)}/{number}/summary", 303)


@routes.post("/rigs/{rig_id}/light-check/usual/{usual_id}/retire")
def retire(request: Request, kept: AKeptRig, who: AVisitor, usual_id: str) -> RedirectResponse:
    """Take a reading for normal no more."""
    workbench(request).store.usual.retire(usual_id, who.who)
    say(request, "It is no longer taken for normal.")
    return RedirectResponse(LIGHT_CHECK.at(kept.entry.id), 303)


def _sockets(
    request: Request, rig: Rig, check: LightCheck
) -> tuple[tuple[str, str, tuple[Compared, ...]], ...]:
    """Return old and added sockets side by side, from every check of the rig up to this one."""
    if len(rig.sockets) < 2:
        return ()
    bench = workbench(request)
    checks = [
        each for each in bench.store.checks.checks_of(check.rig_id) if each.number <= check.number
    ]
    read = [
        kept.answer.observation
        for each in reversed(checks)
        for kept in answers_in(bench, each).values()
        if kept.answer.observation is not None
    ]
    return sockets_compared(rig, read)


def _rig(request: Request, kept: KeptRig, check: LightCheck) -> Rig:
    """Return the rig as it was when the check began."""
    text = workbench(request).store.rigs.export_text(kept.entry.id, check.version)
    return kept.solver.rig(text, kept.units)
