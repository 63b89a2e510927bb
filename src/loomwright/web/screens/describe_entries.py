"""Adding, copying, moving and taking out an entry of a rig: a feed, a leg, a lamp, an axle."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from loomwright.invalid import InvalidInput
from loomwright.reference.functions import function_keys
from loomwright.rig.edit import write_value
from loomwright.rig.reorder import move_entry
from loomwright.web.describing import adding
from loomwright.web.describing.opening import (
    ADescribed,
    Sent,
    base_of,
    based_on,
    go,
    keep,
    tables,
)
from loomwright.web.describing.writing import value_at
from loomwright.web.visitor import say

routes = APIRouter()

LIGHTS: Mapping[str, adding.LightKind] = {"bulb": "bulb", "LED": "LED"}


@routes.post("/rigs/{rig_id}/describe/entries")
def change_entries(request: Request, opened: ADescribed, fields: Sent) -> Response:
    """Add, copy, move or take out an entry, and show where it can be described."""
    number = based_on(fields)
    base = base_of(request, opened, number)
    data = tables(opened.kept, base.text)
    text, path = _changed(base.text, data, fields)
    version = keep(request, opened, text, number)
    if isinstance(version, Response):
        return version
    say(request, f"Kept: {version.change}.", f"/rigs/{opened.kept.entry.id}/undo")
    here = f"{opened.base}{_address(path, opened.kept, version.text)}"
    return go(f"{here}#{_order_mark(*_move(fields))}" if fields.get("act") == "move" else here)


def _address(path: str, kept: Any, text: str) -> str:
    from loomwright.web.describing.parts import place_of

    place = place_of(path, tables(kept, text))
    return place.address if place else ""


def _order_mark(path: str, to: int) -> str:
    """Return the name of the place on a page where a moved entry can be moved once more."""
    return f"{'leg' if '.leg[' in path else 'order'}-{to}"


def _changed(text: str, data: Mapping[str, Any], fields: Mapping[str, str]) -> tuple[str, str]:
    """Return the changed text, and the path of what to show next."""
    act, path = fields.get("act", ""), fields.get("path", "")
    if act == "move":
        path, to = _move(fields)
        return move_entry(text, path, to), path.rpartition("[")[0]
    if act == "add":
        return _added(text, data, adding.list_path(path), fields)
    path = adding.entry_path(path)
    if value_at(data, path) is None:
        if act == "remove":
            return text, path
        raise InvalidInput("path", path, "name an entry that the rig has")
    if act == "remove":
        listed = path.rpartition("[")[0] if path.endswith("]") else path
        return write_value(text, path, None), listed
    if act != "copy":
        raise InvalidInput("act", act, "add, copy, move or remove")
    function = _function(fields) if path.startswith("vehicle.feed") else ""
    text, number = adding.with_copy(text, data, path, function)
    return text, f"{path.rpartition('[')[0]}[{number}]"


def _added(
    text: str, data: Mapping[str, Any], path: str, fields: Mapping[str, str]
) -> tuple[str, str]:
    if path.endswith(".lights"):
        function = _function(fields)
        return adding.with_light(text, path, function, _light(fields)), f"{path}.{function}"
    if path == "trailer.lamp":
        key = fields.get("kind", "")
        if key not in adding.BY_KEY:
            raise InvalidInput("kind", key, "choose a lamp from the list")
        text, number = adding.with_lamps(text, data, key, _light(fields))
        return text, f"{path}[{number}]" if key != "rear" else path
    entry: dict[str, Any] = {}
    if path == "vehicle.feed":
        entry = {"function": _function(fields)}
    elif path != "trailer.brake":
        keys = ("name", "length") if path.endswith(".leg") else ("name", "power")
        entry = {key: said for key in keys if (said := " ".join(fields.get(key, "").split()))}
    else:
        brakes = data.get("trailer", {}).get("brake") or []
        size = brakes[-1].get("size") if brakes and isinstance(brakes[-1], dict) else None
        entry = {"axle": len(brakes) + 1} | ({"size": size} if size else {})
    text, number = adding.with_entry(text, data, path, entry)
    return text, f"{path}[{number}]"


def _move(fields: Mapping[str, str]) -> tuple[str, int]:
    """Return the entry to move, and the number it has afterwards."""
    said = fields.get("move", "")
    path, _, to = said.rpartition(" ")
    if not (to.isascii() and to.isdigit() and len(to) < 4):
        raise InvalidInput("move", said, "name the entry and its new number, 1 for the first")
    return adding.entry_path(path), int(to)


def _function(fields: Mapping[str, str]) -> str:
    function = fields.get("function", "")
    if function not in function_keys():
        raise InvalidInput("function", function, "choose a circuit from the list")
    return function


def _light(fields: Mapping[str, str]) -> adding.LightKind:
    light = fields.get("light", "bulb")
    if light not in LIGHTS:
        raise InvalidInput("light", light, "choose bulb or LED")
    return LIGHTS[light]
