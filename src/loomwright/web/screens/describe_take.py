"""Taking over what was described before: feeds or loads of an earlier rig, a shop's wire map."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.invalid import InvalidInput
from loomwright.store.rig_values import RigEntry
from loomwright.store.wire_maps import WireMap
from loomwright.web.describing import taking
from loomwright.web.describing.opening import (
    ADescribed,
    Described,
    base_of,
    go,
    keep,
    style,
    tables,
)
from loomwright.web.describing.understood import colour_of
from loomwright.web.describing.writing import entries_at, value_at
from loomwright.web.opened import Draft
from loomwright.web.pages import page
from loomwright.web.visitor import say
from loomwright.web.workbench import workbench

routes = APIRouter()

Words = Annotated[str, Query(max_length=200)]
MOST_SHOWN = 60


@routes.get("/rigs/{rig_id}/describe/take-feeds")
def show_feeds(
    request: Request, opened: ADescribed, q: Words = "", source: Words = ""
) -> HTMLResponse:
    """Show the rigs whose feeds can be taken; of a chosen one, what would be taken."""
    return _show(request, opened, "feeds", q, source)


@routes.get("/rigs/{rig_id}/describe/take-loads")
def show_loads(
    request: Request, opened: ADescribed, q: Words = "", source: Words = ""
) -> HTMLResponse:
    """Show the rigs whose loads can be taken; of a chosen one, what would be taken."""
    return _show(request, opened, "loads", q, source)


@routes.post("/rigs/{rig_id}/describe/take-feeds")
async def take_feeds(request: Request, opened: ADescribed) -> Response:
    """Take the chosen feeds of an earlier rig."""
    number, source, chosen = await _form(request)
    base = base_of(request, opened, number)
    there = _tables_of(request, opened, source)
    here = tables(opened.kept, base.text)
    text = taking.with_feeds(base.text, here, there, chosen)
    return _taken(request, opened, text, number, "/feeds")


@routes.post("/rigs/{rig_id}/describe/take-loads")
async def take_loads(request: Request, opened: ADescribed) -> Response:
    """Take the chosen loads of an earlier rig in place of those here."""
    number, source, chosen = await _form(request)
    base = base_of(request, opened, number)
    text = taking.with_loads(base.text, _tables_of(request, opened, source), chosen)
    return _taken(request, opened, text, number, "/lamps")


@routes.get("/rigs/{rig_id}/describe/wire-maps")
def show_maps(
    request: Request, opened: ADescribed, q: Words = "", source: Words = ""
) -> HTMLResponse:
    """Show the wire maps of the shop, those for this vehicle first."""
    maps = workbench(request).store.wire_maps
    name = value_at(opened.data, "vehicle.name")
    fitting = maps.wire_maps_for(name) if isinstance(name, str) and name.strip() else ()
    chosen = _map(request, source) if source else None
    wires = taking.wires_to_take(opened.data, chosen.wires) if chosen else ()
    others = tuple(one for one in maps.wire_maps(q) if one not in fitting)
    return page(
        request,
        "describe/wire_maps.html",
        values=_known(opened),
        q=q,
        fitting=() if q else fitting,
        others=others if not q else maps.wire_maps(q),
        chosen=chosen,
        taken=wires,
    )


@routes.post("/rigs/{rig_id}/describe/wire-maps")
async def take_wires(request: Request, opened: ADescribed) -> Response:
    """Take the chosen wires of a wire map."""
    number, source, chosen = await _form(request)
    base = base_of(request, opened, number)
    wires = _map(request, source).wires
    text = taking.with_wires(base.text, tables(opened.kept, base.text), wires, chosen)
    return _taken(request, opened, text, number, "/feeds")


@routes.post("/rigs/{rig_id}/describe/retire-map")
async def retire_map(request: Request, opened: ADescribed) -> Response:
    """Offer a wire map no more."""
    source = str((await request.form()).get("source", ""))
    kept = _map(request, source)
    workbench(request).store.wire_maps.retire_wire_map(source, opened.who.who)
    say(request, f"The wire map of {kept.vehicle} is offered no more.")
    return go(f"{opened.base}/wire-maps")


def _show(
    request: Request, opened: Described, what: taking.What, q: str, source: str
) -> HTMLResponse:
    chosen = _entry(request, source) if source else None
    there = _tables_of(request, opened, source) if source else {}
    shows = taking.feeds_to_take if what == "feeds" else taking.loads_to_take
    is_part = request.headers.get("hx-target", "").endswith("#earlier")
    return page(
        request,
        "describe/earlier.html" if is_part else "describe/take.html",
        values=_known(opened),
        what=what,
        q=q,
        earlier=() if chosen else _earlier(request, opened, what, q),
        chosen=chosen,
        taken=shows(opened.data, there),
    )


def _earlier(
    request: Request, opened: Described, what: taking.What, q: str
) -> list[tuple[RigEntry, int]]:
    """Return the other rigs that have what is wanted, with how much of it."""
    rigs = workbench(request).store.rigs
    found: list[tuple[RigEntry, int]] = []
    for entry in (*rigs.search(q), *rigs.search(q, archived=True)):
        if entry.id == opened.kept.entry.id or len(found) >= MOST_SHOWN:
            continue
        try:
            there = tables(opened.kept, rigs.newest(entry.id).text)
        except Draft:
            continue
        count = len(entries_at(there, "vehicle.feed"))
        if what == "loads":
            count = len(taking.loads_to_take({}, there))
        if count:
            found.append((entry, count))
    return found


def _known(opened: Described) -> dict[str, Any]:
    legend = opened.facts().legend
    return {
        "entry": opened.kept.entry,
        "style": style(),
        "base": opened.base,
        "based_on": opened.kept.version.number,
        "vehicle": value_at(opened.data, "vehicle.name") or "",
        "colour_of": lambda text: colour_of(text, legend),
    }


async def _form(request: Request) -> tuple[int, str, list[str]]:
    form = await request.form()
    number = str(form.get("based_on", ""))
    if not (number.isascii() and number.isdigit() and len(number) < 10):
        raise InvalidInput("based_on", number, "open the page anew, and send its form")
    return int(number), str(form.get("source", "")), [str(one) for one in form.getlist("take")]


def _taken(request: Request, opened: Described, text: str, number: int, to: str) -> Response:
    version = keep(request, opened, text, number)
    if isinstance(version, Response):
        return version
    if version.number == number:
        say(request, "Nothing was changed.")
    else:
        say(request, f"Taken: {version.change}.", f"/rigs/{opened.kept.entry.id}/undo")
    return go(opened.base + to)


def _entry(request: Request, rig_id: str) -> RigEntry:
    try:
        return workbench(request).store.rigs.entry(rig_id)
    except InvalidInput as unknown:
        raise HTTPException(404, "rig") from unknown


def _tables_of(request: Request, opened: Described, rig_id: str) -> dict[str, Any]:
    entry = _entry(request, rig_id)
    return tables(opened.kept, workbench(request).store.rigs.newest(entry.id).text)


def _map(request: Request, map_id: str) -> WireMap:
    found = workbench(request).store.wire_maps.wire_maps()
    chosen = next((one for one in found if one.id == map_id), None)
    if chosen is None:
        raise HTTPException(404)
    return chosen
