"""A new rig: from a kind of job, or from a job file somebody brings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.responses import Response

from loomwright import examples
from loomwright.invalid import InvalidInput, complaints_in
from loomwright.web.beginning import answered_text, begun_text, kinds_of_job, questions
from loomwright.web.opened import problems_of
from loomwright.web.pages import page
from loomwright.web.visitor import AVisitor, say
from loomwright.web.workbench import workbench

routes = APIRouter()

LONGEST_NAME = 200
UTF8_WITH_MARK = "utf-8-sig"


@routes.get("/new")
def choose_kind(request: Request) -> HTMLResponse:
    """Show the kinds of job to begin with."""
    return _choice(request)


@routes.post("/new")
def begin(
    request: Request,
    who: AVisitor,
    kind: Annotated[str, Form()] = "",
    name: Annotated[str, Form(max_length=LONGEST_NAME)] = "",
) -> Response:
    """Begin a rig of one kind."""
    if kind not in examples.kinds():
        problem = InvalidInput("kind", kind, "choose what comes nearest; all of it can be changed")
        return _choice(request, name, problem)
    rigs, text = workbench(request).store.rigs, begun_text(kind, name)
    entry = rigs.create(text, who.who, change=f"begun from {kind}")
    say(request, "Begun. Change what differs on your job; take out what you have not got.")
    return RedirectResponse(f"/rigs/{entry.id}", 303)


@routes.get("/new/unknown")
def ask_what_is_known(request: Request) -> HTMLResponse:
    """Ask what is known of a rig that nobody described."""
    return _unknown(request, {}, "", ())


@routes.post("/new/unknown")
async def begin_unknown(request: Request, who: AVisitor) -> Response:
    """Begin a rig from a few answers, and go on to its fault or to describing it."""
    form = await request.form()
    asked = questions()
    given = {each.key: str(form.get(each.key) or "").strip() for each in asked}
    name, go = str(form.get("name") or "")[:LONGEST_NAME], form.get("go")
    text, problems = "", tuple[InvalidInput, ...]()
    try:
        text = answered_text(given, name)
    except* InvalidInput as refused:
        problems = complaints_in(refused)
    if problems:
        return _unknown(request, given, name, problems)
    entry = workbench(request).store.rigs.create(text, who.who, change="begun from a few answers")
    open_ones = sum(not value for value in given.values())
    taken = f" The usual was taken for {open_ones} of {len(asked)} answers." if open_ones else ""
    say(request, f"Begun.{taken} Describe more of it as you see it.")
    return RedirectResponse(f"/rigs/{entry.id}{'/trace' if go == 'trace' else ''}", 303)


@routes.get("/import")
def show_import(request: Request) -> HTMLResponse:
    """Ask for a job file."""
    return page(request, "new_rig/import.html", text="", problem=None)


@routes.post("/import")
async def take_in(
    request: Request,
    who: AVisitor,
    text: Annotated[str, Form()] = "",
    file: Annotated[UploadFile | None, File()] = None,
) -> Response:
    """Keep a job file as a new rig; one that cannot be used yet is kept as a draft."""
    name = ""
    if file is not None and file.filename:
        name = file.filename.replace("\\", "/").rpartition("/")[2]
        try:
            text = (await file.read()).decode(UTF8_WITH_MARK)
        except UnicodeDecodeError:
            fix = "save it as UTF-8 text; a picture, a sheet or an archive is no job file"
            return _refused(request, InvalidInput("file", name, fix))
    if not text.strip():
        return _refused(request, InvalidInput("file", name, "choose a job file, or paste its text"))
    bench = workbench(request)
    try:
        entry = bench.store.rigs.import_text(text, who.who, name)
    except InvalidInput as refused:
        return _refused(request, refused, text)
    if problems_of(bench.solver, text):
        say(request, "Kept as a draft: nothing is lost. Mend what is listed here.")
        return RedirectResponse(f"/rigs/{entry.id}/text", 303)
    say(request, f"Imported: {entry.name}.")
    return RedirectResponse(f"/rigs/{entry.id}", 303)


def _choice(request: Request, name: str = "", problem: InvalidInput | None = None) -> HTMLResponse:
    return page(
        request,
        "new_rig/kinds.html",
        status=422 if problem else 200,
        kinds=kinds_of_job(),
        name=name,
        problem=problem,
    )


def _unknown(
    request: Request, given: Mapping[str, str], name: str, problems: Sequence[InvalidInput]
) -> HTMLResponse:
    return page(
        request,
        "new_rig/unknown.html",
        status=422 if problems else 200,
        questions=questions(),
        given=given,
        name=name,
        problems={each.field.removeprefix("typical."): each for each in problems},
    )


def _refused(request: Request, problem: InvalidInput, text: str = "") -> HTMLResponse:
    return page(request, "new_rig/import.html", status=422, text=text, problem=problem)
