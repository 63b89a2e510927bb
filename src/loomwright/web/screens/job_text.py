"""The job file itself, to be read and changed as text; what is wrong stands beside its line."""

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
    if version.number == based_on:
        say(request, "Nothing was changed.")
    else:
        said = f"Kept as version {version.number}: {version.change}."
        say(request, said, f"/rigs/{rig_id}/undo")
    return RedirectResponse(f"/rigs/{rig_id}" + ("" if version.usable else "/text"), 303)


@routes.post("/rigs/{rig_id}/text/check")
def check_text(request: Request, kept: AKeptRig, text: Annotated[str, Form()] = "") -> HTMLResponse:
    """Say what is wrong with a text while it is typed; nothing is kept."""
    problems = beside_lines(text, problems_of(kept.solver, plain_lines(text)))
    return page(request, "job_text/problems.html", entry=kept.entry, problems=problems)


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
