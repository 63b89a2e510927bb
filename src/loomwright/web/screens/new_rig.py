"""A new rig: from a kind of job, or from a job file somebody brings."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.responses import Response

from loomwright import examples
from loomwright.invalid import InvalidInput
from loomwright.web.beginning import begun_text, kinds_of_job
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


def _refused(request: Request, problem: InvalidInput, text: str = "") -> HTMLResponse:
    return page(request, "new_rig/import.html", status=422, text=text, problem=problem)
