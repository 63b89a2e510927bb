"""The job file itself, kept while it is typed; what is wrong stands beside its line."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from loomwright.invalid import InvalidInput
from loomwright.web.opened import AKeptRig, problems_of
from loomwright.web.pages import page
from loomwright.web.visitor import AVisitor, say
from loomwright.web.workbench import workbench

routes = APIRouter()


@routes.get("/rigs/{rig_id}/text")
def show_text(request: Request, kept: AKeptRig) -> HTMLResponse:
    """Show the job file of a rig, and what keeps it from being used."""
    return page(
        request,
        "job_text/text.html",
        entry=kept.entry,
        text=kept.text,
        based_on=kept.version.number,
        problems=beside_lines(kept.text, kept.problems()),
        kept=True,
        change="",
    )


@routes.post("/rigs/{rig_id}/text")
def save_text(
    request: Request,
    kept: AKeptRig,
    who: AVisitor,
    text: Annotated[str, Form()],
    based_on: Annotated[int, Form(ge=1)],
) -> RedirectResponse:
    """Keep the changed job file; one that cannot be used is kept as a draft."""
    bench, rig_id = workbench(request), kept.entry.id
    version = bench.store.rigs.save(rig_id, plain_lines(text), based_on, who.who)
    if version.number != based_on:
        said = f"Kept as version {version.number}: {version.change}."
        say(request, said, f"/rigs/{rig_id}/undo")
    return RedirectResponse(f"/rigs/{rig_id}" + ("" if version.usable else "/text"), 303)


@routes.post("/rigs/{rig_id}/text/typed")
def keep_typed(
    request: Request,
    kept: AKeptRig,
    who: AVisitor,
    *,
    based_on: Annotated[int, Form(ge=1)],
    text: Annotated[str, Form()] = "",
    left: bool = Form(default=False),
) -> HTMLResponse:
    """Keep a text while it is typed, and say what is to mend.

    One that cannot be used is kept only when its field was `left`: a half-written line is no
    version of a rig.
    """
    plain = plain_lines(text)
    problems = problems_of(kept.solver, plain)
    number, change = based_on, ""
    if left or not problems:
        version = workbench(request).store.rigs.save(kept.entry.id, plain, based_on, who.who)
        number, change = version.number, version.change if version.number != based_on else ""
    return page(
        request,
        "job_text/problems.html",
        entry=kept.entry,
        based_on=number,
        problems=beside_lines(text, problems),
        kept=left or not problems,
        change=change,
    )


def plain_lines(text: str) -> str:
    """Return a text from a form with the line ends of a job file."""
    return text.replace("\r\n", "\n")


def beside_lines(
    text: str, problems: tuple[InvalidInput, ...]
) -> tuple[tuple[InvalidInput, str], ...]:
    """Return each complaint with the line it stands on."""
    lines = text.splitlines()
    return tuple(
        (one, lines[one.line - 1] if one.line and one.line <= len(lines) else "")
        for one in problems
    )
