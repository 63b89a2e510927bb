"""The run: the rig from the battery to the farthest lamp and back, energised by a command."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException

from loomwright.quantities import show_current, show_voltage
from loomwright.rig.read import read_job
from loomwright.web.finding_keys import finding_key
from loomwright.web.opened import AnOpenRig, OpenRig
from loomwright.web.pages import page
from loomwright.web.part_view import PartView, part_view
from loomwright.web.places import Place
from loomwright.web.run_view import Energised, energised

PLACE = Place("run", "run", "/rigs/{rig_id}/run")
routes = APIRouter()

Key = Annotated[str, Query(max_length=60)]


@routes.get("/rigs/{rig_id}/run")
def show_run(request: Request, opened: AnOpenRig, do: Key = "", under: Key = "") -> HTMLResponse:
    """Show the run under a command and a set of conditions."""
    view = _energised(opened, do, under)
    return _page(request, opened, view, None, "run/energised.html")


@routes.get("/rigs/{rig_id}/run/{element}")
def show_part(
    request: Request, opened: AnOpenRig, element: str, do: Key = "", under: Key = ""
) -> HTMLResponse:
    """Show one place of the run: beside the drawing, or as a page of its own."""
    view = _energised(opened, do, under)
    return _page(request, opened, view, _part(opened, view, element), "run/part.html")


def _page(
    request: Request, opened: OpenRig, view: Energised, part: PartView | None, alone: str
) -> HTMLResponse:
    """Return the whole page, or what htmx asks for alone."""
    return page(
        request,
        alone if "hx-request" in request.headers else "run/run.html",
        entry=opened.entry,
        rig=opened.rig,
        view=view,
        part=part,
        amps=show_current,
        volts=show_voltage,
        finding_key=finding_key,
    )


def _energised(opened: OpenRig, do: str, under: str) -> Energised:
    base = f"/rigs/{opened.entry.id}/run"
    return energised(opened.work, opened.findings, base, do, under)


def _part(opened: OpenRig, view: Energised, element: str) -> PartView:
    try:
        return part_view(opened.work, read_job(opened.text), element, view.answer, view.here)
    except KeyError as unknown:
        raise HTTPException(404) from unknown
