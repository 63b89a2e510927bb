"""The run: the rig from the battery to the farthest lamp and back, energised by a command."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException

from loomwright.checks.finding_keys import finding_key
from loomwright.quantities import show_current, show_voltage
from loomwright.web.opened import AnOpenRig, OpenRig
from loomwright.web.pages import page
from loomwright.web.part_view import PartView, part_view
from loomwright.web.places import Place
from loomwright.web.run_view import Moment, energised, moment_of

PLACE = Place("run", "run", "/rigs/{rig_id}/run")
routes = APIRouter()

Key = Annotated[str, Query(max_length=60)]


@routes.get("/rigs/{rig_id}/run")
def show_run(request: Request, opened: AnOpenRig, do: Key = "", under: Key = "") -> HTMLResponse:
    """Show the run under a command and a set of conditions."""
    return _page(request, opened, moment(opened, do, under), None)


@routes.get("/rigs/{rig_id}/run/{element}")
def show_part(
    request: Request, opened: AnOpenRig, element: str, do: Key = "", under: Key = ""
) -> HTMLResponse:
    """Show one place of the run: beside the drawing, or as a page of its own."""
    now = moment(opened, do, under)
    try:
        part = part_view(opened.work, opened.text, element, now.answer, now.here)
    except KeyError as unknown:
        raise HTTPException(404) from unknown
    return _page(request, opened, now, part)


def moment(opened: OpenRig, do: str, under: str) -> Moment:
    """Return what is read on an opened rig under a command."""
    base = PLACE.at(opened.entry.id)
    return moment_of(opened.work, opened.findings, base, do, under)


def _page(request: Request, opened: OpenRig, now: Moment, part: PartView | None) -> HTMLResponse:
    """Return the whole page, or what htmx asks for alone."""
    is_part = "hx-request" in request.headers
    template = "run/run.html"
    if is_part:
        template = "run/energised.html" if part is None else "run/part.html"
    return page(
        request,
        template,
        entry=opened.entry,
        now=now,
        view=None if is_part and part is not None else energised(opened.work, now),
        part=part,
        amps=show_current,
        volts=show_voltage,
        finding_key=finding_key,
    )
