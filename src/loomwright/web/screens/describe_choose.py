"""Choosing by eye: a colour by its swatches, a lamp from the table, a socket by its face."""

from __future__ import annotations

import re
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException
from starlette.responses import Response

from loomwright.rig.edit import write_value
from loomwright.web.describing.choosing import regions
from loomwright.web.describing.opening import (
    ADescribed,
    Described,
    Sent,
    base_of,
    based_on,
    go,
    keep,
    style,
    tables,
)
from loomwright.web.describing.parts import place_of, questions_at
from loomwright.web.describing.questions import Kind
from loomwright.web.describing.understood import colour_of, lamp_options
from loomwright.web.describing.writing import entries_at, value_at
from loomwright.web.pages import page
from loomwright.web.swatches import chosen_colour, swatches
from loomwright.web.visitor import say

routes = APIRouter()

Path = Annotated[str, Query(max_length=120)]
Key = Annotated[str, Query(max_length=40)]
NEW_SOCKET = re.compile(r"socket\[(\d{1,2})\]\.connector")
MOST_LAMPS = 40


@routes.get("/rigs/{rig_id}/describe/choose-colour")
def choose_colour(
    request: Request,
    opened: ADescribed,
    path: Path = "vehicle.feed[1].colour",
    *,
    base: Key = "",
    stripe: Key = "",
    pattern: Key = "",
) -> HTMLResponse:
    """Show the swatches: a base, and the stripes as they look on it."""
    _of_kind(opened, path, "colour")
    now = colour_of(str(value_at(opened.data, path) or ""), opened.facts().legend)
    shown = chosen_colour(base, stripe, pattern) if base else now
    values = _known(opened, path)
    return page(
        request,
        "colour_choice.html" if "hx-request" in request.headers else "describe/colour.html",
        values=values,
        colours=swatches(shown),
        action=f"{opened.base}/choose-colour",
        carried={"path": path, "based_on": values["based_on"]},
    )


@routes.post("/rigs/{rig_id}/describe/choose-colour")
def keep_colour(request: Request, opened: ADescribed, fields: Sent) -> Response:
    """Keep a colour."""
    path = fields.get("path", "")
    _of_kind(opened, path, "colour")
    base = fields.get("base", "")
    if not base:
        return _keep(request, opened, fields, None)
    chosen = chosen_colour(base, fields.get("stripe", ""), fields.get("pattern", ""))
    return _keep(request, opened, fields, chosen.words)


@routes.get("/rigs/{rig_id}/describe/choose-lamp")
def choose_lamp(request: Request, opened: ADescribed, path: Path = "", q: Key = "") -> HTMLResponse:
    """Show the lamps of the table whose number has what was typed."""
    path = path or _first_light(opened)
    _of_kind(opened, path, "lamp")
    found = tuple(lamp_options(q))
    is_part = request.headers.get("hx-target", "").endswith("#lamps")
    return page(
        request,
        "describe/lamps_found.html" if is_part else "describe/lamp.html",
        values=_known(opened, path),
        q=q,
        found=found[:MOST_LAMPS],
        left=len(found) - len(found[:MOST_LAMPS]),
    )


@routes.get("/rigs/{rig_id}/describe/choose-connector")
def choose_connector(
    request: Request, opened: ADescribed, path: Path = "socket[1].connector"
) -> HTMLResponse:
    """Show the sockets with their faces."""
    if not _is_new_socket(opened, path):
        _of_kind(opened, path, "connector")
    values = _known(opened, path)
    used = [one.get("connector") for one in entries_at(opened.data, "socket")]
    shown = regions(values["now"], [each for each in used if isinstance(each, str)])
    return page(request, "describe/connector.html", values=values, regions=shown)


@routes.post("/rigs/{rig_id}/describe/choose")
def keep_choice(request: Request, opened: ADescribed, fields: Sent) -> Response:
    """Keep a lamp or a socket."""
    path = fields.get("path", "")
    if not _is_new_socket(opened, path):
        _of_kind(opened, path, "lamp", "connector")
    return _keep(request, opened, fields, fields.get("value", "").strip() or None)


def _keep(request: Request, opened: Described, fields: Sent, value: str | None) -> Response:
    number, path = based_on(fields), fields.get("path", "")
    base = base_of(request, opened, number)
    entry, _, key = path.rpartition(".")
    if entry.startswith("socket") and value_at(tables(opened.kept, base.text), entry) is None:
        text = write_value(base.text, entry, {key: value or ""})
    else:
        text = write_value(base.text, path, value)
    version = keep(request, opened, text, number)
    if isinstance(version, Response):
        return version
    if version.number != number:
        say(request, f"Kept: {version.change}.", f"/rigs/{opened.kept.entry.id}/undo")
    data = tables(opened.kept, version.text)
    place = place_of(path, data)
    if place is None:
        return go(opened.base)
    asked = next((one for one in questions_at(place, data) if one.path == path), None)
    return go(opened.base + place.address + (f"#q-{asked.mark}" if asked else ""))


def _known(opened: Described, path: str) -> dict[str, Any]:
    is_new = _is_new_socket(opened, path)
    place = None if is_new else opened.place_of(path)
    return {
        "entry": opened.kept.entry,
        "style": style(),
        "base_path": opened.base,
        "path": path,
        "based_on": opened.kept.version.number,
        "now": str(value_at(opened.data, path) or ""),
        "back": opened.base + (place.address if place else "/sockets"),
        "of": place.title(opened.data) if place else "a new socket",
    }


def _of_kind(opened: Described, path: str, *kinds: Kind) -> None:
    """Refuse a path that no question of a kind asks about."""
    place = opened.place_of(path)
    asked = questions_at(place, opened.data)
    if not any(one.path == path and one.kind in kinds for one in asked):
        raise HTTPException(404)


def _is_new_socket(opened: Described, path: str) -> bool:
    found = NEW_SOCKET.fullmatch(path)
    return found is not None and int(found[1]) == len(entries_at(opened.data, "socket")) + 1


def _first_light(opened: Described) -> str:
    for number, lamp in enumerate(entries_at(opened.data, "trailer.lamp"), start=1):
        if isinstance(lamp.get("lights"), dict) and lamp["lights"]:
            return f"trailer.lamp[{number}].lights.{next(iter(lamp['lights']))}"
    raise HTTPException(404)
