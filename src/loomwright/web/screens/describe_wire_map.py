"""Keeping a vehicle's wire map for the shop: what each wire does, and how that was proved."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from loomwright.invalid import InvalidInput, complaints_in
from loomwright.web.describing.listing import rows
from loomwright.web.describing.opening import ADescribed, Described, Sent, go, style
from loomwright.web.describing.parts import BY_KEY
from loomwright.web.describing.questions import Option
from loomwright.web.describing.writing import entries_at, value_at
from loomwright.web.pages import page
from loomwright.web.visitor import say
from loomwright.web.workbench import workbench

routes = APIRouter()

LONGEST = 200
WAYS = (
    Option("meter at the wire, its command on and off", "Meter", "its command on and off"),
    Option("test light at the wire, its command on and off", "Test light", "on and off"),
    Option("lamp lit by feeding the wire", "Fed it", "and its lamp lit"),
    Option("traced by hand to its lamp", "Traced by hand", "to its lamp or fuse"),
)


@routes.get("/rigs/{rig_id}/describe/wire-map")
def show_map(request: Request, opened: ADescribed) -> HTMLResponse:
    """Show the wires of this vehicle, to say how each was proved."""
    return _show(request, opened, {}, None)


@routes.post("/rigs/{rig_id}/describe/wire-map")
def keep_map(request: Request, opened: ADescribed, fields: Sent) -> Response:
    """Keep the wires that were proved; those left open are not kept."""
    proofs = _proofs(opened, fields)
    if not proofs:
        fix = "say of one wire at least how it was proved; nobody else can trust the others"
        return _show(request, opened, fields, InvalidInput("how", "", fix))
    maps, problem = workbench(request).store.wire_maps, None
    try:
        kept = maps.keep_wire_map(
            opened.kept.entry.id,
            proofs,
            opened.who.who,
            fits=fields.get("fits", "")[:LONGEST].strip(),
            notes=fields.get("notes", "").replace("\r\n", "\n"),
        )
    except* InvalidInput as refused:
        problem = complaints_in(refused)[0]
    if problem is not None:
        return _show(request, opened, fields, problem)
    said = f"{len(kept.wires)} wires of {kept.vehicle} are kept for the shop"
    say(request, f"{said}, and offered where {kept.fits} is described.")
    return go(f"{opened.base}/wire-maps")


def _proofs(opened: Described, fields: Sent) -> dict[str, str]:
    """Return how each wire was proved, by function; without those that were not."""
    found: dict[str, str] = {}
    for feed in entries_at(opened.data, "vehicle.feed"):
        function = str(feed.get("function"))
        said = fields.get(f"own.{function}", "").strip() or fields.get(f"how.{function}", "")
        if said:
            found[function] = said[:LONGEST]
    return found


def _show(
    request: Request, opened: Described, fields: Sent, problem: InvalidInput | None
) -> HTMLResponse:
    feeds = entries_at(opened.data, "vehicle.feed")
    listed = rows(BY_KEY["feeds"], opened.facts())
    name = value_at(opened.data, "vehicle.name") or ""
    return page(
        request,
        "describe/wire_map.html",
        status=422 if problem else 200,
        entry=opened.kept.entry,
        style=style(),
        base=opened.base,
        wires=[(str(feed.get("function")), row) for feed, row in zip(feeds, listed, strict=True)],
        ways=WAYS,
        fields=fields,
        vehicle=name,
        fits=fields.get("fits", name),
        problem=problem,
        is_draft=bool(opened.kept.problems()),
    )
