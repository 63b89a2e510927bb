"""The hook-up: which wire joins which, by function and never by colour, with both faces."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from loomwright.reference.connectors import Side
from loomwright.web.hook_up_view import SIDES, faces, tables
from loomwright.web.opened import AnOpenRig
from loomwright.web.pages import page
from loomwright.web.places import Place

PLACE = Place("hook-up", "hook-up", "/rigs/{rig_id}/hook-up")
routes = APIRouter()


@routes.get("/rigs/{rig_id}/hook-up")
def show_hook_up(request: Request, opened: AnOpenRig, side: Side = "rear") -> HTMLResponse:
    """Show every joint, and socket and plug from the side one looks at."""
    return page(
        request,
        "hook_up/faces.html" if "hx-request" in request.headers else "hook_up/hook_up.html",
        entry=opened.entry,
        needs=opened.work.hookup.needs,
        tables=tables(opened.work),
        faces=faces(opened.work, side),
        side=side,
        sides=SIDES,
        side_words=dict(SIDES)[side],
    )
